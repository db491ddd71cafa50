package interview

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"slipcase/engine"
	"slipcase/engine/advise"
)

// However a question is passed over, the case stays as it was, to the last
// digit of every probability.
func TestSilenceMovesNothing(t *testing.T) {
	adviser := map[uint64]*advise.Adviser{}
	for seed := range uint64(4) {
		adviser[seed] = asking(t, seed)
	}
	rapid.Check(t, func(t *rapid.T) {
		a := adviser[rapid.Uint64Range(0, 3).Draw(t, "unit")]
		c := &engine.CaseFile{Reports: []engine.Report{{Finding: "f0", State: engine.Present, By: "driver"}}}
		belief := func(c *engine.CaseFile) []float64 {
			pieces, diags := a.Model.Evidence(c)
			if len(diags) > 0 {
				t.Fatal(diags)
			}
			p, err := a.Model.Solve(pieces)
			if err != nil {
				t.Fatal(err)
			}
			return p.P
		}
		iv := New(a, c, State{}, advise.Options{})
		put := 0
		for {
			q, stop, err := iv.Next()
			if err != nil {
				t.Fatal(err)
			}
			if stop != nil {
				break
			}
			put++
			switch rapid.IntRange(0, 3).Draw(t, "silence") {
			case 0:
				_, err = iv.Answer(Reply{})
			case 1:
				_, err = iv.Skip()
			case 2:
				_, err = iv.Choose()
			case 3:
				// Said, then taken back.
				if _, err = iv.Answer(Reply{Present: []string{q.Options[0].Finding}, Rest: engine.Absent}); err == nil {
					iv.Back()
					_, err = iv.Skip()
				}
			}
			if err != nil {
				t.Fatal(err)
			}
		}
		if put == 0 {
			t.Skip("nothing was worth asking")
		}
		if d := cmp.Diff(belief(c), belief(iv.Case())); d != "" {
			t.Fatalf("after %d questions without an answer:\n%s", put, d)
		}
	})
}
