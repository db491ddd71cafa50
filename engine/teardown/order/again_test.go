package order

import (
	"math/rand/v2"
	"testing"
)

// With other weights, again and again, the cost that is said to be the least is
// that of trying every order; and most are proven.
func TestAgain(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(8, 14))
	proven, all := 0, 0
	for range 300 {
		jobs := make([]Job, 2+rng.IntN(6))
		idle := make([]bool, len(jobs)) // these never have any weight
		for i := range jobs {
			idle[i] = rng.IntN(3) == 0
			jobs[i].Minutes = float64(rng.IntN(20))
			jobs[i].Weight = rng.Float64()
			for j := range i {
				if rng.IntN(3) == 0 {
					jobs[i].After = append(jobs[i].After, j)
				}
			}
		}
		start, err := Optimal(jobs, Options{})
		if err != nil {
			t.Fatal(err)
		}
		a, err := NewAgain(jobs, idle)
		if err != nil {
			t.Fatal(err)
		}
		for range 5 {
			weights := make([]float64, len(jobs))
			for i := range weights {
				if rng.IntN(4) > 0 && !idle[i] {
					weights[i] = rng.Float64()
				}
				jobs[i].Weight = weights[i]
			}
			c, ok := a.Least(weights, start.Order)
			want := brute(jobs)
			if c < want && !near(jobs, c, want) || ok && !near(jobs, c, want) {
				t.Fatalf("cost %v (proven: %v), every order tried gives %v: %+v", c, ok, want, jobs)
			}
			if full, bound := a.Full(weights, DefaultMaxIdeals); !near(jobs, full, want) || !near(jobs, bound, want) {
				t.Fatalf("cost %v by the full search, %v at least, every order tried gives %v: %+v", full, bound, want, jobs)
			}
			all++
			if ok {
				proven++
			}
		}
	}
	t.Logf("%d of %d proven", proven, all)
	if proven < all*2/3 {
		t.Errorf("only %d of %d are proven", proven, all)
	}
}
