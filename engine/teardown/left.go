package teardown

import (
	"slices"

	"slipcase/engine"
	"slipcase/engine/model"
	"slipcase/engine/teardown/order"
)

// Left is what is left to do of a unit's teardown. Plan and prices of checks come
// from this one sum: the minutes of a job are those of its step and, in the vehicle
// and for the pull, of putting back what it took off. A step whose checks the case
// answers was done by them and takes none.
type Left struct {
	Steps  []*engine.Step  // in the unit's order; one that was looked at is a copy without minutes
	Looked map[string]bool // by step: its checks have looked at what it shows
	Jobs   []order.Job     // along Steps, without weights
}

// Remaining lists the steps left of a case. It returns an error for a done step
// that the unit does not have, and for steps in a circle.
func Remaining(m *model.Model, c *engine.CaseFile) (*Left, error) {
	done, err := indexes(m.Unit, c.Done)
	if err != nil {
		return nil, err
	}
	l := &Left{Looked: map[string]bool{}}
	for _, name := range m.Looks(c).Steps(nil) {
		l.Looked[name] = true
	}
	for i := range m.Unit.Steps {
		s := &m.Unit.Steps[i]
		if l.Looked[s.Name] {
			free := *s
			free.Minutes.Value, free.Refit.Value = 0, 0
			s = &free
		}
		l.Steps = append(l.Steps, s)
	}
	l.Jobs = jobsOf(l.Steps, func(string) float64 { return 0 })
	if err := l.drop(done); err != nil {
		return nil, err
	}
	if !slices.ContainsFunc(l.Steps, func(s *engine.Step) bool { return s.Pulls }) {
		wait := waiting(m, l.Steps)
		for i, s := range l.Steps {
			if !wait[s] {
				l.Jobs[i].Minutes = s.Minutes.Value // it is out
			}
		}
	}
	return l, nil
}

// drop takes steps out of what is left.
func (l *Left) drop(which []int) error {
	jobs, index, err := order.Remaining(l.Jobs, which)
	if err != nil {
		return err
	}
	steps := make([]*engine.Step, len(index))
	for i, j := range index {
		steps[i] = l.Steps[j]
	}
	l.Jobs, l.Steps = jobs, steps
	return nil
}

// weigh gives each job the weight of what its step brings into view.
func (l *Left) weigh(weight map[string]float64) {
	for i, s := range l.Steps {
		l.Jobs[i].Weight = 0
		for _, name := range s.Exposes {
			l.Jobs[i].Weight += weight[name]
		}
	}
}

// leastLooked is the weight from which a step that was looked at by its checks stays
// in the plan, first and without minutes, until what it shows is found failed or
// cleared: below it the step counts as done. Basis: invented.
const leastLooked = 0.2

// settled lists the steps that were looked at and whose parts are hardly suspects.
func (l *Left) settled() []int {
	var out []int
	for i, s := range l.Steps {
		if l.Looked[s.Name] && l.Jobs[i].Weight < leastLooked {
			out = append(out, i)
		}
	}
	return out
}
