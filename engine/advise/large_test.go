package advise

import (
	"cmp"
	"context"
	"fmt"
	"hash/fnv"
	"os"
	"slices"
	"strings"
	"sync"
	"testing"

	"golang.org/x/sys/unix"

	"slipcase/engine"
	"slipcase/engine/diagnose"
	"slipcase/engine/model"
)

// largeCase is a case of the largest unit with so many reports by the driver, each
// about another finding drawn by name alone, of which a share is reported present.
// No vehicle is like that; it is what a hostile or mistaken import may hold.
func largeCase(m *model.Model, reports int, share float64) *engine.CaseFile {
	names := m.FindingNames()
	order := func(salt, s string) uint64 {
		h := fnv.New64a()
		fmt.Fprint(h, salt, s)
		return h.Sum64()
	}
	names = slices.DeleteFunc(slices.Clone(names), func(s string) bool { return strings.Contains(s, ":") })
	slices.SortFunc(names, func(a, b string) int { return cmp.Compare(order("which", a), order("which", b)) })
	names = names[:min(reports, len(names))]
	slices.SortFunc(names, func(a, b string) int { return cmp.Compare(order("present", a), order("present", b)) })
	c := &engine.CaseFile{Unit: m.Unit.ID}
	for i, n := range names {
		r := engine.Report{Finding: n, By: "driver", State: engine.Absent}
		if float64(i) < share*float64(len(names)) {
			r.State = engine.Present
		}
		c.Reports = append(c.Reports, r)
	}
	return c
}

var largest = sync.OnceValues(func() (*model.Model, error) { return loadModel("four-gearset-8") })

// seconds is the processor time of this process so far.
func seconds() float64 {
	var u unix.Rusage
	if unix.Getrusage(unix.RUSAGE_SELF, &u) != nil {
		return 0
	}
	return float64(u.Utime.Sec+u.Stime.Sec) + float64(u.Utime.Usec+u.Stime.Usec)/1e6
}

// BenchmarkLarge is the processor time of what suspects and next ask of cases of
// hundreds of reports. ONLY narrows it, as 329/0.06.
func BenchmarkLarge(b *testing.B) {
	m, err := largest()
	if err != nil {
		b.Fatal(err)
	}
	a, err := New(m)
	if err != nil {
		b.Fatal(err)
	}
	for _, n := range []int{329, 493} {
		for _, share := range []float64{0.01, 0.06, 0.3, 0.5} {
			name := fmt.Sprint(n, "/", share)
			if only := os.Getenv("ONLY"); only != "" && only != name {
				continue
			}
			c := largeCase(m, n, share)
			b.Run("suspects/"+name, func(b *testing.B) {
				from, near := seconds(), 0
				for b.Loop() {
					own := m.WithContext(context.Background())
					r, _, err := diagnose.Case(own, c, diagnose.Options{Top: 8, Weights: 1})
					if err != nil {
						b.Fatal(err)
					}
					near = len(r.Near)
				}
				b.ReportMetric((seconds()-from)/float64(b.N), "cpu-s/op")
				b.ReportMetric(float64(near), "near")
			})
			b.Run("next/"+name, func(b *testing.B) {
				from, near := seconds(), 0
				for b.Loop() {
					out, err := a.Price(c, Options{Best: 3, Explain: true})
					if err != nil {
						b.Fatal(err)
					}
					near = len(out.Near)
				}
				b.ReportMetric((seconds()-from)/float64(b.N), "cpu-s/op")
				b.ReportMetric(float64(near), "near")
			})
		}
	}
}
