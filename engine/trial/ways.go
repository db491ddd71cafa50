package trial

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"slipcase/engine"
	"slipcase/engine/diagnose"
	"slipcase/engine/model"
	"slipcase/engine/network"
)

// Way is a way to come from a complaint to an order of suspects.
type Way string

// The ways. The first two ask; the others rank by what was asked as advised.
const (
	Advised Way = "advised"    // the advised checks, ranked by the rules
	Fixed   Way = "fixed_list" // the checks in the order of the rule files, ranked by the rules

	PaperChart  Way = "paper_chart" // elements that are applied where it is bad and not where it is good
	Independent Way = "independent" // one fault, its signs independent of each other (naive Bayes)
	Matches     Way = "matches"     // how many of the symptoms a fault can bring about

	NoPhysics  Way = "no_physics"  // without the links that the gear train makes
	AtTheWord  Way = "at_the_word" // every report taken as if nobody erred
	NoCauses   Way = "no_causes"   // faults independent of each other, as often as before
	SingleOnly Way = "single"      // exactly one fault
)

// Ways lists them all: those that ask, then plain ways to rank, then what the
// rules do with a part of them taken out.
var Ways = []Way{Advised, Fixed, PaperChart, Independent, Matches, NoPhysics, AtTheWord, NoCauses, SingleOnly}

// Measure is what counts as right.
type Measure string

// The measures. What has brought the complaint about is a component, the
// elements that it serves (itself where it serves none), and the step of the
// teardown that shows it.
const (
	Caused  Measure = "caused"  // the component has brought the complaint about
	Failed  Measure = "failed"  // the component has failed
	Element Measure = "element" // an element of a component that has brought it about
	Step    Measure = "step"    // the step that shows such a component
)

// Measures lists them all.
var Measures = []Measure{Caused, Failed, Element, Step}

// Place is where among the first three the first right one stands, from 1; 0 for
// none of them, -1 where the way does not say.
type Place int

// Places are those by each of Measures.
type Places [4]Place

// part is a component as the measures see it.
type part struct {
	elements []string
	step     string
	modes    []int
	rate     float64 // P(a mode is there) without any report, at most: the sum
}

// tester ranks cases by every way.
type tester struct {
	m     *model.Model
	parts []part
	prior []float64 // of every node

	noPhysics, noCauses *model.Model
	// shows[k][n] is P(node n | the mode k of modes is there and nothing else).
	modes  []int
	shows  [][]float64
	rows   map[string][]string // what is applied, or holds, by "D/3"
	first  map[string]string   // first row of a range
	ofElem map[string]float64  // rates of the components that serve an element
}

// exactly bounds the tree of one answer: hundreds of answers make a trial. What
// is beyond counts approximately, see model.Within, and the vehicle is counted.
const exactly, approx = 1 << 20, 1 << 18

func newTester(m *model.Model) (*tester, error) {
	t := &tester{m: m, modes: m.Modes(), rows: map[string][]string{}, first: map[string]string{}, ofElem: map[string]float64{}}
	post, err := m.Solve(nil)
	if err != nil {
		return nil, err
	}
	t.prior = post.P
	feeds := map[string][]string{}
	for _, c := range m.Unit.Circuits {
		feeds[c.Name] = c.Feeds
	}
	steps := map[string]string{}
	for _, s := range m.Unit.Steps {
		for _, c := range s.Exposes {
			steps[c] = s.Name
		}
	}
	for i := range m.Unit.Components {
		c := &m.Unit.Components[i]
		p := part{modes: m.ModesOf(c.Name), step: cmp.Or(steps[c.Name], "component "+c.Name)}
		for _, s := range c.Serves {
			switch s.Kind {
			case engine.OnElement:
				p.elements = append(p.elements, s.Name)
			case engine.OnCircuit:
				p.elements = append(p.elements, feeds[s.Name]...)
			}
		}
		slices.Sort(p.elements)
		p.elements = slices.Compact(p.elements)
		if len(p.elements) == 0 {
			p.elements = []string{"component " + c.Name}
		}
		for _, n := range p.modes {
			p.rate += t.prior[n]
		}
		for _, e := range p.elements {
			t.ofElem[e] += p.rate
		}
		t.parts = append(t.parts, p)
	}
	for _, r := range m.Unit.Rows {
		on := append(slices.Clone(r.Apply), r.Holding...)
		slices.Sort(on)
		t.rows[r.Range+"/"+r.Gear] = slices.Compact(on)
		if t.first[r.Range] == "" {
			t.first[r.Range] = r.Range + "/" + r.Gear
		}
	}
	t.shows = make([][]float64, len(t.modes))
	for k, mode := range t.modes {
		p := make([]float64, len(m.Nodes))
		for i := range p {
			switch {
			case i == mode:
				p[i] = 1
			case m.Nodes[i].Layer > model.ModeLayer:
				off := 1 - m.Net.Nodes[i].Leak
				for _, l := range m.Net.Nodes[i].Links {
					off *= 1 - p[l.Parent]*l.Strength
				}
				p[i] = 1 - off
			}
		}
		t.shows[k] = p
	}
	if t.noPhysics, err = m.Without(func(_ int, s model.LinkSource) bool { return s.Outcome != "" }, nil); err != nil {
		return nil, err
	}
	t.noCauses, err = m.Without(func(node int, _ model.LinkSource) bool { return m.Nodes[node].Layer <= model.ModeLayer },
		func(node int) float64 {
			if m.Nodes[node].Layer < model.ModeLayer {
				return 0
			}
			return t.prior[node]
		})
	return t, err
}

// ranked is a list of components, best first, with P(it has failed) where the
// way gives one.
type ranked struct {
	list []int
	p    []float64
	near bool
}

// byRules ranks by a model: the first five are worked out, as the program shows
// them.
func (t *tester) byRules(m *model.Model, pieces []model.Piece) (ranked, error) {
	r, err := diagnose.Ranked(m, pieces, shown, exactly, approx)
	if err != nil {
		return ranked{}, err
	}
	out := ranked{near: len(r.Near) > 0}
	at := map[*engine.Component]int{}
	for i := range t.m.Unit.Components {
		at[&t.m.Unit.Components[i]] = i
	}
	for _, s := range r.Suspects {
		out.list, out.p = append(out.list, at[s.Component]), append(out.p, s.P)
	}
	return out, nil
}

// shown is how many suspects the program shows.
const shown = 5

// rank ranks by a way; elements are ranked instead of components by the paper
// chart.
func (t *tester) rank(w Way, pieces []model.Piece) (r ranked, elements []string, err error) {
	switch w {
	case Advised, Fixed:
		r, err = t.byRules(t.m, pieces)
	case PaperChart:
		elements = t.paperChart(pieces)
	case Independent:
		r = t.byModes(t.independent(pieces))
	case Matches:
		r = t.matches(pieces)
	case NoPhysics:
		r, err = t.byRules(t.noPhysics, pieces)
	case AtTheWord:
		r, err = t.byRules(t.m, atTheWord(pieces))
	case NoCauses:
		r, err = t.byRules(t.noCauses, pieces)
	case SingleOnly:
		var score []float64
		if score, err = t.single(pieces); err == nil {
			r = t.byModes(score)
		}
	}
	return r, elements, err
}

// byModes ranks by the logarithms of the weights of modes, along t.modes, of
// which exactly one is there.
func (t *tester) byModes(score []float64) ranked {
	most := slices.Max(score)
	weight := make([]float64, len(t.m.Nodes))
	sum := 0.0
	for k, s := range score {
		weight[t.modes[k]] = math.Exp(s - most)
		sum += math.Exp(s - most)
	}
	p := make([]float64, len(t.parts))
	for i, x := range t.parts {
		for _, n := range x.modes {
			p[i] += weight[n] / sum
		}
	}
	return t.sorted(p)
}

// sorted ranks components by a number, ties by how often they fail.
func (t *tester) sorted(p []float64) ranked {
	var r ranked
	for i := range t.parts {
		if len(t.parts[i].modes) > 0 {
			r.list = append(r.list, i)
		}
	}
	slices.SortStableFunc(r.list, func(a, b int) int {
		return cmp.Or(cmp.Compare(p[b], p[a]), cmp.Compare(t.parts[b].rate, t.parts[a].rate))
	})
	for _, i := range r.list {
		r.p = append(r.p, p[i])
	}
	return r
}

// independent is naive Bayes: the logarithm of the prior of each mode and of
// each report given that mode alone.
func (t *tester) independent(pieces []model.Piece) []float64 {
	out := make([]float64, len(t.modes))
	for k, n := range t.modes {
		out[k] = math.Log(t.prior[n])
		for _, p := range pieces {
			q := t.shows[k][p.Node]
			out[k] += math.Log(q*p.On + (1-q)*p.Off)
		}
	}
	return out
}

// closely is of how many modes, the likeliest with independent signs, single
// works out the exact weight; the others cannot be among the first three.
const closely = 24

// single is the logarithm of P(a mode and no other, reports) for each mode.
func (t *tester) single(pieces []model.Piece) ([]float64, error) {
	rough := t.independent(pieces)
	order := make([]int, len(rough))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(rough[b], rough[a]) })
	out := make([]float64, len(rough))
	for i := range out {
		out[i] = math.Inf(-1)
	}
	base := t.m.Likelihoods(pieces)
	for _, k := range order[:min(closely, len(order))] {
		ev := slices.Clone(base)
		for _, n := range t.modes {
			l := network.Likelihood{Node: n, Off: 1}
			if n == t.modes[k] {
				l.On, l.Off = 1, 0
			}
			ev = append(ev, l)
		}
		post, err := t.m.Solver().SolveSubset(ev, nil)
		if err != nil {
			return nil, err
		}
		out[k] = post.LogEvidence
	}
	return out, nil
}

// matches counts, for each component, the findings reported present that one of
// its modes can bring about.
func (t *tester) matches(pieces []model.Piece) ranked {
	of := map[int]map[int]bool{} // finding -> modes
	for _, p := range pieces {
		if p.State == engine.Present && of[p.Node] == nil {
			of[p.Node] = map[int]bool{}
			t.m.Upward(p.Node, of[p.Node])
		}
	}
	n := make([]float64, len(t.parts))
	for i, x := range t.parts {
		for _, mode := range x.modes {
			k := 0.0
			for _, about := range of {
				if about[mode] {
					k++
				}
			}
			n[i] = max(n[i], k)
		}
	}
	return t.sorted(n)
}

// certain stands for a reporter who hardly errs: reports may contradict each
// other, so that it cannot be one who never does.
const certain = 0.999

// atTheWord takes every report as if nobody erred.
func atTheWord(pieces []model.Piece) []model.Piece {
	out := slices.Clone(pieces)
	for i := range out {
		if p := &out[i]; p.On > p.Off {
			p.On, p.Off = certain, 1-certain
		} else {
			p.On, p.Off = 1-certain, certain
		}
	}
	return out
}

// paperChart ranks the elements as with a printed chart: for each place where
// something is reported present, what is applied there, or comes on in that
// shift; less each place where all is reported absent. Ties by how often what
// serves the element fails.
func (t *tester) paperChart(pieces []model.Piece) []string {
	state := map[string]engine.State{}
	at := map[string][]string{}
	for _, p := range pieces {
		n := &t.m.Nodes[p.Node]
		if n.Finding == nil {
			continue
		}
		var on []string
		switch n.Finding.Per {
		case engine.PerRow, engine.PerRowGear:
			on = t.rows[n.Place]
		case engine.PerEngagement:
			on = t.rows[t.first[n.Place]]
		case engine.PerShift:
			from, to := engine.ShiftRows(n.Place)
			for _, e := range t.rows[to] {
				if !slices.Contains(t.rows[from], e) {
					on = append(on, e)
				}
			}
		}
		if len(on) == 0 {
			continue
		}
		at[n.Place] = on
		if state[n.Place] != engine.Present {
			state[n.Place] = p.State
		}
	}
	score := map[string]int{}
	var out []string
	for _, e := range t.m.Unit.Elements {
		out = append(out, e.Name)
		for place, on := range at {
			if slices.Contains(on, e.Name) {
				if state[place] == engine.Present {
					score[e.Name]++
				} else {
					score[e.Name]--
				}
			}
		}
	}
	slices.SortStableFunc(out, func(a, b string) int {
		return cmp.Or(cmp.Compare(score[b], score[a]), cmp.Compare(t.ofElem[b], t.ofElem[a]))
	})
	return out
}

// truth is what is right for a vehicle.
type truth struct {
	caused, failed map[int]bool
	elements       map[string]bool
	steps          map[string]bool
}

func (t *tester) truth(v *Vehicle) truth {
	x := truth{map[int]bool{}, map[int]bool{}, map[string]bool{}, map[string]bool{}}
	did := map[int]bool{}
	for _, n := range v.Behind() {
		did[n] = true
	}
	for i, p := range t.parts {
		for _, n := range p.modes {
			if v.on[n] {
				x.failed[i] = true
			}
			if did[n] && v.on[n] {
				x.caused[i] = true
			}
		}
		if x.caused[i] {
			x.steps[p.step] = true
			for _, e := range p.elements {
				x.elements[e] = true
			}
		}
	}
	return x
}

// places tells where in a ranking the right ones stand.
func (t *tester) places(x truth, r ranked, elements []string) Places {
	if elements != nil {
		return Places{-1, -1, place(elements, func(e string) (string, bool) { return e, x.elements[e] }), -1}
	}
	return Places{
		place(r.list, func(i int) (int, bool) { return i, x.caused[i] }),
		place(r.list, func(i int) (int, bool) { return i, x.failed[i] }),
		place(r.list, func(i int) (string, bool) {
			right := slices.ContainsFunc(t.parts[i].elements, func(e string) bool { return x.elements[e] })
			return strings.Join(t.parts[i].elements, " "), right
		}),
		place(r.list, func(i int) (string, bool) { return t.parts[i].step, x.steps[t.parts[i].step] }),
	}
}

// place is the first right one among the first three different ones.
func place[T any, K comparable](list []T, of func(T) (key K, right bool)) Place {
	seen := map[K]bool{}
	for _, x := range list {
		key, right := of(x)
		if !seen[key] {
			seen[key] = true
			if len(seen) > 3 {
				return 0
			}
		}
		if right {
			return Place(len(seen))
		}
	}
	return 0
}
