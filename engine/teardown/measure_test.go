package teardown

import (
	"fmt"
	"slices"

	"slipcase/engine"
	"slipcase/engine/diagnose"
	"slipcase/engine/model"
)

// Trial is a case of which it is known what failed.
type Trial struct {
	Case     *engine.CaseFile
	Failed   map[string]string // component -> mode
	Culprits []string          // those of Failed that are behind the complaint and that a step shows
}

// Spent is what an order of steps costs, summed over trials, in minutes.
type Spent struct {
	View  Time    // Σ over culprits: until each is in view, measured from the first step
	First float64 // until the first culprit of a case is in view
	Job   float64 // until the last one is in view, and to refit what was taken off by then
}

// Savings adds up, over trials, what the plan and two other orders cost.
type Savings struct {
	Cases    int
	Culprits int   // in all cases together
	Plan     Spent // the plan as it stands at the reports
	Bench    Spent // the plain bench order
	Likely   Spent // the likeliest culprit first, whatever is in the way
	Followed Spent // the plan made anew after every look; zero unless asked for
}

// Percent is how much less a is than b, in percent of b.
func Percent(a, b float64) float64 {
	if b == 0 {
		return 0
	}
	return 100 * (b - a) / b
}

// Add plays one trial: the plan against the other two orders. With follow it
// is also played step by step, every part in view found failed or cleared and
// the plan made anew.
func (s *Savings) Add(m *model.Model, t Trial, follow bool) error {
	r, diags, err := diagnose.Read(m, t.Case)
	if err != nil {
		return err
	}
	if r == nil {
		return fmt.Errorf("the trial %s cannot be read: %v", t.Case.ID, diags)
	}
	p, err := Make(m, t.Case, r)
	if err != nil {
		return err
	}
	s.Cases++
	s.Culprits += len(t.Culprits)
	var names []string
	for _, x := range p.Steps {
		names = append(names, x.Step.Name)
	}
	s.Plan.add(m, names, t.Culprits)
	s.Bench.add(m, p.Bench.Order, t.Culprits)
	s.Likely.add(m, p.Likely.Order, t.Culprits)
	if follow {
		names, err := t.follow(m, p)
		if err != nil {
			return err
		}
		s.Followed.add(m, names, t.Culprits)
	}
	return nil
}

// add plays one order of steps.
func (s *Spent) add(m *model.Model, names, culprits []string) {
	first := -1.0
	for _, at := range inView(m, names, culprits) {
		s.View.Before += at.Before
		s.View.After += at.After
		if first < 0 || at.Total() < first {
			first = at.Total()
		}
	}
	s.First += max(first, 0)
	open := map[string]bool{}
	for _, c := range culprits {
		open[c] = true
	}
	for _, name := range names {
		if len(open) == 0 {
			break
		}
		step := m.Step(name)
		s.Job += step.Minutes.Value + step.Refit.Value
		for _, c := range step.Exposes {
			delete(open, c)
		}
	}
}

// inView is when each culprit is in view in a sequence of steps.
func inView(m *model.Model, names, culprits []string) []Time {
	var steps []*engine.Step
	var sequence []int
	for i, name := range names {
		for j := range m.Unit.Steps {
			if s := &m.Unit.Steps[j]; s.Name == name {
				steps = append(steps, s)
				sequence = append(sequence, i)
			}
		}
	}
	var out []Time
	for i, at := range Times(m, steps, sequence) {
		for _, c := range culprits {
			if slices.Contains(steps[i].Exposes, c) {
				out = append(out, at)
			}
		}
	}
	return out
}

// follow plays the plan step by step until every culprit is in view, and gives
// the steps as they were done, with the rest of the last plan.
func (t Trial) follow(m *model.Model, p *Plan) ([]string, error) {
	c := *t.Case
	c.Seen = append([]engine.Seen(nil), c.Seen...)
	var names []string
	open := map[string]bool{}
	for _, x := range t.Culprits {
		open[x] = true
	}
	for len(p.Steps) > 0 {
		if len(open) == 0 {
			for _, x := range p.Steps {
				names = append(names, x.Step.Name)
			}
			return names, nil
		}
		s := p.Steps[0]
		names = append(names, s.Step.Name)
		c.Done = append(append([]string(nil), c.Done...), s.Step.Name)
		for _, v := range s.Views {
			name := v.Component.Name
			delete(open, name)
			if mode, failed := t.Failed[name]; failed {
				c.Seen = append(c.Seen, engine.Seen{Component: name, Mode: mode})
			} else {
				c.Seen = append(c.Seen, engine.Seen{Component: name, Cleared: true})
			}
		}
		if s.Weight == 0 && !s.Step.Pulls {
			p.Steps = p.Steps[1:] // nothing that the reports point to: the plan stands
			continue
		}
		r, _, err := diagnose.Read(m, &c)
		if err != nil {
			return nil, err
		}
		if p, err = Make(m, &c, r); err != nil {
			return nil, err
		}
	}
	return names, nil
}

// Behind lists the components whose failed modes can bring about one of the
// findings (nodes of the model), by their effects or directly, as far as a
// step shows them; in unit order.
func Behind(m *model.Model, failed map[string]string, findings []int) []string {
	about := map[int]bool{}
	for _, f := range findings {
		m.Upward(f, about)
	}
	var out []string
	for i := range m.Unit.Components {
		name := m.Unit.Components[i].Name
		mode, ok := failed[name]
		if !ok || showing(m.Unit, name) == nil {
			continue
		}
		if node, ok := m.Lookup(name + "/" + mode); ok && about[node] {
			out = append(out, name)
		}
	}
	return out
}
