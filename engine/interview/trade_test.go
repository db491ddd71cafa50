package interview

import (
	"math"
	"testing"

	"slipcase/engine"
	"slipcase/engine/advise"
	"slipcase/engine/model"
	"slipcase/knowledge"
	"slipcase/rules"
)

func northfork(t *testing.T) *advise.Adviser {
	t.Helper()
	k, _ := rules.Load(rules.Options{Layers: []rules.Layer{{Name: "knowledge", FS: knowledge.FS}}, Unit: "northfork-4"})
	m, err := model.Build(k, k.Unit("northfork-4"))
	if err != nil {
		t.Fatal(err)
	}
	a, err := advise.New(m)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func driver(present ...string) *engine.CaseFile {
	c := &engine.CaseFile{Unit: "northfork-4"}
	for _, f := range present {
		c.Reports = append(c.Reports, engine.Report{Finding: f, State: engine.Present, By: "driver"})
	}
	return c
}

// Every choice speaks of every condition at every place where the finding is
// there, and of no other place.
func TestChoicesAreFull(t *testing.T) {
	a := northfork(t)
	for _, tc := range []struct {
		check, choice, finding string
		want                   map[engine.Condition]engine.State
	}{
		{"ask_slip_when", "always", "slips@D/3", map[engine.Condition]engine.State{"cold": "present", "hot": "present"}},
		{"ask_slip_when", "only_hot", "slips@D/3", map[engine.Condition]engine.State{"cold": "absent", "hot": "present"}},
		{"ask_slip_when", "only_cold", "slips@D/3", map[engine.Condition]engine.State{"cold": "present", "hot": "absent"}},
		{"ask_engage_when", "always", "late_engagement@R", map[engine.Condition]engine.State{"cold": "present", "hot": "present", "after_standing": "present"}},
		{"ask_engage_when", "whenever_cold", "late_engagement@R", map[engine.Condition]engine.State{"cold": "present", "hot": "absent", "after_standing": "present"}},
		{"ask_engage_when", "after_a_night", "late_engagement@R", map[engine.Condition]engine.State{"cold": "absent", "hot": "absent", "after_standing": "present"}},
		{"ask_engage_when", "only_hot", "late_engagement@R", map[engine.Condition]engine.State{"cold": "absent", "hot": "present", "after_standing": "absent"}},
	} {
		iv := New(a, driver(tc.finding), State{At: tc.check}, advise.Options{Workers: 1})
		if _, err := iv.Choose(tc.choice); err != nil {
			t.Fatal(err)
		}
		got := iv.State().Turns[0].Reports
		if len(got) != len(tc.want) {
			t.Errorf("%s %s: %d reports, want %d: %+v", tc.check, tc.choice, len(got), len(tc.want), got)
		}
		for _, r := range got {
			f := engine.ParseFindingName(r.Finding)
			if f.Base() != tc.finding || r.State != tc.want[f.Condition] {
				t.Errorf("%s %s: %s is %s", tc.check, tc.choice, r.Finding, r.State)
			}
		}
	}
}

// What does not drive does not slip: it is not asked, and a denial of it beside
// "no drive" moves nothing.
func TestHidden(t *testing.T) {
	a := northfork(t)
	left, err := a.Left(driver("no_drive@R/R"), "ask_slip_where", nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, o := range left {
		if o.Name == "slips@R/R" {
			t.Error("asks whether it slips where it does not drive")
		}
	}
	if len(left) == 0 {
		t.Error("nothing is asked of the other rows")
	}
	before := belief(t, a.Model, driver("no_drive@R/R"))
	c := driver("no_drive@R/R")
	for _, f := range []string{"slips@R/R", "late_engagement@R", "slips@R/R:hot"} {
		c.Reports = append(c.Reports, engine.Report{Finding: f, State: engine.Absent, By: "driver"})
	}
	if after := belief(t, a.Model, c); !same(before, after) {
		t.Error("a denial that cannot be observed moved a probability")
	}
	c.Reports[1].Finding = "slips@D/3"
	if after := belief(t, a.Model, c); same(before, after) {
		t.Error("a denial in a row that drives moved nothing")
	}
	// It does not drive hot only: what it does cold can be seen.
	c = driver("no_drive@R/R:hot")
	c.Reports = append(c.Reports, engine.Report{Finding: "no_drive@R/R:cold", State: engine.Absent, By: "driver"})
	if by := a.Model.Hidden(c.Reports)("slips@R/R:cold"); by != "" {
		t.Errorf("slip when cold is hidden by %s", by)
	}
	if by := a.Model.Hidden(c.Reports)("slips@R/R:hot"); by == "" {
		t.Error("slip when hot is not hidden")
	}
}

// After standing is a kind of cold: hardened lips show then too, drain-back
// only then.
func TestAfterStanding(t *testing.T) {
	a := northfork(t)
	show := func(f, suspect string) float64 {
		n, ok := a.Model.Lookup(suspect)
		if !ok {
			t.Fatalf("no %s", suspect)
		}
		return belief(t, a.Model, driver(f))[n] / belief(t, a.Model, driver())[n]
	}
	var lips, drains string
	for _, n := range a.Model.Modes() {
		switch x := a.Model.Nodes[n]; {
		case x.Mode.Name == "lip_hardened" && lips == "":
			lips = x.Name
		case x.Mode.Name == "drain_back" && drains == "":
			drains = x.Name
		}
	}
	if lips == "" || drains == "" {
		t.Fatal("the modes have other names")
	}
	if x := show("late_engagement@D:after_standing", lips); x < 1.05 {
		t.Errorf("after standing, hardened lips (%s) are %.2f times as likely", lips, x)
	}
	if x := show("late_engagement@D:after_standing", drains); x < 2 {
		t.Errorf("after standing, drain-back is %.2f times as likely", x)
	}
	if x := show("late_engagement@D:cold", drains); x > 1.5 {
		t.Errorf("whenever cold, drain-back is %.2f times as likely", x)
	}
}

// A driver who never uses a range is not asked about it again.
func TestNeverUsed(t *testing.T) {
	a := northfork(t)
	iv := New(a, driver(), State{}, advise.Options{Best: 1, Workers: 1})
	if q := next(t, iv); q == nil || q.Check.Name != "ask_what" {
		t.Fatalf("begins with %+v", q)
	}
	if _, err := iv.Choose("slips"); err != nil {
		t.Fatal(err)
	}
	if q := next(t, iv); q == nil || q.Check.Name != "ask_slip_where" || len(q.Ranges) < 3 {
		t.Fatalf("then asks %+v", q)
	}
	if _, err := iv.Answer(Reply{Present: []string{"slips@D/3"}, NotTried: []string{"2", "L"}}); err != nil {
		t.Fatal(err)
	}
	for range 3 {
		q := next(t, iv)
		if q == nil {
			break
		}
		for _, o := range q.Options {
			if r := iv.rangeOf(o.Finding); r == "2" || r == "L" {
				t.Errorf("%s asks about %s", q.Check.Name, o.Finding)
			}
		}
		if _, err := iv.Skip(); err != nil {
			t.Fatal(err)
		}
	}
}

func belief(t *testing.T, m *model.Model, c *engine.CaseFile) []float64 {
	t.Helper()
	pieces, diags := m.Evidence(c)
	for _, d := range diags {
		if d.Severity == engine.Error {
			t.Fatal(d)
		}
	}
	p, err := m.Solve(pieces)
	if err != nil {
		t.Fatal(err)
	}
	return p.P
}

func same(x, y []float64) bool {
	for i := range x {
		if math.Abs(x[i]-y[i]) > 1e-12 {
			return false
		}
	}
	return true
}
