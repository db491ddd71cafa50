package check

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"pgregory.net/rapid"

	"slipcase/knowledge"
	"slipcase/rules"
)

// The built-in rules keep causes apart from modes by stresses.
func TestBuiltInWidth(t *testing.T) {
	k, _ := rules.Load(rules.Options{Layers: []rules.Layer{{Name: "built in", FS: knowledge.FS}}, NoExamples: true})
	r := newRun(k, Options{})
	widest := 0
	for _, u := range k.Units {
		sources, modes := r.bipartite(u)
		n, causes, _ := core(sources, modes)
		t.Logf("%s: %d of %d sources: %v", u.ID, n, len(sources), causes)
		widest = max(widest, n)
	}
	if widest > 2 {
		t.Errorf("%d are tied; the comment of mostTied says 2", widest)
	}
}

// What is predicted to be too wide is named, and only that.
func TestWide(t *testing.T) {
	t.Parallel()
	for _, x := range []struct {
		causes int
		wide   bool
	}{{mostTied, false}, {mostTied + 1, true}} {
		var b strings.Builder
		b.WriteString("language = 1\nbasis \"invented\" {\n  note = \"test\"\n}\n")
		for i := range x.causes {
			fmt.Fprintf(&b, "cause \"tangled_%d\" {\n  title = \"cause %d\"\n  frequency = 0.02\n  advice = \"none\"\n}\n", i, i)
		}
		for j := range 20 {
			fmt.Fprintf(&b, "mode \"tangled_mode_%d\" {\n  of = [\"friction_pack\"]\n  title = \"mode %d\"\n  frequency = 0.01\n", j, j)
			for i := range x.causes {
				fmt.Fprintf(&b, "  because \"tangled_%d\" {\n    strength = 0.3\n  }\n", i)
			}
			b.WriteString("}\n")
		}
		shop := fstest.MapFS{"rules/tangled.hcl": {Data: []byte(b.String())}}
		k, _ := rules.Load(rules.Options{Layers: []rules.Layer{{Name: "built in", FS: knowledge.FS}, {Name: "shop", FS: shop}}, NoExamples: true})
		if got := Wide(k); got["northfork-4"] != x.wide || (len(got) > 0) != x.wide {
			t.Errorf("%d causes: %v, want %v", x.causes, got, x.wide)
		}
	}
}

// core against its definition, by trying all sets of sources.
func TestCoreAgainstEnumeration(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, modes := rapid.IntRange(1, 5).Draw(t, "sources"), rapid.IntRange(1, 6).Draw(t, "modes")
		sources := map[string][]int{}
		for i := range n {
			for m := range modes {
				if rapid.Bool().Draw(t, "edge") {
					name := fmt.Sprint("s", i)
					sources[name] = append(sources[name], m)
				}
			}
		}
		got, _, _ := core(sources, modes)
		if want := coreByTrying(sources, modes); got != want {
			t.Errorf("%v: %d, want %d", sources, got, want)
		}
	})
}

// coreByTrying is the largest least degree of any part of the graph.
func coreByTrying(sources map[string][]int, modes int) int {
	list := sorted(sources)
	best := 0
	for a := 1; a < 1<<len(list); a++ {
		for b := 1; b < 1<<modes; b++ {
			least := -1
			degree := make([]int, modes)
			for i, s := range list {
				if a>>i&1 == 0 {
					continue
				}
				d := 0
				for _, m := range sources[s] {
					if b>>m&1 == 1 {
						d++
						degree[m]++
					}
				}
				if least < 0 || d < least {
					least = d
				}
			}
			for m, d := range degree {
				if b>>m&1 == 1 && d < least {
					least = d
				}
			}
			best = max(best, least)
		}
	}
	return best
}
