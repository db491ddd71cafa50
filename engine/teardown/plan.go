package teardown

import (
	"fmt"

	"slipcase/engine"
	"slipcase/engine/diagnose"
	"slipcase/engine/model"
	"slipcase/engine/near"
	"slipcase/engine/teardown/order"
)

// Plan is the rest of a teardown.
type Plan struct {
	Steps    []Step
	Done     []string     // steps done, as the case says
	Method   order.Method // how the order was found
	Exact    bool         // no order expects less that keeps to the decision on pulling
	Expected float64      // Σ weight × minutes until the component is in view
	Bound    float64      // no order that keeps to the decision expects less
	Weight   float64      // Σ weight: how many culprits are expected in what is left; Expected ÷ Weight is minutes for each
	Bench    Baseline     // the plain bench order: the steps as the unit lists them
	Likely   Baseline     // going for the likeliest culprit whatever is in the way
	Pull     Decision
	After    *Why     // once a culprit is confirmed; nil before
	Cautions []string // names of every caution of the plan, in order of first use
	// Open are parts that a done step has brought into view and that were
	// neither found failed nor cleared, though reports point to them.
	Open []View
}

// Baseline is another order, for comparison.
type Baseline struct {
	Order    []string
	Expected float64 // Σ weight × minutes until the component is in view
	// Minutes that the plan saves on Expected, by where they are saved: before
	// the unit comes out, and from the pull on.
	BeforePull, AfterPull float64
	SavedPercent          float64 // of Expected; negative when the plan is slower
}

// Step is one step of the plan.
type Step struct {
	Step       *engine.Step
	Minutes    float64
	Cumulative float64 // minutes from now when it is done
	Weight     float64 // Σ P(component is a culprit | reports) over what it shows
	InView     float64 // P(at least one culprit is in view when this step is done | reports)
	Views      []View
	Measure    []Measure
	Limits     []Limit           // of what comes into view, the measures left out
	Cautions   []*engine.Caution // that no earlier step has shown
	// Late says that this look at the vehicle waits until the unit is back.
	Late bool
	// Looked says that checks have looked at what it shows: it takes no minutes.
	Looked bool
}

// Make works out the plan of a case from its diagnosis. It returns an error
// for a done step that the unit does not have, and for steps in a circle.
func Make(m *model.Model, c *engine.CaseFile, r *diagnose.Result) (*Plan, error) {
	k := newCulprits(m, c, r)
	weight, err := k.weights()
	if err != nil {
		return nil, err
	}
	l, err := Remaining(m, c)
	if err != nil {
		return nil, err
	}
	l.weigh(weight)
	if err := l.drop(l.settled()); err != nil {
		return nil, err
	}
	jobs, left := l.Jobs, l.Steps
	p := &Plan{Done: c.Done}
	var best order.Result
	if p.Pull, best, err = decide(m, c, k, weight, jobs, left); err != nil {
		return nil, err
	}
	p.Method, p.Exact, p.Expected, p.Bound = best.Method, best.Exact, best.Cost, best.Bound
	if err := p.compare(m, jobs, left, best.Order); err != nil {
		return nil, err
	}
	if err := p.lay(m, c, k, weight, left, best.Order); err != nil {
		return nil, err
	}
	for i := range p.Steps {
		p.Steps[i].Looked = l.Looked[p.Steps[i].Step.Name]
	}
	for _, done := range c.Done {
		for _, name := range m.Step(done).Exposes {
			if component := find(m.Unit, name); component != nil && weight[name] > 0 {
				p.Open = append(p.Open, k.view(c, component, weight[name]))
			}
		}
	}
	if p.After, err = after(m, c, k); err != nil {
		return nil, err
	}
	return p, nil
}

// spent is the minutes of a step while the unit is in the vehicle, with those of
// putting back what it takes off. Once the unit is out they are the build's, which
// strips it whatever was found.
func spent(s *engine.Step) float64 {
	if s.Stage == engine.StageInVehicle || s.Pulls {
		return s.Minutes.Value + s.Refit.Value
	}
	return s.Minutes.Value
}

// jobsOf is some steps as jobs, as far as they need each other: the minutes that each
// costs, and the summed weight of the components that it brings into view.
func jobsOf(steps []*engine.Step, weight func(component string) float64) []order.Job {
	at := map[string]int{}
	for i, s := range steps {
		at[s.Name] = i
	}
	jobs := make([]order.Job, len(steps))
	for i, s := range steps {
		jobs[i] = order.Job{Name: s.Name, Minutes: spent(s)}
		for _, a := range s.After {
			if j, ok := at[a]; ok {
				jobs[i].After = append(jobs[i].After, j)
			}
		}
		for _, e := range s.Exposes {
			jobs[i].Weight += weight(e)
		}
	}
	return jobs
}

// keep is the jobs with what a decision asks for: the looks before the pull,
// the rest after it, and looks at the vehicle itself when the unit is back.
func keep(m *model.Model, jobs []order.Job, left []*engine.Step, pulls *engine.Step, looks []*engine.Step) []order.Job {
	if pulls == nil {
		return jobs
	}
	first := map[*engine.Step]bool{}
	for _, s := range looks {
		first[s] = true
	}
	var needed map[string]bool
	pull := -1
	for i, s := range left {
		if s == pulls {
			pull, needed = i, required(m.Unit, s.Name)
		}
	}
	out := append([]order.Job(nil), jobs...)
	wait := waiting(m, left)
	var early, unit, late []int
	for i, s := range left {
		switch {
		case i == pull:
		case pull >= 0 && (first[s] || needed[s.Name]):
			early = append(early, i)
		case wait[s]:
			late = append(late, i)
		default:
			unit = append(unit, i)
			out[i].Minutes = s.Minutes.Value // out of the vehicle
		}
	}
	add := func(i int, more ...int) {
		out[i].After = append(append([]int(nil), out[i].After...), more...)
	}
	if pull >= 0 {
		add(pull, early...)
		for _, i := range unit {
			add(i, pull)
		}
	}
	for _, i := range late {
		add(i, unit...)
		if pull >= 0 {
			add(i, pull)
		}
	}
	return out
}

// waiting marks the steps that look at the vehicle itself and not at the unit,
// less those that a step at the unit needs.
func waiting(m *model.Model, left []*engine.Step) map[*engine.Step]bool {
	out := map[*engine.Step]bool{}
	needed := map[string]bool{}
	for _, s := range left {
		if s.Stage == engine.StageInVehicle && !s.Pulls && !belongsToUnit(m, s) {
			out[s] = true
			continue
		}
		for name := range required(m.Unit, s.Name) {
			needed[name] = true
		}
	}
	for s := range out {
		if needed[s.Name] {
			delete(out, s)
		}
	}
	return out
}

// lay writes the steps out in their order.
func (p *Plan) lay(m *model.Model, c *engine.CaseFile, k *culprits, weight map[string]float64, left []*engine.Step, sequence []int) error {
	var lists [][]int
	var seen []int
	for _, j := range sequence {
		seen = join(seen, k.of(left[j].Exposes))
		lists = append(lists, seen)
	}
	if err := k.work(lists); err != nil {
		return err
	}
	var minutes float64
	shown := map[string]bool{}
	reached := map[string]bool{}
	for _, name := range c.Done {
		reached[name] = true
	}
	out := p.Pull.Pulled && p.Pull.Pull != nil
	wait := waiting(m, left)
	for i, j := range sequence {
		s := left[j]
		minutes += s.Minutes.Value
		step := Step{Step: s, Minutes: s.Minutes.Value, Cumulative: minutes, InView: k.any(lists[i]), Late: out && wait[s]}
		out = out || s.Pulls
		for _, name := range s.Exposes {
			if component := find(m.Unit, name); component != nil {
				step.Views = append(step.Views, k.view(c, component, weight[name]))
				step.Weight += weight[name]
			}
		}
		reached[s.Name] = true
		step.Measure = measures(m, c, s)
		for i := range step.Measure {
			x := &step.Measure[i]
			if x.Check == nil {
				continue
			}
			for _, name := range x.Check.Needs {
				if need := m.Step(name); need != nil && !reached[name] {
					x.Needs = append(x.Needs, need)
				}
			}
		}
		step.Limits = limits(m.Unit, c, s, step.Measure)
		for _, name := range cautionsOf(s, step.Measure) {
			if !shown[name] {
				shown[name] = true
				p.Cautions = append(p.Cautions, name)
				if caution := cautionNamed(m.Knowledge, name); caution != nil {
					step.Cautions = append(step.Cautions, caution)
				}
			}
		}
		p.Weight += step.Weight
		p.Steps = append(p.Steps, step)
	}
	return nil
}

func indexes(u *engine.Unit, names []string) ([]int, error) {
	var out []int
next:
	for _, n := range names {
		for i, s := range u.Steps {
			if s.Name == n {
				out = append(out, i)
				continue next
			}
		}
		var known []string
		for _, s := range u.Steps {
			known = append(known, s.Name)
		}
		return nil, fmt.Errorf("the unit %s has no step %q%s", u.ID, n, didYouMean(n, known))
	}
	return out, nil
}

func didYouMean(name string, known []string) string {
	if n := near.Names(name, known, 1); len(n) > 0 {
		return "; did you mean " + n[0] + "?"
	}
	return ""
}

func find(u *engine.Unit, name string) *engine.Component {
	for i := range u.Components {
		if u.Components[i].Name == name {
			return &u.Components[i]
		}
	}
	return nil
}
