package refine

import (
	"context"
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

// inform measures the information at theta, which must have been set. Where
// counts stand for the cases, the trials are those of the last step, and what numbers have
// in common is what the sample tells.
func (l *learner) inform(ctx context.Context, phase string, items []*item, theta []float64) (*information, error) {
	if l.anchor.holds(items) && l.told != nil {
		s := *l.told
		s.scale = float64(len(items)) / float64(max(s.summed, 1))
		return l.informed(ctx, &s, l.seen.n, l.seen.lost, theta)
	}
	few := spread(items, informed)
	s, _, err := l.survey(ctx, phase, few, theta)
	if err != nil {
		return nil, err
	}
	s.scale = float64(len(items)) / float64(max(len(few), 1))
	return l.informed(ctx, s, scaledBy(s.trials, s.scale), scaledBy(s.lost, s.scale), theta)
}

func scaledBy(list []float64, f float64) []float64 {
	out := slices.Clone(list)
	for i := range out {
		out[i] *= f
	}
	return out
}

// informed is the information from so many trials, of which so much is missing.
func (l *learner) informed(ctx context.Context, s *scores, trials, lost, theta []float64) (*information, error) {
	k := len(l.params)
	inf := &information{
		trials: trials, heard: scaledBy(s.heard, s.scale), hits: scaledBy(s.hits, s.scale), complete: make([]float64, k), own: make([]float64, k),
		net: make([]float64, k), alone: make([]float64, k), rival: make([]int, k),
	}
	for i := range k {
		t := theta[i]
		inf.complete[i] = inf.trials[i] * t * (1 - t)
		inf.own[i] = max(0, inf.complete[i]-lost[i])
	}
	return inf, l.rivalry(ctx, inf, s, theta)
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
		if t.bare { // they tell nothing but through their score: as much is missing as there would be
			out[i].missing -= t.occurs * theta[t.param] * (1 - theta[t.param])
			return
		}
		out[i].occurs += t.occurs
		if !it.silent[t.node] {
			out[i].heard += t.occurs
			out[i].hits += t.success
		}
	})
	slices.SortFunc(out, func(a, b signal) int { return a.param - b.param })
	return out
}
