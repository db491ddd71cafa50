package order

import (
	"encoding/binary"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func optimal(t interface{ Fatalf(string, ...any) }, jobs []Job, o Options) Result {
	r, err := Optimal(jobs, o)
	if err != nil {
		t.Fatalf("%v", err)
	}
	agree(t, jobs, r)
	return r
}

// Brute force at its largest size, few draws.
func TestNineJobs(t *testing.T) {
	for seed := range uint64(30) {
		for _, kind := range []string{"teardown", "strands", "two layers"} {
			jobs := made(kind, 9, seed)
			if r, want := optimal(t, jobs, Options{}), brute(jobs); !r.Exact || !near(jobs, r.Cost, want) {
				t.Errorf("%s %d: cost %v, brute force %v; %+v", kind, seed, r.Cost, want, r.Method)
			}
		}
	}
}

// Two ways to one answer: Horn's rule against the general method on trees.
func TestHornIsSidney(t *testing.T) {
	for _, kind := range []string{"out-tree", "in-tree", "chain"} {
		for seed := range uint64(20) {
			jobs := made(kind, 40+int(seed)*5, seed)
			r := optimal(t, jobs, Options{})
			if !r.Exact || r.Method.Trees+r.Method.Reversed != len(jobs) || r.Method.General > 0 {
				t.Fatalf("%s was solved by %+v", kind, r.Method)
			}
			g, err := build(jobs)
			if err != nil {
				t.Fatal(err)
			}
			s := solver{g: g, budget: DefaultMaxIdeals}
			var order []int
			for _, m := range s.solveGeneral(g.components())[0] {
				order = append(order, m...)
			}
			if c := g.cost(order); s.gap != 0 || !near(jobs, c, r.Cost) {
				t.Errorf("%s %d: Horn %v, Sidney %v with gap %v", kind, seed, r.Cost, c, s.gap)
			}
		}
	}
}

// Ratios of the Sidney modules never rise, and inside a module no initial set
// has a greater ratio than the module (tried over all sets).
func TestSidneyModules(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		jobs := draw(t, 9, anyOrder)
		g, err := build(jobs)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range g.components() {
			lastW, lastP := math.Inf(1), 0.0
			for _, m := range g.sidney(c) {
				s := g.sub(m)
				w, p := 0.0, 0.0
				for v := range s.n() {
					w, p = w+s.wt[v], p+s.min[v]
				}
				// Parts of ratios that differ by rounding only may be swapped.
				if w*lastP > lastW*p*(1+1e-9)+1e-12 {
					t.Fatalf("ratio rises from %v/%v to %v/%v", lastW, lastP, w, p)
				}
				if p > 0 {
					lastW, lastP = w, p
				}
				for set := 1; set < 1<<s.n(); set++ {
					sw, sp, ok := 0.0, 0.0, true
					for v := range s.n() {
						if set>>v&1 == 0 {
							continue
						}
						sw, sp = sw+s.wt[v], sp+s.min[v]
						for _, u := range s.pred[v] {
							ok = ok && set>>u&1 != 0
						}
					}
					if ok && sw*p > w*sp*(1+1e-9)+1e-12*w*p {
						t.Fatalf("module %v: initial set %b has ratio %v/%v, all of it %v/%v", m, set, sw, sp, w, p)
					}
				}
			}
		}
	})
}

// A condition that follows from others changes nothing, nor does the unit of
// time; the numbering of the jobs changes the order by name only.
func TestInvariance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		jobs := draw(t, 14, anyOrder)
		for i := range jobs {
			jobs[i].Name += string(rune('a' + i)) // unique
		}
		r := optimal(t, jobs, Options{})

		more := slices.Clone(jobs)
		for i := range more {
			for _, a := range jobs[i].After {
				more[i].After = slices.Concat(more[i].After, jobs[a].After)
			}
		}
		if m := optimal(t, more, Options{}); !slices.Equal(m.Order, r.Order) {
			t.Fatalf("with shortcuts %v, without %v", m.Order, r.Order)
		}

		scaled := slices.Clone(jobs)
		for i := range scaled {
			scaled[i].Minutes *= 64
			scaled[i].Weight /= 1024
		}
		if s := optimal(t, scaled, Options{}); !slices.Equal(s.Order, r.Order) || s.Cost != r.Cost/16 {
			t.Fatalf("scaled %v at %v, plain %v at %v", s.Order, s.Cost, r.Order, r.Cost)
		}

		to := rapid.Permutation(slices.Collect(seq(len(jobs)))).Draw(t, "to")
		moved := make([]Job, len(jobs))
		for i, j := range jobs {
			j.After = nil
			for _, a := range jobs[i].After {
				j.After = append(j.After, to[a])
			}
			moved[to[i]] = j
		}
		if m := optimal(t, moved, Options{}); !near(jobs, m.Cost, r.Cost) {
			t.Fatalf("renumbered %v, plain %v", m.Cost, r.Cost)
		}
	})
}

// What is left of an optimal plan is an optimal plan for what is left.
func TestRemainingStaysOptimal(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		jobs := draw(t, 12, anyOrder)
		r := optimal(t, jobs, Options{})
		k := rapid.IntRange(0, len(jobs)).Draw(t, "done")
		rest, index, err := Remaining(jobs, r.Order[:k])
		if err != nil {
			t.Fatal(err)
		}
		var tail []int
		for _, v := range r.Order[k:] {
			tail = append(tail, slices.Index(index, v))
		}
		c, err := Cost(rest, tail)
		if err != nil {
			t.Fatal(err)
		}
		if again := optimal(t, rest, Options{}); !near(jobs, c, again.Cost) {
			t.Fatalf("tail %v costs %v, replanned %v costs %v", tail, c, again.Order, again.Cost)
		}
	})
}

func TestRemaining(t *testing.T) {
	jobs := []Job{
		{Name: "pan", Minutes: 10},
		{Name: "filter", Minutes: 2, After: []int{0}},
		{Name: "valve body", Minutes: 15, After: []int{1, 0}},
		{Name: "servo", Minutes: 5, After: []int{2}},
	}
	rest, index, err := Remaining(jobs, []int{2, 0})
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(index, []int{1, 3}) || len(rest) != 2 || rest[0].Name != "filter" || len(rest[0].After)+len(rest[1].After) != 0 {
		t.Errorf("rest %+v, index %v", rest, index)
	}
	if !slices.Equal(jobs[2].After, []int{1, 0}) {
		t.Errorf("the caller's jobs were changed: %v", jobs[2].After)
	}
	if _, _, err := Remaining(jobs, []int{4}); err == nil || !strings.Contains(err.Error(), "job number 4 is said to be done") {
		t.Errorf("error %v", err)
	}
}

func TestBaselines(t *testing.T) {
	jobs := []Job{
		{Name: "pump", Minutes: 8, Weight: 0.5, After: []int{2, 1}},
		{Name: "converter", Minutes: 5, Weight: 0.1, After: []int{2}},
		{Name: "pull", Minutes: 120},
		{Name: "pan", Minutes: 10, Weight: 0.3},
		{Name: "servo", Minutes: 10, Weight: 0.3},
	}
	bench, err := Bench(jobs)
	if err != nil || !slices.Equal(bench, []int{2, 1, 0, 3, 4}) {
		t.Errorf("bench order %v, %v", bench, err)
	}
	likely, err := LikeliestFirst(jobs)
	if err != nil || !slices.Equal(likely, []int{2, 1, 0, 3, 4}) {
		t.Errorf("likeliest first %v, %v", likely, err)
	}
	r := optimal(t, jobs, Options{})
	if !slices.Equal(r.Order, []int{3, 4, 2, 1, 0}) {
		t.Errorf("optimal %v", r.Order)
	}
	// 0.3·10 + 0.3·20 + 0.1·145 + 0.5·153, by hand
	if !near(jobs, r.Cost, 100) {
		t.Errorf("cost %v, want 100", r.Cost)
	}
	// On the way to the likeliest, the likelier first.
	way := []Job{{Name: "a", Weight: 0.1}, {Name: "b", Weight: 0.2}, {Name: "c", Weight: 0.5, After: []int{0, 1}}}
	if o, err := LikeliestFirst(way); err != nil || !slices.Equal(o, []int{1, 0, 2}) {
		t.Errorf("likeliest first %v, %v", o, err)
	}
	rapid.Check(t, func(t *rapid.T) {
		jobs := draw(t, 12, anyOrder)
		best := optimal(t, jobs, Options{})
		for _, f := range []func([]Job) ([]int, error){Bench, LikeliestFirst} {
			o, err := f(jobs)
			if err != nil {
				t.Fatal(err)
			}
			c, err := Cost(jobs, o)
			if err != nil {
				t.Fatal(err)
			}
			if c < best.Cost && !near(jobs, c, best.Cost) {
				t.Fatalf("baseline %v beats %v", c, best.Cost)
			}
		}
	})
}

func TestCostRefuses(t *testing.T) {
	jobs := []Job{{Name: "pan", Minutes: 1, Weight: 1}, {Name: "filter", Minutes: 1, Weight: 1, After: []int{0}}}
	for want, order := range map[string][]int{
		"1 places for 2 jobs":                        {0},
		"names job number 2":                         {0, 2},
		`holds job 0 "pan" twice`:                    {0, 0},
		`job 1 "filter" comes before job 0 "pan"`:    {1, 0},
		"names job number -1; there are jobs 0 to 1": {-1, 0},
	} {
		if _, err := Cost(jobs, order); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("order %v: error %v does not say %q", order, err, want)
		}
	}
}

// A work bound in the middle of a hard problem: the bound lies below the
// optimum, the cost above, and more work never loosens the bound's claim.
func TestWorkBound(t *testing.T) {
	for seed := range uint64(6) {
		for _, kind := range []string{"teardown", "strands"} {
			jobs := made(kind, 60, seed)
			best := optimal(t, jobs, Options{})
			if !best.Exact {
				t.Fatalf("%s %d: not solved: %+v", kind, seed, best.Method)
			}
			for _, ideals := range []int{-1, 1, 10, 100, 1000, 5000} {
				r := optimal(t, jobs, Options{MaxIdeals: ideals})
				if r.Bound > best.Cost*(1+1e-9) || r.Cost < best.Cost*(1-1e-9) {
					t.Errorf("%s %d: optimum %v outside [%v, %v] at %d ideals", kind, seed, best.Cost, r.Bound, r.Cost, ideals)
				}
				if !r.Exact && r.Method.Searched == 0 {
					t.Errorf("not exact, but the method says %+v", r.Method)
				}
			}
		}
	}
}

// The same jobs give the same answer, wide sets and all.
func TestDeterministic(t *testing.T) {
	for _, kind := range []string{"out-tree", "in-tree", "teardown", "strands", "two layers"} {
		for _, n := range []int{70, 140, 300} {
			jobs := made(kind, n, 3)
			a, b := optimal(t, jobs, Options{MaxIdeals: 20000}), optimal(t, jobs, Options{MaxIdeals: 20000})
			if !slices.Equal(a.Order, b.Order) || a.Cost != b.Cost || a.Bound != b.Bound || a.Method != b.Method {
				t.Errorf("%s %d: two answers", kind, n)
			}
		}
	}
}

// FuzzOptimal reads jobs from bytes: per job the place of minutes and weight
// in a list of awkward numbers (or raw bits) and a mask of conditions.
func FuzzOptimal(f *testing.F) {
	f.Add([]byte{1, 2, 0, 3, 4, 1, 0, 0, 3})
	f.Add([]byte{0, 0, 0, 5, 1, 1, 1, 5, 3, 2, 2, 7})
	f.Add([]byte{1, 1, 2, 1, 1, 1})
	f.Add([]byte{15, 15, 0})
	values := []float64{0, 1, 2, 3, 0.1, 0.2, 0.3, 1e-9, 1e9, 45, 0.05, 7, 1.0 / 3, math.SmallestNonzeroFloat64, 1e-200}
	number := func(data []byte) (float64, []byte) {
		k := int(data[0])
		if k < len(values) {
			return values[k], data[1:]
		}
		if k < 250 {
			return float64(k) / 250, data[1:]
		}
		var raw [8]byte
		copy(raw[:], data[1:])
		return math.Float64frombits(binary.LittleEndian.Uint64(raw[:])), data[min(9, len(data)):]
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		var jobs []Job
		for len(data) >= 3 && len(jobs) < 7 {
			var j Job
			j.Minutes, data = number(data)
			if len(data) < 2 {
				break
			}
			j.Weight, data = number(data)
			if len(data) < 1 {
				break
			}
			for k := range 8 {
				if data[0]>>k&1 != 0 {
					j.After = append(j.After, k)
				}
			}
			data = data[1:]
			jobs = append(jobs, j)
		}
		r, err := Optimal(jobs, Options{})
		if err != nil {
			return
		}
		agree(t, jobs, r)
		if want := brute(jobs); !r.Exact || !near(jobs, r.Cost, want) {
			t.Fatalf("cost %v, brute force %v; %+v", r.Cost, want, r.Method)
		}
		if r := optimal(t, jobs, Options{MaxIdeals: -1}); r.Bound > r.Cost {
			t.Fatalf("bound %v over cost %v", r.Bound, r.Cost)
		}
	})
}
