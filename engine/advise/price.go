package advise

import (
	"errors"
	"fmt"
	"math"
	"sort"
	"sync"

	"slipcase/engine"
	"slipcase/engine/model"
	"slipcase/engine/network"
	"slipcase/engine/tie"
)

// Advice is what to do next.
type Advice struct {
	// Checks are those worth listing, best first: what the next step would
	// destroy; what saves more minutes than it costs, by net value, bits and
	// name; what tells enough to be worth it anyway, by bits a minute; then the
	// rest by net value.
	Checks []Priced
	// Proven is how many at the head of Checks are proven to be the best: no
	// check behind them can be worth more by its telling findings.
	Proven   int
	Withheld []Refusal // unsafe now, or pointless
	Closed   []Refusal // stage not open, evidence gone, needs a step first
	Unpriced int       // open checks that are proven to be behind the Best asked for
	// LeftOut names the reports that no figure here takes into account, as
	// finding and reporter: with them the case would tie too many causes
	// together for hundreds of exact answers. nil for none.
	LeftOut  []Left
	NextStep *engine.Step // first step of today's plan; nil when nothing is left
	// ToCulprit is V, minutes to the culprit under today's plan; Causes is L,
	// minutes that unsettled root causes cost.
	ToCulprit, Causes float64
	Leader            *engine.Component
	LeaderP           float64
}

// Left is a report that was left out.
type Left struct{ Finding, Title, By string }

// Priced is an open check with its price.
type Priced struct {
	Check    *engine.Check
	Findings []Open // findings not yet answered
	Minutes  float64
	// Saves is the gain in minutes of its telling findings, exact; the others
	// can only add to it. SavesHigh differs only where the best order of the
	// steps left is not proven.
	Saves, SavesHigh float64
	// SettlesCauses is the part of Saves that lies in root causes.
	SettlesCauses float64
	Net, NetHigh  float64      // Saves − Minutes
	Bits          float64      // information about the suspects; at least this much when not Exact
	Exact         bool         // every open finding is a telling one
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
	Name, Title, Reporter string
	// P is the probability that it is reported present, as if its causes were
	// independent: for showing, no price rests on it.
	P float64
	// Telling marks the findings that were worked out; the others can only add
	// to what the check saves.
	Telling bool
	// Tells estimates how much its report can tell at all, in bits; no price
	// rests on it.
	Tells float64
}

// Ask picks what to ask of a check: its most telling findings, at most n, in
// their own order. What can tell next to nothing is left out, so that nobody
// is asked to no purpose and the posterior stays quick; one is always left.
func Ask(list []Open, n int) []Open {
	at := make([]int, len(list))
	for i := range at {
		at[i] = i
	}
	sort.SliceStable(at, func(i, j int) bool { return list[at[i]].Tells > list[at[j]].Tells+1e-12 })
	keep := min(1, len(at))
	for keep < len(at) && keep < n && list[at[keep]].Tells >= negligible {
		keep++
	}
	at = at[:keep]
	sort.Ints(at)
	out := make([]Open, len(at))
	for i, k := range at {
		out[i] = list[k]
	}
	return out
}

// negligible is the information, in bits, below which a finding is not asked.
const negligible = 0.002

// Price prices the open checks of a case.
func Price(m *model.Model, c *engine.CaseFile, opt Options) (*Advice, error) {
	a, err := New(m)
	if err != nil {
		return nil, err
	}
	return a.Price(c, opt)
}

// stage is how far a candidate has come.
type stage int

const (
	bySums stage = iota // its upper end comes from sums
	priced
	unpriceable // beyond the work bound
)

// candidate is a check on the way to its price.
type candidate struct {
	check
	chosen  []item // those worked out
	nodes   []int  // what stands for them in the network
	group   *group
	f       figures
	answers []answer
	high    float64 // upper end of the gain
	stage   stage
	err     error
}

func (c *candidate) netLow() float64  { return c.f.gain.low - c.Minutes.Value }
func (c *candidate) netHigh() float64 { return c.high - c.Minutes.Value }

// Price prices the open checks of a case.
func (a *Adviser) Price(c *engine.CaseFile, opt Options) (*Advice, error) {
	opt = opt.filled()
	b, k, pieces, err := a.begin(c, opt)
	if err != nil {
		return nil, err
	}
	out := &Advice{Causes: b.value.causes, ToCulprit: b.value.j - b.value.causes, LeftOut: b.left}
	for i, p := range b.s.parts {
		if b.belief.parts[i] > out.LeaderP+tie.Grain {
			out.Leader, out.LeaderP = p.component, b.belief.parts[i]
		}
	}
	open, withheld, closed := a.offer(c, pieces, opt)
	out.Withheld, out.Closed = withheld, closed
	cands := make([]*candidate, len(open))
	for i := range open {
		x := &candidate{check: open[i]}
		x.chosen = b.choose(x.items, opt.Exact)
		x.high = b.most(k, x.chosen)
		cands[i] = x
	}
	b.gather(cands)
	if opt.Best > 0 && opt.Best < len(cands) {
		err = race(b, k, cands, opt)
	} else {
		err = each(cands, k, opt.Workers, func(c *candidate, k *costs) error { return c.price(b, k) })
	}
	if err != nil {
		return nil, err
	}
	a.finish(out, b, k, cands, opt)
	return out, nil
}

// begin solves the case as it is.
func (a *Adviser) begin(c *engine.CaseFile, opt Options) (*base, *costs, []model.Piece, error) {
	pieces, err := a.evidence(c)
	if err != nil {
		return nil, nil, nil, err
	}
	s, err := a.scope(c, pieces)
	if err != nil {
		return nil, nil, nil, err
	}
	ev, left, err := s.within(pieces, priceWork)
	var post *network.Posterior
	if err == nil {
		post, err = s.solver.SolveSubset(ev, s.near)
	}
	if err != nil {
		// The model names the reports that clash.
		if _, clash := a.Model.Solve(pieces); clash != nil {
			err = clash
		}
		return nil, nil, nil, err
	}
	if post.Low != nil {
		return nil, nil, nil, fmt.Errorf("advise: the %d reports of this case: %w", len(pieces), errWide)
	}
	b := &base{s: s, c: c, ev: ev, log: post.LogEvidence, near: post.P, belief: s.believe(post.P)}
	b.left = left
	b.today = []float64{1}
	for _, n := range s.want {
		b.today = append(b.today, post.P[n])
	}
	k := s.newCosts(c, opt.Values)
	if err := k.start(b.belief); err != nil {
		return nil, nil, nil, err
	}
	if b.value, err = k.value(b.belief); err != nil {
		return nil, nil, nil, err
	}
	return b, k, pieces, nil
}

// each runs f for every candidate, workers at a time. What f does depends on
// its candidate alone, so the order of work leaves no trace.
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

// price works a candidate out.
func (c *candidate) price(b *base, k *costs) error {
	var err error
	c.f, c.answers, err = b.price(k, c.group, c.chosen, c.nodes)
	if errors.Is(err, errWide) {
		c.stage = unpriceable
		return nil
	}
	if err != nil {
		return err
	}
	c.stage, c.high = priced, c.f.gain.high
	c.f.exact = c.f.exact && len(c.chosen) == len(c.items)
	return nil
}

// batch is how many candidates are worked on before the race is judged again.
const batch = 16

// race works on the candidates whose upper end is highest until opt.Best of
// them stand clear of all that are not priced.
func race(b *base, k *costs, cands []*candidate, opt Options) error {
	for {
		sort.SliceStable(cands, func(i, j int) bool { return cands[i].netHigh() > cands[j].netHigh() })
		// Only what saves minutes stands clear of a check by its net value:
		// below zero it is bits that count, and they have no bound here.
		var lows []float64
		for _, c := range cands {
			if c.stage == priced && c.netLow() > 0 {
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
			if c.stage < priced && c.netHigh() > bar-tie.Grain && len(todo) < batch {
				todo = append(todo, c)
			}
		}
		if len(todo) == 0 {
			return nil
		}
		err := each(todo, k, opt.Workers, func(c *candidate, k *costs) error {
			return c.price(b, k)
		})
		if err != nil {
			return err
		}
	}
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
		switch c.stage {
		case priced:
		case unpriceable:
			out.Withheld = append(out.Withheld, Refusal{Check: c.Check, Why: TooMuch})
			continue
		default:
			out.Unpriced++
			continue
		}
		p := a.priced(c, b, opt)
		p.Before, p.Urgent = a.before(c.Check, place, out.NextStep)
		if p.SavesHigh == 0 && p.Bits == 0 && p.Exact {
			out.Withheld = append(out.Withheld, Refusal{Check: c.Check, Why: Pointless})
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
		rate := func(p *Priced) float64 { return p.Bits / math.Max(p.Minutes, 1) }
		switch {
		case first(x) != first(y):
			return first(x)
		case (x.Net > 0) != (y.Net > 0):
			return x.Net > 0
		case x.Worth != y.Worth:
			return x.Worth
		case x.Worth && x.Net <= 0 && tie.Compare(rate(x), rate(y)) != 0:
			return rate(x) > rate(y)
		case tie.Compare(x.Net, y.Net) != 0:
			return x.Net > y.Net
		case tie.Compare(x.Bits, y.Bits) != 0:
			return x.Bits > y.Bits
		}
		return x.Check.Name < y.Check.Name
	})
	out.Proven = proven(out.Checks, cands, first)
	if opt.Best > 0 && len(out.Checks) > opt.Best {
		out.Unpriced += len(out.Checks) - opt.Best
		out.Checks = out.Checks[:opt.Best]
	}
	out.Proven = min(out.Proven, len(out.Checks))
	if opt.Explain {
		byName := map[string]*candidate{}
		for _, c := range cands {
			byName[c.Name] = c
		}
		for i := range out.Checks {
			c := byName[out.Checks[i].Check.Name]
			out.Checks[i].Separates = separates(c, b)
		}
	}
}

// proven counts the checks at the head that no check behind can overtake by
// what it may save beyond the figures given.
func proven(list []Priced, cands []*candidate, first func(*Priced) bool) int {
	high := math.Inf(-1)
	for _, c := range cands {
		if c.stage < priced {
			// Its bits are not known.
			high = math.Max(high, math.Max(c.netHigh(), 2e-9))
		}
	}
	n := 0
	for n < len(list) {
		bar := math.Max(list[n].Net, 0) + tie.Grain
		ok := high <= bar
		for _, p := range list[n+1:] {
			ok = ok && (p.NetHigh <= bar || p.NetHigh <= list[n].Net+tie.Grain || first(&list[n]) && !first(&p))
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
		Saves: c.f.gain.low, SavesHigh: c.f.gain.high, SettlesCauses: c.f.causes,
		Net: c.f.gain.low - m, NetHigh: c.f.gain.high - m,
		Bits: c.f.bits, Exact: c.f.exact, Answers: len(c.answers),
	}
	p.Worth = p.Net > 0 || p.Bits >= opt.Values.LeastBits
	telling := map[string]bool{}
	for _, it := range c.chosen {
		telling[it.name] = true
	}
	for i := range c.items {
		it := &c.items[i]
		p.Findings = append(p.Findings, Open{it.name, it.title, it.by, it.predict(b.estimate(it)), telling[it.name], b.telling(it)})
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
