package trial

import (
	"math"
	"math/rand/v2"
	"slices"
)

// Calibration compares what was said with how often it was right. Intervals hold
// 95% of what chance does.
type Calibration struct {
	Said  int     // suspects
	Error float64 // mean distance, over ten bins of the probability, between said and right
	// Low and High are its interval, over vehicles drawn again from those played.
	Low, High float64
	// Chance is the error that a perfect model shows over as many: in the mean, and
	// in 95 of 100 at most.
	Chance, ChanceHigh float64
	Brier              float64 // mean squared error
	Bins               []Bin   // ten, empty ones too
}

// Bin is one bin of the probability.
type Bin struct {
	Low, High float64 // of the probability
	Said      int     // suspects
	Mean      float64 // mean probability
	Right     float64 // share that was right
	// From and To are the interval of Right (Wilson's).
	From, To float64
}

const bins = 10

// again is how many times vehicles are drawn again for an interval.
const again = 500

// calibrate compares; list holds what was said of each vehicle, which is drawn
// again as a whole.
func calibrate(list [][]Said, seed uint64) Calibration {
	var c Calibration
	var t tally
	for _, x := range list {
		t.add(x)
		for _, s := range x {
			c.Brier += (s.P - right(s)) * (s.P - right(s))
		}
	}
	for i, b := range t {
		out := Bin{Low: float64(i) / bins, High: float64(i+1) / bins, Said: int(b.n)}
		if b.n > 0 {
			out.Mean, out.Right = b.said/b.n, b.right/b.n
			out.From, out.To = wilson(b.right, b.n)
		}
		c.Said += out.Said
		c.Bins = append(c.Bins, out)
	}
	if c.Said == 0 {
		return c
	}
	c.Brier /= float64(c.Said)
	c.Error = t.error()
	rng := rand.New(rand.NewPCG(seed, 0xCA11B8A7E))
	var other, perfect []float64
	for range again {
		var a, b tally
		for range list {
			a.add(list[rng.IntN(len(list))])
		}
		for _, x := range list {
			for _, s := range x {
				b.add([]Said{{s.P, rng.Float64() < s.P}})
			}
		}
		other, perfect = append(other, a.error()), append(perfect, b.error())
		c.Chance += b.error() / again
	}
	slices.Sort(other)
	slices.Sort(perfect)
	mean := 0.0
	for _, x := range other {
		mean += x / again
	}
	// What is drawn again shows more error than what it is drawn from: only the
	// spread about the mean is taken.
	c.Low, c.High = max(0, c.Error-mean+other[again*25/1000]), c.Error-mean+other[again*975/1000]
	c.ChanceHigh = perfect[again*95/100]
	return c
}

// Pool is the calibration of several trials together, of the first suspect and of
// all that are shown, at the last moment that each has. Over more vehicles chance
// alone shows less error, so that less can be told from it.
func Pool(seed uint64, reports ...*Report) (leader, shown Calibration) {
	var lead, show [][]Said
	for _, r := range reports {
		if len(r.said) == 0 {
			continue
		}
		for _, said := range r.said[len(r.said)-1] {
			lead, show = append(lead, said[:min(1, len(said))]), append(show, said)
		}
	}
	return calibrate(lead, seed), calibrate(show, seed)
}

// tally holds the sums of each bin.
type tally [bins]struct{ n, said, right float64 }

func right(s Said) float64 {
	if s.Right {
		return 1
	}
	return 0
}

func (t *tally) add(list []Said) {
	for _, s := range list {
		b := &t[min(bins-1, int(s.P*bins))]
		b.n++
		b.said += s.P
		b.right += right(s)
	}
}

func (t *tally) error() float64 {
	var n, e float64
	for _, b := range t {
		n += b.n
		e += math.Abs(b.said - b.right)
	}
	return e / max(n, 1)
}

// wilson is the 95% interval of a share.
func wilson(k, n float64) (from, to float64) {
	const z = 1.959963984540054
	p := k / n
	mid := (p + z*z/(2*n)) / (1 + z*z/n)
	half := z / (1 + z*z/n) * math.Sqrt(p*(1-p)/n+z*z/(4*n*n))
	return max(0, mid-half), min(1, mid+half)
}
