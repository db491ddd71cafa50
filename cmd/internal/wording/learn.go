package wording

import (
	"fmt"

	"slipcase/engine/refine"
)

// Kept says why learning leaves a number as it is; rival is the title of what
// it cannot be told from.
func Kept(k refine.Kept, rival string) string {
	switch {
	case k.Why == refine.NoCase:
		return "no case speaks of it"
	case k.Why == refine.TooFew:
		return fmt.Sprintf("%s trials weigh little beside a prior of %s", rounded(k.Trials), rounded(k.Prior))
	case k.Why == refine.Unseen:
		return fmt.Sprintf("of %s trials hardly one was seen: they are guessed from other reports", rounded(k.Trials))
	case k.Why == refine.Rivals:
		return "the cases cannot tell it from: " + rival
	case k.Silent:
		return "that nothing was noted of it agrees with it"
	}
	return "the cases agree with it"
}

// rounded prints a count of cases: one digit below ten.
func rounded(x float64) string {
	if x < 10 {
		return fmt.Sprintf("%.1f", x)
	}
	return fmt.Sprintf("%.0f", x)
}

// Skipped says why a case was not learned from.
func Skipped(s refine.Skipped) string {
	switch s.Why {
	case refine.Twice:
		return "its id stands twice"
	case refine.Unconfirmed:
		return "not closed as fixed or as a come-back"
	case refine.NothingSeen:
		return "nothing was found or cleared"
	case refine.NotLoaded:
		return "its unit " + s.Unit + " is not loaded"
	case refine.Unknown:
		return "it names what the rules do not know: " + s.Problem.Summary
	case refine.Impossible:
		return "under these rules it cannot have happened: what was found contradicts what was reported"
	}
	return s.Err.Error()
}
