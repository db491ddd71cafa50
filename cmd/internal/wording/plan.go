package wording

import (
	"fmt"
	"strings"

	"slipcase/engine/advise"
	"slipcase/engine/teardown"
)

// Plan says what to do now: the check that is worth its minutes, then whether to
// pull, what comes first, and why.
func Plan(p *teardown.Plan, a *advise.Advice) string {
	switch c := FirstCheck(a); {
	case c == nil || p.Pull.Mended != nil:
	case len(p.Steps) == 0:
		return fmt.Sprintf("%s Still worth checking: %s, %s.", Capital(steps(p)), Title(c.Check.Title, c.Check.Name), Minutes(c.Minutes))
	default:
		return fmt.Sprintf("%s%s, %s. Then %s", begins(c, "First"), Title(c.Check.Title, c.Check.Name), Minutes(c.Minutes), steps(p))
	}
	return Capital(steps(p))
}

// steps says in one sentence whether to pull, what comes first, and why: without
// a capital, since it may follow a word.
func steps(p *teardown.Plan) string {
	if len(p.Steps) == 0 {
		return "every step is done: nothing is left to take apart."
	}
	first := &p.Steps[0]
	begin := fmt.Sprintf("%s (%s)", Step(first.Step), Minutes(first.Minutes))
	if first.Looked {
		begin = fmt.Sprintf("%s (checked already: enter found or clear)", Step(first.Step))
	}
	why := reasonFor(p)
	switch {
	case p.Pull.Mended != nil:
		return decision(p.Pull)
	case p.After != nil && len(teardown.Unsettled(p.After.Confirmed)) > 0 && p.Pull.Pulled:
		found := p.After.Confirmed[0]
		title := Component(found.Component)
		return fmt.Sprintf("%s %s found %s: now settle why. Go on with %s%s.", title, verb(title), Mode(found.Mode), begin, why)
	case p.Pull.Pulled:
		return fmt.Sprintf("go on with %s%s.", begin, why)
	case p.Pull.Enough, p.Pull.Unlikely:
		return decision(p.Pull)
	case !p.Pull.Justified:
		return fmt.Sprintf("do not pull it yet: begin with %s%s.", begin, why)
	case len(p.Pull.Looks) > 0:
		return fmt.Sprintf("pull it, but first %s%s.", begin, why)
	}
	return fmt.Sprintf("pull it%s.", why)
}

// verb agrees with the last word of a title.
func verb(title string) string {
	if strings.HasSuffix(title, "s") {
		return "were"
	}
	return "was"
}

// reasonFor names the likeliest part that the steps bring into view, with its
// fault, and when it is in view.
func reasonFor(p *teardown.Plan) string {
	var best *teardown.View
	var at *teardown.Step
	for i := range p.Steps {
		s := &p.Steps[i]
		for j := range s.Views {
			if best == nil || s.Views[j].P > best.P {
				best, at = &s.Views[j], s
			}
		}
	}
	if best == nil || best.P == 0 || len(best.Signs) == 0 {
		return "; nothing reported points to a part that a step shows"
	}
	what := fmt.Sprintf("%s (%s; most likely %s)", Component(best.Component), Percent(best.P), Mode(best.Signs[0].Mode))
	if at == &p.Steps[0] {
		return "; it shows the likeliest culprit: " + what
	}
	return fmt.Sprintf("; the likeliest culprit, %s, is in view after %s", what, Minutes(at.Cumulative))
}
