package cli

import (
	"strings"
	"testing"

	"slipcase/cmd/internal/desk"
)

func TestParseReply(t *testing.T) {
	many := &desk.Question{Options: []desk.Reply{{Finding: "slips@D/3"}, {Finding: "slips@D/4"}, {Finding: "flare@D/3"}, {Finding: "whine"}}}
	one := &desk.Question{Single: true, Options: []desk.Reply{{Finding: "clunk"}}}
	for _, tc := range []struct {
		q    *desk.Question
		line string
		want string // present | unknown, or what the error says
	}{
		{many, "1", "slips@D/3|"},
		{many, "1 2", "slips@D/3 slips@D/4|"},
		{many, "2,1;4", "slips@D/4 slips@D/3 whine|"},
		{many, "1 1", "slips@D/3|"},
		{many, "1 ?2", "slips@D/3|slips@D/4"},
		{many, "d/4", "slips@D/4|"},
		{many, "?D/4", "|slips@D/4"},
		{many, "D/3", "error stands for 2"},
		{many, "none", "|"},
		{many, "NO", "|"},
		{many, "all", "slips@D/3 slips@D/4 flare@D/3 whine|"},
		{many, "0", "|"},
		{many, "5", "error no number 5"},
		{many, "-1", "error no number -1"},
		{many, "1 ?1", "error contradict"},
		{many, "maybe", "error none of them"},
		{many, "", "error numbers of what is so"},
		{many, " , ", "error numbers of what is so"},
		{one, "yes", "clunk|"},
		{one, "Y", "clunk|"},
		{one, "1", "clunk|"},
		{one, "no", "|"},
		{one, "2", "error yes, no"},
		{one, "", "error yes, no"},
	} {
		r, err := parseReply(tc.q, tc.line)
		got := strings.Join(r.present, " ") + "|" + strings.Join(r.unknown, " ")
		if want, bad := strings.CutPrefix(tc.want, "error "); bad {
			if err == nil || !strings.Contains(err.Error(), want) || got != "|" {
				t.Errorf("%q: got %s, %v, want an error with %q", tc.line, got, err, want)
			}
			continue
		}
		if err != nil || got != tc.want {
			t.Errorf("%q: got %s, %v, want %s", tc.line, got, err, tc.want)
		}
	}
}
