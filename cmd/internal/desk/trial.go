package desk

import (
	"context"
	"fmt"
	"math"

	"slipcase/cmd/internal/answer"
	"slipcase/engine/advise"
	"slipcase/engine/trial"
)

// TrialOptions are what a trial is run with.
type TrialOptions struct {
	Cases   int
	Seed    uint64
	Perturb float64 // rules of the simulated vehicles off by up to this factor; 1 for not at all
	// Progress is told how far a part has come; it may come from any
	// goroutine. nil for none.
	Progress func(part string, done, of int)
}

// Trial compares ways of asking on simulated vehicles, and says how often the
// leader is right when all is known that can be known before pulling.
type Trial struct {
	Unit      string        `json:"unit"`
	UnitTitle string        `json:"unit_title"`
	Seed      uint64        `json:"seed"`
	Perturb   Num           `json:"perturb"`
	Cases     int           `json:"cases"`   // played
	Undrawn   int           `json:"undrawn"` // for which no complaint came up
	Lead      Num           `json:"lead"`    // probability at which the culprit leads
	Ways      []TrialWay    `json:"ways"`
	Before    TrialAccuracy `json:"before_pulling"`
}

// TrialWay is how one way of asking fared.
type TrialWay struct {
	Way         string     `json:"way"`
	Title       string     `json:"title"`
	Reached     int        `json:"reached"` // cases in which a component came to lead
	Questions   Quantiles  `json:"questions"`
	Minutes     Quantiles  `json:"minutes"`
	RightAtLead Num        `json:"right_at_lead"`
	Top1        Num        `json:"top1"`
	Top3        Num        `json:"top3"`
	Calibration Num        `json:"calibration_error"`
	Reliability []TrialBin `json:"reliability"`
	Trimmed     int        `json:"trimmed"` // cases whose last figures leave out some reports
	Same        TrialSame  `json:"same_leads"`
	Top1Error   Num        `json:"top1_error"`
}

// TrialSame is what it takes to bring as many cases to a leader as the fixed
// list does: checks and minutes a case by which that many had one.
type TrialSame struct {
	Cases   int  `json:"cases"` // 0: the fixed list brings none there
	Reached bool `json:"reached"`
	Checks  int  `json:"checks"`
	Minutes Num  `json:"minutes"`
}

// Quantiles of a count over the cases.
type Quantiles struct {
	Median Num `json:"median"`
	P90    Num `json:"p90"`
}

// TrialBin is one bin of the leader's probability.
type TrialBin struct {
	Low   Num `json:"low"`
	High  Num `json:"high"`
	Cases int `json:"cases"`
	Said  Num `json:"said"`  // mean probability of the leader
	Right Num `json:"right"` // share that was right
}

// TrialAccuracy is how often the leader is right with all reports in.
type TrialAccuracy struct {
	Cases       int        `json:"cases"`
	Reports     int        `json:"reports"` // a case
	Top1        Num        `json:"top1"`
	Top3        Num        `json:"top3"`
	Calibration Num        `json:"calibration_error"`
	Brier       Num        `json:"brier"`
	Faults      Num        `json:"faults"` // failed components a case
	Top1Error   Num        `json:"top1_error"`
	Reliability []TrialBin `json:"reliability"`
}

var wayTitles = map[trial.Policy]string{
	trial.Advice: "advised", trial.Information: "most bits", trial.Fixed: "fixed", trial.Random: "random",
}

// trialReports is how many reports a case has before pulling, the default of
// trial.Settings.
const trialReports = 30

// Trial runs a trial on a unit, by its id or from a file. Fails with NotFound
// for a unit that is not known, with Unavailable or Rules for a file of its own.
func (d *Desk) Trial(ctx context.Context, unit string, o TrialOptions) (Answer[Trial], error) {
	x, u, err := d.load.Unit(ctx, unit)
	if err != nil {
		return Answer[Trial]{}, err
	}
	wrong := func(err error) (Answer[Trial], error) { return Answer[Trial]{}, under(x.Knowledge, err) }
	m, err := x.Model(u.ID)
	if err != nil {
		return wrong(err)
	}
	m = m.WithContext(ctx)
	told := func(part string, done, of int) {
		if o.Progress != nil {
			o.Progress(part, done, of)
		}
	}
	const lead = 0.8
	out := Trial{Unit: u.ID, UnitTitle: u.Title, Seed: o.Seed, Perturb: Num(o.Perturb), Lead: lead, Ways: []TrialWay{}}
	var ways []trial.Way
	fixed := 0
	// One way after the other: each plays the same cases whoever else plays.
	for i, p := range trial.Policies {
		told("asking, "+wayTitles[p], i, len(trial.Policies))
		r, err := trial.Run(m, trial.Options{Cases: o.Cases, Seed: o.Seed, Perturb: o.Perturb, Lead: lead, Policies: []trial.Policy{p}, Advise: advise.Options{}})
		if err != nil {
			return wrong(err)
		}
		out.Cases, out.Undrawn = r.Cases, r.Undrawn
		ways = append(ways, r.Ways...)
		for _, w := range r.Ways {
			if w.Policy == trial.Fixed {
				fixed = w.Reached
			}
			out.Ways = append(out.Ways, TrialWay{
				Way: string(w.Policy), Title: wayTitles[w.Policy], Reached: w.Reached,
				Questions: Quantiles{Num(w.Questions.Median), Num(w.Questions.P90)}, Minutes: Quantiles{Num(w.Minutes.Median), Num(w.Minutes.P90)},
				RightAtLead: Num(w.RightAtLead), Top1: Num(w.Top1), Top3: Num(w.Top3), Calibration: Num(w.Calibration), Reliability: bins(w.Bins),
				Trimmed: w.Trimmed, Top1Error: standardError(w.Top1, r.Cases),
			})
		}
	}
	for i := range ways {
		checks, minutes, ok := ways[i].Reaching(fixed)
		out.Ways[i].Same = TrialSame{fixed, ok, checks, Num(minutes)}
	}
	acc, err := trial.Measure(m, trial.Settings{Cases: o.Cases, Seed: o.Seed, Reports: trialReports, Perturb: o.Perturb,
		Progress: func(done int) { told("all reports before pulling", done, o.Cases) }})
	if err != nil {
		return wrong(err)
	}
	out.Before = TrialAccuracy{Cases: acc.Cases, Reports: trialReports, Top1: Num(acc.Top1), Top3: Num(acc.Top3), Calibration: Num(acc.Calibration),
		Brier: Num(acc.Brier), Faults: Num(acc.FaultsMean), Top1Error: standardError(acc.Top1, acc.Cases), Reliability: bins(acc.Bins)}
	method := fmt.Sprintf("%d simulated cases, seed %d, drawn from the rules themselves", o.Cases, o.Seed)
	if o.Perturb > 1 {
		method += fmt.Sprintf(" with every number off by a factor of up to %g", o.Perturb)
	}
	return Answer[Trial]{Rules: x.Knowledge.Hash, Method: method, Data: out, Input: &answer.Input{Unit: unit, Options: map[string]string{"cases": fmt.Sprint(o.Cases), "seed": fmt.Sprint(o.Seed), "perturb": fmt.Sprint(o.Perturb)}}, Diagnostics: answer.Messages(x.Diagnostics)}, nil
}

func bins(list []trial.Bin) []TrialBin {
	out := []TrialBin{}
	for _, b := range list {
		if b.Cases > 0 {
			out = append(out, TrialBin{Num(b.Low), Num(b.High), b.Cases, Num(b.Said), Num(b.Right)})
		}
	}
	return out
}

// standardError of a share over n cases.
func standardError(p float64, n int) Num {
	if n == 0 {
		return Num(math.NaN())
	}
	return Num(math.Sqrt(p * (1 - p) / float64(n)))
}
