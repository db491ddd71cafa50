package wording

import (
	"fmt"
	"regexp"
	"strings"

	"slipcase/engine"
	"slipcase/engine/quantity"
)

// Earlier is a job whose repair came back.
type Earlier struct {
	ID, Title     string
	Status        engine.CaseStatus
	Day           string   // on which it was closed, "" when not known
	Found, Causes []string // titles
	Note          string   // of its closing
}

// EarlierJob says what an earlier job came to, a sentence each.
func EarlierJob(e Earlier) []string {
	head := fmt.Sprintf("Comeback of case %s, %s: %s", e.ID, strings.TrimSuffix(e.Title, "."), Status(e.Status))
	if e.Day != "" {
		head += " on " + e.Day
	}
	out := []string{head + "."}
	if len(e.Found) > 0 {
		out = append(out, "Found and repaired then: "+strings.Join(e.Found, "; ")+".")
	} else {
		out = append(out, "No failed part was found then.")
	}
	if len(e.Causes) > 0 {
		out = append(out, "Root cause then: "+strings.Join(e.Causes, "; ")+".")
	} else if len(e.Found) > 0 {
		out = append(out, "Why it failed was not settled then.")
	}
	if e.Note != "" {
		out = append(out, "Noted then: "+strings.TrimSuffix(e.Note, ".")+".")
	}
	return append(out, "That verdict is open again: check what was replaced, and why it failed.")
}

var miles = regexp.MustCompile(`(?i)[\s,;(]*(?:\b(?:with|at|about)\s+)?\b\d[\d,. ]*\s*(?:k\s*)?(?:miles|mile|mi)\b\)?`)

// WithoutMiles is a text such as "gray van, 138000 miles" without its mileage.
func WithoutMiles(text string) string {
	return strings.Trim(miles.ReplaceAllString(text, ""), " ,;")
}

// CameBack is the title of a comeback where none is given.
func CameBack(title string) string { return "Came back: " + title }

// EarlierUnit: a comeback is opened as another unit than the earlier job.
func EarlierUnit(id, unit, asked string) Fault {
	return Fault{What: fmt.Sprintf("case %s is for unit %s, not %s", id, unit, asked), Help: "a comeback is for the same unit as the earlier job"}
}

// NoEarlier: it is not said of which case a case is the comeback.
func NoEarlier() Fault { return Fault{What: "no earlier repair is named that came back"} }

// ReadTheCodes says what the code of the engine's computer means that asks for
// the lamp.
const ReadTheCodes = "P0700 only says that the transmission computer has stored codes of its own: read them with a scan tool that covers the transmission"

// NotPossible: a reading is none that a gauge could show.
func NotPossible(name, value string, why quantity.Impossible) Fault {
	return Fault{What: fmt.Sprintf("%s: %s cannot be right: %s", name, value, Impossible(why)), Help: "read it again, and check the unit of measure"}
}
