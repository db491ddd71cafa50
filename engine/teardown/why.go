package teardown

import (
	"slices"
	"sort"

	"slipcase/engine"
	"slipcase/engine/diagnose"
	"slipcase/engine/model"
	"slipcase/engine/tie"
)

// Why is the plan's second half, once a culprit is confirmed: why it failed,
// what else shares its oil or its debris, and what a second fault would be.
type Why struct {
	Confirmed []Confirmed
	Causes    []OpenCause // most probable first
	Look      []Related   // parts that share its oil circuit, or that its failure reaches
	Second    []Second    // what else may be there, most probable first
}

// Confirmed is a component found failed.
type Confirmed struct {
	Component *engine.Component
	Mode      *engine.Mode
	Causes    []string // titles of what was settled as its cause; none while it is open
	// Lead says that something else can be behind it and is not ruled out, so
	// that it must be settled why it failed.
	Lead bool
}

// Open tells whether it is not settled why it failed.
func (c Confirmed) Open() bool { return c.Lead && len(c.Causes) == 0 }

// OpenCause is a root cause, or a fault of another part, that may be behind
// what was found.
type OpenCause struct {
	Name      string
	Title     string
	P, Prior  float64 // given the reports, and before any
	SettledBy []*engine.Check
	Advice    string
	Step      *engine.Step // where a faulty part comes into view; nil for a root cause
}

// Relation says why a part is to be looked at as well.
type Relation string

// The relations to what was found failed.
const (
	SharesOil Relation = "shares_oil" // or an element
	Debris    Relation = "debris"     // what was shed ends up there, as Sign
	CausedBy  Relation = "caused_by"  // the failure can cause Mode there
)

// Related is a part to look at as well.
type Related struct {
	Component *engine.Component
	Relation  Relation
	From      *engine.Component // what was found failed
	Sign      *model.Node       // Debris: the finding that its mode consists of; nil where its kind collects it
	Clean     string            // Debris: how it is made clean, as its kind says; "" where that is not said
	Mode      *engine.Mode      // CausedBy
	P         float64           // P(it is a culprit as well | reports)
	Step      *engine.Step      // where it comes into view; nil when nowhere
	Done      bool              // that step is done: look at it now
}

// Second is a fault that may be there beside what was found.
type Second struct {
	View
	Step *engine.Step // where it comes into view; nil when nowhere
	Done bool
}

const (
	mostCauses = 12
	mostSecond = 3
	// leastSecond is the probability from which on a second fault is named.
	leastSecond = 0.005
)

// after is nil while nothing is confirmed failed.
func after(m *model.Model, c *engine.CaseFile, k *culprits) (*Why, error) {
	w := &Why{Confirmed: Found(m, c)}
	if len(w.Confirmed) == 0 {
		return nil, nil
	}
	weight, err := k.weights()
	if err != nil {
		return nil, err
	}
	w.Causes = OpenCauses(m, c, k.r, w.Confirmed)
	w.Causes = w.Causes[:min(len(w.Causes), mostCauses)]
	w.related(m, c, weight)
	w.second(m, c, k, weight)
	return w, nil
}

// Found lists what a case has confirmed as failed, each with what was settled
// as its cause: the one named with it, a root cause settled as present or named
// with another part, or a fault found on another part, that leads to it.
func Found(m *model.Model, c *engine.CaseFile) []Confirmed {
	here := map[int]bool{} // nodes known to be there
	known := settledNames(c)
	settle := func(name string) (int, bool) {
		node, ok := m.Lookup(name)
		if ok {
			here[node] = true
		}
		return node, ok
	}
	for _, s := range c.Settled {
		// A circumstance raises what follows from it; it is not why a part failed,
		// unless the builder names it so with the part.
		if n, ok := m.Lookup(s.Cause); s.Present && !(ok && m.Nodes[n].Cause != nil && m.Nodes[n].Cause.Context) {
			settle(s.Cause)
		}
	}
	for _, s := range c.Seen {
		if !s.Cleared {
			settle(s.Component + "/" + s.Mode)
			settle(s.Cause)
		}
	}
	var out []Confirmed
	for _, s := range c.Seen {
		if s.Cleared {
			continue
		}
		node, ok := m.Lookup(s.Component + "/" + s.Mode)
		if !ok || m.Nodes[node].Mode == nil {
			continue
		}
		f := Confirmed{Component: m.Nodes[node].Component, Mode: m.Nodes[node].Mode}
		if s.Cause != "" {
			if cause, ok := m.Lookup(s.Cause); ok {
				f.Causes = append(f.Causes, m.Nodes[cause].Title)
			} else {
				f.Causes = append(f.Causes, s.Cause)
			}
		}
		for _, n := range m.Ancestors(node) {
			if m.Nodes[n].Layer == model.StressLayer {
				continue
			}
			f.Lead = f.Lead || here[n] || open(m.Nodes[n], known)
			if here[n] && m.Nodes[n].Name != s.Cause {
				f.Causes = append(f.Causes, m.Nodes[n].Title)
			}
		}
		out = append(out, f)
	}
	return out
}

// Unsettled lists what was found of which it is not settled why it failed: a
// build now may come back for the same reason.
func Unsettled(found []Confirmed) []Confirmed {
	var open []Confirmed
	for _, f := range found {
		if f.Open() {
			open = append(open, f)
		}
	}
	return open
}

// settledNames are the root causes that were settled, present or not, and the
// parts that were looked at.
func settledNames(c *engine.CaseFile) map[string]bool {
	known := map[string]bool{}
	for _, s := range c.Settled {
		known[s.Cause] = true
	}
	for _, s := range c.Seen {
		known[s.Component] = true
		known[s.Cause] = true
	}
	return known
}

// open tells whether a root cause, or a fault of another part, is still to be
// settled.
func open(n model.Node, known map[string]bool) bool {
	return n.Cause != nil && !n.Cause.Context && !known[n.Cause.Name] || n.Mode != nil && !known[n.Component.Name] && !known[n.Name]
}

// OpenCauses lists root causes, and faults of other parts, that lead to what
// was found, through stresses too, and are not settled; the most probable
// first.
func OpenCauses(m *model.Model, c *engine.CaseFile, r *diagnose.Result, found []Confirmed) []OpenCause {
	known := settledNames(c)
	var out []OpenCause
	listed := map[int]bool{}
	for _, f := range found {
		node, _ := m.Lookup(f.Component.Name + "/" + f.Mode.Name)
		for _, a := range m.Ancestors(node) {
			n := m.Nodes[a]
			if listed[a] || !open(n, known) {
				continue
			}
			listed[a] = true
			o := OpenCause{Name: n.Name, Title: n.Title, P: r.Posterior[a], Prior: r.Prior[a]}
			if n.Cause != nil {
				o.Advice, o.SettledBy = n.Cause.Advice, checks(m, c, n.Cause.SettledBy)
			} else {
				o.SettledBy, o.Step = checks(m, c, n.Mode.SettledBy), showing(m.Unit, n.Component.Name)
			}
			out = append(out, o)
		}
	}
	sort.SliceStable(out, func(i, j int) bool {
		if d := tie.Compare(out[i].P, out[j].P); d != 0 {
			return d > 0
		}
		return out[i].Name < out[j].Name
	})
	return out
}

// checks are those of these names that can still be made.
func checks(m *model.Model, c *engine.CaseFile, names []string) []*engine.Check {
	var out []*engine.Check
	for _, name := range names {
		if k := m.Knowledge.Check(name); k != nil && Possible(m, c, k) {
			out = append(out, k)
		}
	}
	return out
}

// Possible tells whether a check can still be made: not once a step has destroyed
// what it looks at, and no drive, gauge or look in the vehicle once the unit is out.
func Possible(m *model.Model, c *engine.CaseFile, k *engine.Check) bool {
	for _, name := range c.Done {
		if slices.Contains(k.Before, name) {
			return false
		}
		s := m.Step(name)
		if s == nil || !s.Pulls && s.Stage != engine.StagePulled && s.Stage != engine.StageTeardown {
			continue
		}
		switch k.Stage {
		case engine.StageRoad, engine.StageGauges, engine.StageInVehicle:
			return false
		}
	}
	return true
}

// related lists parts on the same oil and parts that the failure can spread
// to, likeliest first; those that were looked at are left out.
func (w *Why) related(m *model.Model, c *engine.CaseFile, weight map[string]float64) {
	seen := seenComponents(c)
	related := map[string]Related{}
	relate := func(c *engine.Component, r Related) { // the first relation stays
		if _, ok := related[c.Name]; !ok {
			r.Component = c
			related[c.Name] = r
		}
	}
	for _, f := range w.Confirmed {
		for i := range m.Unit.Components {
			other := &m.Unit.Components[i]
			if m.Share(f.Component, other) {
				relate(other, Related{Relation: SharesOil, From: f.Component})
			}
		}
		node, _ := m.Lookup(f.Component.Name + "/" + f.Mode.Name)
		debris := leaves(m, node)
		for _, s := range Soiled(m, f) {
			relate(s, Related{Relation: Debris, From: f.Component, Clean: m.KindOf(s).Clean})
		}
		for _, i := range m.Modes() {
			n := m.Nodes[i]
			if sign := carries(m, i, debris); sign != nil {
				relate(n.Component, Related{Relation: Debris, From: f.Component, Sign: sign})
			}
			for _, l := range m.Net.Nodes[i].Links {
				if l.Parent == node {
					relate(n.Component, Related{Relation: CausedBy, From: f.Component, Mode: n.Mode})
				}
			}
		}
	}
	for i := range m.Unit.Components {
		part := &m.Unit.Components[i]
		if r, ok := related[part.Name]; ok && !seen[part.Name] {
			r.P, r.Step = weight[part.Name], showing(m.Unit, part.Name)
			r.Done = r.Step != nil && slices.Contains(c.Done, r.Step.Name)
			w.Look = append(w.Look, r)
		}
	}
	sort.SliceStable(w.Look, func(i, j int) bool { return tie.More(w.Look[i].P, w.Look[j].P) })
}

// leaves lists the findings of the pan that a mode can leave there.
func leaves(m *model.Model, mode int) map[int]bool {
	out := map[int]bool{}
	for i, n := range m.Nodes {
		if n.Finding == nil || n.Finding.Stage != engine.StagePan {
			continue
		}
		for _, l := range m.Net.Nodes[i].Links {
			if l.Parent == mode {
				out[i] = true
			}
		}
	}
	return out
}

// Soiled lists the parts that debris of what was found has gone through, by
// what their kinds collect: filter, converter, cooler, valve body.
func Soiled(m *model.Model, f Confirmed) []*engine.Component {
	node, ok := m.Lookup(f.Component.Name + "/" + f.Mode.Name)
	if !ok {
		return nil
	}
	debris := leaves(m, node)
	var out []*engine.Component
	for i := range m.Unit.Components {
		c := &m.Unit.Components[i]
		k := m.KindOf(c)
		if k == nil {
			continue
		}
		for _, name := range k.Collects {
			if n, ok := m.Lookup(name); ok && debris[n] {
				out = append(out, c)
				break
			}
		}
	}
	return out
}

// sure is the strength from which on a finding is what a mode consists of.
const sure = 0.95

// carries tells whether a mode consists of one of the findings, as a filter
// full of lining does.
func carries(m *model.Model, mode int, findings map[int]bool) *model.Node {
	for i := range m.Nodes {
		if !findings[i] {
			continue
		}
		for _, l := range m.Net.Nodes[i].Links {
			if l.Parent == mode && l.Strength >= sure {
				return &m.Nodes[i]
			}
		}
	}
	return nil
}

// second lists what else the reports still point to.
func (w *Why) second(m *model.Model, c *engine.CaseFile, k *culprits, weight map[string]float64) {
	for i := range m.Unit.Components {
		part := &m.Unit.Components[i]
		if p := weight[part.Name]; p >= leastSecond {
			step := showing(m.Unit, part.Name)
			w.Second = append(w.Second, Second{k.view(c, part, p), step, step != nil && slices.Contains(c.Done, step.Name)})
		}
	}
	sort.SliceStable(w.Second, func(i, j int) bool { return tie.More(w.Second[i].P, w.Second[j].P) })
	w.Second = w.Second[:min(len(w.Second), mostSecond)]
}

// showing is the step that brings a component into view, or nil.
func showing(u *engine.Unit, component string) *engine.Step {
	for i := range u.Steps {
		if slices.Contains(u.Steps[i].Exposes, component) {
			return &u.Steps[i]
		}
	}
	return nil
}
