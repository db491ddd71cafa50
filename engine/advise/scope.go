package advise

import (
	"strings"

	"slipcase/engine"
	"slipcase/engine/model"
	"slipcase/engine/network"
)

// scope is what a case is about: the components whose modes can be behind what
// is reported (the culprits of package teardown), with a solver that has one
// node for "one of the culprit modes of this component".
type scope struct {
	a      *Adviser
	solver *network.Solver
	parts  []part
	want   []int // nodes asked of every posterior: parts, then causes
}

// part is a component with the node "one of its culprit modes is there".
type part struct {
	component *engine.Component
	node      int
	modes     []int // nodes of the culprit modes
	step      int   // index of the step that exposes it, -1 for none
}

// maxWork bounds the table entries that one posterior may touch, some tenths of
// a second. priceWork bounds the case by itself when checks are priced: hundreds
// of posteriors make one advice, so that reports beyond it count approximately, and are
// named. standWork does so for one posterior.
const (
	maxWork   = 1 << 24
	standWork = 1 << 20
	priceWork = 1 << 17
)

// PriceError is the error of a probability that a price grants: against the
// hours of a job a tenth of a second. It is asked of an estimate that is mostly far
// too large; what it saves is a second run in higher precision, fifty times slower.
const PriceError = 1e-7

// tries are the budgets of a case, in turn, until a price is one pass in float64: the
// error of a probability that is granted, of which the estimate is poor for hundreds
// of reports (against the hours of a job 1e-4 is some hundredths of a
// minute), then the entries of the tree, beyond which reports count approximately.
var tries = []struct{ err, entries float64 }{
	{PriceError, priceWork}, {1e-4, priceWork}, {1e-4, 1 << 13}, {1e-3, 1 << 12},
}

// smallTree bounds the tree on which prices may be worked out in higher precision.
const smallTree = 1 << 12

// quick tells whether a tree gives hundreds of answers soon.
func quick(g *network.Incremental) bool { return g.Quick() || g.Entries() <= smallTree }

// granting is the same scope with another error granted.
func (s *scope) granting(most float64) *scope {
	out := *s
	out.solver = s.solver.Rough(most)
	return &out
}

// within holds the case, with the nodes wanted, below so many table entries; it
// names the reports that count approximately for that.
func (s *scope) within(pieces []model.Piece, want []int, entries float64) ([]model.Piece, []Near, error) {
	all, some, err := s.a.Model.Within(s.solver, pieces, want, entries, min(entries, priceWork))
	return all, named(some), err
}

func named(pieces []model.Piece) (out []Near) {
	for _, p := range pieces {
		out = append(out, Near{p.Label, p.By, p.Value, p.About})
	}
	return out
}

// keptScopes bounds the scopes kept for later cases of the same unit.
const keptScopes = 16

// scope finds the culprit modes of a case: those that lead to something
// reported present by their effects or directly; once a part was found failed,
// also those behind it and those it may have spread to. Parts that were looked
// at are done with. While nothing is reported present every mode counts.
func (a *Adviser) scope(c *engine.CaseFile, pieces []model.Piece) (*scope, error) {
	m := a.Model
	about, any := m.Culprits(pieces)
	for _, s := range c.Seen {
		for _, n := range m.ModesOf(s.Component) {
			about[n] = false
		}
	}
	var key strings.Builder
	in := func(n int) bool {
		yes, said := about[n]
		return yes || !any && !said
	}
	for _, n := range m.Modes() {
		if in(n) {
			key.WriteByte('1')
		} else {
			key.WriteByte('0')
		}
	}
	a.mu.Lock()
	defer a.mu.Unlock()
	if s := a.scopes[key.String()]; s != nil {
		return s, nil
	}
	s, err := a.newScope(in)
	if err != nil {
		return nil, err
	}
	if len(a.recent) >= keptScopes {
		delete(a.scopes, a.recent[0])
		a.recent = a.recent[1:]
	}
	a.scopes[key.String()] = s
	a.recent = append(a.recent, key.String())
	return s, nil
}

func (a *Adviser) newScope(in func(int) bool) (*scope, error) {
	m := a.Model
	s := &scope{a: a}
	net := &network.Net{Nodes: append([]network.Node(nil), m.Net.Nodes...)}
	for i := range m.Unit.Components {
		c := &m.Unit.Components[i]
		var modes []int
		for _, n := range m.ModesOf(c.Name) {
			if in(n) {
				modes = append(modes, n)
			}
		}
		if len(modes) == 0 {
			continue
		}
		p := part{component: c, node: modes[0], modes: modes, step: a.stepOf(c.Name)}
		if len(modes) > 1 {
			n := network.Node{Name: "one of " + c.Name}
			for _, k := range modes {
				n.Links = append(n.Links, network.Link{Parent: k, Strength: 1})
			}
			p.node = len(net.Nodes)
			net.Nodes = append(net.Nodes, n)
		}
		s.parts = append(s.parts, p)
		s.want = append(s.want, p.node)
	}
	s.want = append(s.want, a.causes...)
	var err error
	if s.solver, err = network.NewSolver(net); err != nil {
		return nil, err
	}
	s.solver.Always = s.want
	s.solver.MaxWork = maxWork
	s.solver = s.solver.WithContext(a.Model.Solver().Context()).Rough(PriceError)
	return s, nil
}

func (a *Adviser) stepOf(component string) int {
	if s, ok := a.steps[component]; ok {
		return s
	}
	return -1
}
