package model

import (
	"slices"

	"slipcase/engine"
	"slipcase/engine/near"
)

// ProblemKind says why something in a case is no evidence.
type ProblemKind string

// The kinds, with what Name, Other and Names of a Problem are.
const (
	UnknownFinding   ProblemKind = "unknown_finding"   // its name; known ones near
	NotObserved      ProblemKind = "not_observed"      // a name; Other: the layer of the network that has it
	UnknownCondition ProblemKind = "unknown_condition" // the finding; the conditions there are
	UnknownReporter  ProblemKind = "unknown_reporter"  // its name; all reporters
	BadReading       ProblemKind = "bad_reading"       // its name; Err says why
	UnknownComponent ProblemKind = "unknown_component" // its name; known ones near
	UnknownMode      ProblemKind = "unknown_mode"      // the component; Other: the mode; those that it can have
	UnknownCause     ProblemKind = "unknown_cause"     // its name; known ones near
	Contested        ProblemKind = "contested"         // a finding; Other: the row; By calls the row good and reports the finding
	HiddenBy         ProblemKind = "hidden_by"         // About: a finding; Beside: what hides it
	OneCondition     ProblemKind = "one_condition"     // About: a finding; Other: the condition that no rule tells apart
)

// Problem is something in a case that is no evidence, and why. Errors are what
// the rules do not know or what contradicts itself; warnings are reports that
// say nothing.
type Problem struct {
	Severity      engine.Severity
	Kind          ProblemKind
	Name, Other   string
	By            string
	Names         []string
	Err           error
	About, Beside *Node
	Where, Also   engine.Range // the report, and the one that it contradicts
}

// Error names the problem for a program; people are told by the face.
func (p Problem) Error() string { return p.Where.String() + ": " + string(p.Kind) + " " + p.Name }

// Refused tells whether there is a problem of severity error.
func Refused(list []Problem) bool {
	return slices.ContainsFunc(list, func(p Problem) bool { return p.Severity == engine.Error })
}

// nearest are up to three known names near one.
func nearest(name string, known []string) []string { return near.Names(name, known, 3) }
