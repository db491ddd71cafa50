package cli

import (
	"strings"
	"testing"

	"slipcase/cmd/internal/desk/talk"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

func TestParseReply(t *testing.T) {
	many := &talk.Question{Ranges: []string{"D", "2", "L"}, Options: []talk.Reply{{Finding: "slips@D/3"}, {Finding: "slips@D/4"}, {Finding: "flare@D/3"}, {Finding: "whine"}}}
	one := &talk.Question{Single: true, Options: []talk.Reply{{Finding: "clunk"}}}
	when := &talk.Question{Options: []talk.Reply{{Finding: "slips@D/3:hot"}}, Choices: []talk.Choice{{Name: "always"}, {Name: "only_hot"}}}
	what := &talk.Question{Several: true, Choices: []talk.Choice{{Name: "slips"}, {Name: "noise"}}}
	miles := &talk.Question{Counts: "miles"}
	for _, tc := range []struct {
		q    *talk.Question
		line string
		want string // +present -absent ?unknown =rest !never *choices #number, or what the error says
	}{
		{many, "1", "+slips@D/3"},
		{many, "1 2", "+slips@D/3 +slips@D/4"},
		{many, "2,1;4", "+slips@D/4 +slips@D/3 +whine"},
		{many, "1 1", "+slips@D/3"},
		{many, "1 ?2", "+slips@D/3 ?slips@D/4"},
		{many, "1 -2", "+slips@D/3 -slips@D/4"},
		{many, "1, rest fine", "+slips@D/3 =absent"},
		{many, "the others are fine", "=absent"},
		{many, "1 ?2 others ok", "+slips@D/3 ?slips@D/4 =absent"},
		{many, "never 2 L", "!2 !L"},
		{many, "1, never l", "+slips@D/3 !L"},
		{many, "1, rest fine, never 2, L", "+slips@D/3 =absent !2 !L"},
		{many, "never 7", "error no range 7"},
		{many, "d/4", "+slips@D/4"},
		{many, "?D/4", "?slips@D/4"},
		{many, "D/3", "error matches 2"},
		{many, "none", "=absent"},
		{many, "NO", "=absent"},
		{many, "all", "+slips@D/3 +slips@D/4 +flare@D/3 +whine"},
		{many, "0", "=absent"},
		{many, "5", "error no number 5"},
		{many, "-9", "error no number 9"},
		{many, "1 ?1", "error contradict"},
		{many, "1 -1", "error contradict"},
		{many, "maybe", "error none of them"},
		{many, "", ""},
		{many, " , ", "error numbers of what applies"},
		{one, "yes", "+clunk"},
		{one, "Y", "+clunk"},
		{one, "1", "+clunk"},
		{one, "no", "-clunk"},
		{one, "2", "error yes, no"},
		{one, "", ""},
		{when, "2", "*only_hot"},
		{when, "ALWAYS", "*always"},
		{when, "3", "error none of them"},
		{when, "1 2", "error one number"},
		{when, "", ""},
		{what, "1 2", "*slips *noise"},
		{what, "2, 2", "*noise"},
		{miles, "96k", "#96k"},
		{miles, "", ""},
	} {
		r, err := parseReply(tc.q, tc.line)
		var parts []string
		add := func(mark string, list ...string) {
			for _, x := range list {
				if x != "" {
					parts = append(parts, mark+x)
				}
			}
		}
		add("+", r.said.Present...)
		add("-", r.said.Absent...)
		add("?", r.said.Unknown...)
		add("=", string(r.said.Rest))
		add("!", r.said.NotTried...)
		add("*", r.choices...)
		add("#", r.count)
		got := strings.Join(parts, " ")
		if want, bad := strings.CutPrefix(tc.want, "error "); bad {
			if err == nil || !strings.Contains(err.Error(), want) || got != "" {
				t.Errorf("%q: got %s, %v, want an error with %q", tc.line, got, err, want)
			}
			continue
		}
		if err != nil || got != tc.want {
			t.Errorf("%q: got %s, %v, want %s", tc.line, got, err, tc.want)
		}
		if (got == "") != r.silent() {
			t.Errorf("%q: silent is %v", tc.line, r.silent())
		}
	}
}

// Form and plain lines make the same answer of the same marks, and enter alone
// says nothing in either.
func TestFormAnswersAsLines(t *testing.T) {
	many := &talk.Question{Ranges: []string{"D", "L"}, Options: []talk.Reply{{Finding: "slips@D/3"}, {Finding: "slips@L/1"}}}
	one := &talk.Question{Single: true, Options: []talk.Reply{{Finding: "clunk"}}}
	when := &talk.Question{Choices: []talk.Choice{{Name: "always"}, {Name: "only_hot"}}}
	what := &talk.Question{Several: true, Choices: []talk.Choice{{Name: "slips"}, {Name: "noise"}}}
	miles := &talk.Question{Counts: "miles"}
	for _, tc := range []struct {
		form screenModel
		line string
	}{
		{screenModel{q: many}, ""},
		{screenModel{q: many, picked: []string{"slips@D/3"}}, "1"},
		{screenModel{q: many, picked: []string{"slips@D/3", restMark}}, "1, rest fine"},
		{screenModel{q: many, picked: []string{restMark}}, "none"},
		{screenModel{q: many, picked: []string{"slips@D/3", neverMark + "L"}}, "1, never L"},
		{screenModel{q: many, picked: []string{"slips@D/3"}, not: []string{"slips@L/1"}}, "1, -2"},
		{screenModel{q: one}, ""},
		{screenModel{q: one, one: "yes"}, "yes"},
		{screenModel{q: one, one: "no"}, "no"},
		{screenModel{q: when}, ""},
		{screenModel{q: when, one: "only_hot"}, "2"},
		{screenModel{q: what}, ""},
		{screenModel{q: what, picked: []string{"slips", "noise"}}, "1 2"},
		{screenModel{q: miles}, ""},
		{screenModel{q: miles, words: " 96k"}, "96k"},
	} {
		want, err := parseReply(tc.form.q, tc.line)
		if err != nil {
			t.Fatal(err)
		}
		got, known := tc.form.reply()
		if d := cmp.Diff(want, got, cmp.AllowUnexported(reply{}), cmpopts.EquateEmpty()); d != "" || !known {
			t.Errorf("%q:\n%s", tc.line, d)
		}
	}
}

// What the driver says is said to be kept where it is, and not where it is too
// long for the casebook or nothing is written.
func TestComplaintSaidToBeKept(t *testing.T) {
	home := t.TempDir()
	env := map[string]string{"SLIPCASE_HOME": home}
	if _, errs, code := run(t, false, env, "open", "--unit", "harrow-3", "--title", "Van"); code != 0 {
		t.Fatal(errs)
	}
	for _, tc := range []struct {
		name, words string
		args        []string
		code        int
		kept        bool
	}{
		{"case file", "zzz", []string{"--demo", "no-reverse"}, exitDone, false},
		{"too long", strings.Repeat("z", 70<<10), nil, exitUsage, false},
		{"kept", "zzz", nil, exitDone, true},
	} {
		out, errs, code := runOn(t, false, tc.words+"\nquit\n", env, append([]string{"interview"}, tc.args...)...)
		if said := strings.Contains(out, "kept in the case"); code != tc.code || said != tc.kept || tc.code == exitDone && !strings.Contains(out, "no finding by these words") {
			t.Errorf("%s: exit code %d, said to be kept: %v\n%.300s\n%.300s", tc.name, code, said, out, errs)
		}
		if strings.Contains(errs, "another casebook") {
			t.Errorf("%s: no casebook takes it, but\n%.300s", tc.name, errs)
		}
		history, _, _ := run(t, false, env, "cases", "show")
		if tc.args == nil && strings.Contains(history, "zzz") != tc.kept {
			t.Errorf("%s: the casebook holds\n%.300s", tc.name, history)
		}
	}
}
