package network

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// More likelihoods on a kept tree give what a case with all of them gives.
func TestIncremental(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		hard := rapid.Bool().Draw(t, "hard")
		n, ev := drawCase(t, hard)
		s, err := NewSolver(n)
		if err != nil {
			t.Fatal(err)
		}
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "more"), 7))
		var want, touched []int
		for i := range n.Nodes {
			if rng.IntN(2) == 0 {
				want = append(want, i)
			}
			if rng.IntN(3) == 0 {
				touched = append(touched, i)
			}
		}
		g, err := s.Incremental(ev, want, touched)
		if err != nil {
			if _, other := s.Solve(ev); other != nil {
				return
			}
			t.Fatal(err)
		}
		plain, err := s.SolveSubset(ev, want)
		if err != nil {
			return
		}
		for range 4 {
			var more []Likelihood
			for _, i := range touched {
				if rng.IntN(2) == 0 {
					continue
				}
				l := Likelihood{Node: i, On: rng.Float64(), Off: rng.Float64(), Tag: -1}
				switch rng.IntN(6) {
				case 0:
					l.On = 1e-40
				case 1:
					if hard {
						l.Off = 0
					}
				case 2:
					l.Off = l.On
				}
				more = append(more, l)
			}
			p, joint, err := g.Joint(more, want)
			if err != nil {
				t.Fatal(err)
			}
			chance, err := g.Chance(more)
			if err != nil {
				t.Fatal(err)
			}
			some := want[:len(want)/2]
			fresh, failed := g.Afresh(more, some)
			got, err := g.With(more)
			exact, other := s.SolveSubset(slices.Concat(ev, more), want)
			var never *ImpossibleError
			if errors.As(other, &never) {
				if !errors.As(err, &never) {
					t.Fatalf("impossible for the case, %v incrementally", err)
				}
				if p > 1e-6 || chance > 1e-6 {
					t.Fatalf("impossible for the case, chance %v and %v", p, chance)
				}
				continue
			}
			if err != nil || other != nil {
				t.Fatal(err, other)
			}
			if math.Abs(got.LogEvidence-exact.LogEvidence) > 1e-9 {
				t.Fatalf("log evidence %v, the case has %v", got.LogEvidence, exact.LogEvidence)
			}
			if failed != nil {
				t.Fatal(failed)
			}
			if math.Abs(fresh.LogEvidence-exact.LogEvidence) > 1e-5 { // not owed, see Afresh
				t.Fatalf("log evidence %v afresh, the case has %v", fresh.LogEvidence, exact.LogEvidence)
			}
			for _, i := range some {
				if !granted(fresh.P[i], exact.P[i]) {
					t.Fatalf("P(%d) = %v afresh, the case has %v", i, fresh.P[i], exact.P[i])
				}
			}
			all := math.Exp(exact.LogEvidence - plain.LogEvidence)
			if math.Abs(p-all) > 1e-6 || math.Abs(chance-all) > 1e-6 {
				t.Fatalf("chance %v and %v, the cases have %v", p, chance, all)
			}
			for k, i := range want {
				if math.Abs(joint[k]-all*exact.P[i]) > 1e-6 {
					t.Fatalf("joint chance %v of %d, the cases have %v", joint[k], i, all*exact.P[i])
				}
				if !granted(got.P[i], exact.P[i]) {
					t.Fatalf("P(%d) = %v, the case has %v", i, got.P[i], exact.P[i])
				}
			}
		}
	})
}

// The way down by division, from beliefs kept or made again, and the way down by
// products in twice the digits agree, zero messages and all.
func TestSweepIsRun(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		n, ev := drawCase(t, rapid.Bool().Draw(t, "hard"))
		s, err := NewSolver(n)
		if err != nil {
			t.Fatal(err)
		}
		all := make([]int, len(n.Nodes))
		for i := range all {
			all[i] = i
		}
		b, err := s.prepare(ev, all)
		if err != nil {
			return
		}
		q := fill(b.s.net, b.p, b.m, nil, 0, ddOf)
		d := &double{p: b.p, q: q, s: new(scratch)}
		keep := rapid.Bool().Draw(t, "kept")
		x := d.upAndDown(q.scalar, request{all: true, pairs: true}, keep)
		y := run(b.p, kernel[*wtable[dd]](&wide[dd]{p: b.p, q: q, of: ddOf, eps: ddEps}), q.scalar, request{all: true, pairs: true})
		if x.zSign > 0 && x.zErr < 1e-3 && (y.zSign < 0 || math.Abs(x.logZ-y.logZ) > math.Max(1e-14, 2*x.zErr)) {
			t.Fatalf("log evidence %v with an error of %g, by products %v (%v)", x.logZ, x.zErr, y.logZ, y.zSign)
		}
		if x.zSign < 0 || x.zErr > tolerance || y.zErr > tolerance {
			return
		}
		for v := range x.vars {
			p, e := share(x.vars[v], negligible)
			o, f := share(y.vars[v], negligible)
			if e <= tolerance && f <= tolerance && math.Abs(p-o) > 1e-9 {
				t.Fatalf("variable %d: %v, by products %v", v, p, o)
			}
		}
		for id, l := range x.links {
			p, e := l.share(1)
			o, f := y.links[id].share(1)
			if e < 1e-10 && f < 1e-10 && math.Abs(p-o) > 1e-9 {
				t.Fatalf("link %v: %v, by products %v", id, p, o)
			}
		}
	})
}

// Few messages of a case cannot be divided by, modes of which nothing is known and
// nodes that tell whether one of a few modes is there among what is asked for: such a
// message costs its parent's whole product again, in every answer. What is left are
// sums that cancel. (A quarter could not, before such nodes had one factor over their
// parents; a sixth, before zeros that no report changes were passed over.)
func TestMessagesCanBeDividedBy(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(3, 5))
	n := layered(3)
	var modes []int
	for i := range n.Nodes {
		if strings.HasPrefix(n.Nodes[i].Name, "mode") {
			modes = append(modes, i)
		}
	}
	ev := reports(rng, n, 12)
	want := slices.Clone(modes)
	for i := 0; i+2 < len(modes); i += 3 {
		want = append(want, len(n.Nodes))
		n.Nodes = append(n.Nodes, Node{Name: "one of three", Links: []Link{{modes[i], 1}, {modes[i+1], 1}, {modes[i+2], 1}}})
	}
	s, err := NewSolver(n)
	if err != nil {
		t.Fatal(err)
	}
	g, err := s.Incremental(ev, want, nil)
	if err != nil {
		t.Fatal(err)
	}
	k := g.b.keep()
	zero, all := 0, 0
	for c, m := range k.up {
		if g.b.p.cliques[c].parent < 0 {
			continue
		}
		if all++; m.low < smallest {
			zero++
		}
	}
	if all < 50 || zero > 14*all/100 {
		t.Errorf("%d of %d messages cannot be divided by", zero, all)
	}
}
