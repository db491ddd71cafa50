package refine

import (
	"context"
	"math"
	"slices"
)

// Bounds of what is tried on the way to where nothing moves, none of which asks about a
// case; by trial.
const (
	mostInner  = 200  // steps towards one scoring step
	enoughOf   = 1e-3 // of what is left at first, where these end
	mostHalved = 6    // a step that leads away is halved so often
	mostVain   = 8    // so many steps that lead no nearer
)

// follow goes from theta to where the counts of a large casebook, as they stand for its
// cases nearby, leave every number: by scoring steps, each the score over the observed
// information. A step after which more is left than before is halved. It ends where no
// number is farther than tolerance from there, in its own standard deviations, or at the
// nearest point, cut, where steps lead no nearer: what numbers share is not known well
// enough to tell combinations on which the cases say next to nothing.
func (l *learner) follow(ctx context.Context, phase string, items []*item, theta []float64, held []bool, tolerance float64) ([]float64, []Iteration, error) {
	var trace []Iteration
	var step []float64
	var mix anderson
	from, before, halved := theta, math.Inf(1), 0
	best, nearest, vain := theta, math.Inf(1), 0
	l.cut = false
	for it := 1; it <= l.opt.MaxIterations; it++ {
		l.set(theta)
		l.progress(Progress{Phase: phase, Iteration: it, Done: len(items), Total: len(items), LogPosterior: math.NaN()}) // counted before
		c, err := l.expect(ctx, items, theta, nil)
		if err != nil {
			return nil, nil, err
		}
		_, o := l.ahead(theta, c, 1, held)
		score := make([]float64, len(theta))
		left := 0.0
		for i := range theta {
			if o.info[i] > 0 {
				prior := l.params[i].prior
				score[i] = prior.A + c.s[i] - theta[i]*(prior.Size()+c.n[i])
				if l.anchor.ends(i, theta[i], score[i]) {
					score[i], o.info[i] = 0, 0
					continue
				}
				left += score[i] * score[i] / o.info[i]
			}
		}
		if left > before && halved < mostHalved {
			halved++
			mix.clear()
			for i := range step {
				step[i] /= 2
			}
			theta = l.moved(from, step)
			continue
		}
		trace = append(trace, Iteration{it, math.NaN()})
		if vain++; left < nearest {
			best, nearest, vain = theta, left, 0
			l.last, l.lastAt = c, theta
		}
		if vain == mostVain {
			break
		}
		if step, err = l.scoring(ctx, theta, score, o.info); err != nil {
			return nil, nil, err
		}
		from, before, halved = theta, left, 0
		far := 0.0
		for i, d := range step {
			far = math.Max(far, math.Abs(d)*math.Sqrt(o.info[i]))
		}
		if far <= tolerance {
			return l.moved(from, step), trace, nil
		}
		x := make([]float64, len(from))
		for i, t := range from {
			x[i] = logit(t)
		}
		step = mix.mixed(x, step, o.info)
		for i := range step {
			step[i] = math.Max(-leap, math.Min(leap, step[i]))
		}
		theta = l.moved(from, step)
	}
	l.cut = true
	return best, trace, nil
}

// reach is how far from where the cases were counted a number may go, in log-odds: what
// they would count farther off is not known (by trial). The next count takes it on from
// there.
const reach = 1.2

// ends tells whether a number is as far off as it may go, and would go farther.
func (a *anchor) ends(i int, theta, score float64) bool {
	off := logit(theta) - logit(a.at[i])
	return math.Abs(off) >= reach-1e-9 && off*score > 0
}

// moved is theta after a step in log-odds, within reach.
func (l *learner) moved(theta, step []float64) []float64 {
	out := slices.Clone(theta)
	for i, d := range step {
		if d != 0 {
			at := logit(l.anchor.at[i])
			to := math.Max(at-reach, math.Min(at+reach, logit(theta[i])+d))
			out[i] = max(l.params[i].least, inside(1/(1+math.Exp(-to))))
		}
	}
	return out
}

// scoring is the score over the observed information, at most a leap for each number, by
// conjugate gradients (Hestenes and Stiefel 1952) scaled by the information on each. What
// numbers share is estimated, and may take more from one than there is of it: there the
// step is that so far (Steihaug 1983). Numbers of no information are held. It fails with
// the context's error alone.
func (l *learner) scoring(ctx context.Context, theta, score, info []float64) ([]float64, error) {
	k := len(score)
	x, r, z, p, hp := make([]float64, k), slices.Clone(score), make([]float64, k), make([]float64, k), make([]float64, k)
	free := make([]int, 0, k)
	for i := range k {
		if info[i] > 0 {
			free = append(free, i)
		}
	}
	root := l.anchor.roots(theta)
	rz := 0.0
	for _, i := range free {
		z[i] = r[i] / info[i]
		p[i] = z[i]
		rz += r[i] * z[i]
	}
	end := enoughOf * enoughOf * rz
	for n := 0; n < mostInner && rz > end; n++ {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		bent := 0.0
		for _, i := range free {
			h := 0.0
			for _, w := range l.anchor.with[i] {
				h -= w.by * root[w.param] * p[w.param] // 0 for what is held
			}
			hp[i] = info[i]*p[i] + root[i]*h
			bent += p[i] * hp[i]
		}
		if bent <= 0 {
			if n == 0 {
				copy(x, p)
			}
			break
		}
		by := rz / bent
		next := 0.0
		for _, i := range free {
			x[i] += by * p[i]
			r[i] -= by * hp[i]
			z[i] = r[i] / info[i]
			next += r[i] * z[i]
		}
		for _, i := range free {
			p[i] = z[i] + next/rz*p[i]
		}
		rz = next
	}
	for i := range x {
		x[i] = math.Max(-leap, math.Min(leap, x[i]))
	}
	return x, nil
}
