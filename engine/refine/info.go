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

// informed is the number of cases from which on a spread of them tells the
// information that there is in all: to some per cent, which is as much as the
// approximations in it are worth.
const informed = 2000

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
	shared := l.pairs(k)
	lost := make([]float64, k)
	few := spread(items, informed)
	scale := float64(len(items)) / float64(max(len(few), 1))
	report := Progress{Phase: phase, Iteration: 1, Total: len(few), LogPosterior: math.NaN()}
	err := l.inChunks(ctx, len(few), func(from, to int) (any, error) {
		var out [][]signal
		p := l.passing(ctx)
		for _, it := range few[from:to] {
			fam, _, err := it.families(p)
			if err != nil {
				return nil, &caseError{it.id, err}
			}
			out = append(out, l.signals(it, fam, theta))
		}
		return out, nil
	}, func(a any) {
		for _, list := range a.([][]signal) {
			if ctx.Err() != nil {
				return
			}
			for i := range list {
				s := &list[i]
				inf.trials[s.param] += s.occurs
				inf.heard[s.param] += s.heard
				inf.hits[s.param] += s.hits
				sum[s.param] += s.score
				square[s.param] += s.score * s.score
				lost[s.param] += s.missing
				s.missing = math.Sqrt(s.missing)
			}
			// Row by row: this is most of the work, and its time goes into
			// fetching the matrix.
			for i := range list {
				s := &list[i]
				after := shared[row(s.param, k)+s.param+1:]
				for j := i + 1; j < len(list); j++ {
					o := &list[j]
					x := &after[o.param-s.param-1]
					x.cross += s.score * o.score
					x.bound += s.missing * o.missing
				}
			}
			report.Done++
		}
		l.progress(report)
	})
	if err == nil {
		err = ctx.Err() // the sums may be of some cases only
	}
	if err != nil {
		return nil, err
	}
	for _, list := range [][]float64{inf.trials, inf.heard, inf.hits, sum, square, lost} {
		if scale != 1 {
			for i := range list {
				list[i] *= scale
			}
		}
	}
	if scale != 1 {
		for i := range shared {
			shared[i].cross *= scale
			shared[i].bound *= scale
		}
	}
	for i := range k {
		t := theta[i]
		inf.complete[i] = inf.trials[i] * t * (1 - t)
		inf.own[i] = max(0, inf.complete[i]-lost[i])
	}
	return inf, l.rivalry(ctx, inf, &scores{len(items), len(few), sum, square, shared}, theta)
}

// pairs is room for every two of k numbers, empty, in the place of the one before: of
// thousands of numbers it is a hundred megabytes, and wanted a dozen times.
func (l *learner) pairs(k int) []common {
	n := k * (k - 1) / 2
	if cap(l.common) < n {
		l.common = make([]common, n)
	}
	l.common = l.common[:n]
	clear(l.common)
	return l.common
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
