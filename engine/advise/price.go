package advise

import (
	"errors"
	"fmt"
	"slices"
	"sort"
	"sync"

	"slipcase/engine"
	"slipcase/engine/diagnose"
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
	// Proven is how many at the head of Checks are the best: no check behind them
	// is worth more by its telling findings, all of which were worked out, exactly or
	// with an error of which three times the most that was measured is allowed for
	// (see ranking.off). 0 where Near or Granted make every figure less than exact.
	Proven   int
	Withheld []Refusal // unsafe now, or pointless
	Closed   []Refusal // stage not open, evidence gone, needs a step first
	Unpriced int       // open checks that are proven to be behind the Best asked for
	// Near names the reports that counted approximately when the checks were chosen, as
	// finding and reporter: exactly they would tie too many causes together for
	// hundreds of answers (model.Within). nil for none. The figures count them
	// approximately, too, unless Whole. What diagnose.Result.Left names counts nowhere.
	Near []Near
	// Granted is the error of a probability that the prices allow, an estimate:
	// PriceError, and more where reports are so unlikely together that it would take
	// higher precision.
	Granted  float64
	Whole    bool         // with Options.Explain and Best: all figures count every report exactly
	NextStep *engine.Step // first step of today's plan; nil when nothing is left
	// ToRepair is V, minutes to the repaired vehicle by the best order; Causes is L,
	// minutes that unsettled root causes cost.
	ToRepair, Causes float64
	// Leader is the likeliest of the components that can be behind the complaint,
	// by its modes that can. With Options.Explain it is the first of the suspects of
	// package diagnose, and every report counts.
	Leader  *engine.Component
	LeaderP float64 // its probability
}

// Near is a report that counts approximately.
type Near struct {
	Finding, By string
	Value       string // of a reading
	About       *model.Node
}

// Priced is an open check with its price.
type Priced struct {
	Check    *engine.Check
	Findings []Open // findings not yet answered
	Minutes  float64
	// Saves is the gain in minutes of its telling findings, exact but for
	// Advice.Granted and Advice.Near; the others can only add to it. SavesHigh differs only where the best order of the
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
	// Worth tells whether it is worth doing: net value above zero, or it tells enough
	// for the minutes that it loses (Values).
	Worth bool
}

// Open is a finding that a check would report on.
type Open struct {
	Name, Reporter string
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

// candidate is a check on the way to its price.
type candidate struct {
	check
	chosen  []item // those worked out
	nodes   []int  // what stands for them in the network
	site    *site
	many    []int // what its figures leave out is behind these nodes; nil when they are exact
	f       figures
	answers []answer
	wide    bool // beyond the work bound
}

// Price prices the open checks of a case.
func (a *Adviser) Price(c *engine.CaseFile, opt Options) (*Advice, error) {
	opt = opt.filled()
	b, k, pieces, err := a.begin(c, opt)
	if err != nil {
		return nil, err
	}
	defer b.site.free()
	out := &Advice{Causes: b.value.causes, ToRepair: b.value.j - b.value.causes, Near: b.shared, Granted: b.granted}
	for i, p := range b.s.parts {
		if b.belief.parts[i] > out.LeaderP+tie.Grain {
			out.Leader, out.LeaderP = p.component, b.belief.parts[i]
		}
	}
	open, withheld, closed := a.offer(c, pieces, opt)
	out.Withheld, out.Closed = withheld, closed
	cands := make([]*candidate, len(open))
	exact := opt.Exact
	for {
		for i := range open {
			cands[i] = b.candidate(open[i], exact)
		}
		if exact == 1 || b.affordable(cands) {
			break
		}
		exact--
	}
	err = each(cands, k, opt.Workers, func(c *candidate, k *costs) error {
		defer c.release(b)
		return c.price(b, k)
	})
	if err != nil {
		return nil, err
	}
	r := a.newRanking(b, k, opt)
	r.unproven = b.granted > PriceError || len(b.shared) > 0
	out.NextStep = r.next
	for {
		r.rank(cands)
		todo := r.unsettled(opt.Best)
		if len(todo) == 0 {
			break
		}
		err := each(b.lots(todo), k, opt.Workers, func(l lot, k *costs) error { return l.exactly(b, k) })
		if err != nil {
			return nil, err
		}
	}
	if opt.Explain {
		whole, err := a.whole(b, pieces, opt.Read)
		if err != nil {
			return nil, err
		}
		if whole != b {
			defer whole.site.free()
			if r, err = a.anew(whole, r, out, opt); err != nil {
				return nil, err
			}
		}
		if out.Leader, out.LeaderP, err = whole.leader(); err != nil {
			return nil, err
		}
	}
	r.finish(out, opt)
	return out, nil
}

// candidate chooses what is worked out of a check, and where.
func (b *base) candidate(ch check, exact int) *candidate {
	return b.site.take(ch, b.choose(ch.items, exact))
}

// take is a candidate on a site, or on its own.
func (t *site) take(ch check, chosen []item) *candidate {
	c := &candidate{check: ch, chosen: chosen, site: t}
	ev, nodes, plain := t.b.ask(chosen)
	if c.nodes = nodes; !plain {
		c.site = t.b.newSite(ev, nil) // its evidence is its own
	}
	return c
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
	b, err := s.hold(c, pieces, opt.Read)
	if err != nil {
		return nil, nil, nil, a.Model.Named(pieces, err)
	}
	k, err := s.newCosts(c, opt.Values)
	if err != nil {
		return nil, nil, nil, err
	}
	if err := k.start(b.belief); err != nil {
		return nil, nil, nil, err
	}
	b.value = k.value(b.belief)
	return b, k, pieces, nil
}

// hold brings the case onto a tree that gives prices soon.
func (s *scope) hold(c *engine.CaseFile, every []model.Piece, read *diagnose.Result) (*base, error) {
	m := s.a.Model
	pieces, _ := m.Foremost(every)
	if len(pieces) > many {
		if b, err := s.crowd(c, every, read); b != nil || err != nil {
			return b, err
		}
	}
	want := append(slices.Clone(s.want), m.Modes()...)
	var b *base
	entries := 0.0
	for i, try := range tries {
		now := s.granting(try.err)
		if try.entries != entries {
			kept, near, err := now.within(pieces, want, try.entries)
			if errors.Is(err, network.ErrWide) && b != nil {
				break // the tree before is the smallest
			}
			if err != nil {
				return nil, err
			}
			entries = try.entries
			b = &base{kept: kept, ev: m.Likelihoods(kept), shared: near}
		}
		b = &base{s: now, c: c, kept: b.kept, ev: b.ev, shared: b.shared, granted: try.err}
		b.site = b.newSite(b.ev, nil)
		g, err := b.site.tree()
		if err != nil {
			return nil, err
		}
		if quick(g) || i == len(tries)-1 {
			break
		}
		b.site.free()
	}
	g, err := b.solve()
	if err == nil {
		err = b.origins(g)
	}
	return b, err
}

// affordable tells whether the prices of some candidates are soon there: passes over
// the tree, one for each set of their findings. Of a crowd of reports the tree is what
// it is; then fewer findings of each check are worked out.
func (b *base) affordable(cands []*candidate) bool {
	g, err := b.site.tree()
	if err != nil || !b.crowd {
		return true
	}
	passes := 0
	for _, c := range cands {
		passes += 1 << len(c.chosen)
	}
	return float64(passes)*g.Entries() <= crowdPrices
}

// many is how many pieces make it worth asking how the diagnosis counts them, and
// manyShared how many shared out of them make it count them so here, too: sharing out
// hundreds takes a second. Up to so many present, the tree must be one as
// prices have it else; crowdPrices is what they may take, in entries of all passes, about half a second.
const (
	many, manyShared, manyPresent = 60, 48, 160
	crowdPrices                   = 1 << 26
)

// crowd is the case on the tree on which the diagnosis counts it, nil where it is not
// one of very many reports shared out, or gives no prices soon.
func (s *scope) crowd(c *engine.CaseFile, pieces []model.Piece, read *diagnose.Result) (*base, error) {
	m := s.a.Model
	all, near, err := s.a.counted(pieces, read)
	if err != nil || len(near) <= manyShared {
		return nil, err
	}
	ev, most := m.Likelihoods(all), float64(wholeWork)
	if m.Presents(pieces) <= manyPresent {
		most = 2 * priceWork
	}
	for _, try := range tries {
		b := &base{s: s.granting(try.err), c: c, kept: all, ev: ev, shared: named(near), granted: try.err, crowd: true}
		b.site = b.newSite(ev, nil)
		g, err := b.site.tree()
		switch {
		case errors.Is(err, errWide), err == nil && g.Entries() > most:
			return nil, nil
		case err != nil:
			return nil, err
		}
		if quick(g) {
			if g, err = b.solve(); err == nil {
				err = b.origins(g)
			}
			return b, err
		}
		b.site.free()
	}
	return nil, nil
}

// each runs f for every member of a list, workers at a time. What f does depends on
// that member alone, so the order of work leaves no trace.
func each[T any](list []T, k *costs, workers int, f func(c T, k *costs) error) error {
	var wg sync.WaitGroup
	next := make(chan int)
	errs := make([]error, len(list))
	for range min(workers, len(list)) {
		wg.Add(1)
		go func() {
			defer wg.Done()
			own, err := k.fork()
			for i := range next {
				if errs[i] = err; err == nil {
					errs[i] = f(list[i], own)
				}
			}
		}()
	}
	for i := range list {
		next <- i
	}
	close(next)
	wg.Wait()
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// price works a candidate out on its site; near, where the site does not hold
// all that its findings hang on.
func (c *candidate) price(b *base, k *costs) error {
	if c.site != b.site {
		if g, err := c.site.tree(); err == nil && !quick(g) {
			c.wide = true
			return nil
		}
	}
	var err error
	after := k
	if len(c.looks) > 0 {
		if after, err = k.without(c.looks); err != nil {
			return err
		}
	}
	c.f, c.answers, err = b.price(k, after, c.site, c.chosen, c.nodes, c.Repairs)
	if errors.Is(err, errWide) {
		c.wide = true
		return nil
	}
	if err != nil {
		return err
	}
	c.many = c.site.behind(c.nodes)
	c.f.exact = c.f.exact && len(c.chosen) == len(c.items)
	return nil
}

// release gives the memory of a candidate's own tree back.
func (c *candidate) release(b *base) {
	if c.site != b.site {
		c.site.free()
	}
}

// lot is candidates whose findings hang on the same nodes outside the tree, such as
// one question put to the driver and to the road test: one tree serves them all, and
// what one of them asked of it need not be worked out for the next.
type lot []*candidate

// lots gathers candidates, in their order.
func (b *base) lots(list []*candidate) []lot {
	var out []lot
	at := map[string]int{}
	for _, c := range list {
		if c.site == b.site && c.many != nil {
			many := slices.Clone(c.many)
			slices.Sort(many)
			key := fmt.Sprint(slices.Compact(many))
			if i, ok := at[key]; ok {
				out[i] = append(out[i], c)
				continue
			}
			at[key] = len(out)
		}
		out = append(out, lot{c})
	}
	return out
}

// exactly prices a lot anew, exactly. Where that is too much its figures stay near,
// and are not exact.
func (l lot) exactly(b *base, k *costs) error {
	done, err := l.apart(b, k)
	if !done && err == nil {
		l.near()
	}
	return err
}

// near says of the figures that they are to stay as they are.
func (l lot) near() {
	for _, c := range l {
		c.many, c.f.exact = nil, false
	}
}

// apart prices a lot on a tree that holds what its findings hang on; false where
// that is too large.
func (l lot) apart(b *base, k *costs) (bool, error) {
	was := l[0].site
	own := b.newSite(was.ev, append(slices.Clone(was.more), l[0].many...))
	defer own.free()
	switch g, err := own.tree(); {
	case errors.Is(err, errWide), err == nil && (g.Entries() > wholeWork || !quick(g)):
		return false, nil
	case err != nil:
		return false, err
	}
	for _, c := range l {
		c.site = own
		if err := c.price(b, k); err != nil {
			return false, err
		}
	}
	return true, nil
}

// priced describes one candidate.
func (a *Adviser) priced(c *candidate, b *base, opt Options, lead float64) Priced {
	m := c.Minutes.Value
	p := Priced{
		Check: c.Check, Minutes: m,
		Saves: c.f.gain.low, SavesHigh: c.f.gain.high, SettlesCauses: c.f.causes,
		Net: c.f.gain.low - m, NetHigh: c.f.gain.high - m,
		Bits: c.f.bits, Exact: c.f.exact, Answers: len(c.answers),
	}
	p.Worth = opt.Values.worth(c.Check, p.Net, p.Bits, lead)
	telling := map[string]bool{}
	for _, it := range c.chosen {
		telling[it.name] = true
	}
	for i := range c.items {
		it := &c.items[i]
		p.Findings = append(p.Findings, Open{it.name, it.by, it.predict(b.estimate(it)), telling[it.name], b.telling(it)})
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
