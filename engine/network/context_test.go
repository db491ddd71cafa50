package network

import (
	"context"
	"errors"
	"math/rand/v2"
	"slipcase/engine/internal/patience"
	"testing"
)

// Whenever the context ends, a question fails with its error or has the whole
// answer; half an answer never comes out.
func TestContextEnds(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(4, 8))
	easy := randomNet(rng, 14, false)
	report := randomEvidence(rng, easy, 10, false)
	hard, sure := hostile(1e-25) // goes through all precisions
	for _, c := range []struct {
		n  *Net
		ev []Likelihood
	}{{easy, report}, {hard, sure}} {
		s := mustSolver(t, c.n)
		all := everyNode(c.n)
		sets := [][]Hard{{{0, true}}, {{1, false}, {2, true}}}
		ask := func(s *Solver) (out [][]float64, err error) {
			post, err := s.SolveSubset(c.ev, all)
			if err != nil {
				return nil, err
			}
			p, err := s.Chances(c.ev, sets)
			if err != nil {
				return nil, err
			}
			g, err := s.Incremental(c.ev, all, all)
			if err != nil {
				return nil, err
			}
			more, err := g.With([]Likelihood{{Node: 1, On: 0.3, Off: 0.7}})
			if err != nil {
				return nil, err
			}
			return [][]float64{post.P, p, more.P}, nil
		}
		want, err := ask(s)
		if err != nil {
			t.Fatal(err)
		}
		ended, whole := 0, 0
		for after := int64(0); whole == 0; after += 1 + after/8 {
			ctx := patience.New(after)
			got, err := ask(s.WithContext(ctx))
			if err != nil {
				if err != context.Canceled {
					t.Fatalf("after %d looks: %v", after, err)
				}
				ended++
				continue
			}
			whole++
			for i := range want {
				for j, p := range want[i] {
					if !granted(got[i][j], p) {
						t.Errorf("after %d looks: %v, want %v", after, got[i][j], p)
					}
				}
			}
		}
		if ended < 10 {
			t.Errorf("only %d of the questions were ended", ended)
		}
	}
}

// What needs higher precision is refused where a pass of it costs more than is
// allowed, and what does not is answered.
func TestShallow(t *testing.T) {
	t.Parallel()
	hard, sure := hostile(1e-25)
	s := mustSolver(t, hard)
	if _, err := s.Shallow(1).Solve(sure); !errors.Is(err, ErrDeep) {
		t.Errorf("many digits: %v, want ErrDeep", err)
	}
	want, err := s.Solve(sure)
	if err != nil {
		t.Fatal(err)
	}
	got, err := s.Shallow(bigCost * want.Method.TableSize).Solve(sure)
	if err != nil || got.P[0] != want.P[0] {
		t.Errorf("with room for the digits: %v, %v", got, err)
	}
	rng := rand.New(rand.NewPCG(4, 8))
	easy := randomNet(rng, 14, false)
	if _, err := mustSolver(t, easy).Shallow(1).Solve(randomEvidence(rng, easy, 10, false)); err != nil {
		t.Errorf("few digits: %v", err)
	}
}
