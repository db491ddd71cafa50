package model_test

import (
	"os"
	"slices"
	"testing"

	"slipcase/engine"
	"slipcase/engine/model"
	"slipcase/rules"
	"slipcase/rules/diag"
)

// "Third is good" denies slip, loss of drive, a wrong gear and noise there and
// a flare into it, and says nothing of engine braking, of other rows or of what
// only a scan tool sees.
func TestGoodRow(t *testing.T) {
	k, diags := rules.Load(rules.Options{Layers: []rules.Layer{{Name: "knowledge", FS: os.DirFS("../../knowledge")}}, Unit: "northfork-4"})
	if diag.HasErrors(diags) {
		t.Fatal(diags)
	}
	m, err := model.Build(k, k.Unit("northfork-4"))
	if err != nil {
		t.Fatal(err)
	}
	got := m.GoodRow("good@D/3", "driver")
	for _, want := range []string{"slips@D/3", "no_drive@D/3", "wrong_gear@D/3", "ties_up@D/3", "whine@D/3", "flare@D/2-3"} {
		if !slices.Contains(got, want) {
			t.Errorf("no %s among %v", want, got)
		}
	}
	for _, not := range []string{"no_engine_braking@D/3", "slips@D/2", "flare@D/3-4", "harsh_shift@D/2-3", "ratio_off@D/3", "stall_high@D/3", "weak_launch@D/3"} {
		if slices.Contains(got, not) {
			t.Errorf("%s is not what a driver denies", not)
		}
	}
	if got := m.Good("D/3", "scan_tool"); !slices.Contains(got, "ratio_off@D/3") {
		t.Errorf("who reads the ratio denies a wrong one: %v", got)
	}
	for _, name := range []string{"good@D/9", "good@", "slips@D/3", ""} {
		if got := m.GoodRow(name, "driver"); len(got) > 0 {
			t.Errorf("%q: %v", name, got)
		}
	}
}

// A case file's "good" is the reports that it stands for, and is refused beside
// a report of something bad in that row by the same person.
func TestGoodInCase(t *testing.T) {
	k, _ := rules.Load(rules.Options{Layers: []rules.Layer{{Name: "knowledge", FS: os.DirFS("../../knowledge")}}, Unit: "northfork-4"})
	m, err := model.Build(k, k.Unit("northfork-4"))
	if err != nil {
		t.Fatal(err)
	}
	read := func(body string) *engine.CaseFile {
		c, diags := rules.LoadCase("a.hcl", []byte("language = 1\ncase \"a\" {\n  unit = \"northfork-4\"\n"+body+"}\n"))
		if diag.HasErrors(append(diags, rules.ResolveCase(k, c)...)) {
			t.Fatal(diags, c)
		}
		return c
	}
	said := read("reports \"driver\" {\n present = [\"slips@D/4\"]\n good = [\"D/3\"]\n}\n")
	spelled := m.Spell(said.Reports)
	if want := 1 + len(m.Good("D/3", "driver")); len(spelled) != want || !slices.Equal(m.Spell(spelled), spelled) {
		t.Fatalf("%d reports, want %d: %v", len(spelled), want, spelled)
	}
	got, diags := m.Evidence(said)
	want, _ := m.Evidence(&engine.CaseFile{Reports: spelled})
	if model.Refused(diags) || len(got) != len(want) || len(got) < 6 {
		t.Fatalf("%d pieces of evidence, spelled out %d: %v", len(got), len(want), diags)
	}
	for i := range got {
		if got[i].Node != want[i].Node || got[i].On != want[i].On || got[i].Off != want[i].Off {
			t.Errorf("piece %d differs: %v, %v", i, got[i], want[i])
		}
	}
	if _, diags := m.Evidence(read("reports \"driver\" {\n present = [\"slips@D/3\"]\n good = [\"D/3\"]\n}\n")); !model.Refused(diags) {
		t.Error("good and slipping at once passes")
	}
	if _, diags := m.Evidence(read("reports \"driver\" {\n good = [\"D/3\"]\n}\nreports \"road_test\" {\n present = [\"slips@D/3\"]\n}\n")); model.Refused(diags) {
		t.Error("two people may differ", diags)
	}
}
