// Package teardown orders the steps of a teardown for a case: what to open
// first so that the culprit is seen soonest, what to measure before a step
// destroys it, and whether taking the unit out is justified at all. The
// ordering itself is package order; this package says what the steps of a unit
// weigh and what stands beside them.
package teardown

import (
	"fmt"
	"sort"

	"slipcase/engine"
	"slipcase/engine/diagnose"
	"slipcase/engine/teardown/order"
)

// Plan is the rest of a teardown.
type Plan struct {
	Steps    []Step
	Done     []string // steps done, as the case says
	Method   string   // how the order was found
	Exact    bool     // the order is proven optimal
	Expected float64  // Σ P(component failed) × minutes until it is in view
	Bound    float64  // no order expects less
	Bench    Baseline // the plain bench order
	Likely   Baseline // going for the likeliest culprit whatever is in the way
	Pull     Decision
	After    *Why     // once a culprit is confirmed
	Cautions []string // names of every caution of the plan, in order of first use
}

// Baseline is another order, for comparison: its expected minutes, apart for
// what is seen before and after the unit is pulled.
type Baseline struct {
	Order        []string
	Expected     float64
	BeforePull   float64 // saved by the plan on components seen in the vehicle, minutes
	AfterPull    float64 // saved on those seen on the bench
	SavedPercent float64
}

// Step is one step of the plan.
type Step struct {
	Step       *engine.Step
	Minutes    float64
	Cumulative float64
	// InView is P(at least one failed component is in view when this step is
	// done | reports).
	InView float64
	Views  []View
	// Measure is what to take before this step destroys it: the step's own
	// list and every check that names the step in its `before`.
	Measure []Measure
	Limits  []engine.Limit
}

// View is a component that a step brings into view.
type View struct {
	Component *engine.Component
	P         float64 // P(failed | reports)
	Look      []string
	Bench     string // where it is laid
}

// Measure is one thing to take before a step.
type Measure struct {
	Text  string
	Check *engine.Check // nil for a sentence of the step
	Limit *engine.Limit
	Taken bool // already reported
}

// Make works out the plan of a case from its diagnosis.
func Make(m *diagnose.Model, c *engine.CaseFile, r *diagnose.Result) (*Plan, error) {
	beliefs, err := m.ComponentBeliefs(r)
	if err != nil {
		return nil, err
	}
	p := &Plan{Done: c.Done}
	seen := seenComponents(c)
	jobs := Jobs(m.Unit, func(component string) float64 {
		if seen[component] {
			return 0
		}
		return beliefs[component]
	})
	done, err := indexes(m.Unit, c.Done)
	if err != nil {
		return nil, err
	}
	rest, index, err := order.Remaining(jobs, done)
	if err != nil {
		return nil, err
	}
	best, err := order.Optimal(rest, order.Options{})
	if err != nil {
		return nil, err
	}
	p.Method, p.Exact, p.Expected, p.Bound = best.Method, best.Exact, best.Cost, best.Bound
	if err := p.baselines(m.Unit, rest, index, best.Order); err != nil {
		return nil, err
	}
	var exposed []string // what was looked at already is settled and not in it
	var minutes float64
	cautions := map[string]bool{}
	for _, j := range best.Order {
		s := &m.Unit.Steps[index[j]]
		minutes += s.Minutes.Value
		step := Step{Step: s, Minutes: s.Minutes.Value, Cumulative: minutes}
		for _, name := range s.Exposes {
			if component := find(m.Unit, name); component != nil {
				step.Views = append(step.Views, view(m, r, component, beliefs[name]))
			}
			if !seen[name] {
				exposed = append(exposed, name)
			}
		}
		if step.InView, err = m.AnyFailed(r, exposed); err != nil {
			return nil, err
		}
		step.Measure = measures(m, c, s)
		step.Limits = limits(m.Unit, s)
		for _, name := range s.Cautions {
			if !cautions[name] {
				cautions[name] = true
				p.Cautions = append(p.Cautions, name)
			}
		}
		p.Steps = append(p.Steps, step)
	}
	if p.Pull, err = decide(m, c, r, p); err != nil {
		return nil, err
	}
	if p.After, err = after(m, c, r); err != nil {
		return nil, err
	}
	return p, nil
}

// Jobs is the unit's steps as jobs: minutes, and the summed probability of the
// components that each brings into view.
func Jobs(u *engine.Unit, weight func(component string) float64) []order.Job {
	at := map[string]int{}
	for i, s := range u.Steps {
		at[s.Name] = i
	}
	jobs := make([]order.Job, len(u.Steps))
	for i, s := range u.Steps {
		jobs[i] = order.Job{Name: s.Name, Minutes: s.Minutes.Value}
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

func seenComponents(c *engine.CaseFile) map[string]bool {
	seen := map[string]bool{}
	for _, s := range c.Seen {
		seen[s.Component] = true
	}
	return seen
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
		return nil, fmt.Errorf("the unit %s has no step %q%s", u.ID, n, near(n, known))
	}
	return out, nil
}

func near(name string, known []string) string {
	if n := diagnose.Nearest(name, known, 1); len(n) > 0 {
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

// view says what to look for on a component: its likely modes first.
func view(m *diagnose.Model, r *diagnose.Result, c *engine.Component, p float64) View {
	v := View{Component: c, P: p, Bench: c.Bench}
	if k := m.KindOf(c); v.Bench == "" && k != nil {
		v.Bench = k.Bench
	}
	nodes := append([]int(nil), m.ModesOf(c.Name)...)
	sort.SliceStable(nodes, func(i, j int) bool { return r.Posterior[nodes[i]] > r.Posterior[nodes[j]]+1e-9 })
	for i, n := range nodes {
		mode := m.Nodes[n].Mode
		if i < 3 && mode.Look != "" {
			v.Look = append(v.Look, mode.Title+": "+mode.Look)
		}
	}
	return v
}

func measures(m *diagnose.Model, c *engine.CaseFile, s *engine.Step) []Measure {
	var out []Measure
	have := map[string]bool{}
	for i := range m.Knowledge.Checks {
		check := &m.Knowledge.Checks[i]
		named := contains(s.Measure, check.Name)
		if named || contains(check.Before, s.Name) {
			have[check.Name] = true
			out = append(out, Measure{Text: check.Title, Check: check, Taken: taken(m, c, check)})
		}
	}
	for i := range m.Unit.Limits {
		l := &m.Unit.Limits[i]
		if contains(s.Measure, l.Name) {
			have[l.Name] = true
			out = append(out, Measure{Text: l.Title, Limit: l, Taken: readingTaken(c, l.Name)})
		}
	}
	for _, text := range s.Measure {
		if !have[text] {
			out = append(out, Measure{Text: text})
		}
	}
	return out
}

// taken tells whether every finding of a check is reported already.
func taken(m *diagnose.Model, c *engine.CaseFile, check *engine.Check) bool {
	any := false
	for _, y := range check.Yields {
		for _, name := range m.Match(y) {
			any = true
			found := false
			for _, r := range c.Reports {
				found = found || r.Finding == name
			}
			if !found {
				return false
			}
		}
	}
	return any
}

func readingTaken(c *engine.CaseFile, limit string) bool {
	for _, r := range c.Readings {
		if r.Name == limit || r.Place == limit {
			return true
		}
	}
	return false
}

func limits(u *engine.Unit, s *engine.Step) []engine.Limit {
	var out []engine.Limit
	for _, l := range u.Limits {
		if l.Step == s.Name || l.Step == "" && contains(s.Exposes, l.Component) {
			out = append(out, l)
		}
	}
	return out
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}

// baselines compares with the plain bench order and with going for the
// likeliest culprit first.
func (p *Plan) baselines(u *engine.Unit, jobs []order.Job, index []int, best []int) error {
	bench, err := order.Bench(jobs)
	if err != nil {
		return err
	}
	likely, err := order.LikeliestFirst(jobs)
	if err != nil {
		return err
	}
	p.Bench = compare(u, jobs, index, best, bench)
	p.Likely = compare(u, jobs, index, best, likely)
	return nil
}

func compare(u *engine.Unit, jobs []order.Job, index, best, other []int) Baseline {
	var b Baseline
	mine := views(jobs, best)
	theirs := views(jobs, other)
	var cost float64
	for j, job := range jobs {
		saved := job.Weight * (theirs[j] - mine[j])
		cost += job.Weight * mine[j]
		b.Expected += job.Weight * theirs[j]
		if u.Steps[index[j]].Stage == engine.StageInVehicle {
			b.BeforePull += saved
		} else {
			b.AfterPull += saved
		}
	}
	for _, j := range other {
		b.Order = append(b.Order, jobs[j].Name)
	}
	if b.Expected > 0 {
		b.SavedPercent = 100 * (b.Expected - cost) / b.Expected
	}
	return b
}

// views is when each job is finished.
func views(jobs []order.Job, sequence []int) []float64 {
	out := make([]float64, len(jobs))
	var t float64
	for _, j := range sequence {
		t += jobs[j].Minutes
		out[j] = t
	}
	return out
}
