package bench

import (
	"context"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"sync"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/library"
	"slipcase/cmd/internal/desk/practice"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
)

// mostDrills are played at once: a class, and a few forgotten ones.
const mostDrills = 60

// drills are the vehicles that are being played, oldest first. They are gone
// when the program ends; the same unit, level and seed give the same vehicle.
type drills struct {
	making locks // by key: what is sent twice at the same moment is drawn once

	mu   sync.Mutex
	list []*drillRun
}

// drillRun is one vehicle with what its student did.
type drillRun struct {
	id string

	mu    sync.Mutex
	x     *practice.Drill
	best  func() (practice.DrillBest, error)
	log   [][]practice.DrillTold // what came of each move
	keys  []string               // of forms that were taken
	fault string                 // why the last move was none
	sheet *practice.DrillSheet
}

func (d *drills) find(id string) *drillRun {
	d.mu.Lock()
	defer d.mu.Unlock()
	for _, x := range d.list {
		if x.id == id {
			return x
		}
	}
	return nil
}

// add keeps a drill, made once for each key, however often and at whatever
// moments it is asked for.
func (d *drills) add(id string, make func() (*drillRun, error)) error {
	free := d.making.hold(id)
	defer free()
	if d.find(id) != nil {
		return nil
	}
	x, err := make()
	if err != nil {
		return err
	}
	x.id = id
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.list = append(d.list, x); len(d.list) > mostDrills {
		d.list = d.list[1:]
	}
	return nil
}

type drillForm struct {
	Units  []library.Unit
	Levels []level
	Unit   string
	Level  string
	Seed   string
}

type level struct{ Name, Task string }

// drillPage chooses a vehicle to practice on.
func (s *Server) drillPage(r *http.Request) (view, error) {
	v := view{Page: "drill", Title: "Practice"}
	units, err := s.units(r)
	if err != nil {
		return v, err
	}
	d := drillForm{Units: units, Unit: r.FormValue("unit"), Level: r.FormValue("level"), Seed: r.FormValue("seed")}
	for _, l := range practice.DrillLevels() {
		d.Levels = append(d.Levels, level{l, wording.DrillTask(l)})
		if d.Level == "" {
			d.Level = l
		}
	}
	v.Data = d
	return v, nil
}

// beginDrill draws the vehicle.
func (s *Server) beginDrill(w http.ResponseWriter, r *http.Request) {
	key := r.PostFormValue("key")
	seed, err := strconv.ParseUint(strings.TrimSpace(r.PostFormValue("seed")), 10, 64)
	student := strings.TrimSpace(r.PostFormValue("student"))
	switch {
	case !goodKey.MatchString(key):
		err = answer.Fail(answer.WrongUse, "the drill has no key", "open the page again")
	case err != nil:
		err = answer.Fail(answer.WrongUse, "the number of the vehicle is not a whole number", "")
	case len(student) > 60:
		err = answer.Fail(answer.WrongUse, "the name is too long", "")
	case strings.ContainsAny(r.PostFormValue("unit"), `./\\`):
		err = answer.Fail(answer.NotFound, "there is no such unit", "") // files are named at the terminal only
	default:
		err = s.drills.add(key, func() (*drillRun, error) {
			return s.newDrill(context.WithoutCancel(r.Context()), r.PostFormValue("unit"), r.PostFormValue("level"), seed, student)
		})
	}
	if err != nil {
		s.failed(w, r, err)
		return
	}
	http.Redirect(w, r, "/drill/"+url.PathEscape(key), http.StatusSeeOther)
}

// newDrill draws a vehicle. The advised way is worked out meanwhile, once for
// all students that have the same one.
func (s *Server) newDrill(ctx context.Context, unit, level string, seed uint64, student string) (*drillRun, error) {
	x, err := s.desk.Drill(ctx, unit, level, seed, student)
	if err != nil {
		return nil, err
	}
	rules, err := s.desk.ShopPrint()
	if err != nil {
		return nil, err
	}
	best := func() (practice.DrillBest, error) {
		return remember(&s.kept, fmt.Sprint("advised way ", rules, unit, level, seed), func() (practice.DrillBest, error) {
			other, err := s.desk.Drill(ctx, unit, level, seed, "")
			if err != nil {
				return practice.DrillBest{}, err
			}
			return other.Best()
		})
	}
	go func() {
		defer func() { recover() }() // that it failed is told at the end
		best()
	}()
	return &drillRun{x: x, best: best}, nil
}

type drillData struct {
	ID        string
	Unit      string
	Seed      uint64
	Student   string
	Minutes   float64
	Task      string
	Complaint []string
	Fault     string
	Last      []practice.DrillTold // what came of the last move
	Before    []practice.DrillTold // of those before, newest first
	Checks    []drillStage
	Steps     []practice.DrillChoice
	Parts     []practice.DrillChoice
	Causes    []practice.DrillChoice
	Chart     *chartData
	Sheet     *practice.DrillSheet
	Compare   []drillRow
	Again     string // address of the same vehicle for somebody else
}

type drillStage struct {
	Name   engine.Stage
	Checks []practice.DrillChoice
}

// drillRow sets a move of the student beside one of the advised way.
type drillRow struct{ Yours, Advised *practice.DrillMove }

// playPage shows what is known, what can be done, or the result.
func (s *Server) playPage(r *http.Request) (view, error) {
	run := s.drills.find(r.PathValue("drill"))
	if run == nil {
		return view{}, answer.Fail(answer.NotFound, "that drill is over", "begin it again: the same unit, level and number give the same vehicle")
	}
	run.mu.Lock()
	defer run.mu.Unlock()
	x := run.x
	v := view{Page: "play", Title: "Practice, " + x.UnitID()}
	// Copies: the page is made after the lock is given back.
	d := drillData{ID: run.id, Unit: x.Unit(), Seed: x.Seed(), Student: x.Student(), Minutes: x.Minutes(), Task: wording.DrillTask(x.Level()),
		Complaint: x.Complaint(), Fault: run.fault, Sheet: run.sheet}
	d.Again = "/drill?" + url.Values{"unit": {x.UnitID()}, "level": {x.Level()}, "seed": {fmt.Sprint(x.Seed())}}.Encode()
	v.Data = &d
	if d.Sheet != nil {
		for i := range max(len(d.Sheet.Yours.Moves), len(d.Sheet.Advised.Moves)) {
			var row drillRow
			if i < len(d.Sheet.Yours.Moves) {
				row.Yours = &d.Sheet.Yours.Moves[i]
			}
			if i < len(d.Sheet.Advised.Moves) {
				row.Advised = &d.Sheet.Advised.Moves[i]
			}
			d.Compare = append(d.Compare, row)
		}
	} else if err := s.choices(x, &d); err != nil {
		return v, err
	}
	if n := len(run.log); n > 0 {
		d.Last = run.log[n-1]
		for _, told := range slices.Backward(run.log[:n-1]) {
			d.Before = append(d.Before, told...)
		}
	}
	ans, err := s.desk.Chart(r.Context(), x.UnitID(), library.FaultFlags{})
	if err == nil {
		c := chartOf(ans.Data)
		d.Chart = &c
	}
	return v, err
}

// choices are all that can be done now.
func (s *Server) choices(x *practice.Drill, d *drillData) error {
	list, err := x.Checks()
	if err != nil {
		return err
	}
	for _, c := range list {
		if n := len(d.Checks); n == 0 || d.Checks[n-1].Name != c.Stage {
			d.Checks = append(d.Checks, drillStage{Name: c.Stage})
		}
		last := &d.Checks[len(d.Checks)-1]
		last.Checks = append(last.Checks, c)
	}
	d.Steps, d.Parts, d.Causes = x.Steps(), x.Elsewhere(), x.Causes()
	return nil
}

// playMove makes a check, takes a step, looks at a part or names a root cause;
// the same form sent twice counts once.
func (s *Server) playMove(w http.ResponseWriter, r *http.Request) {
	run := s.drills.find(r.PathValue("drill"))
	if run == nil {
		s.failed(w, r, answer.Fail(answer.NotFound, "that drill is over", ""))
		return
	}
	run.mu.Lock()
	defer run.mu.Unlock()
	key := r.PostFormValue("key")
	if run.sheet == nil && goodKey.MatchString(key) && !slices.Contains(run.keys, key) {
		run.keys = append(run.keys, key)
		if err := run.do(r.PostFormValue("do"), r.PostFormValue("end") != ""); err != nil {
			s.failed(w, r, err)
			return
		}
	}
	http.Redirect(w, r, "/drill/"+url.PathEscape(run.id), http.StatusSeeOther)
}

// do makes a move, or ends the drill.
func (run *drillRun) do(name string, end bool) error {
	run.fault = ""
	if !end {
		told, err := run.x.Do(name)
		if err != nil {
			f := answer.AsFailure(err)
			if f.Code != answer.NotFound && f.Code != answer.Conflict {
				return err
			}
			run.fault = wording.Capital(f.Error())
		}
		if len(told) > 0 {
			run.log = append(run.log, told)
		}
	}
	if end || run.x.Over() {
		best, err := run.best()
		if err != nil {
			return err
		}
		run.x.TakeBest(best)
		ans, err := run.x.Sheet()
		if err != nil {
			return err
		}
		run.sheet = &ans.Data
	}
	return nil
}
