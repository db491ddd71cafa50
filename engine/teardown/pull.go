package teardown

import (
	"fmt"

	"slipcase/engine"
	"slipcase/engine/diagnose"
)

// Decision weighs taking the unit out now against working in the vehicle
// first, in minutes.
type Decision struct {
	Pulled     bool // it is out already, or the unit has no such step
	Justified  bool
	InVehicle  float64 // expected minutes when the vehicle is searched first
	PullNow    float64 // expected minutes when the unit comes out at once
	OnlyBench  float64 // P(something failed that only the bench shows | reports)
	InReach    float64 // P(something failed that the vehicle shows, and nothing else)
	SearchTime float64 // minutes of the in-vehicle steps that are worth doing first
	Sentence   string
}

// decide compares two ways to the end of the job, both to repair and refit:
//
//	vehicle first: the plan's steps in the vehicle, repair where it is and
//	refit of what came off; then, with the probability that something failed
//	which only the bench shows, pulling, the bench, and the unit's refit;
//	pull now: pulling, the bench and the unit's refit in any case.
//
// Steps in the vehicle that must come before pulling anyway are no waste; the
// others are a wasted visit when the unit has to come out after all.
func decide(m *diagnose.Model, c *engine.CaseFile, r *diagnose.Result, p *Plan) (Decision, error) {
	var d Decision
	var pull *engine.Step
	for i := range m.Unit.Steps {
		if m.Unit.Steps[i].Pulls {
			pull = &m.Unit.Steps[i]
		}
	}
	if pull == nil || contains(c.Done, pull.Name) {
		d.Pulled = true
		d.Sentence = "The unit is out."
		if pull == nil {
			d.Sentence = "The unit has no step that takes it out."
		}
		return d, nil
	}
	needed := required(m.Unit, pull.Name)
	before := true
	var vehicle, bench []string
	var fit, benchRepair, search, weight, pulledAt, waste float64
	for _, s := range p.Steps {
		if s.Step == pull {
			before = false
			pulledAt = s.Cumulative
		}
		switch {
		case s.Step.Stage == engine.StageInVehicle:
			vehicle = append(vehicle, s.Step.Exposes...)
			if before && s.weight() > 0 {
				d.SearchTime += s.Minutes
				fit += s.weight() * (s.Step.Repair.Value + s.Step.Refit.Value)
				if !needed[s.Step.Name] {
					waste += s.Minutes
				}
			}
		case s.Step != pull:
			bench = append(bench, s.Step.Exposes...)
			benchRepair += s.weight() * s.Step.Repair.Value
			search += s.weight() * (s.Cumulative - pulledAt)
			weight += s.weight()
		}
	}
	var err error
	if d.OnlyBench, err = m.AnyFailed(r, unseen(c, bench)); err != nil {
		return d, err
	}
	anyFailed, err := m.AnyFailed(r, unseen(c, append(append([]string(nil), vehicle...), bench...)))
	if err != nil {
		return d, err
	}
	d.InReach = anyFailed - d.OnlyBench
	out := pull.Minutes.Value + pull.Refit.Value
	if weight > 0 {
		search /= weight // from pulling to the culprit, where it is one of the bench
	}
	d.InVehicle = d.SearchTime + fit + d.OnlyBench*(out+search) + benchRepair
	d.PullNow = (d.SearchTime - waste) + fit + out + d.OnlyBench*search + benchRepair
	d.Justified = d.PullNow <= d.InVehicle
	verdict := "Do not pull it yet"
	if d.Justified {
		verdict = "Pulling is justified now"
	}
	d.Sentence = fmt.Sprintf("%s: pulling at once costs some %.0f minutes to the end of the repair, working in the vehicle first some %.0f. %s that something failed which only the bench shows.",
		verdict, d.PullNow, d.InVehicle, diagnose.Percent(d.OnlyBench))
	return d, nil
}

// weight is the summed probability of what a step brings into view.
func (s Step) weight() float64 {
	var w float64
	for _, v := range s.Views {
		w += v.P
	}
	return w
}

// required lists the steps that must come before one.
func required(u *engine.Unit, step string) map[string]bool {
	out := map[string]bool{}
	var visit func(string)
	visit = func(name string) {
		for _, s := range u.Steps {
			if s.Name == name {
				for _, a := range s.After {
					if !out[a] {
						out[a] = true
						visit(a)
					}
				}
			}
		}
	}
	visit(step)
	return out
}

func unseen(c *engine.CaseFile, components []string) []string {
	seen := seenComponents(c)
	var out []string
	for _, name := range components {
		if !seen[name] {
			out = append(out, name)
		}
	}
	return out
}
