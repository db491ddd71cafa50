package order

import (
	"fmt"
	"math/rand/v2"
	"testing"
)

// made builds a seeded problem; numbers invented.
func made(kind string, n int, seed uint64) []Job {
	r := rand.New(rand.NewPCG(1972, seed))
	jobs := make([]Job, n)
	for i := range jobs {
		jobs[i] = Job{Name: fmt.Sprintf("job%04d", i), Minutes: float64(1 + r.IntN(40)), Weight: r.ExpFloat64() / float64(n)}
		switch kind {
		case "out-tree":
			if i > 0 {
				jobs[i].After = []int{r.IntN(i)}
			}
		case "in-tree":
			if i > 0 {
				k := r.IntN(i)
				jobs[k].After = append(jobs[k].After, i)
			}
		case "chain": // the deepest tree, ratios rising towards the end
			jobs[i].Weight = float64(i)
			if i > 0 {
				jobs[i].After = []int{i - 1}
			}
		case "teardown": // a tree with some steps that need a second branch
			if i > 0 {
				jobs[i].After = []int{max(0, i-1-r.IntN(6))}
				if r.IntN(4) == 0 {
					jobs[i].After = append(jobs[i].After, max(0, i-1-r.IntN(12)))
				}
			}
		case "strands": // strands of work side by side, weight at their ends, with cross conditions
			const wide = 5
			if i >= wide {
				jobs[i].After = []int{i - wide}
				if r.IntN(3) == 0 {
					jobs[i].After = append(jobs[i].After, i-wide+1+r.IntN(wide-1))
				}
			}
			if i < n-wide {
				jobs[i].Weight = 0
			}
		case "two layers": // minutes above, weight below, twice as many below: the hard case
			if k := n / 3; i < k {
				jobs[i].Weight = 0
			} else {
				jobs[i].Minutes = 0
				jobs[i].After = []int{r.IntN(k), r.IntN(k)}
			}
		}
	}
	return jobs
}

func BenchmarkTree(b *testing.B) {
	for _, kind := range []string{"out-tree", "in-tree", "chain"} {
		for _, n := range []int{250, 500, 1000, 2000, 16000} {
			b.Run(fmt.Sprintf("%s/%d", kind, n), func(b *testing.B) {
				jobs := made(kind, n, 1)
				b.ReportAllocs()
				for b.Loop() {
					if _, err := Optimal(jobs, Options{}); err != nil {
						b.Fatal(err)
					}
				}
				b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n), "ns/job")
			})
		}
	}
}

func BenchmarkGeneral(b *testing.B) {
	for _, kind := range []string{"teardown", "strands", "two layers"} {
		for _, n := range []int{20, 30, 40, 60, 80, 120, 250, 2000} {
			b.Run(fmt.Sprintf("%s/%d", kind, n), func(b *testing.B) {
				const sets = 8
				var problems [sets][]Job
				for i := range problems {
					problems[i] = made(kind, n, uint64(i))
				}
				b.ReportAllocs()
				exact, calls, gap := 0, 0, 0.0
				for b.Loop() {
					r, err := Optimal(problems[calls%sets], Options{})
					if err != nil {
						b.Fatal(err)
					}
					calls++
					if r.Exact {
						exact++
					}
					gap = max(gap, 1-r.Bound/r.Cost)
				}
				b.ReportMetric(100*float64(exact)/float64(calls), "%exact")
				b.ReportMetric(100*gap, "%gap")
			})
		}
	}
}
