package wording

import (
	"fmt"
	"math"
	"strings"

	"slipcase/engine"
	"slipcase/engine/advise"
	"slipcase/engine/model"
)

// Stage is a stage of the work in words: "in vehicle".
func Stage(s engine.Stage) string { return Name(string(s)) }

// Near names a report that is weighed approximately, by what it speaks of, its
// value if it is a reading, and its reporter.
func Near(about *model.Node, value, by string) string {
	return fmt.Sprintf("%s (%s)", Piece(model.Piece{About: about, Value: value}), by)
}

// NextMethod says how checks were priced.
func NextMethod(a *advise.Advice) string {
	how := "exactly"
	switch {
	case len(a.Near) > 0 && !a.Whole:
		how = SharedOut(len(a.Near))
	case len(a.Near) > 0:
		how = fmt.Sprintf("exactly, but for the choice of the checks: %s", SharedOut(len(a.Near)))
	case a.Granted > advise.PriceError:
		how = "in fewer digits than usual"
	}
	return fmt.Sprintf("%s; over every answer to the telling findings of each check, each probability with an error of some %.0e at most, estimated; minutes against the best order of the steps left", how, a.Granted)
}

// Next says in one sentence what to do now and what it brings.
func Next(a *advise.Advice) string {
	plan := "Nothing is left to take apart."
	if s := a.NextStep; s != nil {
		plan = fmt.Sprintf("Go on with the plan: %s, %s.", Step(s), Minutes(s.Minutes.Value))
	}
	if len(a.Checks) == 0 {
		return "No open check can tell anything more. " + plan
	}
	c := &a.Checks[0]
	title := Title(c.Check.Title, c.Check.Name)
	if !c.Worth {
		return fmt.Sprintf("No open check is worth its minutes: the best, %s, takes %s and saves about %s. %s", title, Minutes(c.Minutes), Minutes(c.Saves), plan)
	}
	s := "Next: "
	switch {
	case c.Urgent && c.Before != nil:
		s = fmt.Sprintf("Before the next step (%s): ", Step(c.Before))
	case c.Check.Stage == engine.StageInterview:
		s = "Next, ask the driver: "
	}
	s += fmt.Sprintf("%s, %s; it ", title, Minutes(c.Minutes))
	var parts []string
	apart := advise.Apart(c.Separates)
	switch {
	case c.SettlesCauses > 0.5*c.Saves:
		parts = append(parts, "settles a root cause that would bring the job back")
	case len(apart) == 2:
		parts = append(parts, fmt.Sprintf("separates %s from %s", Component(apart[0]), Component(apart[1])))
	case len(apart) == 1:
		parts = append(parts, "shows whether it is "+Component(apart[0]))
	}
	if saves := math.Round(c.Saves); saves >= 1 {
		parts = append(parts, "saves about "+Minutes(saves))
	} else {
		parts = append(parts, fmt.Sprintf("tells %.2f bit about the suspects", c.Bits))
	}
	return s + strings.Join(parts, " and ") + "."
}
