package check

import (
	"fmt"
	"slices"
	"sort"

	"slipcase/engine"
)

// mostTied is how many root causes and stresses may share their modes. Exact
// answers hold the states of all that are tied together in one table, which
// doubles with each: 12 leave room for what findings tie besides. (The built-in
// rules tie 2.)
const mostTied = 12

// width predicts how wide the network of each unit gets from what brings about
// its modes: causes that reach the same modes one by one must be kept apart in
// one table, where a stress between them would stand for all.
//
// What is told is a lower bound. The graph of causes and modes has a part in
// which everything has at least k neighbors (its k-core); no elimination order
// avoids a table over k variables there.
func width(r *run) {
	for _, u := range r.k.Units {
		sources, modes := r.bipartite(u)
		k, causes, reached := core(sources, modes)
		if k <= mostTied {
			continue
		}
		first := r.causeAt(causes)
		if first == (engine.Range{}) {
			first = u.At
		}
		r.error(first, fmt.Sprintf("unit %s: %d root causes bring about the same %d modes one by one", u.ID, len(causes), reached),
			fmt.Sprintf("Answers that stay exact need a table over at least %d of them at once; up to %d can be worked out. Put a stress between: let these causes make it, and let the modes be because of it: %s.", k, mostTied, names(causes)))
	}
}

// Wide names the units, by id, in which too many root causes share their modes for
// an answer to be worked out: width tells of them.
func Wide(k *engine.Knowledge) map[string]bool {
	r := newRun(k, Options{})
	out := map[string]bool{}
	for _, u := range k.Units {
		if n, _, _ := core(r.bipartite(u)); n > mostTied {
			out[u.ID] = true
		}
	}
	return out
}

// bipartite lists what brings about the modes of a unit's components: by name
// of the cause or stress, the nodes of the modes, which are numbered.
func (r *run) bipartite(u *engine.Unit) (sources map[string][]int, modes int) {
	sources = map[string][]int{}
	for i := range u.Components {
		for _, m := range r.modesOf[u.Components[i].Kind] {
			seen := map[string]bool{}
			for _, b := range m.Because {
				if r.modes[b.Of] == nil && !seen[b.Of] {
					seen[b.Of] = true
					sources[b.Of] = append(sources[b.Of], modes)
				}
			}
			modes++
		}
	}
	return sources, modes
}

// core peels the graph from what has the fewest neighbors: the largest k for
// which a k-core is left, the sources in it, by name, and how many modes.
func core(sources map[string][]int, modes int) (k int, names []string, reached int) {
	list := sorted(sources)
	near := make([][]int, len(list)+modes) // sources, then modes
	for i, s := range list {
		for _, m := range sources[s] {
			near[i] = append(near[i], len(list)+m)
			near[len(list)+m] = append(near[len(list)+m], i)
		}
	}
	degree := make([]int, len(near))
	order := make([]int, len(near))
	for i := range near {
		degree[i], order[i] = len(near[i]), i
	}
	gone := make([]bool, len(near))
	left := len(near)
	var inCore []bool
	for left > 0 {
		// The least degree left; everything of that degree or less goes.
		least := -1
		for i, d := range degree {
			if !gone[i] && (least < 0 || d < least) {
				least = d
			}
		}
		if least > k {
			k = least
			inCore = make([]bool, len(near))
			for i := range gone {
				inCore[i] = !gone[i]
			}
		}
		stack := slices.DeleteFunc(slices.Clone(order), func(i int) bool { return gone[i] || degree[i] > least })
		for len(stack) > 0 {
			i := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			if gone[i] {
				continue
			}
			gone[i] = true
			left--
			for _, j := range near[i] {
				if degree[j]--; !gone[j] && degree[j] <= least {
					stack = append(stack, j)
				}
			}
		}
	}
	for i, in := range inCore {
		switch {
		case !in:
		case i < len(list):
			names = append(names, list[i])
		default:
			reached++
		}
	}
	sort.Strings(names)
	return k, names, reached
}

// causeAt is the place of the first of some causes.
func (r *run) causeAt(names []string) engine.Range {
	for i := range r.k.Causes {
		if slices.Contains(names, r.k.Causes[i].Name) {
			return r.k.Causes[i].At
		}
	}
	return engine.Range{}
}
