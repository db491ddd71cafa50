package refine

import (
	"context"
	"errors"
	"math"
	"slices"

	"slipcase/engine/model"
	"slipcase/engine/network"
)

// Score says how well rules foretell what was found from what was reported,
// over cases that they were not learned from.
type Score struct {
	// Log is the mean over cases of the natural logarithm of P(what was found,
	// what was cleared and that no more was noted | reports), up to a constant
	// of the cases: of a joint event, so that looking at a part together with
	// another is not counted twice, and with the silence, because which parts
	// are noted depends on what they are like. Higher is better.
	Log float64
	// Brier is the mean over cases of the sum over modes of
	// (P(mode is found and noted | reports) − fact)²; where silence says
	// nothing, over modes found or cleared of (P(mode | reports) − fact)².
	// Lower is better.
	Brier float64
	// Top1 and Top3 go by probability alone, while a diagnosis puts first what can
	// be behind the complaint: the shares of cases with something found in which a
	// component found failed was the first, or among the first three.
	Top1, Top3 float64
}

// HeldOut compares the rules before and after learning.
type HeldOut struct {
	Cases         int // cases scored
	Culprits      int // of them, with a component found failed
	Folds         int // parts that were held out in turn
	Before, After Score
	// Gain is the mean of the difference in Log, Error its standard error.
	Gain, Error float64
}

// mark is one case's share in a score.
type mark struct {
	log, brier float64
	culprit    bool
	rank       int // of the best component found, from 1; outside from there on
	unusable   bool
}

// folds is the number of parts; allFolds the number of cases up to which each
// is held out in turn. Beyond it one is enough, learning from a spread of the
// others, mostTrained, and asking about a spread of it, mostAsked: with more cases
// the gain would be larger, its error smaller, and the work more than that of the
// proposal itself.
const (
	folds       = 5
	allFolds    = 1000
	mostTrained = 1000
	mostAsked   = 300
)

// heldOut learns without a part of the cases and asks about that part.
func (l *learner) heldOut(ctx context.Context, items []*item) (*HeldOut, error) {
	if l.anchor != nil {
		return l.heldOutOfMany(ctx, items)
	}
	out := &HeldOut{}
	turns := folds
	if len(items) > allFolds {
		turns = 1
	}
	l.joined()
	origin := l.originValues()
	var before, after []mark
	for turn := range turns {
		var train, test []*item
		for _, it := range items {
			if it.fold%folds == uint32(turn) {
				if it.scored {
					test = append(test, it)
				}
			} else {
				train = append(train, it)
			}
		}
		if len(test) == 0 || len(train) == 0 {
			continue
		}
		if turns == 1 {
			train, test = spread(train, mostTrained), spread(test, mostAsked)
			for _, it := range items {
				it.kept = nil
			}
			if err := keepTrees(train, MaxTree); err != nil {
				return nil, err
			}
		}
		out.Folds++
		e, err := l.study(ctx, train, origin, origin, 10*l.opt.Tolerance, [3]string{"held-out", "held-out", "held-out"})
		if err != nil {
			return nil, err
		}
		theta := e.theta
		plain, err := l.accustomed(ctx, train, l.wider(origin), theta)
		if err != nil {
			return nil, err
		}
		b, a, err := l.ask(ctx, test, plain, theta)
		if err != nil {
			return nil, err
		}
		before, after = append(before, b...), append(after, a...)
	}
	return out.compare(before, after), nil
}

// accustomed gives rules that were not learned the shop's detection models, learned with
// them from the same cases, so that a score compares the rules alone: where no rule
// moves, nothing does.
func (l *learner) accustomed(ctx context.Context, train []*item, theta, near []float64) ([]float64, error) {
	held := make([]bool, len(l.params))
	out := slices.Clone(theta)
	for i := range held {
		if held[i] = !l.habitual(i); !held[i] {
			out[i] = near[i]
		}
	}
	same := true
	for i := range held {
		same = same && (!held[i] || theta[i] == near[i])
	}
	if same {
		return near, nil
	}
	if l.rules == l.fixed {
		return out, nil
	}
	out, _, err := l.fit(ctx, "held-out", train, out, held, 1, 10*l.opt.Tolerance)
	return out, err
}

// compare fills in the scores of the same cases under two sets of numbers.
func (out *HeldOut) compare(before, after []mark) *HeldOut {
	var diffs []float64
	for i := range before {
		if before[i].unusable || after[i].unusable {
			before[i].unusable, after[i].unusable = true, true
			continue
		}
		diffs = append(diffs, after[i].log-before[i].log)
	}
	out.Before, out.Cases, out.Culprits = score(before)
	out.After, _, _ = score(after)
	out.Gain, out.Error = meanError(diffs)
	return out
}

func meanError(x []float64) (mean, err float64) {
	if len(x) == 0 {
		return 0, 0
	}
	for _, v := range x {
		mean += v
	}
	n := float64(len(x))
	mean /= n
	if len(x) < 2 {
		return mean, math.Inf(1)
	}
	for _, v := range x {
		err += (v - mean) * (v - mean)
	}
	return mean, math.Sqrt(err / (n - 1) / n)
}

func score(marks []mark) (s Score, cases, culprits int) {
	for _, m := range marks {
		if m.unusable {
			continue
		}
		cases++
		s.Log += m.log
		s.Brier += m.brier
		if m.culprit {
			culprits++
			if m.rank == 1 {
				s.Top1++
			}
			if m.rank <= 3 {
				s.Top3++
			}
		}
	}
	if cases > 0 {
		s.Log /= float64(cases)
		s.Brier /= float64(cases)
	}
	if culprits > 0 {
		s.Top1 /= float64(culprits)
		s.Top3 /= float64(culprits)
	}
	return s, cases, culprits
}

// batch is the number of cases that are asked under both sets of numbers in
// turn: few enough that the solver still has their trees the second time.
const batch = 4 * chunk

// ask scores cases under two sets of numbers.
func (l *learner) ask(ctx context.Context, items []*item, before, after []float64) (b, a []mark, err error) {
	report := Progress{Phase: "held-out", Total: len(items), LogPosterior: math.NaN()}
	for from := 0; from < len(items); from += batch {
		now := items[from:min(from+batch, len(items))]
		for _, b := range l.models { // lets go of the trees of the last batch
			if b.asking, err = b.solver(); err != nil {
				return nil, nil, err
			}
		}
		for _, side := range []struct {
			theta []float64
			to    *[]mark
		}{{before, &b}, {after, &a}} {
			l.set(side.theta)
			err = l.inChunks(ctx, len(now), func(from, to int) (any, error) {
				var part []mark
				for _, it := range now[from:to] {
					part = append(part, l.mark(ctx, it, side.theta))
					if err := errors.Join(ctx.Err(), l.work.over()); err != nil {
						return nil, err
					}
				}
				return part, nil
			}, func(x any) {
				*side.to = append(*side.to, x.([]mark)...)
				report.Done = len(a)
				l.progress(report)
			})
			if err != nil {
				return nil, nil, err
			}
		}
	}
	return b, a, nil
}

// mark scores one case under numbers that are set. A case that cannot be answered exactly is left out on
// both sides.
func (l *learner) mark(ctx context.Context, it *item, theta []float64) mark {
	b := it.b
	asking := b.asking.WithContext(ctx)
	reports := b.heard(it.said(nil, it.reports, theta))
	post, err := asking.SolveSubset(reports, b.m.Modes())
	if err != nil || post.Low != nil {
		return mark{unusable: true}
	}
	ev, said := l.hush(slices.Concat(reports, it.seen), it, false)
	both, err := asking.SolveSubset(ev, nil)
	if err != nil || both.Low != nil {
		return mark{unusable: true}
	}
	l.work.add(post.Method)
	l.work.add(both.Method)
	m := mark{log: both.LogEvidence - post.LogEvidence + said, culprit: len(it.found) > 0}
	noted := l.detections[found].noted(theta)
	for _, n := range b.m.Modes() {
		if noted == 0 && it.silent[n] {
			continue
		}
		forecast := post.P[n]
		if noted > 0 {
			forecast *= noted
		}
		if both.P[n] == 1 && !it.silent[n] { // found
			forecast--
		}
		m.brier += forecast * forecast
	}
	if m.culprit {
		if m.rank, err = b.rank(it, reports, post.P, post.LogEvidence); err != nil {
			return mark{unusable: true}
		}
	}
	return m
}

// heard is what was reported as a diagnosis takes it, under the numbers that are
// set: what is reported not to be there speaks against each fault by itself. It
// is what is foretold with, and makes trees a hundred times smaller.
func (b *binding) heard(said []network.Likelihood) []network.Likelihood {
	pieces := make([]model.Piece, len(said))
	for i, l := range said {
		pieces[i] = model.Piece{Node: l.Node, On: l.On, Off: l.Off}
	}
	return b.m.Over(b.net).Likelihoods(pieces)
}

// standing is a component's probability between two bounds.
type standing struct {
	name    string
	low, up float64
	found   bool
}

// rank is the place of the best component found among all components, up to
// outside, by
// P(failed | reports), ties by name. P lies between the largest of its modes
// and their sum; it is worked out only where that leaves the order open.
func (b *binding) rank(it *item, reports []network.Likelihood, p []float64, logL float64) (int, error) {
	var all []standing
	for i := range b.m.Unit.Components {
		s := standing{name: b.m.Unit.Components[i].Name}
		for _, n := range b.m.ModesOf(s.name) {
			s.low = max(s.low, p[n])
			s.up += p[n]
		}
		s.up = min(s.up, 1)
		s.found = slices.Contains(it.found, s.name)
		all = append(all, s)
	}
	exact := func(s *standing) error {
		if s.low == s.up {
			return nil
		}
		ev := slices.Clone(reports)
		for _, n := range b.m.ModesOf(s.name) {
			if p[n] > 0 {
				ev = append(ev, network.Likelihood{Node: n, Off: 1, Tag: -1})
			}
		}
		off, err := b.asking.SolveSubset(ev, nil)
		if err != nil {
			return err
		}
		v := within(-math.Expm1(off.LogEvidence-logL), 1)
		s.low, s.up = v, v
		return nil
	}
	best := outside
	for i := range all {
		if !all[i].found {
			continue
		}
		// Nothing to work out where three are surely above.
		above := 0
		for j := range all {
			if j != i && all[j].low > all[i].up+tie {
				above++
			}
		}
		if above >= outside-1 {
			continue
		}
		r := 1
		for j := range all {
			if j == i || all[j].up < all[i].low-tie {
				continue
			}
			if all[j].low <= all[i].up+tie {
				if err := exact(&all[i]); err != nil {
					return 0, err
				}
				if all[j].up < all[i].low-tie {
					continue
				}
				if err := exact(&all[j]); err != nil {
					return 0, err
				}
			}
			d := all[j].low - all[i].up
			if d > tie || d >= -tie && all[j].name < all[i].name {
				r++
			}
			if r == outside {
				break
			}
		}
		best = min(best, r)
	}
	return best, nil
}

// outside is the rank of all that are not among the first three.
const outside = 4

// tie is the difference below which two probabilities rank by name.
const tie = 1e-9
