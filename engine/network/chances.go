package network

import (
	"errors"
	"fmt"
	"math"
	"runtime"
	"sync"
	"sync/atomic"
)

// Hard is a node known to be on or off.
type Hard struct {
	Node int
	On   bool
}

// chanceError is the absolute error that Chances allows.
const chanceError = 1e-10

// Chances returns, for each set of hard states, P(all of them | evidence).
// An error of 1e-10 absolutely is granted (by estimate, as everywhere here), or what
// a rough solver grants: a
// probability that is as small may lose its digits, which saves the passes of
// higher precision that its logarithm would need. All sets are priced as weights
// on one tree.
func (s *Solver) Chances(ev []Likelihood, sets [][]Hard) ([]float64, error) {
	b, err := s.load(ev)
	if err != nil {
		return nil, err
	}
	must := make([]bool, len(s.net.Nodes))
	for _, set := range sets {
		for _, h := range set {
			if h.Node < 0 || h.Node >= len(must) {
				return nil, fmt.Errorf("network: node %d is not in the network (0..%d)", h.Node, len(must)-1)
			}
			must[h.Node] = true
		}
	}
	plans, _ := b.trees(must, must)
	b.p = plans[0]
	if err := b.affordable(); err != nil {
		return nil, err
	}
	b.hold()
	base, level, err := b.solve(nil, request{feel: true}, nil)
	if err != nil {
		return nil, err
	}
	out := make([]float64, len(sets))
	err = each(len(sets), func(i int) (err error) {
		if extra, ok := b.weighs(sets[i]); ok {
			out[i], err = b.chance(base, level, extra)
		}
		return err
	})
	return out, err
}

// each calls f for 0 to n-1 on as many goroutines as there are cores and
// returns the error of the lowest index, so that the answer does not depend on
// timing.
func each(n int, f func(i int) error) error {
	errs := make([]error, n)
	var next atomic.Int64
	var wg sync.WaitGroup
	for range min(n, runtime.GOMAXPROCS(0)) {
		wg.Go(func() {
			for {
				i := int(next.Add(1)) - 1
				if i >= n {
					return
				}
				errs[i] = f(i)
			}
		})
	}
	wg.Wait()
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// weighs is a set of hard states as weights on the tree; false when one of
// them contradicts what the evidence settles.
func (b *problem) weighs(set []Hard) ([]weigh, bool) {
	var extra []weigh
	for _, h := range set {
		switch role := b.p.role[h.Node]; {
		case role == roleOff && h.On, role == roleOn && !h.On:
			return nil, false
		case role == roleNode:
			w := weigh{node: h.Node, off: 1}
			if h.On {
				w.off, w.on = 0, 1
			}
			extra = append(extra, w)
		}
	}
	return extra, true
}

// chance is P(extra weights | evidence) to the error that Chances allows. base is
// the reply without them, of the level that it took.
func (b *problem) chance(base *reply, level int, extra []weigh) (float64, error) {
	chanceError := math.Max(chanceError, b.s.rough)
	// Weights of zero and one take terms away: what is left is off by no more
	// than the evidence is, but for the factor of vary.
	whole := len(b.p.cut) == 0
	if level == 0 && whole && regrown*base.zErr <= chanceError {
		r := b.pass(0, extra, request{})
		if err := b.s.ended(); err != nil {
			return 0, err
		}
		if r.zSign < 0 {
			return 0, nil
		}
		return math.Min(1, math.Exp(r.logZ-base.logZ)), nil
	}
	for level := 0; level <= lastLevel; level++ {
		if err := b.shallow(level); err != nil {
			return 0, err
		}
		r := b.pass(level, extra, request{feel: true})
		if err := b.s.ended(); err != nil {
			return 0, err
		}
		if math.IsInf(r.logZ, -1) {
			// Nothing left, or digits that cancel exactly: the logic tells.
			if err := b.impossible(extra); err != nil {
				return 0, nil
			}
			continue
		}
		// No sum of non-negative terms is larger than this, as far as its error
		// is estimated right. In float64 zTop knows none.
		if top := math.Exp(r.zTop - base.logZ); level > 0 && r.zTop != 0 && top <= chanceError {
			return math.Max(0, math.Min(math.Exp(r.logZ-base.logZ), top)), nil
		}
		if p := math.Exp(r.logZ - base.logZ); r.zSign > 0 && p*r.zErr <= chanceError {
			return math.Min(1, p), nil
		}
		if err := b.impossible(extra); err != nil {
			return 0, nil
		}
	}
	return 0, fmt.Errorf("network: %d bits do not give the answer; the evidence is all but impossible", precision(lastLevel))
}

// Given returns, for each set of hard states, the posterior of the nodes wanted (nil
// for Always) under evidence and those states, -1 for all others; nil where the
// states cannot be. All sets are weights on one tree.
func (s *Solver) Given(ev []Likelihood, sets [][]Hard, want []int) ([]*Posterior, error) {
	b, err := s.load(ev)
	if err != nil {
		return nil, err
	}
	all := want == nil
	if all {
		want = s.always()
	}
	must, err := s.mask(want)
	if err != nil {
		return nil, err
	}
	for _, set := range sets {
		for _, h := range set {
			if h.Node < 0 || h.Node >= len(must) {
				return nil, fmt.Errorf("network: node %d is not in the network (0..%d)", h.Node, len(must)-1)
			}
			must[h.Node] = true
		}
	}
	plans, cached := b.trees(must, must)
	b.p, b.cached = plans[0], cached
	if err := b.affordable(); err != nil {
		return nil, err
	}
	var only []bool // nil for all that the tree holds
	if !all {
		only = b.p.variables(want)
	}
	b.hold()
	out := make([]*Posterior, len(sets))
	err = each(len(sets), func(i int) (err error) {
		extra, ok := b.weighs(sets[i])
		if !ok {
			return nil
		}
		out[i], err = b.posterior(extra, only)
		var never *ImpossibleError
		if errors.As(err, &never) {
			out[i], err = nil, nil
		}
		return err
	})
	return out, err
}
