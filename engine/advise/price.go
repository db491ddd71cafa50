package advise

import (
	"math"
	"sort"
	"sync"

	"slipcase/engine"
	"slipcase/engine/diagnose"
	"slipcase/engine/network"
)

// Advice is what to do next.
type Advice struct {
	// Checks are those worth listing, best first: what the next step would
	// destroy, then by net value, bits and name.
	Checks []Priced
	// Proven is how many at the head of Checks are proven to be the best: the
	// proven ends of their intervals do not overlap those of any check behind.
	Proven   int
	Withheld []Refusal    // unsafe now, or pointless
	Closed   []Refusal    // stage not open, evidence gone, needs a step first
	Unpriced int          // open checks that are proven to be behind the Best asked for
	NextStep *engine.Step // first step of today's plan; nil when nothing is left
	// ToCulprit is V, minutes to the culprit under today's plan; Causes is L,
	// minutes that unsettled root causes cost.
	ToCulprit, Causes float64
	Leader            *engine.Component
	LeaderP           float64
	Posteriors        int // how many were worked out
	Budgeted          int // checks whose interval is open because the budget was spent
}

// Priced is an open check with its price.
type Priced struct {
	Check    *engine.Check
	Findings []Open // findings not yet answered
	Minutes  float64
	// Saves is the gain in minutes; SavesHigh its upper end, equal when Exact.
	Saves, SavesHigh float64
	// SettlesCauses is the part of Saves that lies in root causes.
	SettlesCauses float64
	Net, NetHigh  float64 // Saves − Minutes
	Bits          float64 // information about the suspects; at least this much when not Exact
	Exact         bool
	Answers       int          // answers worked out to the end
	Before        *engine.Step // the step of today's plan that would destroy the evidence; nil when none comes
	Urgent        bool         // that step is the next one
	Cautions      []*engine.Caution
	Separates     []Answer // with Options.Explain: its likely answers
	// Worth tells whether it is worth doing: net value above zero, or
	// LeastBits and more.
	Worth bool
}

// Open is a finding that a check would report on.
type Open struct {
	Name, Title string
	P           float64 // P(it is reported present)
	Reporter    string
}

// Price prices the open checks of a case.
func Price(m *diagnose.Model, c *engine.CaseFile, opt Options) (*Advice, error) {
	a, err := New(m)
	if err != nil {
		return nil, err
	}
	return a.Price(c, opt)
}

// candidate is a check on the way to its price.
type candidate struct {
	check
	t    *tree
	f    figures
	hi   float64 // upper bound of the gain
	full bool    // refined as far as it goes
	err  error
}

func (c *candidate) netLow() float64  { return c.f.gain.low - c.Minutes.Value }
func (c *candidate) netHigh() float64 { return c.hi - c.Minutes.Value }

// Price prices the open checks of a case.
func (a *Adviser) Price(c *engine.CaseFile, opt Options) (*Advice, error) {
	opt = opt.filled()
	b, k, pieces, err := a.begin(c, opt)
	if err != nil {
		return nil, err
	}
	out := &Advice{Causes: b.value.causes, ToCulprit: b.value.j - b.value.causes}
	for i, p := range a.parts {
		if b.belief.parts[i] > out.LeaderP+1e-9 {
			out.Leader, out.LeaderP = p.component, b.belief.parts[i]
		}
	}
	open, withheld, closed := a.offer(c, pieces, opt)
	out.Withheld, out.Closed = withheld, closed
	cands := make([]*candidate, len(open))
	for i := range open {
		cands[i] = &candidate{check: open[i], hi: b.value.j - b.value.perfect}
	}
	if opt.Best > 0 && opt.Best < len(cands) {
		err = a.race(b, k, cands, opt)
	} else {
		err = a.all(b, k, cands, opt)
	}
	if err != nil {
		return nil, err
	}
	a.finish(out, b, k, cands, opt)
	return out, nil
}

// begin solves the case as it is.
func (a *Adviser) begin(c *engine.CaseFile, opt Options) (*base, *costs, []diagnose.Piece, error) {
	pieces, ev, err := a.evidence(c)
	if err != nil {
		return nil, nil, nil, err
	}
	post, err := a.solver.SolveSubset(ev, a.want)
	if err != nil {
		// The model names the reports that clash.
		if _, clash := a.Model.Solve(pieces); clash != nil {
			err = clash
		}
		return nil, nil, nil, err
	}
	b := &base{a: a, ev: ev, log: post.LogEvidence, belief: a.believe(post)}
	k := a.newCosts(c, opt.Values)
	if err := k.start(b.belief); err != nil {
		return nil, nil, nil, err
	}
	if b.value, err = k.value(b.belief); err != nil {
		return nil, nil, nil, err
	}
	return b, k, pieces, nil
}

// each runs f for every candidate, opt.Workers at a time. What f does depends
// on its candidate alone, so the order of work leaves no trace.
func each(list []*candidate, k *costs, workers int, f func(c *candidate, k *costs) error) error {
	var wg sync.WaitGroup
	next := make(chan *candidate)
	for range min(workers, len(list)) {
		wg.Add(1)
		go func() {
			defer wg.Done()
			own := k.fork()
			for c := range next {
				c.err = f(c, own)
			}
		}()
	}
	for _, c := range list {
		next <- c
	}
	close(next)
	wg.Wait()
	for _, c := range list {
		if c.err != nil {
			return c.err
		}
	}
	return nil
}

// all prices every candidate as far as the budget goes.
func (a *Adviser) all(b *base, k *costs, cands []*candidate, opt Options) error {
	return each(cands, k, opt.Workers, func(c *candidate, k *costs) error {
		return c.refine(b, k, opt, opt.Budget)
	})
}

// refine opens the tree of a candidate by up to budget posteriors; one of few
// findings is always worked out whole.
func (c *candidate) refine(b *base, k *costs, opt Options, budget int) error {
	if c.t == nil {
		t, err := newTree(b, k, c.items, true)
		if err != nil {
			return err
		}
		c.t = t
		if len(c.items) > opt.Exact {
			if err := t.sortItems(); err != nil {
				return err
			}
		}
	}
	c.t.k = k
	tolerance := opt.Tolerance
	if len(c.items) <= opt.Exact {
		budget, tolerance = 1<<len(c.items), 0
	}
	if err := c.t.refine(budget, tolerance); err != nil {
		return err
	}
	c.f = c.t.figures()
	c.hi = math.Min(c.hi, c.f.gain.high)
	c.full = len(c.t.open) == 0 || c.f.gain.high-c.f.gain.low <= opt.Tolerance || c.t.solves >= opt.Budget
	return nil
}

// chunk is how many posteriors a large check gets at a time while its rank is
// open, and batch how many candidates are worked on at a time.
const (
	chunk = 32
	batch = 4
)

// race refines the candidates whose upper end is highest until opt.Best of
// them stand clear of all others.
func (a *Adviser) race(b *base, k *costs, cands []*candidate, opt Options) error {
	if err := each(cands, k, opt.Workers, func(c *candidate, k *costs) error { return a.bound(b, k, c) }); err != nil {
		return err
	}
	for {
		sort.SliceStable(cands, func(i, j int) bool { return cands[i].netHigh() > cands[j].netHigh() })
		// The opt.Best-th of the lower ends is what a rival must beat.
		lows := make([]float64, 0, len(cands))
		for _, c := range cands {
			if c.t != nil {
				lows = append(lows, c.netLow())
			}
		}
		sort.Sort(sort.Reverse(sort.Float64Slice(lows)))
		bar := math.Inf(-1)
		if len(lows) >= opt.Best {
			bar = lows[opt.Best-1]
		}
		var todo []*candidate
		for _, c := range cands {
			if !c.full && c.netHigh() > bar-1e-9 && len(todo) < batch {
				todo = append(todo, c)
			}
		}
		if len(todo) == 0 {
			return nil
		}
		err := each(todo, k, opt.Workers, func(c *candidate, k *costs) error { return c.refine(b, k, opt, chunk) })
		if err != nil {
			return err
		}
	}
}

// bound finds an upper end of a gain with one posterior, that of no finding of
// the check being there, which needs no auxiliary variable. Reports tell no
// more than the findings themselves would; where one of them is there, at most
// all that perfect knowledge saves is gained.
func (a *Adviser) bound(b *base, k *costs, c *candidate) error {
	if len(c.items) < 3 {
		return nil // the price itself is as cheap
	}
	ev := append([]network.Likelihood(nil), b.ev...)
	for _, it := range c.items {
		ev = append(ev, network.Likelihood{Node: it.node, On: 0, Off: 1, Tag: -1})
	}
	post, err := a.solver.SolveSubset(ev, a.want)
	if _, never := err.(*network.ImpossibleError); never {
		return nil
	}
	if err != nil {
		return err
	}
	none := math.Min(1, math.Exp(post.LogEvidence-b.log))
	v, err := k.value(a.believe(post))
	if err != nil {
		return err
	}
	rest := b.value.perfect - none*v.perfect // perfect knowledge where one is there
	c.hi = math.Min(c.hi, b.value.j-none*v.low-rest)
	return nil
}

// finish orders and describes what was priced.
func (a *Adviser) finish(out *Advice, b *base, k *costs, cands []*candidate, opt Options) {
	steps := a.Model.Unit.Steps
	place := map[string]int{} // step -> its place in today's plan
	for at, j := range k.plan {
		if i := k.index[j]; i >= 0 {
			place[steps[i].Name] = at
			if out.NextStep == nil {
				out.NextStep = &steps[i]
			}
		}
	}
	started := len(place) < len(steps)
	for _, c := range cands {
		if c.t == nil {
			out.Unpriced++
			continue
		}
		out.Posteriors += c.t.solves
		p := a.priced(c, b, opt)
		p.Before, p.Urgent = a.before(c.Check, place, out.NextStep)
		if !c.f.exact && c.f.gain.high-c.f.gain.low > opt.Tolerance {
			out.Budgeted++
		}
		if p.SavesHigh == 0 && p.Bits == 0 && p.Exact {
			out.Withheld = append(out.Withheld, Refusal{c.Check, "pointless now: no answer would change a suspect or the plan"})
			continue
		}
		out.Checks = append(out.Checks, p)
	}
	// Evidence is taken before the next step only once that step is the next
	// thing to do: work has begun, or nothing else is worth its minutes.
	rush := started
	if !rush {
		rush = true
		for _, p := range out.Checks {
			rush = rush && (p.Urgent || !p.Worth)
		}
	}
	first := func(p *Priced) bool { return rush && p.Urgent && p.Worth }
	sort.SliceStable(out.Checks, func(i, j int) bool {
		x, y := &out.Checks[i], &out.Checks[j]
		switch {
		case first(x) != first(y):
			return first(x)
		case math.Abs(x.Net-y.Net) > 1e-9:
			return x.Net > y.Net
		case math.Abs(x.Bits-y.Bits) > 1e-9:
			return x.Bits > y.Bits
		}
		return x.Check.Name < y.Check.Name
	})
	out.Proven = proven(out.Checks, cands, first)
	if opt.Best > 0 && len(out.Checks) > opt.Best {
		out.Checks = out.Checks[:opt.Best]
		out.Unpriced = len(cands) - opt.Best
	}
	out.Proven = min(out.Proven, len(out.Checks))
	if opt.Explain {
		byName := map[string]*candidate{}
		for _, c := range cands {
			byName[c.Name] = c
		}
		for i := range out.Checks {
			c := byName[out.Checks[i].Check.Name]
			out.Checks[i].Separates = a.separates(c.t, b)
		}
	}
}

// proven counts the checks at the head whose lower end no check behind can
// exceed.
func proven(list []Priced, cands []*candidate, first func(*Priced) bool) int {
	high := math.Inf(-1)
	for _, c := range cands {
		if c.t == nil {
			high = math.Max(high, c.netHigh())
		}
	}
	n := 0
	for n < len(list) {
		ok := list[n].Net >= high-1e-9
		for _, p := range list[n+1:] {
			ok = ok && (list[n].Net >= p.NetHigh-1e-9 || first(&list[n]) && !first(&p))
		}
		if !ok {
			return n
		}
		n++
	}
	return n
}

// priced describes one candidate.
func (a *Adviser) priced(c *candidate, b *base, opt Options) Priced {
	m := c.Minutes.Value
	p := Priced{
		Check: c.Check, Minutes: m,
		Saves: c.f.gain.low, SavesHigh: c.f.gain.high, SettlesCauses: c.f.causes.low,
		Net: c.f.gain.low - m, NetHigh: c.f.gain.high - m,
		Bits: c.f.bits.low, Exact: c.f.exact, Answers: len(c.t.leaves),
	}
	p.Worth = p.Net > 0 || p.Bits >= opt.Values.LeastBits
	marginal := map[string]float64{}
	for i, it := range c.t.items {
		marginal[it.name] = c.t.rootItems[i]
	}
	for _, it := range c.items {
		p.Findings = append(p.Findings, Open{it.name, it.title, it.predict(marginal[it.name]), it.by})
	}
	for _, name := range c.Cautions {
		for i := range a.Model.Knowledge.Cautions {
			if x := &a.Model.Knowledge.Cautions[i]; x.Name == name {
				p.Cautions = append(p.Cautions, x)
			}
		}
	}
	return p
}

// before finds the first step of the plan that would destroy the evidence.
func (a *Adviser) before(c *engine.Check, place map[string]int, next *engine.Step) (*engine.Step, bool) {
	best := -1
	var step *engine.Step
	for _, name := range c.Before {
		if at, ok := place[name]; ok && (best < 0 || at < best) {
			best, step = at, a.Model.Step(name)
		}
	}
	return step, step != nil && step == next
}
