package diagnose

import (
	"cmp"
	"math"
	"slices"
	"sync"

	"slipcase/engine"
	"slipcase/engine/model"
	"slipcase/engine/network"
)

// Heard is a group of reports that say the same of a case: of one finding at
// one place, whoever said it and under whatever condition; and of what is
// absent, of one finding at all its places. Each alone would weigh next to
// nothing, because the others still say it.
type Heard struct {
	Pieces []model.Piece // in their order of arrival
	// Decibans is ten times the decimal logarithm of the odds of the node with
	// all reports over those without this group; at most 99 either way.
	Decibans float64
	// After is P(node) with this group and all that arrived before it; not worked
	// out without arrival.
	After float64
	// Leads is the place in Result.Suspects of who leads without this group,
	// and LeadsP the probability of it then, bounded by the sum of its modes; not
	// worked out by Heaviest.
	Leads  int
	LeadsP float64 // probability
}

const (
	mostDecibans = 99   // stands for certainty
	weighed      = 1e-6 // error of a probability that does for a weight
)

// Hear weighs the groups of reports of a case for and against a node, a mode or
// a root cause, in their order of arrival; with arrival it works out what was
// known at each time too, which doubles the work. Looks at parts decide and are
// not weighed: they are taken as known from the start. Errors are those of an
// answer that cannot be worked out.
func Hear(m *model.Model, r *Result, node int, arrival bool) ([]Heard, error) {
	return hear(m, r, node, arrival, math.MaxInt)
}

// Heaviest is Hear, without what was known at each time and who would lead, of as
// many groups as are asked for: those that weigh most by an estimate that takes what is behind the
// reports as independent given the node.
func Heaviest(m *model.Model, r *Result, node, most int) ([]Heard, error) {
	return hear(m, r, node, false, most)
}

func hear(m *model.Model, r *Result, node int, arrival bool, most int) ([]Heard, error) {
	type same struct {
		finding, place string
		state          engine.State
	}
	var out []Heard
	at := map[same]int{}
	group := make([]int, len(r.Pieces)) // of each piece; -1 for a look
	for n, p := range r.Pieces {
		if group[n] = -1; !p.Ranked {
			continue
		}
		f := engine.ParseFindingName(p.Label)
		key := same{f.Name, f.Place, p.State}
		if p.State != engine.Present {
			key.place = ""
		}
		i, ok := at[key]
		if !ok {
			i = len(out)
			at[key] = i
			out = append(out, Heard{})
		}
		out[i].Pieces = append(out[i].Pieces, p)
		group[n] = i
	}
	solver := m.Solver().Rough(weighed)
	odds := func(p float64) float64 { return math.Log10(p) - math.Log10(1-p) }
	all := odds(r.Posterior[node])
	// What is taken back stays as evidence that says nothing, but for the last
	// digit, so that all questions share the tree of the case.
	ask := func(back map[int]bool) (*network.Posterior, error) {
		return solver.SolveSubset(m.Likelihoods(model.Silenced(r.Pieces, back)), m.Modes())
	}
	chosen, err := heaviest(m, r, node, group, len(out), most)
	if err != nil {
		return nil, err
	}
	before := byNode(m.Likelihoods(r.Pieces), len(m.Nodes))
	var kept *network.Incremental // for the odds alone
	if most < len(out) && r.Posterior[node] > 0 && r.Posterior[node] < 1 {
		kept, err = solver.Incremental(m.Likelihoods(r.Pieces), []int{node}, nil)
		if err != nil {
			return nil, err
		}
	}
	errs := make([]error, len(chosen))
	weigh := func(i int) error {
		h := &out[i]
		own, later := map[int]bool{}, map[int]bool{}
		for j, g := range group {
			own[j], later[j] = g == i, g > i
		}
		var post *network.Posterior
		var err error
		back, ok := change(before, byNode(m.Likelihoods(model.Silenced(r.Pieces, own)), len(m.Nodes)))
		alone := kept != nil && ok
		if alone {
			post, err = kept.Afresh(back, []int{node})
		} else {
			post, err = ask(own)
		}
		if err != nil {
			return err
		}
		h.Decibans = math.Max(-mostDecibans, math.Min(mostDecibans, 10*(all-odds(post.P[node]))))
		if most < len(out) {
			return nil
		}
		if math.IsNaN(h.Decibans) {
			h.Decibans = 0
		}
		for k, s := range r.Suspects {
			sum := 0.0
			for _, b := range s.Modes {
				sum += post.P[b.Node]
			}
			if sum > h.LeadsP {
				h.Leads, h.LeadsP = k, sum
			}
		}
		h.LeadsP = math.Min(h.LeadsP, 1)
		h.After = r.Posterior[node]
		if arrival && i+1 < len(out) {
			if post, err = ask(later); err != nil {
				return err
			}
			h.After = post.P[node]
		}
		return nil
	}
	var wg sync.WaitGroup
	for half := range 2 { // both cores; nothing depends on who is first
		wg.Go(func() {
			for i := half; i < len(chosen); i += 2 {
				if errs[i] = weigh(chosen[i]); errs[i] != nil {
					return
				}
			}
		})
	}
	wg.Wait()
	for _, err := range errs {
		if err != nil {
			return nil, err
		}
	}
	list := make([]Heard, 0, len(chosen))
	for _, i := range chosen {
		list = append(list, out[i])
	}
	return list, nil
}

// heaviest picks, of n groups of pieces, so many that weigh most by an estimate,
// in their order. With the node on and with it off, all evidence kept, a group
// that is taken back multiplies the probability of the evidence by the mean of
// what changes at the nodes that it stands on: exact where that is one node.
func heaviest(m *model.Model, r *Result, node int, group []int, n, most int) ([]int, error) {
	all := make([]int, n)
	for i := range all {
		all[i] = i
	}
	if n <= most {
		return all, nil
	}
	with := m.Likelihoods(r.Pieces)
	post := r.given[node] // what weigh has worked out
	if post == nil {
		var err error
		if post, err = given(m, r, []int{node}); err != nil {
			return nil, err
		}
	}
	if post[0] == nil || post[1] == nil {
		return all, nil // certain either way: nothing to choose by
	}
	before := byNode(with, len(m.Nodes))
	weight := make([]float64, n)
	for i := range weight {
		own := map[int]bool{}
		for j, g := range group {
			own[j] = g == i
		}
		after := byNode(m.Likelihoods(model.Silenced(r.Pieces, own)), len(m.Nodes))
		for k := range before {
			if before[k] == after[k] || post[0].P[k] < 0 || post[1].P[k] < 0 {
				continue
			}
			mean := func(p float64) float64 {
				out := 0.0
				if before[k].on > 0 {
					out += p * after[k].on / before[k].on
				}
				if before[k].off > 0 {
					out += (1 - p) * after[k].off / before[k].off
				}
				return out
			}
			weight[i] += math.Log(mean(post[1].P[k]) / mean(post[0].P[k]))
		}
		weight[i] = math.Abs(weight[i])
	}
	slices.SortStableFunc(all, func(a, b int) int { return cmp.Compare(weight[b], weight[a]) })
	all = all[:most]
	slices.Sort(all)
	return all, nil
}

// change is evidence that makes other evidence of what there is; false where that
// would have to bring back what was ruled out.
func change(before, after []pair) ([]network.Likelihood, bool) {
	var out []network.Likelihood
	for n := range before {
		b, a := before[n], after[n]
		if a == b {
			continue
		}
		if b.on == 0 || b.off == 0 {
			return nil, false
		}
		out = append(out, network.Likelihood{Node: n, On: a.on / b.on, Off: a.off / b.off, Tag: -1})
	}
	return out, true
}

// pair is what the evidence says of one node.
type pair struct{ on, off float64 }

// byNode multiplies the evidence on each node.
func byNode(ev []network.Likelihood, nodes int) []pair {
	out := make([]pair, nodes)
	for i := range out {
		out[i] = pair{1, 1}
	}
	for _, e := range ev {
		out[e.Node].on *= e.On
		out[e.Node].off *= e.Off
	}
	return out
}
