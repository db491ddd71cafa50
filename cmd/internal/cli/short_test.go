package cli

import (
	"strings"
	"testing"

	"slipcase/internal/size"
)

// The first screens of suspects, plan and why fit a terminal of 24 lines and 80
// columns, and speak of no figure of the method.
func TestFirstScreens(t *testing.T) {
	t.Parallel()
	for i, args := range []string{
		"suspects --demo slip-one-gear", "suspects --demo harsh-shift", "suspects --demo two-faults", "suspects --demo not-the-transmission",
		"plan --demo slip-one-gear", "plan --demo third-and-reverse", "plan --demo not-the-transmission", "plan --demo two-faults", "plan --demo burnt-clutch-cause-elsewhere",
		"why overdrive_servo --demo slip-one-gear", "why front_clutch_plates --demo third-and-reverse",
	} {
		if i%2 == 1 && size.Of(true, false, false) {
			continue // every other one
		}
		t.Run(args, func(t *testing.T) {
			t.Parallel()
			out, errs, code := run(t, false, map[string]string{"SLIPCASE_HOME": t.TempDir()}, strings.Fields(args)...)
			if code != 0 {
				t.Fatal(errs)
			}
			if n := strings.Count(out, "\n"); n > 24 {
				t.Errorf("%d lines:\n%s", n, out)
			}
			for _, w := range []string{"decibans", "noisy-OR", "variables", "relative error", "bits"} {
				if strings.Contains(out, w) {
					t.Errorf("says %q", w)
				}
			}
			if !strings.Contains(out, "A probability is not a verdict.") {
				t.Error("does not say that it is no verdict")
			}
		})
	}
}
