package teardown

import (
	"slipcase/engine"
	"slipcase/engine/model"
	"slipcase/engine/teardown/order"
)

// compare sets the plan beside the plain bench order and beside going for the
// likeliest culprit first. Those too wait with looks at the vehicle while the
// unit is out.
func (p *Plan) compare(m *model.Model, jobs []order.Job, left []*engine.Step, best []int) error {
	bench, err := order.Bench(jobs)
	if err != nil {
		return err
	}
	likely, err := order.LikeliestFirst(jobs)
	if err != nil {
		return err
	}
	bench, likely = p.postpone(m, left, bench), p.postpone(m, left, likely)
	p.Bench = against(m, jobs, left, best, bench)
	p.Likely = against(m, jobs, left, best, likely)
	return nil
}

// postpone moves the looks at the vehicle that come after the pull to the end.
func (p *Plan) postpone(m *model.Model, left []*engine.Step, sequence []int) []int {
	if p.Pull.Pull == nil {
		return sequence
	}
	wait := waiting(m, left)
	out := p.Pull.Pulled
	var now, late []int
	for _, j := range sequence {
		out = out || left[j].Pulls
		if out && wait[left[j]] {
			late = append(late, j)
		} else {
			now = append(now, j)
		}
	}
	return append(now, late...)
}

func against(m *model.Model, jobs []order.Job, left []*engine.Step, best, other []int) Baseline {
	var b Baseline
	mine, theirs := Times(m, left, best), Times(m, left, other)
	var cost float64
	for j, job := range jobs {
		b.Expected += job.Weight * theirs[j].Total()
		cost += job.Weight * mine[j].Total()
		b.BeforePull += job.Weight * (theirs[j].Before - mine[j].Before)
		b.AfterPull += job.Weight * (theirs[j].After - mine[j].After)
	}
	for _, j := range other {
		b.Order = append(b.Order, jobs[j].Name)
	}
	if b.Expected > 0 {
		b.SavedPercent = 100 * (b.Expected - cost) / b.Expected
	}
	return b
}

// Time is when a step is finished, in minutes from now with those of putting back
// what was taken off in the vehicle: what is spent before the pull, and from it on.
type Time struct {
	Before, After float64 // minutes
}

// Total is both together.
func (t Time) Total() float64 { return t.Before + t.After }

// Times is when each step is finished (indexed like steps) in a sequence of
// them. With no pull among the steps all minutes count as after it.
func Times(m *model.Model, steps []*engine.Step, sequence []int) []Time {
	wait := waiting(m, steps)
	pulled := true
	for _, s := range steps {
		if s.Pulls {
			pulled = false
		}
	}
	out := make([]Time, len(steps))
	var t Time
	for _, j := range sequence {
		s := steps[j]
		pulled = pulled || s.Pulls
		switch {
		case !pulled:
			t.Before += spent(s)
		case s.Pulls || wait[s]:
			t.After += spent(s)
		default:
			t.After += s.Minutes.Value
		}
		out[j] = t
	}
	return out
}
