package engine

import (
	"math/big"

	"slipcase/engine/quantity"
)

// CaseMember is the name of the stationary member, the transmission case; its speed
// is always 0.
const CaseMember = "case"

// Unit is one transmission: gear train, elements, apply chart, hydraulics,
// parts and teardown steps. Lists keep the order of the file.
type Unit struct {
	ID         string // the file's name without .hcl
	Title      string
	Note       string
	Drive      string // "rear", "front" or "all": which wheels it drives
	Controls   string // "hydraulic", "electronic" or "adaptive"; adaptive controls hide slip from the driver
	Train      Train
	Elements   []Element
	Joints     []Joint
	Circuits   []Circuit
	Solenoids  []Solenoid
	Rows       []Row
	Failsafe   map[string]Failsafe // by range; nil when the unit has no solenoids
	Pressures  []PressurePoint
	Components []Component
	Steps      []Step
	Limits     []Limit
	// Frequency overrides the rate of single modes for every component of the
	// unit; a component's own goes over it.
	Frequency map[string]Number
	// Formerly are old names of what the unit has: limits, steps, joints.
	Formerly []Renamed
	// Like is set for a unit that is like another one.
	Like  *Likeness
	At    Range
	Basis *Basis
}

// Renamed is an old name of something of a unit with the one that holds now.
type Renamed struct {
	Old, Now string
	At       Range
}

// Likeness says which unit a unit is like, and what its own files write over it.
type Likeness struct {
	Of string
	At Range
	// Own are the names and words that its own files write, each with a place:
	// labels of blocks, names in lists, "train" for the gear train.
	Own map[string]Range
}

// MadeParts counts the components that the unit's file leaves to what such
// units usually have.
func (u *Unit) MadeParts() int {
	n := 0
	for i := range u.Components {
		if u.Components[i].Made {
			n++
		}
	}
	return n
}

// MadeSteps counts the teardown steps that the unit's file leaves to what such
// units usually have.
func (u *Unit) MadeSteps() int {
	n := 0
	for i := range u.Steps {
		if u.Steps[i].Made {
			n++
		}
	}
	return n
}

// GearsetKind tells single-pinion from double-pinion gearsets.
type GearsetKind string

// Gearset kinds. A Ravigneaux set is one of each sharing ring and carrier.
const (
	Single GearsetKind = "single" // S·ωs + R·ωr = (S+R)·ωc
	Double GearsetKind = "double" // S·ωs − R·ωr = (S−R)·ωc
)

// ControlledBy is Controls, or where the unit does not say: electronic with solenoids,
// else hydraulic.
func (u *Unit) ControlledBy() string {
	switch {
	case u.Controls != "":
		return u.Controls
	case len(u.Solenoids) > 0:
		return "electronic"
	}
	return "hydraulic"
}

// Train is the gear train. Input and Output name members.
type Train struct {
	Input, Output string
	Gearsets      []Gearset
	At            Range
}

// Gearset is one planetary gearset; Sun, Carrier and Ring name members ("case"
// is allowed), SunTeeth and RingTeeth count teeth.
type Gearset struct {
	Name                string
	Title               string
	Kind                GearsetKind
	Sun, Carrier, Ring  string
	SunTeeth, RingTeeth int64
	TeethText           [2]string
	At                  Range
	Basis               *Basis
}

// ElementKind is what an element is.
type ElementKind string

// Element kinds.
const (
	Clutch          ElementKind = "clutch"           // joins two rotating members
	Brake           ElementKind = "brake"            // discs to the case
	Band            ElementKind = "band"             // strap around a drum, to the case
	OneWay          ElementKind = "one_way"          // roller or sprag
	ConverterClutch ElementKind = "converter_clutch" // locks the converter; outside the gear train
)

// Element holds or joins members. A is the first member; B the second, "case"
// for brakes and bands. For a one-way clutch A is what it stops from turning
// backward relative to B: it is free while ω_A − ω_B > 0.
type Element struct {
	Name  string
	Title string
	Kind  ElementKind
	A, B  string
	// Wraps is, for a band, the direction of drum torque that it is
	// self-energising against: +1, −1, or 0 when not said.
	Wraps int
	// Screw says, for a band, that it is set by a screw that can be reached in the
	// vehicle.
	Screw bool
	// MovedWith are elements that one sleeve, fork or valve moves with this
	// one: as one comes on the other lets go, and stuck at one it cannot be at
	// the other.
	MovedWith []string
	At        Range
	Basis     *Basis
}

// Joint is a spline, weld, shell or shaft that always joins members A and B,
// and can break.
type Joint struct {
	Name, Title string
	A, B        string
	At          Range
}

// Circuit is an oil passage: the elements it feeds, and where a gauge taps it.
type Circuit struct {
	Name, Title string
	Main        bool     // the line-pressure circuit that supplies all others
	Feeds       []string // element names
	// Releases are elements that this oil lets go: a band whose servo it pushes
	// back as it applies a clutch.
	Releases []string
	Tap      string // where a gauge goes; "" when there is none
	Made     bool   // a usual circuit, made from the chart
	At       Range
}

// Solenoid is an electric valve of the unit. Shift solenoids stand in the rows'
// state tables.
type Solenoid struct {
	Name, Title string
	Kind        string // "shift", "pressure", "converter", "clutch"
	// Controls are, for a solenoid of kind "clutch", the elements that it
	// feeds by itself; more than one where the manual valve sends its oil to
	// one of them in each range. Applied says that they are on without
	// current (normally high), not off.
	Controls []string
	Applied  bool
	At       Range
}

// Row is one line of the apply chart: a range with a gear, written Range/Gear
// (D/2, L/1, R/R, N/N, P/P).
type Row struct {
	Range, Gear string
	Apply       []string // applied elements, one-way clutches not listed
	// Lockup says that the converter clutch is on in this row's cruise.
	Lockup bool
	// Declared facts, checked against physics; nil or "" when not stated.
	Ratio         *big.Rat
	RatioText     string // as written: its digits say how far it was rounded
	RatioAt       Range
	Holding       []string
	HoldingStated bool
	EngineBraking *bool
	// Solenoids that are on in this row; SolenoidsStated tells "none on" from
	// "not said".
	Solenoids       []string
	SolenoidsStated bool
	// ConverterFactor is the converter's torque multiplication where this row
	// works hardest (launch); PressureFactor its line pressure relative to
	// ordinary drive. 1 when not stated; where no row of the unit states a
	// converter factor, launch rows have the usual one (see geartrain).
	ConverterFactor Number
	PressureFactor  Number
	At              Range
	Basis           *Basis
}

// Name is the row's written form, "D/2".
func (r Row) Name() string { return r.Range + "/" + r.Gear }

// PressurePoint is one line of the pressure table: line pressure in a range at
// idle or under load, with its limits.
type PressurePoint struct {
	State string // "idle" or "load"
	Range string // selector range
	Low   *quantity.Quantity
	High  *quantity.Quantity
	At    Range
	Basis *Basis
}

// Place is the point's written form, "idle/R".
func (p PressurePoint) Place() string { return p.State + "/" + p.Range }

// TargetKind is what a component serves.
type TargetKind string

// Target kinds, as written in `serves = element.forward`.
const (
	OnElement   TargetKind = "element"
	OnCircuit   TargetKind = "circuit"
	OnSolenoid  TargetKind = "solenoid"
	OnJoint     TargetKind = "joint"
	OnGearset   TargetKind = "gearset"
	OnShift     TargetKind = "shift"     // "1-2": every shift between these gears
	OnRange     TargetKind = "range"     // an engagement: "D", "R"
	OnConverter TargetKind = "converter" // the torque converter as launch device; no name
	OnUnit      TargetKind = "unit"      // the whole unit; no name
)

// Target is what a component serves: effects of its modes belong to it.
type Target struct {
	Kind TargetKind
	Name string // "" for the converter and the whole unit
	At   Range
}

// String is the target as effects name it: the bare name, or the kind where
// there is no name.
func (t Target) String() string {
	if t.Name == "" {
		return string(t.Kind)
	}
	return t.Name
}

// Component is a part, or group of parts, that can fail.
type Component struct {
	Name, Title string
	Kind        string // name of a Kind
	Serves      []Target
	Formerly    []string
	Bench       string // place on the parts bench where it is laid
	// SeenAt is the step that brings it into view, where the component says so
	// itself; the step's Exposes has it then.
	SeenAt string
	Made   bool // a usual part, made from the chart: the unit's file says nothing of it
	// Frequency overrides the rate of single modes of this component.
	Frequency map[string]Number
	At        Range
	Basis     *Basis
}

// Stage is when in the job something can be done.
type Stage string

// The stages in their order.
const (
	StageInterview Stage = "interview"
	StageRoad      Stage = "road"
	StageGauges    Stage = "gauges"
	StagePan       Stage = "pan"
	StageInVehicle Stage = "in_vehicle"
	StagePulled    Stage = "pulled"
	StageTeardown  Stage = "teardown"
)

// Stages lists the stages in order.
var Stages = []Stage{StageInterview, StageRoad, StageGauges, StagePan, StageInVehicle, StagePulled, StageTeardown}

// Step is one teardown action.
type Step struct {
	Name, Title string
	Stage       Stage    // in_vehicle, pulled or teardown
	After       []string // steps that must be done before
	Minutes     Number
	Exposes     []string // components that come into view
	// Measure lists what to take or measure before this step destroys it:
	// names of checks or limits, or plain sentences.
	Measure []string
	Look    []string // what to look for, in plain sentences
	// SameAs names the checks that look at the same: a case that answers all of
	// them has done this step, see model.Looked.
	SameAs   []string
	Cautions []string // names of cautions
	Pulls    bool     // this step takes the unit out of the vehicle
	Made     bool     // a usual step, made from the chart
	// Repair and Refit are minutes: to repair what this step exposes where it
	// is, and to put back what the step took off. Zero values when not said.
	Repair, Refit Number
	At            Range
	Basis         *Basis
}

// Limit is a dimension of the unit with its limits: clearance, end play, wear.
type Limit struct {
	Name, Title string
	Component   string // "" when it belongs to the whole unit
	Step        string // the step before or at which it is measured; "" when not said
	Check       string // the check that it is measured in; "" when not said
	// Measures is what findings read there, with its place ("clearance@forward",
	// "end_play"); "" where the findings are those of the limit itself.
	Measures  string
	Low, High *quantity.Quantity
	LowAt     Range // of the value of Low, in `between` too
	HighAt    Range
	Made      bool // a usual limit: the unit's file says nothing of it
	At        Range
	Basis     *Basis
}

// Failsafe is the gear of a range that is in force when the controls fail.
type Failsafe struct {
	Gear string
	// ByValve are clutches and brakes that the manual valve feeds in this range
	// itself, past their solenoids.
	ByValve []string
	// Powered: the controller holds the gear with current on its solenoids. What
	// is left without any the chart then does not say.
	Powered bool
	At      Range
}
