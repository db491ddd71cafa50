package network

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"
)

func near(a, b, rel float64) bool {
	return a == b || math.Abs(a-b) <= rel*math.Max(math.Abs(a), math.Abs(b))
}

func mustSolver(t testing.TB, n *Net) *Solver {
	t.Helper()
	s, err := NewSolver(n)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// everyNode lists all nodes of a network.
func everyNode(n *Net) []int {
	out := make([]int, len(n.Nodes))
	for i := range out {
		out[i] = i
	}
	return out
}

// compare holds the solver against enumeration on one network.
func compare(t *testing.T, n *Net, ev []Likelihood, width int) (possible bool, bits, cuts int) {
	t.Helper()
	s := mustSolver(t, n)
	s.width = width
	want := enumerate(n, ev)
	got, err := s.SolveSubset(ev, everyNode(n))
	var clash *ImpossibleError
	if errors.As(err, &clash) {
		if want.z.Sign() != 0 {
			t.Fatalf("evidence %v of log probability %v called impossible: %v", ev, want.logZ(), err)
		}
		checkClash(t, n, ev, clash)
		return false, 0, 0
	}
	if err != nil {
		t.Fatal(err)
	}
	if want.z.Sign() == 0 {
		t.Fatalf("impossible evidence solved: %v", ev)
	}
	if !near(got.LogEvidence, want.logZ(), 1e-10) && math.Abs(got.LogEvidence-want.logZ()) > 1e-10 {
		t.Fatalf("log evidence %v, enumeration %v", got.LogEvidence, want.logZ())
	}
	for i := range n.Nodes {
		if w := want.ratio(want.on[i]); !near(got.P[i], w, 1e-9) {
			t.Fatalf("P(node %d) = %v, enumeration %v (method %+v)\n%+v\n%+v", i, got.P[i], w, got.Method, n, ev)
		}
	}
	fam, post, err := s.Families(ev)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range fam {
		node := n.Nodes[f.Node]
		if w := want.ratio(want.on[f.Node]); !near(f.On, w, 1e-9) {
			t.Fatalf("family of node %d: on %v, enumeration %v", f.Node, f.On, w)
		}
		if w := want.ratio(want.leak[f.Node]); !near(f.LeakFired, w, 1e-9) && math.Abs(f.LeakFired-w) > 1e-14 {
			t.Fatalf("family of node %d: leak fired %v, enumeration %v", f.Node, f.LeakFired, w)
		}
		for j := range node.Links {
			if w := want.ratio(want.parent[f.Node][j]); f.ParentOn[j] >= 0 && !near(f.ParentOn[j], w, 1e-9) {
				t.Fatalf("family of node %d: parent %d on %v, enumeration %v", f.Node, j, f.ParentOn[j], w)
			}
			if w := want.ratio(want.trans[f.Node][j]); !near(f.Transmits[j], w, 1e-9) && math.Abs(f.Transmits[j]-w) > 1e-14 {
				t.Fatalf("family of node %d: link %d transmits %v, enumeration %v\n%+v\n%+v", f.Node, j, f.Transmits[j], w, n, ev)
			}
		}
	}
	return true, max(got.Method.Precision, post.Method.Precision), got.Method.Conditioned
}

// checkClash confirms by enumeration that the named reports clash and that
// none of them can be left out.
func checkClash(t *testing.T, n *Net, ev []Likelihood, clash *ImpossibleError) {
	t.Helper()
	pick := func(skip int) []Likelihood {
		var out []Likelihood
		for _, e := range ev {
			for i, tag := range clash.Tags {
				if e.Tag == tag && i != skip {
					out = append(out, e)
				}
			}
		}
		return out
	}
	if enumerate(n, pick(-1)).z.Sign() != 0 {
		t.Fatalf("reports %v are said to clash but do not", clash.Tags)
	}
	for i := range clash.Tags {
		if enumerate(n, pick(i)).z.Sign() == 0 {
			t.Fatalf("reports %v still clash without %d", clash.Tags, clash.Tags[i])
		}
	}
}

func TestAgainstEnumeration(t *testing.T) {
	t.Parallel()
	for _, width := range []int{maxWidth, 2, 3} {
		rng := rand.New(rand.NewPCG(1, uint64(width)))
		solved, clashes, higher, cut := 0, 0, 0, 0
		for range 250 {
			hard := rng.IntN(2) == 0
			n := randomNet(rng, 2+rng.IntN(8), hard)
			ok, bits, cuts := compare(t, n, randomEvidence(rng, n, rng.IntN(8), hard), width)
			if ok {
				solved++
			} else {
				clashes++
			}
			if bits > 53 {
				higher++
			}
			if cuts > 0 {
				cut++
			}
		}
		t.Logf("tables up to 2^%d: %d solved, %d clashes, %d in higher precision, %d conditioned", width, solved, clashes, higher, cut)
		if solved < 150 || clashes < 5 || width < 4 && cut < 50 {
			t.Fatalf("too few networks compared: %d solved, %d clashes, %d conditioned", solved, clashes, cut)
		}
	}
}

// A solver with other leaks that shares trees answers like one of its own; a
// leak that becomes certain shares nothing.
func TestWithLeaks(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(14, 14))
	for range 60 {
		n := randomNet(rng, 9, true)
		ev := randomEvidence(rng, n, 4, false)
		s := mustSolver(t, n)
		if _, err := s.Solve(ev); err != nil {
			continue
		}
		leaks := map[int]float64{rng.IntN(9): rng.Float64(), rng.IntN(9): rng.Float64()}
		if rng.IntN(3) == 0 {
			leaks[rng.IntN(9)] = float64(rng.IntN(2))
		}
		other := &Net{Nodes: append([]Node(nil), n.Nodes...)}
		for i, x := range leaks {
			other.Nodes[i].Leak = x
		}
		shared, err := s.WithLeaks(leaks)
		if err != nil {
			t.Fatal(err)
		}
		got, err1 := shared.Solve(ev)
		want, err2 := mustSolver(t, other).Solve(ev)
		if (err1 == nil) != (err2 == nil) {
			t.Fatal(err1, err2)
		}
		if err1 != nil {
			continue
		}
		for i := range want.P {
			if !granted(got.P[i], want.P[i]) {
				t.Fatalf("P(%d) = %v, a solver of its own has %v", i, got.P[i], want.P[i])
			}
		}
		if again, err := s.Solve(ev); err != nil || !again.Method.CachedOrder {
			t.Fatal("the first solver lost its tree", err)
		}
	}
}
