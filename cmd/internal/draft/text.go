package draft

import (
	"fmt"
	"math/big"
	"slices"
	"strconv"
	"strings"

	"slipcase/engine"
	"slipcase/engine/geartrain"
	"slipcase/rules/syntax"
)

// Text is the unit file, in the usual layout but for alignment. What the
// manual printed has the manual as its basis; the train is recalled, and says
// which unit it was taken from.
func (d *Draft) Text() string {
	w := &writer{}
	title := d.u.Title
	w.line(0, "# Chart and ratios %s; the rest of the parts are the usual ones. Add the manual's limits.", d.from())
	w.line(0, "language = 1")
	d.basis(w, 0)
	w.line(0, "unit %s {", syntax.Quote(d.id))
	w.line(1, "title = %s", syntax.Quote(title))
	w.line(1, "drive = %s", d.u.Drive)
	w.line(1, "controls = %s", d.u.Controls)
	w.line(1, "parts = usual")
	if len(d.order) > 0 {
		w.line(1, "front_to_back = %s", list(d.order))
	}
	d.trainText(w)
	for _, e := range d.u.Elements {
		d.element(w, e)
	}
	for _, j := range d.u.Joints {
		w.block(1, "joint "+syntax.Quote(j.Name), "", titled(j.Title, engine.Spaced(j.Name)), arg("joins", list([]string{j.A, j.B})))
	}
	for _, s := range d.u.Solenoids {
		d.solenoid(w, s)
	}
	w.line(1, "# Behind each row what the gear train makes of it: compare it with the manual.")
	m, _ := geartrain.New(&d.u)
	for i, r := range d.u.Rows {
		d.rowText(w, m, i, r)
	}
	for _, r := range d.u.Rows {
		failsafe, ok := d.u.Failsafe[r.Range]
		gear := failsafe.Gear
		if !ok || strings.Contains(w.String(), "failsafe "+syntax.Quote(r.Range)) {
			continue
		}
		remark := ""
		if !d.has(r.Range + "/" + gear) {
			if slices.ContainsFunc(d.u.Solenoids, func(s engine.Solenoid) bool { return len(s.Controls) > 0 }) {
				continue // what their solenoids leave at rest is for the manual to say
			}
			gear, remark = d.highest(r.Range), "the highest of the range, not looked up"
		}
		var fed []string
		for _, e := range failsafe.ByValve {
			fed = append(fed, d.names[e])
		}
		var byValve, powered []string
		if len(fed) > 0 {
			byValve = arg("by_valve", list(fed))
		}
		if failsafe.Powered {
			powered = arg("powered", "true")
		}
		w.block(1, "failsafe "+syntax.Quote(r.Range), remark, arg("gear", syntax.Quote(gear)), byValve, powered)
	}
	w.line(0, "}")
	return w.String()
}

func (d *Draft) from() string {
	if d.source == "" {
		return "from memory"
	}
	return "as printed in: " + d.source
}

// highest is the gear of a range with the smallest ratio, its last row where no
// ratio is known.
func (d *Draft) highest(rng string) string {
	var top *engine.Row
	for i := range d.u.Rows {
		r := &d.u.Rows[i]
		if r.Range != rng {
			continue
		}
		if top == nil || r.Ratio == nil || top.Ratio == nil || new(big.Rat).Abs(r.Ratio).Cmp(new(big.Rat).Abs(top.Ratio)) <= 0 {
			top = r
		}
	}
	return top.Gear
}

func (d *Draft) has(row string) bool {
	for _, r := range d.u.Rows {
		if r.Name() == row {
			return true
		}
	}
	return false
}

func (d *Draft) basis(w *writer, in int) {
	note := d.trainFrom()
	if d.source == "" {
		w.line(in, "basis \"recalled\" {")
	} else {
		w.line(in, "basis \"published\" {")
		w.line(in+1, "cite = %s", syntax.Quote(d.source))
		note = "what is applied and the ratios"
	}
	w.line(in+1, "note = %s", syntax.Quote(note))
	w.line(in, "}")
}

// trainFrom says where train and teeth come from.
func (d *Draft) trainFrom() string {
	note := "train, joints and solenoids as of " + d.like.ID + ", not looked up"
	if d.members {
		note = "train as told, member by member"
	}
	if d.fitted {
		note += "; tooth counts found from the printed ratios, not counted"
	}
	return note
}

func (d *Draft) trainText(w *writer) {
	t := d.u.Train
	w.line(1, "train {")
	if d.source != "" { // only what the manual prints is its
		w.line(2, "basis \"recalled\" {")
		w.line(3, "note = %s", syntax.Quote(d.trainFrom()))
		w.line(2, "}")
	}
	w.line(2, "input = %s", syntax.Quote(t.Input))
	w.line(2, "output = %s", syntax.Quote(t.Output))
	for _, g := range t.Gearsets {
		w.line(2, "gearset %s {", syntax.Quote(g.Name))
		if g.Title != "" {
			w.line(3, "title = %s", syntax.Quote(g.Title))
		}
		w.line(3, "kind = %s", string(g.Kind))
		w.line(3, "sun = %s", syntax.Quote(g.Sun))
		w.line(3, "carrier = %s", syntax.Quote(g.Carrier))
		w.line(3, "ring = %s", syntax.Quote(g.Ring))
		w.line(3, "teeth = [%d, %d]", g.SunTeeth, g.RingTeeth)
		w.line(2, "}")
	}
	w.line(1, "}")
}

func (d *Draft) element(w *writer, e engine.Element) {
	// What the manual calls by a name of its own is called so throughout; what
	// it is in the unit built alike stands as a remark.
	title, remark := titled(e.Title, engine.Spaced(e.Name)+" "+string(e.Kind)), d.was(e.Name)
	if len(e.Name) <= 2 && strings.EqualFold(e.Title, e.Name) { // A, C0: the language makes a title of such a name
		title = nil
	}
	head := string(e.Kind) + " " + syntax.Quote(e.Name)
	switch e.Kind {
	case engine.Clutch:
		w.block(1, head, remark, title, arg("joins", list([]string{e.A, e.B})))
	case engine.Brake, engine.Band:
		var wraps []string
		if e.Wraps != 0 {
			wraps = arg("wraps", strconv.Itoa(e.Wraps))
		}
		w.block(1, head, remark, title, arg("holds", syntax.Quote(e.A)), wraps)
	case engine.OneWay:
		var against []string
		if e.B != engine.CaseMember {
			against = arg("against", syntax.Quote(e.B))
		}
		w.block(1, head, remark, title, arg("stops", syntax.Quote(e.A)), against)
	default:
		w.block(1, head, remark, title)
	}
}

// was is the title, in the unit built alike, of an element that goes by another
// name here; "" for one that does not.
func (d *Draft) was(name string) string {
	if d.members {
		return ""
	}
	for _, e := range d.like.Elements {
		if d.names[e.Name] == name && e.Name != name {
			return e.Title
		}
	}
	return ""
}

func (d *Draft) solenoid(w *writer, s engine.Solenoid) {
	var kind, controls, rest []string
	if s.Kind != "shift" && s.Kind != "clutch" { // these are not said
		kind = arg("kind", s.Kind)
	}
	if len(s.Controls) > 0 {
		var to []string
		for _, c := range s.Controls {
			to = append(to, d.names[c])
		}
		controls = arg("controls", list(to))
		if s.Applied {
			rest = arg("rest", "applied")
		}
	}
	w.block(1, "solenoid "+syntax.Quote(s.Name), "", titled(s.Title, engine.Spaced(s.Name)+" solenoid"), kind, controls, rest)
}

func (d *Draft) rowText(w *writer, m *geartrain.Machine, i int, r engine.Row) {
	var ratio, lockup, solenoids []string
	if r.Ratio != nil {
		ratio = arg("ratio", r.RatioText)
	}
	if r.Lockup {
		lockup = arg("lockup", "true")
	}
	if r.SolenoidsStated {
		solenoids = arg("solenoids", list(r.Solenoids))
	}
	// What the train makes of it stands as a remark: a reader compares it with
	// the manual.
	remark := ""
	if m != nil && driven(r) {
		st := m.Row(i)
		if remark = engine.Spaced(string(st.Class)); st.Class == geartrain.Drives {
			remark = digits(st.Ratio)
		}
		if len(st.Holding) > 0 {
			remark += ", " + strings.Join(st.Holding, " and ") + " holds"
		}
		if st.EngineBraking {
			remark += ", engine braking"
		}
	}
	w.block(1, "row "+syntax.Quote(r.Range)+" "+syntax.Quote(r.Gear), remark, arg("apply", list(r.Apply)), ratio, lockup, solenoids)
}

func digits(r *big.Rat) string { return r.FloatString(3) }

type writer struct{ strings.Builder }

func (w *writer) line(in int, format string, args ...any) {
	w.WriteString(strings.Repeat("  ", in))
	fmt.Fprintf(w, format, args...)
	w.WriteByte('\n')
}

// block writes a block with its arguments: on one line where it has one at most.
func (w *writer) block(in int, head, remark string, args ...[]string) {
	args = slices.DeleteFunc(args, func(a []string) bool { return a == nil })
	if remark != "" {
		remark = " # " + clean(remark)
	}
	switch len(args) {
	case 0:
		w.line(in, "%s {}%s", head, remark)
	case 1:
		w.line(in, "%s { %s = %s }%s", head, args[0][0], args[0][1], remark)
	default:
		w.line(in, "%s {%s", head, remark)
		for _, a := range args {
			w.line(in+1, "%s = %s", a[0], a[1])
		}
		w.line(in, "}")
	}
}

func arg(name, value string) []string { return []string{name, value} }

// titled is a title, unless it is what the thing is called without one.
func titled(title, usual string) []string {
	if title == "" || title == usual {
		return nil
	}
	return arg("title", syntax.Quote(title))
}

func list(names []string) string {
	q := make([]string, len(names))
	for i, n := range names {
		q[i] = syntax.Quote(n)
	}
	return "[" + strings.Join(q, ", ") + "]"
}

// clean is a text without control characters.
func clean(s string) string {
	return strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f {
			return ' '
		}
		return r
	}, s)
}
