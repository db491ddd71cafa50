package draft

import (
	"fmt"
	"math/big"
	"strconv"
	"strings"

	"slipcase/engine"
	"slipcase/engine/geartrain"
)

// Text is the unit file, in the usual layout but for alignment. What the
// manual printed has the manual as its basis; the train is recalled, and says
// which unit it was taken from.
func (d *Draft) Text() string {
	w := &writer{}
	title := d.u.Title
	w.line(0, "# %s", title)
	w.line(0, "# Chart and ratios %s; the rest of the parts are the usual ones. Add the manual's limits.", d.from())
	w.line(0, "language = 1")
	d.basis(w, 0)
	w.line(0, "unit %s {", quoted(d.id))
	w.line(1, "title = %s", quoted(title))
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
		w.line(1, "joint %s {", quoted(j.Name))
		w.title(j.Title)
		w.line(2, "joins = %s", list([]string{j.A, j.B}))
		w.line(1, "}")
	}
	for _, s := range d.u.Solenoids {
		d.solenoid(w, s)
	}
	m, _ := geartrain.New(&d.u)
	for i, r := range d.u.Rows {
		d.rowText(w, m, i, r)
	}
	for _, r := range d.u.Rows {
		if gear, ok := d.u.Failsafe[r.Range]; ok && d.has(r.Range+"/"+gear) && !strings.Contains(w.String(), "failsafe "+quoted(r.Range)) {
			w.line(1, "failsafe %s {", quoted(r.Range))
			w.line(2, "gear = %s", quoted(gear))
			w.line(1, "}")
		}
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
		w.line(in+1, "cite = %s", quoted(d.source))
		note = "what is applied and the ratios"
	}
	w.line(in+1, "note = %s", quoted(note))
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
		w.line(3, "note = %s", quoted(d.trainFrom()))
		w.line(2, "}")
	}
	w.line(2, "input = %s", quoted(t.Input))
	w.line(2, "output = %s", quoted(t.Output))
	for _, g := range t.Gearsets {
		w.line(2, "gearset %s {", quoted(g.Name))
		if g.Title != "" {
			w.line(3, "title = %s", quoted(g.Title))
		}
		w.line(3, "kind = %s", string(g.Kind))
		w.line(3, "sun = %s", quoted(g.Sun))
		w.line(3, "carrier = %s", quoted(g.Carrier))
		w.line(3, "ring = %s", quoted(g.Ring))
		w.line(3, "teeth = [%d, %d]", g.SunTeeth, g.RingTeeth)
		w.line(2, "}")
	}
	w.line(1, "}")
}

func (d *Draft) element(w *writer, e engine.Element) {
	w.line(1, "%s %s {", string(e.Kind), quoted(e.Name))
	w.title(e.Title)
	switch e.Kind {
	case engine.Clutch:
		w.line(2, "joins = %s", list([]string{e.A, e.B}))
	case engine.Brake, engine.Band:
		w.line(2, "holds = %s", quoted(e.A))
		if e.Wraps != 0 {
			w.line(2, "wraps = %d", e.Wraps)
		}
	case engine.OneWay:
		w.line(2, "stops = %s", quoted(e.A))
		if e.B != engine.CaseMember {
			w.line(2, "against = %s", quoted(e.B))
		}
	}
	w.line(1, "}")
}

func (d *Draft) solenoid(w *writer, s engine.Solenoid) {
	w.line(1, "solenoid %s {", quoted(s.Name))
	w.title(s.Title)
	w.line(2, "kind = %s", s.Kind)
	if len(s.Controls) > 0 {
		var to []string
		for _, c := range s.Controls {
			to = append(to, d.names[c])
		}
		w.line(2, "controls = %s", list(to))
		if s.Applied {
			w.line(2, "rest = applied")
		}
	}
	w.line(1, "}")
}

func (d *Draft) rowText(w *writer, m *geartrain.Machine, i int, r engine.Row) {
	w.line(1, "row %s %s {", quoted(r.Range), quoted(r.Gear))
	w.line(2, "apply = %s", list(r.Apply))
	if r.Ratio != nil {
		w.line(2, "ratio = %s", r.RatioText)
	}
	if r.Lockup {
		w.line(2, "lockup = true")
	}
	if r.SolenoidsStated {
		w.line(2, "solenoids = %s", list(r.Solenoids))
	}
	// What the train makes of it stands as a remark: a reader compares it with
	// the manual.
	if m != nil && driven(r) {
		st := m.Row(i)
		switch {
		case st.Class != geartrain.Drives:
			w.line(2, "# the train: %s", strings.ReplaceAll(string(st.Class), "_", " "))
		default:
			s := "# the train: ratio " + digits(st.Ratio)
			if len(st.Holding) > 0 {
				s += ", " + strings.Join(st.Holding, " and ") + " holds"
			}
			if st.EngineBraking {
				s += ", engine braking"
			}
			w.line(2, "%s", s)
		}
	}
	w.line(1, "}")
}

func digits(r *big.Rat) string { return r.FloatString(3) }

type writer struct{ strings.Builder }

func (w *writer) line(in int, format string, args ...any) {
	w.WriteString(strings.Repeat("  ", in))
	fmt.Fprintf(w, format, args...)
	w.WriteByte('\n')
}

func (w *writer) title(t string) {
	if t != "" {
		w.line(2, "title = %s", quoted(t))
	}
}

func list(names []string) string {
	q := make([]string, len(names))
	for i, n := range names {
		q[i] = quoted(n)
	}
	return "[" + strings.Join(q, ", ") + "]"
}

// quoted is a text in the rule language: no template, nothing that a
// terminal would act on.
func quoted(s string) string {
	s = strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f {
			return ' '
		}
		return r
	}, s)
	s = strings.NewReplacer("${", "$ {", "%{", "% {").Replace(s)
	return strconv.Quote(s)
}
