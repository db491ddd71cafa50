package casework

import (
	"strings"
	"testing"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/opened"
)

// The unit is not pulled before what needs it in the vehicle was looked at; a
// look that was taken, with or without a find, is not asked for again.
func TestGateBeforePulling(t *testing.T) {
	d := shopDesk(t)
	id := openCase(t, d, "northfork-4")
	pull := func(anyway bool) []string {
		t.Helper()
		_, err := d.Done(t.Context(), opened.Ref{}, DoneInput{Steps: []string{"pull_unit"}, Anyway: anyway})
		if err == nil {
			return nil
		}
		f := answer.AsFailure(err)
		if f.Code != answer.Conflict {
			t.Fatal(err)
		}
		var out []string
		for _, m := range f.Messages[:len(f.Messages)-1] {
			out = append(out, m.Summary)
		}
		return out
	}
	missing := strings.Join(pull(false), "\n")
	for _, x := range []string{"level", "codes of all modules", "flexplate", "adaptations", "cooler flow"} {
		if !strings.Contains(missing, x) {
			t.Errorf("%s is not asked for: %s", x, missing)
		}
	}
	if n := len(standing(t, d, id).Done); n != 0 {
		t.Fatalf("%d steps were written", n)
	}
	note := func(by string, words ...string) {
		t.Helper()
		if _, err := d.Note(t.Context(), opened.Ref{}, NoteInput{Items: items(words...), By: by}); err != nil {
			t.Fatal(err)
		}
	}
	note("eye", "fluid_low=no", "flexplate_crack_seen=no")
	note("scan_tool", "P0741", "adaptations_reset=no")
	if left := pull(false); len(left) != 1 || !strings.Contains(left[0], "cooler flow") {
		t.Errorf("left: %q", left)
	}
	if left := pull(true); left != nil {
		t.Errorf("--anyway is stopped: %q", left)
	}
	if left := pull(false); left != nil {
		t.Errorf("a step that is done is stopped: %q", left)
	}
}
