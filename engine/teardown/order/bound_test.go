package order

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// jobsOf turns a graph back into jobs.
func jobsOf(g *graph) []Job {
	jobs := make([]Job, g.n())
	for v := range jobs {
		jobs[v] = Job{Minutes: g.min[v], Weight: g.wt[v], After: g.pred[v]}
	}
	return jobs
}

// In every Sidney module, after every ideal, what is left costs at least what
// the bound says; and giving up early leaves a bound, too.
func TestBoundsHold(t *testing.T) {
	modules := 0
	rapid.Check(t, func(t *rapid.T) {
		jobs := draw(t, 7, anyOrder)
		g, err := build(jobs)
		if err != nil {
			t.Fatal(err)
		}
		g.reduce()
		for _, c := range g.components() {
			for _, m := range g.sidney(c) {
				if len(m) > 1 {
					modules++
					boundsHold(t, g.sub(m))
				}
			}
		}
	})
	if modules == 0 {
		t.Error("no module had two jobs")
	}
}

func boundsHold(t *rapid.T, s *graph) {
	jobs := jobsOf(s)
	best := brute(jobs)
	over := func(b, cost float64) bool { return b > cost && !near(jobs, b, cost) }
	if b := s.shares(); over(b, best) {
		t.Fatalf("shares %v over the optimum %v of %v", b, best, jobs)
	}
	if b := s.relaxed(); over(b, best) {
		t.Fatalf("relaxed %v over the optimum %v of %v", b, best, jobs)
	}
	if c := s.cost(s.goodOrder()); over(best, c) {
		t.Fatalf("good order at %v below the optimum %v of %v", c, best, jobs)
	}
	for budget := range 12 {
		if r := ideals(s, math.Inf(1), true, budget); over(r.bound, best) || r.visited > budget {
			t.Fatalf("bound %v with %d of %d ideals, optimum %v of %v", r.bound, r.visited, budget, best, jobs)
		}
	}
	perm := s.byRatio()
	b := newBounds[[1]uint64](s, perm, true)
	for set := uint64(0); set < 1<<s.n(); set++ {
		done, ok := 0.0, true
		var gone []int
		for k, v := range perm {
			if set>>k&1 == 0 {
				continue
			}
			done += s.min[v]
			gone = append(gone, v)
			for _, p := range s.pred[v] {
				ok = ok && set>>slices.Index(perm, p)&1 != 0
			}
		}
		if !ok {
			continue
		}
		rest, _, err := Remaining(jobs, gone)
		if err != nil {
			t.Fatal(err)
		}
		left := brute(rest)
		for _, j := range rest {
			left += j.Weight * done
		}
		if low := b.rest([1]uint64{set}, done); over(low, left) {
			t.Fatalf("bound %v over the optimum %v after %b of %v", low, left, set, jobs)
		}
	}
}

// Cases where a bound is met exactly, so that none can be a little too high.
func TestBoundsMet(t *testing.T) {
	tests := []struct {
		name string
		jobs []Job
		cost float64
	}{
		{"minutes, then weight", []Job{{Minutes: 6}, {Weight: 0.5, After: []int{0}}}, 3},
		{"minutes, then two weights", []Job{{Minutes: 6}, {Weight: 0.5, After: []int{0}}, {Weight: 0.25, After: []int{0}}}, 4.5},
		{"two minutes, then weight", []Job{{Minutes: 6}, {Minutes: 4}, {Weight: 0.5, After: []int{0, 1}}}, 5},
	}
	for _, tt := range tests {
		g, err := build(tt.jobs)
		if err != nil {
			t.Fatal(err)
		}
		if b := g.shares(); math.Abs(b-tt.cost) > 1e-9 {
			t.Errorf("%s: bound %v, want %v", tt.name, b, tt.cost)
		}
		if c := brute(tt.jobs); c != tt.cost {
			t.Errorf("%s: optimum %v, want %v", tt.name, c, tt.cost)
		}
	}
}

// Equal ratios side by side are modules of their own.
func TestTiedModules(t *testing.T) {
	for _, unit := range []float64{1, 0.1, 1.0 / 3, 7e-5} { // the last digits must not matter
		jobs := []Job{{Name: "shared"}}
		for k := range 3 { // diamonds: two minutes, two in sight half-way, two at the end
			n, m, w := len(jobs), float64(k+1)*unit, float64(k+1)*unit*unit
			jobs = append(jobs,
				Job{Minutes: 2 * m, After: []int{0}},
				Job{Minutes: m, Weight: w, After: []int{n}},
				Job{Minutes: m, Weight: w, After: []int{n}},
				Job{Weight: 2 * w, After: []int{n + 1, n + 2}})
		}
		g, err := build(jobs)
		if err != nil {
			t.Fatal(err)
		}
		var sizes []int
		for _, m := range g.sidney(g.components()[0]) {
			sizes = append(sizes, len(m))
		}
		if want := []int{1, 4, 4, 4}; !slices.Equal(sizes, want) {
			t.Errorf("unit %v: modules of %v jobs, want %v", unit, sizes, want)
		}
	}
}

// Without dynamic programming the bound is the cost less what each module may
// miss, by the best of the bounds that need none.
func TestBoundIsReported(t *testing.T) {
	loose := 0
	for seed := range uint64(20) {
		for _, kind := range []string{"teardown", "strands", "two layers"} {
			jobs := made(kind, 40, seed)
			g, err := build(jobs)
			if err != nil {
				t.Fatal(err)
			}
			g.reduce()
			gap := 0.0
			for _, c := range g.components() {
				if out, in := g.tree(c); out || in {
					continue
				}
				for _, m := range g.sidney(c) {
					if len(m) > 1 {
						s := g.sub(m)
						root := newBounds[[1]uint64](s, s.byRatio(), true).rest([1]uint64{}, 0)
						gap += max(0, s.cost(s.goodOrder())-max(s.relaxed(), s.shares(), root))
					}
				}
			}
			r := optimal(t, jobs, Options{MaxIdeals: -1})
			if !r.Exact {
				loose++
			}
			if !near(jobs, r.Bound, r.Cost-gap) {
				t.Errorf("%s %d: bound %v, want %v", kind, seed, r.Bound, r.Cost-gap)
			}
		}
	}
	if loose == 0 {
		t.Error("no problem left a gap")
	}
}
