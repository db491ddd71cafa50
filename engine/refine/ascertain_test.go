package refine_test

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"slipcase/engine/refine"
	"slipcase/internal/size"
)

// Of a shop that is as the rules say, what shows by what does not rise because
// vehicles come in for what shows: not one way more than the other.
func TestComplaintsAreNotAnswers(t *testing.T) {
	m := build(t, knowledgeOf(t, demoUnit()))
	up, n := 0.0, 0.0
	// Where little else is asked for, what it came in for tells the more: broken, 100
	// cases of four answers moved by 0.14 to 0.17 (four seeds, 2026-11-27).
	cases, answers, least := size.Of(100, 300, 300), size.Of(4, asks, asks), size.Of(30., 100, 100)
	p := propose(t, m, casesOf(t, m, cases, 0.9, true, answers, rand.New(rand.NewPCG(41, 0))), refine.Options{Eager: true, NoHeldOut: true})
	for _, c := range p.Changes {
		if strings.HasSuffix(c.Path.String(), "strength") {
			n++
			// In its own standard deviations, near enough: 3.3 of them are a 90% interval.
			up += (logOdds(c.New) - logOdds(c.Old.Value)) / (logOdds(c.High) - logOdds(c.Low)) * 3.3
		}
	}
	t.Logf("%.0f strengths move by %.3f of their standard deviation on average", n, up/n)
	if n < least || math.Abs(up/n) > 0.1 {
		t.Errorf("%.0f strengths move by %.3f of their standard deviation on average", n, up/n)
	}
}

func logOdds(p float64) float64 { return math.Log(p) - math.Log1p(-p) }
