package refine

import (
	"context"
	"math"
	"slices"
)

// anchor makes passes over a large casebook cheap. All cases are counted once, at
// numbers near the optimum; from there on some of them, standing for all, tell how
// the counts change: a control variate (as in stochastic variance reduction, Johnson and
// Zhang 2013). The counts are those of all cases at the anchor, and near it but for the
// share of a small change that the few get wrong. There is no likelihood whose counts
// these are, so that the estimate is watched by the length of its steps (see fit).
type anchor struct {
	all   []*item
	few   []*item
	scale float64
	was   *counts // of all cases, at the anchor
	some  *counts // of the few, there
}

// anchored counts all cases at theta, which must have been set, and has the few stand
// for them from there on. all are those counts where they are known, else nil.
func (l *learner) anchored(ctx context.Context, phase string, items, few []*item, theta []float64, all *counts) error {
	l.anchor = nil
	report := Progress{Phase: phase, Iteration: 1, Total: len(items), LogPosterior: math.NaN()}
	var err error
	if all == nil {
		if all, err = l.sum(ctx, items, theta, func(done int) {
			report.Done = done
			l.progress(report)
		}); err != nil {
			return err
		}
	}
	some, err := l.sum(ctx, few, theta, nil)
	if err != nil {
		return err
	}
	l.anchor = &anchor{all: items, few: few, scale: float64(len(items)) / float64(len(few)), was: all, some: some}
	return nil
}

// holds tells whether the few stand for these cases.
func (a *anchor) holds(items []*item) bool {
	return a != nil && len(items) == len(a.all) && &items[0] == &a.all[0]
}

// counts are those of all cases, from those of the few.
func (a *anchor) counts(some *counts) *counts {
	out := changed(a.was, a.some, some, a.scale)
	out.cases = len(a.all)
	return out
}

// changed is what all cases count, from what they did, and from what some of them, a
// share of one in scale, did and do now. A trial of theirs stands for as many of all as
// there are for each, where that is less than scale. Else more could seem to be missing
// of a number than there is in all, and the estimate would run off.
func changed(all, was, now *counts, scale float64) *counts {
	k := len(all.n)
	out := &counts{parts: slices.Clone(all.parts), n: make([]float64, k), s: make([]float64, k), lost: make([]float64, k), bare: make([]float64, k), cases: all.cases}
	for i := range k {
		times := 0.0
		if was.n[i] > 0 {
			times = math.Min(all.n[i]/was.n[i], scale)
		}
		// What some get wrong of a rare event may be more than there is.
		out.n[i] = math.Max(all.n[i]+times*(now.n[i]-was.n[i]), 0)
		out.s[i] = within(all.s[i]+times*(now.s[i]-was.s[i]), out.n[i])
		out.lost[i] = math.Max(all.lost[i]+times*(now.lost[i]-was.lost[i]), 0)
		out.bare[i] = within(all.bare[i]+times*(now.bare[i]-was.bare[i]), out.n[i])
	}
	for i := range out.parts {
		x, o := &now.parts[i], &was.parts[i]
		out.parts[i].add(scale*(x.occurs-o.occurs), scale*(x.score-o.score), scale*(x.missing-o.missing))
	}
	out.logL = all.logL + scale*(now.logL-was.logL)
	return out
}

// joins gives the counts of a number to the one that it is told by again.
func (a *anchor) joins(i, to int) {
	if a == nil || i >= len(a.was.n) {
		return
	}
	for _, c := range []*counts{a.was, a.some} {
		for _, list := range [][]float64{c.n, c.s, c.lost, c.bare} {
			list[to] += list[i]
			list[i] = 0
		}
	}
}
