package refine

import (
	"math"
	"testing"

	"slipcase/engine/model"
)

// A rate that goes by duty is learned as the most that duty can make of it; at the
// values of the rules every part has its own again, one set apart too, whose number is
// the rate with its duty.
func TestDutyOfPartsSetApart(t *testing.T) {
	m := small(t)
	m.Knowledge.Modes[0].Duty = true
	node := -1
	for i, n := range m.Nodes {
		if n.Mode == &m.Knowledge.Modes[0] {
			node = i
			m.Duties[i] = 1.4
			m.Net.Nodes[i].Leak *= 1.4
		}
	}
	l, err := newLearner(t.Context(), []*model.Model{m}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	b := l.models[0]
	same := func() {
		t.Helper()
		l.set(l.originValues())
		for i, n := range b.net.Nodes {
			if want := m.Net.Nodes[i].Leak; math.Abs(n.Leak-want) > 1e-12 {
				t.Errorf("%s: leak %v, by the rules %v", n.Name, n.Leak, want)
			}
		}
	}
	same()
	p := b.leak[node]
	rate := l.params[p].number.Value
	l.alone(single{b, node}, p)
	same()
	x := l.params[b.leak[node]]
	if want := 1.4 * rate; math.Abs(x.number.Value-want) > 1e-12 || x.number.Text != "0.14" {
		t.Errorf("the part's own rate is %v (%s), want %v", x.number.Value, x.number.Text, want)
	}
	if got := l.originValues()[b.leak[node]] / x.scale; math.Abs(got-1.4*rate) > 1e-12 {
		t.Errorf("what is proposed of it is read as %v", got)
	}
}
