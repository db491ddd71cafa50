package refine

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"slipcase/engine"
)

// Prior is a Beta distribution: A successes and B failures.
type Prior struct {
	A, B float64 // counts, above 0
}

// Size is A+B, in trials.
func (p Prior) Size() float64 { return p.A + p.B }

// Mean is the value of the rule.
func (p Prior) Mean() float64 { return p.A / (p.A + p.B) }

// PriorOf is the prior of a number strictly between 0 and 1: its value as
// mean, sized by basis, and worth at least a quarter of that size of either
// outcome. For a shop record cases is its own size (at least 20).
func PriorOf(value float64, kind engine.BasisKind, cases float64) Prior {
	least := kind.SampleSize() // a shop record's is its least
	size := least
	if kind == engine.ShopRecord {
		size = math.Max(least, cases)
	}
	size = math.Max(size, least/4/math.Min(value, 1-value))
	return Prior{size * value, size * (1 - value)}
}

// interval is two quantiles of the Beta with this mean and size.
func interval(mean, size, low, high float64) (lo, hi float64) {
	b := distuv.Beta{Alpha: mean * size, Beta: (1 - mean) * size}
	return b.Quantile(low), b.Quantile(high)
}

func logit(p float64) float64 { return math.Log(p) - math.Log1p(-p) }

// inside keeps a number off 0 and 1, where it could not be learned back.
func inside(p float64) float64 { return math.Min(math.Max(p, 1e-9), 1-1e-9) }
