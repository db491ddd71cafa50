package model

import (
	"testing"

	"slipcase/engine"
)

// Everything serves the unit; that alone joins no two parts.
func TestShare(t *testing.T) {
	m := &Model{Unit: &engine.Unit{Circuits: []engine.Circuit{{Name: "forward_feed", Feeds: []string{"forward"}}}}}
	part := func(kind engine.TargetKind, name string) *engine.Component {
		return &engine.Component{Name: name, Serves: []engine.Target{{Kind: kind, Name: name}}}
	}
	unit, other := part(engine.OnUnit, ""), part(engine.OnUnit, "")
	forward, piston, direct := part(engine.OnElement, "forward"), part(engine.OnElement, "forward"), part(engine.OnElement, "direct")
	feed := part(engine.OnCircuit, "forward_feed")
	for _, x := range []struct {
		name string
		a, b *engine.Component
		want bool
	}{
		{"two of the unit", unit, other, false},
		{"two of one element", forward, piston, true},
		{"two elements", forward, direct, false},
		{"an element and its circuit", forward, feed, true},
		{"a circuit and its element", feed, forward, true},
		{"a circuit and another element", feed, direct, false},
		{"a part and itself", forward, forward, false},
	} {
		if got := m.Share(x.a, x.b); got != x.want {
			t.Errorf("%s: %v, want %v", x.name, got, x.want)
		}
	}
}
