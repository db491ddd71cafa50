package advise

import (
	"container/heap"
	"errors"
	"math"
	"sort"

	"slipcase/engine/network"
)

// base is what all prices of one case start from.
type base struct {
	a      *Adviser
	ev     []network.Likelihood
	log    float64 // log evidence
	belief belief
	value  value
}

// interval is a figure with proven ends; equal ones are exact.
type interval struct{ low, high float64 }

// tree is the tree of answers to one check, opened as far as needed.
type tree struct {
	b     *base
	k     *costs
	items []item
	want  []int
	open  queue
	// Sums over leaves, answers worked out to the end, weighted by probability.
	j, low, causes, bits float64
	leaves               []*prefix
	solves               int
	made                 int       // prefixes made
	rootItems            []float64 // P(finding there) today, by item
	keep                 bool      // keep leaves for explanations
}

// prefix is the first answers of a check, in the order of tree.items.
type prefix struct {
	ev     []network.Likelihood
	said   []bool  // present, by item
	p      float64 // probability
	belief belief
	items  []float64 // P(finding there | prefix), by item
	value  value
	at     int // order of creation, to settle ties
}

// gap is what the prefix leaves open, in minutes.
func (p *prefix) gap() float64 { return p.p * (p.value.j - p.value.perfect) }

type queue []*prefix

func (q queue) Len() int      { return len(q) }
func (q queue) Swap(i, j int) { q[i], q[j] = q[j], q[i] }
func (q queue) Less(i, j int) bool {
	if a, b := q[i].gap(), q[j].gap(); a != b {
		return a > b
	}
	return q[i].at < q[j].at
}
func (q *queue) Push(x any) { *q = append(*q, x.(*prefix)) }
func (q *queue) Pop() any {
	old := *q
	x := old[len(old)-1]
	*q = old[:len(old)-1]
	return x
}

// newTree makes the root.
func newTree(b *base, k *costs, items []item, keep bool) (*tree, error) {
	t := &tree{b: b, k: k, items: items, keep: keep}
	t.want = append(append(t.want, b.a.want...), nodes(items)...)
	post, err := b.a.solver.SolveSubset(b.ev, t.want)
	if err != nil {
		return nil, err
	}
	root := &prefix{ev: b.ev, p: 1, belief: b.belief, value: b.value}
	for _, it := range items {
		root.items = append(root.items, post.P[it.node])
	}
	t.rootItems = root.items
	heap.Push(&t.open, root)
	return t, nil
}

func nodes(items []item) []int {
	out := make([]int, len(items))
	for i, it := range items {
		out[i] = it.node
	}
	return out
}

// believe reads a posterior.
func (a *Adviser) believe(post *network.Posterior) belief {
	b := belief{parts: make([]float64, len(a.parts)), causes: make([]float64, len(a.causes))}
	for i, p := range a.parts {
		b.parts[i] = post.P[p.node]
	}
	for i, n := range a.causes {
		b.causes[i] = post.P[n]
	}
	return b
}

// says is the likelihood pair of a report.
func (it *item) says(present bool) network.Likelihood {
	l := network.Likelihood{Node: it.node, On: it.hit, Off: it.falseAlarm, Tag: -1}
	if !present {
		l.On, l.Off = 1-it.hit, 1-it.falseAlarm
	}
	return l
}

// predict is P(report present) when the finding is there with probability p.
func (it *item) predict(p float64) float64 { return p*it.hit + (1-p)*it.falseAlarm }

// split works out both answers of the next item. The rarer one is solved for,
// the other follows by subtraction: every marginal of the prefix is the mean
// of the two, and dividing by at least one half loses no digits.
func (t *tree) split(p *prefix) (present, absent *prefix, err error) {
	it := &t.items[len(p.said)]
	on := it.predict(p.items[len(p.said)])
	rare := on <= 0.5
	q := on
	if !rare {
		q = 1 - on
	}
	child := func(said bool, prob float64) *prefix {
		return &prefix{
			ev:   append(append([]network.Likelihood(nil), p.ev...), it.says(said)),
			said: append(append([]bool(nil), p.said...), said),
			p:    p.p * prob,
		}
	}
	a, b := child(rare, q), child(!rare, 1-q)
	if q > 1e-12 {
		post, err := t.b.a.solver.SolveSubset(a.ev, t.want)
		t.solves++
		var never *network.ImpossibleError
		switch {
		case errors.As(err, &never):
			q = 0
		case err != nil:
			return nil, nil, err
		default:
			a.belief = t.b.a.believe(post)
			for _, x := range t.items {
				a.items = append(a.items, post.P[x.node])
			}
		}
	} else {
		q = 0
	}
	if q == 0 {
		a, b.p = nil, p.p
		b.belief, b.items = p.belief, p.items
	} else {
		b.belief = belief{less(p.belief.parts, a.belief.parts, q), less(p.belief.causes, a.belief.causes, q)}
		b.items = less(p.items, a.items, q)
	}
	for _, x := range []*prefix{a, b} {
		if x == nil {
			continue
		}
		if x.value, err = t.k.value(x.belief); err != nil {
			return nil, nil, err
		}
	}
	if rare {
		return a, b, nil
	}
	return b, a, nil
}

// less is the mean without its share q of part, scaled up again.
func less(mean, part []float64, q float64) []float64 {
	out := make([]float64, len(mean))
	for i := range out {
		out[i] = math.Max(0, math.Min(1, (mean[i]-q*part[i])/(1-q)))
	}
	return out
}

// refine opens up to budget prefixes, or until no more than tolerance minutes
// are left open.
func (t *tree) refine(budget int, tolerance float64) error {
	for n := 0; n < budget && len(t.open) > 0; n++ {
		if tolerance > 0 {
			var left float64
			for _, p := range t.open {
				left += p.gap()
			}
			if left <= tolerance {
				return nil
			}
		}
		p := heap.Pop(&t.open).(*prefix)
		a, b, err := t.split(p)
		if err != nil {
			return err
		}
		for _, x := range []*prefix{a, b} {
			if x == nil {
				continue
			}
			t.made++
			x.at = t.made
			if len(x.said) < len(t.items) {
				heap.Push(&t.open, x)
				continue
			}
			t.j += x.p * x.value.j
			t.low += x.p * x.value.low
			t.causes += x.p * x.value.causes
			t.bits += x.p * x.value.bits
			if t.keep {
				t.leaves = append(t.leaves, x)
			}
		}
	}
	return nil
}

// figures are the gains as far as the tree is open.
type figures struct {
	gain   interval // minutes
	causes interval // share of it that settles root causes
	bits   interval
	exact  bool
}

// figures sums up. A prefix that is not opened leaves at most J of its own
// belief, and at least what perfect knowledge would.
func (t *tree) figures() figures {
	v := t.b.value
	f := figures{
		gain:   interval{v.low - t.j, v.j - t.low},
		causes: interval{v.causes - t.causes, v.causes - t.causes},
		bits:   interval{v.bits - t.bits, v.bits - t.bits},
		exact:  len(t.open) == 0 && v.j-v.low <= 1e-9 && t.j-t.low <= 1e-9,
	}
	open := append(queue(nil), t.open...)
	sort.Slice(open, func(i, j int) bool { return open[i].at < open[j].at })
	for _, p := range open {
		f.gain.low -= p.p * p.value.j
		f.gain.high -= p.p * p.value.perfect
		f.causes.low -= p.p * p.value.causes
		f.causes.high -= p.p * p.perfectCauses(t.k)
		f.bits.low -= p.p * p.value.bits
	}
	for _, x := range []*interval{&f.gain, &f.causes, &f.bits} {
		// Rounding: a gain is never negative.
		x.low = clean(x.low)
		x.high = math.Max(x.low, clean(x.high))
	}
	return f
}

func (p *prefix) perfectCauses(k *costs) float64 {
	var l float64
	for _, q := range p.belief.causes {
		l += q * math.Min(k.risk, k.right)
	}
	return l
}

// clean takes away what rounding left of zero.
func clean(x float64) float64 {
	if x < 1e-9 {
		return 0
	}
	return x
}

// sortItems puts the findings that tell most alone first, so that the tree is
// opened where it matters. It costs one posterior per finding.
func (t *tree) sortItems() error {
	root := t.open[0]
	gain := make([]float64, len(t.items))
	for i := range t.items {
		one := &tree{b: t.b, k: t.k, items: t.items[i : i+1], want: t.want}
		a, b, err := one.split(&prefix{ev: root.ev, p: 1, belief: root.belief, items: root.items[i : i+1]})
		if err != nil {
			return err
		}
		t.solves += one.solves
		gain[i] = root.value.bits
		for _, x := range []*prefix{a, b} {
			if x != nil {
				gain[i] -= x.p * x.value.bits
			}
		}
	}
	at := make([]int, len(t.items))
	for i := range at {
		at[i] = i
	}
	sort.SliceStable(at, func(i, j int) bool { return gain[at[i]] > gain[at[j]]+1e-12 })
	items, marginal := make([]item, len(at)), make([]float64, len(at))
	for i, k := range at {
		items[i], marginal[i] = t.items[k], root.items[k]
	}
	t.items, t.rootItems, root.items = items, marginal, marginal
	return nil
}
