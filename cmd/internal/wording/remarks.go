package wording

import (
	"fmt"
	"strings"

	"slipcase/engine"
	"slipcase/engine/model"
)

// What is told beside an answer that was given: what an entry replaces, what
// came into view, what goes into a note.

// Already: a report was noted before, as entry seq.
func Already(m *model.Model, r engine.Report) string {
	return fmt.Sprintf("%s: %s%s: noted already, entry %d", FindingOf(m, r.Finding), State(r.State), Says(r.By), r.Seq)
}

// Replaces: a report takes the place of an earlier one of the same reporter.
func Replaces(m *model.Model, earlier engine.Report) string {
	return fmt.Sprintf("%s: replaces what the %s said before, %s (entry %d)", FindingOf(m, earlier.Finding), Name(earlier.By), State(earlier.State), earlier.Seq)
}

// Disagrees: another reporter said otherwise, and both count.
func Disagrees(m *model.Model, other engine.Report) string {
	return fmt.Sprintf("%s: the %s says %s (entry %d); both count, each by how often it is wrong", FindingOf(m, other.Finding), Name(other.By), State(other.State), other.Seq)
}

// ReadAlready and ReplacesReading say the same of readings.
func ReadAlready(m *model.Model, r engine.Reading) string {
	return fmt.Sprintf("%s: noted already, entry %d", ReadingOf(m, r), r.Seq)
}

// ReplacesReading: a reading takes the place of an earlier one.
func ReplacesReading(earlier engine.Reading) string {
	return fmt.Sprintf("%s: replaces %s (entry %d)", At(earlier.Name, earlier.Place), earlier.Value, earlier.Seq)
}

// CodeKept: a code that the rules do not know.
func CodeKept(code string) string {
	return code + ": the rules do not know this code; it is kept as a note"
}

// ScanNote is the note of such a code: as it was listed, status and words "" where
// there were none.
func ScanNote(code, status, words string) string {
	text := "Scan list: " + code
	if status != "" {
		text += ", " + status
	}
	if words != "" {
		text += ": " + words
	}
	return text
}

// DriverSays begins the note of a complaint in the driver's words.
const DriverSays = "The driver says: "

// PhotoOf says what a photo is of.
func PhotoOf(m *model.Model, component string) string { return "photo of " + ComponentOf(m, component) }

// PhotoNote is the note of a photo.
func PhotoNote(m *model.Model, component, file string) string {
	return PhotoOf(m, component) + ": " + file
}

// UndrivenNote is the note of a closing without the whole drive.
func UndrivenNote(note, reason string) string {
	return strings.TrimPrefix(note+"; not driven: "+reason, "; ")
}

// WasCleared and WasFound: what a part's finding replaces, by its entry.
func WasCleared(part string, seq int64) string {
	return fmt.Sprintf("replaces: %s was cleared (entry %d)", part, seq)
}

// WasFound is told as WasCleared is.
func WasFound(suspect string, seq int64) string {
	return fmt.Sprintf("replaces: %s was found already (entry %d)", suspect, seq)
}

// ClearedAlready: a part was cleared before.
func ClearedAlready(m *model.Model, component string, seq int64) string {
	return fmt.Sprintf("%s: cleared already (entry %d)", ComponentOf(m, component), seq)
}

// ReplacesSeen: clearing a part replaces what was found on it.
func ReplacesSeen(m *model.Model, s engine.Seen) string {
	return fmt.Sprintf("replaces: %s (entry %d)", SuspectOf(m, s.Component, s.Mode), s.Seq)
}

// ReplacesSettled: a root cause was settled before; again says in the same way.
func ReplacesSettled(m *model.Model, c engine.SettledCause, again bool) string {
	word := "replaces"
	if again {
		word = "settled already"
	}
	return fmt.Sprintf("%s: %s: %s (entry %d)", CauseOf(m, c.Cause), word, YesNo(c.Present), c.Seq)
}

// ForBuild is what a root cause asks for in the build.
func ForBuild(advice string) string { return "for the build: " + advice }

// Open is a cause that is not settled: its title, name, probability, and what
// settles it.
func Open(title, name string, p float64, by []string) string {
	text := fmt.Sprintf("%s [%s] %s", title, name, Percent(p))
	if len(by) > 0 {
		text += " (settled by: " + strings.Join(by, ", ") + ")"
	}
	return text
}

// Likeliest lists the likeliest of the causes that are not settled.
func Likeliest(causes []string) string { return "likeliest: " + strings.Join(causes, "; ") }

// InCase says which case a remark is about.
func InCase(id, remark string) string { return "case " + id + ", " + remark }

// DoneAlready: a step was ticked off before.
func DoneAlready(s *engine.Step) string {
	return fmt.Sprintf("%s: already checked off", Title(s.Title, s.Name))
}

// NowInView lists parts that came into view.
func NowInView(parts []string) string { return "now in view: " + strings.Join(parts, ", ") }

// Look is what to look for at a step.
func Look(what string) string { return "look: " + what }

// Visible is a part with the step that shows it, and the minutes to it.
func Visible(part, step string, minutes float64) string {
	return fmt.Sprintf("%s will be visible with: %s, %s from here", part, step, Minutes(minutes))
}

// Was is the entry that was taken back.
func Was(seq int64, words string) string { return fmt.Sprintf("entry %d was: %s", seq, words) }

// CameWithOthers: an entry that was taken back came with others.
func CameWithOthers() string { return "it was entered together with others" }

// NothingToAsk ends an interview in which every question was put.
func NothingToAsk() string { return "nothing is left to ask" }

// NotWorthAsking ends an interview: the best question left costs more minutes
// than it saves.
func NotWorthAsking(costs, saves float64) string {
	return fmt.Sprintf("no question is worth the time anymore: the best one left takes %.0f min and saves %.1f", costs, saves)
}

// SameUnit, and OtherUnit: a case has the variant written on it.
func SameUnit(id string) string {
	return fmt.Sprintf("Recorded in case %s. It already uses this chart and these parts, steps and limits.", id)
}

// OtherUnit: it goes on as a case of another unit, with entries and photos.
func OtherUnit(id, as, unit string, entries, photos int) string {
	with := Count(entries, "entry", "entries")
	if photos > 0 {
		with += " and " + Count(photos, "photo", "photos")
	}
	return fmt.Sprintf("Case %s continues as case %s, on unit %s, with %s. %s stays in the casebook, closed.", id, as, unit, with, id)
}

// VariantNote is the note of a settled variant; by is what told it.
func VariantNote(variant string) string { return "It is " + variant }

// GoesOnFrom is added to it in the new case.
func GoesOnFrom(note, id string) string { return note + ". Continues case " + id + "." }

// GoesOnAs closes the old one.
func GoesOnAs(id, unit string) string { return "continues as case " + id + ", on unit " + unit }

// ReadingWord describes a reading for completion.
func ReadingWord(limits string) string { return "measured; limit " + limits }

// StateWord describes what can follow a finding for completion: "present".
func StateWord(s engine.State) string {
	if s == engine.Unknown {
		return State(s)
	}
	return string(s)
}

// CaseWord describes a case for completion.
func CaseWord(s engine.CaseStatus, title string) string { return Status(s) + ": " + title }

// ShopState says whether a shop's folder is there.
func ShopState(there bool) string {
	if there {
		return "overriding the built-in rules"
	}
	return "no such folder: built-in rules only"
}

// What stands for paths of this machine on a page.
const (
	TheCasebook   = "the casebook"
	TheShopsRules = "the shop's rules"
	TheDataFolder = "the data folder"
	AFile         = "a file"
)

// How answers were worked out.
const (
	ChartMethod = "speeds and torques of the gear train, exact in rational numbers"
)

// LearnedFrom is the note of what was learned; worse says that the new numbers
// were written although they foretell worse.
func LearnedFrom(cases int, worse bool) string {
	text := "learned from " + Count(cases, "confirmed case", "confirmed cases")
	if worse {
		text += "; written although they did worse on held-out cases"
	}
	return text
}

// AtStep is where learning is, behind the name of its part.
func AtStep(n int) string { return fmt.Sprintf(", step %d", n) }
