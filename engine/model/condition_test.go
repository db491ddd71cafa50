package model_test

import (
	"math"
	"testing"

	"slipcase/engine/model"
)

// What is certain in any condition and certain in one leaves nothing for that one
// to add: no strength that is not a number.
func TestCertainInAnyCondition(t *testing.T) {
	k, u := knowledgeOf(t, "northfork-4")
	done := false
	for i := range k.Modes {
		for j, l := range k.Modes[i].Shows {
			if l.When == "" || done {
				continue
			}
			l.Strength.Value = 1
			always := l
			always.When = ""
			k.Modes[i].Shows[j] = l
			k.Modes[i].Shows = append(k.Modes[i].Shows, always)
			done = true
		}
	}
	if !done {
		t.Fatal("nothing shows in one condition only")
	}
	m, err := model.Build(k, u)
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range m.Net.Nodes {
		for _, l := range n.Links {
			if math.IsNaN(l.Strength) {
				t.Fatalf("%s: strength %v", n.Name, l.Strength)
			}
		}
	}
}
