package refine

import (
	"context"
	"errors"
	"math"
	"runtime"
	"slices"
	"sync"

	"slipcase/engine/network"
)

// trial is the expectation of one kind of trial given a case.
type trial struct {
	param   int
	node    int     // whose family it belongs to
	occurs  float64 // P(the trial takes place | case)
	success float64 // P(it takes place and succeeds | case)
	leak    bool    // of the node's leak
	bare    bool    // nothing is noted of the node
}

// trials reads a case's families as trials of the rules' numbers.
func (b *binding) trials(fam []network.Family, theta []float64, f func(trial)) {
	for i := range fam {
		x := &fam[i]
		if p := b.leak[x.Node]; p >= 0 {
			q := within(x.LeakFired, 1)
			if d := b.duty[x.Node]; d < 1 {
				q = thinned(q, 1, theta[p], theta[p]*d)
			}
			f(trial{p, x.Node, 1, q, true, x.On == bare})
		}
		for j, u := range b.links[x.Node] {
			w := x.ParentOn[j]
			if u.param < 0 || w <= 0 {
				continue
			}
			q := within(x.Transmits[j], w)
			if u.factor < 1 {
				q = thinned(q, w, theta[u.param], theta[u.param]*u.factor)
			}
			f(trial{u.param, x.Node, w, q, false, x.On == bare})
		}
	}
}

func within(x, high float64) float64 { return min(max(x, 0), high) }

// missing is the variance of the trial's score, success − θ·occurs, given the
// case.
func (t trial) missing(theta float64) float64 {
	m := t.success - theta*t.occurs
	v := t.success*(1-theta)*(1-theta) + (t.occurs-t.success)*theta*theta - m*m
	return max(v, 0)
}

// counts are expected trials and successes by number, and the information that
// is missing on them, on the scale of the log-odds.
type counts struct {
	n, s, lost []float64
	bare       []float64 // of the trials, those of nodes of which nothing is noted
	parts      []part    // of the leak of each mode of a part, by binding.first
	logL       float64
	cases      int
}

func (l *learner) newCounts() *counts {
	k := len(l.params)
	return &counts{parts: make([]part, l.nodes), n: make([]float64, k), s: make([]float64, k), lost: make([]float64, k), bare: make([]float64, k)}
}

func (c *counts) add(o *counts) {
	for i := range c.n {
		c.n[i] += o.n[i]
		c.s[i] += o.s[i]
		c.lost[i] += o.lost[i]
		c.bare[i] += o.bare[i]
	}
	for i := range c.parts {
		x := &o.parts[i]
		c.parts[i].add(x.occurs, x.score, x.missing)
	}
	c.logL += o.logL
	c.cases += o.cases
}

// take adds one case to the counts.
func (l *learner) take(c *counts, it *item, fam []network.Family, theta []float64) {
	l.trials(it, fam, theta, func(t trial) {
		c.n[t.param] += t.occurs
		c.s[t.param] += t.success
		missing := t.missing(theta[t.param])
		c.lost[t.param] += missing
		if t.bare {
			c.bare[t.param] += t.occurs
		}
		if t.leak {
			c.parts[it.b.first+t.node].add(t.occurs, t.success-theta[t.param]*t.occurs, missing)
		}
	})
}

// chunk is the number of cases that one worker sums up at a time. The sums of
// chunks are added in order, so that the result does not depend on who was
// first.
const chunk = 8

// inChunks calls work for every chunk of n on several goroutines and done for
// each in order, on this one. The first error in order of chunks is returned.
func (l *learner) inChunks(ctx context.Context, n int, work func(from, to int) (any, error), done func(any)) error {
	type answer struct {
		out any
		err error
	}
	parts := (n + chunk - 1) / chunk
	workers := l.opt.Workers
	if workers <= 0 {
		workers = min(2, runtime.GOMAXPROCS(0))
	}
	// A window of answers bounds what is held.
	ring := make([]chan answer, parts)
	for i := range ring {
		ring[i] = make(chan answer, 1)
	}
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	ticket := make(chan int)
	var wg sync.WaitGroup
	slots := make(chan struct{}, 4*workers)
	for range workers {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for i := range ticket {
				var a answer
				if a.err = ctx.Err(); a.err == nil {
					a.out, a.err = work(i*chunk, min((i+1)*chunk, n))
				}
				ring[i] <- a
			}
		}()
	}
	go func() {
		defer close(ticket)
		for i := range parts {
			select {
			case slots <- struct{}{}:
			case <-ctx.Done():
				return
			}
			select {
			case ticket <- i:
			case <-ctx.Done():
				return
			}
		}
	}()
	var err error
	for i := range parts {
		var a answer
		select {
		case a = <-ring[i]:
		case <-ctx.Done():
			a.err = ctx.Err()
		}
		if a.err != nil {
			err = a.err
			break
		}
		done(a.out)
		<-slots
	}
	cancel()
	wg.Wait()
	return err
}

// trials reads a case's families as trials of the rules' numbers, of what
// reporters answered and of the shop's detection models.
func (l *learner) trials(it *item, fam []network.Family, theta []float64, f func(trial)) {
	it.b.trials(fam, theta, f)
	it.answerTrials(fam, theta, f)
	if !it.scored {
		return
	}
	for i := range fam {
		h := l.detectionOf(it.b, fam[i].Node)
		switch {
		case h == nil || h.param < 0 || fam[i].On <= 0:
		case it.silent[fam[i].Node]:
			f(trial{h.param, fam[i].Node, fam[i].On, 0, false, false})
		default:
			f(trial{h.param, fam[i].Node, 1, 1, false, false})
		}
	}
}

// passing is what one chunk of cases needs: solvers for those whose trees are
// not kept, and room for their evidence.
type passing struct {
	ctx      context.Context
	l        *learner
	solvers  map[*binding]*network.Solver
	evidence []network.Likelihood
}

func (l *learner) passing(ctx context.Context) *passing {
	return &passing{ctx: ctx, l: l, solvers: map[*binding]*network.Solver{}}
}

// ask counts its work.
func (p *passing) ask(s *network.Solver) ([]network.Family, *network.Posterior, error) {
	fam, post, err := s.Families(p.evidence)
	if err == nil {
		p.l.work.add(post.Method)
	}
	return fam, post, err
}

// families asks the network about one case, under the numbers that are set.
func (it *item) families(p *passing) ([]network.Family, float64, error) {
	if err := p.ctx.Err(); err != nil { // a small case is done before its network looks
		return nil, 0, err
	}
	if err := p.l.work.over(); err != nil {
		return nil, 0, err
	}
	s := it.kept
	if s != nil {
		s = s.WithContext(p.ctx)
	} else {
		if s = p.solvers[it.b]; s == nil {
			var err error
			if s, err = it.b.solver(); err != nil {
				return nil, 0, err
			}
			s.Brief = true
			s = s.WithContext(p.ctx)
			p.solvers[it.b] = s
		}
	}
	var noted float64
	said := it.said(p.evidence[:0], len(it.all), p.l.now)
	if it.unsaid {
		said = slices.Delete(said, it.stated, it.stated+1)
	}
	p.evidence, noted = p.l.hush(said, it, true)
	fam, post, err := p.ask(s)
	if err != nil {
		return nil, 0, err
	}
	logL := post.LogEvidence
	if it.brought {
		p.evidence = append(p.evidence, it.b.quiet...)
		quiet, post, err := p.ask(s.Rough(loose))
		if err == nil && post.Method.Error*math.Exp(post.LogEvidence-logL) > granted {
			quiet, post, err = p.ask(s)
		}
		var clash *network.ImpossibleError
		switch {
		case errors.As(err, &clash): // a complaint is there for sure
		case err != nil:
			return nil, 0, err
		default:
			fam, logL = it.b.brought(fam, logL, quiet, post.LogEvidence)
		}
	}
	return fam, logL + noted, nil
}

// expect is the E-step: expected counts of all cases under theta, which must
// have been set, and of the vehicles that never came in. Those of a large casebook
// are what its counts nearby tell.
func (l *learner) expect(ctx context.Context, items []*item, theta []float64, tick func(done int)) (*counts, error) {
	if l.anchor.holds(items) {
		l.seen = l.anchor.known(theta)
		total := l.anchor.counts(l.models, theta)
		return total, l.unseen(ctx, items, theta, total)
	}
	total, err := l.sum(ctx, items, theta, tick)
	if err != nil {
		return nil, err
	}
	return total, l.unseen(ctx, items, theta, total)
}

// sum is the expected counts of some cases under theta, which must have been set.
func (l *learner) sum(ctx context.Context, items []*item, theta []float64, tick func(done int)) (*counts, error) {
	total := l.newCounts()
	err := l.inChunks(ctx, len(items), func(from, to int) (any, error) {
		c := l.newCounts()
		p := l.passing(ctx)
		for _, it := range items[from:to] {
			fam, logL, err := it.families(p)
			if err != nil {
				return nil, &caseError{it.id, err}
			}
			l.take(c, it, fam, theta)
			c.logL += logL
			c.cases++
		}
		return c, nil
	}, func(a any) {
		total.add(a.(*counts))
		if tick != nil {
			tick(total.cases)
		}
	})
	return total, err
}

// caseError says at which case inference failed.
type caseError struct {
	id  string
	err error
}

func (e *caseError) Error() string { return "case " + e.id + ": " + e.err.Error() }
func (e *caseError) Unwrap() error { return e.err }
