package asking

import (
	"context"
	"log/slog"
	"os"
	"slices"
	"strconv"
	"testing"
	"time"

	"slipcase/cmd/internal/load"
	"slipcase/engine/advise"
	"slipcase/engine/diagnose"
	"slipcase/engine/drill"
)

const mostReports = 45

// The ranked answer, as the bench page shows it and told with what speaks for
// and against the first, and the best next checks, of drawn vehicles of the largest
// unit as their jobs go on: SEEDS vehicles, each after its complaint and after
// each of up to 12 checks in turn, up to 45 reports, as many as the design counts with.
func BenchmarkRanked(b *testing.B) {
	seeds := 10
	if n, err := strconv.Atoi(os.Getenv("SEEDS")); err == nil {
		seeds = n
	}
	l := load.New(b.TempDir(), false, slog.New(slog.DiscardHandler))
	x, u, err := l.Unit(context.Background(), "four-gearset-8")
	if err != nil {
		b.Fatal(err)
	}
	m, err := x.Model(u.ID)
	if err != nil {
		b.Fatal(err)
	}
	took := map[string][]time.Duration{}
	reports := 0
	for b.Loop() {
		for seed := range uint64(seeds) {
			dr, err := drill.New(m, drill.OneFault, seed)
			if err != nil {
				b.Fatal(err)
			}
			for i := range 13 {
				c := dr.Case()
				reports = max(reports, len(c.Reports))
				for what, f := range map[string]func(*Work) error{
					"ranked":    func(w *Work) error { _, err := w.Suspects(8, false, false); return err },
					"told":      func(w *Work) error { _, err := w.Suspects(8, false, true); return err },
					"posterior": func(w *Work) error { _, err := w.Diagnose(diagnose.Options{Top: 8}); return err },
					"next": func(w *Work) error {
						_, err := advise.Price(w.Model, w.Case, advise.Options{Best: 3, Explain: true})
						return err
					},
				} {
					w := &Work{Knowledge: x.Knowledge, Model: m.WithContext(context.Background()), Case: &c}
					from := time.Now()
					if err := f(w); err != nil {
						b.Fatal(err)
					}
					took[what] = append(took[what], time.Since(from))
				}
				list, err := dr.Checks()
				if err != nil {
					b.Fatal(err)
				}
				if len(list) == 0 {
					break
				}
				if _, err := dr.Do(list[(i*7)%len(list)].Check.Name); err != nil {
					b.Fatal(err)
				}
				if len(dr.Case().Reports) > mostReports {
					break
				}
			}
		}
	}
	for what, list := range took {
		slices.Sort(list)
		for name, at := range map[string]int{"p50": len(list) / 2, "p99": len(list) * 99 / 100, "max": len(list) - 1} {
			b.ReportMetric(float64(list[at].Microseconds())/1000, what+"-"+name+"-ms")
		}
	}
	b.ReportMetric(float64(reports), "reports")
	b.ReportMetric(0, "ns/op")
}
