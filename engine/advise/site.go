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

	"slipcase/engine/network"
)

// site is one tree on which checks are priced: that of the case with all modes
// in it. Most findings of a check are not in the tree. What they say is brought
// to it as weights on the modes and effects that they come from, see off.
type site struct {
	b    *base
	ev   []network.Likelihood
	more []int // nodes that the tree holds beside

	once sync.Once
	kept *network.Incremental
	err  error

	mu   sync.Mutex
	rows map[string]*row
}

// row is the probability of some reports and absences and, with it, of each
// wanted node. Two checks that look at the same findings share it.
type row struct {
	once  sync.Once
	joint []float64
	err   error
}

func (b *base) newSite(ev []network.Likelihood, more []int) *site {
	return &site{b: b, ev: ev, more: more, rows: map[string]*row{}}
}

func (t *site) tree() (*network.Incremental, error) {
	t.once.Do(func() {
		touched := append(slices.Clone(t.b.s.a.Model.Modes()), t.more...)
		if t.kept, t.err = t.b.s.solver.Incremental(t.ev, t.b.s.want, touched); errors.Is(t.err, network.ErrWide) {
			t.err = errWide
		}
	})
	return t.kept, t.err
}

// free gives the memory of the tree back. The site must not be in use.
func (t *site) free() {
	if t.kept != nil {
		t.kept.Free()
	}
}

// weights are a factor and, for nodes of the tree, the weight of on beside that
// of off, which is one.
type weights struct {
	factor float64
	on     map[int]float64
	many   []int // nodes outside the tree for which this is no more than near
}

func (w *weights) likelihoods() []network.Likelihood {
	var out []network.Likelihood
	for n, x := range w.on {
		out = append(out, network.Likelihood{Node: n, On: x, Off: 1, Tag: -1})
	}
	slices.SortFunc(out, func(x, y network.Likelihood) int { return x.Node - y.Node })
	return out
}

// off is what it weighs that some nodes outside the tree are off. A noisy-OR that
// is off weighs its parents, 1 − strength for each that is on. A parent outside
// the tree is summed out: with w what its children make of it, and F what is left
// of its being off, it counts w + (1−w)·F. Where one of its parents can be on,
// that is a weight on this one; where several can, the weights are those of each
// of them alone, and what two of them together do is left out (many): they are
// seldom on together.
func (t *site) off(g *network.Incremental, nodes []int) weights {
	net := t.b.s.solver.Net()
	out := weights{factor: 1, on: map[int]float64{}}
	open := map[int]float64{}
	for _, n := range nodes {
		open[n] = 0
	}
	for len(open) > 0 {
		n := -1 // children first
		for i := range open {
			n = max(n, i)
		}
		w := open[n]
		delete(open, n)
		node := &net.Nodes[n]
		all := w + (1-w)*(1-node.Leak)
		if out.factor *= all; all == 0 {
			return out
		}
		can := 0
		for _, l := range node.Links {
			if l.Strength == 0 || g.Off(l.Parent) {
				continue
			}
			can++
			x := (w + (1-w)*(1-node.Leak)*(1-l.Strength)) / all
			into := open
			if g.Has(l.Parent) {
				into = out.on
			}
			if y, ok := into[l.Parent]; ok {
				x *= y
			}
			into[l.Parent] = x
		}
		if w > 0 && can > 1 {
			out.many = append(out.many, n)
		}
	}
	return out
}

// behind lists the nodes outside the tree whose states would have to be in it for
// exact figures about some findings.
func (t *site) behind(nodes []int) []int {
	g, err := t.tree()
	if err != nil {
		return nil
	}
	var outside []int
	for _, n := range nodes {
		if !g.Has(n) {
			outside = append(outside, n)
		}
	}
	return t.off(g, outside).many
}

// chance is P(a node outside the tree is on), near where several of its parents
// are outside, too.
func (t *site) chance(g *network.Incremental, node int, p []float64) (float64, error) {
	w := t.off(g, []int{node})
	if len(w.on) > 1 {
		x, err := g.Chance(w.likelihoods())
		return math.Max(0, 1-w.factor*x), err
	}
	for n, x := range w.on {
		w.factor *= 1 - p[n]*(1-x)
	}
	return 1 - w.factor, nil
}

// solve works out one row: findings outside the set are left open (those in the
// tree reported absent), those in it are absent (those in the tree reported
// present).
func (t *site) solve(items []item, nodes []int, set int) ([]float64, error) {
	g, err := t.tree()
	if err != nil {
		return nil, err
	}
	var said []network.Likelihood
	var outside []int
	var parts []string
	for i, n := range nodes {
		in := set>>i&1 == 1
		switch {
		case g.Has(n):
			l := items[i].says(n, in)
			said = append(said, l)
			parts = append(parts, fmt.Sprint(n, l.On, l.Off))
		case in:
			outside = append(outside, n)
			parts = append(parts, strconv.Itoa(n))
		}
	}
	sort.Strings(parts)
	key := strings.Join(parts, ",")
	t.mu.Lock()
	r := t.rows[key]
	if r == nil {
		r = &row{}
		t.rows[key] = r
	}
	t.mu.Unlock()
	r.once.Do(func() {
		w := t.off(g, outside)
		p, joint, err := g.Joint(append(said, w.likelihoods()...), t.b.s.want)
		r.joint, r.err = append([]float64{p * w.factor}, joint...), err
		for i := range joint {
			r.joint[1+i] *= w.factor
		}
	})
	return r.joint, r.err
}
