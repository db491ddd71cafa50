package refine

import (
	"math"
	"testing"

	"slipcase/engine/model"
)

// A large casebook as Propose learns from it: a quarter of the cases find where all are
// counted, and half, or all, are counted again where the step from there ends. The
// estimate ends near the maximum that R finds for all cases; where all are counted again,
// the counts that stand for them are theirs.
func TestLargeCasebook(t *testing.T) {
	ctx := t.Context()
	for _, x := range []struct {
		sample int
		most   float64 // standard errors off, by trial
	}{{120, 0.25}, {1000, 0.1}} {
		sample := x.sample
		l, items := exactly(t, small(t), rCases(t))
		l.large = sizes{many: 100, few: 60, sample: sample, wide: 1 << 21}
		items, first, err := l.begin(ctx, items, l.originValues(), &Proposal{})
		if err != nil {
			t.Fatal(err)
		}
		if n := len(l.anchor.few); n != 60 {
			t.Fatalf("%d cases find where all are counted", n)
		}
		e, err := l.study(ctx, items, first, l.originValues(), 0.03, [3]string{})
		if err != nil {
			t.Fatal(err)
		}
		if len(e.kept) != len(l.params) {
			t.Errorf("%d numbers are decided on, of %d", len(e.kept), len(l.params))
		}
		off := 0.0
		for _, r := range rows(t, "maximum.csv") {
			d := math.Abs(logit(l.settled[l.index[rNames[r["name"]]]])-logit(float(t, r["maximum"]))) / float(t, r["sd_log_odds"])
			off = math.Max(off, d)
		}
		t.Logf("%d of %d cases counted again: %.3f standard errors off at most", min(sample, len(items)), len(items), off)
		if off > x.most {
			t.Errorf("%d cases counted again: %.3f standard errors from R's maximum", sample, off)
		}
		if sample < len(items) {
			continue
		}
		l.set(l.second.at)
		want, err := l.sum(ctx, items, l.second.at, nil)
		if err != nil {
			t.Fatal(err)
		}
		if err := l.stand(ctx, items, l.anchor.few, 0, inSample, inTest, inSample+inTest); err != nil {
			t.Fatal(err)
		}
		for i, n := range want.n {
			if got := l.anchor.was; math.Abs(got.n[i]-n) > 1e-9 || math.Abs(got.s[i]-want.s[i]) > 1e-9 || math.Abs(got.lost[i]-want.lost[i]) > 1e-9 {
				t.Errorf("%s: %v of %v trials, want %v of %v", l.params[i].name, got.s[i], got.n[i], want.s[i], n)
			}
		}
	}
}

// The comparison on held-out cases leaves those out that it asks about: what it learns
// from are the counts of the others.
func TestHeldOutOfMany(t *testing.T) {
	ctx := t.Context()
	l, err := newLearner(ctx, []*model.Model{small(t)}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	items, _ := l.choose(rCases(t))
	l.large = sizes{many: 100, few: 60, sample: 1000, wide: 1 << 21}
	items, first, err := l.begin(ctx, items, l.originValues(), &Proposal{})
	if err == nil {
		_, err = l.study(ctx, items, first, l.originValues(), 0.03, [3]string{})
	}
	if err != nil {
		t.Fatal(err)
	}
	var train []*item
	test := 0
	for _, it := range items {
		if it.fold%folds != 0 {
			train = append(train, it)
		} else if it.scored {
			test++
		}
	}
	l.set(l.second.at)
	want, err := l.sum(ctx, train, l.second.at, nil)
	if err != nil {
		t.Fatal(err)
	}
	if err := l.stand(ctx, train, train[:20], 0, inSample); err != nil {
		t.Fatal(err)
	}
	for i, n := range want.n {
		if got := l.anchor.was; math.Abs(got.n[i]-n) > 1e-9 || math.Abs(got.s[i]-want.s[i]) > 1e-9 {
			t.Errorf("%s: %v of %v trials without the cases held out, want %v of %v", l.params[i].name, got.s[i], got.n[i], want.s[i], n)
		}
	}
	l.anchor.few = items[:60]
	h, err := l.heldOut(ctx, items)
	if err != nil {
		t.Fatal(err)
	}
	if h.Folds != 1 || h.Cases == 0 || h.Cases > test {
		t.Errorf("%+v of %d cases held out", *h, test)
	}
}
