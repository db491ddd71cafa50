package trial

import (
	"math"
	"testing"
)

// TestPool: trials of two units together are told as if their vehicles were of
// one, and each vehicle counts once.
func TestPool(t *testing.T) {
	one := &Report{said: [][][]Said{nil, {{{0.8, true}}, {{0.8, false}, {0.2, false}}}}}
	other := &Report{said: [][][]Said{{{{0.3, true}}}, {{{0.8, true}}, {{0.8, true}}}}}
	leader, shown := Pool(1, one, other, &Report{})
	// Of four leaders at 80% three are right; of five suspects at 80 and 20% one more is not.
	if leader.Said != 4 || math.Abs(leader.Error-0.05) > 1e-12 {
		t.Errorf("leaders: %d, off by %v; want 4, 0.05", leader.Said, leader.Error)
	}
	if shown.Said != 5 || math.Abs(shown.Error-(4*0.05+0.2)/5) > 1e-12 {
		t.Errorf("shown: %d, off by %v; want 5, 0.08", shown.Said, shown.Error)
	}
}
