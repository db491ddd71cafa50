package network

import (
	"fmt"
	"math/rand/v2"
	"sort"
	"testing"
	"time"
)

const findings = 190

// layered draws a network of the size of the largest unit: 20 root causes, 7
// stresses, 120 modes, 30 effects, 190 findings (120 in rows, 58 of single
// parts, 12 that many modes share). All numbers are invented.
func layered(seed uint64) *Net {
	rng := rand.New(rand.NewPCG(seed, 99))
	n := &Net{}
	between := func(a, b float64) float64 { return a + (b-a)*rng.Float64() }
	add := func(kind string, leak float64, parents []int, a, b float64) int {
		node := Node{Name: fmt.Sprintf("%s %d", kind, len(n.Nodes)), Leak: leak}
		seen := map[int]bool{}
		for _, p := range parents {
			if !seen[p] {
				seen[p] = true
				node.Links = append(node.Links, Link{p, between(a, b)})
			}
		}
		n.Nodes = append(n.Nodes, node)
		return len(n.Nodes) - 1
	}
	some := func(from []int, k int) []int {
		var out []int
		for range k {
			out = append(out, from[rng.IntN(len(from))])
		}
		return out
	}
	var causes, stresses, modes, effects []int
	for range 20 {
		causes = append(causes, add("cause", between(0.01, 0.08), nil, 0, 0))
	}
	for range 7 {
		stresses = append(stresses, add("stress", between(0.01, 0.05), some(causes, 3+rng.IntN(4)), 0.3, 0.9))
	}
	for i := range 120 {
		var parents []int
		if i >= 10 {
			parents = append(parents, some(stresses, rng.IntN(2)+rng.IntN(4)/3)...)
		}
		if i >= 10 && rng.IntN(16) == 0 {
			parents = append(parents, some(modes, 1)...)
		}
		if rng.IntN(10) == 0 {
			parents = append(parents, some(causes, 1)...)
		}
		modes = append(modes, add("mode", between(0.002, 0.03), parents, 0.1, 0.6))
	}
	// Six elements with five effects each; a mode belongs to one element and
	// has one or two of its effects.
	of := make([][]int, 30)
	for i, m := range modes {
		for range 1 + rng.IntN(4)/3 {
			e := i/20*5 + rng.IntN(5)
			of[e] = append(of[e], m)
		}
	}
	for e := range 30 {
		effects = append(effects, add("effect", between(0.0005, 0.002), of[e], 0.4, 0.95))
	}
	// Eight rows, each with two elements applied, sometimes three.
	rows := make([][]int, 8)
	for r := range rows {
		rows[r] = rng.Perm(6)[:2+rng.IntN(4)/3]
	}
	for i := range findings {
		var parents []int
		switch {
		case i < 120: // one kind of effect in one row
			for _, el := range rows[i%8] {
				parents = append(parents, effects[el*5+i/8%5])
			}
			if rng.IntN(20) == 0 {
				parents = append(parents, some(effects, 1)...)
			}
		case i < 178: // a look at one part
			m := rng.IntN(len(modes))
			parents = append(parents, modes[m])
			if rng.IntN(3) == 0 {
				parents = append(parents, modes[(m+1)%len(modes)])
			}
		default: // the pan, the fluid
			parents = some(modes, 5+rng.IntN(6))
		}
		add("finding", between(0.002, 0.03), parents, 0.3, 0.95)
	}
	return n
}

// sample draws a state of the network in which some finding is on.
func sample(rng *rand.Rand, n *Net) []bool {
	for {
		on := make([]bool, len(n.Nodes))
		count := 0
		for i, node := range n.Nodes {
			off := 1 - node.Leak
			for _, k := range node.Links {
				if on[k.Parent] {
					off *= 1 - k.Strength
				}
			}
			on[i] = rng.Float64() >= off
			if on[i] && i >= len(n.Nodes)-findings {
				count++
			}
		}
		if count >= 6 {
			return on
		}
	}
}

// reports draws soft reports of a sampled case, half of them on findings that
// are present as far as there are that many.
func reports(rng *rand.Rand, n *Net, count int) []Likelihood {
	on := sample(rng, n)
	first := len(n.Nodes) - findings
	pick := rng.Perm(findings)
	sort.SliceStable(pick, func(i, j int) bool { return on[first+pick[i]] && !on[first+pick[j]] })
	present := 0
	for present < findings && on[first+pick[present]] {
		present++
	}
	half := min(present, count/2)
	chosen := append(append([]int(nil), pick[:half]...), pick[present:present+count-half]...)
	var ev []Likelihood
	for t, f := range chosen {
		hit, false_ := 0.75+0.24*rng.Float64(), 0.01+0.14*rng.Float64()
		l := Likelihood{Node: first + f, On: hit, Off: false_, Tag: t}
		if on[first+f] != (rng.Float64() < 0.95) {
			l.On, l.Off = 1-hit, 1-false_
		}
		ev = append(ev, l)
	}
	return ev
}

func BenchmarkSolve(b *testing.B) {
	for _, count := range []int{10, 20, 30, 45} {
		for _, cached := range []bool{false, true} {
			b.Run(fmt.Sprintf("reports=%d/cached=%v", count, cached), func(b *testing.B) {
				var took []float64
				var width []float64
				precise := 0
				rng := rand.New(rand.NewPCG(7, 7))
				i := 0
				for b.Loop() {
					b.StopTimer()
					n := layered(uint64(i % 10))
					s := mustSolver(b, n)
					ev := reports(rng, n, count)
					if cached {
						if _, err := s.Solve(ev); err != nil {
							b.Fatal(err)
						}
					}
					b.StartTimer()
					t := time.Now()
					p, err := s.Solve(ev)
					if err != nil {
						b.Fatal(err)
					}
					took = append(took, float64(time.Since(t).Microseconds())/1000)
					width = append(width, float64(p.Method.Width))
					if p.Method.Precision > 53 {
						precise++
					}
					i++
				}
				sort.Float64s(took)
				sort.Float64s(width)
				at := func(v []float64, q float64) float64 { return v[int(q*float64(len(v)-1))] }
				b.ReportMetric(at(took, 0.5), "median-ms")
				b.ReportMetric(at(took, 0.95), "p95-ms")
				b.ReportMetric(at(width, 0.5), "median-width")
				b.ReportMetric(at(width, 1), "max-width")
				b.ReportMetric(float64(precise)/float64(len(took)), "higher-precision")
			})
		}
	}
}
