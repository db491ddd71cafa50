package diagnose_test

import (
	"errors"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"slipcase/engine"
	"slipcase/engine/diagnose"
	"slipcase/engine/model"
	"slipcase/engine/network"
	"slipcase/rules"
	"slipcase/rules/diag"
)

// demo loads a demo case of the knowledge folder.
func demo(t testing.TB, name string) *engine.CaseFile {
	t.Helper()
	src, err := os.ReadFile("../../knowledge/cases/" + name + ".hcl")
	if err != nil {
		t.Fatal(err)
	}
	c, diags := rules.LoadCase(name, src)
	if diag.HasErrors(diags) {
		t.Fatal(diags)
	}
	return c
}

func rankOf(r *diagnose.Result, component string) int {
	for i, s := range r.Suspects {
		if s.Component.Name == component {
			return i + 1
		}
	}
	return 0
}

// The culprits are those that the invented cases were made with.
func TestDemoCases(t *testing.T) {
	cases := []struct {
		name    string
		culprit []string
		within  int
	}{
		{"slip-one-gear", []string{"overdrive_servo"}, 1},
		{"no-reverse", []string{"reverse_piston"}, 1},
		{"harsh-shift", []string{"accumulator_1_2"}, 1},
		{"burnt-clutch-cause-elsewhere", []string{"regulator_valve"}, 3},
		{"two-faults", []string{"lockup_clutch", "low_roller"}, 2},
		{"not-the-transmission", []string{"wiring"}, 1},
		{"third-and-reverse", []string{"front_clutch_plates"}, 2},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			file := demo(t, c.name)
			r, diags, err := diagnose.Case(modelOf(t, file.Unit), file, diagnose.Options{})
			if err != nil || r == nil {
				t.Fatal(err, diags)
			}
			for _, want := range c.culprit {
				rank := rankOf(r, want)
				t.Logf("%s: rank %d", want, rank)
				if rank == 0 || rank > c.within {
					t.Errorf("%s is rank %d, want within %d; first is %s", want, rank, c.within, r.Suspects[0].Component.Name)
				}
			}
			if g := r.Gist; g.Elsewhere == nil || g.Elsewhere.Outside == g.Lead.Outside {
				t.Errorf("it is not said what it could be on the other side of the case: %+v", g)
			}
		})
	}
}

// Weights come from two conditional posteriors; leaving a report out and
// solving again is the slow oracle.
func TestWeightsAgainstLeavingOut(t *testing.T) {
	for _, name := range []string{"slip-one-gear", "harsh-shift", "two-faults"} {
		file := demo(t, name)
		m := modelOf(t, file.Unit)
		r, _, err := diagnose.Case(m, file, diagnose.Options{Weights: 3})
		if err != nil {
			t.Fatal(err)
		}
		odds := func(p float64) float64 { return math.Log10(p / (1 - p)) }
		checked := 0
		for _, s := range r.Suspects[:3] {
			lead := s.Modes[0]
			for _, w := range s.Weights {
				for i, p := range r.Pieces {
					if p.Label != w.Label || p.By != w.By || p.Group != w.Group {
						continue
					}
					rest := append(append([]model.Piece(nil), r.Pieces[:i]...), r.Pieces[i+1:]...)
					post, err := m.Solve(rest)
					if err != nil {
						t.Fatal(err)
					}
					want := 10 * (odds(lead.P) - odds(post.P[lead.Node]))
					if math.Abs(want-w.Decibans) > 1e-5 {
						t.Errorf("%s: %s for %s: %.9f decibans, leaving it out gives %.9f", name, w.Label, lead.Mode.Name, w.Decibans, want)
					}
					checked++
				}
			}
		}
		if checked < 8 { // reports of something present
			t.Errorf("%s: only %d weights checked", name, checked)
		}
	}
}

// Suspects, Unexplained and the joint explanations agree with hard evidence
// solved on its own.
func TestJointAgainstHardEvidence(t *testing.T) {
	file := demo(t, "harsh-shift")
	m := modelOf(t, file.Unit)
	r, _, err := diagnose.Case(m, file, diagnose.Options{})
	if err != nil {
		t.Fatal(err)
	}
	hard := func(states map[int]bool) float64 {
		ev := m.Likelihoods(r.Pieces)
		for n, on := range states {
			l := network.Likelihood{Node: n, Off: 1, Tag: -1}
			if on {
				l.On, l.Off = 1, 0
			}
			ev = append(ev, l)
		}
		post, err := m.Solver().SolveSubset(ev, nil)
		if err != nil {
			t.Fatal(err)
		}
		return math.Exp(post.LogEvidence - r.LogEvidence)
	}
	for _, s := range r.Suspects[:3] {
		off := map[int]bool{}
		for _, n := range m.ModesOf(s.Component.Name) {
			off[n] = false
		}
		if want := 1 - hard(off); s.Bounded || math.Abs(s.P-want) > 1e-9 {
			t.Errorf("P(%s) = %v, want %v", s.Component.Name, s.P, want)
		}
	}
	var total float64
	for _, e := range r.Explanations {
		total += e.P
	}
	if total+r.Unexplained > 1+1e-9 || total < 0.3 {
		t.Errorf("explanations sum to %v beside %v unexplained", total, r.Unexplained)
	}
}

// Physics tells what a stuck forward clutch does, with no rule about it.
func TestStuckForwardClutch(t *testing.T) {
	m := modelOf(t, "northfork-4")
	node, ok := m.Lookup("forward_frictions/plates_welded")
	if !ok {
		t.Fatal("the knowledge has no welded forward clutch")
	}
	got := map[string]string{}
	for _, s := range m.RowsOf(node) {
		got[s.Row] = s.Outcome
	}
	for row, want := range map[string]string{"N/N": "drives_in_neutral", "R/R": "ties_up", "D/1": ""} {
		if got[row] != want {
			t.Errorf("%s: %q, want %q", row, got[row], want)
		}
	}
}

// "Hot yes, cold no" must favor what only heat brings out over what shows
// always, more than plain presence does.
func TestConditionsSplit(t *testing.T) {
	m := modelOf(t, "northfork-4")
	ratio := func(reports ...engine.Report) float64 {
		c := &engine.CaseFile{Unit: "northfork-4", Reports: reports}
		r, diags, err := diagnose.Case(m, c, diagnose.Options{})
		if err != nil || r == nil {
			t.Fatal(err, diags)
		}
		hot, _ := m.Lookup("direct_rings/cut_ring")
		always, _ := m.Lookup("direct_frictions/lining_bare")
		return r.Posterior[hot] / r.Posterior[always]
	}
	plain := ratio(engine.Report{Finding: "slips@D/3", State: engine.Present, By: "road_test"})
	split := ratio(
		engine.Report{Finding: "slips@D/3:hot", State: engine.Present, By: "road_test"},
		engine.Report{Finding: "slips@D/3:cold", State: engine.Absent, By: "road_test"})
	if split <= plain {
		t.Errorf("hot without cold favors the cut ring %.3f : 1, plain presence %.3f : 1", split, plain)
	}
}

func TestEvidenceIsNamed(t *testing.T) {
	m := modelOf(t, "northfork-4")
	diagnoseOf := func(c *engine.CaseFile) []model.Problem {
		c.Unit = "northfork-4"
		r, diags, err := diagnose.Case(m, c, diagnose.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if r != nil {
			t.Fatal("an answer in spite of an unknown name")
		}
		return diags
	}
	at := engine.Range{File: "case.hcl", Line: 7, Column: 3}
	for _, c := range []struct {
		name string
		file engine.CaseFile
		kind model.ProblemKind
		want string // among the names, or the other name
	}{
		{"near name", engine.CaseFile{Reports: []engine.Report{{Finding: "slip@D/3", State: engine.Present, By: "driver", Where: at}}}, model.UnknownFinding, "slips@D/3"},
		{"a fault is no symptom", engine.CaseFile{Reports: []engine.Report{{Finding: "pump/pump_worn", State: engine.Present, By: "driver", Where: at}}}, model.NotObserved, "mode"},
		{"reporter", engine.CaseFile{Reports: []engine.Report{{Finding: "slips@D/3", State: engine.Present, By: "neighbor", Where: at}}}, model.UnknownReporter, "driver"},
		{"component", engine.CaseFile{Seen: []engine.Seen{{Component: "pumpe", Cleared: true, Where: at}}}, model.UnknownComponent, "pump"},
		{"mode", engine.CaseFile{Seen: []engine.Seen{{Component: "pump", Mode: "burnt", Where: at}}}, model.UnknownMode, "pump_worn"},
		{"cause", engine.CaseFile{Settled: []engine.SettledCause{{Cause: "blocked", Present: true, Where: at}}}, model.UnknownCause, ""},
	} {
		diags := diagnoseOf(&c.file)
		if len(diags) != 1 || diags[0].Severity != engine.Error || diags[0].Kind != c.kind || diags[0].Where != at || c.want != "" && c.want != diags[0].Other && !slices.Contains(diags[0].Names, c.want) {
			t.Errorf("%s: %v", c.name, diags)
		}
	}
}

// Reports that cannot all be true are named, and only those.
func TestClash(t *testing.T) {
	m := modelOf(t, "northfork-4")
	c := &engine.CaseFile{Unit: "northfork-4",
		Reports: []engine.Report{{Finding: "slips@D/3", State: engine.Present, By: "driver"}},
		Seen:    []engine.Seen{{Component: "pump", Mode: "pump_worn"}, {Component: "pump", Cleared: true}},
	}
	_, _, err := diagnose.Case(m, c, diagnose.Options{})
	var clash *model.ClashError
	if !errors.As(err, &clash) {
		t.Fatalf("no clash: %v", err)
	}
	for _, p := range clash.Pieces {
		if !strings.HasPrefix(p.Label, "pump") {
			t.Errorf("%s has no part in it", p.Label)
		}
	}
	if len(clash.Pieces) != 2 {
		t.Errorf("%d pieces, want the two", len(clash.Pieces))
	}
}

// A report of "unknown", and the order of reports by different people, change
// nothing; the same input gives the same bits.
func TestInvariance(t *testing.T) {
	file := demo(t, "no-reverse")
	m := modelOf(t, file.Unit)
	first, _, err := diagnose.Case(m, file, diagnose.Options{})
	if err != nil {
		t.Fatal(err)
	}
	more := *file
	more.Reports = append(append([]engine.Report(nil), file.Reports...), engine.Report{Finding: "whine@D/1", State: engine.Unknown, By: "driver"})
	second, _, err := diagnose.Case(modelOf(t, file.Unit), &more, diagnose.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for i := range first.Posterior {
		if first.Posterior[i] != second.Posterior[i] {
			t.Fatalf("%s: %v, then %v", m.Nodes[i].Name, first.Posterior[i], second.Posterior[i])
		}
	}
	same := func(a, b model.Piece) bool { return a.Label == b.Label && a.By == b.By }
	if a, b := first.Gist.Complaint, second.Gist.Complaint; len(a) == 0 || !slices.EqualFunc(a, b, same) {
		t.Errorf("the complaint changed: %+v, then %+v", a, b)
	}
}

// A part found failed that no part outside brings about: what came before it is
// named, likeliest first, as long as something is.
func TestGistNamesWhatCameBefore(t *testing.T) {
	m := modelOf(t, "northfork-4")
	c := &engine.CaseFile{Unit: "northfork-4", Seen: []engine.Seen{{Component: "forward_frictions", Mode: "burnt_friction"}}}
	r, diags, err := diagnose.Case(m, c, diagnose.Options{})
	if err != nil || r == nil {
		t.Fatal(err, diags)
	}
	if len(r.Causes) == 0 || r.Causes[0].P < 0.05 {
		t.Fatal("no root cause stands open: the case tells nothing")
	}
	if g := r.Gist; g.Elsewhere != nil || g.Cause == nil || g.Cause.Cause != r.Causes[0].Cause {
		t.Errorf("%+v does not name %s", g, r.Causes[0].Cause.Name)
	}
}

// High mileage is a circumstance: it makes faults likelier, and is no root cause
// to settle, of the case or of a set of faults.
func TestContextIsNoCauseToSettle(t *testing.T) {
	m := modelOf(t, "northfork-4")
	c := &engine.CaseFile{Unit: "northfork-4", Reports: []engine.Report{
		{Finding: "slips@D/4", State: engine.Present, By: "driver"}, {Finding: "history_high_mileage", State: engine.Present, By: "driver"}}}
	r, diags, err := diagnose.Case(m, c, diagnose.Options{})
	if err != nil || r == nil {
		t.Fatal(err, diags)
	}
	n, ok := m.Lookup("high_mileage")
	if !ok || !m.Nodes[n].Cause.Context || r.Posterior[n] < 0.5 {
		t.Fatalf("high mileage is not told as a likely circumstance: %+v", m.Nodes[n].Cause)
	}
	if len(r.Causes) == 0 || len(r.Explanations) == 0 {
		t.Fatal("nothing to look at")
	}
	for _, x := range r.Causes {
		if x.Cause.Context {
			t.Errorf("%s is a root cause to settle", x.Cause.Name)
		}
	}
	for _, e := range r.Explanations {
		if e.Cause != nil && e.Cause.Context {
			t.Errorf("%s is the root cause of %v", e.Cause.Name, e.Modes)
		}
	}
}

// A case that would tie too many causes together counts some reports approximately, and
// names them. Reports of what is not there tie nothing: none of them is. What
// those that count approximately say is heard: each moves the answer.
func TestNear(t *testing.T) {
	m := modelOf(t, "northfork-4")
	c := &engine.CaseFile{Unit: "northfork-4", Reports: []engine.Report{{Finding: "slips@D/3", State: engine.Present, By: "driver"}}}
	said := map[string]bool{"slips@D/3": true}
	for _, ch := range m.Knowledge.Checks {
		if ch.Stage != engine.StageInterview {
			continue
		}
		for _, y := range ch.Yields {
			for _, name := range m.Match(y) {
				if !said[name] && engine.ParseFindingName(name).Condition == "" {
					said[name] = true
					r := engine.Report{Finding: name, State: engine.Absent, By: ch.Reporter}
					if len(said)%2 == 0 {
						r.State = engine.Present
					}
					c.Reports = append(c.Reports, r)
				}
			}
		}
	}
	r, diags, err := diagnose.Read(m, c)
	if err != nil || r == nil {
		t.Fatal(err, diags)
	}
	if len(r.Near) == 0 || len(r.Near) > len(c.Reports)/2 {
		t.Fatalf("%d of %d reports count approximately", len(r.Near), len(c.Reports))
	}
	for _, p := range r.Near {
		if p.State != engine.Present || p.Shares == nil {
			t.Errorf("%s, %s, counts approximately", p.Label, p.State)
		}
	}
	all, _ := m.Evidence(c)
	if len(r.Pieces) != len(all) {
		t.Fatalf("%d of %d pieces count", len(r.Pieces), len(all))
	}
	heard := map[int]bool{}
	for i := range r.Pieces {
		if r.Pieces[i].Shares == nil {
			continue
		}
		post, err := m.Solve(model.Silenced(r.Pieces, map[int]bool{i: true}))
		if err != nil {
			t.Fatal(err)
		}
		for _, n := range m.Modes() {
			if math.Abs(post.P[n]-r.Posterior[n]) > 1e-3 {
				heard[i] = true
			}
		}
	}
	if len(heard) < len(r.Near)/2 {
		t.Errorf("of %d reports that count approximately %d move a figure by a thousandth", len(r.Near), len(heard))
	}
}

// Without any report a component is as likely as before any report: one figure
// on two ways, with modes that share a cause and are not independent.
func TestPriorOfComponents(t *testing.T) {
	for _, unit := range []string{"northfork-4", "harrow-3"} {
		m := modelOf(t, unit)
		r, diags, err := diagnose.Case(m, &engine.CaseFile{Unit: unit}, diagnose.Options{Top: len(m.Unit.Components)})
		if err != nil || r == nil {
			t.Fatal(err, diags)
		}
		several := 0
		for _, s := range r.Suspects {
			if len(s.Modes) > 1 {
				several++
			}
			if s.Bounded || math.Abs(s.Prior-s.P) > 1e-9 {
				t.Errorf("%s %s: prior %v, with no report %v", unit, s.Component.Name, s.Prior, s.P)
			}
		}
		if several == 0 {
			t.Errorf("%s has no component of several modes", unit)
		}
	}
}

// Of what one reporter says of one finding the last counts; another reporter
// counts beside him.
func TestLastReportCounts(t *testing.T) {
	m := modelOf(t, "northfork-4")
	say := func(state engine.State, by string) engine.Report {
		return engine.Report{Finding: "slips@D/3", State: state, By: by}
	}
	pieces, diags := m.Evidence(&engine.CaseFile{Unit: "northfork-4", Reports: []engine.Report{
		say(engine.Present, "driver"), say(engine.Present, "road_test"), say(engine.Absent, "driver"),
	}})
	if len(diags) > 0 || len(pieces) != 2 {
		t.Fatalf("%d pieces, want 2: %+v %v", len(pieces), pieces, diags)
	}
	for _, p := range pieces {
		want := map[string]engine.State{"driver": engine.Absent, "road_test": engine.Present}[p.By]
		if p.State != want || (p.On > p.Off) != (want == engine.Present) {
			t.Errorf("%s says %s (%v, %v), want %s", p.By, p.State, p.On, p.Off, want)
		}
	}
}
