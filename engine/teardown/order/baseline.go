package order

import (
	"cmp"
	"fmt"
	"slices"
)

// Bench returns the plain bench order: the jobs as listed, each as soon as
// the jobs before it in the list and those it needs are done.
func Bench(jobs []Job) ([]int, error) {
	g, err := build(jobs)
	if err != nil {
		return nil, err
	}
	return g.topo, nil
}

// LikeliestFirst returns the order of a builder who goes for the likeliest
// culprit whatever is in the way: always the open job of greatest weight,
// its open predecessors (greatest weight first) before it.
func LikeliestFirst(jobs []Job) ([]int, error) {
	g, err := build(jobs)
	if err != nil {
		return nil, err
	}
	targets := slices.Clone(g.topo)
	slices.SortFunc(targets, func(a, b int) int {
		if c := cmp.Compare(g.wt[b], g.wt[a]); c != 0 {
			return c
		}
		return g.rank[a] - g.rank[b]
	})
	return g.pursue(targets), nil
}

// pursue does the targets (all jobs, in any order) one after another, each
// with its open predecessors before it, those in the order of the targets.
func (g *graph) pursue(targets []int) []int {
	place := make([]int, g.n())
	for i, v := range targets {
		place[v] = i
	}
	done := make([]bool, g.n())
	order := make([]int, 0, g.n())
	var stack []int
	for _, t := range targets {
		stack = append(stack[:0], t)
		for len(stack) > 0 {
			v := stack[len(stack)-1]
			next := -1
			for _, p := range g.pred[v] {
				if !done[p] && (next < 0 || place[p] < place[next]) {
					next = p
				}
			}
			switch {
			case done[v]:
				stack = stack[:len(stack)-1]
			case next >= 0:
				stack = append(stack, next)
			default:
				done[v] = true
				order = append(order, v)
				stack = stack[:len(stack)-1]
			}
		}
	}
	return order
}

// Remaining returns the jobs that are left of a plan in progress, with their
// conditions renumbered, and for each its index in jobs. A condition on a
// done job is fulfilled, whatever that job itself needed. It returns an error
// if done holds an index out of range or jobs are bad.
func Remaining(jobs []Job, done []int) (rest []Job, index []int, err error) {
	if _, err := build(jobs); err != nil {
		return nil, nil, err
	}
	gone := make([]bool, len(jobs))
	for _, v := range done {
		if v < 0 || v >= len(jobs) {
			return nil, nil, fmt.Errorf("order: job number %d is said to be done; there are jobs 0 to %d", v, len(jobs)-1)
		}
		gone[v] = true
	}
	place := make([]int, len(jobs))
	for i := range jobs {
		if !gone[i] {
			place[i] = len(index)
			index = append(index, i)
		}
	}
	for _, i := range index {
		j := jobs[i]
		j.After = nil
		for _, a := range jobs[i].After {
			if !gone[a] {
				j.After = append(j.After, place[a])
			}
		}
		rest = append(rest, j)
	}
	return rest, index, nil
}
