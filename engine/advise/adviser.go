package advise

import (
	"fmt"
	"slices"
	"sync"

	"slipcase/engine"
	"slipcase/engine/model"
)

// Adviser prices the checks of one unit. It is safe for concurrent use.
type Adviser struct {
	Model   *model.Model
	causes  []int // nodes of the root causes
	checks  []check
	asked   map[sign]bool  // (plain finding, reporter) that some check of the reporter yields
	parents []int          // parents of every finding of a check
	steps   map[string]int // component -> index of the step that exposes it
	parent  []bool         // node has children

	mu     sync.Mutex
	scopes map[string]*scope
	recent []string // keys of scopes, oldest first
}

// check is a check with its findings resolved to nodes.
type check struct {
	*engine.Check
	index int
	items []item
	looks []string // steps that need no more look once it is answered
}

// item is one finding that a check reports on.
type item struct {
	name  string
	plain string // the finding without its condition; "" when it has none
	sign
	hit, falseAlarm float64
}

// sign is what is never asked twice: a finding by a reporter. The node is that
// of a case with this report alone; in a case that reports one finding under
// several conditions, other nodes stand for it.
type sign struct {
	node int
	by   string
}

// New prepares the pricing of one unit's checks. The context of the model holds
// for every question.
func New(m *model.Model) (*Adviser, error) {
	a := &Adviser{Model: m, asked: map[sign]bool{}, steps: map[string]int{}, scopes: map[string]*scope{}}
	for i := range m.Unit.Steps {
		for _, c := range m.Unit.Steps[i].Exposes {
			a.steps[c] = i
		}
	}
	for i, n := range m.Nodes {
		if n.Layer == model.CauseLayer && !n.Cause.Context {
			a.causes = append(a.causes, i)
		}
	}
	a.parent = make([]bool, len(m.Net.Nodes))
	for i := range m.Net.Nodes {
		for _, l := range m.Net.Nodes[i].Links {
			a.parent[l.Parent] = true
		}
	}
	for i := range m.Knowledge.Checks {
		c := check{Check: &m.Knowledge.Checks[i], index: i}
		if c.Only != nil && !slices.Contains(c.Only, m.Unit.ControlledBy()) {
			continue
		}
		seen := map[sign]bool{}
		for _, pattern := range c.Yields {
			for _, name := range m.Match(pattern) {
				it, ok := a.item(name, c.Reporter)
				if !ok || seen[it.sign] {
					continue
				}
				if it.plain != "" {
					// A condition that no rule tells apart asks for nothing but
					// the finding itself.
					if plain, ok := a.item(it.plain, c.Reporter); ok && plain.sign == it.sign {
						continue
					}
				}
				seen[it.sign] = true
				c.items = append(c.items, it)
				if it.plain == "" {
					a.asked[it.sign] = true
				}
			}
		}
		a.checks = append(a.checks, c)
	}
	seen := map[int]bool{}
	for _, c := range a.checks {
		for _, it := range c.items {
			for _, l := range m.Net.Nodes[it.node].Links {
				if !seen[l.Parent] {
					seen[l.Parent] = true
					a.parents = append(a.parents, l.Parent)
				}
			}
		}
	}
	return a, nil
}

// item resolves a finding as a report of it would be: the same node, the same
// rates. False when the unit does not have it.
func (a *Adviser) item(name, by string) (item, bool) {
	s, hit, fa, ok := a.sign(name, by)
	if !ok {
		return item{}, false
	}
	it := item{name: name, sign: s, hit: hit, falseAlarm: fa}
	if f := engine.ParseFindingName(name); f.Condition != "" {
		it.plain = f.Base()
	}
	return it, true
}

func (a *Adviser) sign(name, by string) (s sign, hit, falseAlarm float64, ok bool) {
	probe := engine.CaseFile{Reports: []engine.Report{{Finding: name, State: engine.Present, By: by}}}
	pieces, _ := a.Model.AsAsked().Evidence(&probe)
	if len(pieces) != 1 {
		return sign{}, 0, 0, false
	}
	p := pieces[0]
	return sign{p.Node, p.By}, p.On, p.Off, true
}

// reported is what is known of each sign, readings included: the state of the
// latest report.
func (a *Adviser) reported(c *engine.CaseFile, pieces []model.Piece) map[sign]engine.State {
	out := map[sign]engine.State{}
	for _, r := range c.Reports {
		if r.State != engine.Unknown {
			continue
		}
		if s, _, _, ok := a.sign(r.Finding, r.By); ok {
			out[s] = engine.Unknown
		}
	}
	for _, p := range pieces {
		if !p.Ranked {
			continue
		}
		if s, _, _, ok := a.sign(p.Label, p.By); ok {
			out[s] = p.State
		}
	}
	return out
}

// BadCase is a case that cannot be priced: its reports name what the unit does
// not have.
type BadCase struct{ Problems []model.Problem }

// Error is the first diagnostic, and how many more there are.
func (e *BadCase) Error() string {
	if len(e.Problems) == 1 {
		return e.Problems[0].Error()
	}
	return fmt.Sprintf("%s (and %d more)", e.Problems[0].Error(), len(e.Problems)-1)
}

// evidence is the case as pieces; unknown names are a BadCase.
func (a *Adviser) evidence(c *engine.CaseFile) ([]model.Piece, error) {
	pieces, problems := a.Model.Evidence(c)
	var bad []model.Problem
	for _, d := range problems {
		if d.Severity == engine.Error {
			bad = append(bad, d)
		}
	}
	if len(bad) > 0 {
		return nil, &BadCase{bad}
	}
	return pieces, nil
}
