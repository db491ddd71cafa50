package practice

import (
	"context"
	"fmt"
	"math"
	"path/filepath"
	"strings"
	"sync"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/fault"
	"slipcase/cmd/internal/wording"
	"slipcase/engine/trial"
)

// TrialOptions are what a trial is run with.
type TrialOptions struct {
	Cases   int
	Seed    uint64
	Perturb float64 // rules of the simulated vehicles off by up to this factor; 1 for not at all
	// Calibration asks nothing: each vehicle is diagnosed once, on all that the
	// driver and the pan tell.
	Calibration bool
	// State is a file that keeps what is worked out, so that a trial that was
	// stopped goes on; "" for none.
	State string
	// Progress is told how many vehicles are done; it may come from any
	// goroutine. nil for none.
	Progress func(part string, done, of int)
}

// Trial is what simulated vehicles tell: how often the order of suspects is right,
// against plainer ways and with parts of the rules taken out, and how far the
// probabilities can be believed.
type Trial struct {
	Unit        string         `json:"unit"`
	UnitTitle   string         `json:"unit_title"`
	Seed        uint64         `json:"seed"`
	Perturb     answer.Num     `json:"perturb"`
	Calibration bool           `json:"only_calibration"`
	Cases       int            `json:"cases"`   // vehicles played
	Undrawn     int            `json:"undrawn"` // for which no complaint came up
	Capped      int            `json:"capped"`  // for which some way came to its most checks
	MostChecks  int            `json:"most_checks"`
	Near        int            `json:"near"`   // of which some answer counted reports approximately
	Failed      answer.Num     `json:"failed"` // failed components of a vehicle, in the mean
	Checks      Quantiles      `json:"checks"` // asked as advised
	Minutes     Quantiles      `json:"minutes"`
	Measures    []TrialMeasure `json:"measures"`
	Calibrated  []TrialErrors  `json:"calibration"`
	Bins        TrialBins      `json:"bins"`
	// Pooled are the units of a calibration over several, one by one; none where
	// there is one unit.
	Pooled []TrialUnit `json:"pooled"`
}

// TrialUnit is one unit of a calibration over several.
type TrialUnit struct {
	Unit   string     `json:"unit"`
	Title  string     `json:"unit_title"`
	Cases  int        `json:"cases"`
	Leader TrialError `json:"leader"`
	Shown  TrialError `json:"shown"`
}

// TrialMoment is when the suspects are looked at: after so many minutes, or with
// everything asked that can be before the unit comes out.
type TrialMoment struct {
	Minutes    answer.Num `json:"minutes"` // 0 with everything
	Everything bool       `json:"everything"`
}

// TrialMeasure is how each way did by one measure.
type TrialMeasure struct {
	Measure string     `json:"measure"`
	Ways    []TrialWay `json:"ways"`
}

// TrialWay is how one way did.
type TrialWay struct {
	Way   string       `json:"way"`
	Right []TrialRight `json:"right"`
}

// TrialRight is the share of vehicles of which the first, and one of the first
// three, is right.
type TrialRight struct {
	TrialMoment
	First      answer.Num `json:"first"`
	FirstError answer.Num `json:"first_error"` // standard error
	Three      answer.Num `json:"first_three"`
}

// Quantiles of a count over the vehicles.
type Quantiles struct {
	Median answer.Num `json:"median"`
	P90    answer.Num `json:"p90"`
}

// TrialErrors are the calibration errors of one moment.
type TrialErrors struct {
	TrialMoment
	Leader TrialError `json:"leader"`
	Shown  TrialError `json:"shown"` // of every suspect that is shown
}

// TrialError is how far what is said lies from what is right, in the mean over
// ten bins of the probability.
type TrialError struct {
	Said       int        `json:"said"` // suspects
	Error      answer.Num `json:"error"`
	Low        answer.Num `json:"low"` // 95% interval
	High       answer.Num `json:"high"`
	Chance     answer.Num `json:"chance"`      // of a perfect model, in the mean
	ChanceHigh answer.Num `json:"chance_high"` // and in 95 of 100 at most
	Brier      answer.Num `json:"brier"`
}

// TrialBins are the bins behind the errors of one moment.
type TrialBins struct {
	TrialMoment
	Leader []TrialBin `json:"leader"`
	Shown  []TrialBin `json:"shown"`
}

// TrialBin is one bin of a probability.
type TrialBin struct {
	Low   answer.Num `json:"low"`
	High  answer.Num `json:"high"`
	Said  int        `json:"said"`  // suspects
	Mean  answer.Num `json:"mean"`  // mean probability
	Right answer.Num `json:"right"` // share that was right
	From  answer.Num `json:"from"`  // its 95% interval
	To    answer.Num `json:"to"`
}

// mostTrialChecks is the budget of one vehicle and one way of asking: at a minute
// a question and more, what fits into the longest moment.
const mostTrialChecks = 40

// Calibrations is Trial with Calibration on several units, and over the vehicles
// of all together. Of a State each unit has a file of its own, the unit's id
// behind the name. Fails as Trial does.
func (d *Practice) Calibrations(ctx context.Context, units []string, o TrialOptions) (answer.Answer[Trial], error) {
	o.Calibration = true
	var all answer.Answer[Trial]
	var reports []*trial.Report
	out := Trial{Perturb: answer.Num(o.Perturb), Seed: o.Seed, Calibration: true, MostChecks: mostTrialChecks, Measures: []TrialMeasure{}, Calibrated: []TrialErrors{}, Pooled: []TrialUnit{}, Bins: TrialBins{Leader: []TrialBin{}, Shown: []TrialBin{}}}
	failed := 0.0
	for _, unit := range units {
		one := o
		if o.State != "" {
			one.State += "." + strings.TrimSuffix(filepath.Base(unit), ".hcl")
		}
		a, r, err := d.trial(ctx, unit, one)
		if err != nil {
			return answer.Answer[Trial]{}, err
		}
		all.Diagnostics = append(all.Diagnostics, a.Diagnostics...)
		reports = append(reports, r)
		out.Cases, out.Undrawn, out.Near, failed = out.Cases+r.Cases, out.Undrawn+r.Undrawn, out.Near+r.Near, failed+r.Failed*float64(r.Cases)
		if r.Cases > 0 {
			out.Pooled = append(out.Pooled, TrialUnit{a.Data.Unit, a.Data.UnitTitle, r.Cases, a.Data.Calibrated[0].Leader, a.Data.Calibrated[0].Shown})
		}
	}
	out.UnitTitle = wording.Count(len(units), "unit", "units")
	if out.Cases > 0 {
		leader, shown := trial.Pool(o.Seed, reports...)
		out.Failed = answer.Num(failed / float64(out.Cases))
		out.Calibrated = []TrialErrors{{TrialMoment{Everything: true}, trialError(leader), trialError(shown)}}
		out.Bins = TrialBins{TrialMoment{Everything: true}, trialBins(leader.Bins), trialBins(shown.Bins)}
	}
	x, err := d.load.Load(ctx, "")
	if err != nil {
		return answer.Answer[Trial]{}, err
	}
	all.Rules, all.Data, all.Method = x.Knowledge.Hash, out, wording.TrialMethod(o.Cases, o.Seed, o.Perturb, len(units))
	all.Input = &answer.Input{Unit: strings.Join(units, " "), Options: o.said()}
	return all, nil
}

// Trial runs a trial on a unit, by its id or from a file. Fails with NotFound
// for a unit that is not known, with Unavailable or Rules for a file of its own;
// with Conflict for a State of another trial, Damaged for one that is none, and
// Unavailable for one that cannot be written.
func (d *Practice) Trial(ctx context.Context, unit string, o TrialOptions) (answer.Answer[Trial], error) {
	a, _, err := d.trial(ctx, unit, o)
	return a, err
}

func (d *Practice) trial(ctx context.Context, unit string, o TrialOptions) (answer.Answer[Trial], *trial.Report, error) {
	x, u, err := d.load.Unit(ctx, unit)
	if err != nil {
		return answer.Answer[Trial]{}, nil, err
	}
	wrong := func(err error) (answer.Answer[Trial], *trial.Report, error) {
		return answer.Answer[Trial]{}, nil, fault.Under(x.Knowledge, err)
	}
	m, err := x.Model(u.ID)
	if err != nil {
		return wrong(err)
	}
	opt := trial.Options{Cases: o.Cases, Seed: o.Seed, Perturb: o.Perturb, OnlyCalibration: o.Calibration, Most: mostTrialChecks}
	var state *trialState
	if o.State != "" {
		state, err = openTrialState(o.State, trialHeader{trialStateVersion, u.ID, x.Knowledge.Hash, o.Seed, o.Perturb, o.Calibration})
		if err != nil {
			return answer.Answer[Trial]{}, nil, err
		}
		defer state.close()
		opt.Known = state.known
	}
	var mu sync.Mutex
	done := 0
	if state != nil {
		done = state.below(o.Cases)
	}
	tell := func() {
		if o.Progress != nil {
			o.Progress("vehicles", done, o.Cases)
		}
	}
	tell()
	opt.Done = func(i int, out *trial.Outcome) error {
		mu.Lock()
		defer mu.Unlock()
		done++
		tell()
		if state == nil {
			return nil
		}
		return state.keep(i, out)
	}
	r, err := trial.Run(m.WithContext(ctx), opt)
	if err != nil {
		return wrong(err)
	}
	out := trialOf(r)
	out.Unit, out.UnitTitle, out.Seed, out.Calibration = u.ID, u.Title, o.Seed, o.Calibration
	return answer.Answer[Trial]{Rules: x.Knowledge.Hash, Method: wording.TrialMethod(o.Cases, o.Seed, o.Perturb, 1), Data: out, Input: &answer.Input{Unit: unit, Options: o.said()},
		Diagnostics: answer.Messages(x.Diagnostics)}, r, nil
}

func (o TrialOptions) said() map[string]string {
	return map[string]string{"cases": fmt.Sprint(o.Cases), "seed": fmt.Sprint(o.Seed), "perturb": fmt.Sprint(o.Perturb), "calibration": fmt.Sprint(o.Calibration)}
}

func trialOf(r *trial.Report) Trial {
	out := Trial{Perturb: answer.Num(r.Perturb), Cases: r.Cases, Undrawn: r.Undrawn, Capped: r.Capped, MostChecks: mostTrialChecks, Near: r.Near, Failed: answer.Num(r.Failed),
		Checks: Quantiles{answer.Num(r.Checks.Median), answer.Num(r.Checks.P90)}, Minutes: Quantiles{answer.Num(r.Minutes.Median), answer.Num(r.Minutes.P90)},
		Measures: []TrialMeasure{}, Calibrated: []TrialErrors{}, Bins: TrialBins{Leader: []TrialBin{}, Shown: []TrialBin{}}, Pooled: []TrialUnit{}}
	moment := func(k int) TrialMoment {
		if k < len(r.Marks) {
			return TrialMoment{Minutes: answer.Num(r.Marks[k])}
		}
		return TrialMoment{Everything: true}
	}
	for i, measure := range trial.Measures {
		if len(r.Ways) == 0 || r.Cases == 0 {
			break
		}
		x := TrialMeasure{Measure: string(measure)}
		for _, s := range r.Ways {
			w := TrialWay{Way: string(s.Way)}
			for k, right := range s.Right[i] {
				if right.Says {
					first := float64(right.First) / float64(r.Cases)
					w.Right = append(w.Right, TrialRight{moment(k), answer.Num(first), standardError(first, r.Cases), answer.Num(float64(right.Three) / float64(r.Cases))})
				}
			}
			if len(w.Right) > 0 {
				x.Ways = append(x.Ways, w)
			}
		}
		out.Measures = append(out.Measures, x)
	}
	for k := range r.Leader {
		out.Calibrated = append(out.Calibrated, TrialErrors{moment(k), trialError(r.Leader[k]), trialError(r.Shown[k])})
	}
	// The bins of the last moment that has its minutes: by then it is decided
	// whether the unit comes out.
	if last := max(0, len(r.Marks)-1); last < len(r.Leader) {
		out.Bins = TrialBins{moment(last), trialBins(r.Leader[last].Bins), trialBins(r.Shown[last].Bins)}
	}
	return out
}

func trialError(c trial.Calibration) TrialError {
	return TrialError{c.Said, answer.Num(c.Error), answer.Num(c.Low), answer.Num(c.High), answer.Num(c.Chance), answer.Num(c.ChanceHigh), answer.Num(c.Brier)}
}

func trialBins(list []trial.Bin) []TrialBin {
	out := []TrialBin{}
	for _, b := range list {
		out = append(out, TrialBin{answer.Num(b.Low), answer.Num(b.High), b.Said, answer.Num(b.Mean), answer.Num(b.Right), answer.Num(b.From), answer.Num(b.To)})
	}
	return out
}

// standardError of a share over n cases.
func standardError(p float64, n int) answer.Num {
	if n == 0 {
		return answer.Num(math.NaN())
	}
	return answer.Num(math.Sqrt(p * (1 - p) / float64(n)))
}
