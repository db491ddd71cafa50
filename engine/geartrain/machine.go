package geartrain

import (
	"fmt"
	"math/big"
	"slices"
	"strings"
	"sync"

	"slipcase/engine"
)

// Bounds of what New takes. Real units stay far below them.
const (
	maxLinks   = 64  // elements and joints together: one bit each in a key
	maxOneWays = 12  // the sets of holding one-way clutches are enumerated
	maxMembers = 256 // bounds the size of one elimination
	maxTeeth   = 1_000_000
)

// Machine is the gear train of one unit, ready for questions. It is safe for
// concurrent use; what it returns is shared and must not be changed.
type Machine struct {
	unit     *engine.Unit
	members  []string // 0 is the case
	index    map[string]int
	in, out  int
	gears    []gear
	links    []link          // elements of the train in order, then joints
	linkOf   map[string]int  // element or joint name -> link
	oneWays  uint64          // links that are one-way clutches
	joints   uint64          // links that are joints
	outside  map[string]bool // converter clutches
	rowKey   []key
	launch   []bool              // rows with the usual converter factor
	demanded map[string]*big.Rat // element -> its largest load over all rows
	moved    map[string][]string // element -> those that one sleeve or valve moves with it

	mu                 sync.RWMutex
	outcomes           map[key]*outcome
	states             map[key]*State
	shifts, downshifts func() []Shift
}

// gear is one gearset as an equation over its members.
type gear struct {
	name             string
	sun, carr, ring  int
	csun, ccarr, crg int64
}

// link is what joins two members: an element or a joint.
type link struct {
	name  string
	kind  engine.ElementKind // "" for a joint
	a, b  int
	wraps int
}

// key is a set of active constraints: links that join rigidly, and one-way
// clutches that work forward or the wrong way round.
type key struct{ rigid, forward, backward uint64 }

// Problems is every fault that New found in a unit, in the unit's order.
type Problems []engine.Diagnostic

// Error lists the problems, one a line.
func (p Problems) Error() string {
	lines := make([]string, len(p))
	for i, d := range p {
		lines[i] = d.Error()
	}
	return strings.Join(lines, "\n")
}

// New checks the unit's train, elements, joints and rows and makes its
// Machine. The error is a Problems.
func New(u *engine.Unit) (*Machine, error) {
	if u == nil {
		return nil, Problems{{Severity: engine.Error, Summary: "no unit", Detail: "load a unit first"}}
	}
	m := &Machine{
		unit:     u,
		members:  []string{engine.CaseMember},
		index:    map[string]int{engine.CaseMember: 0},
		linkOf:   map[string]int{},
		outside:  map[string]bool{},
		outcomes: map[key]*outcome{},
		states:   map[key]*State{},
	}
	m.shifts, m.downshifts = sync.OnceValue(m.findShifts), sync.OnceValue(m.findDownshifts)
	b := &builder{m: m, u: u, taken: map[string]string{}}
	b.train()
	b.elements()
	b.together()
	b.jointed()
	b.ends()
	b.rows()
	if len(b.problems) > 0 {
		return nil, b.problems
	}
	m.findLaunch()
	m.loads()
	return m, nil
}

// builder collects problems while a Machine is made.
type builder struct {
	m        *Machine
	u        *engine.Unit
	taken    map[string]string // name -> what bears it
	problems Problems
}

func (b *builder) fail(at engine.Range, summary, detail string, args ...any) {
	b.problems = append(b.problems, engine.Diagnostic{
		Severity: engine.Error, Summary: summary, Detail: fmt.Sprintf(detail, args...), Subject: at,
	})
}

// take notes a name and reports whether it is free.
func (b *builder) take(name, what string, at engine.Range) bool {
	if name == "" {
		b.fail(at, what+" without a name", "give it a name")
		return false
	}
	if old, ok := b.taken[name]; ok {
		b.fail(at, fmt.Sprintf("%s %q is not the only one of that name", what, name), "a %s has it already; gearsets, elements and joints share one name space", old)
		return false
	}
	b.taken[name] = what
	return true
}

func (b *builder) member(name string) int {
	m := b.m
	if i, ok := m.index[name]; ok {
		return i
	}
	i := len(m.members)
	m.members = append(m.members, name)
	m.index[name] = i
	return i
}

func (b *builder) train() {
	t := b.u.Train
	if len(t.Gearsets) == 0 {
		b.fail(t.At, "train without a gearset", "list the gearsets of unit %q", b.u.ID)
	}
	for _, g := range t.Gearsets {
		what := fmt.Sprintf("gearset %q", g.Name)
		ok := b.take(g.Name, "gearset", g.At)
		if g.Kind != engine.Single && g.Kind != engine.Double {
			b.fail(g.At, fmt.Sprintf("%s is of kind %q", what, g.Kind), "single-pinion gearsets are %q, double-pinion ones %q", engine.Single, engine.Double)
			ok = false
		}
		if g.Sun == "" || g.Carrier == "" || g.Ring == "" {
			b.fail(g.At, what+" lacks a member", "name its sun, carrier and ring")
			ok = false
		} else if g.Sun == g.Carrier || g.Carrier == g.Ring || g.Ring == g.Sun {
			b.fail(g.At, what+" names one member twice", "sun, carrier and ring are three members; join two with a joint if they never part")
			ok = false
		}
		// With the carrier in the case the two are gears on parallel shafts, and
		// either may have more teeth.
		pair := g.Carrier == engine.CaseMember && g.RingTeeth > 0 && g.SunTeeth <= maxTeeth
		if g.SunTeeth < 1 || !pair && g.RingTeeth <= g.SunTeeth || g.RingTeeth > maxTeeth {
			b.fail(g.At, fmt.Sprintf("%s has teeth [%d, %d]", what, g.SunTeeth, g.RingTeeth), "give teeth of sun and ring; the ring has more, at most %d", maxTeeth)
			ok = false
		}
		if !ok {
			continue
		}
		s, r := g.SunTeeth, g.RingTeeth
		if g.Kind == engine.Double {
			r = -r
		}
		b.m.gears = append(b.m.gears, gear{
			name: g.Name, sun: b.member(g.Sun), carr: b.member(g.Carrier), ring: b.member(g.Ring),
			csun: s, ccarr: -(s + r), crg: r,
		})
	}
}

func (b *builder) link(name string, kind engine.ElementKind, a, bb string, wraps int, at engine.Range) {
	what := fmt.Sprintf("joint %q", name)
	if kind != "" {
		what = fmt.Sprintf("%s %q", strings.ReplaceAll(string(kind), "_", "-"), name)
	}
	if a == "" || bb == "" {
		b.fail(at, what+" lacks a member", "name the members that it acts on")
		return
	}
	if a == bb {
		b.fail(at, fmt.Sprintf("%s joins %q to itself", what, a), "name two members")
		return
	}
	i := len(b.m.links)
	if i == maxLinks {
		b.fail(at, "too many elements and joints", "at most %d together", maxLinks)
	}
	if i >= maxLinks {
		return
	}
	b.m.links = append(b.m.links, link{name: name, kind: kind, a: b.member(a), b: b.member(bb), wraps: wraps})
	b.m.linkOf[name] = i
	switch kind {
	case engine.OneWay:
		b.m.oneWays |= 1 << i
	case "":
		b.m.joints |= 1 << i
	}
}

func (b *builder) elements() {
	oneWays := 0
	for _, e := range b.u.Elements {
		if !b.take(e.Name, "element", e.At) {
			continue
		}
		far := e.B
		switch e.Kind {
		case engine.ConverterClutch:
			b.m.outside[e.Name] = true
			continue
		case engine.Brake, engine.Band:
			if far == "" {
				far = engine.CaseMember
			}
		case engine.OneWay:
			if oneWays++; oneWays == maxOneWays+1 {
				b.fail(e.At, "too many one-way clutches", "at most %d", maxOneWays)
			}
		case engine.Clutch:
		default:
			b.fail(e.At, fmt.Sprintf("element %q is of kind %q", e.Name, e.Kind), "kinds are clutch, brake, band, one_way and converter_clutch")
			continue
		}
		b.link(e.Name, e.Kind, e.A, far, e.Wraps, e.At)
	}
}

// together notes which elements one sleeve or valve moves. It says so of each
// whether or not the others say so too.
func (b *builder) together() {
	m := b.m
	m.moved = map[string][]string{}
	for _, e := range b.u.Elements {
		for _, o := range e.MovedWith {
			l, ok := m.linkOf[o]
			if !ok || o == e.Name || m.oneWays>>l&1 == 1 {
				b.fail(e.At, fmt.Sprintf("%q is moved with %q", e.Name, o), "name another clutch, brake or band of the unit")
				continue
			}
			for _, pair := range [][2]string{{e.Name, o}, {o, e.Name}} {
				if !slices.Contains(m.moved[pair[0]], pair[1]) {
					m.moved[pair[0]] = append(m.moved[pair[0]], pair[1])
				}
			}
		}
	}
}

func (b *builder) jointed() {
	for _, j := range b.u.Joints {
		if b.take(j.Name, "joint", j.At) {
			b.link(j.Name, "", j.A, j.B, 0, j.At)
		}
	}
	if n := len(b.m.members); n > maxMembers {
		b.fail(b.u.Train.At, "too many members", "%d; at most %d", n, maxMembers)
	}
}

// ends finds input and output among the members that the train knows by now.
func (b *builder) ends() {
	t := b.u.Train
	find := func(what, name string) int {
		switch i, ok := b.m.index[name]; {
		case name == "":
			b.fail(t.At, "train without "+what, "name the member that is the %s", what)
		case !ok:
			b.fail(t.At, fmt.Sprintf("unknown member %q as %s", name, what), "no gearset, element or joint names it; members are %s", strings.Join(b.m.members[1:], ", "))
		case i == 0:
			b.fail(t.At, "the case as "+what, "name a member that turns")
		default:
			return i
		}
		return 0
	}
	b.m.in, b.m.out = find("input", t.Input), find("output", t.Output)
	if b.m.in != 0 && b.m.in == b.m.out {
		b.fail(t.At, fmt.Sprintf("%q is both input and output", t.Input), "name two members")
	}
}

func (b *builder) rows() {
	if len(b.u.Rows) == 0 {
		b.fail(b.u.At, fmt.Sprintf("unit %q has no rows", b.u.ID), "write its apply chart")
	}
	seen := map[string]bool{}
	for _, r := range b.u.Rows {
		if seen[r.Name()] {
			b.fail(r.At, fmt.Sprintf("two rows %s", r.Name()), "a range has each gear once")
		}
		seen[r.Name()] = true
		for _, n := range r.Apply {
			l, ok := b.m.linkOf[n]
			switch {
			case b.m.outside[n]:
			case !ok || b.m.links[l].kind == "":
				b.fail(r.At, fmt.Sprintf("row %s applies %q, which is not an element", r.Name(), n), "elements are %s", strings.Join(b.names(), ", "))
			case b.m.links[l].kind == engine.OneWay:
				b.fail(r.At, fmt.Sprintf("row %s applies the one-way clutch %q", r.Name(), n), "one-way clutches work by themselves; list it under holding")
			}
		}
		for _, n := range r.Apply {
			for _, o := range b.m.moved[n] {
				if n < o && slices.Contains(r.Apply, o) {
					b.fail(r.At, fmt.Sprintf("row %s applies %q and %q", r.Name(), n, o), "one sleeve or valve moves them (moved_with): one comes on as the other lets go")
				}
			}
		}
		for _, n := range r.Holding {
			if l, ok := b.m.linkOf[n]; !ok || b.m.links[l].kind != engine.OneWay {
				b.fail(r.At, fmt.Sprintf("row %s holds %q, which is not a one-way clutch", r.Name(), n), "list one-way clutches only")
			}
		}
		for _, f := range []struct {
			what string
			n    engine.Number
		}{{"converter", r.ConverterFactor}, {"pressure", r.PressureFactor}} {
			if _, ok := factor(f.n); !ok {
				b.fail(r.At, fmt.Sprintf("row %s has the %s factor %q", r.Name(), f.what, f.n.Text), "give a number above 0")
			}
		}
		b.m.rowKey = append(b.m.rowKey, b.m.applied(r.Apply))
	}
}

// names lists the elements, for messages.
func (b *builder) names() []string {
	var out []string
	for _, e := range b.u.Elements {
		out = append(out, e.Name)
	}
	return out
}

// applied is the key of a healthy train with these elements applied. Names
// that are not elements of the train are left out.
func (m *Machine) applied(names []string) key {
	k := key{rigid: m.joints, forward: m.oneWays}
	for _, n := range names {
		if l, ok := m.linkOf[n]; ok && (m.oneWays|m.joints)>>l&1 == 0 {
			k.rigid |= 1 << l
		}
	}
	return k
}

// Members lists the members in the order in which the unit names them, the
// case first.
func (m *Machine) Members() []string { return slices.Clone(m.members) }

// Rows is the number of rows of the apply chart.
func (m *Machine) Rows() int { return len(m.rowKey) }

// Row is what the healthy train does in row i.
func (m *Machine) Row(i int) *State { return m.state(m.rowKey[i]) }

// RowName is the written form of row i, "D/2".
func (m *Machine) RowName(i int) string { return m.unit.Rows[i].Name() }

// RowIndex is the number of the row of that name, or -1.
func (m *Machine) RowIndex(name string) int {
	return slices.IndexFunc(m.unit.Rows, func(r engine.Row) bool { return r.Name() == name })
}

// Gear is the healthy ratio of a gear: that of the first row with this label
// that drives, or nil.
func (m *Machine) Gear(label string) *big.Rat {
	for i, r := range m.unit.Rows {
		if r.Gear == label {
			if o := m.outcome(m.rowKey[i]); o.class == Drives {
				return o.ratio()
			}
		}
	}
	return nil
}

// Strays lists the elements and joints that act on a member which nothing else
// of the train names: they do nothing, and the member may be misspelt.
func (m *Machine) Strays() []string {
	uses := make([]int, len(m.members))
	uses[0], uses[m.in], uses[m.out] = 2, 2, 2
	for _, g := range m.gears {
		for _, i := range []int{g.sun, g.carr, g.ring} {
			uses[i]++
		}
	}
	for _, l := range m.links {
		uses[l.a]++
		uses[l.b]++
	}
	var out []string
	for _, l := range m.links {
		if uses[l.a] < 2 || uses[l.b] < 2 {
			out = append(out, l.name)
		}
	}
	return out
}
