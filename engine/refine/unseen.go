package refine

import (
	"context"
	"fmt"
	"math"
)

// unseen adds to the counts the vehicles that the shop never saw. Rates are
// those of all vehicles on the road; in come those with a complaint, and n of
// them with probability 1 − q stand for n q/(1−q) more without one (Dempster,
// Laird and Rubin 1977, section 4.2: truncated data). Without them all rates
// would come out too high: the faults that bring a vehicle in are commoner
// among those that come in.
//
// A case without a complaint, as of a rebuild on a fixed mileage, says nothing
// about others. It fails with the context's error, and where such vehicles cannot be
// asked about.
func (l *learner) unseen(ctx context.Context, items []*item, theta []float64, total *counts) error {
	if l.opt.AnyVehicle {
		return nil
	}
	came := map[*binding]float64{}
	for _, it := range items {
		if it.came {
			came[it.b]++
		}
	}
	for _, b := range l.models {
		n := came[b]
		if n == 0 {
			continue
		}
		fam, post, err := b.asking.WithContext(ctx).Families(b.quiet)
		if err != nil {
			return fmt.Errorf("refine: vehicles of unit %s without a complaint: %w", b.m.Unit.ID, err)
		}
		q := math.Exp(post.LogEvidence)
		more := n * q / (1 - q)
		b.trials(fam, theta, func(t trial) {
			total.n[t.param] += more * t.occurs
			total.s[t.param] += more * t.success
			missing := more * t.missing(theta[t.param])
			total.lost[t.param] += missing
			if t.leak {
				total.parts[b.first+t.node].add(more*t.occurs, more*(t.success-theta[t.param]*t.occurs), missing)
			}
		})
		total.logL -= n * math.Log1p(-q)
	}
	return nil
}
