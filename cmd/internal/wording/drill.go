package wording

import (
	"fmt"
	"strings"

	"slipcase/engine"
	"slipcase/engine/drill"
)

// DrillAnswer words what somebody says of a finding of a drill's vehicle.
func DrillAnswer(a drill.Answer) string {
	by, title := Name(a.By), a.Finding
	if a.About != nil {
		title = Node(a.About)
	}
	if a.State == engine.Absent {
		return fmt.Sprintf("no: %s (%s)", title, by)
	}
	return fmt.Sprintf("YES: %s (%s)", title, by)
}

// DrillSight words a part that came into view.
func DrillSight(s drill.Sight) string {
	if len(s.Modes) == 0 {
		return s.Title + ": good"
	}
	text := s.Title + ": " + strings.ToUpper(strings.Join(s.Modes, "; "))
	if !s.Culprit {
		text += " (not behind this complaint)"
	}
	return text
}

// drillLevels say what is to be found.
var drillLevels = map[string]string{
	"one":     "One part has failed. Get it into view.",
	"cause":   "A part has failed, and something made it fail. Get the part into view and name the root cause.",
	"two":     "Two parts have failed. Get both into view.",
	"outside": "Find out what is wrong, wherever it is.",
}

// DrillTask says what is to be found at a level.
func DrillTask(level string) string { return drillLevels[level] }
