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
	minutes float64 // of checks and steps, and of putting back what was taken off
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

// until is the minutes of steps in an order until all of some components are in
// view, with putting back.
func until(m *model.Model, order []string, done []string, open map[string]bool) float64 {
	open = clone(open)
	sum := 0.0
	for _, name := range order {
		if len(open) == 0 {
			break
		}
		if slices.Contains(done, name) {
			continue
		}
		s := m.Step(name)
		sum += s.Minutes.Value + s.Refit.Value
		for _, c := range s.Exposes {
			delete(open, c)
		}
	}
	return sum
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
	rest := func(order []string) job {
		out.missed = true
		out.minutes += until(m, order, c.Done, open)
		return out
	}
	asked := map[string]bool{}
	for range 80 {
		x, err := w.course(advise.Options{}, false)
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
			return out
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
			out.minutes += s.Minutes.Value + s.Refit.Value
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
		default: // repair, repaired, verify, none, and something is left
			return rest(x.plan.Bench.Order)
		}
	}
	t.Error("no end")
	return out
}

// Minutes from the complaint to all that is behind it in view and what was taken off
// back on, as advised with checks and trial repairs, against going for the likeliest
// part first and against the plain bench order, both without checks: one drawn
// vehicle, as advised alone in an ordinary run, or with SLIPCASE_LONG=1 forty (VEHICLES)
// of each of two units.
func TestSavings(t *testing.T) {
	units, n := []string{"harrow-3"}, 1
	if os.Getenv("SLIPCASE_LONG") == "1" {
		units, n = []string{"northfork-4", "harrow-3"}, 40
		if k, err := strconv.Atoi(os.Getenv("VEHICLES")); err == nil {
			n = k
		}
	}
	l := load.New(t.TempDir(), false, slog.New(slog.DiscardHandler))
	var all, haste, likely, bench float64
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
		var a, h, b, c float64
		var work sync.WaitGroup
		slots := make(chan bool, 2)
		k := 0
		for i := uint64(0); k < n; i++ {
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
				first, err := begun().course(advise.Options{}, false)
				if err != nil {
					t.Error(err)
					return
				}
				j := advised(t, begun(), v, open, false)
				q := j
				if size.Of(false, true, true) {
					q = advised(t, begun(), v, open, true)
				}
				mu.Lock()
				defer mu.Unlock()
				b += until(m, first.plan.Likely.Order, nil, open)
				c += until(m, first.plan.Bench.Order, nil, open)
				a, h = a+j.minutes, h+q.minutes
				if j.missed {
					missed++
				}
				m.Forget()
			})
		}
		work.Wait()
		t.Logf("%s, %d vehicles: advised %.0f min, without checks that save nothing %.0f, likeliest first %.0f, bench order %.0f", unit, k, a/float64(k), h/float64(k), b/float64(k), c/float64(k))
		all, haste, likely, bench, jobs = all+a, haste+h, likely+b, bench+c, jobs+k
	}
	t.Logf("%d vehicles: saves %.1f%% on likeliest first (%.1f%% without checks that save nothing), %.1f%% on bench order; %d taken for done too soon", jobs, 100*(1-all/likely), 100*(1-haste/likely), 100*(1-all/bench), missed)
	if len(units) > 1 && all > 0.6*bench { // one vehicle tells nothing
		t.Errorf("advised %.0f min, bench order %.0f: less than 40%% are saved", all, bench)
	}
}
