package geartrain

import (
	"fmt"
	"strings"

	"slipcase/engine"
)

// Problem is one thing that keeps a train from being built.
type Problem struct {
	Kind  ProblemKind
	At    engine.Range
	What  string   // what kind of thing is at fault: gearset, element, joint, clutch, input, converter (factor)
	Name  string   // which: of a row its written form
	Other string   // the second name or word in it
	Names []string // names that could stand there; of AppliesBoth the two
	// Sun and Ring are the teeth that are said; Number is how many there are, Most
	// how many there may be.
	Sun, Ring    int64
	Number, Most int
}

// ProblemKind says what is wrong with a train.
type ProblemKind string

// The kinds.
const (
	NoUnit        ProblemKind = "no_unit"
	NoName        ProblemKind = "no_name"         // a What without a name
	NameTaken     ProblemKind = "name_taken"      // What Name, which an Other bears already
	NoGearset     ProblemKind = "no_gearset"      // the train of unit Name
	GearsetKind   ProblemKind = "gearset_kind"    // gearset Name is of kind Other
	LacksMember   ProblemKind = "lacks_member"    // What Name
	MemberTwice   ProblemKind = "member_twice"    // in gearset Name
	BadTeeth      ProblemKind = "teeth"           // of gearset Name
	ToItself      ProblemKind = "to_itself"       // What Name joins member Other to itself
	ManyLinks     ProblemKind = "many_links"      // elements and joints
	ManyOneWays   ProblemKind = "many_one_ways"   // one-way clutches
	ManyMembers   ProblemKind = "many_members"    // of the train
	KindOfElement ProblemKind = "kind_of_element" // element Name is of kind Other
	MovedWith     ProblemKind = "moved_with"      // element Name is said to be moved with Other
	NoEnd         ProblemKind = "no_end"          // no input or output (What)
	UnknownEnd    ProblemKind = "unknown_end"     // no member Name for the What
	CaseAsEnd     ProblemKind = "case_as_end"     // the case as What
	OneEnd        ProblemKind = "one_end"         // member Name is both
	NoRows        ProblemKind = "no_rows"         // unit Name
	RowTwice      ProblemKind = "row_twice"       // row Name
	NotElement    ProblemKind = "not_element"     // row Name applies Other
	AppliesOneWay ProblemKind = "applies_one_way" // row Name applies Other
	AppliesBoth   ProblemKind = "applies_both"    // row Name applies both Names
	NotOneWay     ProblemKind = "not_one_way"     // row Name holds Other
	BadFactor     ProblemKind = "bad_factor"      // row Name has the What factor Other
)

// Error names the problem for a log; package rules/check has the words.
func (p Problem) Error() string {
	out := string(p.Kind)
	for _, x := range []string{p.What, p.Name, p.Other} {
		if x != "" {
			out += " " + x
		}
	}
	if p.Kind == BadTeeth {
		out += fmt.Sprintf(" %d:%d", p.Sun, p.Ring)
	}
	return out
}

// Problems is every fault that New found in a unit, in the unit's order.
type Problems []Problem

// Error lists the problems, one a line.
func (p Problems) Error() string {
	lines := make([]string, len(p))
	for i, d := range p {
		lines[i] = d.Error()
	}
	return strings.Join(lines, "\n")
}
