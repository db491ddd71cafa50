package refine

import (
	"context"
	"math"
	"testing"
)

// From where a fifth of the cases end, two counts of all and the step from each lead to the
// maximum that R finds for all of them, before the last iteration allowed; where they were
// counted, the counts that stand for them are theirs. The fifth alone ends whole standard
// errors off. Its log-posterior never falls, while where counts stand for cases there is
// none.
func TestCountsStandForCases(t *testing.T) {
	ctx := context.Background()
	l, items := exactly(t, small(t), rCases(t))
	l.grouped = true
	few := spread(items, len(items)/5)
	fit := func(scale float64, items []*item, theta []float64) []float64 {
		t.Helper()
		theta, trace, err := l.fit(ctx, "", items, theta, nil, scale, 0.001)
		if err != nil {
			t.Fatal(err)
		}
		for i := range trace {
			switch now := trace[i].LogPosterior; {
			case math.IsNaN(now) != (l.anchor != nil):
				t.Errorf("iteration %d: log-posterior %v, counts stand for cases: %v", trace[i].Number, now, l.anchor != nil)
			case i > 0 && now < trace[i-1].LogPosterior-1e-9:
				t.Errorf("iteration %d: log-posterior falls from %.12f to %.12f", trace[i].Number, trace[i-1].LogPosterior, now)
			}
		}
		if len(trace) >= l.opt.MaxIterations {
			t.Errorf("no end in %d iterations", len(trace))
		}
		l.set(theta)
		return theta
	}
	off := func(theta []float64) (most float64) {
		for _, r := range rows(t, "maximum.csv") {
			d := math.Abs(logit(theta[l.index[rNames[r["name"]]]])-logit(float(t, r["maximum"]))) / float(t, r["sd_log_odds"])
			most = math.Max(most, d)
		}
		return most
	}
	theta := fit(5, few, l.originValues())
	alone := off(theta)
	var last float64
	for range 2 {
		told, counted, err := l.survey(ctx, "", items, theta)
		if err != nil {
			t.Fatal(err)
		}
		if err := l.anchored(ctx, items, few, theta, counted.total(l, 0, inTest), told); err != nil {
			t.Fatal(err)
		}
		here, err := l.expect(ctx, items, theta, nil)
		if err != nil {
			t.Fatal(err)
		}
		all, err := l.sum(ctx, items, theta, nil)
		if err == nil {
			err = l.unseen(t.Context(), items, theta, all)
		}
		if err != nil {
			t.Fatal(err)
		}
		for i := range all.n {
			if math.Abs(here.n[i]-all.n[i]) > 1e-9 || math.Abs(here.s[i]-all.s[i]) > 1e-9 || math.Abs(here.lost[i]-all.lost[i]) > 1e-9 {
				t.Fatalf("%s: %v of %v trials, want %v of %v", l.params[i].name, here.s[i], here.n[i], all.s[i], all.n[i])
			}
		}
		if math.Abs(here.logL-all.logL) > 1e-9 {
			t.Fatalf("log-likelihood %v, want %v", here.logL, all.logL)
		}
		theta = fit(1, items, theta)
		last = off(theta)
		t.Logf("%d of %d cases: %.3f standard errors off at most, alone %.3f", len(few), len(items), last, alone)
	}
	if alone < 0.5 || last > 0.1 {
		t.Errorf("%.3f standard errors from R's maximum, the fifth alone %.3f", last, alone)
	}
}
