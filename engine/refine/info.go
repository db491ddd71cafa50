package refine

import (
	"context"
	"math"
	"slices"

	"slipcase/engine/network"
)

// information is what the cases say about each number, on the scale of its
// log-odds.
type information struct {
	trials   []float64 // expected trials
	heard    []float64 // of them, where more than silence speaks of the node itself
	hits     []float64 // and their successes
	complete []float64 // information, had every trial been seen
	own      []float64 // less what is missing, other numbers known
	net      []float64 // less what the worst rival takes, its prior known
	alone    []float64 // less what the worst rival takes, nothing known of it
	rival    []int     // that rival, or -1
}

// signal is a case's score for one number, with its missing variance.
type signal struct {
	param          int
	score, missing float64
	occurs         float64
	heard, hits    float64
}

// inform measures the information at theta, which must have been set.
func (l *learner) inform(ctx context.Context, phase string, items []*item, theta []float64) (*information, error) {
	k := len(l.params)
	inf := &information{
		trials: make([]float64, k), heard: make([]float64, k), hits: make([]float64, k), complete: make([]float64, k), own: make([]float64, k),
		net: make([]float64, k), alone: make([]float64, k), rival: make([]int, k),
	}
	// Sums over cases: scores, products of scores, and the most that the
	// missing information can have in common.
	sum, square := make([]float64, k), make([]float64, k)
	cross, bound := make([]float64, k*k), make([]float64, k*k)
	lost := make([]float64, k)
	report := Progress{Phase: phase, Iteration: 1, Total: len(items), LogPosterior: math.NaN()}
	err := l.inChunks(ctx, len(items), func(from, to int) (any, error) {
		var out [][]signal
		p := l.passing(ctx)
		for _, it := range items[from:to] {
			fam, _, err := it.families(p)
			if err != nil {
				return nil, &caseError{it.id, err}
			}
			out = append(out, l.signals(it, fam, theta))
		}
		return out, nil
	}, func(a any) {
		for _, list := range a.([][]signal) {
			for i, s := range list {
				inf.trials[s.param] += s.occurs
				inf.heard[s.param] += s.heard
				inf.hits[s.param] += s.hits
				sum[s.param] += s.score
				square[s.param] += s.score * s.score
				lost[s.param] += s.missing
				for _, o := range list[:i] {
					at := o.param*k + s.param
					cross[at] += o.score * s.score
					bound[at] += math.Sqrt(o.missing * s.missing)
				}
			}
			report.Done++
		}
		l.progress(report)
	})
	if err != nil {
		return nil, err
	}
	for i := range k {
		t := theta[i]
		inf.complete[i] = inf.trials[i] * t * (1 - t)
		inf.own[i] = max(0, inf.complete[i]-lost[i])
	}
	l.rivalry(inf, &scores{len(items), sum, square, cross, bound}, theta)
	return inf, nil
}

func (l *learner) priorInformation(i int, theta []float64) float64 {
	return l.params[i].prior.Size() * theta[i] * (1 - theta[i])
}

// signals adds up a case's trials by number, in order of numbers.
func (l *learner) signals(it *item, fam []network.Family, theta []float64) []signal {
	at := map[int]int{}
	var out []signal
	l.trials(it, fam, theta, func(t trial) {
		i, ok := at[t.param]
		if !ok {
			i = len(out)
			at[t.param] = i
			out = append(out, signal{param: t.param})
		}
		out[i].score += t.success - theta[t.param]*t.occurs
		out[i].missing += t.missing(theta[t.param])
		out[i].occurs += t.occurs
		if !it.silent[t.node] {
			out[i].heard += t.occurs
			out[i].hits += t.success
		}
	})
	slices.SortFunc(out, func(a, b signal) int { return a.param - b.param })
	return out
}
