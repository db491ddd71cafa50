package network

import (
	"cmp"
	"math"
	"slices"
)

// Within leaves out soft reports until a tree of at most so many entries holds
// the evidence and the nodes wanted: those first that save the most work for
// the least evidence, which counts by weight (of a Likelihood's tag; nil for
// one each). It returns the evidence kept and the tags left out, none when all
// fits.
func (s *Solver) Within(ev []Likelihood, want []int, entries float64, weight func(tag int) float64) (kept []Likelihood, left []int, err error) {
	b, err := s.load(ev)
	if err != nil {
		return nil, nil, err
	}
	mask, err := s.mask(want)
	if err != nil {
		return nil, nil, err
	}
	dropped, _, _, err := b.trim(entries, mask, weight, false)
	if err != nil || len(dropped) == 0 {
		return ev, nil, err
	}
	kept, left = b.without(dropped)
	return kept, left, nil
}

// trim picks the nodes whose reports are left out to stay below bound, with
// the sum of what they could shift any log odds by, and the tree that is left
// if it is asked for.
func (b *problem) trim(limit float64, mask []bool, weight func(tag int) float64, tree bool) (dropped map[int]bool, logOdds float64, p *plan, err error) {
	s := b.s
	has := slices.Clone(b.has)
	counts := make([]float64, len(has))
	for _, e := range b.ev {
		x := 1.0
		if weight != nil {
			x = weight(e.Tag)
		}
		counts[e.Node] = math.Max(counts[e.Node], x)
	}
	spread := func(i int) float64 { return math.Abs(math.Log(b.m.on[i]) - math.Log(b.m.off[i])) }
	dropped = make(map[int]bool)
	bound := limit
	for {
		if err := s.ended(); err != nil {
			return nil, 0, nil, err
		}
		k := newSkeleton(s.net, s.roles(b.state, has, mask))
		e := &elimination{}
		if k.p.nvars > 0 {
			start, _ := k.g.begin(inf)
			e = start.whole(start.plain, k.p.nvars)
		}
		now := e.cost
		if now <= bound {
			if !tree && e.width <= s.width {
				return dropped, logOdds, nil, nil
			}
			if p = k.finish(s.effort(), s.width, limit); p.work() <= limit {
				return dropped, logOdds, p, nil
			}
			bound = now / 2
		}
		// Far past the bound several go at a time.
		many := 1 + int(math.Log2(now/bound))/bitsEach
		list := b.dearest(k, e, many >= hasty, has, mask, func(i int) float64 { return spread(i) * counts[i] })
		if len(list) > weighed {
			many = max(many, len(list)/portion)
		}
		if len(list) == 0 {
			return nil, 0, nil, &WideError{Entries: now, Allowed: limit}
		}
		for _, at := range list[:min(many, len(list))] {
			has[at] = false
			dropped[at] = true
			logOdds += spread(at)
		}
	}
}

// weighed is how many reports trim looks at closely; bitsEach is how many powers
// of two past the bound make it take one more at a time. Of a crowd of reports one in
// portion goes at once where hasty would go, none of them looked at closely: hundreds
// took a second of that, and as many stayed in the end.
const weighed, bitsEach, crowd, portion, hasty = 12, 2, 96, 16, 6

// dearest lists nodes whose reports save the most work for what they tell, best first.
// By the tables that hold its variables a few are chosen; of these what is left is
// judged in the order of the whole, without the variables that go with them, which is
// for comparing only; where hundreds are far too many all are listed, by the tables
// alone. Hard evidence stays: it bounds nothing.
func (b *problem) dearest(k *skeleton, e *elimination, far bool, has, mask []bool, tells func(i int) float64) []int {
	halved := make([]float64, k.p.nvars) // what goes with a variable
	for _, v := range e.order {
		size := math.Exp2(float64(e.later[v].count() + 1))
		halved[v] += size
		e.later[v].each(func(u int) { halved[u] += size / 2 })
	}
	gain := func(i int, left float64) float64 {
		return (math.Log2(e.cost) - math.Log2(math.Max(1, math.Min(left, e.cost))) + 1e-3) / tells(i)
	}
	type candidate struct {
		node int
		gain float64
	}
	var list []candidate
	for i := range has {
		if !has[i] || b.state[i] != unset || math.IsInf(tells(i), 0) {
			continue
		}
		left := e.cost
		if v := k.p.auxVar[i]; v >= 0 {
			left -= halved[v]
		}
		list = append(list, candidate{i, gain(i, left)})
	}
	by := func(x, y candidate) int { return cmp.Compare(y.gain, x.gain) }
	slices.SortStableFunc(list, by)
	few := 0 // looked at closely
	if !far || len(list) < crowd {
		few = min(len(list), weighed)
		list = list[:few]
	}
	each(few, func(j int) error {
		i := list[j].node
		rest := slices.Clone(has)
		rest[i] = false
		gone := make(bitset, len(k.g.gone))
		for n, r := range b.s.roles(b.state, rest, mask) {
			if r != roleOut {
				continue
			}
			for _, v := range []int{k.p.xVar[n], k.p.auxVar[n]} {
				if v >= 0 {
					gone.add(v)
				}
			}
		}
		left := k.g.costWithout(gone, e.order, e.cost)
		list[j].gain = gain(i, left)
		return nil
	})
	slices.SortStableFunc(list, by)
	nodes := make([]int, len(list))
	for j := range list {
		nodes[j] = list[j].node
	}
	return nodes
}

// without splits the evidence.
func (b *problem) without(dropped map[int]bool) (kept []Likelihood, tags []int) {
	for _, e := range b.ev {
		if dropped[e.Node] {
			tags = append(tags, e.Tag)
		} else {
			kept = append(kept, e)
		}
	}
	slices.Sort(tags)
	return kept, tags
}

// interval answers past the work bound without some soft reports. A report with
// likelihoods between lo and hi changes the joint probability of anything with
// the evidence by a factor between lo and hi, so all odds by a factor of at
// most hi/lo: an interval that holds, but for the rounding of what is left, which
// is an estimate (see strain).
func (b *problem) interval() (*Posterior, error) {
	s := b.s
	dropped, logOdds, p, err := b.trim(s.maxWork(), make([]bool, len(b.has)), nil, true)
	if err != nil {
		return nil, err
	}
	kept, tags := b.without(dropped)
	rest, err := s.load(kept)
	if err != nil {
		return nil, err
	}
	rest.p = p
	out, err := rest.posterior(nil, nil)
	if err != nil {
		return nil, err
	}
	out.Method.Dropped = tags
	// A dropped report is at most as likely as its larger likelihood, which
	// merging took out as a scale.
	out.LogEvidence += b.m.logScale - rest.m.logScale
	out.Low, out.High = make([]float64, len(out.P)), make([]float64, len(out.P))
	for i, p := range out.P {
		switch {
		case p < 0:
			// Not in the tree any more.
			out.Low[i], out.High[i] = 0, 1
		case rest.p.role[i] != roleNode:
			out.Low[i], out.High[i] = p, p // settled by the hard evidence kept
		default:
			// Both sides with their error: a probability of 0 or 1 may be one
			// that was rounded.
			off := out.off[i]
			slack := func(x float64) float64 { return math.Max(negligible, tolerance*x) }
			low := math.Max(0, p-slack(p))
			out.Low[i] = low / (low + (off+slack(off))*math.Exp(logOdds))
			low = math.Max(0, off-slack(off))
			out.High[i] = 1 - low/(low+(p+slack(p))*math.Exp(logOdds))
		}
	}
	return out, nil
}
