package refine

import (
	"context"

	"slipcase/engine/diagnose"
)

// Judge scores new values of numbers on cases that they were not learned from:
// the rules of the models before, the values after.
func Judge(models []*diagnose.Model, values map[string]float64, cases []Case) (*HeldOut, error) {
	l, err := newLearner(models, Options{})
	if err != nil {
		return nil, err
	}
	items, _ := l.choose(cases)
	before := l.originValues()
	after := append([]float64(nil), before...)
	for name, v := range values {
		after[l.index[name]] = v
	}
	out := &HeldOut{}
	var marks [2][]mark
	for i, theta := range [][]float64{before, after} {
		l.set(theta)
		if marks[i], err = l.ask(context.Background(), items); err != nil {
			return nil, err
		}
	}
	return out.compare(marks[0], marks[1]), nil
}
