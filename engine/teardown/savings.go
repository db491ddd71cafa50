package teardown

import (
	"fmt"

	"slipcase/engine"
	"slipcase/engine/diagnose"
)

// Trial is a case of which it is known what failed.
type Trial struct {
	Case     *engine.CaseFile
	Failed   map[string]string // component -> mode
	Culprits []string          // those of Failed that are behind the complaint and that a step shows
}

// Savings adds up, over trials, the minutes until the culprits are in view.
type Savings struct {
	Cases    int
	Culprits int  // in all cases together
	Plan     Time // Σ over culprits, the plan as it stands at the first report
	Bench    Time // the plain bench order
	Likely   Time // the likeliest culprit first, whatever is in the way
	Followed Time // the plan made anew after every look; zero unless asked for
	// The first culprit of each case alone.
	FirstPlan, FirstBench, FirstLikely, FirstFollowed float64
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
func (s *Savings) Add(m *diagnose.Model, t Trial, follow bool) error {
	r, diags, err := Read(m, t.Case)
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
	add := func(total *Time, first *float64, names []string) {
		least := -1.0
		for _, at := range inView(m.Unit, names, t.Culprits) {
			total.Before += at.Before
			total.After += at.After
			if least < 0 || at.Total() < least {
				least = at.Total()
			}
		}
		*first += max(least, 0)
	}
	add(&s.Plan, &s.FirstPlan, names)
	add(&s.Bench, &s.FirstBench, p.Bench.Order)
	add(&s.Likely, &s.FirstLikely, p.Likely.Order)
	if follow {
		names, err := t.follow(m, p)
		if err != nil {
			return err
		}
		add(&s.Followed, &s.FirstFollowed, names)
	}
	return nil
}

// inView is when each culprit is in view in a sequence of steps.
func inView(u *engine.Unit, names, culprits []string) []Time {
	var steps []*engine.Step
	var sequence []int
	for i, name := range names {
		for j := range u.Steps {
			if u.Steps[j].Name == name {
				steps = append(steps, &u.Steps[j])
				sequence = append(sequence, i)
			}
		}
	}
	var out []Time
	for i, at := range Times(steps, sequence) {
		for _, c := range culprits {
			if contains(steps[i].Exposes, c) {
				out = append(out, at)
			}
		}
	}
	return out
}

// follow plays the plan step by step until every culprit is in view, and gives
// the steps as they were done, with the rest of the last plan.
func (t Trial) follow(m *diagnose.Model, p *Plan) ([]string, error) {
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
		r, _, err := Read(m, &c)
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
func Behind(m *diagnose.Model, failed map[string]string, findings []int) []string {
	about := map[int]bool{}
	for _, f := range findings {
		upward(m, f, about)
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
