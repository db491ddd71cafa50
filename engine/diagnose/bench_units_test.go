package diagnose_test

import (
	"cmp"
	"fmt"
	"hash/fnv"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"testing"
	"time"

	"slipcase/engine"
	"slipcase/engine/model"
	"slipcase/engine/network"
	"slipcase/engine/trial"
)

var allUnits = []string{"northfork-4", "harrow-3", "simpson-od-4", "od-simpson-4", "ravigneaux-transaxle-4", "cross-coupled-4", "lepelletier-6", "four-gearset-8"}

// chance is a number in 0..1 that a seed and a name alone decide, so that the
// same is drawn whatever else the network holds.
func chance(seed uint64, name string) float64 {
	h := fnv.New64a()
	h.Write([]byte(name))
	return rand.New(rand.NewPCG(seed, h.Sum64())).Float64()
}

// sampled draws a unit with one fault and a number of soft reports on it:
// present findings first, up to half, then absent ones, whatever they are about
// and trouble codes too. No case is like that; it is the hard end.
func sampled(m *model.Model, seed uint64, reports int) []network.Likelihood {
	on := make([]bool, len(m.Nodes))
	modes := m.Modes()
	culprit := modes[int(chance(seed, "culprit")*float64(len(modes)))]
	var present, absent []int
	for i, n := range m.Net.Nodes {
		off := 1 - n.Leak
		for _, l := range n.Links {
			if on[l.Parent] {
				off *= 1 - l.Strength
			}
		}
		on[i] = i == culprit || chance(seed, n.Name) > off
		if m.Nodes[i].Layer == model.FindingLayer && m.Nodes[i].Condition == "" {
			if on[i] {
				present = append(present, i)
			} else {
				absent = append(absent, i)
			}
		}
	}
	for _, list := range [][]int{present, absent} {
		slices.SortFunc(list, func(a, b int) int {
			return cmp.Compare(chance(seed, "order "+m.Nodes[a].Name), chance(seed, "order "+m.Nodes[b].Name))
		})
	}
	if len(present) > reports/2 {
		present = present[:reports/2]
	}
	var ev []network.Likelihood
	for i, node := range append(present, absent[:reports-len(present)]...) {
		l := network.Likelihood{Node: node, On: 0.85, Off: 0.05, Tag: i}
		if !on[node] {
			l.On, l.Off = 0.15, 0.95
		}
		ev = append(ev, l)
	}
	return ev
}

// vehicle draws a vehicle with a complaint and what whole checks, in any order,
// report of it, up to a number of reports.
func vehicle(m *model.Model, seed uint64, reports int) *engine.CaseFile {
	v, err := trial.NewVehicles(m).Draw(seed, 45)
	if v == nil {
		panic(err)
	}
	c := &engine.CaseFile{Unit: m.Unit.ID}
	checks := slices.Clone(m.Knowledge.Checks)
	slices.SortFunc(checks, func(a, b engine.Check) int {
		return cmp.Compare(chance(seed, a.Name), chance(seed, b.Name))
	})
	for _, k := range checks {
		if k.Stage == engine.StageTeardown || k.Stage == engine.StagePulled {
			continue
		}
		for _, y := range k.Yields {
			for _, name := range m.Match(y) {
				if engine.ParseFindingName(name).Condition != "" || len(c.Reports) >= reports {
					continue
				}
				if state := v.Say(name, k.Reporter); state != engine.Unknown {
					c.Reports = append(c.Reports, engine.Report{Finding: name, State: state, By: k.Reporter})
				}
			}
		}
	}
	return c
}

// spread of times: median, 95% and worst.
func spread(ms []float64) (median, most, worst float64) {
	slices.Sort(ms)
	return ms[len(ms)/2], ms[len(ms)*95/100], ms[len(ms)-1]
}

// BenchmarkUnits is one posterior of all modes and causes on every unit, with a
// structure not seen before: benchmark evidence (see sampled) and vehicles
// drawn, told apart, by the clock and in processor time. Cases with reports that
// count approximately are counted. SEEDS, REPORTS and ONLY (a unit) narrow it.
func BenchmarkUnits(b *testing.B) {
	seeds, reports := number("SEEDS", 20), number("REPORTS", 45)
	for _, kind := range []string{"evidence", "vehicles"} {
		b.Run(kind, func(b *testing.B) {
			for b.Loop() {
				var all, work []float64
				dropped := 0
				for _, unit := range allUnits {
					if only := os.Getenv("ONLY"); only != "" && only != unit {
						continue
					}
					m := modelOf(b, unit)
					var own []float64
					var widest int
					var size float64
					left, deep := 0, 0
					for seed := range uint64(seeds) {
						var pieces []model.Piece
						if kind == "evidence" {
							for i, l := range sampled(m, seed, reports) {
								pieces = append(pieces, model.Piece{Node: l.Node, On: l.On, Off: l.Off, Group: i, State: stateOf(l)})
							}
						} else {
							pieces, _ = m.Evidence(vehicle(m, seed, reports))
						}
						start, used := time.Now(), processor()
						kept, out, err := m.Within(m.Solver(), pieces, nil, model.CaseWork, model.NearWork)
						if err != nil {
							b.Fatal(err)
						}
						post, err := m.Solve(kept)
						if err != nil {
							b.Fatal(err)
						}
						own = append(own, float64(time.Since(start).Microseconds())/1000)
						work = append(work, float64((processor()-used).Microseconds())/1000)
						widest, size = max(widest, post.Method.Width), max(size, post.Method.TableSize)
						if len(out) > 0 {
							left++
						}
						if post.Method.Precision > 53 {
							deep++
						}
					}
					dropped += left
					all = append(all, own...)
					median, most, worst := spread(own)
					fmt.Printf("%-24s %s: median %7.1f ms, 95%% %7.1f, worst %7.1f; width %d, %.0f entries, approximate in %d, higher precision in %d of %d\n",
						unit, kind, median, most, worst, widest, size, left, deep, seeds)
				}
				median, most, worst := spread(all)
				b.ReportMetric(median, "ms-median")
				b.ReportMetric(most, "ms-95%")
				b.ReportMetric(worst, "ms-worst")
				median, most, worst = spread(work)
				b.ReportMetric(median, "ms-processor-median")
				b.ReportMetric(most, "ms-processor-95%")
				b.ReportMetric(worst, "ms-processor-worst")
				b.ReportMetric(float64(dropped), "near")
			}
		})
	}
}

func stateOf(l network.Likelihood) engine.State {
	if l.On > l.Off {
		return engine.Present
	}
	return engine.Absent
}

func number(name string, usual int) int {
	if n, err := strconv.Atoi(os.Getenv(name)); err == nil {
		return n
	}
	return usual
}
