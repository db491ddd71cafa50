package diagnose

import (
	"io/fs"
	"math"
	"testing"

	"slipcase/engine"
	"slipcase/engine/model"
	"slipcase/engine/network"
	"slipcase/knowledge"
	"slipcase/rules"
)

// Firmness is what solvers of their own say, exactly and one after another.
func TestFirmness(t *testing.T) {
	src, err := fs.ReadFile(knowledge.FS, "cases/third-again.hcl")
	if err != nil {
		t.Fatal(err)
	}
	c, _ := rules.LoadCase("third-again.hcl", src)
	k, _ := rules.Load(rules.Options{Layers: []rules.Layer{{Name: "knowledge", FS: knowledge.FS}}, Unit: c.Unit})
	m, err := model.Build(k, k.Unit(c.Unit))
	if err != nil {
		t.Fatal(err)
	}
	r, diags, err := Case(m, c, Options{Top: 5, Doubt: 2})
	if err != nil || r == nil {
		t.Fatal(err, diags)
	}
	pieces, _ := m.Evidence(c)
	want := Firmness{Tries: tries, Worst: 1}
	for i := range tries {
		other, err := m.WithNumbers(Perturbation(off, 1, uint64(i)))
		if err != nil {
			t.Fatal(err)
		}
		moved := 0
		for j, n := range m.Net.Nodes {
			x := other.Net.Nodes[j].Leak
			if x != n.Leak {
				moved++
			}
			if n.Leak > 0 && (x < n.Leak/off-1e-12 || x > n.Leak*off+1e-12) {
				t.Fatalf("%s: leak %v became %v", n.Name, n.Leak, x)
			}
		}
		if moved < 100 {
			t.Fatalf("try %d moves %d rates", i, moved)
		}
		s, err := network.NewSolver(other.Net)
		if err != nil {
			t.Fatal(err)
		}
		post, err := s.SolveSubset(other.Likelihoods(pieces), m.Modes())
		if err != nil {
			t.Fatal(err)
		}
		sum := func(x Suspect) (p float64) {
			for _, b := range x.Modes {
				p += post.P[b.Node]
			}
			return p
		}
		first := true
		for _, x := range r.Suspects[1:] {
			first = first && sum(x) <= sum(r.Suspects[0])
		}
		if first {
			want.Stays++
		}
		want.Worst = math.Min(want.Worst, sum(r.Suspects[0]))
	}
	if r.Firmness.Tries != want.Tries || r.Firmness.Stays != want.Stays || math.Abs(r.Firmness.Worst-want.Worst) > 2*rough {
		t.Errorf("%+v, solvers of their own say %+v", *r.Firmness, want)
	}
	if want.Stays == tries {
		t.Error("the leader always stays: the test shows nothing")
	}
	if *r.Suspects[0].Stands != r.Firmness.Firm() {
		t.Errorf("the leader stands: %v, firm: %v", *r.Suspects[0].Stands, r.Firmness.Firm())
	}
}

// A number past one half moves on the scale of what it lacks to one.
func TestPerturbation(t *testing.T) {
	for i := range uint64(200) {
		f := Perturbation(2, 3, i)
		one := engine.Number{Value: 0.9, At: engine.Range{File: "a", Line: 1}}
		x := f(one)
		if x < 0.8-1e-12 || x > 0.95+1e-12 {
			t.Fatalf("0.9 became %v", x)
		}
		if again := f(one); again != x {
			t.Fatalf("one number becomes %v, then %v", x, again)
		}
	}
}
