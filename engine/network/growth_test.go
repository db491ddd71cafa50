package network

import (
	"fmt"
	"math/rand/v2"
	"runtime"
	"slices"
	"testing"
	"time"
)

// grown draws a network of so many modes and findings as units of growing size have
// them: 20 root causes and 7 stresses over all, elements of 20 modes with five
// effects each, rows that two or three elements are applied in, one finding in
// twelve that modes of any element bring about. All numbers are invented.
func grown(seed uint64, modes, findings int) *Net {
	rng := rand.New(rand.NewPCG(seed, 77))
	n := &Net{}
	between := func(a, b float64) float64 { return a + (b-a)*rng.Float64() }
	add := func(kind string, leak float64, parents []int, a, b float64) int {
		slices.Sort(parents)
		node := Node{Name: fmt.Sprintf("%s %d", kind, len(n.Nodes)), Leak: leak}
		for _, p := range slices.Compact(parents) {
			node.Links = append(node.Links, Link{p, between(a, b)})
		}
		n.Nodes = append(n.Nodes, node)
		return len(n.Nodes) - 1
	}
	some := func(from []int, k int) (out []int) {
		for range k {
			out = append(out, from[rng.IntN(len(from))])
		}
		return out
	}
	var causes, stresses, all, effects []int
	for range 20 {
		causes = append(causes, add("cause", between(0.01, 0.08), nil, 0, 0))
	}
	for range 7 {
		stresses = append(stresses, add("stress", between(0.01, 0.05), some(causes, 3+rng.IntN(4)), 0.3, 0.9))
	}
	for range modes {
		all = append(all, add("mode", between(0.002, 0.03)*120/float64(modes), some(stresses, rng.IntN(2)+rng.IntN(4)/3), 0.1, 0.6))
	}
	elements := max(1, modes/20)
	for e := range elements {
		own := all[e*20 : (e+1)*20]
		for range 5 {
			effects = append(effects, add("effect", between(0.0005, 0.002), some(own, 3+rng.IntN(3)), 0.4, 0.95))
		}
	}
	for i := range findings {
		var parents []int
		switch {
		case i%12 == 0:
			parents = some(all, 5+rng.IntN(6))
		case i%3 == 0:
			parents = some(all, 1+rng.IntN(2))
		default: // in a row, of its two or three elements
			row := rand.New(rand.NewPCG(seed, uint64(i/24)))
			for range 2 + row.IntN(4)/3 {
				parents = append(parents, effects[row.IntN(elements)*5+i%5])
			}
		}
		add("finding", between(0.002, 0.03), parents, 0.3, 0.95)
	}
	return n
}

// told draws what is reported of a case of a grown network: half of it present, as
// far as there is that much.
func told(rng *rand.Rand, n *Net, findings, count int) []Likelihood {
	on := make([]bool, len(n.Nodes))
	first := len(n.Nodes) - findings
	var present, absent []int
	for i, node := range n.Nodes {
		off := 1 - node.Leak
		for _, k := range node.Links {
			if on[k.Parent] {
				off *= 1 - k.Strength
			}
		}
		if on[i] = rng.Float64() >= off; i >= first && on[i] {
			present = append(present, i)
		} else if i >= first {
			absent = append(absent, i)
		}
	}
	rng.Shuffle(len(present), func(i, j int) { present[i], present[j] = present[j], present[i] })
	rng.Shuffle(len(absent), func(i, j int) { absent[i], absent[j] = absent[j], absent[i] })
	present = present[:min(len(present), count/2)]
	var ev []Likelihood
	for i, node := range append(present, absent[:count-len(present)]...) {
		l := Likelihood{Node: node, On: 0.85, Off: 0.05, Tag: i}
		if i >= len(present) {
			l.On, l.Off = 0.15, 0.95
		}
		ev = append(ev, l)
	}
	return ev
}

// BenchmarkGrowth is a posterior of all modes and causes with 45 reports, on networks
// that grow to 2,000 modes and 5,000 findings, a new structure each time. Every report
// counts in the tree here, absent ones too (a model hands these up to the modes). What
// a tree of 2^21 entries has no room for is left out and counted: there exactness ends.
func BenchmarkGrowth(b *testing.B) {
	for _, size := range [][2]int{{120, 300}, {240, 600}, {500, 1250}, {1000, 2500}, {2000, 5000}} {
		b.Run(fmt.Sprintf("%d-modes-%d-findings", size[0], size[1]), func(b *testing.B) {
			var ms []float64
			var left, cases int
			for b.Loop() {
				for seed := range uint64(12) {
					n := grown(seed, size[0], size[1])
					s, err := NewSolver(n)
					if err != nil {
						b.Fatal(err)
					}
					ev := told(rand.New(rand.NewPCG(seed, 5)), n, size[1], 45)
					start := time.Now()
					kept, out, err := s.Within(ev, nil, 1<<21, nil)
					if err != nil {
						b.Fatal(err)
					}
					if _, err := s.Solve(kept); err != nil {
						b.Fatal(err)
					}
					ms = append(ms, float64(time.Since(start).Microseconds())/1000)
					if cases++; len(out) > 0 {
						left++
					}
				}
			}
			slices.Sort(ms)
			b.ReportMetric(ms[len(ms)/2], "ms-median")
			b.ReportMetric(ms[len(ms)-1], "ms-worst")
			b.ReportMetric(100*float64(left)/float64(cases), "%-past-the-bound")
			var m runtime.MemStats
			runtime.ReadMemStats(&m)
			b.ReportMetric(float64(m.Sys>>20), "MiB-process")
		})
	}
}
