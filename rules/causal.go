package rules

import (
	"fmt"
	"slices"
	"strings"

	"slipcase/engine"
)

// causalOrder refuses circles among modes and stresses: root cause, source
// mode, stress, victim mode, effect, finding. Probabilities would have no
// meaning, so no command works with them.
func (r *resolver) causalOrder() {
	edges := map[string][]string{}
	var nodes []string
	at := map[string]engine.Range{}
	for i := range r.k.Modes {
		m := &r.k.Modes[i]
		nodes = append(nodes, m.Name)
		at[m.Name] = m.At
		for _, s := range m.Stresses {
			// A stress that this mode both makes and suffers is told by
			// package check.
			if !slices.ContainsFunc(m.Because, func(b engine.Because) bool { return b.Of == s.To }) {
				edges[m.Name] = append(edges[m.Name], s.To)
			}
		}
		for _, b := range m.Because {
			edges[b.Of] = append(edges[b.Of], m.Name)
		}
	}
	for _, c := range Circles(nodes, edges) {
		// Told where the first mode of the circle stands.
		first := ""
		for _, n := range c {
			if _, ok := at[n]; ok {
				first = n
				break
			}
		}
		r.Error(at[first], fmt.Sprintf("mode %q causes itself", first),
			fmt.Sprintf("From cause to consequence: %s. Causes run one way; take the weakest of these links out.", strings.Join(append(c, c[0]), " -> ")))
	}
}

// Circles finds the cycles of a graph given by its nodes, in order, and the edges
// of each. Each is given by its nodes, each node in one cycle at most.
func Circles(nodes []string, edges map[string][]string) [][]string {
	const (
		fresh = iota
		open
		shut
	)
	state := map[string]int{}
	var stack []string
	var out [][]string
	var visit func(n string)
	visit = func(n string) {
		state[n] = open
		stack = append(stack, n)
		for _, to := range edges[n] {
			switch state[to] {
			case fresh:
				visit(to)
			case open:
				for i := len(stack) - 1; i >= 0; i-- {
					if stack[i] == to {
						out = append(out, append([]string{}, stack[i:]...))
						break
					}
				}
			}
		}
		stack = stack[:len(stack)-1]
		state[n] = shut
	}
	for _, n := range nodes {
		if state[n] == fresh {
			visit(n)
		}
	}
	return out
}
