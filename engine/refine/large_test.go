package refine_test

import (
	"math/rand/v2"
	"testing"

	"slipcase/engine/refine"
)

// Learning from a large casebook of the largest demo unit, of a shop that is as the
// rules say: N cases in one run (go test -bench Large -benchtime 1x), by the clock
// and with what moves.
func BenchmarkLarge(b *testing.B) {
	m := buildOf(b, knowledgeOf(b, "northfork-4"), "northfork-4")
	cases := customers(b, m, 10_000, rand.New(rand.NewPCG(100, 10_000)))
	for b.Loop() {
		p := propose(b, m, cases, refine.Options{})
		b.ReportMetric(float64(p.Cases), "cases")
		b.ReportMetric(float64(len(p.Changes)), "moved")
		if p.HeldOut != nil {
			b.ReportMetric(p.HeldOut.Gain, "gain")
		}
	}
}
