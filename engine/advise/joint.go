package advise

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"sort"
	"sync"

	"slipcase/engine"
	"slipcase/engine/model"
	"slipcase/engine/network"
	"slipcase/engine/tie"
)

// base is what all prices of one case start from.
type base struct {
	s       *scope
	c       *engine.CaseFile
	ev      []network.Likelihood
	kept    []model.Piece // behind ev
	shared  []Near        // those of kept that count approximately
	crowd   bool          // as the diagnosis counts them
	granted float64       // the error of a probability that is granted
	log     float64       // log evidence
	near    []float64     // P(on) of what findings of checks come from
	site    *site         // the tree that most checks share
	belief  belief
	value   value
}

// interval is a figure with proven ends; equal ones are exact.
type interval struct{ low, high float64 }

// figures are the gains of a check.
type figures struct {
	gain   interval // minutes
	causes float64  // share of the lower end that settles root causes
	bits   float64
	exact  bool // every open finding was taken into account
}

// answer is one pattern of reports to the findings that were worked out.
type answer struct {
	present []bool
	p       float64
	belief  belief
	value   value
}

// believe reads a posterior.
func (s *scope) believe(p []float64) belief {
	b := belief{parts: make([]float64, len(s.parts)), causes: make([]float64, len(s.a.causes))}
	for i, x := range s.parts {
		b.parts[i] = p[x.node]
	}
	for i, n := range s.a.causes {
		b.causes[i] = p[n]
	}
	return b
}

// predict is P(report present) when the finding is there with probability p.
func (it *item) predict(p float64) float64 { return p*it.hit + (1-p)*it.falseAlarm }

// solve works out the case as it is.
func (b *base) solve() (*network.Incremental, error) {
	if b.site == nil {
		b.site = b.newSite(b.ev, nil)
	}
	g, err := b.site.tree()
	if err != nil {
		return nil, err
	}
	post, err := g.Posterior()
	if err != nil {
		return nil, err
	}
	b.log, b.near, b.belief = post.LogEvidence, post.P, b.s.believe(post.P)
	// The row without any report.
	today := []float64{1}
	for _, n := range b.s.want {
		today = append(today, post.P[n])
	}
	b.site.rows[""] = &row{joint: today}
	b.site.rows[""].once.Do(func() {})
	return g, nil
}

// origins works out what findings of checks come from and the tree does not hold.
func (b *base) origins(g *network.Incremental) error {
	var outside []int
	for _, n := range b.s.a.parents {
		if !g.Has(n) {
			outside = append(outside, n)
		}
	}
	return inParallel(len(outside), func(i int) (err error) {
		b.near[outside[i]], err = b.site.chance(g, outside[i], b.near)
		return err
	})
}

// inParallel calls f for 0 to n−1 on both cores and returns the error of the
// lowest.
func inParallel(n int, f func(i int) error) error {
	errs := make([]error, n)
	var wg sync.WaitGroup
	for half := range 2 {
		wg.Go(func() {
			for i := half; i < n; i += 2 {
				errs[i] = f(i)
			}
		})
	}
	wg.Wait()
	return errors.Join(errs...)
}

// ask is the evidence of a case to which the items are about to be reported,
// and the node that stands for each item there. A finding that is reported
// under several conditions has other nodes than one reported under one; plain
// tells that the evidence is that of the case as it is.
func (b *base) ask(items []item) (ev []network.Likelihood, nodes []int, plain bool) {
	plain = true
	for _, it := range items {
		plain = plain && it.plain == ""
	}
	nodes = make([]int, len(items))
	if plain && !b.conditioned(items) {
		for i, it := range items {
			nodes[i] = it.node
		}
		return b.ev, nodes, true
	}
	c := *b.c
	c.Reports = append([]engine.Report(nil), b.c.Reports...)
	for _, it := range items {
		c.Reports = append(c.Reports, engine.Report{Finding: it.name, State: engine.Present, By: it.by})
	}
	pieces, _ := b.s.a.Model.Hypothetical(&c)
	var rest []model.Piece
	at := map[string]int{}
	for i, it := range items {
		at[it.name+"\x00"+it.by] = i + 1
	}
	for _, p := range pieces {
		if i := at[p.Label+"\x00"+p.By]; i > 0 && p.Ranked {
			nodes[i-1] = p.Node
			continue
		}
		for _, k := range b.kept {
			if k.Shares != nil && k.Label == p.Label && k.About == p.About && k.Value == p.Value && k.By == p.By {
				p = k
			}
		}
		rest = append(rest, p)
	}
	return b.s.a.Model.Likelihoods(rest), nodes, false
}

// conditioned tells whether the case reports one of the items in a condition.
func (b *base) conditioned(items []item) bool {
	for _, r := range b.c.Reports {
		f := engine.ParseFindingName(r.Finding)
		if f.Condition == "" {
			continue
		}
		for _, it := range items {
			if engine.ParseFindingName(it.name).Base() == f.Base() {
				return true
			}
		}
	}
	return false
}

// telling estimates how much an item can tell, in bits: the information
// between its report and "some cause of it is there". It only decides which
// findings of a large check are worked out; no price rests on it.
func (b *base) telling(it *item) float64 {
	n := &b.s.solver.Net().Nodes[it.node]
	none := 1.0
	for _, l := range n.Links {
		if p := b.near[l.Parent]; p > 0 {
			none *= 1 - l.Strength*p
		}
	}
	return informs(1-none, it.hit, it.predict(n.Leak))
}

// informs is the information, in bits, of a report with these rates about a
// state of probability p.
func informs(p, hit, falseAlarm float64) float64 {
	return entropy(p*hit+(1-p)*falseAlarm) - p*entropy(hit) - (1-p)*entropy(falseAlarm)
}

// estimate is P(finding there), for display: exact for one cause, else as if
// causes were independent.
func (b *base) estimate(it *item) float64 {
	n := &b.s.solver.Net().Nodes[it.node]
	none := 1 - n.Leak
	for _, l := range n.Links {
		if p := b.near[l.Parent]; p > 0 {
			none *= 1 - l.Strength*p
		}
	}
	return 1 - none
}

// faint is the information, in bits, below which a finding is left out of a
// price while the check has one that tells more.
const faint = 0.01

// choose picks the most telling items, at most n, in their own order.
func (b *base) choose(items []item, n int) []item {
	tell := make([]float64, len(items))
	at := make([]int, len(items))
	for i := range items {
		tell[i], at[i] = b.telling(&items[i]), i
	}
	sort.SliceStable(at, func(i, j int) bool { return tell[at[i]] > tell[at[j]]+1e-12 })
	keep := 1
	for keep < len(at) && keep < n && (tell[at[keep]] >= faint || len(at) <= 2 && tell[at[keep]] >= negligible) {
		keep++
	}
	at = at[:keep]
	sort.Ints(at)
	out := make([]item, len(at))
	for i, k := range at {
		out[i] = items[k]
	}
	return out
}

// says is the likelihood pair of a report about a node.
func (it *item) says(node int, present bool) network.Likelihood {
	l := network.Likelihood{Node: node, On: it.hit, Off: it.falseAlarm, Tag: -1}
	if !present {
		l.On, l.Off = 1-it.hit, 1-it.falseAlarm
	}
	return l
}

// price works out every answer to the items. Between "all of it" and "finding
// absent" a report mixes by the reporter's rates,
//
//	reported absent  = (1−hit)·(all − absent) + (1−false alarm)·absent
//	reported present = hit·(all − absent) + false alarm·absent
//
// so that n passes over the table of sets give all 2ⁿ patterns of reports. The
// differences cost digits of rare patterns only, and a pattern counts with its
// probability. After is what the case costs once the check is answered: less than k
// where the check is the look of a step.
func (b *base) price(k, after *costs, t *site, items []item, nodes []int, repairs bool) (figures, []answer, error) {
	size := 1 + len(b.s.want) // probability, then each wanted node with it
	table := make([][]float64, 1<<len(items))
	kept, err := t.tree()
	if err != nil {
		return figures{}, nil, err
	}
	for set := range table {
		r, err := t.solve(items, nodes, set)
		if err != nil {
			return figures{}, nil, err
		}
		table[set] = append([]float64(nil), r...)
	}
	for i := range items {
		it := &items[i]
		if kept.Has(nodes[i]) {
			continue
		}
		for c := range table {
			if c>>i&1 == 1 {
				continue
			}
			x, y := table[c], table[c|1<<i] // all, absent; then reported absent, reported present
			for n := range x {
				there := math.Max(0, x[n]-y[n])
				x[n], y[n] = (1-it.hit)*there+(1-it.falseAlarm)*y[n], it.hit*there+it.falseAlarm*y[n]
			}
		}
	}
	sum := make([]float64, size)
	for _, row := range table {
		for x, v := range row {
			sum[x] += v
		}
	}
	// The case before the answer is the sum over the answers: rounding then
	// cannot invent a gain.
	before := k.value(b.s.read(sum))
	var answers []answer
	var j, low, causes, bits float64
	for c, row := range table {
		if row[0] <= rarest*sum[0] {
			continue
		}
		ans := answer{p: row[0] / sum[0], belief: b.s.read(row)}
		for i := range items {
			ans.present = append(ans.present, c>>i&1 == 1)
		}
		ans.value = after.value(ans.belief)
		if repairs {
			left, alone := b.mended(ans.belief, items, ans.present)
			done := after.value(left)
			ans.value.j += alone * (done.j - ans.value.j)
			ans.value.low += alone * (done.low - ans.value.low)
		}
		j += ans.p * ans.value.j
		low += ans.p * ans.value.low
		causes += ans.p * ans.value.causes
		bits += ans.p * ans.value.bits
		answers = append(answers, ans)
	}
	f := figures{
		gain:   interval{clean(before.low - j), clean(before.j - low)},
		causes: clean(before.causes - causes),
		bits:   clean(before.bits - bits),
	}
	f.gain.high = math.Max(f.gain.low, f.gain.high)
	f.exact = f.gain.high-f.gain.low <= tie.Grain
	return f, answers, nil
}

// mended is a belief after a trial repair whose outcome is good: parts most of whose
// likely faults show that outcome are repaired and cost nothing more. Alone is how
// likely it is that no other part is behind the complaint: else it is not gone, for
// long. (As if parts failed apart from each other.)
func (b *base) mended(after belief, items []item, present []bool) (left belief, alone float64) {
	left = belief{parts: slices.Clone(after.parts), causes: after.causes}
	nodes := b.s.solver.Net().Nodes
	cured := map[int]bool{} // modes that show what is present
	for i, it := range items {
		for _, l := range nodes[it.node].Links {
			cured[l.Parent] = cured[l.Parent] || present[i]
		}
	}
	alone = 1
	for j, p := range b.s.parts {
		var some, all float64
		for _, mode := range p.modes {
			if all += b.near[mode]; cured[mode] {
				some += b.near[mode]
			}
		}
		if some > all/2 {
			left.parts[j] = 0
		} else {
			alone *= 1 - after.parts[j]
		}
	}
	return left, alone
}

// errWide says that an answer cannot be worked out within the work bound. It is a
// network.ErrWide to whoever asks.
var errWide = fmt.Errorf("too many findings hang together to work this out: %w", network.ErrWide)

// read turns a row of price's table into a belief.
func (s *scope) read(row []float64) belief {
	share := func(x float64) float64 { return math.Max(0, math.Min(1, x/row[0])) }
	b := belief{parts: make([]float64, len(s.parts)), causes: make([]float64, len(s.a.causes))}
	for i := range b.parts {
		b.parts[i] = share(row[1+i])
	}
	for i := range b.causes {
		b.causes[i] = share(row[1+len(s.parts)+i])
	}
	return b
}

// rarest is the share of all from which on an answer is counted. Of minutes and
// bits, which are below a thousand, rarer ones move nothing that is shown.
const rarest = 1e-12

// clean takes away what rounding left of zero: what a price may be off by.
func clean(x float64) float64 {
	if x < PriceError {
		return 0
	}
	return x
}
