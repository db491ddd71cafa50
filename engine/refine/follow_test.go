package refine

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// The step by conjugate gradients is the one that gonum solves for, and the lowest
// eigenvalue is gonum's, where numbers share at random and some are held.
func TestScoringIsTheSolution(t *testing.T) {
	rng := rand.New(rand.NewPCG(13, 7))
	for range 20 {
		const k = 40
		l := &learner{anchor: &anchor{at: make([]float64, k), with: make([][]pull, k)}}
		theta, score, info, root := make([]float64, k), make([]float64, k), make([]float64, k), make([]float64, k)
		for i := range k {
			l.anchor.at[i] = 0.05 + 0.9*rng.Float64()
			theta[i] = l.anchor.at[i]
			info[i] = 5 * (1 + rng.Float64())
			score[i] = rng.NormFloat64()
			root[i] = math.Sqrt(info[i])
		}
		all := mat.NewSymDense(k, nil)
		h := mat.NewSymDense(k, nil)
		for i := range k {
			h.SetSym(i, i, info[i])
			for j := range i {
				if rng.Float64() < 0.9 {
					continue
				}
				by := 0.8 * rng.NormFloat64()
				l.anchor.with[i] = append(l.anchor.with[i], pull{j, by})
				l.anchor.with[j] = append(l.anchor.with[j], pull{i, by})
				all.SetSym(i, j, -by/(root[i]*root[j]))
				h.SetSym(i, j, -by)
			}
		}
		var eigen mat.EigenSym
		if !eigen.Factorize(all, false) {
			t.Fatal("no eigenvalues")
		}
		want := eigen.Values(nil)[0]
		low, err := lowest(t.Context(), l.anchor.with, root)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(low-want) > 0.01 {
			t.Errorf("lowest eigenvalue %v, want %v", low, want)
		}
		if want < -0.95 {
			continue // not positive definite
		}
		held := rng.IntN(k)
		info[held], score[held] = 0, 0
		for i := range k {
			if i != held {
				h.SetSym(i, held, 0)
			}
		}
		h.SetSym(held, held, 1)
		var chol mat.Cholesky
		var x mat.VecDense
		if !chol.Factorize(h) {
			continue
		}
		if err := chol.SolveVecTo(&x, mat.NewVecDense(k, score)); err != nil {
			t.Fatal(err)
		}
		got, err := l.scoring(t.Context(), theta, score, info)
		if err != nil {
			t.Fatal(err)
		}
		for i := range k {
			if want := math.Max(-leap, math.Min(leap, x.AtVec(i))); math.Abs(got[i]-want) > 0.01 {
				t.Errorf("step %d: %v, want %v", i, got[i], want)
			}
		}
	}
}
