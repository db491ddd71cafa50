package network

import (
	"math"
	"slices"
)

// problem is one case made ready for its tree.
type problem struct {
	s      *Solver
	ev     []Likelihood
	m      *merged
	state  []int8
	has    []bool // evidence that tells the states apart
	p      *plan
	cached bool
	kept   *kept // the way up, made before; nil for none
	fixed  *fixed
}

// load merges the evidence and draws its hard consequences.
func (s *Solver) load(ev []Likelihood) (*problem, error) {
	m, err := s.net.merge(ev)
	if err != nil {
		return nil, err
	}
	hard, order, ok := hardStates(ev)
	if !ok {
		return nil, s.logic.clash(ev)
	}
	state, ok := s.logic.assume(hard, order)
	if !ok {
		return nil, s.logic.clash(ev)
	}
	has := make([]bool, len(m.has))
	for i := range has {
		has[i] = m.has[i] && m.on[i] != m.off[i]
	}
	return &problem{s: s, ev: ev, m: m, state: state, has: has}, nil
}

// mask turns a list of nodes into flags.
func (s *Solver) mask(nodes []int) ([]bool, error) {
	mask := make([]bool, len(s.net.Nodes))
	for _, i := range nodes {
		if i < 0 || i >= len(mask) {
			return nil, errNoNode(i, len(mask))
		}
		mask[i] = true
	}
	return mask, nil
}

// prepare finds one tree for the evidence and all wanted nodes.
func (s *Solver) prepare(ev []Likelihood, want []int) (*problem, error) {
	b, err := s.load(ev)
	if err != nil {
		return nil, err
	}
	mask, err := s.mask(want)
	if err != nil {
		return nil, err
	}
	role := s.roles(b.state, b.has, mask)
	plans, cached := s.cache("1"+string(role), func() []*plan {
		// Counts of links are read off auxiliary variables.
		return []*plan{skeletonOf(s.net, role, false).finish(s.effort(), s.width, s.maxWork())}
	})
	b.p, b.cached = plans[0], cached
	return b, b.affordable()
}

// affordable refuses trees past the work bound.
func (b *problem) affordable() error {
	if b.p.work() <= b.s.maxWork() {
		return nil
	}
	return &WideError{Entries: b.p.work(), Allowed: b.s.maxWork()}
}

// work is the number of table entries of all runs.
func (p *plan) work() float64 { return p.cost * math.Exp2(float64(len(p.cut))) }

func (s *Solver) maxWork() float64 {
	if s.MaxWork > 0 {
		return s.MaxWork
	}
	return defaultWork
}

// cache returns the trees of a pattern, building them at most now and then
// twice.
func (s *Solver) cache(key string, build func() []*plan) ([]*plan, bool) {
	t := s.trees
	t.mu.Lock()
	p := t.plans[key]
	t.mu.Unlock()
	if p != nil {
		return p, true
	}
	p = build()
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.plans[key] == nil {
		if len(t.keys) >= maxPlans {
			delete(t.plans, t.keys[0])
			t.keys = t.keys[1:]
		}
		t.plans[key] = p
		t.keys = append(t.keys, key)
	}
	return p, false
}

// trees covers the evidence and the wanted nodes with one tree or, where
// nodes without evidence would widen it too much, with several: each carries
// all the evidence, the nodes in must and some of the others.
func (b *problem) trees(mask, must []bool) ([]*plan, bool) {
	s := b.s
	none := make([]bool, len(mask))
	copy(none, must)
	base := s.roles(b.state, b.has, none)
	full := s.roles(b.state, b.has, mask)
	return s.cache("+"+string(base)+string(full), func() []*plan {
		var open []int // wanted, without evidence below
		for i, yes := range mask {
			if yes && base[i] == roleOut {
				open = append(open, i)
			}
		}
		all := newSkeleton(s.net, full)
		whole := all.cost(inf)
		const enough = 1 << 17
		if len(open) == 0 || whole <= enough {
			return []*plan{all.finish(s.effort(), s.width, s.maxWork())}
		}
		bound := math.Max(1.5*newSkeleton(s.net, base).cost(inf), enough)
		if whole <= bound {
			return []*plan{all.finish(s.effort(), s.width, s.maxWork())}
		}
		with := func(nodes []int) *skeleton {
			m := slices.Clone(none)
			for _, i := range nodes {
				m[i] = true
			}
			return newSkeleton(s.net, s.roles(b.state, b.has, m))
		}
		var parts []*skeleton
		sum := 0.0
		step := max(1, len(open)/8)
		for len(open) > 0 && sum < whole {
			// The head of the list that fits, near the size of the last.
			n := min(step, len(open))
			fits := func(n int) bool { return with(open[:n]).cost(bound) <= bound }
			if fits(n) {
				for n < len(open) && fits(min(2*n, len(open))) {
					n = min(2*n, len(open))
				}
			} else {
				for n = max(n/2, 1); n > 1 && !fits(n); n /= 2 {
				}
			}
			step = n
			k := with(open[:n])
			sum += k.cost(inf)
			parts = append(parts, k)
			open = open[n:]
		}
		if sum >= whole {
			return []*plan{all.finish(s.effort(), s.width, s.maxWork())}
		}
		out := make([]*plan, len(parts))
		for i, k := range parts {
			out[i] = k.finish(s.effort(), s.width, s.maxWork())
		}
		return out
	})
}
