// Package drill plays a vehicle with a hidden fault for a student: it answers
// checks as that vehicle would, shows what each teardown step brings into view,
// keeps the minutes, and compares the student's way with the advised one. It is
// the simulator of trials, turned around.
package drill

import (
	"errors"
	"fmt"
	"slices"

	"slipcase/engine"
	"slipcase/engine/advise"
	"slipcase/engine/model"
	"slipcase/engine/near"
	"slipcase/engine/trial"
)

// Level is what is wrong with the vehicle.
type Level string

// The levels.
const (
	OneFault  Level = "one"     // one part has failed
	RootCause Level = "cause"   // a part has failed because of something, which is to be named too
	TwoFaults Level = "two"     // two parts have failed
	Outside   Level = "outside" // nothing in the transmission has failed
)

// Levels lists them all.
var Levels = []Level{OneFault, RootCause, TwoFaults, Outside}

// ErrNone says that no vehicle of a level could be drawn.
var ErrNone = errors.New("the rules hardly ever lead to such a vehicle")

// tries bounds the vehicles that are looked at for one of the level.
const tries = 400

// lookElsewhere is the minutes to look at a part that no step of the unit
// shows, one outside the transmission. Basis: invented.
const lookElsewhere = 30

// Kind is what a move is.
type Kind string

// The kinds of moves.
const (
	Ask   Kind = "ask"   // a check
	Step  Kind = "step"  // a teardown step
	Look  Kind = "look"  // at a part outside the transmission
	Cause Kind = "cause" // a root cause is named
)

// Move is one thing that was done.
type Move struct {
	Kind    Kind
	Name    string // of the check, step, component or root cause
	Title   string
	Minutes float64
	Answers []Answer // to a check
	Seen    []Sight  // at a step
	Right   bool     // Cause: it is one
	// Again says that it was done before; it costs nothing and tells nothing new.
	Again bool
}

// Answer is what a reporter says of a finding.
type Answer struct {
	Finding, By string
	State       engine.State
	About       *model.Node // nil for a finding that the unit does not have
}

// Sight is a component in view.
type Sight struct {
	Component, Title string
	Modes            []string // titles of how it failed; nil for a good one
	Culprit          bool     // it is behind the complaint
}

// Drill is one vehicle at work. It is not safe for several goroutines.
type Drill struct {
	m       *model.Model
	a       *advise.Adviser
	v       *trial.Vehicle
	level   Level
	c       *engine.CaseFile
	moves   []Move
	minutes float64
	found   map[string]bool // culprits in view
	named   map[string]bool // root causes named
	cul     []string        // components behind the complaint
	causes  []string        // root causes behind it
	best    *Way            // the advised way, once it is worked out
}

// New draws the vehicle of a seed. It and the drill end with the context of the
// model. Errors: ErrNone, and those of a unit that cannot be priced.
func New(m *model.Model, level Level, seed uint64) (*Drill, error) {
	if !slices.Contains(Levels, level) {
		return nil, fmt.Errorf("drill: there is no level %q", level)
	}
	a, err := advise.New(m)
	if err != nil {
		return nil, err
	}
	source := trial.NewVehicles(m)
	for i := range uint64(tries) {
		if err := m.Ended(); err != nil {
			return nil, err
		}
		v, err := source.Draw(seed, i)
		if err != nil {
			return nil, err
		}
		if v == nil {
			break
		}
		d := &Drill{m: m, a: a, v: v, level: level, found: map[string]bool{}, named: map[string]bool{}}
		d.cul, d.causes = culprits(m, v)
		if d.fits() {
			d.begin()
			return d, nil
		}
	}
	return nil, fmt.Errorf("drill: level %s, seed %d: %w", level, seed, ErrNone)
}

func (d *Drill) begin() {
	d.c = &engine.CaseFile{Unit: d.m.Unit.ID, Reports: slices.Clone(d.v.Opening())}
}

// culprits lists the components and the root causes that really lead to the
// complaint.
func culprits(m *model.Model, v *trial.Vehicle) (components, causes []string) {
	for _, n := range v.Behind() {
		switch node := &m.Nodes[n]; node.Layer {
		case model.ModeLayer:
			if !slices.Contains(components, node.Component.Name) {
				components = append(components, node.Component.Name)
			}
		case model.CauseLayer:
			if !node.Cause.Context {
				causes = append(causes, node.Name)
			}
		}
	}
	return components, causes
}

// fits tells whether the vehicle is of the level.
func (d *Drill) fits() bool {
	outside := 0
	for _, c := range d.cul {
		if d.outside(c) {
			outside++
		}
	}
	inside := len(d.cul) - outside
	failed := d.failed()
	switch d.level {
	case OneFault:
		return inside == 1 && outside == 0 && len(failed) == 1 && len(d.causes) == 0
	case RootCause:
		return inside >= 1 && outside == 0 && len(failed) <= 2 && len(d.causes) == 1 && len(d.settling()) > 0
	case TwoFaults:
		return inside == 2 && outside == 0 && len(failed) == 2 && len(d.causes) == 0
	}
	return inside == 0 && outside == 1 && len(failed) == 1
}

// failed lists every component that has failed, whether behind the complaint
// or not.
func (d *Drill) failed() []string {
	var out []string
	for i := range d.m.Unit.Components {
		name := d.m.Unit.Components[i].Name
		if len(d.modes(name)) > 0 {
			out = append(out, name)
		}
	}
	return out
}

// settling lists checks that settle one of the root causes.
func (d *Drill) settling() []string {
	var out []string
	for i := range d.m.Knowledge.Causes {
		if c := &d.m.Knowledge.Causes[i]; slices.Contains(d.causes, c.Name) {
			out = append(out, c.SettledBy...)
		}
	}
	return out
}

// modes are the nodes of a component's modes that are on.
func (d *Drill) modes(component string) []int {
	var out []int
	for _, n := range d.m.ModesOf(component) {
		if d.v.On(n) {
			out = append(out, n)
		}
	}
	return out
}

func (d *Drill) component(name string) *engine.Component {
	for i := range d.m.Unit.Components {
		if c := &d.m.Unit.Components[i]; c.Name == name {
			return c
		}
	}
	return nil
}

func (d *Drill) outside(component string) bool {
	c := d.component(component)
	return c != nil && d.m.Outside(c)
}

// Opening is the complaint.
func (d *Drill) Opening() []Answer {
	var out []Answer
	for _, r := range d.v.Opening() {
		out = append(out, d.answer(r.Finding, r.By, r.State))
	}
	return out
}

// Level is the level that was drawn.
func (d *Drill) Level() Level { return d.level }

// Case is what the student knows, as a case: for benchmarks of what is asked along
// a job.
func (d *Drill) Case() engine.CaseFile { return *d.c }

// Minutes is what all moves took.
func (d *Drill) Minutes() float64 { return d.minutes }

// Over tells whether all that the level asks for was found.
func (d *Drill) Over() bool {
	for _, c := range d.cul {
		if !d.found[c] {
			return false
		}
	}
	return d.level != RootCause || d.named[d.causes[0]]
}

// Checks lists the checks that may be made now.
func (d *Drill) Checks() ([]advise.Offered, error) { return d.a.Offer(d.c, advise.Options{}) }

// Steps lists the teardown steps that are left, in the order of the unit.
func (d *Drill) Steps() []*engine.Step {
	var out []*engine.Step
	for i := range d.m.Unit.Steps {
		if s := &d.m.Unit.Steps[i]; !slices.Contains(d.c.Done, s.Name) {
			out = append(out, s)
		}
	}
	return out
}

// Elsewhere lists the components that no step of the unit shows, with the
// minutes of a look at one.
func (d *Drill) Elsewhere() (list []*engine.Component, minutes float64) {
	shown := map[string]bool{}
	for i := range d.m.Unit.Steps {
		for _, name := range d.m.Unit.Steps[i].Exposes {
			shown[name] = true
		}
	}
	for i := range d.m.Unit.Components {
		if c := &d.m.Unit.Components[i]; !shown[c.Name] {
			list = append(list, c)
		}
	}
	return list, lookElsewhere
}

// Causes lists the root causes that can be named; a circumstance is none.
func (d *Drill) Causes() []engine.Cause {
	return slices.DeleteFunc(slices.Clone(d.m.Knowledge.Causes), func(c engine.Cause) bool { return c.Context })
}

// UnknownError is a name that is none of those it could be.
type UnknownError struct {
	Name string
	Near []string
}

func (e *UnknownError) Error() string { return fmt.Sprintf("drill: unknown name %q", e.Name) }

// Do makes the check, takes the step or looks at the part of a name; a step
// brings with it the steps that it needs. A component inside is seen at its
// step. Where a check and a step have one name, it is the check as long as that
// is open. Errors: *UnknownError, *ShutError.
func (d *Drill) Do(name string) ([]Move, error) {
	step := d.m.Step(name)
	for i := range d.m.Knowledge.Checks {
		if d.m.Knowledge.Checks[i].Name != name {
			continue
		}
		m, err := d.ask(name)
		var shut *ShutError
		if errors.As(err, &shut) && step != nil {
			break
		}
		if err != nil {
			return nil, err
		}
		return []Move{m}, nil
	}
	if step != nil {
		return d.take(step), nil
	}
	if c := d.component(name); c != nil {
		for i := range d.m.Unit.Steps {
			if s := &d.m.Unit.Steps[i]; slices.Contains(s.Exposes, name) {
				return d.take(s), nil
			}
		}
		return []Move{d.look(c)}, nil
	}
	for i := range d.m.Knowledge.Causes {
		if c := &d.m.Knowledge.Causes[i]; c.Name == name {
			return []Move{d.cause(c)}, nil
		}
	}
	return nil, &UnknownError{name, near.Names(name, d.Names(), 3)}
}

// Names lists all that Do takes.
func (d *Drill) Names() []string {
	var out []string
	for i := range d.m.Knowledge.Checks {
		out = append(out, d.m.Knowledge.Checks[i].Name)
	}
	for i := range d.m.Unit.Steps {
		out = append(out, d.m.Unit.Steps[i].Name)
	}
	for i := range d.m.Unit.Components {
		out = append(out, d.m.Unit.Components[i].Name)
	}
	for i := range d.m.Knowledge.Causes {
		out = append(out, d.m.Knowledge.Causes[i].Name)
	}
	return out
}

// ShutError is a check that cannot be made now: its stage is past, it was made,
// it would be unsafe, or this unit has nothing to ask there.
type ShutError struct{ Check string }

func (e *ShutError) Error() string { return fmt.Sprintf("drill: check %s is not open", e.Check) }

func (d *Drill) ask(name string) (Move, error) {
	list, err := d.a.Offer(d.c, advise.Options{Only: func(k *engine.Check) bool { return k.Name == name }})
	if err != nil {
		return Move{}, err
	}
	if len(list) == 0 {
		return Move{}, &ShutError{name}
	}
	o := list[0]
	mv := Move{Kind: Ask, Name: name, Title: o.Check.Title, Minutes: o.Check.Minutes.Value}
	for _, f := range o.Findings {
		s := d.v.Say(f.Name, f.Reporter)
		mv.Answers = append(mv.Answers, d.answer(f.Name, f.Reporter, s))
		d.c.Reports = append(d.c.Reports, engine.Report{Finding: f.Name, State: s, By: f.Reporter})
	}
	return d.did(mv), nil
}

func (d *Drill) answer(finding, by string, s engine.State) Answer {
	a := Answer{Finding: finding, By: by, State: s}
	if n, ok := d.m.LookupFinding(finding); ok {
		a.About = &d.m.Nodes[n]
	}
	return a
}

// take takes a step and, before it, those that it needs.
func (d *Drill) take(s *engine.Step) []Move {
	if slices.Contains(d.c.Done, s.Name) {
		mv := Move{Kind: Step, Name: s.Name, Title: s.Title, Again: true, Seen: d.sights(s)}
		return []Move{mv}
	}
	var out []Move
	for _, before := range s.After {
		if b := d.m.Step(before); b != nil && !slices.Contains(d.c.Done, before) {
			out = append(out, d.take(b)...)
		}
	}
	mv := Move{Kind: Step, Name: s.Name, Title: s.Title, Minutes: s.Minutes.Value, Seen: d.sights(s)}
	d.c.Done = append(d.c.Done, s.Name)
	d.note(mv.Seen)
	return append(out, d.did(mv))
}

// sights is what a step brings into view.
func (d *Drill) sights(s *engine.Step) []Sight {
	var out []Sight
	for _, name := range s.Exposes {
		if c := d.component(name); c != nil {
			out = append(out, d.sight(c))
		}
	}
	return out
}

func (d *Drill) sight(c *engine.Component) Sight {
	s := Sight{Component: c.Name, Title: engine.TitleOr(c.Title, c.Name), Culprit: slices.Contains(d.cul, c.Name)}
	for _, n := range d.modes(c.Name) {
		s.Modes = append(s.Modes, d.m.Nodes[n].Mode.Title)
	}
	return s
}

// note writes what is in view into the case.
func (d *Drill) note(list []Sight) {
	for _, s := range list {
		d.found[s.Component] = d.found[s.Component] || s.Culprit
		modes := d.modes(s.Component)
		if len(modes) == 0 {
			d.c.Seen = append(d.c.Seen, engine.Seen{Component: s.Component, Cleared: true})
		}
		for _, n := range modes {
			d.c.Seen = append(d.c.Seen, engine.Seen{Component: s.Component, Mode: d.m.Nodes[n].Mode.Name})
		}
	}
}

// look looks at a part that no step shows.
func (d *Drill) look(c *engine.Component) Move {
	mv := Move{Kind: Look, Name: c.Name, Title: engine.TitleOr(c.Title, c.Name), Minutes: lookElsewhere, Seen: []Sight{d.sight(c)}}
	for _, m := range d.moves {
		if m.Kind == Look && m.Name == c.Name {
			mv.Again, mv.Minutes = true, 0
			return mv
		}
	}
	d.note(mv.Seen)
	return d.did(mv)
}

// cause names a root cause. It costs nothing, right or wrong.
func (d *Drill) cause(c *engine.Cause) Move {
	mv := Move{Kind: Cause, Name: c.Name, Title: c.Title, Right: slices.Contains(d.causes, c.Name)}
	d.named[c.Name] = true
	return d.did(mv)
}

func (d *Drill) did(mv Move) Move {
	d.moves = append(d.moves, mv)
	d.minutes += mv.Minutes
	return mv
}
