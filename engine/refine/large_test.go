package refine_test

import (
	"math/rand/v2"
	"os"
	"strconv"
	"testing"

	"slipcase/engine/refine"
)

// Learning from a large casebook of the largest demo unit, of a shop that is as the
// rules say, by the clock and with what moves: 10,000 cases, or so many as CASES says
// (go test -bench Large -benchtime 1x).
func BenchmarkLarge(b *testing.B) {
	n, err := strconv.Atoi(os.Getenv("CASES"))
	if err != nil {
		n = 10_000
	}
	m := buildOf(b, knowledgeOf(b, "northfork-4"), "northfork-4")
	cases := customers(b, m, n, rand.New(rand.NewPCG(100, 10_000)))
	for b.Loop() {
		p := propose(b, m, cases, refine.Options{})
		b.ReportMetric(float64(p.Cases), "cases")
		b.ReportMetric(float64(len(p.Changes)), "moved")
		if p.HeldOut != nil {
			b.ReportMetric(p.HeldOut.Gain, "gain")
		}
	}
}
