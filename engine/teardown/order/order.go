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
	Method Method
}

// Method counts what was done to find an order.
type Method struct {
	Trees, Reversed int  // jobs settled by Horn's rule, and by its mirror image
	General         int  // jobs in other precedence components, split by Sidney's decomposition
	Modules         int  // Sidney modules of those
	Largest         int  // jobs in the largest module
	Ideals          int  // ideals visited by dynamic programming
	Searched        int  // jobs in modules left to local search
	Proven          bool // local search met its bound
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
	return g.optimal(budget), nil
}

// optimal is Optimal for a graph without conditions that follow from others.
func (g *graph) optimal(budget int) Result {
	s := solver{g: g, budget: max(budget, 0)}
	order := s.run()
	r := Result{Order: order, Cost: g.cost(order)}
	// What is lost in the modules may be nothing beside the whole.
	if s.gap <= costRounding*r.Cost {
		s.gap = 0
	}
	r.Bound, r.Exact, r.Method = r.Cost-s.gap, s.gap == 0, s.Method
	r.Method.Proven = s.Searched > 0 && s.gap == 0
	return r
}

// costRounding is the share of an order's cost within which a bound is the cost: a
// sum over hundreds of steps rounds to some 1e-14 of it. gainRounding is that of the
// gain of one move, beside the product of minutes and weights that it is made of.
const costRounding, gainRounding = 1e-11, 1e-12

// solver gathers what happened on the way.
type solver struct {
	g      *graph
	budget int // ideals still allowed

	Method
	gap float64 // by how much modules left to local search may miss the optimum
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
		s.Trees = len(forest)
		heads = meld(heads, horn(g, line, forest, firstPred(g)))
	}
	if len(joins) > 0 {
		s.Reversed = len(joins)
		heads = meld(heads, chain(g, line, mirrorHorn(g, joins)))
	}
	for i, seq := range s.solveGeneral(general) {
		s.General += len(general[i])
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
