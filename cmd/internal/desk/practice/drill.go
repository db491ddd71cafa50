package practice

import (
	"context"
	"errors"
	"slices"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/shown"
	"slipcase/cmd/internal/fault"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
	"slipcase/engine/drill"
)

// DrillSheet is the result sheet of a drill.
type DrillSheet struct {
	Unit      string         `json:"unit"`
	UnitTitle string         `json:"unit_title"`
	Level     string         `json:"level"`
	Seed      uint64         `json:"seed"`
	Student   string         `json:"student"`
	Complaint []string       `json:"complaint"`
	Found     bool           `json:"found"` // all that the level asks for
	Culprits  []DrillCulprit `json:"culprits"`
	Causes    []string       `json:"causes"` // root causes behind the complaint
	Yours     DrillWay       `json:"student_way"`
	Advised   DrillWay       `json:"advised_way"`
}

// DrillCulprit is a part behind the complaint.
type DrillCulprit struct {
	Component string   `json:"component"`
	Title     string   `json:"title"`
	Modes     []string `json:"modes"`
	Signs     []string `json:"signs"` // the first of what it showed in rows, shifts and engagements
	MoreSigns int      `json:"more_signs"`
	Found     bool     `json:"found"`
}

// DrillWay is a way from the complaint to the culprit.
type DrillWay struct {
	Moves   []DrillMove `json:"moves"`
	Minutes answer.Num  `json:"minutes"`
	Found   bool        `json:"found"`
	Idle    int         `json:"idle"` // moves that the other way does without
}

// DrillMove is one move of a way.
type DrillMove struct {
	Kind    string     `json:"kind"` // ask, step, look or cause
	Name    string     `json:"name"`
	Title   string     `json:"title"`
	Minutes answer.Num `json:"minutes"`
}

// DrillChoice is something that may be done now.
type DrillChoice struct {
	Name, Title string
	Stage       engine.Stage // "" for steps
	Minutes     float64
}

// Drill is a drill at work. Nothing is written.
type Drill struct {
	d       *drill.Drill
	unit    *engine.Unit
	hash    string
	seed    uint64
	student string
}

// DrillLevels are the names of the levels.
func DrillLevels() []string {
	var out []string
	for _, l := range drill.Levels {
		out = append(out, string(l))
	}
	return out
}

// Drill draws the vehicle of a unit, level and seed; all that is asked of it
// later ends with ctx. Fails with WrongUse for a
// level that is none, with NotFound for a unit that is not known or a level
// that its rules hardly ever lead to.
func (d *Practice) Drill(ctx context.Context, unit, level string, seed uint64, student string) (*Drill, error) {
	if !slices.Contains(DrillLevels(), level) {
		return nil, fault.WrongUse(wording.NoLevel(level, DrillLevels()))
	}
	x, u, err := d.load.Unit(ctx, unit)
	if err != nil {
		return nil, err
	}
	m, err := x.Model(u.ID)
	if err != nil {
		return nil, err
	}
	dr, err := drill.New(m.WithContext(ctx), drill.Level(level), seed)
	switch {
	case errors.Is(err, drill.ErrNone):
		return nil, fault.Fail(answer.NotFound, wording.NoVehicle(level, u.ID, seed)).Because(err)
	case err != nil:
		return nil, fault.Under(x.Knowledge, err)
	}
	return &Drill{d: dr, unit: u, hash: x.Knowledge.Hash, seed: seed, student: student}, nil
}

// Unit is the title of the unit.
func (x *Drill) Unit() string { return x.unit.Title }

// Minutes is what all moves took so far.
func (x *Drill) Minutes() float64 { return x.d.Minutes() }

// Over tells whether all that the level asks for was found.
func (x *Drill) Over() bool { return x.d.Over() }

// Complaint is what the vehicle came in with, each in words with who says it.
func (x *Drill) Complaint() []string { return drillAnswers(x.d.Opening()) }

// drillAnswers words the answers of a check: what is there first.
func drillAnswers(list []drill.Answer) []string {
	var out []string
	for _, state := range []engine.State{engine.Present, engine.Absent} {
		for _, a := range list {
			if a.State == state {
				out = append(out, wording.DrillAnswer(a))
			}
		}
	}
	return out
}

// Checks lists the checks that may be made now, by stage. Fails as Drill does,
// but for names.
func (x *Drill) Checks() ([]DrillChoice, error) {
	list, err := x.d.Checks()
	if err != nil {
		return nil, err
	}
	var out []DrillChoice
	for _, o := range list {
		out = append(out, DrillChoice{o.Check.Name, o.Check.Title, o.Check.Stage, o.Check.Minutes.Value})
	}
	rank := func(s engine.Stage) int { return slices.Index(engine.Stages, s) }
	slices.SortStableFunc(out, func(a, b DrillChoice) int { return rank(a.Stage) - rank(b.Stage) })
	return out, nil
}

// Steps lists the teardown steps that are left.
func (x *Drill) Steps() []DrillChoice {
	var out []DrillChoice
	for _, s := range x.d.Steps() {
		out = append(out, DrillChoice{s.Name, s.Title, "", s.Minutes.Value})
	}
	return out
}

// Elsewhere lists the parts that no step shows: they are looked at by
// themselves.
func (x *Drill) Elsewhere() []DrillChoice {
	var out []DrillChoice
	list, minutes := x.d.Elsewhere()
	for _, c := range list {
		out = append(out, DrillChoice{c.Name, wording.Title(c.Title, c.Name), "", minutes})
	}
	return out
}

// Causes lists the root causes that can be named; it costs no minutes.
func (x *Drill) Causes() []DrillChoice {
	var out []DrillChoice
	for _, c := range x.d.Causes() {
		out = append(out, DrillChoice{c.Name, wording.Title(c.Title, c.Name), "", 0})
	}
	return out
}

// Level is what is to be found.
func (x *Drill) Level() string { return string(x.d.Level()) }

// Seed is the number that the vehicle was drawn by.
func (x *Drill) Seed() uint64 { return x.seed }

// Student is who plays, "" where that is not said.
func (x *Drill) Student() string { return x.student }

// UnitID names the unit.
func (x *Drill) UnitID() string { return x.unit.ID }

// DrillTold is what came of a move, in words.
type DrillTold struct {
	DrillMove
	Again bool
	Right bool     // of a root cause that was named
	Lines []string // answers, or what came into view
}

// Do makes the check, takes the step, looks at the part or names the root
// cause of a name. Fails with NotFound for a name that is none of these, with
// Conflict for a check that cannot be made now.
func (x *Drill) Do(name string) ([]DrillTold, error) {
	moves, err := x.d.Do(name)
	var unknown *drill.UnknownError
	var shut *drill.ShutError
	switch {
	case errors.As(err, &unknown):
		return nil, fault.Fail(answer.NotFound, wording.NoMove(name, unknown.Near)).Because(err)
	case errors.As(err, &shut):
		return nil, fault.Conflict(wording.MoveShut(name)).Because(err)
	case err != nil:
		return nil, err
	}
	var out []DrillTold
	for _, m := range moves {
		t := DrillTold{DrillMove: drillMove(m), Again: m.Again, Right: m.Right, Lines: drillAnswers(m.Answers)}
		for _, s := range m.Seen {
			t.Lines = append(t.Lines, wording.DrillSight(s))
		}
		out = append(out, t)
	}
	return out, nil
}

func drillMove(m drill.Move) DrillMove {
	return DrillMove{string(m.Kind), m.Name, m.Title, answer.Num(m.Minutes)}
}

// DrillBest is the advised way with the vehicle of a unit, level and seed.
type DrillBest struct{ way drill.Way }

// Best works out the advised way, which takes some seconds. Fails as Drill does,
// but for names.
func (x *Drill) Best() (DrillBest, error) {
	w, err := x.d.Advised()
	return DrillBest{w}, err
}

// TakeBest takes the advised way from another drill of the same vehicle.
func (x *Drill) TakeBest(b DrillBest) { x.d.SetAdvised(b.way) }

// Sheet ends the drill: what was wrong, and how the advised way would have gone.
// Fails as Drill does, but for names.
func (x *Drill) Sheet() (answer.Answer[DrillSheet], error) {
	r, err := x.d.Result()
	if err != nil {
		return answer.Answer[DrillSheet]{}, err
	}
	s := DrillSheet{Unit: x.unit.ID, UnitTitle: x.unit.Title, Level: string(x.d.Level()), Seed: x.seed, Student: x.student,
		Complaint: x.Complaint(), Found: r.Found, Causes: append([]string{}, r.Causes...), Culprits: []DrillCulprit{},
		Yours: drillWay(r.Student), Advised: drillWay(r.Advised)}
	for _, c := range r.Culprits {
		var all []string
		for _, n := range c.Signs {
			all = append(all, wording.Node(n))
		}
		slices.Sort(all)
		signs, more := shown.First(slices.Compact(all), shown.MostSigns)
		s.Culprits = append(s.Culprits, DrillCulprit{c.Component, c.Title, c.Modes, append([]string{}, signs...), more, c.Found})
	}
	return answer.Answer[DrillSheet]{Rules: x.hash, Data: s}, nil
}

func drillWay(w drill.Way) DrillWay {
	out := DrillWay{Moves: []DrillMove{}, Minutes: answer.Num(w.Minutes), Found: w.Found, Idle: w.Idle}
	for _, m := range w.Moves {
		if !m.Again {
			out.Moves = append(out.Moves, drillMove(m))
		}
	}
	return out
}
