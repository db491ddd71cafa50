package draft

import (
	"cmp"
	"errors"
	"fmt"
	"math/big"
	"slices"
	"strings"

	"slipcase/engine"
	"slipcase/engine/geartrain"
)

// Kind is what a question asks for.
type Kind string

// The questions, in the order in which they are put.
const (
	AskTrain    Kind = "train"    // which unit is built alike: its id or its number
	AskTitle    Kind = "title"    // what the unit is
	AskSource   Kind = "source"   // where chart and ratios are printed; none for memory
	AskDrive    Kind = "drive"    // rear, front, all
	AskControls Kind = "controls" // hydraulic, electronic, adaptive
	AskGearset  Kind = "gearset"  // member by member: "front single sun carrier ring 33 79"; none to go on
	AskEnds     Kind = "ends"     // member by member: input and output
	AskElement  Kind = "element"  // member by member: "clutch C1 turbine sun", "converter-clutch TCC"; none to go on
	AskName     Kind = "name"     // what the manual calls Element
	AskRatio    Kind = "ratio"    // the printed ratio of Gear; none when not known
	AskRow      Kind = "row"      // what Row applies
	AskMore     Kind = "more"     // a further row, "M/1 = forward, low"; none to go on
	AskOrder    Kind = "order"    // order in which things come out, front to back
	AskMend     Kind = "mend"     // the chart contradicts the train: a row to put again, or keep
	Done        Kind = ""         // nothing more: Text writes the unit
)

// Question is one question. Default is what an empty answer means.
type Question struct {
	Kind    Kind
	Element engine.Element // AskName
	Gear    string         // AskRatio
	Row     string         // AskRow, "D/2"
	Choices []Choice       // AskTrain
	Names   []string       // AskRow, AskMore, AskOrder, AskMend: what may be named
	Default string
	Again   bool // AskGearset, AskElement, AskMore: one is in already
}

// Choice is a unit to take the train from.
type Choice struct{ ID, Title string }

// Reply is what the draft says to an answer.
type Reply struct {
	// Row is what the gear train makes of the row just given, where its ratio
	// can be told: the class, its ratio when teeth are known, and the one-way
	// clutches that hold.
	Row *RowReply
	// Fit is set when the last ratio is in and teeth were looked for.
	Fit *Fit
	// Disagree are the rows that contradict the train in the end, with the
	// smallest repairs.
	Disagree []string
	Repairs  [][]geartrain.Edit
}

// RowReply is what the gear train makes of one row.
type RowReply struct {
	Row     string
	Class   geartrain.Class
	Ratio   *big.Rat // by the teeth at hand; nil without drive
	Teeth   bool     // the teeth are the unit's own, not only those of the unit built alike
	Printed string
	Holding []string
	Braking bool
	// Wrong: the train says otherwise than the manual. It would agree with any one
	// of Repairs, changes of what the row applies.
	Wrong   bool
	Repairs []geartrain.Edit
}

// Fit is what the printed ratios say of the teeth.
type Fit struct {
	Teeth geartrain.Teeth // the set taken; nil when none fits
	Sets  int             // how many print the same table
	Many  bool            // the ratios leave too much open
}

// ErrAnswer is an answer that a question cannot take.
type ErrAnswer struct {
	Question Kind
	Text     string
	Known    []string // what it could have been, where there is a list
	// NotCovered names a train that the physics does not compute, "" otherwise.
	NotCovered string
}

func (e *ErrAnswer) Error() string {
	return fmt.Sprintf("draft: %q is no answer to %q", e.Text, e.Question)
}

// Draft is a unit in the making. Not safe for concurrent use.
type Draft struct {
	id      string
	units   []*engine.Unit // to take a train from
	said    []string
	like    *engine.Unit
	u       engine.Unit // as far as it is known
	source  string
	names   map[string]string // element of like -> name here
	order   []string
	queue   []Question
	asked   map[string]bool   // gears whose ratio was asked for behind their row
	printed map[string]string // gear -> ratio as printed
	fitted  bool
	members bool // put together member by member
}

// New begins a draft for a unit of this id. The trains are those of units.
func New(id string, units []*engine.Unit) *Draft {
	d := &Draft{id: id, units: units, names: map[string]string{}, asked: map[string]bool{}, printed: map[string]string{}}
	q := Question{Kind: AskTrain}
	for _, u := range units {
		q.Choices = append(q.Choices, Choice{u.ID, u.Title})
		q.Names = append(q.Names, u.ID)
	}
	d.queue = []Question{q}
	return d
}

// Said are the answers so far, one a question: Resume takes them.
func (d *Draft) Said() []string { return slices.Clone(d.said) }

// Resume gives the answers again; it stops at the first that no longer fits.
func (d *Draft) Resume(said []string) {
	for _, s := range said {
		if d.Next().Kind == Done {
			return
		}
		if _, err := d.Answer(s); err != nil {
			return
		}
	}
}

// Next is the question to put now.
func (d *Draft) Next() Question {
	if len(d.queue) == 0 {
		return Question{}
	}
	q := d.queue[0]
	switch q.Kind {
	case AskGearset:
		q.Again = len(d.u.Train.Gearsets) > 0
	case AskElement:
		q.Again = len(d.u.Elements) > 0
	case AskMore:
		q.Again = len(d.u.Rows) > 0
	}
	return q
}

// Answer takes a line. It fails with an *ErrAnswer for one that cannot be taken;
// the question is then still open.
func (d *Draft) Answer(text string) (Reply, error) {
	q := d.Next()
	text = strings.TrimSpace(text)
	given := text
	if text == "" {
		text = q.Default
	}
	if text == "none" && slices.Contains([]Kind{AskSource, AskGearset, AskElement, AskRatio, AskMore}, q.Kind) {
		text = "" // nothing, or nothing more
	}
	var r Reply
	var err error
	switch q.Kind {
	case AskTrain:
		err = d.train(q, text)
		if err == nil && d.like != nil {
			given = d.like.ID // a number may stand for another unit when the draft goes on
		}
	case AskTitle:
		d.u.Title = text
	case AskSource:
		d.source = text
	case AskDrive:
		d.u.Drive, err = oneOf(q, text, "rear", "front", "all")
	case AskControls:
		d.u.Controls, err = oneOf(q, text, "hydraulic", "electronic", "adaptive")
	case AskGearset:
		err = d.gearset(q, text)
	case AskEnds:
		err = d.ends(q, text)
	case AskElement:
		err = d.oneElement(q, text)
	case AskName:
		err = d.name(q, text)
	case AskRatio:
		err = d.ratio(q, text)
		if err == nil && d.lastRatio() && !d.members {
			r.Fit = d.fit()
		}
	case AskRow:
		r.Row, err = d.row(q, text)
	case AskMore:
		r, err = d.more(q, text)
	case AskOrder:
		err = d.ordered(q, text)
		if err == nil {
			r.Disagree, r.Repairs = d.judge()
		}
	case AskMend:
		err = d.mend(q, text)
	default:
		err = &ErrAnswer{Question: q.Kind, Text: text}
	}
	if err != nil {
		return Reply{}, err
	}
	d.said = append(d.said, given)
	d.queue = d.queue[1:]
	if len(r.Disagree) > 0 {
		d.queue = append(d.queue, Question{Kind: AskMend, Names: r.Disagree, Default: "keep"})
	}
	return r, nil
}

func oneOf(q Question, text string, words ...string) (string, error) {
	if slices.Contains(words, text) {
		return text, nil
	}
	return "", &ErrAnswer{Question: q.Kind, Text: text, Known: words}
}

func (d *Draft) train(q Question, text string) error {
	if text == "none" || text == "0" {
		d.scratch()
		return nil
	}
	for i, u := range d.units {
		if text == u.ID || text == fmt.Sprint(i+1) {
			d.like = u
		}
	}
	if d.like == nil {
		return &ErrAnswer{Question: q.Kind, Text: text, Known: q.Names, NotCovered: engine.NotCovered(text)}
	}
	u := d.like
	d.u = engine.Unit{ID: d.id, Drive: u.Drive, Controls: u.Controls, Train: u.Train, Elements: slices.Clone(u.Elements), Joints: u.Joints,
		Solenoids: u.Solenoids, Failsafe: u.Failsafe}
	d.u.Train.Gearsets = slices.Clone(u.Train.Gearsets)
	for _, e := range u.Elements {
		d.names[e.Name] = e.Name
	}
	d.queue = append(d.queue,
		Question{Kind: AskTitle, Default: u.Title},
		Question{Kind: AskSource},
		Question{Kind: AskDrive, Default: cmp.Or(u.Drive, "rear")},
		Question{Kind: AskControls, Default: cmp.Or(u.Controls, "hydraulic")})
	for _, e := range u.Elements {
		if e.Kind != engine.ConverterClutch {
			d.queue = append(d.queue, Question{Kind: AskName, Element: e, Default: cmp.Or(e.Title, e.Name)})
		}
	}
	seen := map[string]bool{}
	for _, r := range u.Rows {
		if driven(r) && !seen[r.Gear] {
			seen[r.Gear] = true
			d.queue = append(d.queue, Question{Kind: AskRatio, Gear: r.Gear})
		}
	}
	for _, r := range u.Rows {
		d.queue = append(d.queue, Question{Kind: AskRow, Row: r.Name()})
	}
	d.queue = append(d.queue, Question{Kind: AskMore}, Question{Kind: AskOrder})
	return nil
}

func driven(r engine.Row) bool { return r.Gear != "N" && r.Gear != "P" }

// plain makes a name of the language out of what a manual says: "Low & Reverse
// Brake" is low_reverse_brake, "C1" is c1.
func plain(text string) string {
	var b strings.Builder
	for _, r := range strings.ToLower(text) {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9' && b.Len() > 0:
			b.WriteRune(r)
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "_"):
			b.WriteByte('_')
		}
	}
	return strings.Trim(b.String(), "_")
}

func (d *Draft) name(q Question, text string) error {
	name := plain(text)
	if text == q.Default {
		name = q.Element.Name
	}
	own := d.names[q.Element.Name]
	var other string // of an element that is still asked for: it gives the name up
	taken := slices.ContainsFunc(d.u.Elements, func(e engine.Element) bool {
		if e.Name != name || name == own {
			return false
		}
		for i, later := range d.queue[1:] {
			if later.Kind == AskName && d.names[later.Element.Name] == name {
				other, d.queue[1+i].Default = later.Element.Name, ""
				return false
			}
		}
		return true
	})
	if name == "" || taken || slices.Contains([]string{"converter", "unit", "shift", "pressure", "range", "case"}, name) {
		return &ErrAnswer{Question: q.Kind, Text: text}
	}
	rename := func(asked, from, to, title string) {
		for i := range d.u.Elements {
			if e := &d.u.Elements[i]; e.Name == from {
				e.Name, e.Title = to, title
				d.names[asked] = to
				return
			}
		}
	}
	if other != "" {
		rename(other, name, "unnamed_"+name, "")
	}
	rename(q.Element.Name, own, name, text)
	d.defaults()
	return nil
}

// defaults writes what the rows of the unit built alike apply, under the names
// here, into the questions still to come.
func (d *Draft) defaults() {
	names := d.applicable()
	for i := range d.queue {
		q := &d.queue[i]
		switch q.Kind {
		case AskRow:
			q.Names = names
			for _, r := range d.like.Rows {
				if r.Name() == q.Row {
					q.Default = d.applied(r)
				}
			}
		case AskMore:
			q.Names = names
		case AskOrder:
			q.Names = d.stack()
			q.Default = strings.Join(q.Names, ", ")
		}
	}
}

func (d *Draft) applied(r engine.Row) string {
	var out []string
	for _, a := range r.Apply {
		out = append(out, d.names[a])
	}
	if len(out) == 0 {
		return "none"
	}
	return strings.Join(out, ", ")
}

// applicable are the elements that a row can apply.
func (d *Draft) applicable() []string {
	var out []string
	for _, e := range d.u.Elements {
		if e.Kind != engine.OneWay && e.Kind != engine.ConverterClutch {
			out = append(out, e.Name)
		}
	}
	return out
}

// stack are the things that come out of the case.
func (d *Draft) stack() []string {
	var out []string
	for _, e := range d.u.Elements {
		if e.Kind != engine.ConverterClutch {
			out = append(out, e.Name)
		}
	}
	for _, j := range d.u.Joints {
		out = append(out, j.Name)
	}
	for _, g := range d.u.Train.Gearsets {
		out = append(out, g.Name)
	}
	return out
}

func (d *Draft) ratio(q Question, text string) error {
	if text == "" {
		return nil
	}
	if engine.Varies(text) || engine.NotCovered(text) != "" {
		return &ErrAnswer{Question: q.Kind, Text: text, NotCovered: cmp.Or(engine.NotCovered(text), engine.VariableRatio)}
	}
	r, ok := new(big.Rat).SetString(strings.TrimPrefix(text, "-"))
	if !ok || len(text) > 12 || strings.ContainsAny(text, "/eE_") || r.Sign() <= 0 {
		return &ErrAnswer{Question: q.Kind, Text: text}
	}
	text = strings.TrimPrefix(text, "-")
	if q.Gear == "R" || strings.HasPrefix(q.Gear, "R") && d.reverse(q.Gear) {
		text = "-" + text
	}
	d.printed[q.Gear] = text
	for i := range d.u.Rows { // rows that stood before their ratio
		d.declare(&d.u.Rows[i])
	}
	return nil
}

// reverse tells whether a gear runs backward in the unit built alike.
func (d *Draft) reverse(gear string) bool {
	return slices.ContainsFunc(d.like.Rows, func(r engine.Row) bool { return r.Gear == gear && r.Ratio != nil && r.Ratio.Sign() < 0 }) || d.members
}

func (d *Draft) lastRatio() bool { return len(d.queue) < 2 || d.queue[1].Kind != AskRatio }

// fit finds teeth for the printed ratios with the chart of the unit built
// alike; they are looked for again when the rows are in.
func (d *Draft) fit() *Fit {
	v := d.u
	v.Rows = nil
	for _, r := range d.like.Rows {
		r.Apply = slices.Clone(r.Apply)
		for i, a := range r.Apply {
			r.Apply[i] = d.names[a]
		}
		r.Holding = nil
		r.HoldingStated, r.EngineBraking = false, nil
		d.declare(&r)
		v.Rows = append(v.Rows, r)
	}
	return d.fitTeeth(&v)
}

func (d *Draft) declare(r *engine.Row) {
	r.Ratio, r.RatioText = nil, ""
	if text, ok := d.printed[r.Gear]; ok && driven(*r) {
		r.RatioText = text
		r.Ratio, _ = new(big.Rat).SetString(text)
	}
}

func (d *Draft) fitTeeth(v *engine.Unit) *Fit {
	v.Train.Gearsets = slices.Clone(v.Train.Gearsets)
	for i := range v.Train.Gearsets {
		v.Train.Gearsets[i].SunTeeth, v.Train.Gearsets[i].RingTeeth = 0, 0
	}
	sets, fits, err := geartrain.FitTeeth(v, 1)
	switch {
	case errors.Is(err, geartrain.ErrManyTeeth):
		return &Fit{Many: true}
	case err != nil || fits == 0:
		return &Fit{}
	}
	for i := range d.u.Train.Gearsets {
		d.u.Train.Gearsets[i].SunTeeth, d.u.Train.Gearsets[i].RingTeeth = sets[0][i][0], sets[0][i][1]
	}
	d.fitted = true
	return &Fit{Teeth: sets[0], Sets: fits}
}

// elements reads "forward, direct"; "none" is nothing, "-" no such row. The
// converter clutch, or lockup, among them says that it is on in the row's cruise.
func (d *Draft) elements(q Question, text string) (out []string, lockup bool, err error) {
	if text == "none" {
		return nil, false, nil
	}
	known := d.applicable()
	clutch := d.converterClutch()
	if clutch == "" {
		clutch = lockupName
	}
	for _, w := range listed(text, append(slices.Clone(known), clutch, lockupName), ",+") {
		switch {
		case slices.Contains(known, w):
			if !slices.Contains(out, w) {
				out = append(out, w)
			}
		case w == clutch || w == lockupName:
			lockup = true
		default:
			return nil, false, &ErrAnswer{Question: q.Kind, Text: w, Known: append(slices.Clone(known), clutch)}
		}
	}
	if lockup && d.converterClutch() == "" {
		d.u.Elements = append(d.u.Elements, engine.Element{Name: lockupName, Title: "converter clutch", Kind: engine.ConverterClutch})
		d.names[lockupName] = lockupName
	}
	return out, lockup, nil
}

// lockupName is what the converter clutch is called where nobody calls it otherwise.
const lockupName = "lockup"

// converterClutch is the name of the unit's converter clutch, "" for none.
func (d *Draft) converterClutch() string {
	for _, e := range d.u.Elements {
		if e.Kind == engine.ConverterClutch {
			return e.Name
		}
	}
	return ""
}

// listed splits a list of names as a manual writes them: "C1, Band 1" are c1 and
// band_1. Where no name is meant by a whole item, its words are.
func listed(text string, known []string, marks string) []string {
	var out []string
	for _, item := range strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(marks, r) }) {
		if name := plain(item); slices.Contains(known, name) {
			out = append(out, name)
			continue
		}
		for _, w := range strings.Fields(item) {
			if name := plain(w); slices.Contains(known, name) {
				w = name
			}
			out = append(out, w)
		}
	}
	return out
}

func (d *Draft) row(q Question, text string) (*RowReply, error) {
	rng, gear, _ := strings.Cut(q.Row, "/")
	at := slices.IndexFunc(d.u.Rows, func(r engine.Row) bool { return r.Name() == q.Row })
	if text == "-" {
		if at >= 0 {
			d.u.Rows = slices.Delete(d.u.Rows, at, at+1)
		}
		return nil, nil
	}
	apply, lockup, err := d.elements(q, text)
	if err != nil {
		return nil, err
	}
	r := engine.Row{Range: rng, Gear: gear, Apply: apply}
	for _, l := range d.like.Rows {
		if l.Name() == q.Row {
			r.Lockup, r.Solenoids, r.SolenoidsStated = l.Lockup, l.Solenoids, l.SolenoidsStated
		}
	}
	r.Lockup = r.Lockup || lockup
	d.declare(&r)
	if at >= 0 {
		d.u.Rows[at] = r
	} else {
		d.u.Rows = append(d.u.Rows, r)
		at = len(d.u.Rows) - 1
	}
	return d.drives(at), nil
}

func (d *Draft) drives(i int) *RowReply {
	m, err := geartrain.New(&d.u)
	if err != nil {
		return nil
	}
	st, r := m.Row(i), d.u.Rows[i]
	out := &RowReply{Row: r.Name(), Class: st.Class, Ratio: st.Ratio, Teeth: d.fitted || d.members, Printed: r.RatioText, Holding: st.Holding, Braking: st.EngineBraking}
	if driven(r) != (st.Class == geartrain.Drives) {
		out.Wrong = driven(r) || st.Class == geartrain.Drives // in neutral any other state will do
	} else if ok, _ := m.RatioMatches(i); !ok {
		out.Wrong = out.Teeth // by the teeth of another unit a ratio says nothing
	}
	if out.Wrong && out.Teeth {
		const most = 2 // more are no help while the chart is typed
		v := d.u
		v.Rows = []engine.Row{r}
		for _, set := range geartrain.Repairs(&v, 20) {
			if len(set) == 1 && set[0].Row == r.Name() && set[0].Kind != geartrain.EditRatio && (driven(r) || set[0].Kind == geartrain.EditRelease) && len(out.Repairs) < most {
				out.Repairs = append(out.Repairs, set[0])
			}
		}
	}
	return out
}

func (d *Draft) more(q Question, text string) (Reply, error) {
	if text == "" {
		return Reply{}, nil
	}
	row, list, ok := strings.Cut(text, "=")
	rng, gear, slash := strings.Cut(strings.TrimSpace(row), "/")
	if !ok || !slash || !word(rng) || !word(gear) {
		return Reply{}, &ErrAnswer{Question: q.Kind, Text: text}
	}
	r, err := d.row(Question{Kind: q.Kind, Row: rng + "/" + gear}, strings.TrimSpace(list))
	if err != nil {
		return Reply{}, err
	}
	// The same question again, until nothing more is said; of a new gear its
	// ratio before.
	d.queue = slices.Insert(d.queue, 1, q)
	if at := len(d.u.Rows) - 1; d.members && at >= 0 && d.u.Rows[at].RatioText == "" && driven(d.u.Rows[at]) && !d.asked[gear] {
		d.asked[gear] = true
		d.queue = slices.Insert(d.queue, 1, Question{Kind: AskRatio, Gear: gear})
	}
	return Reply{Row: r}, nil
}

func word(s string) bool {
	return s != "" && len(s) <= 4 && strings.Trim(s, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789") == ""
}

func (d *Draft) ordered(q Question, text string) error {
	known := d.stack()
	d.order = nil
	for _, w := range listed(text, known, ",") {
		if !slices.Contains(known, w) {
			return &ErrAnswer{Question: q.Kind, Text: w, Known: known}
		}
		if !slices.Contains(d.order, w) {
			d.order = append(d.order, w)
		}
	}
	return nil
}

// judge looks for teeth with the chart as it is now, and compares every row.
func (d *Draft) judge() ([]string, [][]geartrain.Edit) {
	if v := d.u; !d.members || slices.ContainsFunc(v.Train.Gearsets, func(g engine.Gearset) bool { return g.SunTeeth == 0 }) {
		d.fitTeeth(&v)
	}
	m, err := geartrain.New(&d.u)
	if err != nil {
		return nil, nil
	}
	var out []string
	for _, i := range m.Disagree() {
		out = append(out, m.RowName(i))
	}
	if len(out) == 0 {
		return nil, nil
	}
	return out, geartrain.Repairs(&d.u, 4)
}

func (d *Draft) mend(q Question, text string) error {
	if text == "keep" {
		return nil // the contradiction stands as it is
	}
	if !slices.Contains(q.Names, text) {
		return &ErrAnswer{Question: q.Kind, Text: text, Known: append(slices.Clone(q.Names), "keep")}
	}
	again := Question{Kind: AskRow, Row: text, Names: d.applicable()}
	for _, r := range d.u.Rows {
		if r.Name() == text {
			again.Default = "none"
			on := slices.Clone(r.Apply)
			if r.Lockup {
				on = append(on, d.converterClutch())
			}
			if len(on) > 0 {
				again.Default = strings.Join(on, ", ")
			}
		}
	}
	d.queue = append(d.queue, again, Question{Kind: AskOrder, Names: d.stack(), Default: strings.Join(d.order, ", ")})
	return nil
}
