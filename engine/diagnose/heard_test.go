package diagnose_test

import (
	"cmp"
	"math"
	"slices"
	"testing"

	"slipcase/engine"
	"slipcase/engine/diagnose"
	"slipcase/engine/model"
	"slipcase/internal/size"
)

// What a group weighs is what leaving all of it out says, solved exactly; the
// complaint weighs, though each report of it alone is next to nothing.
func TestHear(t *testing.T) {
	file := demo(t, "slip-one-gear")
	m := modelOf(t, file.Unit)
	r, _, err := diagnose.Case(m, file, diagnose.Options{Weights: 1})
	if err != nil {
		t.Fatal(err)
	}
	lead := r.Suspects[0].Modes[0]
	heard, err := diagnose.Hear(m, r, lead.Node, true)
	if err != nil {
		t.Fatal(err)
	}
	odds := func(p float64) float64 { return math.Log10(p / (1 - p)) }
	pieces, places := 0, map[string]int{}
	complaint := 0.0
	for _, h := range heard {
		pieces += len(h.Pieces)
		var rest []model.Piece
		for _, p := range r.Pieces {
			in := false
			for _, q := range h.Pieces {
				in = in || p.Label == q.Label && p.By == q.By && p.Group == q.Group
			}
			if !in {
				rest = append(rest, p)
			}
		}
		post, err := m.Solve(rest)
		if err != nil {
			t.Fatal(err)
		}
		if want := 10 * (odds(lead.P) - odds(post.P[lead.Node])); math.Abs(want-h.Decibans) > 1e-2 {
			t.Errorf("%s: %v decibans, leaving it out gives %v", h.Pieces[0].Label, h.Decibans, want)
		}
		f := engine.ParseFindingName(h.Pieces[0].Label)
		if h.Pieces[0].State == engine.Absent {
			places[f.Name]++
		} else if f.Base() == "slips@D/4" {
			complaint = h.Decibans
		}
	}
	if pieces != len(r.Pieces) {
		t.Errorf("%d of %d reports are in a group", pieces, len(r.Pieces))
	}
	for name, n := range places {
		if n > 1 {
			t.Errorf("%d groups say that there is no %s", n, name)
		}
	}
	if complaint < 3 {
		t.Errorf("the complaint weighs %v decibans for the leader", complaint)
	}
	if last := heard[len(heard)-1]; math.Abs(last.After-lead.P) > 1e-9 {
		t.Errorf("after the last report %v, with all %v", last.After, lead.P)
	}
}

// The groups that weigh most are among those that the estimate picks: of drawn
// vehicles with 30 reports the heaviest of all, and nearly always the next two.
func TestHeaviest(t *testing.T) {
	cases, found := 0, 0
	for _, unit := range []string{"northfork-4", "cross-coupled-4"} {
		m := modelOf(t, unit)
		for seed := range uint64(size.Of(3, 6, 6)) {
			r, _, err := diagnose.Case(m, vehicle(m, seed, 30), diagnose.Options{})
			if err != nil {
				t.Fatal(err)
			}
			node := r.Suspects[0].Modes[0].Node
			all, err := diagnose.Hear(m, r, node, false)
			if err != nil {
				t.Fatal(err)
			}
			some, err := diagnose.Heaviest(m, r, node, 8)
			if err != nil {
				t.Fatal(err)
			}
			if len(some) != min(8, len(all)) {
				t.Fatalf("%s, %d: %d of %d groups", unit, seed, len(some), len(all))
			}
			is := func(h diagnose.Heard) bool {
				return slices.ContainsFunc(some, func(s diagnose.Heard) bool {
					return s.Pieces[0].Label == h.Pieces[0].Label && s.Pieces[0].By == h.Pieces[0].By && math.Abs(s.Decibans-h.Decibans) < 0.01
				})
			}
			slices.SortStableFunc(all, func(a, b diagnose.Heard) int {
				return cmp.Compare(math.Abs(b.Decibans), math.Abs(a.Decibans))
			})
			for i, h := range all[:3] {
				cases++
				switch {
				case is(h):
					found++
				case i == 0:
					t.Errorf("%s, %d: %s weighs most, %.1f decibans, and is not picked", unit, seed, h.Pieces[0].Label, h.Decibans)
				default:
					t.Logf("%s, %d: %s is number %d with %.2f decibans, and is not picked", unit, seed, h.Pieces[0].Label, i+1, h.Decibans)
				}
			}
		}
	}
	if found < cases*9/10 {
		t.Errorf("%d of %d are picked", found, cases)
	}
}
