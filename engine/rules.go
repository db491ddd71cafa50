package engine

import (
	"math"

	"slipcase/engine/quantity"
)

// Knowledge is everything a run has loaded: the rules, the units asked for,
// and what the loader had to say.
type Knowledge struct {
	Units     []*Unit
	Kinds     []Kind
	Stresses  []Stress
	Causes    []Cause
	Modes     []Mode
	Findings  []Finding
	Reporters []Reporter
	Checks    []Check
	Cautions  []Caution
	Withheld  []Withheld // those with a name
	Codes     []Code
	Examples  []Example
	Families  []Family
	// Hash is the fingerprint of every byte that was loaded, in hex.
	Hash string
}

// Unit is the unit with this id, or nil.
func (k *Knowledge) Unit(id string) *Unit {
	for _, u := range k.Units {
		if u.ID == id {
			return u
		}
	}
	return nil
}

// Check is the check with this name, or nil.
func (k *Knowledge) Check(name string) *Check {
	for i := range k.Checks {
		if k.Checks[i].Name == name {
			return &k.Checks[i]
		}
	}
	return nil
}

// Kind is a kind of component, for any unit. Modes are written for kinds.
type Kind struct {
	Name, Title string
	Serves      []TargetKind // what components of this kind may serve; empty: anything
	Outside     bool         // not part of the transmission: engine, driveline, controls
	Bench       string       // place on the parts bench, where the component states none
	Renew       string       // what of it is replaced whenever it is open, and why: "lip seals: they take a set"; "" for nothing
	// Collects are findings of debris in the oil: what sheds it leaves it in
	// this part too, which is then cleaned or replaced as Clean says.
	Collects []string
	Clean    string
	At       Range
}

// Stress is what a root cause or a source mode does to parts: heat, low apply
// pressure, dirt. It is how the trade explains a burnt part.
type Stress struct {
	Name, Title string
	At          Range
}

// Link is one arrow of cause to consequence with its strength: the probability
// that the consequence follows from this cause alone.
type Link struct {
	To       string    // name of the stress, mode, effect or finding
	Strength Number    // 0..1
	When     Condition // "" for always
	At       Range
}

// Cause is a root cause: outside the unit, or an error of the last build.
type Cause struct {
	Name, Title string
	Formerly    []string
	Frequency   Number // per vehicle of the kind and age that a shop sees, with a complaint or without
	Stresses    []Link
	Shows       []Link   // findings; a name may end in "@*" for every place
	SettledBy   []string // checks that settle whether it was so
	Advice      string   // what to do about it in the build
	// Context tells that it is a circumstance, as high mileage is: it makes
	// faults likelier, but there is nothing to settle or put right before the
	// build.
	Context bool
	At      Range
	Basis   *Basis
}

// Mode is one way in which components of a kind fail.
type Mode struct {
	Name, Title string
	Of          []string // kinds
	Formerly    []string
	Frequency   Number // leak: cases without any known cause, per unit with a complaint
	// Duty says that it is wear which goes by what is asked of the element: Frequency
	// is then the mean over the unit's parts that fail so (model.Model.Duties).
	Duty      bool
	Effects   []Link // To: an effect that the served target can have ("slips")
	Shows     []Link // findings seen whatever it serves; "name@*" for every place, "name@element" for places of the served target
	Because   []Because
	Stresses  []Link // what a source mode does to the unit
	Look      string // what it looks like in the hand
	SettledBy []string
	At        Range
	Basis     *Basis
}

// Because says that a mode is made more likely by a stress, by a cause, or by
// another mode of this or a neighboring component.
type Because struct {
	Of       string // name of a stress, cause or mode
	Strength Number
	// Scope says which components count when Of is a mode: "same" the same
	// component, "shares" components that serve the same target or whose
	// circuit feeds it (the usual), "against" components whose element some row
	// applies against one of theirs that stays on, "any" every component.
	Scope string
	At    Range
}

// Condition narrows a finding or an effect.
type Condition string

// The conditions of the trade.
const (
	Cold          Condition = "cold"
	Hot           Condition = "hot"
	AfterStanding Condition = "after_standing"
	LightFoot     Condition = "light_foot"
	HeavyFoot     Condition = "heavy_foot"
	HighRPM       Condition = "high_rpm"
)

// Conditions lists them all.
var Conditions = []Condition{Cold, Hot, AfterStanding, LightFoot, HeavyFoot, HighRPM}

// Within is the wider condition that this one is a kind of: after standing the
// transmission is cold, so that what shows cold shows then too.
func (c Condition) Within() (wider Condition, ok bool) {
	if c == AfterStanding {
		return Cold, true
	}
	return "", false
}

// Per says how a finding template is multiplied over a unit.
type Per string

// What a finding is made per. The place part of its name follows from it.
const (
	PerUnit       Per = ""           // one finding, no place
	PerRow        Per = "row"        // slips@D/3
	PerRowGear    Per = "row_gear"   // acts_as_2@D/3
	PerShift      Per = "shift"      // flare@D/2-3
	PerEngagement Per = "engagement" // late_engagement@R
	PerPressure   Per = "pressure"   // line_pressure_low@idle/R
	PerCircuit    Per = "circuit"    // air_check_fails@forward_feed
	PerElement    Per = "element"    // clearance_wide@forward
	PerSolenoid   Per = "solenoid"   // resistance_off@a
	PerLimit      Per = "limit"      // below_limit@input_end_play
)

// Finding is something that can be observed, present or absent. With Per it is
// a template for one finding per row, shift and so on; {place} in the title
// stands for the place.
type Finding struct {
	Name, Title string
	Per         Per
	Stage       Stage
	Formerly    []string
	Phrases     []string           // how drivers say it
	Leak        Number             // probability that it is there without any known cause
	Signs       []Link             // To: an outcome of physics ("no_drive"); strength: the finding is there given that outcome
	Reporter    string             // who or what reports it, where a case does not say
	Reading     string             // name by which a measured value is noted ("line_pressure"); "" when none
	ReadingSide string             // "low", "high" or "either": present when the value is beyond that limit
	ReadingIs   quantity.Dimension // what the value measures; "" when not said
	// Hides are findings that cannot be observed at a place where this one is
	// present: what does not drive does not slip. Without a place of its own it
	// hides them everywhere.
	Hides []string
	// Clears are findings that what this one tells of has taken away, with the
	// share Cleared of what was there: a fluid changed last week has lost most of
	// its lining, and a report that none is there says little.
	Clears  []string
	Cleared Number
	Note    string
	At      Range
	Basis   *Basis
}

// Driver is the reporter who brings the vehicle: whose complaint a case begins
// with, and who speaks in an interview.
const Driver = "driver"

// Reporter is who or what observes: driver, road test, gauge, scan tool, eye,
// measuring tool, part in hand.
type Reporter struct {
	Name, Title string
	Hit         Number // P(says present | present)
	FalseAlarm  Number // P(says present | absent)
	// FalseAlarms and Misses are how often this shop's reporter says present of
	// what is absent, and absent of what is present, in general: FalseAlarm and
	// 1 - Hit where the shop says nothing else. The rates of On go with them in
	// proportion. A zero Number stands for FalseAlarm or 1 - Hit.
	FalseAlarms, Misses Number
	// Unfounded is the share of vehicles brought in for a complaint of this
	// reporter that no fault of the rules is behind; zero Number where the first
	// complaint weighs no more than an answer.
	Unfounded Number
	On        []ReporterOn
	At        Range
}

// ReporterOn overrides a reporter's rates for one finding (template name).
type ReporterOn struct {
	Finding    string
	Controls   string // only for units with these controls; "" for all
	Hit        Number
	FalseAlarm Number
	At         Range
}

// Errs is how often the reporter errs: on one finding, or in general where on is
// nil; P(says present | absent) and P(says absent | present).
func (r *Reporter) Errs(on *ReporterOn) (falseAlarm, miss float64) {
	hit, alarm := r.Hit, r.FalseAlarm
	if on != nil {
		hit, alarm = on.Hit, on.FalseAlarm
	}
	return inProportion(alarm.Value, r.FalseAlarms.Value, r.FalseAlarm.Value), inProportion(1-hit.Value, r.Misses.Value, 1-r.Hit.Value)
}

// sameRate is a difference of two rates that writing and reading them makes, below
// any that a rule file states.
const sameRate = 1e-9

// inProportion is a rate where the general one is now and was as the rules have
// it.
func inProportion(rate, now, was float64) float64 {
	if now <= 0 || was <= 0 || math.Abs(now-was) < sameRate {
		return rate
	}
	return min(rate*now/was, mostOften)
}

// mostOften is how often a reporter may err of anything (invented).
const mostOften = 0.99

// Check is an action that yields reports.
type Check struct {
	Name, Title string
	Stage       Stage
	Minutes     Number
	Reporter    string
	Yields      []string // findings; "name@*" for every place of the unit; ":cond" allowed
	Asks        string   // the question in the driver's words; "" when it is no question
	Why         string
	Cautions    []string
	Needs       []string   // steps that must be done first
	Before      []string   // steps that destroy the evidence
	Withheld    []Withheld // its own first, then those that Unless names
	Unless      []string   // names of withheld blocks
	// Opens marks a question that is put before all others while nothing is
	// reported present.
	Opens bool
	// Follows are findings after which this question comes before others.
	Follows []string
	// Only names the controls of units that it is for; nil for all.
	Only []string
	// Repairs marks a trial repair: where a finding of it is reported present,
	// the complaint is gone, and the faults that show that finding are mended.
	Repairs bool
	// Choices are the answers to a question of which one is taken; nil when
	// each finding is answered by itself. Where no choice says anything of a
	// finding, several may be taken, and each only says which questions follow.
	Choices []Choice
	// Counts is a number that the question asks for; nil when it asks for none.
	Counts *Counts
	At     Range
	Basis  *Basis
}

// Choice is one answer to a question. It says of every finding of the check
// whether it is there: "slips@*:hot" stands for each place where the driver
// says that it slips at all.
type Choice struct {
	Name, Title              string
	Present, Absent, Unknown []string
	Asks                     []string // checks that are asked next
	At                       Range
}

// Counts is what a number that the driver gives means: at From and above the
// findings of the check are present, below they are absent. With Shifts it is
// the number of upshifts felt in D, compared with those that the unit has.
type Counts struct {
	Unit   string // "s", "miles", "shifts"
	From   Number
	Shifts bool
	At     Range
}

// Withheld rules a check out while a finding is reported present, or as long as
// nobody has said anything of some findings. One with a name stands once for all
// checks that name it.
type Withheld struct {
	Name   string   // "" for a check's own
	If     string   // finding; "@*" for any place; "" where Until says it
	Until  []string // findings, one of which must be reported, whatever was found; nil where If says it
	Reason string
	At     Range
}

// Caution is a warning shown with a step or check.
type Caution struct {
	Name, Text string
	At         Range
}

// Code is a trouble code as a scan tool lists it; a report of the code is a
// report of the finding "code_P0741".
type Code struct {
	Name, Title string // "P0741"
	Leak        Number
	Signs       []CodeSign
	At          Range
	Basis       *Basis
}

// CodeSign says what sets a code: an effect or finding, wherever it occurs
// ("slips@D/3", "*.stuck_off", "lockup.slips").
type CodeSign struct {
	Of       string
	Strength Number
	At       Range
}

// Example is a worked case inside a rule file: reports, and the component that
// must come out within the first Within suspects.
type Example struct {
	Name    string
	Case    CaseFile
	Expect  []string // components; each must be within the first Within
	Within  int
	Cause   []string // root causes; each must be within the first Within of those to settle
	CauseAt []Range
	// ExpectAt are the places of Expect's names.
	ExpectAt []Range
	Cite     string
	At       Range
}
