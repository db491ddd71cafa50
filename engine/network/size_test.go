package network

import (
	"math"
	"math/big"
	"math/rand/v2"
	"testing"
)

// Where nothing cancels, the error that is told is a few roundings a clique, and
// neither less than one nor hundreds: a chain, of which the error is known.
func TestToldErrorOfAChain(t *testing.T) {
	for _, length := range []int{4, 12, 40} {
		n := &Net{}
		for i := range length {
			node := Node{Leak: 0.1}
			if i > 0 {
				node.Links = []Link{{Parent: i - 1, Strength: 0.5}}
			}
			n.Nodes = append(n.Nodes, node)
		}
		for _, ev := range [][]Likelihood{nil, {{Node: length - 1, On: 0.9, Off: 0.1}}} {
			got, err := mustSolver(t, n).Solve(ev)
			if err != nil {
				t.Fatal(err)
			}
			// What is on, off and read of each clique rounds once at least and
			// some ten times at most (see rounding).
			cliques := float64(got.Method.Cliques)
			if e := got.Method.Error / eps; e < cliques || e > 16*(cliques+2) {
				t.Errorf("%d nodes, %d reports: an error of %g roundings is told for %g cliques", length, len(ev), e, cliques)
			}
		}
	}
}

// What one operation of double-double loses is held by ddEps, which is no more
// than 32 times (five bits) what is seen to be lost.
func TestEpsOfDoubleDouble(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 14))
	exact := func(a dd) *big.Float {
		f := new(big.Float).SetPrec(400).SetFloat64(a.hi)
		return f.Add(f, new(big.Float).SetPrec(400).SetFloat64(a.lo))
	}
	draw := func() dd { // a number of full length
		a := dd{hi: rng.Float64() - 0.5}
		return a.plus(dd{hi: a.hi * 0x1p-53 * (rng.Float64() - 0.5)})
	}
	worst := 0.0
	for range 200000 {
		a, b := draw(), draw()
		for what, x := range map[string]struct {
			got  dd
			want *big.Float
		}{
			"product": {a.times(b), new(big.Float).SetPrec(400).Mul(exact(a), exact(b))},
			"sum":     {a.plus(b), new(big.Float).SetPrec(400).Add(exact(a), exact(b))},
		} {
			off, _ := new(big.Float).Sub(exact(x.got), x.want).Float64()
			size, _ := x.want.Float64()
			if e := math.Abs(off / size); e > ddEps {
				t.Fatalf("%s of %v and %v is off by 2^%.1f", what, a, b, math.Log2(e))
			} else {
				worst = max(worst, e)
			}
		}
	}
	if worst < ddEps/32 {
		t.Errorf("2^%.1f is the most that was lost, and ddEps is 2^%.1f", math.Log2(worst), math.Log2(ddEps))
	}
}
