package refine_test

import (
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"

	"slipcase/engine/model"
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

// Of a shop with a large casebook one part that fails five times as often as its rule says
// and one reporter whose false alarms are twice as often are found, and nothing else moves.
// A minute by the clock, in long runs only.
func TestLargeShop(t *testing.T) {
	if !long() {
		t.Skip("a minute: SLIPCASE_LONG=1")
	}
	k := wholeKnowledgeOf(t, smallUnit)
	cases := customers(t, buildOf(t, off{"both", 5, 2}.world(k), smallUnit), 2100, rand.New(rand.NewPCG(31, 0)))
	m := buildOf(t, wholeKnowledgeOf(t, smallUnit), smallUnit)
	p, err := refine.Propose(t.Context(), []*model.Model{m}, cases, refine.Options{HeardOnly: true})
	if err != nil {
		t.Fatal(err)
	}
	part, alarms := 0.0, 0.0
	for _, c := range p.Changes {
		t.Logf("%s: %.4f to %.4f (%.4f to %.4f)", c.Path, c.Old.Value, c.New, c.Low, c.High)
		switch c.Path.String() {
		case offPart.String():
			part = c.New
		case offAlarms.String():
			alarms = c.New
		}
	}
	t.Logf("of %d cases, %d skipped, cut %v: %+v", p.Cases, len(p.Skipped), p.Cut, p.HeldOut)
	if math.Abs(part-0.09) > 0.02 || math.Abs(alarms-0.06) > 0.008 || len(p.Changes) > 3 {
		t.Errorf("the part fails in %v, truly .09, false alarms come in %v, truly .06, and %d numbers move", part, alarms, len(p.Changes))
	}
	if p.HeldOut == nil || p.HeldOut.Gain <= 0 {
		t.Errorf("cases to come: %+v", p.HeldOut)
	}
}
