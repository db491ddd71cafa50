package diagnose

import (
	"math"
	"math/rand/v2"
	"sync"

	"slipcase/engine"
	"slipcase/engine/model"
)

// Firmness tells how the leader fares when every number of the rules is off.
type Firmness struct {
	Tries int     // draws of all numbers, each off by up to a factor of two; 0 where that is too much work
	Stays int     // of them, with the same leader
	Worst float64 // the lowest probability of the leader among them
}

// Firm tells whether the leader counts as firm.
func (f Firmness) Firm() bool { return f.Tries > 0 && float64(f.Stays) >= firm*float64(f.Tries) }

// tries is the number of draws, off the factor and firm the share of draws in
// which a suspect has to keep its place (all three our own choice: at 32 draws
// the share is known to some five percent).
const (
	tries = 32
	off   = 2.0
	firm  = 0.9
	rough = 1e-3 // error of a probability that does for comparing them
)

// tooMuch is the size of a tree, in table entries, beyond which nothing is
// tried: half a second of two cores goes into the tries just below it.
const tooMuch = 1 << 20

// Perturbation multiplies every number of the rules by a factor of its own,
// drawn between 1/f and f on the logarithmic scale; a number past one half
// moves on the scale of what it lacks to one.
func Perturbation(f float64, seed, sequence uint64) func(engine.Number) float64 {
	rng := rand.New(rand.NewPCG(seed, sequence))
	factor := map[engine.Range]float64{}
	return func(n engine.Number) float64 {
		x, ok := factor[n.At]
		if !ok {
			x = math.Exp((2*rng.Float64() - 1) * math.Log(f))
			factor[n.At] = x
		}
		// A strength stays a probability: it moves on the scale of odds once
		// it is past one half.
		if n.Value > 0.5 {
			return 1 - math.Min(0.5, (1-n.Value)/x)
		}
		return math.Min(0.5, n.Value*x)
	}
}

// doubt asks of the first n suspects whether they keep their place, nothing
// that stands behind them coming before them, in enough draws of all numbers.
// Components are compared by the sums of their modes, which bound them.
func doubt(m *model.Model, r *Result, pieces []model.Piece, n int) error {
	n = min(n, len(r.Suspects))
	if n == 0 {
		return nil
	}
	r.Firmness = &Firmness{}
	if r.Method.TableSize > tooMuch {
		return nil
	}
	want := m.Modes()
	keeps := make([][]bool, tries)
	worst := make([]float64, tries)
	errs := make([]error, tries)
	try := func(i int) error {
		other, err := m.WithNumbers(Perturbation(off, 1, uint64(i)))
		if err != nil {
			return err
		}
		post, err := other.Solver().Rough(rough).SolveSubset(other.Likelihoods(pieces), want)
		if err != nil {
			return err
		}
		sums := make([]float64, len(r.Suspects))
		for k, s := range r.Suspects {
			for _, b := range s.Modes {
				sums[k] += post.P[b.Node]
			}
		}
		worst[i] = math.Min(sums[0], 1)
		// The highest of those behind, from the back; what cannot explain the
		// complaint never comes before what can.
		behind := 0.0
		keeps[i] = make([]bool, len(sums))
		for k := len(sums) - 1; k >= 0; k-- {
			if k+1 < len(sums) && r.Suspects[k].Explains != r.Suspects[k+1].Explains {
				behind = 0
			}
			keeps[i][k] = sums[k] >= behind
			behind = math.Max(behind, sums[k])
		}
		return nil
	}
	var wg sync.WaitGroup
	for half := range 2 { // both cores; each draw is its own, so nothing depends on who made it
		wg.Go(func() {
			for i := half; i < tries; i += 2 {
				if errs[i] = try(i); errs[i] != nil {
					return
				}
			}
		})
	}
	wg.Wait()
	*r.Firmness = Firmness{Tries: tries, Worst: 1}
	for i := range tries {
		if errs[i] != nil {
			return errs[i]
		}
		if keeps[i][0] {
			r.Firmness.Stays++
		}
		r.Firmness.Worst = math.Min(r.Firmness.Worst, worst[i])
	}
	for k := range n {
		kept := 0
		for i := range tries {
			if keeps[i][k] {
				kept++
			}
		}
		stands := float64(kept) >= firm*tries
		r.Suspects[k].Stands = &stands
	}
	return nil
}
