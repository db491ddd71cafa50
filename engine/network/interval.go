package network

import (
	"fmt"
	"math"
	"slices"
)

// interval answers past the work bound. It leaves out soft reports, those
// first that save the most work for the least evidence. A report with
// likelihoods between lo and hi changes the joint probability of anything with
// the evidence by a factor between lo and hi, so all odds by a factor of at
// most hi/lo: a rigorous interval.
func (b *problem) interval() (*Posterior, error) {
	s := b.s
	none := make([]bool, len(b.has))
	has := slices.Clone(b.has)
	spread := func(i int) float64 { return math.Abs(math.Log(b.m.on[i]) - math.Log(b.m.off[i])) }
	logOdds := 0.0
	dropped := make(map[int]bool)
	bound := s.maxWork()
	var p *plan
	for {
		k := newSkeleton(s.net, s.roles(b.state, has, none))
		now := k.cost(inf)
		if now <= bound {
			if p = k.finish(orderTries, s.width, s.maxWork()); p.work() <= s.maxWork() {
				break
			}
			bound = now / 2
		}
		best, at := -inf, -1
		for i := range has {
			// Hard evidence stays: it bounds nothing.
			if !has[i] || b.state[i] != unset || math.IsInf(spread(i), 0) {
				continue
			}
			has[i] = false
			c := newSkeleton(s.net, s.roles(b.state, has, none)).cost(now)
			has[i] = true
			if gain := (math.Log2(now) - math.Log2(math.Min(c, now)) + 1e-3) / spread(i); gain > best {
				best, at = gain, i
			}
		}
		if at < 0 {
			return nil, fmt.Errorf("network: the hard evidence alone ties too many causes together: some %.0e table entries, the bound is %.0e; raise MaxWork", now, bound)
		}
		has[at] = false
		dropped[at] = true
		logOdds += spread(at)
	}
	var kept []Likelihood
	var tags []int
	for _, e := range b.ev {
		if dropped[e.Node] {
			tags = append(tags, e.Tag)
		} else {
			kept = append(kept, e)
		}
	}
	rest, err := s.load(kept)
	if err != nil {
		return nil, err
	}
	rest.p = p
	out, err := rest.posterior(nil, nil)
	if err != nil {
		return nil, err
	}
	slices.Sort(tags)
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
		case p > 0 && p < 1:
			out.Low[i] = p / (p + (1-p)*math.Exp(logOdds))
			out.High[i] = p / (p + (1-p)*math.Exp(-logOdds))
		default:
			out.Low[i], out.High[i] = p, p
		}
	}
	return out, nil
}
