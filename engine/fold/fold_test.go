package fold

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"slipcase/engine"
	"slipcase/engine/quantity"
)

func record(bodies ...engine.Body) engine.CaseRecord {
	rec := engine.CaseRecord{ID: "26-0001", Opening: engine.Opening{Unit: "demo", Title: "slips", Words: "it just revs"}}
	for i, b := range bodies {
		rec.Entries = append(rec.Entries, engine.Entry{Seq: int64(i + 1), Body: b})
	}
	return rec
}

func report(finding string, state engine.State, by string) engine.Report {
	return engine.Report{Finding: finding, State: state, By: by}
}

func psi(text string) quantity.Quantity {
	return quantity.Quantity{Dim: quantity.Pressure, Unit: "psi", Text: text}
}

// lines writes a folded case shortly, for comparison.
func lines(c *Case) string {
	var out []string
	for _, r := range c.Reports {
		out = append(out, r.Finding+" "+string(r.State)+" "+r.By)
	}
	for _, r := range c.Readings {
		out = append(out, r.Name+" "+r.Place+" "+r.Value.Text+" "+r.By)
	}
	for _, s := range c.Seen {
		if s.Cleared {
			out = append(out, s.Component+" cleared")
		} else {
			out = append(out, s.Component+"/"+s.Mode)
		}
	}
	for _, s := range c.Settled {
		out = append(out, s.Cause)
		if !s.Present {
			out[len(out)-1] += " not"
		}
	}
	for _, d := range c.Done {
		out = append(out, "done "+d)
	}
	for _, n := range c.Notes {
		out = append(out, "note "+n.Text)
	}
	for _, s := range c.Put {
		out = append(out, "put "+s)
	}
	if c.Interviewed {
		out = append(out, "at "+c.Question)
	}
	if e := c.Earlier(); e != "" {
		out = append(out, "of "+e)
	}
	if c.Status != engine.CaseOpen {
		out = append(out, string(c.Status))
	}
	return strings.Join(out, "; ")
}

func TestFold(t *testing.T) {
	const present, absent = engine.Present, engine.Absent
	for _, tc := range []struct {
		name   string
		bodies []engine.Body
		want   string
	}{
		{"nothing", nil, ""},
		{"later report of one reporter replaces", []engine.Body{
			report("slips@D/3", present, "driver"), report("whine", present, "driver"), report("slips@D/3", absent, "driver")},
			"whine present driver; slips@D/3 absent driver"},
		{"another reporter, condition or place stays", []engine.Body{
			report("slips@D/3", present, "driver"), report("slips@D/3", absent, "road_test"),
			report("slips@D/3:hot", present, "driver"), report("slips@D/2", present, "driver")},
			"slips@D/3 present driver; slips@D/3 absent road_test; slips@D/3:hot present driver; slips@D/2 present driver"},
		{"later reading replaces, also one at a step", []engine.Body{
			engine.Reading{Name: "line_pressure", Place: "idle/R", Value: psi("60 psi")},
			engine.StepDone{Step: "pan", Readings: []engine.Reading{{Name: "line_pressure", Place: "idle/R", Value: psi("71 psi")}}}},
			"line_pressure idle/R 71 psi ; done pan"},
		{"cleared replaces found", []engine.Body{
			engine.Seen{Component: "pump", Mode: "worn"}, engine.Seen{Component: "pump", Mode: "scored"}, engine.Seen{Component: "pump", Cleared: true}},
			"pump cleared"},
		{"found replaces cleared, two modes stand together", []engine.Body{
			engine.Seen{Component: "pump", Cleared: true}, engine.Seen{Component: "pump", Mode: "worn"}, engine.Seen{Component: "pump", Mode: "scored"}},
			"pump/worn; pump/scored"},
		{"settled cause", []engine.Body{
			engine.SettledCause{Cause: "low_fluid", Present: true}, engine.SettledCause{Cause: "low_fluid"}},
			"low_fluid not"},
		{"step done twice", []engine.Body{
			engine.StepDone{Step: "pan"}, engine.StepDone{Step: "pull"}, engine.StepDone{Step: "pan"}},
			"done pan; done pull"},
		{"interview", []engine.Body{
			engine.InterviewMark{Question: "q1", Skipped: true}, engine.InterviewMark{Question: "q1", Skipped: true},
			engine.InterviewMark{Question: "q2"}, engine.InterviewMark{Question: "q3"}},
			"put q1; at q3"},
		{"a question answered, one left open", []engine.Body{
			engine.InterviewMark{Question: "q1"}, report("slips@D/3", present, "driver"), engine.InterviewMark{Question: "q2"}},
			"slips@D/3 present driver; put q1; at q2"},
		{"a question left open, and a report after something else", []engine.Body{
			engine.InterviewMark{Question: "q1"}, engine.Note{Text: "a"}, report("slips@D/3", present, "driver")},
			"slips@D/3 present driver; note a; at q1"},
		{"retracted entries vanish and uncover what they replaced", []engine.Body{
			report("slips@D/3", present, "driver"), report("slips@D/3", absent, "driver"), engine.Retraction{Of: 2}},
			"slips@D/3 present driver"},
		{"what comes after a retracted entry counts", []engine.Body{
			engine.Note{Text: "a"}, engine.Note{Text: "b"}, engine.Retraction{Of: 1}, engine.Note{Text: "c"}},
			"note b; note c"},
		{"a retraction retracted", []engine.Body{
			engine.Note{Text: "a"}, engine.Retraction{Of: 1}, engine.Retraction{Of: 2}},
			"note a"},
		{"three deep", []engine.Body{
			engine.Note{Text: "a"}, engine.Retraction{Of: 1}, engine.Retraction{Of: 2}, engine.Retraction{Of: 3}},
			""},
		{"retracted twice, taken back once", []engine.Body{
			engine.Note{Text: "a"}, engine.Retraction{Of: 1}, engine.Retraction{Of: 1}, engine.Retraction{Of: 2}},
			""},
		{"closed", []engine.Body{engine.Closing{Outcome: engine.CaseFixed}}, "fixed"},
		{"closed and reopened", []engine.Body{engine.Closing{Outcome: engine.CaseFixed}, engine.Reopening{}}, ""},
		{"reopening retracted", []engine.Body{engine.Closing{Outcome: engine.CaseFixed}, engine.Reopening{}, engine.Retraction{Of: 2}}, "fixed"},
		{"later outcome counts", []engine.Body{engine.Closing{Outcome: engine.CaseFixed}, engine.Closing{Outcome: engine.CaseComeBack, Earlier: "25-0007"}}, "of 25-0007; come_back"},
		{"opened as a comeback", []engine.Body{engine.ComeBack{Earlier: "25-0007"}, engine.Closing{Outcome: engine.CaseFixed}}, "of 25-0007; fixed"},
		{"the closing names another", []engine.Body{engine.ComeBack{Earlier: "25-0007"}, engine.Closing{Outcome: engine.CaseComeBack, Earlier: "25-0008"}}, "of 25-0008; come_back"},
		{"taken back", []engine.Body{engine.ComeBack{Earlier: "25-0007"}, engine.Retraction{Of: 1}}, ""},
	} {
		t.Run(tc.name, func(t *testing.T) {
			c, err := Fold(record(tc.bodies...))
			if err != nil {
				t.Fatal(err)
			}
			if got := lines(c); got != tc.want {
				t.Errorf("got  %s\nwant %s", got, tc.want)
			}
		})
	}
}

func TestFoldRefuses(t *testing.T) {
	gap := record(engine.Note{Text: "a"}, engine.Note{Text: "b"})
	gap.Entries[1].Seq = 3
	for _, tc := range []struct {
		name string
		rec  engine.CaseRecord
		want string
	}{
		{"retraction of itself", record(engine.Retraction{Of: 1}), "entry 1 retracts entry 1"},
		{"retraction of a later entry", record(engine.Retraction{Of: 2}, engine.Note{}), "not an earlier one"},
		{"retraction of the opening", record(engine.Retraction{Of: 0}), "retracts entry 0"},
		{"gap", gap, "entry 2 of the case has number 3"},
		{"no body", record(nil), "is no entry"},
	} {
		if _, err := Fold(tc.rec); err == nil || !strings.Contains(err.Error(), tc.want) {
			t.Errorf("%s: error %v, want one with %q", tc.name, err, tc.want)
		}
	}
}

// Culprits are the parts found failed, not those cleared, in the order in which
// they were seen.
func TestCulprits(t *testing.T) {
	c, err := Fold(record(
		engine.Seen{Component: "pump", Mode: "worn"},
		engine.Seen{Component: "filter", Cleared: true},
		engine.Seen{Component: "band", Mode: "lining_burnt"},
	))
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff([]string{"pump/worn", "band/lining_burnt"}, c.Culprits()); d != "" {
		t.Error(d)
	}
}

// Retracting the last entry gives the case as it was before that entry: undo.
func TestUndoIsExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 12).Draw(t, "n")
		var bodies []engine.Body
		for i := 1; i <= n; i++ {
			bodies = append(bodies, drawBody(t, i))
		}
		before, err := Fold(record(bodies[:n-1]...))
		if err != nil {
			t.Fatal(err)
		}
		undone, err := Fold(record(append(bodies, engine.Retraction{Of: int64(n)})...))
		if err != nil {
			t.Fatal(err)
		}
		undone.LastSeq = before.LastSeq
		if d := cmp.Diff(before, undone); d != "" {
			t.Fatal(d)
		}
		// And undoing the undoing restores it.
		after, _ := Fold(record(bodies...))
		again, _ := Fold(record(append(bodies, engine.Retraction{Of: int64(n)}, engine.Retraction{Of: int64(n + 1)})...))
		again.LastSeq = after.LastSeq
		if d := cmp.Diff(after, again); d != "" {
			t.Fatal(d)
		}
	})
}

func drawBody(t *rapid.T, seq int) engine.Body {
	pick := func(label string, words ...string) string { return rapid.SampledFrom(words).Draw(t, label) }
	kinds := 8
	if seq > 1 {
		kinds = 9
	}
	switch rapid.IntRange(1, kinds).Draw(t, "kind") {
	case 1:
		return report(pick("finding", "slips@D/3", "slips@D/3:hot", "whine"), engine.State(pick("state", "present", "absent", "unknown")), pick("by", "driver", "road_test"))
	case 2:
		return engine.Reading{Name: "line_pressure", Place: pick("place", "idle/R", "idle/D"), Value: psi(pick("value", "60 psi", "71 psi"))}
	case 3:
		return engine.Seen{Component: pick("component", "pump", "filter"), Mode: pick("mode", "worn", "scored")}
	case 4:
		return engine.Seen{Component: pick("component", "pump", "filter"), Cleared: true}
	case 5:
		return engine.StepDone{Step: pick("step", "pan", "pull"), Readings: []engine.Reading{{Name: "end_play"}}}
	case 6:
		return engine.InterviewMark{Question: pick("question", "q1", "q2"), Skipped: rapid.Bool().Draw(t, "skipped")}
	case 7:
		return engine.Closing{Outcome: engine.CaseStatus(pick("outcome", "fixed", "abandoned"))}
	case 8:
		return engine.Reopening{}
	}
	return engine.Retraction{Of: int64(rapid.IntRange(1, seq-1).Draw(t, "of"))}
}

// A reading replaces the earlier one of its place, and no other.
func TestReadingsHaveAPlace(t *testing.T) {
	at := func(place, text string) engine.Reading {
		return engine.Reading{Name: "line_pressure", Place: place, Value: psi(text), By: "gauge"}
	}
	c, err := Fold(record(at("idle/R", "90 psi"), at("idle/D", "60 psi"), at("idle/R", "95 psi")))
	if err != nil {
		t.Fatal(err)
	}
	if got, want := lines(c), "line_pressure idle/D 60 psi gauge; line_pressure idle/R 95 psi gauge"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
}
