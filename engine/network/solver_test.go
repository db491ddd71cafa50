package network

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"slipcase/internal/size"
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
		nets := size.Of(100, 250, 250)
		for range nets {
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
		if solved < nets*3/5 || clashes < nets/50 || width < 4 && cut < nets/5 {
			t.Fatalf("too few networks compared: %d solved, %d clashes, %d conditioned", solved, clashes, cut)
		}
	}
}

// A solver with other numbers that shares trees answers like one of its own; a
// number that becomes certain shares nothing. Another network is refused.
func TestWithNumbers(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(14, 14))
	for range 60 {
		n := randomNet(rng, 9, true)
		ev := randomEvidence(rng, n, 4, false)
		s := mustSolver(t, n)
		if _, err := s.Solve(ev); err != nil {
			continue
		}
		other := &Net{Nodes: append([]Node(nil), n.Nodes...)}
		for i := range other.Nodes {
			other.Nodes[i].Links = slices.Clone(n.Nodes[i].Links)
			for j := range other.Nodes[i].Links {
				if x := &other.Nodes[i].Links[j].Strength; *x > 0 && *x < 1 {
					*x = 0.01 + 0.98*rng.Float64()
				}
			}
		}
		other.Nodes[rng.IntN(9)].Leak = rng.Float64()
		if rng.IntN(3) == 0 {
			other.Nodes[rng.IntN(9)].Leak = float64(rng.IntN(2))
		}
		shared, err := s.WithNumbers(other)
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
	n := randomNet(rng, 9, true)
	fewer := &Net{Nodes: n.Nodes[:8]}
	if _, err := mustSolver(t, n).WithNumbers(fewer); err == nil {
		t.Error("a network of fewer nodes is taken")
	}
	for i := range n.Nodes {
		if len(n.Nodes[i].Links) == 0 {
			continue
		}
		other := &Net{Nodes: slices.Clone(n.Nodes)}
		other.Nodes[i].Links = other.Nodes[i].Links[:len(other.Nodes[i].Links)-1]
		if _, err := mustSolver(t, n).WithNumbers(other); err == nil {
			t.Error("a network of fewer links is taken")
		}
	}
}

// A rough answer is as near as it is said to be, and shares the trees.
func TestRough(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(15, 15))
	compared, cheaper := 0, 0
	for range 300 {
		n := randomNet(rng, 10, true)
		for i := range n.Nodes { // rare, so that digits cancel
			n.Nodes[i].Leak *= 1e-9
			for j := range n.Nodes[i].Links {
				n.Nodes[i].Links[j].Strength *= 1e-3
			}
		}
		var ev []Likelihood // positive, and all but certain
		for i := range n.Nodes {
			if rng.IntN(2) == 0 {
				ev = append(ev, Likelihood{Node: i, On: 0.9, Off: 1e-7, Tag: -1})
			}
		}
		s := mustSolver(t, n)
		want, err := s.Solve(ev)
		if err != nil {
			continue
		}
		const most = 1e-3
		got, err := s.Rough(most).Solve(ev)
		if err != nil {
			t.Fatal(err)
		}
		compared++
		if got.Method.Precision < want.Method.Precision {
			cheaper++
		}
		for i := range want.P {
			if math.Abs(got.P[i]-want.P[i]) > most {
				t.Fatalf("P(%d) = %v roughly, %v exactly", i, got.P[i], want.P[i])
			}
		}
		set := [][]Hard{{{Node: 0}, {Node: 1}}}
		roughly, err := s.Rough(most).Chances(ev, set)
		if err != nil {
			t.Fatal(err)
		}
		exactly, err := s.Chances(ev, set)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(roughly[0]-exactly[0]) > most {
			t.Fatalf("P(0 and 1 off) = %v roughly, %v exactly", roughly[0], exactly[0])
		}
	}
	t.Logf("%d compared, %d of them with fewer bits", compared, cheaper)
	if compared < 100 || cheaper < 5 {
		t.Errorf("%d compared, %d of them with fewer bits: too few", compared, cheaper)
	}
}
