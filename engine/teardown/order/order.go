// Package order finds the order of steps that shows the culprit soonest.
//
// A job takes minutes and has a weight: the probability that a failed
// component comes into view when the job is finished. Some jobs need others
// done first. The cost of an order is the sum over jobs of weight times
// completion time, in minutes; with probabilities as weights it is the
// expected time in view, summed over the failed components.
//
// In scheduling terms this is 1|prec|Σ wC. Trees are solved exactly by
// Horn's rule (W. A. Horn, 1972, recalled). A general precedence is split by
// Sidney's decomposition (J. B. Sidney, 1975, recalled) and its modules are
// solved by dynamic programming over ideals (sets closed under predecessors)
// up to a stated number of ideals; beyond it a good order is returned with a
// proven lower bound, and the result says so.
//
// Ratios weight/minutes that agree within 1e-12, relatively, are ties; ties
// go by name, then by index. The same input gives the same order. Bad data
// gives an error; a panic would be a bug of this package.
package order

import (
	"fmt"
	"strings"
)

// DefaultMaxIdeals is the number of ideals visited in one call of Optimal
// when Options does not say otherwise: some 0.2 s on one core of a small server.
const DefaultMaxIdeals = 1 << 18

// Job is one step.
type Job struct {
	Name    string
	Minutes float64 // time the job takes, ≥ 0
	Weight  float64 // probability that a failed component comes into view, ≥ 0; a sum of several may exceed 1
	After   []int   // indexes of the jobs that must be finished before it; repeats are harmless
}

// Options bound the work.
type Options struct {
	// MaxIdeals is the most ideals that dynamic programming may visit in one
	// call, all modules together, smallest modules first. 0 stands for
	// DefaultMaxIdeals; a negative number switches dynamic programming off.
	MaxIdeals int
}

// Result is an order and what is known about it.
type Result struct {
	Order  []int   // indexes of the jobs, first to last
	Cost   float64 // Σ weight × completion time, minutes
	Bound  float64 // no order costs less; equal to Cost when Exact
	Exact  bool    // the order is proven optimal, but for rounding: 1e-9 of Cost and 1e-14 of all minutes times all weight
	Method string  // what was done, in plain words
}

// Optimal returns an order of least cost, or, where the work bound is
// reached, a good order with its lower bound. It returns an error for a
// negative, infinite or NaN number, an index out of range and a cycle (the
// error names its jobs).
func Optimal(jobs []Job, opt Options) (Result, error) {
	g, err := build(jobs)
	if err != nil {
		return Result{}, err
	}
	g.reduce()
	budget := opt.MaxIdeals
	if budget == 0 {
		budget = DefaultMaxIdeals
	}
	s := solver{g: g, budget: max(budget, 0)}
	order := s.run()
	r := Result{Order: order, Cost: g.cost(order)}
	// What is lost in the modules may be nothing beside the whole.
	if s.gap <= 1e-11*r.Cost {
		s.gap = 0
	}
	r.Bound, r.Exact, r.Method = r.Cost-s.gap, s.gap == 0, s.method()
	return r, nil
}

// solver gathers what happened on the way.
type solver struct {
	g      *graph
	budget int // ideals still allowed

	trees, reversed int     // jobs settled by Horn's rule, and by its mirror image
	general         int     // jobs in other precedence components
	modules         int     // Sidney modules of those
	largest         int     // jobs in the largest module
	ideals          int     // ideals visited
	searched        int     // jobs in modules left to local search
	gap             float64 // by how much those modules may miss the optimum
}

// run returns the order. Every connected component of the precedence becomes
// blocks whose ratios fall along the precedence; since blocks are exactly the
// Sidney modules of their component, the best block available may always go
// next.
func (s *solver) run() []int {
	g := s.g
	var heads *block
	var forest, joins []int
	line := newLine(g.n())
	var general [][]int
	for _, c := range g.components() {
		out, in := g.tree(c)
		switch {
		case out:
			forest = append(forest, c...)
		case in:
			joins = append(joins, c...)
		default:
			general = append(general, c)
		}
	}
	if len(forest) > 0 {
		s.trees = len(forest)
		heads = meld(heads, horn(g, line, forest, firstPred(g)))
	}
	if len(joins) > 0 {
		s.reversed = len(joins)
		heads = meld(heads, chain(g, line, mirrorHorn(g, joins)))
	}
	for i, seq := range s.solveGeneral(general) {
		s.general += len(general[i])
		heads = meld(heads, chain(g, line, seq))
	}
	order := make([]int, 0, g.n())
	for heads != nil {
		b := heads
		heads = meld(meld(b.left, b.right), b.kids)
		order = line.appendTo(order, b)
	}
	return order
}

func (s *solver) method() string {
	var parts []string
	if s.trees > 0 {
		parts = append(parts, fmt.Sprintf("Horn's rule on %s", count(s.trees, "job")))
	}
	if s.reversed > 0 {
		parts = append(parts, fmt.Sprintf("Horn's rule backwards on %s", count(s.reversed, "job")))
	}
	if s.general > 0 {
		parts = append(parts, fmt.Sprintf("Sidney decomposition of %s into %s, largest %d",
			count(s.general, "job"), count(s.modules, "module"), s.largest))
	}
	if s.ideals > 0 {
		parts = append(parts, fmt.Sprintf("dynamic programming over %s", count(s.ideals, "ideal")))
	}
	if s.searched > 0 {
		text := fmt.Sprintf("local search on %s", count(s.searched, "job"))
		if s.gap == 0 {
			text += ", proven best by its bound"
		}
		parts = append(parts, text)
	}
	if len(parts) == 0 {
		return "nothing to order"
	}
	return strings.Join(parts, "; ")
}

func count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
