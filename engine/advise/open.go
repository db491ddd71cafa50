package advise

import (
	"slices"

	"slipcase/engine"
	"slipcase/engine/model"
)

// Refusal is a check that is not offered, and why.
type Refusal struct {
	Check *engine.Check
	Why   Obstacle
	Step  *engine.Step // TooLate, NeedsStep, CannotRun
	Rule  string       // RuledOut: the reason that the rules give
}

// Obstacle says why a check is not offered.
type Obstacle string

// The obstacles. The first three withhold a check whose stage is open.
const (
	RuledOut   Obstacle = "ruled_out"   // an earlier result makes it unsafe or useless, by a rule
	Pointless  Obstacle = "pointless"   // no answer would change a suspect or the plan
	TooMuch    Obstacle = "too_much"    // too many findings hang together to price it exactly
	TooLate    Obstacle = "too_late"    // Step destroyed the evidence
	NeedsStep  Obstacle = "needs_step"  // Step first
	CannotRun  Obstacle = "cannot_run"  // the vehicle cannot run: Step is done
	UnitOut    Obstacle = "unit_out"    // the unit is out of the vehicle
	UnitInside Obstacle = "unit_inside" // the unit is still in the vehicle
	Asked      Obstacle = "asked"       // the question was put to the driver
)

// where says how far the job has come.
type where struct {
	done   map[string]bool
	apart  *engine.Step // a step that was done in the vehicle and took something off
	pulled bool         // the unit is out
	bench  bool         // no step pulls: the unit came without its vehicle

	put map[string]bool // questions that the driver was asked
}

// where reads the stage off the steps done and the parts seen.
func (a *Adviser) where(c *engine.CaseFile) where {
	w := where{done: map[string]bool{}, bench: true, put: map[string]bool{}}
	for _, q := range c.Put {
		w.put[q] = true
	}
	reached := map[string]bool{}
	for _, d := range c.Done {
		w.done[d], reached[d] = true, true
	}
	// A part that was seen was reached, whether the step was noted or not.
	seen := map[string]bool{}
	for _, s := range c.Seen {
		seen[s.Component] = true
	}
	steps := a.Model.Unit.Steps
	for i := range steps {
		for _, x := range steps[i].Exposes {
			if seen[x] && !a.outside(x) {
				reached[steps[i].Name] = true
			}
		}
	}
	for i := range steps {
		s := &steps[i]
		if s.Pulls {
			w.bench = false
		}
		if !reached[s.Name] {
			continue
		}
		switch {
		case s.Pulls || s.Stage == engine.StagePulled || s.Stage == engine.StageTeardown:
			w.pulled = true
		case s.Refit.Value > 0 && w.apart == nil:
			w.apart = s
		}
	}
	return w
}

func (a *Adviser) outside(component string) bool {
	for i := range a.Model.Unit.Components {
		if c := &a.Model.Unit.Components[i]; c.Name == component {
			return a.Model.Outside(c)
		}
	}
	return false
}

// shut says why the stage of a check is not open, nil when it is.
func (a *Adviser) shut(c *engine.Check, w where) *Refusal {
	for _, s := range c.Before {
		if w.done[s] {
			return &Refusal{Check: c, Why: TooLate, Step: a.step(s)}
		}
	}
	for _, s := range c.Needs {
		if !w.done[s] {
			return &Refusal{Check: c, Why: NeedsStep, Step: a.step(s)}
		}
	}
	if w.put[c.Name] {
		return &Refusal{Check: c, Why: Asked}
	}
	switch c.Stage {
	case engine.StageRoad, engine.StageGauges:
		if w.pulled {
			return &Refusal{Check: c, Why: UnitOut}
		}
		if w.apart != nil && len(c.Needs) == 0 {
			return &Refusal{Check: c, Why: CannotRun, Step: w.apart}
		}
	case engine.StageInVehicle:
		if w.pulled {
			return &Refusal{Check: c, Why: UnitOut}
		}
	case engine.StagePulled, engine.StageTeardown:
		if !w.pulled && !w.bench {
			return &Refusal{Check: c, Why: UnitInside}
		}
	}
	return nil
}

// step is the step of this name; one that the unit does not have bears the
// name alone.
func (a *Adviser) step(name string) *engine.Step {
	if s := a.Model.Step(name); s != nil {
		return s
	}
	return &engine.Step{Name: name}
}

// withheld says why a check must not be done now, nil when it may. known are the
// signs that somebody has said something of.
func (a *Adviser) withheld(c *engine.Check, pieces []model.Piece, known map[sign]engine.State) *Refusal {
	for _, w := range c.Withheld {
		// Without a condition it is withheld by what shows in any condition.
		any := engine.ParseFindingName(w.If).Condition == ""
		if len(w.Until) > 0 && !a.answered(w.Until, known) {
			return &Refusal{Check: c, Why: RuledOut, Rule: w.Reason}
		}
		for _, name := range a.Model.Match(w.If) {
			s, _, _, ok := a.sign(name, "")
			if !ok {
				continue
			}
			for _, p := range pieces {
				if p.State != engine.Present || !p.Ranked {
					continue
				}
				at, _, _, ok := a.sign(p.Label, "")
				if ok && (at.node == s.node || any && engine.ParseFindingName(p.Label).Base() == name) {
					return &Refusal{Check: c, Why: RuledOut, Rule: w.Reason}
				}
			}
		}
	}
	return nil
}

// answered tells whether anybody has said anything of one of these findings. One
// that the unit does not have is not waited for.
func (a *Adviser) answered(findings []string, known map[sign]engine.State) bool {
	had := false
	for _, name := range findings {
		s, _, _, ok := a.sign(name, "")
		had = had || ok
		for k := range known {
			if ok && k.node == s.node {
				return true
			}
		}
	}
	return !had
}

// left are the findings of a check that may still be asked: not closed (what
// was reported hides them, or the caller does not want them), not reported by
// this reporter (don't know counts as said), and, where a finding has a
// condition, not ruled out without it: whether it is worse hot is asked of
// what was said to be there.
func (a *Adviser) left(c *check, known map[sign]engine.State, present map[int]bool, closed func(finding string) bool) []item {
	var out []item
	for _, it := range c.items {
		if closed(it.name) {
			continue
		}
		if _, said := known[it.sign]; said {
			continue
		}
		if it.plain != "" {
			s, _, _, ok := a.sign(it.plain, it.by)
			if ok && s != it.sign && !present[s.node] {
				if known[s] == engine.Absent || a.asked[s] && known[s] != engine.Unknown {
					continue
				}
			}
		}
		out = append(out, it)
	}
	return out
}

// offer sorts the checks into those open and those not.
func (a *Adviser) offer(c *engine.CaseFile, pieces []model.Piece, opt Options) (open []check, withheld, closed []Refusal) {
	w := a.where(c)
	known := a.reported(c, pieces)
	present := map[int]bool{}
	for s, state := range known {
		present[s.node] = present[s.node] || state == engine.Present
	}
	hidden := a.Model.Hidden(c.Reports)
	shut := func(finding string) bool {
		return hidden(finding) != "" || opt.Closed != nil && opt.Closed(finding)
	}
	looks, cleared := a.Model.Looks(c), a.Model.Cleared(c.Reports)
	already := looks.Steps(nil)
	for i := range a.checks {
		ch := a.checks[i]
		if opt.Only != nil && !opt.Only(ch.Check) || opt.Stages != nil && !slices.Contains(opt.Stages, ch.Stage) {
			continue
		}
		items := a.left(&ch, known, present, shut)
		if len(items) == 0 {
			continue
		}
		for j := range items {
			// Of a fluid that was changed a look at the pan is worth less.
			items[j].hit *= 1 - cleared[a.Model.Nodes[items[j].node].Finding]
		}
		if r := a.shut(ch.Check, w); r != nil {
			closed = append(closed, *r)
			continue
		}
		if r := a.withheld(ch.Check, pieces, known); r != nil {
			withheld = append(withheld, *r)
			continue
		}
		ch.items = items
		for _, step := range looks.Steps(ch.Check) {
			if !slices.Contains(already, step) {
				ch.looks = append(ch.looks, step)
			}
		}
		open = append(open, ch)
	}
	return open, withheld, closed
}
