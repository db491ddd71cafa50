package fault

import (
	"testing"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
	"slipcase/engine/network"
)

// What is past the work bound is told as such; a failure that says more of it keeps
// its words.
func TestUnderKeepsWhatIsSaid(t *testing.T) {
	k := &engine.Knowledge{Hash: "h"}
	own := Fail(answer.TooWide, wording.TooWideToLearn()).Because(network.ErrWide)
	for want, err := range map[string]error{wording.TooWide().What: network.ErrWide, wording.TooWideToLearn().What: own} {
		if f := Under(k, err); f.Code != answer.TooWide || f.Rules != "h" || f.Messages[0].Summary != want {
			t.Errorf("%v: %s, %+v, want %q", err, f.Code, f.Messages, want)
		}
	}
}
