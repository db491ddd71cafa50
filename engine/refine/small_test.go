package refine

import (
	"context"
	"encoding/csv"
	"errors"
	"fmt"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"slipcase/engine"
	"slipcase/engine/internal/patience"
	"slipcase/engine/model"
	"slipcase/engine/network"
	"slipcase/rules"
)

// small is the model of testdata/refine/small.hcl, with some of its text
// replaced.
func small(t testing.TB, replace ...string) *model.Model {
	t.Helper()
	src, err := os.ReadFile("../../testdata/refine/small.hcl")
	if err != nil {
		t.Fatal(err)
	}
	text := strings.NewReplacer(replace...).Replace(string(src))
	k, diags := rules.Load(rules.Options{Extra: []rules.File{{Name: "small.hcl", Src: []byte(text)}}, Unit: "small"})
	for _, d := range diags {
		if d.Severity == engine.Error {
			t.Fatal(d)
		}
	}
	for i := range k.Reporters { // R was told how often they err
		k.Reporters[i].FalseAlarms, k.Reporters[i].Misses = engine.Number{}, engine.Number{}
	}
	m, err := model.Build(k, k.Unit("small"))
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// rows reads a table with a head line.
func rows(t testing.TB, name string) []map[string]string {
	t.Helper()
	f, err := os.Open("../../testdata/refine/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	all, err := csv.NewReader(f).ReadAll()
	if err != nil || len(all) < 2 {
		t.Fatal(name, err)
	}
	var out []map[string]string
	for _, r := range all[1:] {
		m := map[string]string{}
		for i, v := range r {
			m[all[0][i]] = strings.TrimSpace(v)
		}
		out = append(out, m)
	}
	return out
}

func float(t testing.TB, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// kept is one case of the small shop: f and g reported by `by`, a and b looked
// at, the cause settled; 1 there, 0 not, -1 not known.
func kept(id, by string, f, g, a, b, cause int) Case {
	c := Case{ID: id, Outcome: engine.CaseFixed, File: engine.CaseFile{ID: id, Unit: "small"}}
	for i, v := range []int{f, g} {
		if v >= 0 {
			state := engine.Absent
			if v == 1 {
				state = engine.Present
			}
			c.File.Reports = append(c.File.Reports, engine.Report{Finding: []string{"mark_f", "mark_g"}[i], State: state, By: by})
		}
	}
	for i, v := range []int{a, b} {
		if v >= 0 {
			s := engine.Seen{Component: []string{"a", "b"}[i], Cleared: v == 0}
			if v == 1 {
				s.Mode = []string{"worn_a", "worn_b"}[i]
			}
			c.File.Seen = append(c.File.Seen, s)
		}
	}
	if cause >= 0 {
		c.File.Settled = append(c.File.Settled, engine.SettledCause{Cause: "towing", Present: cause == 1})
	}
	return c
}

// exactly is a learner that takes silence for nothing, with its items.
func exactly(t testing.TB, m *model.Model, cases []Case) (*learner, []*item) {
	t.Helper()
	l, err := newLearner(t.Context(), []*model.Model{m}, Options{MaxIterations: 5000, Found: -1, Settled: -1})
	if err != nil {
		t.Fatal(err)
	}
	items, skipped := l.choose(cases)
	if len(skipped) > 0 {
		t.Fatal(skipped)
	}
	if err := keepTrees(items, MaxTree); err != nil {
		t.Fatal(err)
	}
	return l, items
}

var rNames = map[string]string{
	"cause":     `cause "towing" / frequency`,
	"stresses":  `cause "towing" / stresses "heat" / strength`,
	"rate_a":    `mode "worn_a" / frequency`,
	"because":   `mode "worn_a" / because "heat" / strength`,
	"rate_b":    `mode "worn_b" / frequency`,
	"a_shows_f": `mode "worn_a" / shows "mark_f" / strength`,
	"b_shows_f": `mode "worn_b" / shows "mark_f" / strength`,
	"b_shows_g": `mode "worn_b" / shows "mark_g" / strength`,
	"leak_f":    `finding "mark_f" / leak`,
	"leak_g":    `finding "mark_g" / leak`,
}

func rCases(t testing.TB) []Case {
	var cases []Case
	for _, r := range rows(t, "cases.csv") {
		v := map[string]int{}
		for k, s := range r {
			v[k], _ = strconv.Atoi(s)
		}
		for range v["count"] {
			cases = append(cases, kept(fmt.Sprint(len(cases)), "eye", v["f"], v["g"], v["a"], v["b"], v["cause"]))
		}
	}
	return cases
}

// The estimate is the maximum that R's optim finds for the same posterior
// density, and its standard errors are those of R's Hessian at the maximum.
func TestAgainstR(t *testing.T) {
	l, items := exactly(t, small(t), rCases(t))
	theta, trace, err := l.fit(context.Background(), "", items, l.originValues(), nil, 1, 1e-11)
	if err != nil {
		t.Fatal(err)
	}
	for i := 1; i < len(trace); i++ {
		if trace[i].LogPosterior < trace[i-1].LogPosterior-1e-9 {
			t.Errorf("iteration %d: log-posterior falls from %.12f to %.12f", trace[i].Number, trace[i-1].LogPosterior, trace[i].LogPosterior)
		}
	}
	if got, want := trace[len(trace)-1].LogPosterior, -344.384991800; math.Abs(got-want) > 1e-6 {
		t.Errorf("log-posterior %.9f, R has %.9f", got, want)
	}
	l.set(theta)
	inf, err := l.inform(context.Background(), "", items, theta)
	if err != nil {
		t.Fatal(err)
	}
	list := rows(t, "maximum.csv")
	if len(list) != len(l.params) {
		t.Fatalf("%d numbers, R has %d", len(l.params), len(list))
	}
	for _, r := range list {
		i, ok := l.index[rNames[r["name"]]]
		if !ok {
			t.Fatalf("no number %s", r["name"])
		}
		if want := float(t, r["maximum"]); math.Abs(logit(theta[i])-logit(want)) > 1e-4 {
			t.Errorf("%s: %.8f, R has %.8f", r["name"], theta[i], want)
		}
		// The closest rivals stand for the whole matrix: within two per cent.
		sd := 1 / math.Sqrt(inf.net[i]+l.priorInformation(i, theta))
		want := float(t, r["sd_log_odds"])
		t.Logf("%-10s sd of log-odds %.4f, R has %.4f", r["name"], sd, want)
		if math.Abs(math.Log(sd/want)) > 0.02 {
			t.Errorf("%s: standard error %.4f, R has %.4f", r["name"], sd, want)
		}
	}
}

// At the usual tolerance no number ends farther from R's maximum than a tenth
// of R's standard error.
func TestDistanceFromR(t *testing.T) {
	l, items := exactly(t, small(t), rCases(t))
	theta, _, err := l.fit(context.Background(), "", items, l.originValues(), nil, 1, l.opt.Tolerance)
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range rows(t, "maximum.csv") {
		i := l.index[rNames[r["name"]]]
		d := math.Abs(logit(theta[i])-logit(float(t, r["maximum"]))) / float(t, r["sd_log_odds"])
		t.Logf("%-10s %.4f standard errors off", r["name"], d)
		if d > 0.1 {
			t.Errorf("%s: %.4f standard errors from R's maximum", r["name"], d)
		}
	}
}

func TestQuantilesAgainstR(t *testing.T) {
	for _, r := range rows(t, "quantiles.csv") {
		want := float(t, r["quantile"])
		got, _ := interval(float(t, r["mean"]), float(t, r["size"]), float(t, r["level"]), 0.5)
		if math.Abs(got-want) > 1e-8*want+1e-12 {
			t.Errorf("mean %s size %s level %s: %.12g, R has %.12g", r["mean"], r["size"], r["level"], got, want)
		}
	}
}

// With nothing hidden the estimate is the mean of the Beta posterior and the
// interval its quantiles.
func TestCompleteData(t *testing.T) {
	// No leaks, no stress, a certain reporter: every trial is seen.
	m := small(t, "  leak     = 0.05\n", "", "  leak     = 0.1\n", "", "  because \"heat\" {\n    strength = 0.5\n  }\n", "", "  shows \"mark_f\" {\n    strength = 0.5\n  }\n", "")
	var cases []Case
	add := func(n, f, g, a, b int) {
		for range n {
			cases = append(cases, kept(fmt.Sprint(len(cases)), "certain_eye", f, g, a, b, 0))
		}
	}
	add(9, 1, 0, 1, 0)  // a shows f
	add(5, 0, 0, 1, 0)  // a does not
	add(11, 0, 1, 0, 1) // b shows g
	add(2, 0, 0, 0, 1)
	add(73, 0, 0, 0, 0)
	p, err := Propose(context.Background(), []*model.Model{m}, cases, Options{Eager: true, Found: -1, Settled: -1, NoHeldOut: true, Tolerance: 1e-12})
	if err != nil {
		t.Fatal(err)
	}
	got := map[string]Change{}
	for _, c := range p.Changes {
		got[c.Path.String()] = c
	}
	for _, c := range []struct {
		name   string
		value  float64
		s, n   float64
		change bool
	}{
		{"rate_a", 0.1, 14, 100, true},
		{"rate_b", 0.15, 13, 100, true},
		{"a_shows_f", 0.7, 9, 14, true},
		{"b_shows_g", 0.8, 11, 13, true},
		{"cause", 0.2, 0, 100, true},
	} {
		x, ok := got[rNames[c.name]]
		if !ok {
			t.Errorf("%s was not moved", c.name)
			continue
		}
		prior := PriorOf(c.value, engine.Invented, 0)
		a, b := prior.A+c.s, prior.B+c.n-c.s
		lo, hi := interval(a/(a+b), a+b, 0.05, 0.95)
		if math.Abs(x.New-a/(a+b)) > 0.006*a/(a+b) || math.Abs(x.Low-lo) > 1e-6 || math.Abs(x.High-hi) > 1e-6 || math.Abs(x.Cases-c.n) > 1e-4 {
			t.Errorf("%s: %v in [%v, %v] from %v cases, want %v in [%v, %v] from %v", c.name, x.New, x.Low, x.High, x.Cases, a/(a+b), lo, hi, c.n)
		}
	}
	for _, k := range p.Kept {
		if k.Path.String() == rNames["stresses"] && k.Why != NoCase {
			t.Errorf("what the cause does is kept because %s", k.Why)
		}
	}
}

// One parent with a leak, both sides seen: with many cases the estimates are
// those of the closed form, leak = share without the mode and
// 1 − (1−leak)(1−strength) = share with it.
func TestOneParent(t *testing.T) {
	m := small(t, "  shows \"mark_f\" {\n    strength = 0.5\n  }\n", "", "  because \"heat\" {\n    strength = 0.5\n  }\n", "")
	var cases []Case
	add := func(n, f, a int) {
		for range n {
			cases = append(cases, kept(fmt.Sprint(len(cases)), "certain_eye", f, -1, a, 0, 0))
		}
	}
	add(1200, 1, 1)
	add(400, 0, 1)
	add(240, 1, 0)
	add(2160, 0, 0)
	l, items := exactly(t, m, cases)
	theta, _, err := l.fit(context.Background(), "", items, l.originValues(), nil, 1, 1e-8)
	if err != nil {
		t.Fatal(err)
	}
	leak, both := 0.1, 0.75
	for name, want := range map[string]float64{"leak_f": leak, "a_shows_f": 1 - (1-both)/(1-leak), "rate_a": 0.4} {
		if got := theta[l.index[rNames[name]]]; math.Abs(got-want) > 0.01*want {
			t.Errorf("%s: %v, closed form %v", name, got, want)
		}
	}
}

// The counts are the gradient of the log-likelihood in the log-odds (Fisher's
// identity), factors below one included.
func TestScoreIsGradient(t *testing.T) {
	m := small(t)
	// Physics gives factors; here two links get one by hand.
	for i := range m.Sources {
		for j := range m.Sources[i] {
			if m.Sources[i][j].Block == "mode worn_b" {
				m.Sources[i][j].Factor = 0.6
				m.Net.Nodes[i].Links[j].Strength *= 0.6
			}
		}
	}
	// And one rate goes by duty.
	m.Knowledge.Modes[0].Duty = true
	for i, n := range m.Nodes {
		if n.Mode == &m.Knowledge.Modes[0] {
			m.Duties[i] = 1.4
			m.Net.Nodes[i].Leak *= 1.4
		}
	}
	l, items := exactly(t, m, rCases(t)[:60])
	theta := l.originValues()
	logL := func(theta []float64) float64 {
		l.set(theta)
		c, err := l.expect(context.Background(), items, theta, nil)
		if err != nil {
			t.Fatal(err)
		}
		return c.logL
	}
	l.set(theta)
	c, err := l.expect(context.Background(), items, theta, nil)
	if err != nil {
		t.Fatal(err)
	}
	for i, p := range l.params {
		const h = 1e-5
		move := func(by float64) []float64 {
			out := slices.Clone(theta)
			out[i] = 1 / (1 + math.Exp(-logit(theta[i])-by))
			return out
		}
		want := (logL(move(h)) - logL(move(-h))) / (2 * h)
		if got := c.s[i] - theta[i]*c.n[i]; math.Abs(got-want) > 1e-5*(1+math.Abs(want)) {
			t.Errorf("%s: score %v, slope %v", p.name, got, want)
		}
	}
}

// Numbers that change in place leave the trees right: a fresh solver says the
// same.
func TestNumbersInPlace(t *testing.T) {
	l, items := exactly(t, small(t), rCases(t)[:40])
	theta := l.originValues()
	l.set(theta)
	if _, err := l.expect(context.Background(), items, theta, nil); err != nil {
		t.Fatal(err)
	}
	for i := range theta {
		theta[i] = 0.9 - theta[i]*0.7
	}
	l.set(theta)
	for _, it := range items {
		_, got, err := it.families(l.passing(t.Context()))
		if err != nil {
			t.Fatal(err)
		}
		s, err := network.NewSolver(it.b.net)
		if err != nil {
			t.Fatal(err)
		}
		_, want, err := s.Families(it.said(nil, len(it.all), theta))
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(got-want.LogEvidence) > 1e-12 {
			t.Errorf("case %s: %v, fresh %v", it.id, got, want.LogEvidence)
		}
	}
}

// Every case is a look at the context, and one that it ends at is no case that
// cannot be learned from.
func TestEveryCaseLooksAtTheContext(t *testing.T) {
	l, items := exactly(t, small(t), rCases(t)[:40])
	theta := l.originValues()
	l.set(theta)
	if err := keepTrees(items, MaxTree); err != nil {
		t.Fatal(err)
	}
	for _, kept := range []bool{true, false} {
		ended := patience.New(int64(len(items)))
		p := l.passing(ended)
		for i := 0; i <= len(items); i++ {
			it := items[i%len(items)]
			if kept != (it.kept != nil) {
				it.kept = nil
			}
			_, _, err := it.families(p)
			if errors.Is(err, context.Canceled) {
				break
			}
			if err != nil || i == len(items) {
				t.Fatalf("kept trees %v, case %d: %v", kept, i, err)
			}
		}
		var out Proposal
		if _, _, err := l.usable(patience.New(1), items, theta, &out, MaxTree); !errors.Is(err, context.Canceled) || len(out.Skipped) > 0 {
			t.Errorf("%v, %d cases skipped", err, len(out.Skipped))
		}
		for _, it := range items {
			it.kept = nil
		}
	}
}

// What lies between two passes over the cases looks at the context, too: the vehicles
// that never came in, and the rivals of thousands of numbers.
func TestBetweenPassesLooksAtTheContext(t *testing.T) {
	l, items := exactly(t, small(t), rCases(t)[:40])
	theta := l.originValues()
	l.set(theta)
	items[0].came = true
	if err := l.unseen(t.Context(), items, theta, l.newCounts()); err != nil {
		t.Fatal(err)
	}
	inf, err := l.inform(t.Context(), "", items, theta)
	if err != nil {
		t.Fatal(err)
	}
	ended, end := context.WithCancel(t.Context())
	end()
	if _, err := newLearner(ended, []*model.Model{l.models[0].m}, Options{}); !errors.Is(err, context.Canceled) {
		t.Errorf("the numbers of a model: %v", err)
	}
	if err := l.unseen(ended, items, theta, l.newCounts()); !errors.Is(err, context.Canceled) {
		t.Errorf("vehicles that never came in: %v", err)
	}
	k := len(theta)
	none := make([]float64, k)
	if err := l.rivalry(ended, inf, &scores{summed: len(items), scale: 1, sum: none, square: none, shared: l.pairs(k)}, theta); !errors.Is(err, context.Canceled) {
		t.Errorf("rivals: %v", err)
	}
}

func TestPriorOf(t *testing.T) {
	for _, c := range []struct {
		value, cases float64
		kind         engine.BasisKind
		size         float64
	}{
		{0.5, 0, engine.Published, 50},
		{0.5, 0, engine.CommonPractice, 20},
		{0.5, 0, engine.Recalled, 10},
		{0.5, 0, engine.Invented, 4},
		{0.25, 0, engine.Recalled, 10},
		{0.5, 3, engine.ShopRecord, 20},
		{0.5, 300, engine.ShopRecord, 300},
		{0.005, 0, engine.Recalled, 500}, // 2.5 events
		{0.99, 0, engine.Invented, 100},  // 1 failure
		{0.005, 300, engine.ShopRecord, 1000},
	} {
		p := PriorOf(c.value, c.kind, c.cases)
		if math.Abs(p.Size()-c.size) > 1e-9*c.size || math.Abs(p.Mean()-c.value) > 1e-12 {
			t.Errorf("%v, %s: size %v mean %v, want size %v", c.value, c.kind, p.Size(), p.Mean(), c.size)
		}
	}
}

func TestText(t *testing.T) {
	for v, want := range map[float64]string{0.023449: "0.0234", 0.5: "0.5", 0.85: "0.85", 0.99712: "0.99712", 1e-6: "0.000001", 0.1: "0.1", 0.12345: "0.123"} {
		if got := text(v); got != want {
			t.Errorf("%v is written %s, want %s", v, got, want)
		}
	}
}
