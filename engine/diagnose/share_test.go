package diagnose_test

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"slipcase/engine"
	"slipcase/engine/model"
	"slipcase/internal/size"
)

// TestSharedOut holds reports that are shared out among the faults behind them
// (model.Within) against the exact answer, on cases that have one: benchmark
// evidence, the work bound lowered until some reports no longer fit. To go
// without these reports is what they have to beat. SEEDS, REPORTS, and EXACT, BOUND
// and NEAR (of the trees, as powers of two) change it.
func TestSharedOut(t *testing.T) {
	exact := math.Exp2(float64(number("EXACT", size.Of(19, 22, 22))))
	low := number("BOUND", size.Of(15, 19, 19))
	bound := math.Exp2(float64(low))
	nearly := math.Exp2(float64(number("NEAR", low-1)))
	units := []string{"northfork-4", "harrow-3", "ravigneaux-transaxle-4"}
	var cases, leads, leadsWithout int
	var sum, sumWithout, worst, worstWithout float64
	for _, unit := range units {
		m := modelOf(t, unit)
		for seed := range uint64(number("SEEDS", size.Of(16, 7, 7))) {
			var pieces []model.Piece
			for i, l := range sampled(m, seed, number("REPORTS", size.Of(28, 45, 45))) {
				pieces = append(pieces, model.Piece{Node: l.Node, On: l.On, Off: l.Off, Group: i, State: stateOf(l)})
			}
			if _, near, err := m.Within(m.Solver(), pieces, nil, exact, exact); err != nil || len(near) > 0 {
				continue // no exact answer to hold it against
			}
			start := time.Now()
			all, near, err := m.Within(m.Solver(), pieces, nil, bound, nearly)
			if err != nil {
				t.Fatal(err)
			}
			took := time.Since(start)
			if len(near) == 0 {
				continue
			}
			if len(all) != len(pieces) {
				t.Fatalf("%s, seed %d: %d pieces of %d come back", unit, seed, len(all), len(pieces))
			}
			solve := func(pieces []model.Piece) []float64 {
				post, err := m.Solve(pieces)
				if err != nil {
					t.Fatal(err)
				}
				return post.P
			}
			truth, shared, without := solve(pieces), solve(all), solve(all[:len(all)-len(near)])
			first := func(p []float64) int {
				at := m.Modes()[0]
				for _, n := range m.Modes() {
					if p[n] > p[at] {
						at = n
					}
				}
				return at
			}
			cases++
			// Two that are within two points are one leader.
			best := truth[first(truth)] - 0.02
			if truth[first(shared)] >= best {
				leads++
			}
			if truth[first(without)] >= best {
				leadsWithout++
			}
			var off, offWithout float64
			for _, n := range m.Modes() {
				off = max(off, math.Abs(shared[n]-truth[n]))
				offWithout = max(offWithout, math.Abs(without[n]-truth[n]))
			}
			sum, sumWithout = sum+off, sumWithout+offWithout
			worst, worstWithout = max(worst, off), max(worstWithout, offWithout)
			t.Logf("%s, seed %d: %d of %d reports shared out in %d ms; largest error of a probability %.3f, without them %.3f",
				unit, seed, len(near), len(pieces), took.Milliseconds(), off, offWithout)
		}
	}
	n := float64(cases)
	t.Logf("%d cases: leader right in %d, without these reports %d; largest error, mean %.3f and %.3f, worst %.3f and %.3f",
		cases, leads, leadsWithout, sum/n, sumWithout/n, worst, worstWithout)
	if cases < 3 {
		t.Fatalf("%d cases with reports to share out: too few to tell", cases)
	}
	if sum > 0.35*sumWithout || leads < leadsWithout {
		t.Errorf("shared out: %.3f off, leader right in %d; without %.3f, %d", sum/n, leads, sumWithout/n, leadsWithout)
	}
}

// TestOrderOfReports: what a case says does not hang on which of its reports was
// noted first, also where some are shared out.
func TestOrderOfReports(t *testing.T) {
	m := modelOf(t, "northfork-4")
	var pieces []model.Piece
	for i, l := range sampled(m, 1, 30) {
		pieces = append(pieces, model.Piece{Node: l.Node, On: l.On, Off: l.Off, Group: i, State: stateOf(l)})
	}
	solve := func(pieces []model.Piece) []float64 {
		all, near, err := m.Within(m.Solver(), pieces, nil, 1<<15, 1<<14)
		if err != nil {
			t.Fatal(err)
		}
		if len(near) == 0 {
			t.Fatal("no report is shared out: nothing to compare")
		}
		post, err := m.Solve(all)
		if err != nil {
			t.Fatal(err)
		}
		return post.P
	}
	first := solve(pieces)
	r := rand.New(rand.NewPCG(1, 2))
	for range 5 {
		r.Shuffle(len(pieces), func(i, j int) { pieces[i], pieces[j] = pieces[j], pieces[i] })
		now := solve(pieces)
		for _, n := range m.Modes() {
			if math.Abs(now[n]-first[n]) > 1e-9 {
				t.Fatalf("%s: %.6f in one order, %.6f in another", m.Nodes[n].Name, first[n], now[n])
			}
		}
	}
}

// TestAlwaysHeld: whatever is told of a case, in conditions and without, some of it is
// shared out until the rest makes a small enough tree.
func TestAlwaysHeld(t *testing.T) {
	for _, unit := range []string{"northfork-4", "harrow-3"} {
		m := modelOf(t, unit)
		var list []int
		for i, n := range m.Nodes {
			if n.Layer == model.FindingLayer || n.Layer == model.PartLayer {
				list = append(list, i)
			}
		}
		for seed := range uint64(size.Of(1, 20, 200)) {
			r := rand.New(rand.NewPCG(5, seed))
			var pieces []model.Piece
			for i := range 200 + r.IntN(100) {
				p := model.Piece{Node: list[r.IntN(len(list))], On: 0.9, Off: 0.05, Group: i, State: engine.Present}
				if r.IntN(12) > 0 {
					p.On, p.Off, p.State = 0.1, 0.95, engine.Absent
				}
				pieces = append(pieces, p)
			}
			all, _, err := m.Within(m.Solver(), pieces, m.Modes(), 1<<17, 1<<16)
			if err != nil {
				t.Fatalf("%s, seed %d: %v", unit, seed, err)
			}
			if len(all) != len(pieces) {
				t.Fatalf("%s, seed %d: %d of %d pieces", unit, seed, len(all), len(pieces))
			}
		}
	}
}
