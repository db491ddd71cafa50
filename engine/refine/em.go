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
	Phase        string // "reading", "estimate", "settle", "intervals", "held-out"
	Iteration    int    // of the phase, from 1
	Done, Total  int    // cases of this iteration
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

// fit runs expectation-maximisation from theta to convergence.
func (l *learner) fit(ctx context.Context, phase string, items []*item, theta []float64, held []bool, scale float64) ([]float64, []Iteration, error) {
	var trace []Iteration
	last, gain := 0.0, math.Inf(1)
	for it := 1; it <= l.opt.MaxIterations; it++ {
		l.set(theta)
		report := Progress{Phase: phase, Iteration: it, Total: len(items), LogPosterior: math.NaN()}
		if it > 1 {
			report.LogPosterior = last
		}
		l.progress(report)
		c, err := l.expect(ctx, items, theta, func(done int) {
			report.Done = done
			l.progress(report)
		})
		if err != nil {
			return nil, nil, err
		}
		now := scale*c.logL + l.logPrior(theta)
		trace = append(trace, Iteration{it, now})
		theta = l.update(theta, c, scale, held)
		if it > 1 {
			// Gains fall by a steady ratio once the end is near.
			g := now - last
			ratio := math.Min(math.Max(g/gain, 0.5), 0.99)
			if it > 2 && g*ratio/(1-ratio) < l.opt.Tolerance {
				break
			}
			gain = g
		}
		last = now
	}
	return theta, trace, nil
}

// warm is the size up to which an estimate starts from the rules themselves; a
// larger casebook starts from the estimate of a spread of so many of its
// cases, each counting for several. Only the start is affected.
const warm = 400

// start gives the first numbers for fit.
func (l *learner) start(ctx context.Context, phase string, items []*item, held []bool, theta []float64) ([]float64, error) {
	var few []*item
	for _, it := range items {
		if it.cached {
			few = append(few, it)
		}
	}
	if len(few) == 0 || len(items) < 2*warm {
		return theta, nil
	}
	theta, _, err := l.fit(ctx, phase, few, theta, held, float64(len(items))/float64(len(few)))
	return theta, err
}
