package wording_test

import (
	"testing"

	"slipcase/cmd/internal/wording"
	"slipcase/engine"
	"slipcase/engine/refine/rulepath"
)

// A rate of a unit is that of one part or of all parts of a kind.
func TestWordsOfRates(t *testing.T) {
	k := &engine.Knowledge{
		Modes: []engine.Mode{{Name: "band_burnt", Title: "band burnt"}},
		Units: []*engine.Unit{{ID: "paper-3", Components: []engine.Component{{Name: "front_band", Title: "front band"}}}},
	}
	block := func(kind string, labels ...string) rulepath.Block { return rulepath.Block{Type: kind, Labels: labels} }
	for want, blocks := range map[string][]rulepath.Block{
		"band burnt in paper-3: how often":             {block("unit", "paper-3"), block("frequency", "band_burnt")},
		"front band of paper-3, band burnt: how often": {block("unit", "paper-3"), block("component", "front_band"), block("frequency", "band_burnt")},
	} {
		if got := wording.NewNumbers(k).Words(rulepath.Path{Blocks: blocks, Argument: "rate"}); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
