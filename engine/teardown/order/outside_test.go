package order

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"
)

// TestOutsideSolver compares with optimal values that an integer-programming
// solver proved; the files name it, and solve.py beside them made them.
func TestOutsideSolver(t *testing.T) {
	t.Run("10 to 20 jobs", func(t *testing.T) { outside(t, "instances.json", 200) })
	t.Run("25 to 40 jobs", func(t *testing.T) { outside(t, "larger.json", 30) })
}

func outside(t *testing.T, name string, least int) {
	text, err := os.ReadFile(filepath.Join("..", "..", "..", "testdata", "orders", name))
	if err != nil {
		t.Fatal(err)
	}
	var file struct {
		Instances []struct {
			Kind    string
			Optimum float64
			Jobs    []struct {
				Minutes, Weight float64
				After           []int
			}
		}
	}
	if err := json.Unmarshal(text, &file); err != nil {
		t.Fatal(err)
	}
	if len(file.Instances) < least {
		t.Fatalf("%d instances, want at least %d", len(file.Instances), least)
	}
	found, proven, gap := 0, 0, 0.0
	for i, in := range file.Instances {
		var jobs []Job
		for _, j := range in.Jobs {
			jobs = append(jobs, Job{Minutes: j.Minutes, Weight: j.Weight, After: j.After})
		}
		r, err := Optimal(jobs, Options{})
		if err != nil {
			t.Fatalf("instance %d: %v", i, err)
		}
		agree(t, jobs, r)
		// Whole numbers below 2^53: both values are exact.
		if !r.Exact || r.Cost != in.Optimum {
			t.Errorf("instance %d (%s): cost %v, exact %v, solver %v; %+v", i, in.Kind, r.Cost, r.Exact, in.Optimum, r.Method)
		}
		r, err = Optimal(jobs, Options{MaxIdeals: -1})
		if err != nil {
			t.Fatalf("instance %d: %v", i, err)
		}
		agree(t, jobs, r)
		if r.Bound > in.Optimum*(1+1e-11) || r.Cost < in.Optimum {
			t.Errorf("instance %d (%s): bound %v and cost %v round %v; %+v", i, in.Kind, r.Bound, r.Cost, in.Optimum, r.Method)
		}
		if r.Cost == in.Optimum {
			found++
		}
		if r.Exact {
			proven++
		}
		gap = max(gap, 1-r.Bound/in.Optimum)
	}
	// Local search finds all of these; if it gets worse, say so here.
	if found < len(file.Instances) {
		t.Errorf("local search misses %d of %d optima", len(file.Instances)-found, len(file.Instances))
	}
	t.Logf("without dynamic programming %d of %d orders are optimal, %d proven; the worst bound is %.1f%% low",
		found, len(file.Instances), proven, 100*gap)
}
