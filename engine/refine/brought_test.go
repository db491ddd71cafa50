package refine

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"slipcase/engine"
	"slipcase/engine/internal/tiny"
	"slipcase/engine/model"
	"slipcase/engine/refine/rulepath"
)

// brings is a shop with a tiny unit, of which the driver complains by four findings, and
// its cases: what brought the vehicle in, what else was answered, what was found.
func brings(t *testing.T, r *rand.Rand) (*learner, []*item) {
	t.Helper()
	k, u := tiny.Unit(r)
	for i := range 4 {
		k.Findings[i].Phrases = []string{k.Findings[i].Name}
	}
	k.Reporters[0].Unfounded = tiny.Num(0.05)
	at := 0
	rulepath.Walk(k, func(_ rulepath.Path, n *engine.Number) {
		at++
		n.At.File, n.At.Byte, n.Basis = "tiny", at, &engine.Basis{Kind: engine.Invented}
	})
	m, err := model.Build(k, u)
	if err != nil {
		t.Fatal(err)
	}
	var cases []Case
	for i := range 8 {
		c := Case{ID: fmt.Sprint(i), Outcome: engine.CaseFixed, File: engine.CaseFile{ID: fmt.Sprint(i), Unit: u.ID}}
		first := r.IntN(4)
		c.File.Reports = []engine.Report{{Finding: fmt.Sprintf("f%d", first), State: engine.Present, By: "driver"}}
		for f := range 5 {
			if f != first && r.IntN(2) == 0 {
				c.File.Reports = append(c.File.Reports, engine.Report{Finding: fmt.Sprintf("f%d", f), State: []engine.State{engine.Absent, engine.Absent, engine.Present}[r.IntN(3)], By: "gauge"})
			}
		}
		for p := range 4 {
			if p == 0 || r.IntN(3) == 0 {
				c.File.Seen = append(c.File.Seen, engine.Seen{Component: fmt.Sprintf("part%d", p), Cleared: true})
			}
		}
		cases = append(cases, c)
	}
	l, err := newLearner(t.Context(), []*model.Model{m}, Options{Found: -1, Settled: -1})
	if err != nil {
		t.Fatal(err)
	}
	items, skipped := l.choose(cases)
	if len(skipped) > 0 || len(l.models[0].quiet) != 4 || len(l.params) < 10 {
		t.Fatal(skipped, l.models[0].quiet, len(l.params))
	}
	for _, it := range items {
		if !it.came {
			t.Fatalf("case %s has no complaint", it.id)
		}
		it.unsaid = r.IntN(4) > 0
	}
	return l, items
}

// enumerated goes through all states of a unit: the probability of what is noted of a
// case together with some complaint, and each number's trials and successes given both.
func enumerated(l *learner, it *item, theta []float64) (p float64, n, s []float64) {
	net := it.b.net
	said := it.said(nil, len(it.all), theta)
	if it.unsaid {
		said = slices.Delete(said, it.stated, it.stated+1)
	}
	n, s = make([]float64, len(theta)), make([]float64, len(theta))
	on := make([]bool, len(net.Nodes))
	for state := range 1 << len(on) {
		weight, complaint := 1.0, false
		for i := range on {
			on[i] = state>>i&1 != 0
			complaint = complaint || on[i] && it.b.complains[i]
		}
		fires := make([]float64, len(on))
		for i, x := range net.Nodes {
			off := 1 - x.Leak
			for _, k := range x.Links {
				if on[k.Parent] {
					off *= 1 - k.Strength
				}
			}
			if fires[i] = 1 - off; on[i] {
				weight *= fires[i]
			} else {
				weight *= off
			}
		}
		for _, e := range said {
			if on[e.Node] {
				weight *= e.On
			} else {
				weight *= e.Off
			}
		}
		if !complaint || weight == 0 {
			continue
		}
		p += weight
		for i, x := range net.Nodes {
			through := func(param int, strength, factor float64) {
				if param < 0 {
					return
				}
				n[param] += weight
				hit := 0.0
				if on[i] {
					hit = strength / fires[i]
				}
				s[param] += weight * thinned(hit, 1, theta[param], theta[param]*factor)
			}
			through(it.b.leak[i], x.Leak, it.b.duty[i])
			for j, k := range x.Links {
				if on[k.Parent] {
					through(it.b.links[i][j].param, k.Strength, it.b.links[i][j].factor)
				}
			}
		}
	}
	for i := range n {
		n[i] /= p
		s[i] /= p
	}
	return p, n, s
}

// What a case of a vehicle that came in says is P(what is noted and some complaint), by
// enumeration, and so are the trials that it counts: each with its score, none too few.
func TestComplaintIsThere(t *testing.T) {
	worst, bare := 0.0, 0
	for seed := range uint64(4) {
		r := rand.New(rand.NewPCG(91, seed))
		l, items := brings(t, r)
		theta := l.originValues()
		l.set(theta)
		for _, it := range items[:4] {
			fam, got, err := it.families(l.passing(t.Context()))
			if err != nil {
				t.Fatal(err)
			}
			p, n, s := enumerated(l, it, theta)
			if worst = math.Max(worst, math.Abs(got-math.Log(p))); math.Abs(got-math.Log(p)) > 1e-8 {
				t.Errorf("seed %d, case %s: log-likelihood %.10f, enumerated %.10f", seed, it.id, got, math.Log(p))
			}
			c := l.newCounts()
			it.b.trials(fam, theta, func(t trial) {
				c.n[t.param] += t.occurs
				c.s[t.param] += t.success
				if t.bare {
					c.bare[t.param] += t.occurs
				}
			})
			for i := range theta {
				want := s[i] - theta[i]*n[i]
				if got := c.s[i] - theta[i]*c.n[i]; math.Abs(got-want) > 1e-6 {
					t.Errorf("seed %d, case %s, %s: score %.8f, enumerated %.8f", seed, it.id, l.params[i].name, got, want)
				}
				// Of what no complaint and nothing noted hangs on there are no trials.
				if c.n[i] > 0 && (c.n[i] < n[i]-1e-6 || c.bare[i] == 0 && c.n[i] > n[i]+1e-6) {
					t.Errorf("seed %d, case %s, %s: %.8f trials, enumerated %.8f", seed, it.id, l.params[i].name, c.n[i], n[i])
				}
				if c.bare[i] > 0 {
					bare++
				}
			}
		}
	}
	t.Logf("largest error of a log-likelihood %.2g; %d numbers with trials of nodes of which nothing is noted", worst, bare)
	if bare == 0 {
		t.Error("something is noted of every node")
	}
}

// No case can say more than that it came in for sure: over the chance of a complaint its
// probability is one at most, however rare complaints are.
func TestLikelihoodIsBounded(t *testing.T) {
	most := math.Inf(-1)
	for seed := range uint64(6) {
		r := rand.New(rand.NewPCG(92, seed))
		l, items := brings(t, r)
		theta := l.originValues()
		for range 12 {
			scale := 12 * r.Float64()
			for i := range theta {
				theta[i] = inside(1 / (1 + math.Exp(scale*r.Float64()-3*r.NormFloat64())))
			}
			l.set(theta)
			b := l.models[0]
			_, none, err := b.asking.Families(b.quiet)
			if err != nil {
				t.Fatal(err)
			}
			for _, it := range items {
				_, logL, err := it.families(l.passing(t.Context()))
				if err != nil {
					t.Fatal(err)
				}
				over := logL - math.Log(-math.Expm1(none.LogEvidence))
				if most = math.Max(most, over); over > 1e-9 {
					t.Fatalf("seed %d: case %s has %.6f more than certainty, with a complaint in %.2g of vehicles", seed, it.id, over, -math.Expm1(none.LogEvidence))
				}
			}
		}
	}
	t.Logf("largest log-likelihood over the chance of a complaint %.3f", most)
}
