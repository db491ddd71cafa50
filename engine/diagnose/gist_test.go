package diagnose

import (
	"testing"

	"slipcase/engine"
	"slipcase/engine/model"
	"slipcase/engine/network"
)

// The thresholds of what is said first: the rival from half the leader's
// probability on, the pan from a strength of one half, a root cause from 5%.
func TestGistThresholds(t *testing.T) {
	mode := &engine.Mode{Name: "worn"}
	pump, band := &engine.Component{Name: "pump"}, &engine.Component{Name: "band"}
	cause := &engine.Cause{Name: "low_fluid"}
	for _, x := range []struct {
		name                   string
		second, strength, pc   float64
		rival, inPan, hasCause bool
	}{
		{"all just there", 0.301, 0.5, 0.05, true, true, true},
		{"none quite", 0.3, 0.49, 0.049, false, false, false},
	} {
		t.Run(x.name, func(t *testing.T) {
			m := &model.Model{
				Nodes: []model.Node{
					{Layer: model.ModeLayer, Name: "pump/worn", Component: pump, Mode: mode},
					{Layer: model.ModeLayer, Name: "band/worn", Component: band, Mode: mode},
					{Layer: model.FindingLayer, Name: "bronze_in_pan", Finding: &engine.Finding{Name: "bronze_in_pan", Stage: engine.StagePan}},
				},
				Net: &network.Net{Nodes: []network.Node{{}, {}, {Links: []network.Link{{Parent: 0, Strength: x.strength}}}}},
			}
			r := &Result{
				Suspects: []Suspect{
					{Component: pump, P: 0.6, Modes: []ModeBelief{{0, mode, 0.6}}},
					{Component: band, P: x.second, Modes: []ModeBelief{{1, mode, x.second}}},
				},
				Causes: []CauseBelief{{Cause: cause, P: x.pc}},
			}
			g := gist(m, r)
			if g.Lead.Component != pump || g.Lead.P != 0.6 || (g.Rival != nil) != x.rival || g.InPan != x.inPan || (g.Cause != nil) != x.hasCause || g.Both {
				t.Errorf("%+v", g)
			}
			r.Explanations = []Explanation{{Modes: []int{1, 0}}}
			if g := gist(m, r); g.Both != x.rival {
				t.Errorf("both in one explanation: %+v", g)
			}
		})
	}
}
