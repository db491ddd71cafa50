package refine

import (
	"context"
	"math"
	"slices"
	"testing"

	"slipcase/engine"
	"slipcase/engine/model"
)

// The counts are the gradient of the log-likelihood with the shop's detection models
// too, and no plain step loses log-posterior.
func TestDetectionsAreInTheGradient(t *testing.T) {
	m := small(t)
	l, err := newLearner(t.Context(), []*model.Model{m}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	cases := rCases(t)[:80]
	for i := range cases[:20] { // of which silence alone speaks
		cases[i].File = engine.CaseFile{ID: cases[i].File.ID, Unit: cases[i].File.Unit, Seen: cases[i].File.Seen[:1]}
	}
	items, _ := l.choose(cases)
	theta := l.originValues()
	if len(theta) != l.rules+2 {
		t.Fatalf("%d numbers, %d of them of the rules", len(theta), l.rules)
	}
	logL := func(theta []float64) float64 {
		l.set(theta)
		c, err := l.expect(context.Background(), items, theta, nil)
		if err != nil {
			t.Fatal(err)
		}
		return c.logL
	}
	// The detection models at their least, too: what is there noted as seldom as what is
	// sound is a statement all the same.
	atLeast := map[int]bool{}
	for _, h := range l.detections {
		theta[h.param], atLeast[h.param] = l.params[h.param].least, true
		if h.sound <= 0 {
			t.Fatal("nothing sound is noted: the test shows nothing of the least")
		}
	}
	l.set(theta)
	c, err := l.expect(context.Background(), items, theta, nil)
	if err != nil {
		t.Fatal(err)
	}
	for i := range theta {
		const h = 1e-5
		move := func(by float64) []float64 {
			out := slices.Clone(theta)
			out[i] = 1 / (1 + math.Exp(-logit(theta[i])-by))
			return out
		}
		want := (logL(move(h)) - logL(move(-h))) / (2 * h)
		if atLeast[i] { // there is only the way up
			want = (logL(move(h)) - logL(theta)) / h
		}
		if got := c.s[i] - theta[i]*c.n[i]; math.Abs(got-want) > 1e-5*(1+math.Abs(want)) {
			t.Errorf("number %d %s: score %v, slope %v", i, l.params[i].name, got, want)
		}
	}
	last := math.Inf(-1)
	for range 15 {
		l.set(theta)
		c, err := l.expect(context.Background(), items, theta, nil)
		if err != nil {
			t.Fatal(err)
		}
		now := c.logL + l.logPrior(theta)
		if now < last-1e-9 {
			t.Errorf("log-posterior falls from %v to %v", last, now)
		}
		last = now
		theta = l.update(theta, c, 1, nil)
	}
}

// Where silence is to say nothing there are no detection models, and a score is of what
// was found and cleared alone: adding a part that nobody looked at to the rules
// changes nothing in it.
func TestSilenceSaysNothing(t *testing.T) {
	deaf := Options{Found: -1, Settled: -1}
	p := propose(t, small(t), rCases(t), deaf)
	if p.Found != 0 || p.Settled != 0 || p.HeldOut == nil || p.HeldOut.Cases != p.Cases {
		t.Fatalf("found %v, settled %v, held out %+v of %d", p.Found, p.Settled, p.HeldOut, p.Cases)
	}
	more := small(t, "  component \"b\" {", "  component \"unseen\" {\n    kind   = part_b\n    serves = unit\n  }\n  component \"b\" {")
	if n := len(more.Unit.Components); n != 3 {
		t.Fatalf("%d components", n)
	}
	cases := rCases(t)
	for i := range cases {
		cases[i].File.Reports = nil // else the part unseen may explain them
	}
	a, b := propose(t, small(t), cases, deaf).HeldOut.Before, propose(t, more, cases, deaf).HeldOut.Before
	if math.Abs(a.Log-b.Log) > 1e-9 || math.Abs(a.Brier-b.Brier) > 1e-9 {
		t.Errorf("score %+v, with a part that nobody looked at %+v", a, b)
	}
}
