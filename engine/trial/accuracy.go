package trial

import (
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"sort"
	"sync"
	"sync/atomic"

	"slipcase/engine"
	"slipcase/engine/diagnose"
	"slipcase/engine/model"
)

// Settings of an accuracy trial.
type Settings struct {
	Cases   int
	Seed    uint64
	Reports int     // soft reports a case, drawn from every stage before pulling (default 30)
	Perturb float64 // diagnose with every rule number off by a factor of up to this (1 or less: as they are)
	// Any draws any unit, complaint or none, and reports that do not depend on
	// what is there: the model then knows all there is to know of how the case
	// came about, and its probabilities must be right.
	Any bool
	// Progress is told after every case, from any goroutine; may be nil.
	Progress func(done int)
}

// Accuracy is what an accuracy trial found.
type Accuracy struct {
	Cases       int
	Top1, Top3  float64 // share of cases with a failed component first, within the first three
	Brier       float64 // mean squared error of the leader's probability
	Calibration float64 // expected calibration error of the leader, ten bins
	Bins        []Bin
	FaultsMean  float64 // failed components a case
}

// Bin is one bin of the leader's probability.
type Bin struct {
	Low, High float64
	Cases     int
	Said      float64 // mean probability of the leader
	Right     float64 // share that had really failed
}

// Measure draws cases from the model's own numbers, diagnoses them with the
// same or with perturbed numbers, and counts how often the leader is right.
func Measure(m *model.Model, s Settings) (*Accuracy, error) {
	if s.Reports == 0 {
		s.Reports = 30
	}
	type outcome struct {
		p           float64
		first, top3 bool
		faults      int
	}
	out := make([]outcome, s.Cases)
	err := each(s.Cases, func(i int) error {
		if err := m.Ended(); err != nil {
			return err
		}
		rng := rand.New(rand.NewPCG(s.Seed, uint64(i)))
		file := &engine.CaseFile{ID: fmt.Sprint(i), Unit: m.Unit.ID}
		var truth *Truth
		if s.Any {
			truth = DrawAny(m, rng)
			file.Reports = battery(m, truth, s.Reports, 0, rng)
		} else {
			truth = Draw(m, rng)
			file.Reports = Battery(m, truth, s.Reports, rng)
		}
		used := m
		if s.Perturb > 1 {
			var err error
			if used, err = Perturbed(m, s.Perturb, s.Seed+1, uint64(i)); err != nil {
				return err
			}
		}
		r, diags, err := diagnose.Case(used, file, diagnose.Options{Top: 3})
		if err != nil {
			return err
		}
		if r == nil {
			return diags[0]
		}
		o := outcome{p: r.Suspects[0].P, first: truth.Has(r.Suspects[0].Component.Name), faults: len(truth.Failed)}
		for _, x := range r.Suspects[:min(3, len(r.Suspects))] {
			o.top3 = o.top3 || truth.Has(x.Component.Name)
		}
		out[i] = o
		if s.Progress != nil {
			s.Progress(i + 1)
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	a := &Accuracy{Cases: s.Cases}
	for b := 0; b < 10; b++ {
		a.Bins = append(a.Bins, Bin{Low: float64(b) / 10, High: float64(b+1) / 10})
	}
	for _, o := range out {
		right := 0.0
		if o.first {
			right = 1
		}
		a.Top1 += right
		if o.top3 {
			a.Top3++
		}
		a.Brier += (o.p - right) * (o.p - right)
		a.FaultsMean += float64(o.faults)
		b := &a.Bins[min(9, int(o.p*10))]
		b.Cases++
		b.Said += o.p
		b.Right += right
	}
	n := float64(s.Cases)
	for i := range a.Bins {
		b := &a.Bins[i]
		if b.Cases > 0 {
			a.Calibration += math.Abs(b.Said-b.Right) / n
			b.Said /= float64(b.Cases)
			b.Right /= float64(b.Cases)
		}
	}
	a.Top1, a.Top3, a.Brier, a.FaultsMean = a.Top1/n, a.Top3/n, a.Brier/n, a.FaultsMean/n
	return a, nil
}

// Battery draws the reports of a case as they stand before pulling. The driver
// volunteers up to four symptoms that are there and that he notices; then come,
// whatever the truth, the question in which gears, the pan and the fluid, and
// the pressures; then random findings of the same stages.
func Battery(m *model.Model, t *Truth, reports int, rng *rand.Rand) []engine.Report {
	return battery(m, t, reports, 4, rng)
}

// battery is Battery with so many symptoms volunteered at most.
func battery(m *model.Model, t *Truth, reports, volunteered int, rng *rand.Rand) []engine.Report {
	var core, others, symptoms []string
	by := map[string]string{}
	for i := range m.Knowledge.Checks {
		c := &m.Knowledge.Checks[i]
		switch c.Stage {
		case engine.StageInterview, engine.StageRoad, engine.StageGauges, engine.StagePan:
		default:
			continue
		}
		for _, y := range c.Yields {
			for _, name := range m.Match(y) {
				if by[name] != "" || engine.ParseFindingName(name).Condition != "" {
					continue
				}
				by[name] = c.Reporter
				node, _ := m.Lookup(name)
				f := m.Nodes[node].Finding
				if complaint(f) {
					symptoms = append(symptoms, name)
				}
				switch {
				case f != nil && f.Name == "slips", c.Stage == engine.StagePan, c.Stage == engine.StageGauges && f != nil && f.Per == engine.PerPressure:
					core = append(core, name)
				default:
					others = append(others, name)
				}
			}
		}
	}
	for _, list := range [][]string{core, others, symptoms} {
		sort.Strings(list)
		rng.Shuffle(len(list), func(i, j int) { list[i], list[j] = list[j], list[i] })
	}
	var out []engine.Report
	said := map[string]bool{}
	for _, name := range symptoms {
		if r, ok := t.Report(m, name, "driver", rng); ok && len(out) < volunteered {
			if node, _ := m.Lookup(name); t.On[node] && r.State == engine.Present {
				out = append(out, r)
				said[name] = true
			}
		}
	}
	for _, name := range append(core, others...) {
		if len(out) >= reports {
			break
		}
		if r, ok := t.Report(m, name, by[name], rng); ok && !(said[name] && r.By == "driver") {
			out = append(out, r)
		}
	}
	return out
}

// Perturbed is the model with each rule number multiplied by a factor of its
// own, log-uniform between 1/f and f.
func Perturbed(m *model.Model, f float64, seed, sequence uint64) (*model.Model, error) {
	return m.WithNumbers(diagnose.Perturbation(f, seed, sequence))
}

// each calls f for 0 to n-1 on all cores; of several errors the one of the
// lowest number is returned.
func each(n int, f func(i int) error) error {
	errs := make([]error, n)
	var next atomic.Int64
	var failed atomic.Bool
	var wg sync.WaitGroup
	for range min(n, runtime.GOMAXPROCS(0)) {
		wg.Go(func() {
			for !failed.Load() {
				i := int(next.Add(1)) - 1
				if i >= n {
					return
				}
				if errs[i] = f(i); errs[i] != nil {
					failed.Store(true)
				}
			}
		})
	}
	wg.Wait()
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}
