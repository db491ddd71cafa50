package refine

import (
	"slipcase/engine/network"
)

// keep is the number of cases whose trees are kept between iterations, two where there
// was a complaint: a third of a megabyte each on the larger units. Beyond it a spread
// of the cases keeps theirs and the others have them built anew in every pass, which
// takes twice as long.
const keep = 600

// shelf is the number of cases that share a solver: their trees, two each, are below
// the size of its cache.
const shelf = 224

// keepTrees gives the cases their solvers, which refuse a tree of more entries than most.
func keepTrees(items []*item, most float64) error {
	open := map[*binding]*network.Solver{}
	used := map[*binding]int{}
	n := len(items)
	for i, it := range items {
		if it.kept = nil; n > keep && i*keep/n == (i+1)*keep/n {
			continue
		}
		if used[it.b]%shelf == 0 {
			s, err := it.b.solver()
			if err != nil {
				return err
			}
			s.MaxWork = most
			open[it.b] = s
		}
		used[it.b]++
		it.kept = open[it.b]
	}
	return nil
}
