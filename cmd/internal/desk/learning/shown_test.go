package learning

import (
	"strings"
	"testing"
)

// JSON of learn holds what the screen shows, and says how much more there is.
func TestLearnShown(t *testing.T) {
	x := Learned{Changes: make([]LearnChange, 25), Kept: make([]LearnKept, 30), Skipped: []LearnSkipped{{Reason: "r", Cases: make([]string, 7)}, {Reason: "s", Cases: []string{"1"}}}}
	for i := range 8 {
		x.Kept[3*i].Rival = "other"
	}
	y := x.Shown()
	if len(y.Changes) != 20 || y.More != 5 || len(y.Kept) != 5 || y.MoreKept != 25 || y.Kept[0].Rival == "" {
		t.Errorf("%d changes and %d, %d kept and %d", len(y.Changes), y.More, len(y.Kept), y.MoreKept)
	}
	if len(y.Skipped[0].Cases) != 5 || y.Skipped[0].More != 2 || y.Skipped[1].More != 0 || len(x.Skipped[0].Cases) != 7 {
		t.Errorf("skipped: %+v", y.Skipped)
	}
}

// A run of learn that hit its limit says so.
func TestLimitOfLearningIsTold(t *testing.T) {
	for _, cut := range []bool{true, false} {
		said := false
		for _, m := range doubts(&Learned{Cases: 50, Cut: cut}) {
			said = said || strings.Contains(m.Summary, "limit")
		}
		if said != cut {
			t.Errorf("cut %v, said %v", cut, said)
		}
	}
}
