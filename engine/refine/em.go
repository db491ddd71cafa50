package refine

import (
	"context"
	"math"
)

// Iteration is one step of the estimate: the logarithm of the posterior
// density of the log-odds before the step, up to a constant.
type Iteration struct {
	Number       int
	LogPosterior float64
}

// Progress tells how far the work is.
type Progress struct {
	Phase       string // "reading", "estimate", "settle", "intervals", "held-out"
	Iteration   int    // of the estimate under way, from 1; 0: asking held-out cases
	Done, Total int    // cases of this iteration
	// LogPosterior is that of the iteration before; not finite where there is
	// none.
	LogPosterior float64
}

func (l *learner) progress(p Progress) {
	if l.opt.Progress != nil {
		l.opt.Progress(p)
	}
}

// update is the M-step. Numbers that are held keep their value. scale weighs
// the cases.
func (l *learner) update(theta []float64, c *counts, scale float64, held []bool) []float64 {
	out := make([]float64, len(theta))
	for i, p := range l.params {
		if held != nil && held[i] {
			out[i] = theta[i]
			continue
		}
		out[i] = inside((p.prior.A + scale*c.s[i]) / (p.prior.Size() + scale*c.n[i]))
	}
	return out
}

// fit runs expectation-maximisation from theta to convergence. Once it is under
// way its steps are stretched, as the log-odds move; a stretched step that
// loses log-posterior is taken back and the plain one, which cannot, is made
// instead (adaptive overrelaxation: Salakhutdinov and Roweis 2003). So the
// trace of accepted iterations never falls.
func (l *learner) fit(ctx context.Context, phase string, items []*item, theta []float64, held []bool, scale, tolerance float64) ([]float64, []Iteration, error) {
	var trace []Iteration
	last, gain, stretch := math.Inf(-1), math.Inf(1), 1.0
	plain := theta // the step without stretching, always safe
	for it := 1; it <= l.opt.MaxIterations; it++ {
		l.set(theta)
		report := Progress{Phase: phase, Iteration: it, Total: len(items), LogPosterior: last}
		l.progress(report)
		c, err := l.expect(ctx, items, theta, func(done int) {
			report.Done = done
			l.progress(report)
		})
		if err != nil {
			return nil, nil, err
		}
		now := scale*c.logL + l.logPrior(theta)
		if now < last && stretch > 1 {
			theta, stretch = plain, 1
			continue
		}
		trace = append(trace, Iteration{it, now})
		next := l.update(theta, c, scale, held)
		// Gains fall by a steady ratio once the end is near.
		g := now - last
		ratio := math.Min(math.Max(g/gain, 0.5), 0.99)
		if len(trace) > 1 && g*ratio/(1-ratio) < tolerance {
			return next, trace, nil
		}
		last, gain, plain = now, g, next
		if len(trace) > 1 {
			stretch = math.Min(stretch*1.4, 4)
		}
		theta = l.stretched(theta, next, stretch)
	}
	return plain, trace, nil
}

// stretched goes from one point past another, in log-odds.
func (l *learner) stretched(from, to []float64, by float64) []float64 {
	if by <= 1 {
		return to
	}
	out := make([]float64, len(to))
	for i := range out {
		if from[i] == to[i] {
			out[i] = to[i]
			continue
		}
		x := logit(from[i])
		x += by * (logit(to[i]) - x)
		out[i] = inside(1 / (1 + math.Exp(-x)))
	}
	return out
}

// warm is the number of cases from which an estimate over a large casebook
// starts; each step after that takes five times as many. A spread of the
// cases stands for all of them there, each counting for several. Only the
// start is affected.
const warm = 400

// start gives the first numbers for fit.
func (l *learner) start(ctx context.Context, phase string, items []*item, held []bool, theta []float64) ([]float64, error) {
	for size := warm; 2*size <= len(items); size *= 5 {
		few := make([]*item, size)
		for i := range few {
			few[i] = items[i*len(items)/size]
		}
		var err error
		if theta, _, err = l.fit(ctx, phase, few, theta, held, float64(len(items))/float64(size), l.opt.Tolerance*10); err != nil {
			return nil, err
		}
	}
	return theta, nil
}
