package trial

import (
	"fmt"
	"math"
	"math/rand/v2"
	"sort"
	"sync"

	"slipcase/engine"
	"slipcase/engine/advise"
	"slipcase/engine/model"
)

// Policy is a way of choosing the next check.
type Policy string

// The policies.
const (
	Advice      Policy = "advice"      // minutes saved less minutes spent
	Information Policy = "information" // most bits, whatever the minutes
	Fixed       Policy = "fixed"       // the order of the rule files, as a manual lists its questions
	Random      Policy = "random"
)

// Policies lists them all.
var Policies = []Policy{Advice, Information, Fixed, Random}

// Options of a trial. The zero value takes every default.
type Options struct {
	Cases    int      // default 30
	Seed     uint64   // default 1
	Perturb  float64  // largest factor by which the world's rules are off; default 1: not at all
	Policies []Policy // default: all
	// Lead is the probability at which the culprit leads (default 0.8).
	Lead float64
	// Stages whose checks are asked (default: interview and road).
	Stages []engine.Stage
	// Most is the most checks put in one case (default 12).
	Most int
	// Findings is the most findings that one check reports, whoever chose the
	// check: the most telling ones, none that tell next to nothing (default 4).
	Findings int
	Workers  int // cases at a time (default 2)
	// Advise prices the checks; by the hundred of cases, one finding of each is
	// worked out unless Exact says more.
	Advise advise.Options
}

func (o Options) filled() Options {
	if o.Cases == 0 {
		o.Cases = 30
	}
	if o.Seed == 0 {
		o.Seed = 1
	}
	if o.Perturb == 0 {
		o.Perturb = 1
	}
	if o.Policies == nil {
		o.Policies = Policies
	}
	if o.Lead == 0 {
		o.Lead = 0.8
	}
	if o.Stages == nil {
		o.Stages = []engine.Stage{engine.StageInterview, engine.StageRoad}
	}
	if o.Most == 0 {
		o.Most = 12
	}
	if o.Findings == 0 {
		o.Findings = 4
	}
	if o.Workers == 0 {
		o.Workers = 2
	}
	if o.Advise.Exact == 0 {
		o.Advise.Exact = 1
	}
	o.Advise.Stages = o.Stages
	o.Advise.Workers = 1
	return o
}

// Report is the outcome of a trial.
type Report struct {
	Unit    string
	Cases   int // played
	Undrawn int // cases for which no complaint came up
	Perturb float64
	Ways    []Way
}

// Way is how one policy fared.
type Way struct {
	Policy  Policy
	Reached int   // cases in which a component came to lead with Options.Lead
	Led     []int // Led[k]: of them, those that got there by k checks at most
	// Questions and Minutes until then; a case that never got there counts
	// with all that was asked.
	Questions, Minutes Quantiles
	RightAtLead        float64 // share of Reached in which that leader is right
	Top1, Top3         float64 // at the end of the asking
	Calibration        float64 // expected calibration error of the leader at the end, ten bins
	Bins               []Bin
	Trimmed            int // cases in whose last figures some reports count nearly, see advise.Advice.Near
	// LedMinutes are the minutes that the cases of Reached took, ascending.
	LedMinutes []float64
}

// Reaching is how many checks a case, and how many minutes a case, it takes
// until n cases have a component that leads; false when it never comes to that.
func (w *Way) Reaching(n int) (checks int, minutes float64, ok bool) {
	if n < 1 || n > w.Reached {
		return 0, 0, false
	}
	for checks < len(w.Led) && w.Led[checks] < n {
		checks++
	}
	return checks, w.LedMinutes[n-1], true
}

// Quantiles of a count over the cases.
type Quantiles struct{ Median, P90 float64 }

// outcome is one case under one policy.
type outcome struct {
	reached   bool
	leadRight bool
	questions int
	minutes   float64
	p         float64
	top1      bool
	top3      bool
	trimmed   bool
}

// Run compares ways of asking: every policy plays the same cases until a
// component leads with Options.Lead or nothing is left to ask. The leader is
// right when one of its modes that can be behind the reports is there.
// Numbers depend on the options alone, not on the number of goroutines.
// An error is a model that cannot be priced, one whose rules have no
// complaint, or the end of the model's context.
func Run(m *model.Model, opt Options) (*Report, error) {
	opt = opt.filled()
	a, err := advise.New(m)
	if err != nil {
		return nil, err
	}
	s := newSources(m)
	if len(s.list) == 0 {
		return nil, fmt.Errorf("trial: the rules have no finding that a driver could complain of (stage road, reporter driver, with phrases)")
	}
	type result struct {
		drawn bool
		out   []outcome
		err   error
	}
	results := make([]result, opt.Cases)
	next := make(chan int)
	var wg sync.WaitGroup
	for range opt.Workers {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for i := range next {
				r := &results[i]
				if r.err = m.Ended(); r.err != nil {
					continue
				}
				w, err := s.draw(opt.Perturb, opt.Seed, uint64(i))
				if err != nil {
					r.err = err
				}
				if w == nil {
					continue
				}
				r.drawn = true
				for _, p := range opt.Policies {
					o, err := play(a, w, p, opt, uint64(i))
					if err != nil {
						r.err = fmt.Errorf("trial: case %d, %s: %w", i, p, err)
						break
					}
					r.out = append(r.out, o)
				}
			}
		}()
	}
	for i := range results {
		next <- i
	}
	close(next)
	wg.Wait()
	rep := &Report{Unit: m.Unit.ID, Perturb: opt.Perturb}
	per := make([][]outcome, len(opt.Policies))
	for _, r := range results {
		if r.err != nil {
			return nil, r.err
		}
		if !r.drawn {
			rep.Undrawn++
			continue
		}
		rep.Cases++
		for k := range per {
			per[k] = append(per[k], r.out[k])
		}
	}
	for k, p := range opt.Policies {
		rep.Ways = append(rep.Ways, sum(p, per[k]))
	}
	return rep, nil
}

// play asks one case by one policy.
func play(a *advise.Adviser, w *world, p Policy, opt Options, index uint64) (outcome, error) {
	c := &engine.CaseFile{Unit: a.Model.Unit.ID, Reports: append([]engine.Report(nil), w.opening...)}
	var o outcome
	asked := map[string]bool{}
	r := rand.New(rand.NewPCG(opt.Seed^0xA5A5A5A5, index))
	for {
		standing, left, err := a.Standing(c)
		if err != nil {
			return o, err
		}
		o.trimmed = len(left) > 0
		o.top1, o.top3 = false, false
		if len(standing) > 0 {
			o.p = standing[0].P
		}
		for i := 0; i < 3 && i < len(standing); i++ {
			if right := w.right(standing[i]); right {
				o.top1 = o.top1 || i == 0
				o.top3 = true
			}
		}
		if !o.reached && o.p >= opt.Lead {
			o.reached, o.leadRight = true, o.top1
		}
		if o.reached || len(asked) >= opt.Most {
			return o, nil
		}
		check, err := choose(a, c, p, opt, asked, r)
		if err != nil || check == nil {
			return o, err
		}
		asked[check.Check.Name] = true
		o.questions++
		o.minutes += check.Check.Minutes.Value
		for _, f := range advise.Ask(check.Findings, opt.Findings) {
			c.Reports = append(c.Reports, engine.Report{Finding: f.Name, State: w.say(f.Name, f.Reporter), By: f.Reporter})
		}
	}
}

// right tells whether a leader is behind what was reported: one of the modes
// that count is there.
func (w *world) right(b advise.Belief) bool {
	for _, n := range b.Modes {
		if w.truth.On[n] {
			return true
		}
	}
	return false
}

// choose picks the next check, nil when none is left.
func choose(a *advise.Adviser, c *engine.CaseFile, p Policy, opt Options, asked map[string]bool, r *rand.Rand) (*advise.Offered, error) {
	ao := opt.Advise
	ao.Only = func(k *engine.Check) bool { return !asked[k.Name] }
	switch p {
	case Advice, Information:
		if p == Advice {
			ao.Best = 1
		}
		ad, err := a.Price(c, ao)
		if err != nil || len(ad.Checks) == 0 {
			return nil, err
		}
		best := &ad.Checks[0]
		if p == Information {
			for i := range ad.Checks {
				if ad.Checks[i].Bits > best.Bits+1e-9 {
					best = &ad.Checks[i]
				}
			}
		}
		return &advise.Offered{Check: best.Check, Findings: best.Findings}, nil
	}
	list, err := a.Offer(c, ao)
	if err != nil || len(list) == 0 {
		return nil, err
	}
	if p == Random {
		return &list[r.IntN(len(list))], nil
	}
	sort.SliceStable(list, func(i, j int) bool { return rank(list[i].Check.Stage) < rank(list[j].Check.Stage) })
	return &list[0], nil
}

func rank(s engine.Stage) int {
	for i, x := range engine.Stages {
		if x == s {
			return i
		}
	}
	return len(engine.Stages)
}

// sum adds up the cases of one policy.
func sum(p Policy, list []outcome) Way {
	w := Way{Policy: p, Bins: make([]Bin, 10)}
	for i := range w.Bins {
		w.Bins[i].Low, w.Bins[i].High = float64(i)/10, float64(i+1)/10
	}
	var q, m []float64
	var n, right, top1, top3 float64
	for _, o := range list {
		if o.trimmed {
			w.Trimmed++
		}
		n++
		q = append(q, float64(o.questions))
		m = append(m, o.minutes)
		if o.reached {
			w.Reached++
			for len(w.Led) <= o.questions {
				w.Led = append(w.Led, 0)
			}
			w.Led[o.questions]++
			w.LedMinutes = append(w.LedMinutes, o.minutes)
			if o.leadRight {
				right++
			}
		}
		b := &w.Bins[min(9, int(o.p*10))]
		b.Cases++
		b.Said += o.p
		if o.top1 {
			top1++
			b.Right++
		}
		if o.top3 {
			top3++
		}
	}
	if n == 0 {
		return w
	}
	for k := 1; k < len(w.Led); k++ {
		w.Led[k] += w.Led[k-1]
	}
	sort.Float64s(w.LedMinutes)
	w.Questions, w.Minutes = quantiles(q), quantiles(m)
	w.Top1, w.Top3 = top1/n, top3/n
	if w.Reached > 0 {
		w.RightAtLead = right / float64(w.Reached)
	}
	for i := range w.Bins {
		b := &w.Bins[i]
		if b.Cases == 0 {
			continue
		}
		w.Calibration += math.Abs(b.Said-b.Right) / n
		b.Said /= float64(b.Cases)
		b.Right /= float64(b.Cases)
	}
	return w
}

// quantiles takes the nearest rank.
func quantiles(x []float64) Quantiles {
	sort.Float64s(x)
	at := func(p float64) float64 { return x[max(0, int(math.Ceil(p*float64(len(x))))-1)] }
	return Quantiles{at(0.5), at(0.9)}
}
