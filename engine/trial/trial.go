// Package trial tries the rules on simulated vehicles: drawn from the model, with
// a complaint, each once, and with reports drawn through the reliability of those
// who make them. Everything is drawn from fixed seeds; the same seed gives the
// same figures whatever the number of goroutines.
//
// A simulated vehicle tells how well the engine finds what the rules say there
// is. It tells nothing about whether the rules are true; only confirmed cases
// do (package refine).
package trial

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"slipcase/engine"
	"slipcase/engine/advise"
	"slipcase/engine/diagnose"
	"slipcase/engine/model"
)

// Options of a trial. The zero value takes every default.
type Options struct {
	Cases   int       // vehicles (default 30)
	Seed    uint64    // default 1
	Perturb float64   // largest factor by which the vehicles' rules are off; default 1: not at all
	Marks   []float64 // minutes at which the order of suspects is looked at (default 10, 20, 40), ascending
	Ways    []Way     // default: all
	Most    int       // most checks of one vehicle by one way (default 40)
	Workers int       // vehicles at a time (default: the cores)
	// OnlyCalibration asks nothing: each vehicle is diagnosed once, on what the
	// driver answers to every question and on the pan. One mark, no ways.
	OnlyCalibration bool
	// Any, with OnlyCalibration, takes vehicles as the rules have them, complaint
	// or none: the model then knows all there is to know of how a case came about,
	// and but for what it works out approximately its probabilities must be right.
	Any bool
	// Known gives the outcome of a vehicle that an earlier run of the same trial
	// has worked out, nil for none; Done is told of each other one, from any
	// goroutine. Both may be nil.
	Known func(i int) *Outcome
	Done  func(i int, o *Outcome) error
}

func (o Options) filled() Options {
	o.Cases = cmp.Or(o.Cases, 30)
	o.Seed = cmp.Or(o.Seed, 1)
	o.Perturb = cmp.Or(o.Perturb, 1)
	if o.Marks == nil {
		o.Marks = []float64{10, 20, 40}
	}
	if o.Ways == nil {
		o.Ways = Ways
	}
	o.Most = cmp.Or(o.Most, 40)
	o.Workers = cmp.Or(o.Workers, runtime.GOMAXPROCS(0))
	return o
}

// before are the stages in which a trial asks: all of them before the unit comes
// out.
var before = []engine.Stage{engine.StageInterview, engine.StageRoad, engine.StagePan, engine.StageGauges, engine.StageInVehicle}

// Outcome is how one vehicle went. Everything in it is exact in JSON.
type Outcome struct {
	Drawn  bool // false: no complaint came up
	Failed int  // failed components
	// Checks and Minutes are what was asked as advised.
	Checks  int
	Minutes float64
	Capped  bool // some way came to Options.Most
	Near    bool // some answer counted some reports approximately
	// Places are those of each way, along Options.Ways, at each mark and with
	// everything asked; nil where nothing is asked.
	Places [][]Places
	// Said are the suspects that the rules show first, at the same times.
	Said [][]Said
}

// Said is a suspect as it is shown, and whether it had really failed.
type Said struct {
	P     float64 // P(it has failed | reports)
	Right bool
}

// Report is the outcome of a trial.
type Report struct {
	Unit    string
	Cases   int // vehicles
	Undrawn int // for which no complaint came up
	Capped  int // vehicles for which some way of asking came to its most checks
	Near    int // vehicles of which some answer counted reports approximately
	Perturb float64
	Marks   []float64 // minutes; one more column stands for everything asked
	Failed  float64   // failed components of a vehicle, in the mean
	// Checks and Minutes asked as advised.
	Checks, Minutes Quantiles
	Ways            []Score
	// Leader and Shown are the calibration of the first suspect and of all that
	// are shown, at each mark and with everything asked.
	Leader, Shown []Calibration
	said          [][][]Said // at each mark, of each vehicle
}

// Score is how one way did: Right[measure][mark].
type Score struct {
	Way   Way
	Right [4][]Right
}

// Right counts the vehicles of which the first, and one of the first three, is
// right.
type Right struct {
	Says         bool // false: the way says nothing of this measure
	First, Three int
}

// Quantiles of a count over the vehicles.
type Quantiles struct{ Median, P90 float64 }

// Run plays a trial. Numbers depend on the options alone. An error is a model
// that cannot be priced, one whose rules have no complaint, or the end of the
// model's context.
func Run(m *model.Model, opt Options) (*Report, error) {
	opt = opt.filled()
	a, err := advise.New(m)
	if err != nil {
		return nil, err
	}
	t, err := newTester(m)
	if err != nil {
		return nil, err
	}
	p := &player{a, t, NewVehicles(m), opt}
	if len(p.s.list) == 0 {
		return nil, fmt.Errorf("trial: the rules have no finding that a driver could complain of (stage road, reporter driver, with phrases)")
	}
	out := make([]*Outcome, opt.Cases)
	err = each(opt.Cases, opt.Workers, func(i int) error {
		if err := m.Ended(); err != nil {
			return err
		}
		if opt.Known != nil {
			if out[i] = opt.Known(i); out[i] != nil {
				return nil
			}
		}
		if i%forgetting == 0 {
			m.Forget()
		}
		o, err := p.play(uint64(i))
		if err != nil {
			if ended := m.Ended(); ended != nil {
				return ended
			}
			return fmt.Errorf("trial: vehicle %d: %w", i, err)
		}
		out[i] = o
		if opt.Done != nil {
			return opt.Done(i, o)
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	return sum(m.Unit.ID, opt, out), nil
}

// forgetting is the number of vehicles after which the trees of those before are
// let go: each has its own, some of a megabyte.
const forgetting = 32

// player plays the vehicles of a trial.
type player struct {
	a   *advise.Adviser
	t   *tester
	s   *Vehicles
	opt Options
}

func (p *player) play(index uint64) (*Outcome, error) {
	v, err := p.s.draw(p.opt.Perturb, p.opt.Seed, index, !p.opt.Any)
	if err != nil {
		return nil, err
	}
	o := &Outcome{Drawn: v != nil}
	if v == nil {
		return o, nil
	}
	x := p.t.truth(v)
	o.Failed = len(x.failed)
	if p.opt.OnlyCalibration {
		r, err := p.t.byRules(p.t.m, p.pieces(p.talk(v)))
		if err != nil {
			return nil, err
		}
		o.Near, o.Said = r.near, [][]Said{said(x, r)}
		return o, nil
	}
	all := p.everything(v)
	asked := map[Way][]*engine.CaseFile{}
	for _, w := range []Way{Advised, Fixed} {
		if !slices.Contains(p.opt.Ways, w) {
			continue
		}
		list, checks, minutes, err := p.ask(v, w)
		if err != nil {
			return nil, err
		}
		o.Capped = o.Capped || checks >= p.opt.Most
		asked[w] = append(list, all)
		if w == Advised {
			o.Checks, o.Minutes = checks, minutes
		}
	}
	var whole *Places // with everything asked both lists come to the same
	for _, w := range p.opt.Ways {
		cases := asked[w]
		if cases == nil {
			cases = asked[Advised]
		}
		var at []Places
		for k, c := range cases {
			if k > 0 && c == cases[k-1] {
				at = append(at, at[k-1])
				if w == Advised {
					o.Said = append(o.Said, o.Said[k-1])
				}
				continue
			}
			if w == Fixed && c == all && whole != nil {
				at = append(at, *whole)
				continue
			}
			r, elements, err := p.t.rank(w, p.pieces(c))
			if err != nil {
				return nil, fmt.Errorf("%s: %w", w, err)
			}
			o.Near = o.Near || r.near
			at = append(at, p.t.places(x, r, elements))
			if w == Advised {
				o.Said = append(o.Said, said(x, r))
				if c == all {
					whole = &at[k]
				}
			}
		}
		o.Places = append(o.Places, at)
	}
	return o, nil
}

func said(x truth, r ranked) []Said {
	var out []Said
	for k := 0; k < shown && k < len(r.list); k++ {
		out = append(out, Said{r.p[k], x.failed[r.list[k]]})
	}
	return out
}

// pieces is the evidence of a case. What is reported comes from the unit's own
// findings, so that there is nothing unknown in it.
func (p *player) pieces(c *engine.CaseFile) []model.Piece {
	out, _ := p.t.m.Evidence(c)
	return out
}

func (p *player) begin(v *Vehicle) *engine.CaseFile {
	return &engine.CaseFile{Unit: p.t.m.Unit.ID, Reports: slices.Clone(v.opening)}
}

func report(c *engine.CaseFile, v *Vehicle, list []advise.Open) {
	for _, f := range list {
		c.Reports = append(c.Reports, engine.Report{Finding: f.Name, State: v.Say(f.Name, f.Reporter), By: f.Reporter})
	}
}

// talk is what the driver answers to all the questions of the interview, and what
// the pan shows; findings without a condition, so that what is asked does not hang
// on what was answered.
func (p *player) talk(v *Vehicle) *engine.CaseFile {
	c := p.begin(v)
	known := map[string]bool{}
	for _, r := range c.Reports {
		known[r.Finding+"\x00"+r.By] = true
	}
	for i := range p.t.m.Knowledge.Checks {
		k := &p.t.m.Knowledge.Checks[i]
		if k.Stage != engine.StagePan && k.Stage != engine.StageInterview {
			continue
		}
		for _, f := range p.a.Findings(k.Name) {
			if key := f.Name + "\x00" + f.Reporter; !known[key] && engine.ParseFindingName(f.Name).Condition == "" {
				known[key] = true
				report(c, v, []advise.Open{f})
			}
		}
	}
	return c
}

// everything is a case in which every check before pulling was made, in the order
// of the rules, as far as none is ruled out by what was reported. Whether something
// is worse hot is asked of what was said to be there.
func (p *player) everything(v *Vehicle) *engine.CaseFile {
	c := p.begin(v)
	known, present := map[string]bool{}, map[string]bool{}
	note := func(from int) {
		for _, r := range c.Reports[from:] {
			known[r.Finding+"\x00"+r.By] = true
			present[r.Finding] = present[r.Finding] || r.State == engine.Present
		}
	}
	note(0)
	for i := range p.t.m.Knowledge.Checks {
		k := &p.t.m.Knowledge.Checks[i]
		if !slices.Contains(before, k.Stage) || len(k.Needs) > 0 || slices.ContainsFunc(k.Withheld, func(w engine.Withheld) bool {
			return slices.ContainsFunc(p.t.m.Match(w.If), func(name string) bool { return present[name] }) ||
				len(w.Until) > 0 && !slices.ContainsFunc(c.Reports, func(r engine.Report) bool { return slices.Contains(w.Until, r.Finding) })
		}) {
			continue
		}
		for _, f := range p.a.Findings(k.Name) {
			name := engine.ParseFindingName(f.Name)
			if known[f.Name+"\x00"+f.Reporter] || name.Condition != "" && !present[name.Base()] {
				continue
			}
			report(c, v, []advise.Open{f})
			note(len(c.Reports) - 1)
		}
	}
	return c
}

// ask puts checks until the last mark is passed or none is left worth it, and
// gives the case as it is at each mark: with what was finished by then. A case
// that stays as it was is the same pointer.
func (p *player) ask(v *Vehicle, w Way) (at []*engine.CaseFile, checks int, minutes float64, err error) {
	c := p.begin(v)
	marks := p.opt.Marks
	asked := map[string]bool{}
	only := func(k *engine.Check) bool { return !asked[k.Name] }
	for checks < p.opt.Most {
		var check *engine.Check
		var findings []advise.Open
		if w == Advised {
			ad, err := p.a.Price(c, advise.Options{Best: 1, Exact: 1, Workers: 1, Stages: before, Only: only})
			if err != nil {
				return nil, 0, 0, err
			}
			if len(ad.Checks) == 0 || !ad.Checks[0].Worth {
				break
			}
			check, findings = ad.Checks[0].Check, ad.Checks[0].Findings
		} else if check, findings, err = p.next(c, asked); err != nil || check == nil {
			if err != nil {
				return nil, 0, 0, err
			}
			break
		}
		for len(at) < len(marks) && minutes+check.Minutes.Value > marks[len(at)] {
			at = append(at, c)
		}
		if len(at) == len(marks) {
			break
		}
		asked[check.Name] = true
		checks++
		minutes += check.Minutes.Value
		c = &engine.CaseFile{Unit: c.Unit, Reports: slices.Clone(c.Reports)}
		report(c, v, findings)
	}
	for len(at) < len(marks) {
		at = append(at, c)
	}
	return at, checks, minutes, nil
}

// next is the next check of the list, stage by stage, with all that is open in it.
func (p *player) next(c *engine.CaseFile, asked map[string]bool) (*engine.Check, []advise.Open, error) {
	for _, stage := range before {
		for i := range p.t.m.Knowledge.Checks {
			k := &p.t.m.Knowledge.Checks[i]
			if k.Stage != stage || asked[k.Name] {
				continue
			}
			left, err := p.a.Left(c, k.Name, nil)
			if err != nil || len(left) > 0 {
				return k, left, err
			}
			asked[k.Name] = true
		}
	}
	return nil, nil, nil
}

// sum adds up the vehicles.
func sum(unit string, opt Options, list []*Outcome) *Report {
	r := &Report{Unit: unit, Perturb: opt.Perturb, Marks: opt.Marks}
	marks := len(opt.Marks) + 1
	if opt.OnlyCalibration {
		r.Marks, marks, opt.Ways = nil, 1, nil
	}
	for _, w := range opt.Ways {
		s := Score{Way: w}
		for i := range s.Right {
			s.Right[i] = make([]Right, marks)
		}
		r.Ways = append(r.Ways, s)
	}
	var checks, minutes []float64
	lead, show := make([][][]Said, marks), make([][][]Said, marks)
	for _, o := range list {
		if !o.Drawn {
			r.Undrawn++
			continue
		}
		r.Cases++
		r.Failed += float64(o.Failed)
		if o.Capped {
			r.Capped++
		}
		if o.Near {
			r.Near++
		}
		checks, minutes = append(checks, float64(o.Checks)), append(minutes, o.Minutes)
		for w, at := range o.Places {
			for k, places := range at {
				for i, place := range places {
					x := &r.Ways[w].Right[i][k]
					x.Says = x.Says || place >= 0
					if place == 1 {
						x.First++
					}
					if place > 0 {
						x.Three++
					}
				}
			}
		}
		for k, said := range o.Said {
			lead[k], show[k] = append(lead[k], said[:min(1, len(said))]), append(show[k], said)
		}
	}
	if r.Cases == 0 {
		return r
	}
	r.Failed /= float64(r.Cases)
	r.Checks, r.Minutes = quantiles(checks), quantiles(minutes)
	for k := range lead {
		r.Leader = append(r.Leader, calibrate(lead[k], opt.Seed))
		r.Shown = append(r.Shown, calibrate(show[k], opt.Seed))
	}
	r.said = show
	return r
}

// quantiles takes the nearest rank.
func quantiles(x []float64) Quantiles {
	slices.Sort(x)
	at := func(p float64) float64 { return x[max(0, int(math.Ceil(p*float64(len(x))))-1)] }
	return Quantiles{at(0.5), at(0.9)}
}

// Perturbed is the model with each rule number multiplied by a factor of its
// own, log-uniform between 1/f and f.
func Perturbed(m *model.Model, f float64, seed, sequence uint64) (*model.Model, error) {
	return m.WithNumbers(diagnose.Perturbation(f, seed, sequence))
}

// each calls f for 0 to n-1, workers at a time; of several errors that of the
// lowest number is returned, the end of a context before others.
func each(n, workers int, f func(i int) error) error {
	errs := make([]error, n)
	var next atomic.Int64
	var failed atomic.Bool
	var wg sync.WaitGroup
	for range min(n, workers) {
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
		if err == context.Canceled || err == context.DeadlineExceeded {
			return err
		}
	}
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}
