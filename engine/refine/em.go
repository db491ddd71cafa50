package refine

import (
	"context"
	"math"
)

// Iteration is one step of the estimate: the logarithm of the posterior
// density of the log-odds before the step, up to a constant.
type Iteration struct {
	Number       int
	LogPosterior float64 // nats; not a number where counts stand for the cases
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
		out[i] = max(p.least, inside((p.prior.A+scale*c.s[i])/(p.prior.Size()+scale*c.n[i])))
	}
	return out
}

// scoreRounding is the share of a log-posterior by which it may fall through the
// rounding of its sum over cases, where nothing is left to gain.
const scoreRounding = 1e-12

// fit runs expectation-maximization from theta to convergence. Its steps are
// combined with those before (see anderson); one that loses log-posterior is taken
// back, the memory of steps cleared and the plain step, which cannot, made
// instead. So the trace of accepted iterations never falls. Where the counts of a large
// casebook stand for its cases they are followed instead (see follow).
func (l *learner) fit(ctx context.Context, phase string, items []*item, theta []float64, held []bool, scale, tolerance float64) ([]float64, []Iteration, error) {
	if l.anchor.holds(items) {
		return l.follow(ctx, phase, items, theta, held, tolerance)
	}
	var trace []Iteration
	var mix anderson
	last, safe := math.Inf(-1), true
	plain := theta // the step without mixing
	l.cut = false
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
		next := l.update(theta, c, scale, held)
		left, a := l.ahead(theta, c, scale, held)
		if now < last && !safe {
			theta, safe = plain, true
			mix.clear()
			continue
		}
		if now < last && last-now < scoreRounding*math.Abs(last) {
			return theta, trace, nil // rounding: there is nothing left to gain
		}
		trace = append(trace, Iteration{it, now})
		l.last, l.lastAt = c, theta
		if left <= tolerance {
			return next, trace, nil
		}
		last, plain = now, next
		theta, safe = l.accelerated(&mix, theta, next, a)
	}
	l.cut = true
	return plain, trace, nil
}

// outlook is what the expectations of one iteration tell about each number.
type outlook struct {
	slow []float64 // by what factor the plain step is too short
	info []float64 // information on it, prior included; 0: it is held
}

// ahead forecasts how far from the optimum the farthest number will be after
// the next plain step, in its own standard deviations. A plain step goes the
// score over the information that there would be, had every trial been seen;
// the optimum is away by the score over the information that there is. Other
// numbers are taken as settled.
func (l *learner) ahead(theta []float64, c *counts, scale float64, held []bool) (left float64, o outlook) {
	o = outlook{make([]float64, len(theta)), make([]float64, len(theta))}
	for i := range theta {
		if o.slow[i] = 1; held != nil && held[i] {
			continue
		}
		prior := l.params[i].prior
		unit := theta[i] * (1 - theta[i])
		score := prior.A + scale*c.s[i] - theta[i]*(prior.Size()+scale*c.n[i])
		if theta[i] <= l.params[i].least && score < 0 {
			continue // it can go no further
		}
		complete := unit * (prior.Size() + scale*c.n[i])
		own := math.Max(complete-scale*c.lost[i], unit*prior.Size())
		left = math.Max(left, math.Abs(score)/math.Sqrt(own)*(1-own/complete))
		o.slow[i], o.info[i] = complete/own, own
	}
	return left, o
}

// warm is the number of cases from which an estimate over a large casebook
// starts; each step after that takes five times as many. A spread of the
// cases stands for all of them there, each counting for several. Only the
// start is affected.
const warm = 400

// start gives the first numbers for fit.
func (l *learner) start(ctx context.Context, phase string, items []*item, held []bool, theta []float64) ([]float64, error) {
	if len(items) > l.large.many {
		return theta, nil // it begins where some of the cases ended
	}
	for size := warm; 2*size <= len(items); size *= 5 {
		// The few lie off by the root of the scale in any case.
		scale := float64(len(items)) / float64(size)
		var err error
		if theta, _, err = l.fit(ctx, phase, spread(items, size), theta, held, scale, 7*math.Sqrt(scale)*l.opt.Tolerance); err != nil {
			return nil, err
		}
	}
	return theta, nil
}

// spread are some of the cases, evenly from all of them.
func spread(items []*item, size int) []*item {
	if len(items) <= size {
		return items
	}
	few := make([]*item, size)
	for i := range few {
		few[i] = items[i*len(items)/size]
	}
	return few
}
