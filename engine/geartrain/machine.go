package geartrain

import (
	"math/big"
	"slices"
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

	mu                                sync.RWMutex
	outcomes                          map[key]*outcome
	states                            map[key]*State
	shifts, downshifts, skips, levers func() []Shift
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
// clutches that work forward or the wrong way around.
type key struct{ rigid, forward, backward uint64 }

// New checks the unit's train, elements, joints and rows and makes its
// Machine. The error is a Problems.
func New(u *engine.Unit) (*Machine, error) {
	if u == nil {
		return nil, Problems{{Kind: NoUnit}}
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
	m.skips, m.levers = sync.OnceValue(m.findSkips), sync.OnceValue(m.findLevers)
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

func (b *builder) fail(p Problem) { b.problems = append(b.problems, p) }

// take notes a name and reports whether it is free.
func (b *builder) take(name, what string, at engine.Range) bool {
	if name == "" {
		b.fail(Problem{Kind: NoName, At: at, What: what})
		return false
	}
	if old, ok := b.taken[name]; ok {
		b.fail(Problem{Kind: NameTaken, At: at, What: what, Name: name, Other: old})
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
		b.fail(Problem{Kind: NoGearset, At: t.At, Name: b.u.ID})
	}
	for _, g := range t.Gearsets {
		ok := b.take(g.Name, "gearset", g.At)
		if g.Kind != engine.Single && g.Kind != engine.Double {
			b.fail(Problem{Kind: GearsetKind, At: g.At, Name: g.Name, Other: string(g.Kind)})
			ok = false
		}
		if g.Sun == "" || g.Carrier == "" || g.Ring == "" {
			b.fail(Problem{Kind: LacksMember, At: g.At, What: "gearset", Name: g.Name})
			ok = false
		} else if g.Sun == g.Carrier || g.Carrier == g.Ring || g.Ring == g.Sun {
			b.fail(Problem{Kind: MemberTwice, At: g.At, Name: g.Name})
			ok = false
		}
		// With the carrier in the case the two are gears on parallel shafts, and
		// either may have more teeth.
		pair := g.Carrier == engine.CaseMember && g.RingTeeth > 0 && g.SunTeeth <= maxTeeth
		if g.SunTeeth < 1 || !pair && g.RingTeeth <= g.SunTeeth || g.RingTeeth > maxTeeth {
			b.fail(Problem{Kind: BadTeeth, At: g.At, Name: g.Name, Sun: g.SunTeeth, Ring: g.RingTeeth, Most: maxTeeth})
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
	what := "joint"
	if kind != "" {
		what = string(kind)
	}
	if a == "" || bb == "" {
		b.fail(Problem{Kind: LacksMember, At: at, What: what, Name: name})
		return
	}
	if a == bb {
		b.fail(Problem{Kind: ToItself, At: at, What: what, Name: name, Other: a})
		return
	}
	i := len(b.m.links)
	if i == maxLinks {
		b.fail(Problem{Kind: ManyLinks, At: at, Most: maxLinks})
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
				b.fail(Problem{Kind: ManyOneWays, At: e.At, Most: maxOneWays})
			}
		case engine.Clutch:
		default:
			b.fail(Problem{Kind: KindOfElement, At: e.At, Name: e.Name, Other: string(e.Kind)})
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
				b.fail(Problem{Kind: MovedWith, At: e.At, Name: e.Name, Other: o})
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
		b.fail(Problem{Kind: ManyMembers, At: b.u.Train.At, Number: n, Most: maxMembers})
	}
}

// ends finds input and output among the members that the train knows by now.
func (b *builder) ends() {
	t := b.u.Train
	find := func(what, name string) int {
		switch i, ok := b.m.index[name]; {
		case name == "":
			b.fail(Problem{Kind: NoEnd, At: t.At, What: what})
		case !ok:
			b.fail(Problem{Kind: UnknownEnd, At: t.At, What: what, Name: name, Names: slices.Clone(b.m.members[1:])})
		case i == 0:
			b.fail(Problem{Kind: CaseAsEnd, At: t.At, What: what})
		default:
			return i
		}
		return 0
	}
	b.m.in, b.m.out = find("input", t.Input), find("output", t.Output)
	if b.m.in != 0 && b.m.in == b.m.out {
		b.fail(Problem{Kind: OneEnd, At: t.At, Name: t.Input})
	}
}

func (b *builder) rows() {
	if len(b.u.Rows) == 0 {
		b.fail(Problem{Kind: NoRows, At: b.u.At, Name: b.u.ID})
	}
	seen := map[string]bool{}
	for _, r := range b.u.Rows {
		if seen[r.Name()] {
			b.fail(Problem{Kind: RowTwice, At: r.At, Name: r.Name()})
		}
		seen[r.Name()] = true
		for _, n := range r.Apply {
			l, ok := b.m.linkOf[n]
			switch {
			case b.m.outside[n]:
			case !ok || b.m.links[l].kind == "":
				b.fail(Problem{Kind: NotElement, At: r.At, Name: r.Name(), Other: n, Names: b.names()})
			case b.m.links[l].kind == engine.OneWay:
				b.fail(Problem{Kind: AppliesOneWay, At: r.At, Name: r.Name(), Other: n})
			}
		}
		for _, n := range r.Apply {
			for _, o := range b.m.moved[n] {
				if n < o && slices.Contains(r.Apply, o) {
					b.fail(Problem{Kind: AppliesBoth, At: r.At, Name: r.Name(), Names: []string{n, o}})
				}
			}
		}
		for _, n := range r.Holding {
			if l, ok := b.m.linkOf[n]; !ok || b.m.links[l].kind != engine.OneWay {
				b.fail(Problem{Kind: NotOneWay, At: r.At, Name: r.Name(), Other: n})
			}
		}
		for _, f := range []struct {
			what string
			n    engine.Number
		}{{"converter", r.ConverterFactor}, {"pressure", r.PressureFactor}} {
			if _, ok := factor(f.n); !ok {
				b.fail(Problem{Kind: BadFactor, At: r.At, What: f.what, Name: r.Name(), Other: f.n.Text})
			}
		}
		b.m.rowKey = append(b.m.rowKey, b.m.applied(r.Apply))
	}
}

// names lists the elements.
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
// of the train names: they do nothing, and the member may be misspelled.
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
