package wording

import (
	"errors"
	"fmt"
	"strings"

	"slipcase/engine/network"
	"slipcase/engine/refine"
)

// Kept says why learning leaves a number as it is; rival is the title of what
// it cannot be told from.
func Kept(k refine.Kept, rival string) string {
	switch {
	case k.Why == refine.NoCase:
		return "no case says anything about it"
	case k.Why == refine.TooFew:
		return fmt.Sprintf("%s trials are few against a prior of %s", rounded(k.Trials), rounded(k.Prior))
	case k.Why == refine.Unseen && !k.Path.IsRate():
		return fmt.Sprintf("it was there %s times, but whether this followed was hardly ever observed itself", rounded(k.Trials))
	case k.Why == refine.Unseen:
		return fmt.Sprintf("hardly any of %s trials was observed: they are inferred from other reports", rounded(k.Trials))
	case k.Why == refine.NotIdentifiable:
		return "the cases cannot tell it from: " + rival
	case k.Why == refine.Allowed:
		return "the cases do not rule it out: it lies within the 90% interval"
	case k.Why == refine.OneSided:
		return "almost nothing but what was there was noted, which does not show how often it is"
	case k.Why == refine.Chance:
		return "it lies outside its 90% interval, but among so many numbers some do by chance"
	case k.Silent:
		return "nothing was noted about it, which agrees with it"
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
		return "its id appears twice"
	case refine.Unconfirmed:
		return "not closed as fixed or as a comeback"
	case refine.NothingSeen:
		return "nothing was found or cleared"
	case refine.CameBack:
		return "its repair came back, and the comeback is not closed with what was found"
	case refine.NotLoaded:
		return "its unit " + s.Unit + " is not loaded"
	case refine.Unknown:
		return "it names what the rules do not know: " + Problem(*s.Problem).Summary
	case refine.Impossible:
		return "it is impossible under these rules: what was found contradicts what was reported"
	}
	if errors.Is(s.Err, network.ErrWide) {
		return "its reports tie too many causes together to be worked out"
	}
	return s.Err.Error()
}

// LearnedCounts is how learning came out, in numbers.
type LearnedCounts struct {
	Book, Unit string // where the cases are from; Unit is "" for every unit
	Cases      int    // learned from
	Changes    int    // numbers that move
	Kept       int    // numbers that stay
	Agree      int    // of those, because the cases agree with them
	Applied    bool
}

// Learned says what a builder wants to know first of what was learned.
func Learned(x LearnedCounts) string {
	if x.Cases == 0 {
		where := x.Book
		if x.Unit != "" {
			where += " of unit " + x.Unit
		}
		return "No confirmed case in " + where + ": there is nothing to learn from yet."
	}
	blind := x.Kept - x.Agree
	would, verb := "would move", "stay"
	if x.Applied {
		would = "moved"
	}
	s := Count(x.Cases, "confirmed case", "confirmed cases") + "; "
	switch x.Changes {
	case 0:
		s += "no number " + strings.Replace(would, "moved", "would move", 1)
	default:
		s += Count(x.Changes, "number", "numbers") + " " + would
	}
	switch {
	case x.Kept == 0:
	case x.Agree == 0:
		s += fmt.Sprintf(", the rest %s because the cases cannot tell", verb)
	case blind == 0:
		s += fmt.Sprintf(", the rest %s because the cases agree with them", verb)
	default:
		s += fmt.Sprintf(", %s because the cases agree with %s, the rest because they cannot tell", Count(x.Agree, "stays", "stay"), pronoun(x.Agree))
	}
	return s + "."
}

func pronoun(n int) string {
	if n == 1 {
		return "it"
	}
	return "them"
}

// Unlearned says that the last apply was taken back from so many files.
func Unlearned(files int) string {
	if files == 0 {
		return "The last apply wrote no file: there was nothing to undo."
	}
	return "The last apply is undone, byte for byte."
}

// LearnedBy says how numbers were learned.
func LearnedBy(cases int) string {
	return "expectation-maximization with exact expectations over " + Count(cases, "case", "cases") + ", priors sized by the basis"
}
