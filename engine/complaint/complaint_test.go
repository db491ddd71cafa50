package complaint_test

import (
	"fmt"
	"os"
	"testing"

	"slipcase/engine"
	"slipcase/engine/complaint"
	"slipcase/engine/model"
	"slipcase/rules"
	"slipcase/rules/diag"
)

func matcher(t testing.TB) *complaint.Matcher {
	t.Helper()
	return complaint.New(modelOf(t))
}

func modelOf(t testing.TB) *model.Model {
	t.Helper()
	k, diags := rules.Load(rules.Options{Layers: []rules.Layer{{Name: "knowledge", FS: os.DirFS("../../knowledge")}}, Unit: "northfork-4"})
	if diag.HasErrors(diags) {
		t.Fatal(diags)
	}
	m, err := model.Build(k, k.Unit("northfork-4"))
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// Sentences of our own invention, as drivers say them, with what must be among
// the proposals ("-" before a name: as absent).
var sentences = []struct {
	said string
	want []string
}{
	{"The engine races but the car does not go faster in third gear", []string{"slips@D/3"}},
	{"It slips in fourth", []string{"slips@D/4"}},
	{"slips in second when hot, third is fine", []string{"slips@D/2:hot", "-slips@D/3"}},
	{"It won't move in reverse", []string{"no_drive@R/R"}},
	{"It does not move in drive, reverse is good", []string{"no_drive@D/1", "-no_drive@R/R"}},
	{"bangs into gear from first to second", []string{"harsh_shift@D/1-2"}},
	{"hard shift 2-3", []string{"harsh_shift@D/2-3"}},
	{"the shift from third to fourth jerks", []string{"harsh_shift@D/3-4"}},
	{"it creeps in neutral", []string{"creeps@N/N"}},
	{"it whines in first", []string{"whine@D/1"}},
	{"shudders in overdrive", []string{"shudder@D/4"}},
	{"feels like a rumble strip in fourth", []string{"shudder@D/4"}},
	{"It takes long to shift from second to third", []string{"late_shift@D/2-3"}},
	{"the shaking goes away when I touch the brake", []string{"shudder_gone_at_brake"}},
	{"clunks into drive", []string{"harsh_engagement@D"}},
	{"bangs into reverse", []string{"harsh_engagement@R"}},
	{"stalls at lights", []string{"engine_stalls_at_stop"}},
	{"it was towed home last week", []string{"history_towed"}},
	{"it was rebuilt two years ago", []string{"history_rebuilt"}},
	{"all of a sudden it would not pull", []string{"history_sudden"}},
	{"the warning lamp is on", []string{"light_on"}},
	{"switching off helps for a while", []string{"key_off_cures"}},
	{"works for ten minutes then quits", []string{"slips_after_minutes"}},
	{"rolls in park", []string{"park_rolls"}},
	{"clunks on the 3-2 kickdown", []string{"harsh_shift@D/3-2"}},
	{"bangs coming to a stop", []string{"harsh_downshift"}},
	{"bangs on the 3-2 downshift", []string{"harsh_shift@D/3-2"}},
	{"bangs going from third to second", []string{"harsh_shift@D/3-2"}},
	{"engine flares on the 4-2 kickdown", []string{"flare@D/4-2"}},
	{"the engine runs up on the 4-3 shift", []string{"flare@D/4-3"}},
	{"clunks coasting down on the 2-1", []string{"coast_clunk@D/2-1"}},
	{"it has no top speed any more", []string{"poor_top_speed"}},
	{"slow off the line", []string{"weak_launch@D/1"}},
	{"runs away downhill in second", []string{"no_engine_braking@D/2"}},
	{"tows a trailer every weekend", []string{"history_heavy_load"}},
	{"somebody topped up the fluid", []string{"history_fluid_added"}},
	{"it slips, worst in third, second is good", []string{"slips@D/3", "-slips@D/2"}},
	{"it slipps in fourth; it smokes blue", []string{"slips@D/4", "engine_smokes"}},
	{"slips cold in first", []string{"slips@D/1:cold"}},
	{"is in limp mode", []string{"limp_mode"}},
	{"mushy 1-2", []string{"soft_shift@D/1-2"}},
	{"whine that goes away in third", []string{"whine@*", "-whine@D/3"}},
	{"a howl in first and second that stops in third", []string{"whine@D/1", "whine@D/2", "-whine@D/3"}},
	{"whine is gone in high gear", []string{"whine@*", "-whine@D/4"}},
	{"it slips in second cold, goes away when it warms up", []string{"slips@D/2:cold", "-slips@D/2:hot"}},
	{"third gear is gone", []string{"no_drive@D/3"}},
	{"it'll move in reverse but not drive", []string{"no_drive@D/1", "-no_drive@R/R"}},
	{"it slams into first as I stop", []string{"harsh_downshift"}},
	{"goes from first to third", []string{"no_shift@D/1-2"}},
	{"second gear start", []string{"acts_as_2@D/1"}},
	{"it starts in second gear", []string{"acts_as_2@D/1"}},
	{"Reverse takes about four seconds to come in", []string{"late_engagement@R"}},
	{"nothing until it warms up, then it drives fine", []string{"no_drive@*:cold"}},
	{"engine dies when I put it in gear", []string{"engine_stalls_at_stop"}},
	{"no drive but low works", []string{"no_drive@*", "-no_drive@L/1"}},
}

func TestSentences(t *testing.T) {
	m := matcher(t)
	for _, s := range sentences {
		got := m.Match(s.said)
		have := map[string]bool{}
		for _, p := range got {
			name := p.Finding
			if p.State == engine.Absent {
				name = "-" + name
			}
			have[name] = true
			for _, d := range p.Denies {
				have["-"+d] = true
			}
			if p.Words == "" || p.Score <= 0 || p.Score > 1 {
				t.Errorf("%q: a bare proposal %+v", s.said, p)
			}
		}
		for _, w := range s.want {
			if !have[w] {
				t.Errorf("%q: no %s among %v", s.said, w, names(got))
			}
		}
		if len(got) > 6 {
			t.Errorf("%q: %d proposals are too many to confirm: %v", s.said, len(got), names(got))
		}
	}
	if len(sentences) < 30 {
		t.Errorf("only %d sentences", len(sentences))
	}
}

func names(list []complaint.Proposal) []string {
	var out []string
	for _, p := range list {
		out = append(out, string(p.State)+" "+p.Finding)
	}
	return out
}

// What a sentence says is gone in third is not offered in third, not even where
// the place is still to be asked.
func TestGoneThere(t *testing.T) {
	for _, said := range []string{"whine that goes away in third", "the whine disappears in third", "vibration that stops when it shifts into third"} {
		for _, p := range matcher(t).Match(said) {
			for _, name := range append([]string{p.Finding}, p.Places...) {
				if p.State != engine.Absent && engine.ParseFindingName(name).Place == "D/3" {
					t.Errorf("%q: offers %s", said, name)
				}
			}
		}
	}
}

// A place that was told is not asked for again, and a way to roll is no gear.
func TestToldOnce(t *testing.T) {
	for said, want := range map[string]string{
		"nothing in drive but works in low. No drive":       "[present no_drive@D/1 absent no_drive@L/1]",
		"it growls in first and the growl is gone in third": "[present whine@D/1 absent whine@D/3]",
		"slips in third. Slips cold":                        "[present slips@D/3 present slips@*:cold]",
		"it creeps forward in neutral":                      "[present creeps@N/N]",
	} {
		if got := fmt.Sprint(names(matcher(t).Match(said))); got != want {
			t.Errorf("%q: %s, want %s", said, got, want)
		}
	}
}

// What has nothing to do with a transmission proposes nothing.
func TestNothing(t *testing.T) {
	m := matcher(t)
	for _, said := range []string{"", "hello", "the radio is broken", "please call me before noon", "....", "the seat heating squeaks"} {
		if got := m.Match(said); len(got) > 0 {
			t.Errorf("%q: %v", said, names(got))
		}
	}
}

// Every phrase of the rules proposes its own finding.
func TestEveryPhrase(t *testing.T) {
	k, diags := rules.Load(rules.Options{Layers: []rules.Layer{{Name: "knowledge", FS: os.DirFS("../../knowledge")}}, Unit: "northfork-4"})
	if diag.HasErrors(diags) {
		t.Fatal(diags)
	}
	m := matcher(t)
	missed, all := 0, 0
	for _, f := range k.Findings {
		for _, phrase := range f.Phrases {
			all++
			found := false
			for _, p := range m.Match(phrase) {
				name := engine.ParseFindingName(p.Finding).Name
				found = found || name == f.Name || f.Per == engine.PerRowGear
			}
			if !found {
				missed++
				t.Logf("%s: %q proposes %v", f.Name, phrase, names(m.Match(phrase)))
			}
		}
	}
	if all < 50 || missed*10 > all {
		t.Errorf("%d of %d phrases do not find their own finding", missed, all)
	}
}

func FuzzMatch(f *testing.F) {
	m := matcher(f)
	for _, s := range sentences {
		f.Add(s.said)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, p := range m.Match(text) {
			if p.Finding == "" {
				t.Error("a proposal without a finding")
			}
		}
	})
}
