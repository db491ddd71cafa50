package refine

import (
	"context"
	"math"
	"slices"
)

// anchor has the counts of a large casebook stand for what they would be at numbers
// nearby, so that an estimate asks about no case again. All cases are counted once, near
// the optimum. How the counts change from there is what is missing of each number, which
// all cases tell, and what every two numbers share, which the cases tell of that were
// surveyed: with both, the step to the optimum is the scoring step from a first estimate
// (Fisher 1925; Le Cam 1956), by the observed information of Louis 1982. There is no
// likelihood whose counts these are, so that the estimate is watched by the length of its
// steps (see follow).
type anchor struct {
	all  []*item
	few  []*item   // cases for what is asked of some
	at   []float64 // the numbers where all were counted
	was  *counts   // of all cases, there
	seen *counts   // of them, the trials of which more is known than that there was a complaint
	own  []float64 // the information in these
	with [][]pull  // by number: those that share cases with it
}

// pull is by how much the successes of a number change with the log-odds of another.
type pull struct {
	param int
	by    float64
}

// anchored has the counts of all cases at theta, with what some of them have in common
// there, stand for them. It fails with the context's error alone.
func (l *learner) anchored(ctx context.Context, items, few []*item, theta []float64, all *counts, told *scores) error {
	a := &anchor{all: items, few: few, at: slices.Clone(theta), was: all, seen: all.seen(theta), own: make([]float64, len(theta)), with: make([][]pull, len(theta))}
	s := *told
	s.scale = float64(len(items)) / float64(max(s.summed, 1))
	inf := &information{own: a.own}
	for i, t := range theta {
		a.own[i] = max(0, a.seen.n[i]*t*(1-t)-a.seen.lost[i])
	}
	chance := chanceOf(&s)
	for i := range theta {
		if err := ctx.Err(); err != nil {
			return err
		}
		for j := range i {
			// What is missing on two numbers has in common what they share, with the
			// other sign: the more of one, the less of the other.
			if c, r := s.common(inf, i, j); r > chance {
				a.with[i] = append(a.with[i], pull{j, -c})
				a.with[j] = append(a.with[j], pull{i, -c})
			}
		}
	}
	root := make([]float64, len(theta))
	for i, t := range theta {
		root[i] = math.Sqrt(a.own[i] + l.params[i].prior.Size()*t*(1-t))
	}
	low, err := lowest(ctx, a.with, root)
	if err != nil {
		return err
	}
	if low < -mostTaken {
		for i := range a.with {
			for j := range a.with[i] {
				a.with[i][j].by *= -mostTaken / low
			}
		}
	}
	l.anchor = a
	return nil
}

// mostTaken is the most that numbers take from each other of the information on any
// combination of them (by trial). What they share is estimated for every two by
// themselves, and together it may come out as more than there is.
const mostTaken = 0.9

// lowest is the lowest eigenvalue of what numbers share, each over the roots of the
// information on both, by the power method: the least that is left of a combination is
// one and that. It fails with the context's error alone.
func lowest(ctx context.Context, with [][]pull, root []float64) (float64, error) {
	x, y := make([]float64, len(root)), make([]float64, len(root))
	at := func(shift float64, times int) (most float64) {
		for i := range x {
			x[i] = 1 + float64(i%7)/7
		}
		for range times {
			if ctx.Err() != nil {
				return 0
			}
			sum := 0.0
			for i := range y {
				y[i] = shift * x[i]
				for _, w := range with[i] {
					y[i] += w.by * x[w.param] / (root[i] * root[w.param]) // by has the other sign
				}
				sum += y[i] * y[i]
			}
			if most = math.Sqrt(sum); most == 0 {
				return 0
			}
			for i := range x {
				x[i] = y[i] / most
			}
		}
		return most
	}
	wide := at(0, 100) // the largest in size, on either side, nearly
	return wide - at(wide, 3000), ctx.Err()
}

// holds tells whether the counts stand for these cases.
func (a *anchor) holds(items []*item) bool {
	return a != nil && len(items) == len(a.all) && &items[0] == &a.all[0]
}

// counts are those of all cases at theta.
func (a *anchor) counts(models []*binding, theta []float64) *counts {
	was := a.was
	out := &counts{
		parts: slices.Clone(was.parts), n: slices.Clone(was.n), s: slices.Clone(was.s), lost: slices.Clone(was.lost), bare: slices.Clone(was.bare),
		logL: was.logL, cases: was.cases,
	}
	step, turn, root := make([]float64, len(theta)), make([]float64, len(theta)), a.roots(theta)
	for i, t := range theta {
		step[i] = logit(t) - logit(a.at[i])
		turn[i] = 2 * (math.Asin(math.Sqrt(t)) - math.Asin(math.Sqrt(a.at[i]))) / math.Sqrt(a.at[i]*(1-a.at[i]))
	}
	for i, t := range theta {
		n := was.n[i]
		if n <= 0 {
			continue
		}
		// The trials that nobody saw come out as often as the number says.
		then := a.at[i]
		unseen := math.Min(was.lost[i]/(then*(1-then)), n)
		out.lost[i] = unseen * t * (1 - t)
		by := 0.0
		for _, x := range a.with[i] {
			by += x.by * turn[x.param]
		}
		// No event is counted less than never, nor oftener than always.
		out.s[i] = within(bounded(was.s[i], root[i]*by, n)+unseen*(t-then), n)
	}
	for _, b := range models {
		for i, p := range b.leak {
			if p >= 0 && step[p] != 0 {
				x := &out.parts[b.first+i]
				t := a.at[p]
				x.score -= (x.occurs*t*(1-t) - x.missing) * step[p]
			}
		}
	}
	return out
}

// roots are the roots of the information in one trial of each number, over those where
// all were counted: what two numbers share goes as the product of theirs, as what there
// is of each goes as its square, so that no step makes them share more than there is.
func (a *anchor) roots(theta []float64) []float64 {
	out := make([]float64, len(theta))
	for i, t := range theta {
		out[i] = math.Sqrt(t * (1 - t) / (a.at[i] * (1 - a.at[i])))
	}
	return out
}

// bounded is s of n with by more, or less, of which there is less the nearer it comes to
// none or all.
func bounded(s, by, n float64) float64 {
	room := n - s
	if by < 0 {
		room = s
	}
	if room <= 0 {
		return s
	}
	return s + room*math.Copysign(-math.Expm1(-math.Abs(by)/room), by)
}

// joins gives the counts of a number to the one that it is told by again.
func (a *anchor) joins(i, to int) {
	if a == nil || i >= len(a.was.n) {
		return
	}
	for _, list := range [][]float64{a.was.n, a.was.s, a.was.lost, a.was.bare, a.seen.n, a.seen.lost, a.own} {
		list[to] += list[i]
		list[i] = 0
	}
	for _, x := range a.with[i] {
		if x.param == to {
			continue
		}
		a.with[to] = append(a.with[to], pull{x.param, x.by})
		for j := range a.with[x.param] {
			if y := &a.with[x.param][j]; y.param == i {
				y.param = to
			}
		}
	}
	a.with[to] = slices.DeleteFunc(a.with[to], func(x pull) bool { return x.param == i })
	a.with[i] = nil
}

// known are the trials of which more is known than that there was a complaint, at theta.
func (a *anchor) known(theta []float64) *counts {
	out := &counts{n: slices.Clone(a.seen.n), lost: slices.Clone(a.seen.lost)}
	for i, t := range theta {
		out.lost[i] = math.Max(0, out.n[i]-a.own[i]/(a.at[i]*(1-a.at[i]))) * t * (1 - t)
	}
	return out
}

// seen are the trials of which more is known than that there was a complaint, with what
// is missing of them (see signals).
func (c *counts) seen(theta []float64) *counts {
	out := &counts{n: slices.Clone(c.n), lost: slices.Clone(c.lost)}
	for i, n := range c.bare {
		out.n[i] = math.Max(0, out.n[i]-n)
		out.lost[i] = math.Max(0, out.lost[i]-n*theta[i]*(1-theta[i]))
	}
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
