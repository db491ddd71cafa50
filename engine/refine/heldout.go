package refine

import (
	"context"
	"math"
	"slices"

	"slipcase/engine/network"
)

// Score says how well rules foretell what was found from what was reported,
// over cases that they were not learned from.
type Score struct {
	// Log is the mean over cases of the natural logarithm of P(all that was
	// found and cleared | reports): of a joint event, so that looking at a
	// part together with another is not counted twice. Higher is better.
	Log float64
	// Brier is the mean over cases of the sum, over modes known to have been
	// there (found) or not (component cleared), of (P(mode | reports) − fact)².
	// Modes of parts that were not looked at are left out. Lower is better.
	Brier float64
	// Top1 and Top3 are the shares of cases with something found in which a
	// component found failed was the first, or among the first three.
	Top1, Top3 float64
}

// HeldOut compares the rules before and after learning.
type HeldOut struct {
	Cases         int // cases scored
	Culprits      int // of them, with a component found failed
	Folds         int // parts that were held out in turn
	Before, After Score
	// Gain is the mean of the difference in Log, Error its standard error.
	Gain, Error float64
}

// mark is one case's share in a score.
type mark struct {
	log, brier float64
	culprit    bool
	rank       int // of the best component found, from 1; outside from there on
	unusable   bool
}

// folds is the number of parts; allFolds the number of cases up to which each
// is held out in turn. Beyond it one is enough.
const (
	folds    = 5
	allFolds = 1000
)

// heldOut learns without a part of the cases and asks about that part.
func (l *learner) heldOut(ctx context.Context, items []*item, held []bool) (*HeldOut, error) {
	out := &HeldOut{}
	turns := folds
	if len(items) > allFolds {
		turns = 1
	}
	origin := l.originValues()
	var before, after []mark
	for turn := range turns {
		var train, test []*item
		for _, it := range items {
			if it.fold%folds == uint32(turn) {
				if it.scored {
					test = append(test, it)
				}
			} else {
				train = append(train, it)
			}
		}
		if len(test) == 0 || len(train) == 0 {
			continue
		}
		out.Folds++
		theta, err := l.start(ctx, "held-out", train, held, origin)
		if err != nil {
			return nil, err
		}
		if theta, _, err = l.fit(ctx, "held-out", train, theta, held, 1, 10*l.opt.Tolerance); err != nil {
			return nil, err
		}
		for _, side := range []struct {
			theta []float64
			to    *[]mark
		}{{origin, &before}, {theta, &after}} {
			l.set(side.theta)
			marks, err := l.ask(ctx, test)
			if err != nil {
				return nil, err
			}
			*side.to = append(*side.to, marks...)
		}
	}
	return out.compare(before, after), nil
}

// compare fills in the scores of the same cases under two sets of numbers.
func (out *HeldOut) compare(before, after []mark) *HeldOut {
	var diffs []float64
	for i := range before {
		if before[i].unusable || after[i].unusable {
			before[i].unusable, after[i].unusable = true, true
			continue
		}
		diffs = append(diffs, after[i].log-before[i].log)
	}
	out.Before, out.Cases, out.Culprits = score(before)
	out.After, _, _ = score(after)
	out.Gain, out.Error = meanError(diffs)
	return out
}

func meanError(x []float64) (mean, err float64) {
	if len(x) == 0 {
		return 0, 0
	}
	for _, v := range x {
		mean += v
	}
	n := float64(len(x))
	mean /= n
	if len(x) < 2 {
		return mean, math.Inf(1)
	}
	for _, v := range x {
		err += (v - mean) * (v - mean)
	}
	return mean, math.Sqrt(err / (n - 1) / n)
}

func score(marks []mark) (s Score, cases, culprits int) {
	for _, m := range marks {
		if m.unusable {
			continue
		}
		cases++
		s.Log += m.log
		s.Brier += m.brier
		if m.culprit {
			culprits++
			if m.rank == 1 {
				s.Top1++
			}
			if m.rank <= 3 {
				s.Top3++
			}
		}
	}
	if cases > 0 {
		s.Log /= float64(cases)
		s.Brier /= float64(cases)
	}
	if culprits > 0 {
		s.Top1 /= float64(culprits)
		s.Top3 /= float64(culprits)
	}
	return s, cases, culprits
}

// ask scores cases under the numbers that are set.
func (l *learner) ask(ctx context.Context, items []*item) ([]mark, error) {
	var out []mark
	report := Progress{Phase: "held-out", Total: len(items), LogPosterior: math.NaN()}
	err := l.inChunks(ctx, len(items), func(from, to int) (any, error) {
		var part []mark
		for _, it := range items[from:to] {
			part = append(part, it.ask())
		}
		return part, nil
	}, func(a any) {
		out = append(out, a.([]mark)...)
		report.Done = len(out)
		l.progress(report)
	})
	return out, err
}

// ask scores one case. A case that cannot be answered exactly is left out on
// both sides.
func (it *item) ask() mark {
	b := it.b
	post, err := b.asking.SolveSubset(it.reports, b.m.Modes())
	if err != nil || post.Low != nil {
		return mark{unusable: true}
	}
	both, err := b.asking.SolveSubset(slices.Concat(it.reports, it.seen), nil)
	if err != nil || both.Low != nil {
		return mark{unusable: true}
	}
	m := mark{log: both.LogEvidence - post.LogEvidence, culprit: len(it.found) > 0}
	known := map[int]bool{}
	for _, s := range it.seen {
		if known[s.Node] {
			continue
		}
		known[s.Node] = true
		fact := 0.0
		if s.On > 0 {
			fact = 1
		}
		m.brier += (post.P[s.Node] - fact) * (post.P[s.Node] - fact)
	}
	if m.culprit {
		if m.rank, err = b.rank(it, post.P, post.LogEvidence); err != nil {
			return mark{unusable: true}
		}
	}
	return m
}

// standing is a component's probability between two bounds.
type standing struct {
	name    string
	low, up float64
	found   bool
}

// rank is the place of the best component found among all components, up to
// outside, by
// P(failed | reports), ties by name. P lies between the largest of its modes
// and their sum; it is worked out only where that leaves the order open.
func (b *binding) rank(it *item, p []float64, logL float64) (int, error) {
	var all []standing
	for i := range b.m.Unit.Components {
		s := standing{name: b.m.Unit.Components[i].Name}
		for _, n := range b.m.ModesOf(s.name) {
			s.low = max(s.low, p[n])
			s.up += p[n]
		}
		s.up = min(s.up, 1)
		s.found = slices.Contains(it.found, s.name)
		all = append(all, s)
	}
	exact := func(s *standing) error {
		if s.low == s.up {
			return nil
		}
		ev := slices.Clone(it.reports)
		for _, n := range b.m.ModesOf(s.name) {
			if p[n] > 0 {
				ev = append(ev, network.Likelihood{Node: n, Off: 1, Tag: -1})
			}
		}
		off, err := b.asking.SolveSubset(ev, nil)
		if err != nil {
			return err
		}
		v := within(-math.Expm1(off.LogEvidence-logL), 1)
		s.low, s.up = v, v
		return nil
	}
	best := outside
	for i := range all {
		if !all[i].found {
			continue
		}
		// Nothing to work out where three are surely above.
		above := 0
		for j := range all {
			if j != i && all[j].low > all[i].up+tie {
				above++
			}
		}
		if above >= outside-1 {
			continue
		}
		r := 1
		for j := range all {
			if j == i || all[j].up < all[i].low-tie {
				continue
			}
			if all[j].low <= all[i].up+tie {
				if err := exact(&all[i]); err != nil {
					return 0, err
				}
				if all[j].up < all[i].low-tie {
					continue
				}
				if err := exact(&all[j]); err != nil {
					return 0, err
				}
			}
			d := all[j].low - all[i].up
			if d > tie || d >= -tie && all[j].name < all[i].name {
				r++
			}
			if r == outside {
				break
			}
		}
		best = min(best, r)
	}
	return best, nil
}

// outside is the rank of all that are not among the first three.
const outside = 4

// tie is the difference below which two probabilities rank by name.
const tie = 1e-9
