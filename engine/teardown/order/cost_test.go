package order

import "fmt"

// Cost returns Σ weight × completion time of the jobs done in the given
// order, in minutes. The order must hold every job once and respect the
// precedence; the error says where it does not.
func Cost(jobs []Job, order []int) (float64, error) {
	g, err := build(jobs)
	if err != nil {
		return 0, err
	}
	if len(order) != len(jobs) {
		return 0, fmt.Errorf("order: the order has %d places for %d jobs", len(order), len(jobs))
	}
	done := make([]bool, len(jobs))
	for _, v := range order {
		if v < 0 || v >= len(jobs) {
			return 0, fmt.Errorf("order: the order names job number %d; there are jobs 0 to %d", v, len(jobs)-1)
		}
		if done[v] {
			return 0, fmt.Errorf("order: the order holds %s twice", label(jobs, v))
		}
		for _, p := range g.pred[v] {
			if !done[p] {
				return 0, fmt.Errorf("order: %s comes before %s, which it needs", label(jobs, v), label(jobs, p))
			}
		}
		done[v] = true
	}
	return g.cost(order), nil
}
