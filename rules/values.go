package rules

import (
	"errors"
	"fmt"
	"math/big"
	"slices"
	"strconv"
	"strings"
	"time"

	"slipcase/engine"
	"slipcase/engine/quantity"
	"slipcase/rules/syntax"
)

// values reads the arguments of a node. A value that is not of its form has a
// diagnostic and gives the zero value, so that decoding goes on.
type values struct{ p *problems }

func wholeNumber(text string) (int64, bool) {
	n, err := strconv.ParseInt(text, 10, 64)
	return n, err == nil
}

func kindName(v *syntax.Value) string {
	switch v.Kind {
	case syntax.String:
		return "text"
	case syntax.Number:
		return "a number"
	case syntax.Word:
		if v.Text == "true" || v.Text == "false" {
			return v.Text
		}
		return "a bare word"
	case syntax.Ref:
		return "a reference"
	case syntax.List:
		return "a list"
	}
	return "nothing readable"
}

func (v values) wrong(a *attr, val *syntax.Value, want, how string) {
	if val.Kind == syntax.Bad {
		return
	}
	v.p.Error(syntax.Range(val.At), fmt.Sprintf("%s is %s, not %s", a.Name, kindName(val), want), how)
}

// text is a text argument, "" when absent.
func (v values) text(n *node, name string) string {
	a := n.attr(name)
	if a == nil {
		return ""
	}
	if a.Value.Kind != syntax.String {
		v.wrong(a, &a.Value, "text", fmt.Sprintf("Write it in quotes: %s = \"…\"", name))
		return ""
	}
	return a.Value.Text
}

func isName(val *syntax.Value) bool {
	return val.Kind == syntax.String || val.Kind == syntax.Word && val.Text != "true" && val.Text != "false"
}

// name is a name, in quotes or bare.
func (v values) name(n *node, name string) string {
	a := n.attr(name)
	if a == nil {
		return ""
	}
	if !isName(&a.Value) || a.Value.Text == "" {
		v.wrong(a, &a.Value, "a name", fmt.Sprintf("Write: %s = \"name\"", name))
		return ""
	}
	return a.Value.Text
}

// named is a name with its place.
type named struct {
	text string
	at   engine.Range
}

func (v values) nameAt(n *node, name string) named {
	s := v.name(n, name)
	if s == "" {
		return named{}
	}
	return named{s, n.attr(name).at()}
}

// list are the items of a list argument; one item may stand without brackets.
func (v values) items(a *attr) []syntax.Value {
	switch a.Value.Kind {
	case syntax.List:
		return a.Value.Items
	case syntax.Bad:
		return nil
	}
	return []syntax.Value{a.Value}
}

// names is a list of names, never twice the same.
func (v values) names(n *node, name string) []named {
	a := n.attr(name)
	if a == nil {
		return nil
	}
	if a.Value.Kind != syntax.List {
		v.wrong(a, &a.Value, "a list", fmt.Sprintf("Write: %s = [\"…\"]", name))
		return nil
	}
	items := a.Value.Items
	out := make([]named, 0, len(items))
	var seen map[string]bool
	if len(items) > 8 {
		seen = make(map[string]bool, len(items))
	}
	for i := range items {
		item := &items[i]
		if !isName(item) || item.Text == "" {
			v.wrong(a, item, "a name", fmt.Sprintf("Every item of %s is a name in quotes.", name))
			continue
		}
		at := syntax.Range(item.At)
		twice := seen[item.Text]
		if seen == nil {
			for _, o := range out {
				twice = twice || o.text == item.Text
			}
		} else {
			seen[item.Text] = true
		}
		if twice {
			v.p.Error(at, fmt.Sprintf("%q given twice in %s", syntax.Clip(item.Text), name), "Once is enough.")
			continue
		}
		out = append(out, named{item.Text, at})
	}
	return out
}

func plain(list []named) []string {
	if list == nil {
		return nil
	}
	out := make([]string, len(list))
	for i, n := range list {
		out[i] = n.text
	}
	return out
}

// texts is a list of texts.
func (v values) texts(n *node, name string) []named {
	a := n.attr(name)
	if a == nil {
		return nil
	}
	if a.Value.Kind != syntax.List {
		v.wrong(a, &a.Value, "a list of texts", fmt.Sprintf("Write: %s = [\"…\", \"…\"]", name))
		return nil
	}
	out := make([]named, 0, len(a.Value.Items))
	for i := range a.Value.Items {
		item := &a.Value.Items[i]
		if item.Kind != syntax.String {
			v.wrong(a, item, "text", "Every item is text in quotes.")
			continue
		}
		out = append(out, named{item.Text, syntax.Range(item.At)})
	}
	return out
}

// word is one of the words that the spec lists, "" when absent or wrong.
func (v values) word(n *node, name string) string {
	a := n.attr(name)
	if a == nil {
		return ""
	}
	return v.oneOf(a, &a.Value, n.spec.arg(name).words)
}

func (v values) oneOf(a *attr, val *syntax.Value, words []string) string {
	if val.Kind == syntax.Bad {
		return ""
	}
	if !isName(val) {
		v.wrong(a, val, "one of its words", fmt.Sprintf("%s may be %s.", a.Name, orList(words)))
		return ""
	}
	if !slices.Contains(words, val.Text) {
		if v.p.Full() {
			v.p.More++
			return ""
		}
		if a.Name == "kind" && v.p.uncovered(syntax.Range(val.At), val.Text) {
			return ""
		}
		detail := fmt.Sprintf("%s may be %s.", a.Name, orList(words))
		if near := nearest(val.Text, words); near != "" {
			detail = fmt.Sprintf("Did you mean %q? ", near) + detail
		}
		v.p.Error(syntax.Range(val.At), fmt.Sprintf("unknown word %q for %s", syntax.Clip(val.Text), a.Name), detail)
		return ""
	}
	return val.Text
}

func (v values) words(n *node, name string) []string {
	a := n.attr(name)
	if a == nil {
		return nil
	}
	var out []string
	items := v.items(a)
	for i := range items {
		if w := v.oneOf(a, &items[i], n.spec.arg(name).words); w != "" && !slices.Contains(out, w) {
			out = append(out, w)
		}
	}
	return out
}

// truth is a true or false argument; stated tells false from absent.
func (v values) truth(n *node, name string) (value, stated bool) {
	a := n.attr(name)
	if a == nil {
		return false, false
	}
	if a.Value.Kind == syntax.Word && (a.Value.Text == "true" || a.Value.Text == "false") {
		return a.Value.Text == "true", true
	}
	v.wrong(a, &a.Value, "true or false", fmt.Sprintf("Write: %s = true or %s = false, without quotes.", name, name))
	return false, false
}

// number reads a number argument. A number without a basis is an error here,
// where its place and all layers are known.
func (v values) number(n *node, name string) engine.Number {
	a := n.attr(name)
	if a == nil {
		return engine.Number{}
	}
	spec := n.spec.arg(name)
	num := engine.Number{Text: a.Value.Text, Basis: a.basis, At: a.at()}
	val := &a.Value
	if spec.form == fStrength && isName(val) {
		for _, w := range engine.Words {
			if w.Word == val.Text {
				num.Value = w.Value
				v.founded(a)
				return num
			}
		}
		var words []string
		for _, w := range engine.Words {
			words = append(words, w.Word)
		}
		detail := "A strength is a number from 0 to 1, or one of " + orList(words) + "."
		if near := nearest(val.Text, words); near != "" {
			detail = fmt.Sprintf("Did you mean %q? ", near) + detail
		}
		v.p.Error(num.At, fmt.Sprintf("unknown strength %q", syntax.Clip(val.Text)), detail)
		return num
	}
	if val.Kind != syntax.Number {
		how := fmt.Sprintf("Write: %s = 0.02", name)
		if spec.form == fNumber {
			how = fmt.Sprintf("Write: %s = 12", name)
		}
		v.wrong(a, val, "a number", how)
		return num
	}
	f, err := strconv.ParseFloat(val.Text, 64)
	if err != nil {
		v.p.Error(num.At, fmt.Sprintf("%s is not a number", syntax.Clip(val.Text)), "Write it with digits and a decimal point.")
		return num
	}
	num.Value = f
	switch {
	case (spec.form == fStrength || spec.form == fRate) && (f < 0 || f > 1):
		v.p.Error(num.At, fmt.Sprintf("%s is outside 0 to 1", val.Text), fmt.Sprintf("%s is a probability; 25 percent is 0.25.", name))
		num.Value = 0
	case spec.form == fNumber && f < spec.min:
		v.p.Error(num.At, fmt.Sprintf("%s is negative", val.Text), fmt.Sprintf("%s cannot be below %g.", name, spec.min))
		num.Value = 0
	}
	v.founded(a)
	return num
}

// founded reports an argument whose number has no basis.
func (v values) founded(a *attr) {
	if a.basis != nil {
		return
	}
	v.p.Error(a.at(), noBasis, "Say where it comes from, at the head of this file or in the block: basis \"common practice\" {")
}

// integer reads a whole number that needs no basis.
func (v values) integer(n *node, name string) int64 {
	a := n.attr(name)
	if a == nil {
		return 0
	}
	i, ok := wholeNumber(a.Value.Text)
	if a.Value.Kind != syntax.Number || !ok {
		if a.Value.Kind != syntax.Number {
			v.wrong(a, &a.Value, "a whole number", fmt.Sprintf("Write: %s = 1", name))
		} else {
			v.p.Error(a.at(), fmt.Sprintf("%s is not a whole number", syntax.Clip(a.Value.Text)), fmt.Sprintf("Write: %s = 1", name))
		}
		return 0
	}
	if spec := n.spec.arg(name); float64(i) < spec.min {
		v.p.Error(a.at(), fmt.Sprintf("%d is too small", i), fmt.Sprintf("%s is at least %g.", name, spec.min))
		return 0
	}
	return i
}

// ratio reads a ratio exactly, with its digits.
func (v values) ratio(n *node, name string) (*big.Rat, string, engine.Range) {
	a := n.attr(name)
	if a == nil {
		return nil, "", engine.Range{}
	}
	if many := a.Value.Kind == syntax.List && len(a.Value.Items) > 1; many || a.Value.Kind == syntax.String && (engine.Varies(a.Value.Text) || engine.NotCovered(a.Value.Text) != "") {
		v.p.Error(a.at(), engine.VariableRatio, whyNot[engine.VariableRatio])
		return nil, "", engine.Range{}
	}
	if a.Value.Kind != syntax.Number {
		v.wrong(a, &a.Value, "a number", "Write the ratio with the digits that are printed: ratio = 2.80. A reverse ratio has a minus.")
		return nil, "", engine.Range{}
	}
	r, ok := new(big.Rat).SetString(a.Value.Text)
	if !ok || r.Sign() == 0 {
		v.p.Error(a.at(), fmt.Sprintf("ratio %s", syntax.Clip(a.Value.Text)), "A ratio is turbine speed over output speed and never 0; leave it out in P and N.")
		return nil, "", engine.Range{}
	}
	v.founded(a)
	return r, a.Value.Text, a.at()
}

// teeth reads [sun, ring].
func (v values) teeth(n *node, g *engine.Gearset) {
	a := n.attr("teeth")
	if a == nil {
		return
	}
	if a.Value.Kind != syntax.List || len(a.Value.Items) != 2 {
		if a.Value.Kind != syntax.List {
			v.wrong(a, &a.Value, "the two tooth counts", "Write: teeth = [sun, ring]")
		} else {
			v.p.Error(a.at(), fmt.Sprintf("%d tooth counts", len(a.Value.Items)), "Write: teeth = [sun, ring]. Planet teeth do not change the ratio.")
		}
		return
	}
	for i := range a.Value.Items {
		item := &a.Value.Items[i]
		k, ok := wholeNumber(item.Text)
		if item.Kind == syntax.Bad {
			return
		}
		if item.Kind != syntax.Number || !ok || k < 1 || k > 1000 {
			v.p.Error(syntax.Range(item.At), "not a tooth count", "A tooth count is a whole number from 1 to 1000.")
			return
		}
		g.TeethText[i] = item.Text
		if i == 0 {
			g.SunTeeth = k
		} else {
			g.RingTeeth = k
		}
	}
	v.founded(a)
}

// quantity reads "62 psi"; dim is the dimension wanted, "" for any.
func (v values) quantity(n *node, name string, dim quantity.Dimension) *quantity.Quantity {
	a := n.attr(name)
	if a == nil {
		return nil
	}
	return v.quantityOf(n, a, &a.Value, dim)
}

// quantityOf reads one value of an argument.
func (v values) quantityOf(n *node, a *attr, val *syntax.Value, dim quantity.Dimension) *quantity.Quantity {
	at := syntax.Range(val.At)
	if val.Kind != syntax.String {
		v.wrong(a, val, "a quantity", fmt.Sprintf("A quantity is text with its unit: %s = \"62 psi\"", a.Name))
		return nil
	}
	q, err := quantity.Parse(val.Text)
	if err != nil {
		summary := "not a quantity"
		var unit *quantity.UnitError
		if errors.As(err, &unit) {
			summary = "unknown unit of measure"
		}
		v.p.Error(at, summary, sentence(err))
		return nil
	}
	if dim != "" && q.Dim != dim {
		v.p.Error(at, fmt.Sprintf("%s is a %s, not a %s", val.Text, q.Dim, dim), fmt.Sprintf("Units of %s are %s.", dim, orList(quantity.Units(dim))))
		return nil
	}
	if n.spec.arg(a.Name).form == fQuantity {
		v.founded(a)
	}
	return &q
}

// sentence makes an error's text a sentence.
func sentence(err error) string {
	s := err.Error()
	if s != "" {
		s = strings.ToUpper(s[:1]) + s[1:]
	}
	if !strings.HasSuffix(s, "?") {
		s += "."
	}
	return s
}

// limits reads low and high of one dimension, or both from between, with the
// places of the two values.
func (v values) limits(n *node, dim quantity.Dimension) (low, high *quantity.Quantity, lowAt, highAt engine.Range) {
	low, high = v.quantity(n, "low", dim), v.quantity(n, "high", dim)
	if a := n.attr("low"); a != nil {
		lowAt = a.at()
	}
	if a := n.attr("high"); a != nil {
		highAt = a.at()
	}
	wrongAt := highAt // of what does not go with the other
	if a := n.attr("between"); a != nil {
		for _, name := range []string{"low", "high"} {
			if b := n.attr(name); b != nil && b.src == a.src {
				v.p.Error(b.nameAt(), name+" beside between", "between = [low, high] says both. Take one of the two out.")
				return nil, nil, lowAt, highAt
			}
		}
		if a.Value.Kind != syntax.List || len(a.Value.Items) != 2 {
			v.p.Error(a.at(), "between is two limits", "Write: between = [\"0.3 mm\", \"0.9 mm\"]")
			return nil, nil, lowAt, highAt
		}
		x := v.quantityOf(n, a, &a.Value.Items[0], dim)
		if x == nil {
			return nil, nil, lowAt, highAt // the other is most likely written the same way
		}
		y := v.quantityOf(n, a, &a.Value.Items[1], dim)
		if low == nil {
			low, lowAt = x, syntax.Range(a.Value.Items[0].At)
		}
		if high == nil {
			high, highAt, wrongAt = y, syntax.Range(a.Value.Items[1].At), a.at()
		}
	} else if low == nil && high == nil {
		if n.attr("low") == nil && n.attr("high") == nil {
			v.p.Error(n.at(), fmt.Sprintf("%s without limits", n.title()), "Give low, high or both: low = \"0.3 mm\"")
		}
		return low, high, lowAt, highAt
	}
	v.warm(low, lowAt, high, highAt)
	if low == nil || high == nil {
		return low, high, lowAt, highAt
	}
	c, err := quantity.Compare(*low, *high)
	switch {
	case err != nil:
		v.p.Error(wrongAt, fmt.Sprintf("low is a %s, high a %s", low.Dim, high.Dim), fmt.Sprintf("Both limits measure the same thing. Units of %s are %s.", low.Dim, orList(quantity.Units(low.Dim))))
		return low, nil, lowAt, highAt
	case c > 0:
		v.p.Error(wrongAt, fmt.Sprintf("high %s is below low %s", high, low), "Swap them.")
	case low.TempSet && high.TempSet && low.Temp != high.Temp:
		v.p.Error(wrongAt, "limits at different temperatures", fmt.Sprintf("low is %s, high %s. State both at one temperature.", low, high))
	}
	return low, high, lowAt, highAt
}

// warm refuses the limit of a resistance that does not name its temperature:
// copper reads a third more hot than cold, so that a reading cannot be judged
// by it. It is told once for both limits.
func (v values) warm(low *quantity.Quantity, lowAt engine.Range, high *quantity.Quantity, highAt engine.Range) {
	q, at := low, lowAt
	if q == nil || q.Dim != quantity.Resistance || q.TempSet {
		q, at = high, highAt
	}
	if q == nil || q.Dim != quantity.Resistance || q.TempSet {
		return
	}
	v.p.Error(at, "resistance without its temperature", fmt.Sprintf("A coil of 20 ohm at 20 degC reads 26 ohm at 100 degC. Say at what temperature the limit holds, that of a cold workshop where the manual names none: \"%s at 20 degC\"", strings.TrimSpace(q.Text)))
}

// moment reads a date, or a date with the time of day.
func (v values) moment(n *node, name string) time.Time {
	a := n.attr(name)
	if a == nil {
		return time.Time{}
	}
	if a.Value.Kind == syntax.String {
		for _, layout := range []string{time.RFC3339, "2006-01-02T15:04", "2006-01-02 15:04", "2006-01-02"} {
			if t, err := time.Parse(layout, a.Value.Text); err == nil {
				return t
			}
		}
	}
	if a.Value.Kind != syntax.String {
		v.wrong(a, &a.Value, "a date", "Write: at = \"2026-03-01\" or at = \"2026-03-01 14:30\"")
	} else {
		v.p.Error(a.at(), fmt.Sprintf("%q is not a date", syntax.Clip(a.Value.Text)), "Write: at = \"2026-03-01\" or at = \"2026-03-01 14:30\"")
	}
	return time.Time{}
}
