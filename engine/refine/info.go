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
}

// inform measures the information at theta, which must have been set.
func (l *learner) inform(ctx context.Context, phase string, items []*item, theta []float64) (*information, error) {
	k := len(l.params)
	inf := &information{
		trials: make([]float64, k), complete: make([]float64, k), own: make([]float64, k),
		net: make([]float64, k), alone: make([]float64, k), rival: make([]int, k),
	}
	// Sums over cases: scores, products of scores, and the most that the
	// missing information can have in common.
	sum := make([]float64, k)
	cross, bound := make([]float64, k*k), make([]float64, k*k)
	lost := make([]float64, k)
	report := Progress{Phase: phase, Iteration: 1, Total: len(items), LogPosterior: math.NaN()}
	err := l.inChunks(ctx, len(items), func(from, to int) (any, error) {
		var out [][]signal
		p := passing{}
		for _, it := range items[from:to] {
			fam, _, err := it.families(p)
			if err != nil {
				return nil, &caseError{it.id, err}
			}
			out = append(out, it.b.signals(fam, theta))
		}
		return out, nil
	}, func(a any) {
		for _, list := range a.([][]signal) {
			for i, s := range list {
				inf.trials[s.param] += s.occurs
				sum[s.param] += s.score
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
	n := float64(max(len(items), 1))
	for i := range k {
		inf.net[i], inf.alone[i], inf.rival[i] = inf.own[i], inf.own[i], -1
		if inf.own[i] == 0 {
			continue
		}
		for j := range k {
			if j == i || inf.own[j] == 0 {
				continue
			}
			at := min(i, j)*k + max(i, j)
			c := math.Abs(cross[at] - sum[i]*sum[j]/n)
			c = math.Min(math.Min(c, bound[at]), math.Sqrt(inf.own[i]*inf.own[j]))
			// What is left of i when j has to be estimated with it.
			left := inf.own[i] - c*c/(inf.own[j]+l.priorInformation(j, theta))
			inf.net[i] = min(inf.net[i], max(left, 0))
			if left := inf.own[i] - c*c/inf.own[j]; left < inf.alone[i] {
				inf.alone[i], inf.rival[i] = max(left, 0), j
			}
		}
	}
	return inf, nil
}

func (l *learner) priorInformation(i int, theta []float64) float64 {
	return l.params[i].prior.Size() * theta[i] * (1 - theta[i])
}

// signals adds up a case's trials by number, in order of numbers.
func (b *binding) signals(fam []network.Family, theta []float64) []signal {
	at := map[int]int{}
	var out []signal
	b.trials(fam, theta, func(t trial) {
		i, ok := at[t.param]
		if !ok {
			i = len(out)
			at[t.param] = i
			out = append(out, signal{param: t.param})
		}
		out[i].score += t.success - theta[t.param]*t.occurs
		out[i].missing += t.missing(theta[t.param])
		out[i].occurs += t.occurs
	})
	slices.SortFunc(out, func(a, b signal) int { return a.param - b.param })
	return out
}
