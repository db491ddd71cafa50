package asking

import (
	"context"
	"log/slog"
	"os"
	"slices"
	"strconv"
	"sync"
	"testing"

	"slipcase/cmd/internal/load"
	"slipcase/engine"
	"slipcase/engine/advise"
	"slipcase/engine/model"
	"slipcase/engine/trial"
	"slipcase/internal/size"
)

// job is how one way of working got to everything behind a complaint.
type job struct {
	minutes float64 // of checks and steps, with putting back
	checks  float64 // of them, of checks
	causes  float64 // minutes that the root causes left are to cost
	missed  bool    // the job was taken for done before that; the rest is in minutes
}

// culprits are the components that have brought a vehicle's complaint about and
// that a step shows.
func culprits(m *model.Model, v *trial.Vehicle) map[string]bool {
	out := map[string]bool{}
	for _, n := range v.Behind() {
		c := m.Nodes[n].Component
		if m.Nodes[n].Layer == model.ModeLayer && slices.ContainsFunc(m.Unit.Steps, func(s engine.Step) bool { return slices.Contains(s.Exposes, c.Name) }) {
			out[c.Name] = true
		}
	}
	return out
}

// spent is the minutes of a step, with those of putting back what it takes off in
// the vehicle and for the pull: once the unit is out they are the build's, which
// strips it whatever was found (see teardown.Remaining).
func spent(s *engine.Step) float64 {
	if s.Stage == engine.StageInVehicle || s.Pulls {
		return s.Minutes.Value + s.Refit.Value
	}
	return s.Minutes.Value
}

// look does a step: its parts are in view and noted.
func look(m *model.Model, v *trial.Vehicle, c *engine.CaseFile, s *engine.Step, open map[string]bool) {
	c.Done = append(c.Done, s.Name)
	for _, name := range s.Exposes {
		delete(open, name)
		seen := engine.Seen{Component: name, Cleared: true}
		for _, n := range m.ModesOf(name) {
			if v.On(n) {
				seen = engine.Seen{Component: name, Mode: m.Nodes[n].Mode.Name}
			}
		}
		c.Seen = append(c.Seen, seen)
	}
}

// until goes through steps in an order until all of some components are in view.
func until(m *model.Model, v *trial.Vehicle, c *engine.CaseFile, order []string, open map[string]bool) (minutes float64) {
	for _, name := range order {
		if len(open) == 0 {
			break
		}
		if !slices.Contains(c.Done, name) {
			minutes += spent(m.Step(name))
			look(m, v, c, m.Step(name), open)
		}
	}
	return minutes
}

// knowing is the minutes of the steps without which the components are not in view:
// what is left where everything is known beforehand.
func knowing(m *model.Model, open map[string]bool) job {
	needed := map[string]bool{}
	var need func(s *engine.Step, into map[string]bool)
	need = func(s *engine.Step, into map[string]bool) {
		if into[s.Name] {
			return
		}
		into[s.Name] = true
		for _, a := range s.After {
			need(m.Step(a), into)
		}
	}
	minutes := func(of map[string]bool) (sum float64) {
		for name := range of {
			sum += spent(m.Step(name))
		}
		return sum
	}
	for c := range open {
		var best map[string]bool
		for i := range m.Unit.Steps {
			s := &m.Unit.Steps[i]
			if !slices.Contains(s.Exposes, c) {
				continue
			}
			with := map[string]bool{}
			need(s, with)
			if best == nil || minutes(with) < minutes(best) {
				best = with
			}
		}
		for name := range best {
			needed[name] = true
		}
	}
	return job{minutes: minutes(needed)}
}

// inOrder goes through the steps in an order without any check. The root causes that
// are left cost what they cost a job as advised.
func inOrder(t *testing.T, w *Work, v *trial.Vehicle, order []string, open map[string]bool) job {
	t.Helper()
	out := job{minutes: until(w.Model, v, w.Case, order, clone(open))}
	x, err := w.course(advise.Options{Best: 1}, true)
	if err != nil {
		t.Error(err)
		return out
	}
	return out.with(x)
}

// with adds what the root causes that are left are to cost: to be put right on
// suspicion, or to bring the vehicle back.
func (j job) with(x *course) job {
	if x.advice != nil {
		j.causes = x.advice.Causes
	}
	return j
}

func clone(x map[string]bool) map[string]bool {
	out := map[string]bool{}
	for k := range x {
		out[k] = true
	}
	return out
}

// advised follows the one thing to do now from the complaint to the end; in haste it
// leaves out checks that only tell more and save no minutes.
func advised(t *testing.T, w *Work, v *trial.Vehicle, open map[string]bool, hasty bool) job {
	t.Helper()
	m, c := w.Model, w.Case
	var out job
	open = clone(open)
	rest := func(x *course) job {
		out.missed = true
		out.minutes += until(m, v, c, x.plan.Bench.Order, open)
		return out.with(x)
	}
	asked := map[string]bool{}
	for range 80 {
		x, err := w.course(advise.Options{Best: 1}, false)
		if err != nil {
			t.Error(err)
			return out
		}
		for i := range x.plan.Steps {
			if s := &x.plan.Steps[i]; s.Looked {
				for _, name := range s.Step.Exposes {
					delete(open, name)
				}
			}
		}
		if len(open) == 0 {
			return out.with(x)
		}
		move := x.move()
		if hasty && move.Kind == "check" && x.advice.Checks[0].Saves <= x.advice.Checks[0].Minutes {
			move = x.step()
		}
		switch move.Kind {
		case "check":
			if asked[move.Name] {
				t.Errorf("%s is asked for twice", move.Name)
				return out
			}
			asked[move.Name] = true
			c.Put = append(c.Put, move.Name)
			out.minutes += float64(move.Minutes)
			out.checks += float64(move.Minutes)
			for i := range m.Knowledge.Checks {
				k := &m.Knowledge.Checks[i]
				if k.Name != move.Name {
					continue
				}
				for _, y := range k.Yields {
					for _, name := range m.Match(y) {
						c.Reports = append(c.Reports, engine.Report{Finding: name, State: v.Say(name, k.Reporter), By: k.Reporter})
					}
				}
			}
		case "step":
			s := m.Step(move.Name)
			out.minutes += spent(s)
			look(m, v, c, s, open)
		default: // repair, repaired, verify, none, and something is left
			return rest(x)
		}
	}
	t.Error("no end")
	return out
}

// Minutes from the complaint to all that is behind it in view and what was taken off
// back on, as advised with checks and trial repairs, against going for the likeliest
// part first and against the plain bench order, both without checks: one drawn
// vehicle, or with SLIPCASE_LONG=1 forty (VEHICLES) of each of two units.
func TestSavings(t *testing.T) {
	units, n := []string{"harrow-3"}, 1
	if os.Getenv("SLIPCASE_LONG") == "1" {
		units, n = []string{"northfork-4", "harrow-3"}, 40
		if k, err := strconv.Atoi(os.Getenv("VEHICLES")); err == nil {
			n = k
		}
	}
	l := load.New(t.TempDir(), false, slog.New(slog.DiscardHandler))
	type sums struct{ advised, hasty, planned, likely, bench, knowing job }
	add := func(j *job, o job) {
		j.minutes, j.checks, j.causes = j.minutes+o.minutes, j.checks+o.checks, j.causes+o.causes
	}
	var all sums
	jobs, missed := 0, 0
	for _, unit := range units {
		x, u, err := l.Unit(context.Background(), unit)
		if err != nil {
			t.Fatal(err)
		}
		m, err := x.Model(u.ID)
		if err != nil {
			t.Fatal(err)
		}
		source := trial.NewVehicles(m)
		var mu sync.Mutex
		var sum sums
		var work sync.WaitGroup
		slots := make(chan bool, 2)
		k := 0
		for i := size.Of[uint64](2, 0, 0); k < n; i++ { // 2 is soon found
			v, err := source.Draw(77, i)
			if err != nil {
				t.Fatal(err)
			}
			open := culprits(m, v)
			if len(open) == 0 {
				continue
			}
			k++
			slots <- true
			work.Go(func() {
				defer func() { <-slots }()
				begun := func() *Work {
					return &Work{Knowledge: x.Knowledge, Model: m.WithContext(context.Background()), Case: &engine.CaseFile{Unit: unit, Reports: slices.Clone(v.Opening())}}
				}
				first, err := begun().course(advise.Options{Best: 1}, false)
				if err != nil {
					t.Error(err)
					return
				}
				var planned []string
				for i := range first.plan.Steps {
					planned = append(planned, first.plan.Steps[i].Step.Name)
				}
				one := sums{
					advised: advised(t, begun(), v, open, false),
					planned: inOrder(t, begun(), v, planned, open),
					likely:  inOrder(t, begun(), v, first.plan.Likely.Order, open),
					bench:   inOrder(t, begun(), v, first.plan.Bench.Order, open),
					knowing: knowing(m, open),
				}
				if len(units) > 1 {
					one.hasty = advised(t, begun(), v, open, true)
				}
				mu.Lock()
				defer mu.Unlock()
				if os.Getenv("EACH") != "" {
					t.Logf("%v: %+v", open, one)
				}
				add(&sum.advised, one.advised)
				add(&sum.hasty, one.hasty)
				add(&sum.planned, one.planned)
				add(&sum.likely, one.likely)
				add(&sum.bench, one.bench)
				add(&sum.knowing, one.knowing)
				if one.advised.missed {
					missed++
				}
				m.Forget()
			})
		}
		work.Wait()
		show := func(name string, j job) {
			t.Logf("%s, %d vehicles, %-15s %.0f min, of them checks %.0f; %.0f more for root causes", unit, k, name+":", j.minutes/float64(k), j.checks/float64(k), j.causes/float64(k))
		}
		show("advised", sum.advised)
		show("in haste", sum.hasty)
		show("plan, no checks", sum.planned)
		show("likeliest first", sum.likely)
		show("bench order", sum.bench)
		show("all known", sum.knowing)
		add(&all.advised, sum.advised)
		add(&all.planned, sum.planned)
		add(&all.likely, sum.likely)
		add(&all.bench, sum.bench)
		jobs += k
	}
	saves := func(a, b job) float64 { return 100 * (1 - (a.minutes+a.causes)/(b.minutes+b.causes)) }
	t.Logf("%d vehicles: as advised saves %.1f%% on likeliest first, %.1f%% on the plan without checks, %.1f%% on bench order; %d taken for done too soon", jobs, saves(all.advised, all.likely), saves(all.advised, all.planned), saves(all.advised, all.bench), missed)
	// One vehicle tells nothing. 40% are aimed at; 40.7 were measured.
	if len(units) > 1 && saves(all.advised, all.bench) < 38 {
		t.Errorf("as advised %.1f%% are saved on bench order, want 38%%", saves(all.advised, all.bench))
	}
}
