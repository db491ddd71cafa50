package diagnose_test

import (
	"os"
	"sync"
	"testing"

	"slipcase/engine"
	"slipcase/engine/diagnose"
	"slipcase/engine/model"
	"slipcase/internal/size"
	"slipcase/rules"
)

// modelOf is the model of one unit of the embedded knowledge, built once: nobody
// changes it.
func modelOf(t testing.TB, unit string) *model.Model {
	t.Helper()
	built.mu.Lock()
	defer built.mu.Unlock()
	if m := built.of[unit]; m != nil {
		return m
	}
	k, diags := rules.Load(rules.Options{Layers: []rules.Layer{{Name: "knowledge", FS: os.DirFS("../../knowledge")}}, Unit: unit})
	for _, d := range diags {
		if d.Severity == engine.Error {
			t.Errorf("%v", d)
		}
	}
	u := k.Unit(unit)
	if u == nil {
		t.Fatalf("no unit %s", unit)
	}
	m, err := model.Build(k, u)
	if err != nil {
		t.Fatal(err)
	}
	built.of[unit] = m
	return m
}

var built = struct {
	mu sync.Mutex
	of map[string]*model.Model
}{of: map[string]*model.Model{}}

// Every example of the rule files puts the expected component within its
// first k: of two units, or of one in an ordinary run, where those of every unit are
// tried beside the rules alone.
func TestExamples(t *testing.T) {
	both := []string{"harrow-3", "northfork-4"}
	for _, unit := range size.Of(both[:1], both, both) {
		m := modelOf(t, unit)
		ran := 0
		for _, e := range m.Knowledge.Examples {
			if e.Case.Unit != unit {
				continue
			}
			ran++
			r, diags, err := diagnose.Case(m, &e.Case, diagnose.Options{})
			if err != nil || r == nil {
				t.Errorf("%s: %v %v", e.Name, err, diags)
				continue
			}
			rank := map[string]int{}
			for i, s := range r.Suspects {
				rank[s.Component.Name] = i + 1
			}
			for _, want := range e.Expect {
				within := e.Within
				if within == 0 {
					within = 1
				}
				if rank[want] == 0 || rank[want] > within {
					t.Errorf("%s: %s is rank %d, want within %d", e.Name, want, rank[want], within)
					for i := 0; i < 5; i++ {
						s := r.Suspects[i]
						t.Logf("   %d %-24s %.4f %s", i+1, s.Component.Name, s.P, s.Modes[0].Mode.Name)
					}
				}
			}
		}
		if ran == 0 {
			t.Errorf("%s: no example ran", unit)
		}
		t.Logf("%s: %d nodes, %d modes, %d findings, %d examples", unit, len(m.Nodes), len(m.Modes()), len(m.FindingNames()), ran)
	}
}
