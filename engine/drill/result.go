package drill

import (
	"slices"
	"strings"

	"slipcase/engine"
	"slipcase/engine/advise"
	"slipcase/engine/diagnose"
	"slipcase/engine/model"
	"slipcase/engine/network"
	"slipcase/engine/teardown"
)

// The advised way asks until a part leads with clearLead, as in trials, and
// makes mostAsked checks at most.
const mostAsked, clearLead = 10, 0.8

// Result compares the student's way with the advised one.
type Result struct {
	Found    bool // all that the level asks for
	Culprits []Culprit
	Causes   []string // titles of the root causes behind the complaint
	Student  Way
	Advised  Way
}

// Culprit is a part behind the complaint.
type Culprit struct {
	Component, Title string
	Modes            []string // titles
	// Signs are the findings that it really showed in rows, shifts and
	// engagements: what gives it away.
	Signs []*model.Node
	Found bool
}

// Way is a list of moves and the minutes until all culprits were in view, or
// until it ended.
type Way struct {
	Moves   []Move
	Minutes float64
	Found   bool
	// Idle is how many moves of it the other way does not have.
	Idle int
}

// Result ends the drill: what was wrong, and how the advised way would have
// gone with the same vehicle. Errors are those of an answer that cannot be
// worked out.
func (d *Drill) Result() (*Result, error) {
	best, err := d.Advised()
	if err != nil {
		return nil, err
	}
	r := &Result{Found: d.Over(), Student: Way{Moves: d.moves, Minutes: d.minutes, Found: d.partsFound()}, Advised: best}
	r.Student.Idle, r.Advised.Idle = idle(r.Student.Moves, best.Moves), idle(best.Moves, r.Student.Moves)
	for _, name := range d.cul {
		c := Culprit{Component: name, Found: d.found[name]}
		if p := d.component(name); p != nil {
			c.Title = engine.TitleOr(p.Title, p.Name)
		}
		for _, n := range d.modes(name) {
			c.Modes = append(c.Modes, d.m.Nodes[n].Mode.Title)
			c.Signs = append(c.Signs, d.signs(n)...)
		}
		slices.SortFunc(c.Signs, func(a, b *model.Node) int { return strings.Compare(a.Name, b.Name) })
		c.Signs = slices.Compact(c.Signs)
		r.Culprits = append(r.Culprits, c)
	}
	for _, name := range d.causes {
		if n, ok := d.m.Lookup(name); ok {
			r.Causes = append(r.Causes, d.m.Nodes[n].Title)
		}
	}
	return r, nil
}

// Advised is how the advised way goes with this vehicle. It takes some seconds,
// and is the same for every drill of one model, level and seed: SetAdvised
// takes what another one has worked out.
func (d *Drill) Advised() (Way, error) {
	if d.best == nil {
		best, err := d.advised()
		if err != nil {
			return Way{}, err
		}
		d.best = &best
	}
	return *d.best, nil
}

// SetAdvised takes the advised way of the same model, level and seed.
func (d *Drill) SetAdvised(w Way) { d.best = &w }

func (d *Drill) partsFound() bool {
	for _, c := range d.cul {
		if !d.found[c] {
			return false
		}
	}
	return true
}

// idle counts moves of one way that another does not have.
func idle(moves, other []Move) int {
	n := 0
	for _, m := range moves {
		if !slices.ContainsFunc(other, func(o Move) bool { return o.Kind == m.Kind && o.Name == m.Name }) {
			n++
		}
	}
	return n
}

// signs are what a drive shows in rows, shifts and engagements and
// that a mode leads to.
func (d *Drill) signs(mode int) []*model.Node {
	on := map[int]bool{mode: true}
	var out []*model.Node
	// Nodes stand behind their parents.
	for i := mode + 1; i < len(d.m.Nodes); i++ {
		if !d.v.On(i) || !slices.ContainsFunc(d.m.Net.Nodes[i].Links, func(l network.Link) bool { return on[l.Parent] }) {
			continue
		}
		on[i] = true
		n := &d.m.Nodes[i]
		if n.Layer != model.FindingLayer || n.Finding == nil || n.Condition != "" || n.Finding.Stage != engine.StageRoad {
			continue
		}
		switch n.Finding.Per {
		case engine.PerRow, engine.PerShift, engine.PerEngagement:
			out = append(out, n)
		}
	}
	return out
}

// advised plays the same vehicle as advised: the best check until a part leads
// clearly or no check is worth its minutes, then the steps of the plan.
func (d *Drill) advised() (Way, error) {
	x := &Drill{m: d.m, a: d.a, v: d.v, level: d.level, found: map[string]bool{}, named: map[string]bool{}, cul: d.cul, causes: d.causes}
	x.begin()
	for range mostAsked {
		ad, err := x.a.Price(x.c, advise.Options{Best: 1})
		if err != nil {
			return Way{}, err
		}
		if ad.LeaderP >= clearLead || len(ad.Checks) == 0 || !ad.Checks[0].Worth {
			break
		}
		if _, err := x.ask(ad.Checks[0].Check.Name); err != nil {
			return Way{}, err
		}
	}
	steps, err := x.plan()
	if err != nil {
		return Way{}, err
	}
	for _, name := range steps {
		if x.partsFound() {
			break
		}
		if s := x.m.Step(name); s != nil {
			x.take(s)
		} else if c := x.component(name); c != nil {
			x.look(c)
		}
	}
	return Way{Moves: x.moves, Minutes: x.minutes, Found: x.partsFound()}, nil
}

// plan lists what to look at, first to last: parts outside the transmission
// that lead, the steps of the plan, and what of the rest was behind it.
func (d *Drill) plan() ([]string, error) {
	r, _, err := diagnose.Case(d.m, d.c, diagnose.Options{Top: 3})
	if err != nil || r == nil {
		return nil, err
	}
	var out []string
	for _, s := range r.Suspects {
		if !s.Outside {
			break
		}
		out = append(out, s.Component.Name)
	}
	p, err := teardown.Make(d.m, d.c, r)
	if err != nil {
		return nil, err
	}
	for _, s := range p.Steps {
		out = append(out, s.Step.Name)
	}
	return append(out, d.cul...), nil
}
