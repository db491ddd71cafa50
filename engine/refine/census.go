package refine

import (
	"context"
	"math"
	"slices"
)

// sizes are what the cases of a large casebook are for.
type sizes struct {
	many   int     // beyond so many it is large
	few    int     // so many find where all are counted
	sample int     // so many are counted again
	wide   float64 // none of the few has a larger tree, in table entries
}

// usual sizes. One tree in twenty-five of the largest unit is wider than that, and those
// are two thirds of the work of the few, who are asked about several times.
var usual = sizes{many: 2000, few: 500, sample: 4000, wide: 1 << 21}

// census are the counts of a large casebook under one set of numbers: of the cases that
// are counted again and of the others, of those that are held out and of the others.
type census struct {
	at     []float64
	groups [4]*counts
}

// Places in a census are sums of these.
const (
	inSample = 1
	inTest   = 2
)

// group is where the case stands in a census.
func (it *item) group() int {
	g := 0
	if it.sampled {
		g += inSample
	}
	if it.fold%folds == 0 {
		g += inTest
	}
	return g
}

// draw picks the cases that are counted again, evenly from all of them.
func draw(items []*item, size int) {
	n := len(items)
	for i, it := range items {
		it.sampled = n <= size || i*size/n != (i+1)*size/n
	}
}

// tell adds a case to its group.
func (l *learner) tell(c *census, it *item) *counts {
	g := 0
	if l.grouped {
		g = it.group()
	}
	if c.groups[g] == nil {
		c.groups[g] = l.newCounts()
	}
	return c.groups[g]
}

// add adds the counts of other cases under the same numbers.
func (c *census) add(l *learner, o *census) {
	for g, x := range o.groups {
		if x == nil {
			continue
		}
		if c.groups[g] == nil {
			c.groups[g] = l.newCounts()
		}
		c.groups[g].add(x)
	}
}

// total are the counts of some groups.
func (c *census) total(l *learner, groups ...int) *counts {
	out := l.newCounts()
	for _, g := range groups {
		if c.groups[g] != nil {
			out.add(c.groups[g])
		}
	}
	return out
}

// widen tells parts apart that were set apart since: what was counted of their mode is
// known of each.
func (c *census) widen(l *learner) {
	for _, x := range c.groups {
		if x == nil {
			continue
		}
		for i := len(x.n); i < len(l.params); i++ {
			p := &l.params[i]
			t := c.at[p.single]
			own := x.parts[p.of.b.first+p.of.node]
			hits := own.score + t*own.occurs
			x.n, x.s, x.lost, x.bare = append(x.n, own.occurs), append(x.s, hits), append(x.lost, own.missing), append(x.bare, 0)
			x.n[p.single] -= own.occurs
			x.s[p.single] -= hits
			x.lost[p.single] -= own.missing
		}
	}
	c.at = l.wider(c.at)
}

// again counts the sample at theta, which must have been set: from there on the counts are
// what all had where all were counted, and by how much that of the sample has changed
// since. The same pass tells what the numbers have in common.
func (l *learner) again(ctx context.Context, phase string, items []*item, theta []float64) error {
	var sample []*item
	for _, it := range items {
		if it.sampled {
			sample = append(sample, it)
		}
	}
	l.first.widen(l)
	var err error
	if l.told, l.second, err = l.survey(ctx, phase, sample, theta); err != nil {
		return err
	}
	return l.stand(ctx, items, l.anchor.few, 0, inSample, inTest, inSample+inTest)
}

// stand has the counts of the cases of some groups stand for them, where the sample was
// counted again. It fails with the context's error alone.
func (l *learner) stand(ctx context.Context, items, few []*item, groups ...int) error {
	sampled := slices.DeleteFunc(slices.Clone(groups), func(g int) bool { return g&inSample == 0 })
	all, was, now := l.first.total(l, groups...), l.first.total(l, sampled...), l.second.total(l, sampled...)
	scale := float64(all.cases) / float64(max(was.cases, 1))
	return l.anchored(ctx, items, few, l.second.at, changed(all, was, now, scale), l.told)
}

// heldOutOfMany compares the rules before and after learning where the casebook is large:
// one part is left out of what was counted, which moves the optimum a little, and some of
// that part are asked about. Which numbers move is decided anew, while the parts that are
// set apart are those that all cases set apart, and what two numbers share is that of all.
func (l *learner) heldOutOfMany(ctx context.Context, items []*item) (*HeldOut, error) {
	out := &HeldOut{Folds: 1}
	rest := func(items []*item) (in, test []*item) {
		for _, it := range items {
			if it.group()&inTest == 0 {
				in = append(in, it)
			} else if it.scored {
				test = append(test, it)
			}
		}
		return in, test
	}
	train, test := rest(items)
	few, _ := rest(l.anchor.few)
	test = spread(test, mostAsked)
	if len(test) == 0 || len(few) == 0 {
		return nil, nil
	}
	for i := l.fixed; i < len(l.params); i++ { // those put back are apart again
		x := &l.params[i]
		x.of.b.leak[x.of.node] = i
	}
	if err := l.stand(ctx, train, few, 0, inSample); err != nil {
		return nil, err
	}
	origin := l.wider(l.originValues()[:l.fixed])
	tolerance := 10 * l.opt.Tolerance
	theta, _, err := l.fit(ctx, "held-out", train, l.settled, nil, 1, tolerance)
	if err != nil {
		return nil, err
	}
	e := &estimate{}
	if err := l.decide(ctx, train, e, theta, origin, tolerance, [2]string{"held-out", "held-out"}); err != nil {
		return nil, err
	}
	l.anchor = nil
	plain, err := l.accustomed(ctx, few, origin, e.theta)
	if err != nil {
		return nil, err
	}
	b, a, err := l.ask(ctx, test, plain, e.theta)
	if err != nil {
		return nil, err
	}
	return out.compare(b, a), nil
}

// newScores is room for the sums of so many cases, in the place of those before.
func (l *learner) newScores(cases int) *scores {
	k := len(l.params)
	return &scores{
		summed: cases, scale: 1, sum: make([]float64, k), square: make([]float64, k), shared: l.pairs(k),
		trials: make([]float64, k), heard: make([]float64, k), hits: make([]float64, k), lost: make([]float64, k),
	}
}

// survey counts some cases at theta, which must have been set, and adds up what each
// tells of every two numbers.
func (l *learner) survey(ctx context.Context, phase string, items []*item, theta []float64) (*scores, *census, error) {
	s := l.newScores(len(items))
	counted := &census{at: theta}
	type told struct {
		signals [][]signal
		counts  census
	}
	report := Progress{Phase: phase, Iteration: 1, Total: len(items), LogPosterior: math.NaN()}
	err := l.inChunks(ctx, len(items), func(from, to int) (any, error) {
		out := &told{}
		p := l.passing(ctx)
		for _, it := range items[from:to] {
			fam, logL, err := it.families(p)
			if err != nil {
				return nil, &caseError{it.id, err}
			}
			out.signals = append(out.signals, l.signals(it, fam, theta))
			if l.grouped {
				c := l.tell(&out.counts, it)
				l.take(c, it, fam, theta)
				c.logL += logL
				c.cases++
			}
		}
		return out, nil
	}, func(a any) {
		x := a.(*told)
		for _, list := range x.signals {
			if ctx.Err() != nil {
				return
			}
			s.add(list)
			report.Done++
		}
		counted.add(l, &x.counts)
		l.progress(report)
	})
	if err == nil {
		err = ctx.Err() // the sums may be of some cases only
	}
	return s, counted, err
}
