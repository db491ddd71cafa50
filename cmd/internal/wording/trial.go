package wording

import (
	"fmt"

	"slipcase/engine/trial"
)

// trialWays are the ways of a trial in words, and what each is.
var trialWays = map[trial.Way]struct{ Title, What string }{
	trial.Advised:     {"as advised", "the checks that slipcase proposes, and its order of suspects"},
	trial.Fixed:       {"fixed list", "the checks of the rule files one after the other, stage by stage; the same ranking"},
	trial.PaperChart:  {"paper chart", "elements applied where it is bad, less where it is good; knows elements only"},
	trial.Independent: {"independent signs", "one fault, each sign on its own (naive Bayes)"},
	trial.Matches:     {"matching symptoms", "the part that can bring about most of what was found present"},
	trial.NoPhysics:   {"no gear train", "without the links that the gear train makes"},
	trial.AtTheWord:   {"taken at their word", "every report counts as certain (one in a thousand wrong)"},
	trial.NoCauses:    {"no root causes", "faults are as frequent as before, but independent of each other"},
	trial.SingleOnly:  {"one fault only", "exactly one fault; its signs depend on each other as in the rules"},
}

// trialMeasures say what counts as right.
var trialMeasures = map[trial.Measure]string{
	trial.Caused:  "The part that really caused the complaint",
	trial.Failed:  "A part that has failed, whether it caused the complaint or not",
	trial.Element: "Its clutch, band or brake (the part itself where it serves none)",
	trial.Step:    "The teardown step that shows it",
}

// TrialMoment is when the suspects were looked at: "20 min" or "all".
func TrialMoment(minutes float64, everything bool) string {
	if everything {
		return "all"
	}
	return fmt.Sprintf("%.0f min", minutes)
}

// TrialWay is a way by its name: its title, and what it is.
func TrialWay(name string) (title, what string) {
	x := trialWays[trial.Way(name)]
	return x.Title, x.What
}

// TrialMeasure is what counts as right, by the name of the measure.
func TrialMeasure(name string) string { return trialMeasures[trial.Measure(name)] }

// TrialWayNames are the names of all ways, in their order.
func TrialWayNames() []string {
	var out []string
	for _, w := range trial.Ways {
		out = append(out, string(w))
	}
	return out
}

// TrialMethod is how the vehicles of a trial are drawn; perturb is the factor by
// which every number is off at most, 1 for none.
func TrialMethod(cases int, seed uint64, perturb float64, units int) string {
	method := fmt.Sprintf("%d simulated vehicles with a complaint, each drawn once, seed %d, drawn from the rules themselves", cases, seed)
	if perturb > 1 {
		method += fmt.Sprintf(" with every number off by a factor of up to %g", perturb)
	}
	if units > 1 {
		method += ", as many of each unit"
	}
	return method
}
