package drawing

import (
	"fmt"
	"math/big"
	"slices"
	"strings"

	"slipcase/engine"
	"slipcase/engine/geartrain"
)

// Sketch draws one unit. It is safe for concurrent use.
type Sketch struct {
	u *engine.Unit
	m *geartrain.Machine
	// The power flow's lanes, from the top, and columns, from the left; the
	// engine comes before the first column and the load after the last.
	lanes   []string
	columns []column
}

// column is what stands at one place of the axis: a gearset, element or joint.
type column struct {
	name, title string
	kind        string // "gearset", "joint", or an element's kind
	ends        []end
	wraps       int
}

// end is where a column meets a member. A gearset's ends are its sun, carrier
// and ring; those of all others are A and B.
type end struct {
	letter string // S, C, R; "" for others
	member string
	torque string // key of State.Torques
	sense  int    // sign by which that torque acts on the member
}

// New lays out the drawings of a unit; m is its machine.
func New(u *engine.Unit, m *geartrain.Machine) *Sketch {
	s := &Sketch{u: u, m: m}
	for _, g := range u.Train.Gearsets {
		c := column{name: g.Name, title: engine.TitleOr(g.Title, g.Name+" gear set"), kind: "gearset"}
		for _, e := range []struct{ letter, part, member string }{{"S", "sun", g.Sun}, {"C", "carrier", g.Carrier}, {"R", "ring", g.Ring}} {
			c.ends = append(c.ends, end{e.letter, e.member, g.Name + "." + e.part, 1})
		}
		s.columns = append(s.columns, c)
	}
	two := func(name, title, kind, a, b string, wraps int) {
		s.columns = append(s.columns, column{name, engine.TitleOr(title, name), kind, []end{{"", a, name, 1}, {"", b, name, -1}}, wraps})
	}
	for _, e := range u.Elements {
		if e.Kind != engine.ConverterClutch {
			two(e.Name, e.Title, string(e.Kind), e.A, e.B, e.Wraps)
		}
	}
	for _, j := range u.Joints {
		two(j.Name, j.Title, "joint", j.A, j.B, 0)
	}
	for _, name := range m.Members() {
		if name != engine.CaseMember || slices.ContainsFunc(u.Train.Gearsets, func(g engine.Gearset) bool {
			return g.Sun == name || g.Carrier == name || g.Ring == name
		}) {
			s.lanes = append(s.lanes, name)
		}
	}
	s.settle()
	return s
}

// drawn are the ends of a column that have a lane to go to; the others end at
// a ground sign of their own.
func (s *Sketch) drawn(c *column) (out []end) {
	for _, e := range c.ends {
		if e.member != engine.CaseMember || c.kind == "gearset" {
			out = append(out, e)
		}
	}
	return out
}

// cost is how much line the drawing needs: lanes along, columns across, and a
// little for each lane that a column crosses without touching it.
func (s *Sketch) cost() (sum int) {
	lane := map[string]int{}
	for i, l := range s.lanes {
		lane[l] = i
	}
	first, last := map[string]int{s.u.Train.Input: -1}, map[string]int{s.u.Train.Output: len(s.columns)}
	for i := range s.columns {
		low, high := len(s.lanes), -1
		for _, e := range s.drawn(&s.columns[i]) {
			if f, ok := first[e.member]; !ok || i < f {
				first[e.member] = i
			}
			if l, ok := last[e.member]; !ok || i > l {
				last[e.member] = i
			}
			low, high = min(low, lane[e.member]), max(high, lane[e.member])
		}
		sum += 2 * max(0, high-low)
	}
	for m, f := range first {
		if l, ok := last[m]; ok {
			sum += l - f
		}
	}
	// The input comes in at the top where that costs little.
	return sum + lane[s.u.Train.Input]
}

// settle exchanges and moves lanes and columns as long as that saves line.
// What it begins with, and so what it ends with, follows from the unit alone.
func (s *Sketch) settle() {
	best := s.cost()
	for better := true; better; {
		better = false
		try := func(n int, swap func(i, j int), move func(i, j int)) {
			for i := range n {
				for j := range n {
					if i == j {
						continue
					}
					for _, f := range []struct{ do, undo func() }{
						{func() { swap(i, j) }, func() { swap(i, j) }},
						{func() { move(i, j) }, func() { move(j, i) }},
					} {
						f.do()
						if c := s.cost(); c < best {
							best, better = c, true
						} else {
							f.undo()
						}
					}
				}
			}
		}
		try(len(s.lanes), func(i, j int) { s.lanes[i], s.lanes[j] = s.lanes[j], s.lanes[i] }, func(i, j int) { s.lanes = moved(s.lanes, i, j) })
		try(len(s.columns), func(i, j int) { s.columns[i], s.columns[j] = s.columns[j], s.columns[i] }, func(i, j int) { s.columns = moved(s.columns, i, j) })
	}
}

// moved takes item i out and puts it back at place j.
func moved[T any](list []T, i, j int) []T {
	x := list[i]
	return slices.Insert(slices.Delete(list, i, i+1), j, x)
}

// row finds a row by name. The error names the rows that there are.
func (s *Sketch) row(name string) (int, error) {
	i := s.m.RowIndex(name)
	if i < 0 {
		var names []string
		for j := range s.m.Rows() {
			names = append(names, s.m.RowName(j))
		}
		return 0, fmt.Errorf("unit %s has no row %q; its rows are %s", s.u.ID, name, strings.Join(names, ", "))
	}
	return i, nil
}

// faultOf is what is wrong with a part, in capitals for its label: "" when it
// is sound.
func faultOf(name string, faults []geartrain.Fault) string {
	for _, f := range faults {
		if f.Name == name {
			return map[geartrain.FaultKind]string{
				geartrain.Dead: "DEAD", geartrain.StaysOn: "STUCK ON", geartrain.Slips: "SLIPS", geartrain.Seized: "SEIZED",
				geartrain.Reversed: "REVERSED", geartrain.Broken: "BROKEN",
			}[f.Kind]
		}
	}
	return ""
}

// with names the faults for a title: " with forward clutch dead".
func (s *Sketch) with(faults []geartrain.Fault) string {
	var list []string
	for _, f := range faults {
		for i := range s.columns {
			if c := &s.columns[i]; c.name == f.Name && c.kind != "gearset" {
				list = append(list, c.title+" "+strings.ToLower(faultOf(f.Name, faults)))
			}
		}
	}
	if len(list) == 0 {
		return ""
	}
	return ", with " + strings.Join(list, " and ")
}

// outcome says what the train does, for captions.
func outcome(st *geartrain.State) string {
	switch {
	case st.Class == geartrain.Drives && st.Ratio.Sign() < 0:
		return "drives backward, ratio " + number(st.Ratio)
	case st.Class == geartrain.Drives:
		return "drives, ratio " + number(st.Ratio)
	case st.Class == geartrain.NoDrive:
		return "no drive"
	case st.OutputHeld:
		return "ties up: the output is locked"
	}
	return "ties up: the input cannot turn"
}

// number is a figure with two decimals; whole ones stay short.
func number(r *big.Rat) string {
	if r.IsInt() {
		return r.RatString()
	}
	if s := r.FloatString(2); s != "-0.00" {
		return s
	}
	return "0.00"
}

func float(r *big.Rat) float64 {
	f, _ := r.Float64()
	return f
}
