package network

import (
	"math"
	"math/rand/v2"
	"testing"

	"slipcase/internal/size"
)

// rareNet draws a network of rare modes whose findings are reported all but
// surely: rates of 1e-5 and below, false alarms of 1e-3 and below. Almost all
// of what float64 adds up there cancels, much of it within a single clique.
func rareNet(rng *rand.Rand) (*Net, []Likelihood) {
	n := &Net{}
	small := func(from, to float64) float64 { return math.Pow(10, -from-(to-from)*rng.Float64()) }
	modes, findings := 2+rng.IntN(4), 2+rng.IntN(4)
	rarest := 7 + 2*float64(rng.IntN(2))
	for range modes {
		n.Nodes = append(n.Nodes, Node{Leak: small(5, rarest)})
	}
	leaks := rng.IntN(2) == 0
	var ev []Likelihood
	for f := range findings {
		x := Node{}
		if leaks {
			x.Leak = small(3, 5)
		}
		for i := range modes {
			if rng.IntN(3) > 0 {
				x.Links = append(x.Links, Link{i, 0.1 + 0.9*rng.Float64()})
			}
		}
		n.Nodes = append(n.Nodes, x)
		ev = append(ev, Likelihood{Node: modes + f, On: 1, Off: small(3, 8), Tag: f})
	}
	return n, ev
}

// Digits that cancel within one clique are noticed: no answer on a hostile
// network is off by more than what is granted.
func TestHostileNetworks(t *testing.T) {
	t.Parallel()
	cases := size.Of(2000, 6000, 100_000)
	rng := rand.New(rand.NewPCG(100, 5))
	wrong, worst := 0, 0.0
	for range cases {
		n, ev := rareNet(rng)
		got, err := mustSolver(t, n).SolveSubset(ev, everyNode(n))
		if err != nil {
			t.Fatal(err)
		}
		z, on := positive(n, ev)
		for i := range on {
			if want := on[i] / z; !granted(got.P[i], want) {
				wrong++
				worst = math.Max(worst, math.Abs(got.P[i]-want))
				break
			}
		}
	}
	if wrong > 0 {
		t.Errorf("%d of %d networks are off, by up to %.1e", wrong, cases, worst)
	}
}
