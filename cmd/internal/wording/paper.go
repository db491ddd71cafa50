package wording

import (
	"fmt"

	"slipcase/engine"
	"slipcase/engine/geartrain"
	"slipcase/engine/model"
	"slipcase/engine/quantity"
)

// What stands on a job sheet beside what other answers say.

// InViewAfter is where a suspect is seen, and after how many minutes.
func InViewAfter(step string, minutes float64) string {
	return fmt.Sprintf("%s, in view after %s", step, Minutes(minutes))
}

// SeenOf is a part that was looked at: "pump: looked at and good".
func SeenOf(m *model.Model, s engine.Seen) string {
	if s.Cleared {
		return ComponentOf(m, s.Component) + ": looked at and good"
	}
	return SuspectOf(m, s.Component, s.Mode) + ": found"
}

// DoneOf is a step that was ticked off.
func DoneOf(m *model.Model, step string) string { return "done: " + StepOf(m, step) }

// Weighed is a report with its weight in decibans.
func Weighed(title string, s engine.State, by string, decibans float64) string {
	return fmt.Sprintf("%s: %s%s (%s)", title, State(s), Says(by), Weight(decibans))
}

// RowNormal and RowAtWorst are titles of drawings of a row.
func RowNormal(row string) string { return row + ", normal" }

// RowAtWorst is the same row with a fault.
func RowAtWorst(row string) string { return row + " with the fault at its worst" }

// ShowsInRow says why a row is drawn: the suspect of a place shows there.
func ShowsInRow(place int, suspect, how string) string {
	return fmt.Sprintf("Suspect %d, %s, shows in this row: %s.", place, suspect, how)
}

// LinkFault is a fault of an element or joint, behind its name.
func LinkFault(k geartrain.FaultKind) string {
	return map[geartrain.FaultKind]string{
		geartrain.Dead: "dead", geartrain.StaysOn: "stuck on", geartrain.Slips: "slipping both ways", geartrain.Seized: "seized",
		geartrain.Reversed: "installed backward", geartrain.Broken: "broken",
	}[k]
}

// PressureIn is line pressure in a range, at idle or under load.
func PressureIn(state, rng string) string { return "line pressure, " + state + ", " + rng }

// AsWritten are limits as their unit's file writes them, "" where there are none.
func AsWritten(low, high *quantity.Quantity) string {
	switch {
	case low != nil && high != nil:
		return low.Text + " to " + high.Text
	case low != nil:
		return "at least " + low.Text
	case high != nil:
		return "at most " + high.Text
	}
	return ""
}

// PartAtStep is a part with the step that shows it.
func PartAtStep(part string, step int) string { return fmt.Sprintf("%s (step %d)", part, step) }

// What is to be ordered, and when.
const (
	ThePart   = "the part"
	WhenFound = "found"
	OpenNow   = "open now"
)

// WhenAtStep is when it is needed.
func WhenAtStep(n int) string { return fmt.Sprintf("at step %d", n) }

// FoundFailed is why a part is ordered.
func FoundFailed(m *model.Model, s engine.Seen) string {
	return "found failed: " + SuspectOf(m, s.Component, s.Mode)
}

// SettledAs is how a root cause was settled.
func SettledAs(present bool) string {
	if present {
		return "confirmed"
	}
	return "ruled out"
}

// For the owner of the vehicle, in everyday words.
const (
	OwnerNothingSeen = "Which part it is: no part has been looked at yet. Everything named as likely is worked out from what the vehicle does."
	OwnerSecondFault = "Whether another part has failed as well. Finding one does not end the search."
)

// OwnerSeen is a part that was looked at.
func OwnerSeen(m *model.Model, s engine.Seen) string {
	if s.Cleared {
		return Capital(ComponentOf(m, s.Component)) + ": looked at and good."
	}
	return Capital(SuspectOf(m, s.Component, s.Mode)) + ". This part has failed."
}

// OwnerLikely is a suspect; mode is how it most likely failed, "" for none.
func OwnerLikely(title, mode string, p float64, outside bool) string {
	text := fmt.Sprintf("%s: %s", Capital(title), Chance(p))
	if mode != "" {
		text += fmt.Sprintf(" (%s)", mode)
	}
	if outside {
		text += "; this is outside the transmission"
	}
	return text + "."
}

// OwnerUnexplained is the probability that the rules know no cause.
func OwnerUnexplained(p float64) string {
	return fmt.Sprintf("Whether it is something that our rules do not know: %s (%s).", Chance(p), Percent(p))
}

// OwnerCauses are root causes to settle.
func OwnerCauses(open []string) string {
	return "What brought it about. To be settled before the repair, or it may come back: " + List(open) + "."
}

// OwnerMinutes is the work until a failed part is in view.
func OwnerMinutes(minutes float64) string {
	return "Until a failed part is in view we expect about " + Hours(minutes) + " of work, on average."
}
