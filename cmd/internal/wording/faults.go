package wording

import (
	"fmt"
	"strings"

	"slipcase/engine"
	"slipcase/engine/model"
	"slipcase/engine/quantity"
)

// Fault is what cannot be done, or what to beware of: a clause that says what
// it is, and one that says what helps, "" where nothing does or a hint says it.
// Each kind has a function of its own here, with what it is about as arguments.
type Fault struct{ What, Help string }

const (
	nothingWritten = "nothing was written"
	nothingNoted   = "nothing was noted"
)

// unknownName is a name that is not among those known: help names the near ones,
// or else all of them.
func unknownName(what, name string, known []string, all string) Fault {
	if near := Nearest(name, known); near != "" {
		return Fault{what, near}
	}
	help := all + " " + strings.Join(known[:min(listed, len(known))], ", ")
	if n := len(known) - listed; n > 0 {
		help += fmt.Sprintf(" and %d more; slipcase list names them", n)
	}
	return Fault{what, help}
}

// listed is how many names an error gives where none is near the one given.
const listed = 12

// NoUnit: there is no unit of a name.
func NoUnit(name string) string { return fmt.Sprintf("there is no unit %q", name) }

// NoUnitNamed: a unit is needed and none is named.
func NoUnitNamed() Fault { return Fault{What: "no unit is given"} }

// NoReporter: there is no reporter of a name.
func NoReporter(name string, known []string) Fault { return noThing("reporter", name, known) }

// NoRootCause: there is no root cause of a name.
func NoRootCause(name string, known []string) Fault { return noThing("root cause", name, known) }

// NoComponent: there is no component of a name.
func NoComponent(name string, known []string) Fault { return noThing("component", name, known) }

// NoListOf: there is no list of names of a kind.
func NoListOf(name string, known []string) Fault { return noThing("list of", name, known) }

func noThing(what, name string, known []string) Fault {
	return unknownName(fmt.Sprintf("there is no %s %q", what, name), name, known, "they are")
}

// NoStage: there is no stage of a name.
func NoStage(name string, known []string) Fault {
	return unknownName(fmt.Sprintf("there is no stage %q", name), name, known, "the stages are")
}

// NoLevel: there is no level of a drill of a name.
func NoLevel(name string, known []string) Fault {
	return Fault{fmt.Sprintf("there is no level %q", name), "the levels are " + strings.Join(known, ", ")}
}

// NoStep: the unit has no step of a name.
func NoStep(unit, name string, known []string) Fault {
	return unknownName(fmt.Sprintf("unit %s has no step %q", unit, name), name, known, "its steps are")
}

// NoRow: the unit has no row of a name.
func NoRow(unit, row string, known []string) Fault {
	return Fault{fmt.Sprintf("unit %s has no row %q", unit, row), "its rows are " + strings.Join(known, ", ")}
}

// NoneToDrive: the unit has no row, shift or engagement of a name.
func NoneToDrive(unit, place string, known []string) Fault {
	return unknownName(fmt.Sprintf("unit %s has no row or shift %q to drive", unit, place), place, known, "it has")
}

// NoLink: the unit has no element or joint of a name that a fault of the chart
// can have; fault is "dead", "on", "seized", "reversed" or "broken".
func NoLink(unit, name, fault string, known []string) Fault {
	what := fmt.Sprintf("unit %s has no %q that can be %s", unit, name, strings.ReplaceAll(fault, "on", "stuck on"))
	if fault == "broken" {
		what = fmt.Sprintf("unit %s has no joint %q", unit, name)
	}
	if near := Nearest(name, known); near != "" {
		return Fault{what, near}
	}
	if len(known) == 0 {
		return Fault{what, "it has none"}
	}
	return Fault{what, "it has " + strings.Join(known, ", ")}
}

// FaultNotShown: a fault that the chart cannot show.
func FaultNotShown(err error) Fault {
	return Fault{err.Error(), "leave it out; the chart shows it as it is"}
}

// NoSuspect: no component of the unit that a rule can blame has the name.
func NoSuspect(unit, name string) string {
	return fmt.Sprintf("unit %s has no component %q that a rule can blame", unit, name)
}

// NoMode: a component has no way to fail of a name.
func NoMode(component, mode string, known []string) Fault {
	return Fault{fmt.Sprintf("%s cannot fail as %q", component, mode), "it can fail as " + strings.Join(known, ", ")}
}

// NoVariants: a unit that no family of the rules tells apart.
func NoVariants(unit string, known []string) Fault {
	return Fault{fmt.Sprintf("%s has no variants that the rules tell apart", unit), "a family block in the shop's rules lists them; there are: " + List(known)}
}

// NoFeature: a family has no feature of a name.
func NoFeature(family, name string, known []string) Fault {
	help := Nearest(name, known)
	if help == "" {
		help = "they are told apart by " + List(known)
	}
	return Fault{fmt.Sprintf("%s has no feature %q", family, name), help}
}

// FeatureNotRead: what was given for a feature cannot be read.
func FeatureNotRead(f *engine.Feature, name, text, why string) Fault {
	return Fault{fmt.Sprintf("%s=%s: %s", name, text, why), "it takes " + FeatureHow(f)}
}

// WrongMeasure, NotYesNo, NotYear and NotText say why a feature cannot be read.
func WrongMeasure(is, want quantity.Dimension) string {
	return fmt.Sprintf("it is a %s, not a %s", is, want)
}

// NotYesNo is told as WrongMeasure is.
func NotYesNo() string { return "answer yes or no" }

// NotYear is told as WrongMeasure is.
func NotYear() string { return "it is not a model year" }

// NotText is told as WrongMeasure is.
func NotText() string { return "there is no text" }

// VariantOpen: the variant is to be written and is not settled.
func VariantOpen(verdict string) Fault {
	return Fault{"the variant is not settled yet; " + nothingWritten, verdict}
}

// NotOfFamily: the case is of a unit that is no variant of a family.
func NotOfFamily(id, unit, family string) Fault {
	return Fault{fmt.Sprintf("case %s is a %s, which is not a variant of %s", id, unit, family), nothingWritten}
}

// NoCaseIn: there is no case of an id in a casebook.
func NoCaseIn(id, book string) Fault {
	return Fault{What: fmt.Sprintf("there is no case %s in %s", id, book)}
}

// NoneOpen: no case of a casebook is open.
func NoneOpen(book string) Fault { return Fault{What: "no case is open in " + book} }

// WhichCase: several cases are open and none is named.
func WhichCase(open int, book string) Fault {
	return Fault{What: fmt.Sprintf("which case? %d are open in %s", open, book)}
}

// CaseClosed: a closed case is not written to.
func CaseClosed(id string, how engine.CaseStatus) Fault {
	return Fault{What: fmt.Sprintf("case %s is closed as %s; %s", id, Status(how), nothingWritten)}
}

// CaseNotUnderstood: the entries of a case make no case.
func CaseNotUnderstood(err error) Fault {
	return Fault{err.Error(), "this program cannot make sense of the case"}
}

// NoCasebook: there is no casebook yet.
func NoCasebook(book string) Fault { return Fault{What: "there is no casebook yet at " + book} }

// BookFolderNotMade and BookFolderNotReached: the folder of the casebook.
func BookFolderNotMade(book string, err error) error {
	return fmt.Errorf("the folder for the casebook %s cannot be made: %w", book, err)
}

// BookFolderNotReached is told as BookFolderNotMade is.
func BookFolderNotReached(book string, err error) error {
	return fmt.Errorf("the folder of the casebook %s cannot be reached: %w", book, err)
}

// BookHelp is what helps when a casebook cannot be used; is is the sentinel
// error that says why.
func BookHelp(is error) string {
	return map[error]string{
		engine.ErrReadOnly:  "make the folder writable",
		engine.ErrNewer:     "nothing was touched",
		engine.ErrBusy:      "writes are brief: another bench is importing, or another program holds the file",
		engine.ErrUncertain: "look at the case before you enter it again",
		engine.ErrFull:      "the case is as it was",
		engine.ErrDamaged:   "do not delete anything",
	}[is]
}

// CurrentNotKept: which case is worked on cannot be recorded.
func CurrentNotKept(err error) Fault {
	return Fault{What: "could not record the current case: " + err.Error()}
}

// WindowStays: the window works on another case than the one just opened.
func WindowStays(id string) Fault {
	return Fault{What: fmt.Sprintf("case %s is still the current case here", id)}
}

// RulesChanged: today's rules are not those that a case was opened under.
func RulesChanged(id, now, then string) Fault {
	return Fault{fmt.Sprintf("the rules have changed since case %s was opened", id), fmt.Sprintf("worked out with today's rules (%s; then %s)", now, then)}
}

// OnlyWritten: a complaint of which nothing is noted as a report.
func OnlyWritten(words string) Fault {
	return Fault{"the complaint is only written down, so that nothing of it counts yet", "\"" + words + "\""}
}

// EntryLeftOut: today's rules do not know what an entry says.
func EntryLeftOut(seq int64, why string) string {
	return fmt.Sprintf("entry %d is left out: %s", seq, why)
}

// MoreLeftOut: entries left out beside those told.
func MoreLeftOut(n int) Fault {
	return Fault{fmt.Sprintf("%s more left out", Count(n, "entry", "entries")), "the rules have changed since these cases were worked"}
}

// RulesKnowNone: today's rules have no thing of a name; what is "finding",
// "component" and so on.
func RulesKnowNone(what, name string, known []string) Fault {
	return Fault{fmt.Sprintf("today's rules have no %s %q", what, name), Nearest(name, known)}
}

// NoTitles: without rules things go by their names.
func NoTitles(err error) Fault {
	return Fault{What: fmt.Sprintf("names are shown instead of titles: %v", err)}
}

// NoEntry: a case has no entry of a number.
func NoEntry(id string, seq int64, entries int) Fault {
	return Fault{fmt.Sprintf("case %s has no entry %d", id, seq), fmt.Sprintf("its entries are 1 to %d", entries)}
}

// NothingToUndo: nothing of a case can be taken back.
func NothingToUndo(id string) Fault {
	return Fault{What: fmt.Sprintf("there is nothing to undo in case %s", id)}
}

// UndoneAlready: an entry was taken back before.
func UndoneAlready(seq, by int64) Fault {
	return Fault{What: fmt.Sprintf("entry %d is already undone, by entry %d", seq, by)}
}

// NothingWritten: one thing is wrong, so that none was written.
func NothingWritten() Fault { return Fault{nothingWritten, "fix it and repeat the command"} }

// NothingWrittenYet: looks are missing.
func NothingWrittenYet() Fault { return Fault{What: nothingWritten} }

// NothingNoted: failed of n items cannot be noted.
func NothingNoted(failed, n int) Fault {
	if failed > 0 && n > 1 {
		return Fault{What: fmt.Sprintf("%s: %d of %d items cannot be noted", nothingNoted, failed, n)}
	}
	return Fault{What: nothingNoted}
}

// NothingToNote: nothing was given.
func NothingToNote() Fault { return Fault{What: "there is nothing to note"} }

// NoCodeInList: no trouble code could be read.
func NoCodeInList() Fault {
	return Fault{"there is no trouble code in the scan list", "a code is a letter P, C, B or U and four digits: P0741"}
}

// NoRuleKnowsCode: a code that the rules do not know for the unit.
func NoRuleKnowsCode(code string) Fault {
	return Fault{What: fmt.Sprintf("no rule knows the code %s for this unit", code)}
}

// GivenTwice: one thing is said twice in one command, and not the same.
func GivenTwice(name string) Fault {
	return Fault{fmt.Sprintf("%s is given twice with different values", name), "give it once"}
}

// CannotTellGood: a reporter cannot tell that a row is good.
func CannotTellGood(by string) Fault {
	return Fault{fmt.Sprintf("the %s cannot tell that a row is good", Name(by)), "say what was seen, finding by finding"}
}

// SayWhere is what helps when a finding is named without its place.
func SayWhere(names []string) string { return "say where: " + strings.Join(names, ", ") }

// NoLimits: the unit has no limits for a reading at a place. same are the
// names with a place that its own name has, the first hint where a finding
// reads it; bases and all are what can be measured, without and with places.
func NoLimits(unit, name, place string, reads bool, same, bases, all []string) Fault {
	full := At(name, place)
	f := Fault{fmt.Sprintf("unit %s has no limits for %s", unit, full), Nearest(full, all)}
	if (f.Help == "" || reads) && len(same) > 0 {
		f.Help = "it is measured as " + strings.Join(same, ", ")
	}
	if f.Help == "" {
		f.Help = Nearest(name, bases)
	}
	if f.Help == "" {
		f.Help = "what can be measured: " + strings.Join(all, ", ")
	}
	return f
}

// NoLimitsButJudged: the unit has no limits for a reading; same are findings
// that say what it comes to.
func NoLimitsButJudged(unit, reading string, same []string) Fault {
	return Fault{fmt.Sprintf("unit %s has no limits for %s", unit, reading),
		"compare it with the manual and note the result, present or absent: " + strings.Join(same, ", ") + "; or write the manual's limits into the unit's file"}
}

// OtherMeasure: a reading measures something else than its limit.
func OtherMeasure(reading string, value quantity.Quantity, limit quantity.Dimension, bounds string) Fault {
	return Fault{fmt.Sprintf("%s: %s is a %s, the limit is a %s", reading, value, value.Dim, limit), "its limits are " + bounds}
}

// NotNumberOf: an answer is not a number of what the question counts.
func NotNumberOf(text, unit string) Fault {
	return Fault{What: fmt.Sprintf("%q is not a number of %s", text, unit)}
}

// DrivenTwice: a place of the verification drive was good and bad.
func DrivenTwice(place string) Fault {
	return Fault{place + " is given twice with different results", "give it once"}
}

// OwnComeback: a case is named as the earlier case of itself.
func OwnComeback() Fault { return Fault{What: "a case cannot be its own comeback"} }

// NotBackYet: the earlier case of a comeback is open.
func NotBackYet(id string) Fault {
	return Fault{What: fmt.Sprintf("case %s is still open: it cannot have come back yet", id)}
}

// StillBad: places of the verification drive were bad.
func StillBad(places []string, id string) Fault {
	return Fault{What: fmt.Sprintf("it is not fixed: still bad in %s; case %s stays open", strings.Join(places, ", "), id)}
}

// NotDriven: places are missing in the verification drive, each with why it
// must be driven.
func NotDriven(places []string, why map[string][]string) Fault {
	var each []string
	for _, p := range places {
		each = append(each, p+" ("+strings.Join(why[p], "; ")+")")
	}
	return Fault{What: "the verification drive is not complete; not driven yet: " + strings.Join(each, ", ")}
}

// ClosedUndriven is what helps where a case was closed without the drive.
func ClosedUndriven(reason string) string { return "closed anyway: " + reason }

// NothingFound: a case is fixed and no part was found failed.
func NothingFound() Fault {
	return Fault{What: "no failed part was recorded: nothing can be learned from this case"}
}

// OneWayToFail: one way to fail is named where a component is meant.
func OneWayToFail(name string) Fault {
	return Fault{What: fmt.Sprintf("%s names one way to fail", name)}
}

// NoPhotoFile: the picture of an entry is not there.
func NoPhotoFile(path string) Fault {
	return Fault{"there is no file " + path + " from here", "the path is kept as given"}
}

// StepsMissing: earlier steps are not ticked off; steps are their titles.
func StepsMissing(steps []string) Fault {
	return Fault{What: "earlier steps are not checked off: " + strings.Join(steps, ", ")}
}

// NotLookedAt: a check that a step makes impossible was not made; note are
// findings that it can show.
func NotLookedAt(s *engine.Step, c *engine.Check, note []string, more bool) Fault {
	help := c.Why + "; note " + strings.Join(note, " or ")
	if more {
		help += ", or another that it shows"
	}
	return Fault{fmt.Sprintf("%s: not checked yet, and impossible afterward: %s", Title(s.Title, s.Name), Title(c.Title, c.Name)), help + ", with =no where nothing is wrong"}
}

// FileThere: a file to write is there.
func FileThere(name string) Fault { return Fault{What: name + " already exists; " + nothingWritten} }

// FileNotMade: a file cannot be begun.
func FileNotMade(name string, err error) Fault {
	return Fault{fmt.Sprintf("%s cannot be written: %v", name, err), "name a file in an existing folder that you can write to"}
}

// FileNotWritten: a file cannot be finished.
func FileNotWritten(name string, err error) Fault {
	return Fault{fmt.Sprintf("%s cannot be written: %v", name, err), "check the folder, or name another file"}
}

// FileNotRead: a file cannot be read.
func FileNotRead(name string, err error) Fault {
	return Fault{What: fmt.Sprintf("%s cannot be read: %v", name, err)}
}

// IsFolder: a file is a folder.
func IsFolder(name string) Fault { return Fault{What: name + " is a folder"} }

// NothingImported: an import was refused.
func NothingImported() Fault { return Fault{"nothing was imported", "the casebook is as it was"} }

// CasesLost: cases of a damaged casebook that could not be saved.
func CasesLost(n int) Fault {
	return Fault{What: fmt.Sprintf("%s lost, in whole or in part", Count(n, "case is", "cases are"))}
}

const albumHelp = "make the folder beside the casebook writable"

// PictureNotKept: a photo could not be written.
func PictureNotKept(err error) Fault {
	return Fault{"the picture cannot be kept: " + err.Error(), albumHelp}
}

// PictureNotRead: a photo could not be read.
func PictureNotRead(err error) Fault {
	return Fault{"the picture cannot be read: " + err.Error(), albumHelp}
}

// PicturesNotRead: the photos of a case could not be listed.
func PicturesNotRead(err error) Fault {
	return Fault{"the pictures cannot be read: " + err.Error(), albumHelp}
}

// PhotosNotListed: photos could not be found for an export.
func PhotosNotListed(err error) Fault {
	return Fault{"the photos cannot be listed: " + err.Error(), albumHelp}
}

// PhotosNotImported: cases are imported, their photos not.
func PhotosNotImported(err error) Fault {
	return Fault{"the cases are imported, but the photos cannot be kept: " + err.Error(), albumHelp}
}

// PhotosNotTaken: a case goes on as another, its photos stay.
func PhotosNotTaken(from, to string) func(error) Fault {
	return func(err error) Fault {
		return Fault{"the case goes on as " + to + ", but its photos stay with case " + from + ": " + err.Error(), albumHelp}
	}
}

// PhotosNotExported: cases are exported, their photos not.
func PhotosNotExported(err error) Fault {
	return Fault{"the photos cannot be written beside the export: " + err.Error(), "the cases are written; copy the folder of photos yourself"}
}

// BadPictureName: a photo cannot have a name.
func BadPictureName() Fault { return Fault{What: "a picture cannot be kept under that name"} }

// NotPicture: what was sent is not a photo of a kind that can be kept.
func NotPicture() Fault {
	return Fault{"that is not a picture that can be kept", "JPEG and PNG can be"}
}

// PictureTooLarge: a photo has too many points.
func PictureTooLarge(width, height int) Fault {
	return Fault{fmt.Sprintf("the picture is too large: %d by %d pixels", width, height), "take a smaller one"}
}

// NoPicture: there is no photo of a name.
func NoPicture() Fault { return Fault{What: "there is no such picture"} }

// NoVehicle: a drill found no vehicle of a level.
func NoVehicle(level, unit string, seed uint64) Fault {
	return Fault{fmt.Sprintf("no vehicle of level %s came up for %s, seed %d", level, unit, seed), "try another seed, or another level"}
}

// NoMove: a drill has no move of a name.
func NoMove(name string, near []string) Fault {
	f := Fault{What: fmt.Sprintf("there is no check, step, part or root cause %q", name)}
	if len(near) > 0 {
		f.Help = "did you mean " + strings.Join(near, ", ") + "?"
	}
	return f
}

// MoveShut: a check of a drill cannot be made now.
func MoveShut(name string) Fault {
	return Fault{fmt.Sprintf("%s cannot be checked now", name), "it was done already, it is too late for it, or it would not be safe"}
}

// TooWide: the causes of a case hang together so that no answer is worked out.
func TooWide() Fault {
	return Fault{"the rules tie too many causes together to work this case out",
		"put a stress between the root causes and the failures that they share; a check of the rules names them"}
}

// LearningTooWide: learning used up the work that it may take.
func LearningTooWide() Fault {
	return Fault{"learning was stopped: these cases take more work than it may, and nothing was written",
		"the rules tie many causes together; learn from one unit at a time, or put a stress between the root causes and the failures that they share"}
}

// TooWideToLearn: what learning asks of a unit before it reads cases ties too much together.
func TooWideToLearn() Fault {
	return Fault{"the rules tie too many causes together to learn from the cases of this unit: nothing was written",
		"put a stress between the root causes and the failures that they share; a check of the rules names them"}
}

// Clashing: no fault allows all of the reports.
func Clashing() Fault {
	return Fault{"these reports contradict each other: no fault in the rules fits all of them", "look again, and undo one of them"}
}

// ClashingReport is one of them.
func ClashingReport(p model.Piece) Fault {
	return Fault{What: fmt.Sprintf("%s: %s, says %s", Piece(p), p.State, Name(p.By))}
}

// Approximately: reports that tie too many causes together to be worked out exactly
// are weighed approximately. The JSON names all of them.
func Approximately(reports []string) Fault {
	e := model.SharedError
	return Fault{Count(len(reports), "report is", "reports are") + " weighed approximately: " + andMore(reports, 1),
		fmt.Sprintf("Figures were off by %.0f points on average, %.0f at worst (%d cases compared).", 100*e.Mean, 100*e.Worst, e.Cases)}
}

// andMore names the first of some and counts the others.
func andMore(list []string, most int) string {
	named := strings.Join(list[:min(most, len(list))], "; ")
	if n := len(list) - most; n > 0 {
		named += fmt.Sprintf(" and %d more", n)
	}
	return named
}

// LeftOut: reports are not counted, past so many of something present that are. The
// JSON names all of them.
func LeftOut(reports []string, counted int) Fault {
	return Fault{fmt.Sprintf("%s left out", Count(len(reports), "report is", "reports are")),
		fmt.Sprintf("More than %d signs are reported as seen: no one vehicle shows so many, so check what was entered. Counted are those that tell most; not counted: %s.", counted, andMore(reports, listed))}
}

// FewCases: less than enough cases are behind what was learned.
func FewCases(n, enough int) Fault {
	return Fault{fmt.Sprintf("only %s", Count(n, "case", "cases")), fmt.Sprintf("with fewer than %d, the next case can move these numbers again; the intervals say how far", enough)}
}

// StillMoving: the estimate stopped at its limit.
func StillMoving() Fault {
	return Fault{"the estimate stopped at its limit: the numbers were still moving", "do not apply them"}
}

// Untried: no case was left to try the new numbers on.
func Untried() Fault {
	return Fault{"no case was left to test the new numbers on", "they are untested"}
}

const heldOut = "on cases that they were not learned from "

// DoWorse: the new numbers foretell worse.
func DoWorse() Fault {
	return Fault{heldOut + "the new numbers do worse than the old", "wait for more cases"}
}

// WithinChance: what they gain may be chance.
func WithinChance() Fault {
	return Fault{heldOut + "the gain may be chance", "more cases will tell"}
}

// WorseNotWritten: numbers that do worse are not written; gain is of the log
// score, in nats a case, error its standard error.
func WorseNotWritten(gain, error float64, cases int) Fault {
	return Fault{nothingWritten + ": " + heldOut + "the new numbers do worse than the old", fmt.Sprintf("by %.3f ± %.3f of log score a case, over %s", -gain, error, Count(cases, "case", "cases"))}
}

// NothingApplied: nothing learned was applied that could be taken back.
func NothingApplied(shop string) Fault {
	return Fault{What: "no learned number was written to " + shop + ", so there is nothing to undo"}
}

// BadUnitName: a name that no unit can have.
func BadUnitName(id string) Fault {
	return Fault{"\"" + id + "\" cannot name a unit", "A unit's name has lowercase letters, digits, hyphens and underscores, a letter first."}
}

// UnitThere: a unit has the name already.
func UnitThere(id string) Fault {
	return Fault{"there is already a unit " + id, "Choose another name, or edit its file."}
}

// DraftNotRead: what was answered about a new unit cannot be read.
func DraftNotRead(err error) Fault { return Fault{"the draft cannot be read", err.Error()} }

// DraftNotKept: an answer about a new unit was not kept.
func DraftNotKept(err error) Fault { return Fault{"the answer could not be kept", err.Error()} }

// DraftOpen: questions about a new unit are open.
func DraftOpen() Fault { return Fault{What: "the unit is not finished"} }

// UnitNotWritten: the file of a new unit.
func UnitNotWritten(err error) Fault { return Fault{"the unit could not be written", err.Error()} }

// DraftNotRemoved: the answers are still there beside the unit's file.
func DraftNotRemoved(err error) Fault { return Fault{"the draft could not be removed", err.Error()} }

// Soiled: debris of a part has gone through these parts, which are to be cleaned
// before the build.
func Soiled(from *engine.Component, parts []*engine.Component) Fault {
	var names []string
	for _, p := range parts {
		names = append(names, Component(p))
	}
	return Fault{"debris from the " + Component(from) + " went through the oil", "before the build, take care of: " + strings.Join(names, ", ") + "; the plan says how"}
}
