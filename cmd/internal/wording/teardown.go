package wording

import (
	"fmt"
	"strings"

	"slipcase/engine"
	"slipcase/engine/teardown"
	"slipcase/engine/teardown/order"
)

// Decision says whether to pull the unit now, and why.
func Decision(d teardown.Decision) string { return Capital(decision(d)) }

// decision is Decision without a capital, since it may follow a word.
func decision(d teardown.Decision) string {
	switch {
	case d.Pull == nil:
		return "no step of this unit takes it out of the vehicle."
	case d.Pulled:
		return "the unit is out."
	case d.Enough:
		var found []string
		for _, f := range d.Found {
			found = append(found, Component(f.Component))
		}
		return fmt.Sprintf("do not pull it: repair the %s where it is and test it, about %.0f minutes with refit; %s chance that another fault is needed to explain the reports.",
			List(found), d.Repair, Percent(d.Another))
	case d.Mended != nil:
		return fmt.Sprintf("the complaint is gone after this repair: %s. Enter the part that it fixed as found, settle why it failed, and close the case.", Title(d.Mended.Title, d.Mended.Name))
	case d.Unlikely:
		return fmt.Sprintf("do not pull it: %s that no known fault is behind what was reported. Verify the complaint first: with the driver, on the road, cold and hot.", Percent(1-d.Some))
	case len(d.Instead) == 0:
		return fmt.Sprintf("pull it: nothing reported points to a part that the vehicle shows; about %.0f minutes until the repair is done.", d.PullNow)
	}
	only := Percent(d.OnlyBench)
	costs := fmt.Sprintf("pulling now, the repair is done in about %.0f minutes; with %s first, in about %.0f", d.PullNow, looks(d.Instead), d.InVehicle)
	if !d.Justified {
		return fmt.Sprintf("do not pull it yet: %s; %s chance that something failed that only shows on the bench.", costs, only)
	}
	after := ""
	if len(d.Looks) > 0 {
		after = fmt.Sprintf(" after %s (%.0f minutes)", looks(d.Looks), d.LookTime)
	}
	return fmt.Sprintf("pull it%s: %s chance that something failed that only shows on the bench; %s.", after, only, costs)
}

// looks names one or two steps, or counts them.
func looks(steps []*engine.Step) string {
	if len(steps) > 2 {
		return fmt.Sprintf("%d looks in the vehicle", len(steps))
	}
	var out []string
	for _, s := range steps {
		out = append(out, Step(s))
	}
	return strings.Join(out, " and ")
}

// Unsettled warns, before a build and on closing, while it is not settled why
// something failed; "" when it is.
func Unsettled(found []teardown.Confirmed) string {
	var open []string
	for _, f := range teardown.Unsettled(found) {
		open = append(open, Component(f.Component)+" ("+Mode(f.Mode)+")")
	}
	if len(open) == 0 {
		return ""
	}
	return "It is not settled why this failed: " + List(open) + ". A build now may come back for the same reason: settle one of the open causes first."
}

// Related says why a part is to be looked at as well.
func Related(r teardown.Related) string {
	from := Component(r.From)
	switch r.Relation {
	case teardown.SharesOil:
		return "shares oil or an element with the " + from
	case teardown.Debris:
		if r.Clean != "" {
			return "debris from the " + from + " went through it: " + r.Clean
		}
		return "what the " + from + " shed ends up there: " + Node(r.Sign)
	case teardown.CausedBy:
		return "the " + from + " can cause it: " + Mode(r.Mode)
	}
	return ""
}

// Ordering says how the order of steps was found.
func Ordering(m order.Method) string {
	var parts []string
	if m.Trees > 0 {
		parts = append(parts, fmt.Sprintf("Horn's rule on %s", Count(m.Trees, "job", "jobs")))
	}
	if m.Reversed > 0 {
		parts = append(parts, fmt.Sprintf("Horn's rule backwards on %s", Count(m.Reversed, "job", "jobs")))
	}
	if m.General > 0 {
		parts = append(parts, fmt.Sprintf("Sidney decomposition of %s into %s, largest %d",
			Count(m.General, "job", "jobs"), Count(m.Modules, "module", "modules"), m.Largest))
	}
	if m.Ideals > 0 {
		parts = append(parts, fmt.Sprintf("dynamic programming over %s", Count(m.Ideals, "ideal", "ideals")))
	}
	if m.Searched > 0 {
		text := fmt.Sprintf("local search on %s", Count(m.Searched, "job", "jobs"))
		if m.Proven {
			text += ", proven best by its bound"
		}
		parts = append(parts, text)
	}
	if len(parts) == 0 {
		return "nothing to order"
	}
	return strings.Join(parts, "; ")
}
