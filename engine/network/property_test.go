package network

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"slipcase/internal/size"
)

// Published: Russell and Norvig, Artificial Intelligence: A Modern Approach,
// the noisy-OR table for Fever with inhibitors cold 0.6, flu 0.2, malaria 0.1
// and no leak; P(no fever) per row (values as reproduced in course notes).
func TestPublishedNoisyOrTable(t *testing.T) {
	t.Parallel()
	n := &Net{Nodes: []Node{
		{Name: "cold", Leak: 0.5}, {Name: "flu", Leak: 0.5}, {Name: "malaria", Leak: 0.5},
		{Name: "fever", Links: []Link{{0, 1 - 0.6}, {1, 1 - 0.2}, {2, 1 - 0.1}}},
	}}
	s := mustSolver(t, n)
	rows := []struct {
		cold, flu, malaria bool
		none               float64
	}{
		{false, false, false, 1}, {true, false, false, 0.6}, {false, true, false, 0.2}, {false, false, true, 0.1},
		{true, true, false, 0.12}, {true, false, true, 0.06}, {false, true, true, 0.02}, {true, true, true, 0.012},
	}
	for _, r := range rows {
		ev := []Likelihood{hardOn(0, r.cold), hardOn(1, r.flu), hardOn(2, r.malaria)}
		post, err := s.SolveSubset(ev, []int{3})
		if err != nil {
			t.Fatal(err)
		}
		if p := post.P[3]; math.Abs(1-p-r.none) > 1e-15 {
			t.Errorf("cold %v, flu %v, malaria %v: P(no fever) = %v, published %v", r.cold, r.flu, r.malaria, 1-p, r.none)
		}
	}
}

func drawCase(t *rapid.T, hard bool) (*Net, []Likelihood) {
	rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 5))
	n := randomNet(rng, rapid.IntRange(2, 14).Draw(t, "nodes"), hard)
	return n, randomEvidence(rng, n, rapid.IntRange(0, 10).Draw(t, "reports"), hard)
}

// samePosterior compares two answers for the first nodes of a network.
func samePosterior(t *rapid.T, what string, a, b *Posterior, nodes int) {
	if math.Abs(a.LogEvidence-b.LogEvidence) > 1e-9 {
		t.Fatalf("%s changes the log evidence: %v, %v", what, a.LogEvidence, b.LogEvidence)
	}
	for i := range nodes {
		if !near(a.P[i], b.P[i], 1e-9) {
			t.Fatalf("%s changes P(%d): %v, %v", what, i, a.P[i], b.P[i])
		}
	}
}

func TestInvariances(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		n, ev := drawCase(t, false)
		size := len(n.Nodes)
		solve := func(n *Net, ev []Likelihood) *Posterior {
			s, err := NewSolver(n)
			if err != nil {
				t.Fatal(err)
			}
			all := make([]int, len(n.Nodes))
			for i := range all {
				all[i] = i
			}
			p, err := s.SolveSubset(ev, all)
			if err != nil {
				t.Fatal(err)
			}
			return p
		}
		plain := solve(n, ev)

		more := &Net{Nodes: append(append([]Node(nil), n.Nodes...), Node{Name: "unobserved", Leak: 0.1})}
		for i := range size {
			more.Nodes[size].Links = append(more.Nodes[size].Links, Link{i, 0.7})
		}
		samePosterior(t, "an unobserved finding", plain, solve(more, ev), size)

		var halves []Likelihood
		for _, e := range ev {
			h := Likelihood{Node: e.Node, On: math.Sqrt(e.On), Off: math.Sqrt(e.Off), Tag: e.Tag}
			halves = append(halves, h, h)
		}
		samePosterior(t, "splitting reports in halves", plain, solve(n, halves), size)

		var back []Likelihood
		for i := len(ev) - 1; i >= 0; i-- {
			back = append(back, ev[i])
		}
		samePosterior(t, "the order of reports", plain, solve(n, back), size)

		// Renaming: new names, and another order that keeps parents first.
		// Roots may stand anywhere before their children: move all roots
		// to the front.
		var order []int
		for i := range size {
			if len(n.Nodes[i].Links) == 0 {
				order = append(order, i)
			}
		}
		for i := range size {
			if len(n.Nodes[i].Links) > 0 {
				order = append(order, i)
			}
		}
		at := make([]int, size)
		for to, from := range order {
			at[from] = to
		}
		other := &Net{Nodes: make([]Node, size)}
		for i, node := range n.Nodes {
			m := Node{Name: strings.Repeat("x", i), Leak: node.Leak}
			for j := len(node.Links) - 1; j >= 0; j-- {
				m.Links = append(m.Links, Link{at[node.Links[j].Parent], node.Links[j].Strength})
			}
			other.Nodes[at[i]] = m
		}
		var moved []Likelihood
		for _, e := range ev {
			e.Node = at[e.Node]
			moved = append(moved, e)
		}
		q := solve(other, moved)
		renamed := &Posterior{LogEvidence: q.LogEvidence, P: make([]float64, size)}
		for i := range size {
			renamed.P[i] = q.P[at[i]]
		}
		samePosterior(t, "renaming", plain, renamed, size)
	})
}

// Many certain positives whose causes are common but all but powerless: the
// two states of each auxiliary variable cancel almost completely.
func hostile(scale float64) (*Net, []Likelihood) {
	n := &Net{}
	for i := range 4 {
		n.Nodes = append(n.Nodes, Node{Leak: 0.1 + 0.15*float64(i)})
	}
	var ev []Likelihood
	for i := range 7 {
		node := Node{Leak: scale}
		for p := range 4 {
			node.Links = append(node.Links, Link{p, scale * float64(1+(i*7+p*3)%5)})
		}
		n.Nodes = append(n.Nodes, node)
		ev = append(ev, Likelihood{Node: 4 + i, On: 1, Off: 0, Tag: i})
	}
	return n, ev
}

func TestCancellationIsNoticed(t *testing.T) {
	t.Parallel()
	n, ev := hostile(1e-12)
	s := mustSolver(t, n)
	want := enumerate(n, ev)
	b, err := s.prepare(ev, nil)
	if err != nil {
		t.Fatal(err)
	}
	// Plain float64 alone is far off: else this case proves nothing.
	raw := b.pass(0, nil, request{all: true})
	worst := 0.0
	for i := range 4 {
		p, _ := share(raw.vars[b.p.xVar[i]], negligible)
		w := want.ratio(want.on[i])
		worst = math.Max(worst, math.Abs(p-w)/w)
	}
	if worst < 1e-6 {
		t.Fatalf("plain float64 is off by %g only; make the case harder", worst)
	}
	got, err := s.Solve(ev)
	if err != nil {
		t.Fatal(err)
	}
	if got.Method.Precision == 53 {
		t.Fatalf("lost digits were not noticed: %+v", got.Method)
	}
	for i := range n.Nodes {
		if w := want.ratio(want.on[i]); !near(got.P[i], w, 1e-9) {
			t.Errorf("P(%d) = %v, enumeration in big floating point %v", i, got.P[i], w)
		}
	}
	if math.Abs(got.LogEvidence-want.logZ()) > 1e-9 {
		t.Errorf("log evidence %v, enumeration %v", got.LogEvidence, want.logZ())
	}
	t.Logf("plain float64 off by %.1g; %d bits used", worst, got.Method.Precision)
}

// Worse still, beyond double-double.
func TestBigPrecision(t *testing.T) {
	t.Parallel()
	n, ev := hostile(1e-25)
	s := mustSolver(t, n)
	want := enumerate(n, ev)
	got, err := s.Solve(ev)
	if err != nil {
		t.Fatal(err)
	}
	if got.Method.Precision <= 106 {
		t.Errorf("precision %d; the case was meant to need more than double-double", got.Method.Precision)
	}
	for i := range n.Nodes {
		if w := want.ratio(want.on[i]); !near(got.P[i], w, 1e-9) {
			t.Errorf("P(%d) = %v, enumeration %v", i, got.P[i], w)
		}
	}
}

func TestImpossibleNamesTheClash(t *testing.T) {
	t.Parallel()
	n := &Net{Nodes: []Node{
		{Name: "seal", Leak: 0.1}, {Name: "pump", Leak: 0.1},
		{Name: "low", Links: []Link{{0, 0.8}, {1, 1}}},
		{Name: "other", Leak: 0.2},
	}}
	s := mustSolver(t, n)
	cases := []struct {
		name string
		ev   []Likelihood
		tags []int
	}{
		{"present without any cause", []Likelihood{{0, 0, 1, 10}, {3, 1, 0, 11}, {1, 0, 1, 12}, {2, 1, 0, 13}}, []int{10, 12, 13}},
		{"absent under a certain cause", []Likelihood{{0, 0.9, 0.1, 20}, {2, 0, 1, 21}, {1, 1, 0, 22}}, []int{21, 22}},
		{"both at once", []Likelihood{{3, 1, 0, 30}, {3, 0, 1, 31}}, []int{30, 31}},
	}
	for _, c := range cases {
		_, err := s.Solve(c.ev)
		var clash *ImpossibleError
		if !errors.As(err, &clash) {
			t.Errorf("%s: error %v", c.name, err)
			continue
		}
		if len(clash.Tags) != len(c.tags) {
			t.Errorf("%s: tags %v, want %v", c.name, clash.Tags, c.tags)
			continue
		}
		for i := range c.tags {
			if clash.Tags[i] != c.tags[i] {
				t.Errorf("%s: tags %v, want %v", c.name, clash.Tags, c.tags)
			}
		}
	}
}

func TestIntervalHoldsTheTruth(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(6, 6))
	intervals := 0
	runs := size.Of(40, 160, 160)
	for run := range runs {
		n := randomNet(rng, 10, false)
		ev := randomEvidence(rng, n, 6, false)
		if run%2 == 1 {
			// Reports so sharp that probabilities round to one.
			for i := range ev {
				ev[i].On, ev[i].Off = math.Exp(-45*rng.Float64()), math.Exp(-45*rng.Float64())
			}
		}
		s := mustSolver(t, n)
		want := enumerate(n, ev)
		s.MaxWork = 40
		got, err := s.Solve(ev)
		if err != nil {
			t.Fatal(err)
		}
		if got.Low == nil {
			continue
		}
		intervals++
		if len(got.Method.Dropped) == 0 && !slices.Contains(got.P, -1) {
			t.Fatal("an interval without a reason")
		}
		if got.LogEvidence < want.logZ()-1e-12 {
			t.Fatalf("log evidence %v is no bound of %v", got.LogEvidence, want.logZ())
		}
		for i := range n.Nodes {
			if w := want.ratio(want.on[i]); w < got.Low[i]-1e-12 || w > got.High[i]+1e-12 {
				t.Fatalf("P(%d) = %v lies outside %v..%v", i, w, got.Low[i], got.High[i])
			}
		}
	}
	if intervals < runs/2 {
		t.Fatalf("only %d intervals", intervals)
	}
}

// A probability that the reports kept round to one is not certain when a report
// left out speaks against it as strongly.
func TestIntervalOfRoundedOne(t *testing.T) {
	n := &Net{Nodes: []Node{
		{Name: "cause", Leak: 0.5},
		{Name: "for", Leak: 1e-30, Links: []Link{{0, 1}}},
		{Name: "against", Leak: 1e-30, Links: []Link{{0, 1}}},
	}}
	ev := []Likelihood{{1, 1, 1e-18, 0}, {2, 3.65e-18, 1, 1}}
	z, on := positive(n, ev)
	s := mustSolver(t, n)
	s.MaxWork = 7
	got, err := s.Solve(ev)
	if err != nil {
		t.Fatal(err)
	}
	truth := on[0] / z
	if got.Low == nil || truth < 0.78 || truth > 0.79 {
		t.Fatalf("not the case meant: truth %v, reports left out %v", truth, got.Method.Dropped)
	}
	if truth < got.Low[0] || truth > got.High[0] {
		t.Fatalf("P = %v lies outside %v..%v", truth, got.Low[0], got.High[0])
	}
}

func TestBadDataIsAnError(t *testing.T) {
	t.Parallel()
	nan := math.NaN()
	for _, n := range []*Net{
		{Nodes: []Node{{Leak: nan}}}, {Nodes: []Node{{Leak: 1.5}}},
		{Nodes: []Node{{}, {Links: []Link{{1, 0.5}}}}}, {Nodes: []Node{{}, {Links: []Link{{-1, 0.5}}}}},
		{Nodes: []Node{{}, {Links: []Link{{0, nan}}}}}, {Nodes: []Node{{}, {Links: []Link{{0, 0.5}, {0, 0.5}}}}},
	} {
		if _, err := NewSolver(n); err == nil {
			t.Errorf("accepted %+v", n)
		}
	}
	s := mustSolver(t, &Net{Nodes: []Node{{Name: "a", Leak: 0.5}}})
	for _, e := range []Likelihood{{Node: 1, On: 1, Off: 1}, {Node: -1}, {On: nan, Off: 1}, {On: -1, Off: 1}, {On: math.Inf(1), Off: 1}, {}} {
		if _, err := s.Solve([]Likelihood{e}); err == nil {
			t.Errorf("accepted %+v", e)
		}
	}
	if _, err := s.SolveSubset(nil, []int{7}); err == nil {
		t.Error("accepted an unknown node")
	}
}

func FuzzSolve(f *testing.F) {
	f.Add(uint64(1), uint8(5), uint8(3), true)
	f.Add(uint64(2), uint8(12), uint8(9), false)
	f.Fuzz(func(t *testing.T, seed uint64, nodes, count uint8, hard bool) {
		rng := rand.New(rand.NewPCG(seed, 11))
		n := randomNet(rng, 1+int(nodes%16), hard)
		ev := randomEvidence(rng, n, int(count%20), hard)
		s := mustSolver(t, n)
		s.width = 2 + int(seed%8)
		p, err := s.Solve(ev)
		if err != nil {
			var clash *ImpossibleError
			if !errors.As(err, &clash) || len(clash.Tags) == 0 {
				t.Fatal(err)
			}
			return
		}
		if math.IsNaN(p.LogEvidence) || math.IsInf(p.LogEvidence, 0) {
			t.Fatalf("log evidence %v", p.LogEvidence)
		}
		for i, v := range p.P {
			if v != -1 && !(v >= 0 && v <= 1) {
				t.Fatalf("P(%d) = %v", i, v)
			}
		}
		fam, _, err := s.Families(ev)
		if err != nil {
			t.Fatal(err)
		}
		for _, x := range fam {
			for j := range x.Transmits {
				if !(x.Transmits[j] >= -1e-12 && x.Transmits[j] <= 1+1e-12) {
					t.Fatalf("family %+v", x)
				}
			}
		}
	})
}
