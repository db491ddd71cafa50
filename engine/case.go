package engine

import (
	"slices"
	"strings"
	"time"

	"slipcase/engine/quantity"
)

// State of a report: present, absent, or looked for and not known.
type State string

// The three states. "Not checked" has no report at all.
const (
	Present State = "present"
	Absent  State = "absent"
	Unknown State = "unknown"
)

// FindingName is the parsed form of name[@place][:condition].
type FindingName struct {
	Name      string
	Place     string
	Condition Condition
}

// ParseFindingName splits name[@place][:condition]; it does not look up names.
func ParseFindingName(s string) FindingName {
	var f FindingName
	if i := strings.LastIndexByte(s, ':'); i >= 0 {
		s, f.Condition = s[:i], Condition(s[i+1:])
	}
	if i := strings.IndexByte(s, '@'); i >= 0 {
		s, f.Place = s[:i], s[i+1:]
	}
	f.Name = s
	return f
}

// IsPlaceSet tells whether a word in the place of a finding stands for several
// places: "*" for every one, and of shifts one of ShiftSets.
func IsPlaceSet(per Per, place string) bool {
	return place == "*" || per == PerShift && slices.Contains(ShiftSets, place)
}

// ShiftSets stand for the upshifts by one gear, the downshifts by one, the
// downshifts by two, the upshifts by two, and the downshifts that the lever makes.
var ShiftSets = []string{"up", "down", "skip", "skip_up", "lever"}

// ShiftRows are the rows that a place of shift findings leads from and to: D/2
// and D/3 of "D/2-3", D/3 and 2/2 of "D/3-2/2", where the lever goes from D to 2.
func ShiftRows(place string) (from, to string) {
	from, to, _ = strings.Cut(place, "-")
	if rng, _, ok := strings.Cut(from, "/"); ok && !strings.Contains(to, "/") {
		to = rng + "/" + to
	}
	return from, to
}

// GoodPrefix begins the name that stands for a row being good: good@D/3. It is
// no finding of its own; a report of it denies everything that is bad in that
// row, as far as its reporter can tell.
const GoodPrefix = "good@"

// Base is the name without its condition.
func (f FindingName) Base() string {
	if f.Place == "" {
		return f.Name
	}
	return f.Name + "@" + f.Place
}

// String is the written form.
func (f FindingName) String() string {
	if f.Condition == "" {
		return f.Base()
	}
	return f.Base() + ":" + string(f.Condition)
}

// Report is one observation. Exactly one of Finding and Reading's name is set
// when read; a reading is turned into findings by the unit's limits.
type Report struct {
	Finding string // name[@place][:condition]
	State   State
	By      string // reporter
	Note    string
	At      time.Time // zero when not said
	Where   Range     // place in a case file; zero in the casebook
	Seq     int64     // sequence number in the casebook; 0 in a case file
}

// Reading is a measured value: "line_pressure idle/R 62 psi".
type Reading struct {
	Name  string // a finding's Reading name, or a limit's name
	Place string
	Value quantity.Quantity
	By    string
	At    time.Time
	Where Range
	Seq   int64
}

// Seen is a component looked at: confirmed failed with a mode, or cleared.
type Seen struct {
	Component string
	Mode      string // "" when cleared
	ModeAt    Range
	Cause     string // root cause, "" when not settled
	CauseAt   Range
	Cleared   bool
	Note      string
	Photo     string // path of a picture, as given
	Where     Range
	Seq       int64
}

// CaseFile is a case as one run works with it: the fold of its entries.
type CaseFile struct {
	ID       string
	Title    string
	Unit     string // unit id
	Vehicle  string
	Reports  []Report
	Readings []Reading
	Seen     []Seen
	Settled  []SettledCause
	Done     []string // steps done, in order
	Put      []string // questions to the driver that were put, answered or not, by check
	DoneAt   []Range  // their places; empty in a case from the casebook
	At       Range
	UnitAt   Range
}

// SettledCause is a root cause confirmed or ruled out.
type SettledCause struct {
	Cause   string
	Present bool
	Where   Range
	Seq     int64
}
