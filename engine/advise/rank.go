package advise

import (
	"math"
	"slices"
	"sort"

	"slipcase/engine"
	"slipcase/engine/tie"
)

// ranking orders what was priced.
type ranking struct {
	a         *Adviser
	b         *base
	opt       Options
	place     map[string]int // step -> its place in today's plan
	next      *engine.Step   // the first of them
	started   bool           // work has begun
	lead      float64        // the highest probability of a part that a step left shows, and of any that is likely
	list      []Priced       // best first
	cands     []*candidate   // along list
	pointless []Refusal
	wide      []Refusal
	rush      bool
	unproven  bool // that these are the best of all
}

func (a *Adviser) newRanking(b *base, k *costs, opt Options) *ranking {
	r := &ranking{a: a, b: b, opt: opt, place: map[string]int{}}
	course := opt.Course
	if course == nil {
		for _, j := range k.plan {
			if step := k.steps[j]; step != nil {
				course = append(course, step.Name)
			}
		}
	}
	for at, name := range course {
		r.place[name] = at
		if r.next == nil {
			r.next = a.Model.Step(name)
		}
	}
	for i, j := range k.job {
		// What no step shows is there to be ruled out: it ends the asking, and does
		// not make it dearer.
		if j >= 0 && (b.belief.parts[i] >= likely || k.steps[j] != nil) {
			r.lead = math.Max(r.lead, b.belief.parts[i])
		}
	}
	r.started = len(b.c.Done) > 0
	return r
}

// likely is the probability of a part from which it is gone for: no more is asked
// about that only tells more. Basis: chosen on the scripts of drivers, where 0.9 lost
// three leaders and left two wrong parts above 60%.
const likely = 0.98

// rank describes and sorts the candidates by what is known of them.
func (r *ranking) rank(cands []*candidate) {
	r.list, r.cands, r.pointless, r.wide = nil, nil, nil, nil
	type entry struct {
		p Priced
		c *candidate
	}
	var all []entry
	for _, c := range cands {
		if c.wide {
			r.wide = append(r.wide, Refusal{Check: c.Check, Why: TooMuch})
			continue
		}
		p := r.a.priced(c, r.b, r.opt, r.lead)
		p.Before, p.Urgent = r.a.before(c.Check, r.place, r.next)
		if p.SavesHigh == 0 && p.Bits == 0 && p.Exact && c.many == nil {
			r.pointless = append(r.pointless, Refusal{Check: c.Check, Why: Pointless})
			continue
		}
		all = append(all, entry{p, c})
	}
	// Evidence is taken before the next step only once that step is the next
	// thing to do: work has begun, or nothing else is worth its minutes.
	if r.rush = r.started; !r.rush {
		r.rush = true
		for _, e := range all {
			r.rush = r.rush && (e.p.Urgent || !e.p.Worth)
		}
	}
	sort.SliceStable(all, func(i, j int) bool { return r.before(&all[i].p, &all[j].p) })
	for _, e := range all {
		r.list, r.cands = append(r.list, e.p), append(r.cands, e.c)
	}
}

// first tells whether a check goes before all others.
func (r *ranking) first(p *Priced) bool { return r.rush && p.Urgent && p.Worth }

// before is the order of the list.
func (r *ranking) before(x, y *Priced) bool {
	rate := func(p *Priced) float64 { return p.Bits / math.Max(p.Minutes, 1) }
	switch {
	case r.first(x) != r.first(y):
		return r.first(x)
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
}

// What figures that are near may be off by, in minutes and bits: three times the
// most that was seen on the demo cases and on what is told first of them
// (0.16 minutes, 0.009 bits). Where more than many causes come together behind
// one report that is not worked out, as behind a trouble code that any of its
// rows can set, 3.0 minutes and 0.14 bits were seen.
const (
	nearMinutes, nearBits = 0.5, 0.03
	farMinutes, farBits   = 5.0, 0.25
	crowd                 = 15
)

// off is what the figures of a candidate may be off by.
func (c *candidate) off(b *base) (minutes, bits float64) {
	for _, n := range c.many {
		minutes, bits = math.Max(minutes, nearMinutes), math.Max(bits, nearBits)
		if len(b.s.solver.Net().Nodes[n].Links) > crowd {
			return farMinutes, farBits
		}
	}
	return minutes, bits
}

// unsettled lists the candidates whose exact figures could change what is shown:
// the best so many checks, all for 0.
func (r *ranking) unsettled(best int) []*candidate {
	if best <= 0 || best > len(r.list) {
		best = len(r.list)
	}
	var out []*candidate
	for i, c := range r.cands {
		if c.many == nil {
			continue
		}
		p := r.list[i]
		if i >= best && (p.SavesHigh > 0 || p.Bits > 0) {
			minutes, bits := c.off(r.b)
			p.Net += minutes
			p.Bits += bits
			p.Worth = r.opt.Values.worth(p.Check, p.Net, p.Bits, r.lead)
			if !r.before(&p, &r.list[best-1]) {
				continue
			}
		}
		out = append(out, c)
	}
	return out
}

// finish writes down the best.
func (r *ranking) finish(out *Advice, opt Options) {
	sort.SliceStable(r.pointless, func(i, j int) bool { return r.pointless[i].Check.Minutes.Value < r.pointless[j].Check.Minutes.Value })
	out.Withheld = slices.Concat(out.Withheld, r.wide, r.pointless)
	out.Checks = r.list
	if !r.unproven {
		out.Proven = r.proven()
	}
	if opt.Best > 0 && len(out.Checks) > opt.Best {
		out.Unpriced += len(out.Checks) - opt.Best
		out.Checks = out.Checks[:opt.Best]
	}
	out.Proven = min(out.Proven, len(out.Checks))
	if opt.Explain {
		for i := range out.Checks {
			out.Checks[i].Separates = separates(r.cands[i], r.b)
		}
	}
}

// proven counts the checks at the head that no check behind can overtake by
// what it may save beyond the figures given.
func (r *ranking) proven() int {
	list := r.list
	n := 0
	for n < len(list) {
		bar := math.Max(list[n].Net, 0) + tie.Grain
		ok := true
		for i := n + 1; i < len(list); i++ {
			p := list[i]
			minutes, _ := r.cands[i].off(r.b)
			p.NetHigh += minutes
			ok = ok && (p.NetHigh <= bar || p.NetHigh <= list[n].Net+tie.Grain || r.first(&list[n]) && !r.first(&p))
		}
		if !ok {
			return n
		}
		n++
	}
	return n
}
