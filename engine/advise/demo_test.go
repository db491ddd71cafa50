package advise

import (
	"errors"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"slipcase/engine"
	"slipcase/engine/diagnose"
	"slipcase/engine/model"
	"slipcase/internal/size"
)

func slipsInThird() *engine.CaseFile {
	return &engine.CaseFile{Reports: []engine.Report{{Finding: "slips@D/3", State: engine.Present, By: "driver"}}}
}

func refused(list []Refusal, check string) Refusal {
	for _, r := range list {
		if r.Check.Name == check {
			return r
		}
	}
	return Refusal{}
}

func listed(ad *Advice, check string) *Priced {
	for i := range ad.Checks {
		if ad.Checks[i].Check.Name == check {
			return &ad.Checks[i]
		}
	}
	return nil
}

// Same case, same advice, whatever the number of goroutines.
func TestDemoDeterministic(t *testing.T) {
	a := demoAdviser(t)
	opt := Options{Stages: []engine.Stage{engine.StageInterview}, Explain: true, Workers: 1}
	one, err := a.Price(slipsInThird(), opt)
	if err != nil {
		t.Fatal(err)
	}
	opt.Workers = 4
	four, err := a.Price(slipsInThird(), opt)
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(one, four) {
		t.Error("one goroutine and four give different advice")
	}
	if len(one.Checks) < 5 || one.Proven != len(one.Checks) {
		t.Fatalf("%d questions, %d proven in order", len(one.Checks), one.Proven)
	}
	for i, p := range one.Checks {
		if p.Saves < 0 || p.Bits < 0 || p.Net != p.Saves-p.Minutes {
			t.Errorf("%s: saves %v, bits %v, net %v", p.Check.Name, p.Saves, p.Bits, p.Net)
		}
		if i == 0 {
			continue
		}
		switch o := one.Checks[i-1]; {
		case p.Net > 0 && p.Net > o.Net+1e-9:
			t.Errorf("%s stands behind a check of less value", p.Check.Name)
		case p.Worth && !o.Worth:
			t.Errorf("%s is worth it and stands behind %s, which is not", p.Check.Name, o.Check.Name)
		case p.Worth && o.Net <= 0 && p.Bits/p.Minutes > o.Bits/o.Minutes+1e-9:
			t.Errorf("%s stands behind a check that tells less a minute", p.Check.Name)
		case !p.Worth && !o.Worth && p.Net > o.Net+1e-9:
			t.Errorf("%s stands behind a check of less value", p.Check.Name)
		}
		for _, ans := range p.Separates {
			for _, s := range ans.Shifts {
				if s.To < 0 || s.To > 1 || s.From < 0 || s.From > 1 {
					t.Errorf("%s moves %s from %v to %v", p.Check.Name, s.Component.Name, s.From, s.To)
				}
			}
		}
	}
}

// The stage follows from what was done.
func TestDemoStages(t *testing.T) {
	a := demoAdviser(t)
	offer := func(c *engine.CaseFile) (open, closed map[string]string) {
		t.Helper()
		pieces, err := a.evidence(c)
		if err != nil {
			t.Fatal(err)
		}
		o, _, cl := a.offer(c, pieces, Options{}.filled())
		open, closed = map[string]string{}, map[string]string{}
		for _, x := range o {
			open[x.Name] = string(x.Stage)
		}
		for _, x := range cl {
			closed[x.Check.Name] = string(x.Why)
		}
		return open, closed
	}
	c := slipsInThird()
	open, _ := offer(c)
	for _, want := range []string{"ask_slip_where", "road_gears", "cooler_flow"} {
		if open[want] == "" {
			t.Errorf("%s is not open at the start", want)
		}
	}
	c.Done = []string{"pan_off"}
	open, closed := offer(c)
	if open["road_gears"] != "" || closed["road_gears"] != string(CannotRun) {
		t.Errorf("road test with the pan off: open %q, closed %q", open["road_gears"], closed["road_gears"])
	}
	c.Done = []string{"pan_off", "pull_unit"}
	open, closed = offer(c)
	for name, stage := range open {
		if stage == "road" || stage == "gauges" || stage == "in_vehicle" {
			t.Errorf("%s (%s) is open with the unit out", name, stage)
		}
	}
	if open["ask_slip_where"] == "" {
		t.Error("the driver cannot be asked any more")
	}
	if closed["cooler_flow"] == "" {
		t.Error("cooler flow is still open with the unit out")
	}
	c = slipsInThird()
	c.Seen = []engine.Seen{{Component: "forward_frictions", Cleared: true}}
	if open, _ = offer(c); open["road_gears"] != "" {
		t.Error("a part of the inside was looked at, yet the unit is taken to be in the vehicle")
	}
}

// A check is withheld while it is unsafe, with the reason of the rules.
func TestDemoWithheld(t *testing.T) {
	a := demoAdviser(t)
	c := slipsInThird()
	c.Reports = append(c.Reports, engine.Report{Finding: "line_pressure_low@idle/D", State: engine.Present, By: "gauge"})
	ad, err := a.Price(c, Options{Only: func(k *engine.Check) bool { return k.Name == "stall_test" }})
	if err != nil {
		t.Fatal(err)
	}
	if r := refused(ad.Withheld, "stall_test"); r.Why != RuledOut || !strings.Contains(r.Rule, "line pressure") {
		t.Errorf("stall test with low line pressure: %+v", r)
	}
}

// What shows in one condition only shows: no stall test of what slips with a heavy
// foot.
func TestDemoWithheldInOneCondition(t *testing.T) {
	a := demoAdviser(t)
	only := Options{Only: func(k *engine.Check) bool { return k.Name == "stall_test" }}
	for finding, want := range map[string]bool{"slips@R/R": true, "slips@R/R:heavy_foot": true, "slips@R/R:hot": true, "late_engagement@R:cold": false} {
		ad, err := a.Price(&engine.CaseFile{Unit: "northfork-4", Reports: []engine.Report{{Finding: finding, State: engine.Present, By: "driver"}}}, only)
		if err != nil {
			t.Fatal(err)
		}
		if got := refused(ad.Withheld, "stall_test").Why == RuledOut; got != want {
			t.Errorf("%s: stall test withheld: %v, want %v", finding, got, want)
		}
	}
}

// New fluid goes in after somebody looked at the old one, whatever he saw.
func TestDemoUntil(t *testing.T) {
	a := demoAdviser(t)
	only := Options{Only: func(k *engine.Check) bool { return k.Name == "change_fluid" }}
	c := &engine.CaseFile{Unit: "northfork-4", Reports: []engine.Report{
		{Finding: "shudder@D/4", State: engine.Present, By: "driver"},
		{Finding: "history_fluid_changed", State: engine.Present, By: "driver"},
	}}
	ad, err := a.Price(c, only)
	if err != nil {
		t.Fatal(err)
	}
	if r := refused(ad.Withheld, "change_fluid"); r.Why != RuledOut || !strings.Contains(r.Rule, "dipstick") {
		t.Errorf("new fluid before a look at the old: %+v", r)
	}
	for _, state := range []engine.State{engine.Absent, engine.Unknown} {
		seen := *c
		seen.Reports = append(slices.Clone(c.Reports), engine.Report{Finding: "fluid_dark", State: state, By: "eye"})
		if ad, err = a.Price(&seen, only); err != nil {
			t.Fatal(err)
		}
		if listed(ad, "change_fluid") == nil {
			t.Errorf("new fluid after a look that says %v: %+v", state, refused(ad.Withheld, "change_fluid"))
		}
	}
}

// Whether it is worse hot is asked only of what was said to be there.
func TestDemoConditions(t *testing.T) {
	a := demoAdviser(t)
	hot := func(c *engine.CaseFile) []string {
		t.Helper()
		ad, err := a.Price(c, Options{Only: func(k *engine.Check) bool { return k.Name == "road_hot" }})
		if err != nil {
			t.Fatal(err)
		}
		var out []string
		if p := listed(ad, "road_hot"); p != nil {
			for _, f := range p.Findings {
				out = append(out, f.Name)
			}
		}
		return out
	}
	for _, f := range hot(slipsInThird()) {
		if strings.HasPrefix(f, "slips@") && f != "slips@D/3:hot" {
			t.Errorf("asks for %s, and no slip there was reported", f)
		}
	}
	c := slipsInThird()
	c.Reports = append(c.Reports, engine.Report{Finding: "slips@D/3:hot", State: engine.Unknown, By: "road_test"})
	for _, f := range hot(c) {
		if f == "slips@D/3:hot" {
			t.Error("asks again what was answered with don't know")
		}
	}
}

// Unknown names and clashes are errors that say which.
func TestDemoBadCases(t *testing.T) {
	a := demoAdviser(t)
	_, err := a.Price(&engine.CaseFile{Reports: []engine.Report{{Finding: "slips@D/33", State: engine.Present, By: "driver"}}}, Options{})
	var bad *BadCase
	if !errors.As(err, &bad) || len(bad.Problems) != 1 || bad.Problems[0].Kind != model.UnknownFinding || bad.Problems[0].Name != "slips@D/33" {
		t.Errorf("unknown finding: %v", err)
	}
}

// Standing is the exact posterior of the model, component by component.
func TestDemoStanding(t *testing.T) {
	a := demoAdviser(t)
	c := slipsInThird()
	list, _, err := a.Standing(c)
	if err != nil {
		t.Fatal(err)
	}
	r, diags, err := diagnose.Case(a.Model, c, diagnose.Options{Top: 3})
	if err != nil || len(diags) > 0 {
		t.Fatal(err, diags)
	}
	for _, b := range list {
		if len(b.Modes) != 1 {
			continue
		}
		if want := r.Posterior[b.Modes[0]]; math.Abs(b.P-want) > 1e-9 {
			t.Errorf("%s: %v, the model says %v", b.Component.Name, b.P, want)
		}
	}
}

// What the next step would destroy is marked.
func TestDemoBefore(t *testing.T) {
	a := demoAdviser(t)
	c := demoCase(t, "no-reverse")
	ad, err := a.Price(c, Options{Only: func(k *engine.Check) bool { return len(k.Before) > 0 && k.Stage == engine.StageGauges }})
	if err != nil {
		t.Fatal(err)
	}
	if ad.NextStep == nil {
		t.Fatal("no next step")
	}
	marked := 0
	for _, p := range ad.Checks {
		if p.Before == nil {
			t.Errorf("%s names steps that destroy its evidence, none is in the plan", p.Check.Name)
		}
		if p.Urgent != (p.Before == ad.NextStep) {
			t.Errorf("%s: urgent %v before %v, next step %s", p.Check.Name, p.Urgent, p.Before, ad.NextStep.Name)
		}
		marked++
	}
	if marked == 0 {
		t.Fatal("no check was compared")
	}
}

// longInterview is a case in which three findings of every question and drive
// are reported, all absent but the complaint.
func longInterview(a *Adviser) *engine.CaseFile {
	c := slipsInThird()
	said := map[sign]bool{}
	for _, ch := range a.checks {
		if ch.Stage != engine.StageInterview && ch.Stage != engine.StageRoad {
			continue
		}
		for i, it := range ch.items {
			if i < 3 && it.plain == "" && it.name != "slips@D/3" && !said[it.sign] {
				said[it.sign] = true
				state := engine.Absent
				if len(said)%2 == 0 {
					state = engine.Present
				}
				c.Reports = append(c.Reports, engine.Report{Finding: it.name, State: state, By: it.by})
			}
		}
	}
	return c
}

// A long interview ties more causes together than hundreds of answers could
// bear: some reports count approximately in the prices, and are named. Reports of what
// is not there tie nothing, and count exactly.
func TestDemoNear(t *testing.T) {
	a := demoAdviser(t)
	c := longInterview(a)
	gauges := Options{Stages: []engine.Stage{engine.StageGauges}}
	ad, err := a.Price(c, gauges)
	if err != nil {
		t.Fatal(err)
	}
	if len(ad.Near) == 0 || len(ad.Near) > len(c.Reports)/2 {
		t.Fatalf("%d of %d reports count approximately", len(ad.Near), len(c.Reports))
	}
	if ad.Proven > 0 {
		t.Errorf("%d checks are proven to be the best, on figures that count some reports approximately", ad.Proven)
	}
	less := *c
	less.Reports = nil
	for _, r := range c.Reports {
		left := false
		for _, l := range ad.Near {
			left = left || l.Finding == r.Finding && l.By == r.By
		}
		if !left {
			less.Reports = append(less.Reports, r)
		}
	}
	if len(less.Reports)+len(ad.Near) != len(c.Reports) {
		t.Fatalf("%d reports, %d count approximately, %d exactly", len(c.Reports), len(ad.Near), len(less.Reports))
	}
	for _, r := range c.Reports {
		left := slices.ContainsFunc(ad.Near, func(l Near) bool { return l.Finding == r.Finding && l.By == r.By })
		seen := slices.ContainsFunc(c.Reports, func(x engine.Report) bool { return x.Finding == r.Finding && x.State == engine.Present })
		if left && !seen {
			t.Errorf("%s, %s, counts approximately: it ties nothing together", r.Finding, r.State)
		}
	}
	again, err := a.Price(c, gauges)
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(again.Near, ad.Near) || len(ad.Checks) == 0 {
		t.Errorf("%d checks; %v approximately, and %v the second time", len(ad.Checks), ad.Near, again.Near)
	}
}

// BenchmarkPrice is one advice on a new adviser, which has no trees from a run
// before.
func BenchmarkPrice(b *testing.B) {
	harrow, err := loadModel("harrow-3")
	if err != nil {
		b.Fatal(err)
	}
	for _, x := range []struct {
		name string
		m    *model.Model
		c    *engine.CaseFile
	}{
		{"one report", demoAdviser(b).Model, slipsInThird()},
		{"no-reverse", demoAdviser(b).Model, demoCase(b, "no-reverse")},
		{"slip-one-gear", demoAdviser(b).Model, demoCase(b, "slip-one-gear")},
		{"two-faults", demoAdviser(b).Model, demoCase(b, "two-faults")},
		{"third-and-reverse", harrow, demoCase(b, "third-and-reverse")},
		{"long interview", demoAdviser(b).Model, longInterview(demoAdviser(b))},
	} {
		for _, w := range []struct {
			name string
			opt  Options
		}{{"best three", Options{Best: 3, Explain: true}}, {"all", Options{}}} {
			b.Run(x.name+"/"+w.name, func(b *testing.B) {
				for b.Loop() {
					a, err := New(x.m)
					if err != nil {
						b.Fatal(err)
					}
					if _, err := a.Price(x.c, w.opt); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}

// Every answer worked out by weights on a shared tree is what the case with
// these reports gives by itself, conditions included.
func TestDemoAnswersAgreeWithCases(t *testing.T) {
	a := demoAdviser(t)
	c := slipsInThird()
	c.Reports = append(c.Reports, engine.Report{Finding: "late_engagement@R", State: engine.Absent, By: "driver"})
	opt := Options{}.filled()
	b, k, pieces, err := a.begin(c, opt)
	if err != nil {
		t.Fatal(err)
	}
	open, _, _ := a.offer(c, pieces, opt)
	var cands []*candidate
	for _, o := range open {
		switch o.Name {
		// One with other reporters before it, one in a condition, one with none
		// of these.
		case "road_gears", "road_hot", "pan_look", "ask_cold_warm_slip":
			cands = append(cands, b.candidate(o, opt.Exact))
		}
	}
	compared := 0
	for _, x := range cands {
		if err := x.price(b, k); err != nil {
			t.Fatal(err)
		}
		if x.many != nil {
			if err := (lot{x}).exactly(b, k); err != nil {
				t.Fatal(err)
			}
		}
		for _, ans := range x.answers {
			if ans.p < 1e-6 {
				continue
			}
			with := *c
			with.Reports = append([]engine.Report(nil), c.Reports...)
			for i, present := range ans.present {
				r := engine.Report{Finding: x.chosen[i].name, State: engine.Absent, By: x.chosen[i].by}
				if present {
					r.State = engine.Present
				}
				with.Reports = append(with.Reports, r)
			}
			told, err := a.evidence(&with)
			if err != nil {
				t.Fatal(err)
			}
			// What was told before counts as in any case, an answer of the check
			// on the finding itself.
			var before, answers []model.Piece
			for _, p := range told {
				if slices.ContainsFunc(with.Reports[len(c.Reports):], func(r engine.Report) bool { return r.Finding == p.Label && r.By == p.By }) {
					answers = append(answers, p)
				} else {
					before = append(before, p)
				}
			}
			post, err := b.s.solver.SolveSubset(append(a.Model.Likelihoods(before), model.Plain(answers)...), b.s.want)
			if err != nil {
				t.Fatal(err)
			}
			want := b.s.believe(post.P)
			for i, p := range ans.belief.parts {
				if math.Abs(p-want.parts[i]) > 1e-8 {
					t.Fatalf("%s answered %v: %s is %v, the case gives %v", x.Name, ans.present, b.s.parts[i].component.Name, p, want.parts[i])
				}
			}
			if p := math.Exp(post.LogEvidence - b.log); math.Abs(p-ans.p) > 1e-8 {
				t.Fatalf("%s answered %v: probability %v, the case gives %v", x.Name, ans.present, ans.p, p)
			}
			compared++
		}
	}
	if compared < 16 {
		t.Fatalf("only %d answers of %d checks were compared", compared, len(cands))
	}
}

// The best few are the head of the list of all, with the same figures, though
// what cannot be among them is only worked out approximately; and what is near is as
// near as it is said to be.
func TestDemoBestIsHeadOfAll(t *testing.T) {
	harrow, err := loadModel("harrow-3")
	if err != nil {
		t.Fatal(err)
	}
	other, err := New(harrow)
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range []struct {
		a    *Adviser
		name string
		told int // reports, the first of the case
	}{
		{demoAdviser(t), "no-reverse", 8},
		{demoAdviser(t), "two-faults", 20},
		{other, "third-and-reverse", 9},
	} {
		if x.told != 9 && size.Of(true, false, false) {
			continue // twice and four times the time of the other
		}
		c := demoCase(t, x.name)
		c.Reports = c.Reports[:min(x.told, len(c.Reports))]
		all, err := x.a.Price(c, Options{})
		if err != nil {
			t.Fatal(err)
		}
		few, err := x.a.Price(c, Options{Best: 4})
		if err != nil {
			t.Fatal(err)
		}
		for i, p := range few.Checks {
			if o := all.Checks[i]; p.Check != o.Check || math.Abs(p.Net-o.Net) > 1e-6 || math.Abs(p.Bits-o.Bits) > 1e-6 || p.Exact != o.Exact {
				t.Errorf("%s: %s, net %v, bits %v; of all it is %s, %v, %v", x.name, p.Check.Name, p.Net, p.Bits, o.Check.Name, o.Net, o.Bits)
			}
		}
		opt := Options{}.filled()
		b, k, pieces, err := x.a.begin(c, opt)
		if err != nil {
			t.Fatal(err)
		}
		open, _, _ := x.a.offer(c, pieces, opt)
		near, worst := 0, 0.0
		for i := range open {
			y := b.candidate(open[i], opt.Exact)
			if err := y.price(b, k); err != nil {
				t.Fatal(err)
			}
			if y.many == nil {
				continue
			}
			was := y.f
			minutes, bits := y.off(b)
			if err := (lot{y}).exactly(b, k); err != nil {
				t.Fatal(err)
			}
			if y.many != nil {
				t.Fatalf("%s is not exact on a tree of its own", y.Name)
			}
			off := math.Abs(was.gain.low - y.f.gain.low)
			if off > minutes || math.Abs(was.bits-y.f.bits) > bits {
				t.Errorf("%s, %s: saves %v, bits %v; exactly %v, %v", x.name, y.Name, was.gain.low, was.bits, y.f.gain.low, y.f.bits)
			}
			near++
			worst = max(worst, off)
		}
		t.Logf("%s: %d of %d figures were near, off by up to %.2f minutes", x.name, near, len(open), worst)
		if near < 5 {
			t.Errorf("%s: only %d figures were near", x.name, near)
		}
	}
}

// What is shown beside the next check is what the suspects say: the same leader
// with the same probability, also where reports were left out when the checks
// were chosen. The answers move its probability from there.
func TestDemoLeaderIsThatOfSuspects(t *testing.T) {
	left, all := 0, []string{"slip-one-gear", "no-reverse", "third-again", "long"}
	for _, name := range size.Of(all[2:], all, all) {
		var c *engine.CaseFile
		m := demoAdviser(t).Model
		if name == "long" {
			c = longInterview(demoAdviser(t))
			c.Reports = c.Reports[:18]
		} else {
			c = demoCase(t, name)
			var err error
			if m, err = loadModel(c.Unit); err != nil {
				t.Fatal(err)
			}
		}
		ad, err := Price(m, c, Options{Best: 3, Explain: true})
		if err != nil {
			t.Fatal(err)
		}
		r, _, err := diagnose.Case(m, c, diagnose.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if s := r.Suspects[0]; ad.Leader != s.Component || math.Abs(ad.LeaderP-s.P) > 1e-6 {
			t.Errorf("%s: the leader is %s, %v, of the suspects %s, %v", name, ad.Leader.Name, ad.LeaderP, s.Component.Name, s.P)
		}
		if len(ad.Near) == 0 {
			continue
		}
		left++
		if !ad.Whole || ad.Proven > 0 {
			t.Errorf("%s: %d reports count approximately, figures count all exactly: %v, proven %d", name, len(ad.Near), ad.Whole, ad.Proven)
		}
		if len(ad.Checks)+ad.Unpriced < 40 {
			t.Errorf("%s: %d checks listed and %d behind", name, len(ad.Checks), ad.Unpriced)
		}
		for _, p := range ad.Checks {
			for _, ans := range p.Separates {
				for _, s := range ans.Shifts {
					if s.Component == ad.Leader && math.Abs(s.From-ad.LeaderP) > 0.02 {
						t.Errorf("%s, %s: moves the leader from %v, it is at %v", name, p.Check.Name, s.From, ad.LeaderP)
					}
				}
			}
		}
	}
	if left == 0 {
		t.Error("no report was left out")
	}
}
