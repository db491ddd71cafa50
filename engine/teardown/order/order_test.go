package order

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// brute tries every order. It is the slow oracle that stays.
func brute(jobs []Job) float64 {
	best := math.Inf(1)
	done := make([]bool, len(jobs))
	var try func(left int, t, c float64)
	try = func(left int, t, c float64) {
		if left == 0 {
			best = min(best, c)
			return
		}
	next:
		for i, j := range jobs {
			if done[i] {
				continue
			}
			for _, a := range j.After {
				if !done[a] {
					continue next
				}
			}
			done[i] = true
			try(left-1, t+j.Minutes, c+j.Weight*(t+j.Minutes))
			done[i] = false
		}
	}
	try(len(jobs), 0, 0)
	return best
}

// near allows for rounding what Result.Exact does.
func near(jobs []Job, a, b float64) bool {
	p, w := 0.0, 0.0
	for _, j := range jobs {
		p += j.Minutes
		w += j.Weight
	}
	return math.Abs(a-b) <= 1e-9*b+1e-14*p*w
}

// agree checks what every result owes: the order is valid, costs what it
// says, and the bound is a bound.
func agree(t interface{ Fatalf(string, ...any) }, jobs []Job, r Result) {
	c, err := Cost(jobs, r.Order)
	if err != nil {
		t.Fatalf("%v", err)
	}
	if c != r.Cost {
		t.Fatalf("the order costs %v, the result says %v", c, r.Cost)
	}
	if r.Exact != (r.Bound == r.Cost) || r.Bound > r.Cost {
		t.Fatalf("exact %v with bound %v and cost %v", r.Exact, r.Bound, r.Cost)
	}
}

// number draws minutes and weights with many ties and zeros.
func number() *rapid.Generator[float64] {
	return rapid.OneOf(
		rapid.Map(rapid.IntRange(0, 4), func(i int) float64 { return float64(i) }),
		rapid.Map(rapid.IntRange(0, 1000), func(i int) float64 { return float64(i) / 1000 }),
		rapid.Float64Range(0, 60),
	)
}

// shape says which precedences to draw.
type shape int

const (
	anyOrder shape = iota
	outTree
	inTree
)

func draw(t *rapid.T, most int, s shape) []Job {
	n := rapid.IntRange(0, most).Draw(t, "n")
	dense := rapid.IntRange(0, 100).Draw(t, "dense")
	// The place in a hidden order, so that conditions point both ways.
	hidden := rapid.Permutation(slices.Collect(seq(n))).Draw(t, "hidden")
	jobs := make([]Job, n)
	for i := range jobs {
		jobs[i] = Job{
			Name:    string(rune('a' + rapid.IntRange(0, 25).Draw(t, "name"))),
			Minutes: number().Draw(t, "minutes"),
			Weight:  number().Draw(t, "weight"),
		}
	}
	for k, v := range hidden {
		switch s {
		case anyOrder:
			for _, u := range hidden[:k] {
				if rapid.IntRange(1, 100).Draw(t, "edge") <= dense {
					jobs[v].After = append(jobs[v].After, u)
				}
			}
		case outTree:
			if k > 0 && rapid.IntRange(1, 100).Draw(t, "edge") <= dense {
				jobs[v].After = []int{hidden[rapid.IntRange(0, k-1).Draw(t, "parent")]}
			}
		case inTree:
			if k+1 < n && rapid.IntRange(1, 100).Draw(t, "edge") <= dense {
				u := hidden[rapid.IntRange(k+1, n-1).Draw(t, "child")]
				jobs[u].After = append(jobs[u].After, v)
			}
		}
	}
	return jobs
}

func seq(n int) func(func(int) bool) {
	return func(yield func(int) bool) {
		for i := range n {
			if !yield(i) {
				return
			}
		}
	}
}

func TestOptimalIsBruteForce(t *testing.T) {
	for name, s := range map[string]shape{"any": anyOrder, "out-tree": outTree, "in-tree": inTree} {
		t.Run(name, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				jobs := draw(t, 7, s)
				want := brute(jobs)
				r, err := Optimal(jobs, Options{})
				if err != nil {
					t.Fatal(err)
				}
				agree(t, jobs, r)
				if !r.Exact || !near(jobs, r.Cost, want) {
					t.Fatalf("cost %v, brute force %v; %+v", r.Cost, want, r.Method)
				}
				// Without dynamic programming the bound must still be one.
				r, err = Optimal(jobs, Options{MaxIdeals: -1})
				if err != nil {
					t.Fatal(err)
				}
				agree(t, jobs, r)
				if r.Cost < want && !near(jobs, r.Cost, want) || r.Bound > want && !near(jobs, r.Bound, want) {
					t.Fatalf("cost %v, bound %v, brute force %v; %+v", r.Cost, r.Bound, want, r.Method)
				}
			})
		})
	}
}

// The worked example for chains in M. Pinedo, Scheduling (recalled; brute
// force confirms it).
func TestPublishedChains(t *testing.T) {
	weights := []float64{6, 18, 12, 8, 8, 17, 18}
	minutes := []float64{3, 6, 6, 5, 4, 8, 10}
	var jobs []Job
	for i := range weights {
		j := Job{Name: fmt.Sprint(i + 1), Minutes: minutes[i], Weight: weights[i]}
		if i != 0 && i != 4 {
			j.After = []int{i - 1}
		}
		jobs = append(jobs, j)
	}
	r, err := Optimal(jobs, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if want := []int{0, 1, 4, 5, 2, 6, 3}; !slices.Equal(r.Order, want) {
		t.Errorf("order %v, want %v", r.Order, want)
	}
	if want := brute(jobs); r.Cost != want {
		t.Errorf("cost %v, brute force %v", r.Cost, want)
	}
}

func TestRefusals(t *testing.T) {
	tests := []struct {
		name string
		jobs []Job
		want string
	}{
		{"negative minutes", []Job{{Name: "pan", Minutes: -1}}, `job 0 "pan" has -1 minutes`},
		{"minutes not a number", []Job{{Minutes: math.NaN()}}, `job 0 has NaN minutes`},
		{"endless", []Job{{Name: "pan", Minutes: math.Inf(1)}}, `"pan" has +Inf minutes`},
		{"negative weight", []Job{{Name: "pan", Weight: -0.1}}, `"pan" has weight -0.1`},
		{"weight not a number", []Job{{Name: "pan", Weight: math.NaN()}}, `"pan" has weight NaN`},
		{"too large", []Job{{Minutes: 1e200, Weight: 1e200}}, `is too large`},
		{"no such job", []Job{{Name: "pan", After: []int{1}}}, `job 0 "pan" comes after job number 1; there are jobs 0 to 0`},
		{"below zero", []Job{{Name: "pan", After: []int{-1}}}, `job number -1`},
		{"needs itself", []Job{{Name: "pan", After: []int{0}}}, `"pan", "pan"`},
		{"cycle", []Job{
			{Name: "valve body", After: []int{2}},
			{Name: "pan"},
			{Name: "filter", After: []int{1, 3}},
			{Name: "servo", After: []int{0}},
			{Name: "pump", After: []int{3}},
		}, `must come before the next: "valve body", "servo", "filter", "valve body";`},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r, err := Optimal(tt.jobs, Options{})
			if err == nil {
				t.Fatalf("accepted: %+v", r)
			}
			if !strings.Contains(err.Error(), tt.want) {
				t.Errorf("error %q does not say %q", err, tt.want)
			}
			if _, err := Bench(tt.jobs); err == nil {
				t.Error("Bench accepted it")
			}
			if _, err := LikeliestFirst(tt.jobs); err == nil {
				t.Error("LikeliestFirst accepted it")
			}
			if _, _, err := Remaining(tt.jobs, nil); err == nil {
				t.Error("Remaining accepted it")
			}
		})
	}
}

func TestTies(t *testing.T) {
	tests := []struct {
		name string
		jobs []Job
		want []int
	}{
		{"nothing", nil, []int{}},
		{"by name", []Job{{Name: "c", Minutes: 2, Weight: 2}, {Name: "a", Minutes: 1, Weight: 1}, {Name: "b", Minutes: 3, Weight: 3}}, []int{1, 2, 0}},
		{"same names by index", []Job{{Name: "a", Minutes: 2, Weight: 2}, {Name: "a", Minutes: 1, Weight: 1}}, []int{0, 1}},
		{"sums that differ in the last digit", []Job{ // 0.1 + 0.2 > 0.3 in binary
			{Name: "c", Minutes: 2, Weight: 0.1},
			{Name: "c2", Minutes: 1, Weight: 0.2, After: []int{0}},
			{Name: "b", Minutes: 3, Weight: 0.3},
		}, []int{2, 0, 1}},
		{"inside a module", []Job{ // both ends cost the same either way
			{Name: "pull", Minutes: 5},
			{Name: "lift", Minutes: 5},
			{Name: "y", Minutes: 1, Weight: 1, After: []int{0, 1}},
			{Name: "x", Minutes: 1, Weight: 1, After: []int{0, 1}},
		}, []int{1, 0, 3, 2}},
		{"no minutes first", []Job{{Name: "a", Minutes: 1, Weight: 5}, {Name: "z", Minutes: 0, Weight: 0}}, []int{1, 0}},
		{"no weight last", []Job{{Name: "a", Minutes: 1}, {Name: "b", Minutes: 1, Weight: 1e-9}}, []int{1, 0}},
		{"nothing to see", []Job{{Name: "b", Minutes: 1}, {Name: "a", Minutes: 2, After: []int{0}}, {Name: "c", Minutes: 1, After: []int{0, 1}}}, []int{0, 1, 2}},
		{"shortcut in a chain", []Job{{Name: "c", Minutes: 1, Weight: 9, After: []int{1, 2, 1}}, {Name: "b", Minutes: 1, After: []int{2}}, {Name: "a", Minutes: 1}}, []int{2, 1, 0}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r, err := Optimal(tt.jobs, Options{})
			if err != nil {
				t.Fatal(err)
			}
			agree(t, tt.jobs, r)
			if !slices.Equal(r.Order, tt.want) {
				t.Errorf("order %v, want %v; %+v", r.Order, tt.want, r.Method)
			}
		})
	}
}
