package refine_test

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"slipcase/engine/refine"
)

// Of a shop that is as the rules say, what shows by what does not rise because
// vehicles come in for what shows: not one way more than the other.
func TestComplaintsAreNotAnswers(t *testing.T) {
	m := build(t, knowledgeOf(t, demoUnit()))
	up, n := 0.0, 0.0
	p := propose(t, m, customers(t, m, 300, rand.New(rand.NewPCG(41, 0))), refine.Options{Eager: true, NoHeldOut: true})
	for _, c := range p.Changes {
		if strings.HasSuffix(c.Path.String(), "strength") {
			n++
			// In its own standard deviations, near enough: 3.3 of them are a 90% interval.
			up += (logOdds(c.New) - logOdds(c.Old.Value)) / (logOdds(c.High) - logOdds(c.Low)) * 3.3
		}
	}
	t.Logf("%.0f strengths move by %.3f of their standard deviation on average", n, up/n)
	if n < 100 || math.Abs(up/n) > 0.1 {
		t.Errorf("%.0f strengths move by %.3f of their standard deviation on average", n, up/n)
	}
}

func logOdds(p float64) float64 { return math.Log(p) - math.Log1p(-p) }
