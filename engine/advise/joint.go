package advise

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"sort"
	"strconv"
	"strings"
	"sync"

	"slipcase/engine"
	"slipcase/engine/model"
	"slipcase/engine/network"
	"slipcase/engine/tie"
)

// base is what all prices of one case start from.
type base struct {
	s      *scope
	c      *engine.CaseFile
	ev     []network.Likelihood
	left   []Left    // reports left out of ev
	log    float64   // log evidence
	today  []float64 // the case as it is, as a row of a group
	near   []float64
	belief belief
	value  value
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
		if slices.Contains(b.left, Left{p.Label, p.Title, p.By}) {
			continue
		}
		rest = append(rest, p)
	}
	return model.Likelihoods(rest), nodes, false
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

// never stands for a likelihood of zero that must not change the tree.
const never = 1e-40

// says is the likelihood pair of a report about a node.
func (it *item) says(node int, present bool) network.Likelihood {
	l := network.Likelihood{Node: node, On: it.hit, Off: it.falseAlarm, Tag: -1}
	if !present {
		l.On, l.Off = 1-it.hit, 1-it.falseAlarm
	}
	return l
}

// absent is the evidence that a finding without evidence and without children
// is not there. A noisy-OR that is off only weighs its parents, 1 − strength for
// each that is on, so that no variable is added to the tree. factor is what the
// weights leave out: 1 − leak.
func (b *base) absent(node int) (ev []network.Likelihood, factor float64) {
	n := &b.s.solver.Net().Nodes[node]
	for _, l := range n.Links {
		if l.Strength > 0 {
			ev = append(ev, network.Likelihood{Node: l.Parent, On: math.Max(never, 1-l.Strength), Off: 1, Tag: -1})
		}
	}
	return ev, 1 - n.Leak
}

// group is checks that one tree serves: those that look at the same findings,
// and more where that pays.
type group struct {
	b       *base
	ev      []network.Likelihood
	has     map[int]bool // nodes with evidence
	in      map[int]bool // nodes of touched
	touched []int        // nodes that some row weighs

	mu     sync.Mutex
	ground *network.Ground // nil until a row is worked out
	left   int             // checks not priced yet
	busy   int             // checks being priced
	rows   map[string]*row
}

// row is the probability of some reports and absences and, with it, of each
// wanted node, all up to a factor that is common to the group. Two checks that
// look at the same findings share it.
type row struct {
	once  sync.Once
	joint []float64
	err   error
}

func (b *base) newGroup(ev []network.Likelihood) *group {
	g := &group{b: b, ev: ev, has: map[int]bool{}, in: map[int]bool{}, rows: map[string]*row{}}
	for _, l := range ev {
		g.has[l.Node] = true
	}
	return g
}

func (g *group) touch(n int) {
	if !g.in[n] {
		g.in[n] = true
		g.touched = append(g.touched, n)
	}
}

// direct tells whether a finding is in the tree by itself, because it has
// evidence already.
func (g *group) direct(n int) bool { return g.has[n] || g.b.s.a.parent[n] }

// join takes the findings of a check into the tree.
func (g *group) join(nodes []int) { g.weighed(nodes, g.touch) }

// adds is how many nodes a tree would be touched at more for some findings.
func (g *group) adds(nodes []int) int {
	fresh := map[int]bool{}
	g.weighed(nodes, func(n int) {
		if !g.in[n] {
			fresh[n] = true
		}
	})
	return len(fresh)
}

// weighed lists the nodes that reports of some findings weigh.
func (g *group) weighed(nodes []int, f func(n int)) {
	for _, n := range nodes {
		if g.direct(n) {
			f(n)
			continue
		}
		for _, l := range g.b.s.solver.Net().Nodes[n].Links {
			if l.Strength > 0 {
				f(l.Parent)
			}
		}
	}
}

// roomy is how many nodes a tree may be touched at that several checks share.
// Building a tree and its way up costs some five rows; a larger tree makes each
// of them dearer.
const roomy = 12

// gather puts candidates into groups: one that looks at the same findings, else
// the one to which it adds the fewest nodes, the earliest of these, as long as
// there is room.
func (b *base) gather(cands []*candidate) {
	same := map[string]*group{}
	var open []*group
	for _, c := range cands {
		ev, nodes, plain := b.ask(c.chosen)
		sorted := append([]int(nil), nodes...)
		sort.Ints(sorted)
		key := fmt.Sprint(plain, sorted)
		if !plain {
			key = c.Name // its evidence is its own
		}
		c.nodes = nodes
		if g := same[key]; g != nil {
			c.group = g
			g.left++
			continue
		}
		var g *group
		if plain {
			least := roomy + 1
			for _, o := range open {
				if n := o.adds(nodes); n < least && len(o.touched)+n <= roomy {
					least, g = n, o
				}
			}
		}
		if g == nil {
			g = b.newGroup(ev)
			if plain {
				open = append(open, g)
				// The case as it is was solved already.
				g.rows[""] = &row{joint: b.today}
				g.rows[""].once.Do(func() {})
			}
		}
		g.join(nodes)
		g.left++
		same[key] = g
		c.group = g
	}
}

// solve works out one row: findings outside the set are left open (direct ones
// reported absent), those in it are absent (direct ones reported present).
func (g *group) solve(items []item, nodes []int, set int) ([]float64, error) {
	var said []network.Likelihood
	factor := 1.0
	var parts []string
	for i, n := range nodes {
		in := set>>i&1 == 1
		switch {
		case g.direct(n):
			l := items[i].says(n, in)
			said = append(said, l)
			parts = append(parts, fmt.Sprint(n, l.On, l.Off))
		case in:
			more, f := g.b.absent(n)
			said = append(said, more...)
			factor *= f
			parts = append(parts, strconv.Itoa(n))
		}
	}
	sort.Strings(parts)
	key := strings.Join(parts, ",")
	g.mu.Lock()
	r := g.rows[key]
	if r == nil {
		r = &row{}
		g.rows[key] = r
	}
	g.mu.Unlock()
	r.once.Do(func() { r.joint, r.err = g.joint(said, factor) })
	return r.joint, r.err
}

// small is the size of a tree, in entries, that is kept from one check of a
// group to the next.
const small = 1 << 17

// settle lets go of the tree after a check was priced, unless it is small and
// another check may need it. The rows are kept.
func (g *group) settle() {
	g.mu.Lock()
	defer g.mu.Unlock()
	g.left--
	g.busy--
	if g.ground != nil && g.busy == 0 && (g.left == 0 || g.ground.Entries() > small) {
		g.ground.Free()
		g.ground = nil
	}
}

// joint works out one row.
func (g *group) joint(said []network.Likelihood, factor float64) ([]float64, error) {
	out := make([]float64, 1+len(g.b.s.want))
	g.mu.Lock()
	var err error
	if g.ground == nil {
		g.ground, err = g.b.s.solver.Ground(g.ev, g.b.s.want, g.touched)
	}
	ground := g.ground
	g.mu.Unlock()
	if errors.Is(err, network.ErrWide) {
		return nil, errWide
	}
	if err != nil {
		return nil, err
	}
	post, err := ground.With(said)
	var clash *network.ImpossibleError
	if errors.As(err, &clash) {
		return out, nil
	}
	if err != nil {
		return nil, err
	}
	out[0] = factor * math.Exp(post.LogEvidence-g.b.log)
	for i, n := range g.b.s.want {
		out[1+i] = out[0] * post.P[n]
	}
	return out, nil
}

// price works out every answer to the items. Between "all of it" and "finding
// absent" a report mixes by the reporter's rates,
//
//	reported absent  = (1−hit)·(all − absent) + (1−false alarm)·absent
//	reported present = hit·(all − absent) + false alarm·absent
//
// so that n passes over the table of sets give all 2ⁿ patterns of reports. The
// differences cost digits of rare patterns only, and a pattern counts with its
// probability.
func (b *base) price(k *costs, g *group, items []item, nodes []int) (figures, []answer, error) {
	size := 1 + len(b.s.want) // probability, then each wanted node with it
	table := make([][]float64, 1<<len(items))
	g.mu.Lock()
	g.busy++
	g.mu.Unlock()
	defer g.settle()
	for set := range table {
		r, err := g.solve(items, nodes, set)
		if err != nil {
			return figures{}, nil, err
		}
		table[set] = append([]float64(nil), r...)
	}
	for i := range items {
		it := &items[i]
		if g.direct(nodes[i]) {
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
	before, err := k.value(b.s.read(sum))
	if err != nil {
		return figures{}, nil, err
	}
	var answers []answer
	var j, low, causes, bits float64
	for c, row := range table {
		if row[0] <= 1e-12*sum[0] {
			continue
		}
		ans := answer{p: row[0] / sum[0], belief: b.s.read(row)}
		for i := range items {
			ans.present = append(ans.present, c>>i&1 == 1)
		}
		if ans.value, err = k.value(ans.belief); err != nil {
			return figures{}, nil, err
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

// errWide says that an answer cannot be worked out within the work bound.
var errWide = errors.New("too many findings hang together to work this out exactly")

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

// clean takes away what rounding left of zero.
func clean(x float64) float64 {
	if x < 1e-7 {
		return 0
	}
	return x
}
