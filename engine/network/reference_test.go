package network

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"
)

// outside is a network with the posteriors of an outside general-purpose
// engine; testdata/networks/reference.mjs names it and makes them.
type outside struct {
	Name  string
	Timed bool
	Nodes []struct {
		Leak  float64
		Links [][2]float64
	}
	Evidence  [][3]float64
	Posterior []float64
}

func references(t testing.TB) []outside {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "networks", "reference.json"))
	if err != nil {
		t.Fatal(err)
	}
	var file struct{ Networks []outside }
	if err := json.Unmarshal(data, &file); err != nil {
		t.Fatal(err)
	}
	if len(file.Networks) < 40 {
		t.Fatalf("only %d reference networks", len(file.Networks))
	}
	return file.Networks
}

func (o *outside) net() (*Net, []Likelihood) {
	n := &Net{}
	for _, x := range o.Nodes {
		node := Node{Leak: x.Leak}
		for _, l := range x.Links {
			node.Links = append(node.Links, Link{int(l[0]), l[1]})
		}
		n.Nodes = append(n.Nodes, node)
	}
	var ev []Likelihood
	for i, e := range o.Evidence {
		ev = append(ev, Likelihood{Node: int(e[0]), On: e[1], Off: e[2], Tag: i})
	}
	return n, ev
}

// The outside engine works in plain float64 and rounds to 15 decimals.
func TestAgainstOutsideEngine(t *testing.T) {
	t.Parallel()
	for _, o := range references(t) {
		n, ev := o.net()
		got, err := mustSolver(t, n).SolveSubset(ev, everyNode(n))
		if err != nil {
			t.Fatalf("%s: %v", o.Name, err)
		}
		for i, p := range got.P {
			if d := p - o.Posterior[i]; d > 1e-10 || d < -1e-10 {
				t.Errorf("%s: P(%d) = %v, outside engine %v", o.Name, i, p, o.Posterior[i])
			}
		}
	}
}

// BenchmarkReference times the networks that "reference.mjs time" times for
// the outside engine; every run builds its tree anew.
func BenchmarkReference(b *testing.B) {
	for _, o := range references(b) {
		if !o.Timed {
			continue
		}
		n, ev := o.net()
		all := everyNode(n)
		b.Run(o.Name, func(b *testing.B) {
			for b.Loop() {
				if _, err := mustSolver(b, n).SolveSubset(ev, all); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
