package refine

import (
	"context"
	"math"
)

// anchor makes passes over a large casebook cheap. All cases are counted once, at
// numbers near the optimum; from there on some of them, standing for all, tell how
// the counts change, and what all have and the few do not have at the anchor is added
// as it is: a control variate (as in stochastic variance reduction, Johnson and Zhang
// 2013). The counts are those of all cases at the anchor, and near it but for the
// share of a small change that the few get wrong. Each step is one of
// expectation-maximization for the sum of the few's log-likelihood and that of the
// cases that were added, so that it still never falls.
type anchor struct {
	all   []*item
	few   []*item
	scale float64
	more  *counts // of all cases less those of the few, at the anchor
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
	a := &anchor{all: items, few: few, scale: float64(len(items)) / float64(len(few)), more: l.newCounts()}
	a.more.plus(all, 1)
	a.more.plus(some, -a.scale)
	// The log-likelihood of what is added is 0 at the anchor.
	a.more.logL = all.logL - a.scale*some.logL - a.added(theta)
	l.anchor = a
	return nil
}

// holds tells whether the few stand for these cases.
func (a *anchor) holds(items []*item) bool {
	return a != nil && len(items) == len(a.all) && &items[0] == &a.all[0]
}

// added is the log-likelihood of what is added to the few.
func (a *anchor) added(theta []float64) float64 {
	sum := 0.0
	for i, t := range theta {
		sum += a.more.s[i]*math.Log(t) + (a.more.n[i]-a.more.s[i])*math.Log1p(-t)
	}
	return sum
}

// counts are those of all cases, from those of the few at theta.
func (a *anchor) counts(some *counts, theta []float64) *counts {
	out := &counts{parts: make([]part, len(some.parts)), n: make([]float64, len(some.n)), s: make([]float64, len(some.n)), lost: make([]float64, len(some.n))}
	out.plus(a.more, 1)
	out.plus(some, a.scale)
	out.logL += a.added(theta)
	out.cases = len(a.all)
	for i := range out.n {
		// What the few get wrong of a rare event may be more than there is.
		out.n[i] = math.Max(out.n[i], 0)
		out.s[i] = within(out.s[i], out.n[i])
		out.lost[i] = math.Max(out.lost[i], 0)
	}
	return out
}

// plus adds o so many times.
func (c *counts) plus(o *counts, times float64) {
	for i := range o.n {
		c.n[i] += times * o.n[i]
		c.s[i] += times * o.s[i]
		c.lost[i] += times * o.lost[i]
	}
	for i := range c.parts {
		x := &o.parts[i]
		c.parts[i].add(times*x.occurs, times*x.score, times*x.missing)
	}
	c.logL += times * o.logL
}

// joins gives the counts of a number to the one that it is told by again.
func (a *anchor) joins(i, to int) {
	if a == nil || i >= len(a.more.n) {
		return
	}
	for _, list := range [][]float64{a.more.n, a.more.s, a.more.lost} {
		list[to] += list[i]
		list[i] = 0
	}
}
