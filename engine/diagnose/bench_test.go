package diagnose_test

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"slipcase/engine/diagnose"
	"slipcase/engine/model"
)

// BenchmarkPosterior is one posterior of all modes and causes on the demo unit
// with 10, 20 and 45 soft reports: "first" with a structure not seen before,
// "again" where only numbers change.
func BenchmarkPosterior(b *testing.B) {
	for _, reports := range []int{10, 20, 45} {
		for _, again := range []bool{false, true} {
			name := fmt.Sprintf("%d-reports-first", reports)
			if again {
				name = fmt.Sprintf("%d-reports-again", reports)
			}
			b.Run(name, func(b *testing.B) {
				m := modelOf(b, "northfork-4")
				var times []float64
				var width int
				seed := uint64(0)
				for b.Loop() {
					seed++
					ev := sampled(m, seed%40, reports)
					if again {
						if _, err := m.Solver().Solve(ev); err != nil {
							b.Fatal(err)
						}
					}
					start := time.Now()
					post, err := m.Solver().Solve(ev)
					if err != nil {
						b.Fatal(err)
					}
					times = append(times, float64(time.Since(start).Microseconds())/1000)
					width = max(width, post.Method.Width)
				}
				slices.Sort(times)
				b.ReportMetric(times[len(times)/2], "ms-median")
				b.ReportMetric(times[len(times)*95/100], "ms-95%")
				b.ReportMetric(float64(width), "width-max")
			})
		}
	}
}

// BenchmarkDiagnose is the whole answer to a demo case, without reading files.
func BenchmarkDiagnose(b *testing.B) {
	file := demo(b, "slip-one-gear")
	m := modelOf(b, file.Unit)
	for b.Loop() {
		if _, _, err := diagnose.Case(m, file, diagnose.Options{Weights: 1}); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkBuild joins unit, rules and physics.
func BenchmarkBuild(b *testing.B) {
	m := modelOf(b, "northfork-4")
	for b.Loop() {
		if _, err := model.Build(m.Knowledge, m.Unit); err != nil {
			b.Fatal(err)
		}
	}
}
