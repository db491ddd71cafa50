package refine

import (
	"context"
	"fmt"
	"math"

	"slipcase/engine"
	"slipcase/engine/geartrain"
	"slipcase/engine/model"
	"slipcase/engine/network"
	"slipcase/engine/refine/rulepath"
)

// Origin is what a number was before anything was learned: its prior is made
// from this, so that cases are not counted again each time they are learned
// from.
type Origin struct {
	Value float64          `json:"value"` // probability
	Kind  engine.BasisKind `json:"basis"`
	Cases float64          `json:"cases,omitempty"` // behind a shop record; 0 for any other basis
}

// param is one number that can be learned.
type param struct {
	path      rulepath.Path
	name      string
	number    engine.Number
	origin    Origin
	prior     Prior
	least     float64 // it does not fall below
	detection int     // the detection model of what it makes fail, or -1
	scale     float64 // what is learned over the number: see most
	chosen    bool    // what was noted about it was noted for what it was, see heed
	single    int     // of a part set apart: the number of its kind; else -1
	of        single  // that part
}

// learner holds the numbers and the models that they stand in.
type learner struct {
	opt        Options
	params     []param
	rules      int // so many of them are of the rules; the shop's detection models come after
	fixed      int // so many are always there; rates of parts set apart come after
	index      map[string]int
	models     []*binding
	byUnit     map[string]*binding
	detections [2]detection // of noting failed modes and root causes
	nodes      int          // of all units
	now        []float64    // as set
	last       *counts      // of the last step of the last fit
	lastAt     []float64    // the numbers under which they were counted
	anchor     *anchor      // of a large casebook
	large      sizes        // of one
	grouped    bool         // its cases are counted in groups
	first      *census      // of all of it, where the few ended
	second     *census      // of the sample, where the first step ended
	told       *scores      // of the same
	settled    []float64    // the estimate in which everything moves
	seen       *counts      // of the last step, without the vehicles that never came in
	cut        bool         // the last fit ended at its limit, not where nothing moved any more
	work       *budget
	common     []common // see pairs
}

// use is a link's number with its factor; param -1 where nothing is learned.
type use struct {
	param  int
	factor float64
}

// binding ties one unit's model to the numbers, with a private copy of its
// network whose numbers change from one iteration to the next. None of them
// becomes 0 or 1, so that the structure, and with it every tree, stays.
type binding struct {
	m      *model.Model
	net    *network.Net
	leak   []int     // node -> param or -1
	duty   []float64 // node -> its leak over what is learned of it, 1 at most
	links  [][]use
	asking *network.Solver // held-out questions
	// quiet says that no complaint is there, complains which nodes are one.
	quiet     []network.Likelihood
	complains map[int]bool
	find      func(engine.Number) int // the number that stands there, or -1
	scale     func(i int) float64     // of a number, see param.scale
	first     int                     // of its nodes, counted over all units
}

func newLearner(ctx context.Context, models []*model.Model, opt Options) (*learner, error) {
	l := &learner{large: usual, work: &budget{most: math.Inf(1)}, opt: opt.filled(), index: map[string]int{}, byUnit: map[string]*binding{}}
	for _, m := range models {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		if l.byUnit[m.Unit.ID] != nil {
			return nil, fmt.Errorf("refine: two models of unit %s", m.Unit.ID)
		}
		b, err := l.bind(m)
		if err != nil {
			return nil, err
		}
		l.models = append(l.models, b)
		l.byUnit[m.Unit.ID] = b
	}
	l.rules = len(l.params)
	for i := range l.params {
		l.params[i].detection = -1
	}
	for i, noted := range []float64{l.opt.Found, l.opt.Settled} {
		l.detections[i] = detection{param: -1, silence: 1}
		if noted > 0 {
			l.detections[i].param = len(l.params)
			l.params = append(l.params, param{origin: Origin{Value: noted, Kind: engine.Invented}, prior: PriorOf(noted, engine.Invented, 0), detection: -1, scale: 1, single: -1})
		}
	}
	for _, b := range l.models {
		for i := range b.net.Nodes {
			h := l.detectionOf(b, i)
			if h == nil {
				continue
			}
			if p := b.leak[i]; p >= 0 {
				l.params[p].detection = h.param
			}
			for _, u := range b.links[i] {
				if u.param >= 0 {
					l.params[u.param].detection = h.param
				}
			}
		}
	}
	l.fixed = len(l.params)
	return l, nil
}

// place is where a number stands in its file: numbers of a model are known by
// sameNumber is the relative difference within which a strength of the network is
// the number of the rules times its factor: one product rounds to 1e-16, the rules
// state three digits.
const sameNumber = 1e-9

// it.
type place struct {
	file  string
	start int
}

func placeOf(n engine.Number) place { return place{n.At.File, n.At.Byte} }

func (l *learner) bind(m *model.Model) (*binding, error) {
	// The model's own unit alone: others may share numbers by `like`.
	k := *m.Knowledge
	k.Units = []*engine.Unit{m.Unit}
	at := map[place]int{}
	var err error
	rulepath.Walk(&k, func(p rulepath.Path, n *engine.Number) {
		if n.At.File == "" || n.Value <= 0 || n.Value >= 1 || n.Basis == nil || byDuty(&k, p) && n.Value*geartrain.MostDuty >= 1 {
			return
		}
		name := p.String()
		i, ok := l.index[name]
		if !ok {
			i = len(l.params)
			l.index[name] = i
			l.params = append(l.params, newParam(p, name, *n, most(&k, p), l.opt.Origins))
		} else if l.params[i].number.Value != n.Value && err == nil {
			err = fmt.Errorf("refine: the models disagree about %s: %v and %v", name, l.params[i].number.Value, n.Value)
		}
		if j, ok := at[placeOf(*n)]; ok && j != i && err == nil {
			err = fmt.Errorf("refine: %s and %s stand at one place, %s", name, l.params[j].name, n.At)
		}
		at[placeOf(*n)] = i
	})
	if err != nil {
		return nil, err
	}
	find := func(n engine.Number) int {
		if n.At.File == "" {
			return -1
		}
		if i, ok := at[placeOf(n)]; ok {
			return i
		}
		return -1
	}
	b := &binding{m: m, complains: map[int]bool{}, find: find, scale: func(i int) float64 { return l.params[i].scale }, first: l.nodes, net: &network.Net{Nodes: make([]network.Node, len(m.Net.Nodes))}}
	l.nodes += len(m.Net.Nodes)
	for i, n := range m.Net.Nodes {
		b.net.Nodes[i] = network.Node{Name: n.Name, Leak: n.Leak, Links: append([]network.Link(nil), n.Links...)}
		leak := find(m.Leaks[i])
		duty := 1.0
		if leak >= 0 {
			if want := m.Leaks[i].Value * m.Duties[i]; n.Leak != want {
				return nil, fmt.Errorf("refine: the leak of %s is %v in the network and %v by the rules", n.Name, n.Leak, want)
			}
			duty = m.Duties[i] / l.params[leak].scale
		}
		b.leak, b.duty = append(b.leak, leak), append(b.duty, duty)
		uses := make([]use, len(n.Links))
		for j, link := range n.Links {
			s := m.Sources[i][j]
			uses[j] = use{-1, s.Factor}
			p := find(s.Number)
			if p < 0 || link.Strength <= 0 || link.Strength >= 1 || s.Factor <= 0 || s.Factor > 1 {
				continue // fixed, or cut at 1
			}
			if want := s.Number.Value * s.Factor; math.Abs(link.Strength-want) > sameNumber*want {
				return nil, fmt.Errorf("refine: the strength of %s for %s is %v in the network and %v by the rules", n.Name, m.Net.Nodes[link.Parent].Name, link.Strength, want)
			}
			uses[j].param = p
		}
		b.links = append(b.links, uses)
	}
	for _, i := range m.Complaints() {
		b.complains[i] = true
		b.quiet = append(b.quiet, network.Likelihood{Node: i, On: 0, Off: 1, Tag: -1})
	}
	if b.asking, err = b.solver(); err != nil {
		return nil, err
	}
	return b, nil
}

// granted is the error of an answer that is granted: far less than chance puts
// into counts of cases. What is owed else would be worked out in higher precision
// wherever much is reported, most of all with what was found.
const granted = 1e-6

func (b *binding) solver() (*network.Solver, error) {
	s, err := network.NewSolver(b.net)
	if err != nil {
		return nil, fmt.Errorf("refine: unit %s: %w", b.m.Unit.ID, err)
	}
	s.MaxWork = MaxTree
	return s.Rough(granted), nil
}

func newParam(p rulepath.Path, name string, n engine.Number, scale float64, origins map[string]Origin) param {
	o := Origin{Value: n.Value, Kind: n.Basis.Kind, Cases: n.Basis.Cases}
	if own, ok := origins[name]; ok && own.Value > 0 && own.Value < 1 {
		o = own
	}
	return param{path: p, name: name, number: n, origin: o, prior: PriorOf(inside(o.Value*scale), o.Kind, o.Cases), scale: scale, single: -1}
}

// set puts the numbers into every network. No question may be under way.
func (l *learner) set(theta []float64) {
	l.now = theta
	for i := range l.detections {
		l.detections[i].set(theta)
	}
	for _, b := range l.models {
		for i := range b.net.Nodes {
			n := &b.net.Nodes[i]
			if p := b.leak[i]; p >= 0 {
				n.Leak = theta[p] * b.duty[i]
			}
			for j, u := range b.links[i] {
				if u.param >= 0 {
					n.Links[j].Strength = theta[u.param] * u.factor
				}
			}
		}
	}
}

func (l *learner) values(f func(*param) float64) []float64 {
	out := make([]float64, len(l.params))
	for i := range l.params {
		out[i] = f(&l.params[i])
	}
	return out
}

// origins are the numbers before anything was learned.
func (l *learner) originValues() []float64 {
	return l.values(func(p *param) float64 { return inside(p.origin.Value * p.scale) })
}

// logPrior is the logarithm of the prior density of the log-odds, up to a
// constant.
func (l *learner) logPrior(theta []float64) float64 {
	sum := 0.0
	for i, p := range l.params {
		sum += p.prior.A*math.Log(theta[i]) + p.prior.B*math.Log1p(-theta[i])
	}
	return sum
}
