package model

import (
	"context"
	"fmt"
	"reflect"
	"sort"
	"strings"
	"sync"

	"slipcase/engine"
	"slipcase/engine/geartrain"
	"slipcase/engine/network"
)

// Layer is the place of a node in the causal order.
type Layer int

// The layers, from cause to what is observed.
const (
	CauseLayer Layer = iota
	StressLayer
	ModeLayer
	EffectLayer
	PartLayer // the share of a finding that one condition brings out
	FindingLayer
)

// String is the layer's word.
func (l Layer) String() string {
	return [...]string{"cause", "stress", "mode", "effect", "part of a finding", "finding"}[l]
}

// Node says what one node of the network stands for. Which pointers are set
// follows from the Layer.
type Node struct {
	Layer     Layer
	Name      string // "forward_frictions/burnt_friction", "direct.slips:hot", "slips@D/3"
	Title     string // as unit and rules have it, without Like, Condition and effect
	Component *engine.Component
	Mode      *engine.Mode
	Cause     *engine.Cause
	Stress    *engine.Stress
	Finding   *engine.Finding // template; nil for trouble codes
	Code      *engine.Code
	Place     string
	Like      string // the gear that a row of a "wrong gear" drives as
	Condition engine.Condition
	Effect    Effect
}

// Effect is a target with an effect word, in one condition.
type Effect struct {
	Target engine.Target
	Word   string
	When   engine.Condition
}

// String is "direct.slips" or "direct.slips:hot".
func (e Effect) String() string {
	s := e.Target.String() + "." + e.Word
	if e.When != "" {
		s += ":" + string(e.When)
	}
	return s
}

// LinkSource says where a link of the network comes from: the number of the
// rule behind it, the outcome of physics it passes through, and the factor
// (an element's demand, for partial slips) that scales the rule's strength.
type LinkSource struct {
	Number  engine.Number
	Outcome string
	Factor  float64 // scales the strength, 0 to 1
	Block   string  // "mode burnt_friction", "finding slips"
}

// Model is the probability model of one unit. It is read-only after Build and
// safe for concurrent use.
type Model struct {
	Knowledge *engine.Knowledge
	Unit      *engine.Unit
	Machine   *geartrain.Machine
	Net       *network.Net
	Nodes     []Node
	// Sources runs along Net: Sources[i][j] belongs to Net.Nodes[i].Links[j].
	Sources [][]LinkSource
	// Leaks holds the number behind each node's leak (zero Number when the
	// leak is zero by construction).
	Leaks []engine.Number
	// Duties scales the rate of each node of the mode layer: by what is asked of its
	// element the part fails so more or less often than others of its kind, 1 in their
	// mean (geartrain.DutyFactors). 1 for every other node, for ways to fail
	// that do not go by duty, and for a part that has a rate of its own.
	Duties []float64

	byName    map[string]int
	renamed   map[string]string // former name of a finding -> its name now
	solver    *network.Solver
	modes     []int            // nodes of the mode layer, in order
	modesOf   map[string][]int // component name -> its mode nodes
	kinds     map[string]*engine.Kind
	reporters map[string]*engine.Reporter
	sights    map[string][]Sighting // effect without its condition -> what physics says of it
	gears     map[string]int        // shift -> by how many gears it goes up, below 0 down

	priors  *priors
	held    *holdings
	kept    *sync.Map // see Kept
	asAsked bool      // no report is the complaint, see complaint.go
}

// shown is the error that an answer grants in every probability: a thousandth of
// the last digit that any face shows. What the strain of the tables makes possible is
// held against it, an estimate; what they really lose is less by orders of magnitude. A case in
// ten would else be run again in higher precision, twenty times slower.
const shown = 1e-6

// Build makes the model of a unit from the rules. An error means that the
// unit's train cannot be computed or that causes form a cycle; unknown names
// are the loader's business and are left out here.
func Build(k *engine.Knowledge, u *engine.Unit) (*Model, error) {
	machine, err := geartrain.New(u)
	if err != nil {
		return nil, fmt.Errorf("unit %s: %w", u.ID, err)
	}
	b := newBuilder(k, u, machine)
	if err := b.build(); err != nil {
		return nil, fmt.Errorf("unit %s: %w", u.ID, err)
	}
	m := b.m
	m.renamed = renamed(k)
	if err := m.Net.Validate(); err != nil {
		return nil, fmt.Errorf("unit %s: the network of the rules: %w", u.ID, err)
	}
	m.solver, err = network.NewSolver(m.Net)
	if err != nil {
		return nil, fmt.Errorf("unit %s: %w", u.ID, err)
	}
	m.solver = m.solver.Rough(shown)
	m.priors, m.held, m.kept = &priors{}, &holdings{}, &sync.Map{}
	// What every answer needs; effects and findings are asked for by name.
	for i, n := range m.Nodes {
		if n.Layer <= ModeLayer {
			m.solver.Always = append(m.solver.Always, i)
		}
	}
	return m, nil
}

// Solver is the exact inference engine over the model's network.
func (m *Model) Solver() *network.Solver { return m.solver }

// SolverOf is the solver for some evidence: where reports of it are shared out
// (see Within), digits beyond the error of that are not asked for.
func (m *Model) SolverOf(pieces []Piece) *network.Solver {
	for _, p := range pieces {
		if p.Shares != nil {
			return m.solver.Rough(sharedShown)
		}
	}
	return m.solver
}

// sharedShown is the error granted to an answer with reports shared out, whose own
// error is some hundred times that.
const sharedShown = 1e-4

// WithContext is the same model, whose answers fail with the context's error
// soon after it ends.
func (m *Model) WithContext(ctx context.Context) *Model {
	out := *m
	out.solver = m.solver.WithContext(ctx)
	return &out
}

// Shallow is the same model, whose answers fail with network.ErrDeep where they
// would need higher precision on a tree too large for it.
func (m *Model) Shallow(entries float64) *Model {
	out := *m
	out.solver = m.solver.Shallow(entries)
	return &out
}

// Kept is what another package works out of a model's rules and unit, not of its
// numbers: made once for the model and all that are copied from it. make gets the
// model without a context, since what it gives may outlive whoever asked first.
func Kept[T any](m *Model, make func(*Model) T) T {
	f, _ := m.kept.LoadOrStore(reflect.TypeFor[T](), sync.OnceValue(func() T { return make(m.WithContext(context.Background())) }))
	return f.(func() T)()
}

// Ended is the error of the context that the model was given, nil while it holds.
func (m *Model) Ended() error { return m.solver.Context().Err() }

// Lookup gives the node of a name: a finding with or without condition, an
// effect, a suspect "component/mode", a cause or a stress.
func (m *Model) Lookup(name string) (int, bool) {
	i, ok := m.byName[name]
	if ok {
		return i, true
	}
	// A condition that no rule tells apart is the plain finding.
	if f := engine.ParseFindingName(name); f.Condition != "" && knownCondition(f.Condition) {
		i, ok = m.byName[f.Base()]
	}
	return i, ok
}

func knownCondition(c engine.Condition) bool {
	for _, k := range engine.Conditions {
		if k == c {
			return true
		}
	}
	return false
}

// Complaints are the nodes of the plain findings that bring a vehicle in: what
// a driver notices on the road and has words for.
func (m *Model) Complaints() []int {
	var out []int
	for _, name := range m.FindingNames() {
		i, ok := m.Lookup(name)
		if !ok {
			continue
		}
		if f := m.Nodes[i].Finding; f != nil && f.Stage == engine.StageRoad && f.Reporter == engine.Driver && len(f.Phrases) > 0 {
			out = append(out, i)
		}
	}
	return out
}

// FindingNames lists every plain finding of the unit (no condition), sorted.
func (m *Model) FindingNames() []string {
	var out []string
	for _, n := range m.Nodes {
		if n.Layer == FindingLayer && n.Condition == "" {
			out = append(out, n.Name)
		}
	}
	sort.Strings(out)
	return out
}

// Modes lists the nodes of all suspects (component/mode), in unit order.
func (m *Model) Modes() []int { return m.modes }

// ModesOf lists the nodes of one component's modes.
func (m *Model) ModesOf(component string) []int { return m.modesOf[component] }

// KindOf is the kind of a component, or nil.
func (m *Model) KindOf(c *engine.Component) *engine.Kind { return m.kinds[c.Kind] }

// Outside tells whether a component is not part of the transmission.
func (m *Model) Outside(c *engine.Component) bool {
	k := m.kinds[c.Kind]
	return k != nil && k.Outside
}

// Match lists the plain findings that a pattern names: a whole name, or
// "name@*" for every place. A condition in the pattern is carried over.
func (m *Model) Match(pattern string) []string {
	f := engine.ParseFindingName(pattern)
	suffix := ""
	if f.Condition != "" {
		suffix = ":" + string(f.Condition)
	}
	some := f.Place != "*" && engine.IsPlaceSet(engine.PerShift, f.Place) // @up, @down and the like
	if f.Place != "*" && !some {
		if _, ok := m.byName[f.Base()]; ok {
			return []string{f.Base() + suffix}
		}
		// A row-gear template is named without its gear: acts_as@D/3 stands
		// for acts_as_1@D/3, acts_as_2@D/3 and so on.
		var out []string
		for _, n := range m.Nodes {
			if n.Layer == FindingLayer && n.Condition == "" && n.Finding != nil && n.Finding.Name == f.Name && n.Place == f.Place {
				out = append(out, n.Name+suffix)
			}
		}
		return out
	}
	var out []string
	for _, n := range m.Nodes {
		if n.Layer != FindingLayer || n.Condition != "" {
			continue
		}
		base := engine.ParseFindingName(n.Name)
		if some && (n.Finding == nil || !m.inSet(n.Finding.Per, f.Place, n.Place)) {
			continue
		}
		if base.Name == f.Name || n.Finding != nil && n.Finding.Name == f.Name {
			out = append(out, n.Name+suffix)
		}
	}
	return out
}

// inSet tells whether a place is one of a set of places: "*" is every one, the
// others are engine.ShiftSets.
func (m *Model) inSet(per engine.Per, set, place string) bool {
	if set == "*" || set == "" {
		return true
	}
	return per == engine.PerShift && m.steps(place) == map[string]int{"up": 1, "down": -1, "skip": -2, "skip_up": 2, "lever": byLever}[set]
}

// byLever stands for the gears of a downshift that the lever makes.
const byLever = -100

// Upshift tells whether a place of shift findings is an upshift by one gear.
func (m *Model) Upshift(place string) bool { return m.steps(place) == 1 }

// steps is by how many gears a shift goes up, below 0 down; 0 for none of the
// unit's.
func (m *Model) steps(place string) int { return m.gears[place] }

func stepsOf(machine *geartrain.Machine) map[string]int {
	out := map[string]int{}
	back := map[[2]int]bool{}
	for _, s := range machine.Shifts() {
		out[s.Place()] = 1
		back[[2]int{s.ToRow, s.FromRow}] = true
	}
	for _, s := range machine.Downshifts() {
		out[s.Place()] = -2
		if back[[2]int{s.FromRow, s.ToRow}] {
			out[s.Place()] = -1
		}
	}
	for _, s := range machine.SkipUps() {
		out[s.Place()] = 2
	}
	for _, s := range machine.LeverShifts() {
		out[s.Place()] = byLever
	}
	return out
}

// title fills {place} in a finding's title.
func title(f *engine.Finding, place string) string {
	t := f.Title
	if t == "" {
		t = engine.Spaced(f.Name)
		if f.Per != engine.PerUnit {
			t += " {place}"
		}
	}
	return strings.ReplaceAll(t, "{place}", place)
}
