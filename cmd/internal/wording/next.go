package wording

import (
	"fmt"
	"math"
	"strings"

	"slipcase/engine"
	"slipcase/engine/advise"
	"slipcase/engine/model"
	"slipcase/engine/teardown"
)

// Stage is a stage of the work in words: "in vehicle".
func Stage(s engine.Stage) string { return Name(string(s)) }

// Stages are stages as they are entered.
func Stages(list []engine.Stage) []string {
	var out []string
	for _, s := range list {
		out = append(out, string(s))
	}
	return out
}

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

// FirstCheck is the check that comes before the next step, nil for none.
func FirstCheck(a *advise.Advice) *advise.Priced {
	if a == nil || len(a.Checks) == 0 || !a.Checks[0].Worth {
		return nil
	}
	return &a.Checks[0]
}

// begins is how the sentence about a check begins, with word for any other.
func begins(c *advise.Priced, word string) string {
	switch {
	case c.Urgent && c.Before != nil:
		return fmt.Sprintf("Before the next step (%s): ", Step(c.Before))
	case c.Check.Stage == engine.StageInterview:
		return word + " ask the driver: "
	}
	return strings.TrimSuffix(word, ",") + ": "
}

// Next says in one sentence what to do now and what it brings.
func Next(a *advise.Advice, p *teardown.Plan) string {
	if p.Pull.Mended != nil {
		return Decision(p.Pull)
	}
	c := FirstCheck(a)
	if c == nil {
		plan := Plan(p, nil)
		if len(a.Checks) == 0 {
			return "No open check could tell anything more. " + plan
		}
		c = &a.Checks[0]
		return fmt.Sprintf("No open check is worth its minutes: the best, %s, takes %s and saves about %s. %s", Title(c.Check.Title, c.Check.Name), Minutes(c.Minutes), Minutes(c.Saves), plan)
	}
	s := begins(c, "Next,") + fmt.Sprintf("%s, %s; it ", Title(c.Check.Title, c.Check.Name), Minutes(c.Minutes))
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
		parts = append(parts, "saves no minutes, but narrows down the suspects")
	}
	return s + strings.Join(parts, " and ") + "."
}
