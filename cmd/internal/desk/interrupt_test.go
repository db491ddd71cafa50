//go:build unix

package desk

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"slipcase/cmd/internal/desk/asking"
	"slipcase/cmd/internal/desk/learning"
	"slipcase/cmd/internal/desk/practice"
)

// spent is the processor time of this process, all threads together.
func spent() time.Duration {
	var r syscall.Rusage
	syscall.Getrusage(syscall.RUSAGE_SELF, &r)
	return time.Duration(r.Utime.Nano() + r.Stime.Nano())
}

// slowCase writes a case of the largest unit with a report of every finding that
// is listed, every other one present.
func slowCase(b *testing.B, d *Desk) asking.CaseRef {
	b.Helper()
	names, err := d.Names(context.Background(), "findings", "four-gearset-8")
	if err != nil {
		b.Fatal(err)
	}
	var said [2][]string
	for i, n := range names.Data.Names {
		said[i%2] = append(said[i%2], fmt.Sprintf("%q", n.Name))
	}
	file := filepath.Join(b.TempDir(), "slow.hcl")
	src := fmt.Sprintf("language = 1\n\ncase \"slow\" {\n  title = \"Slow\"\n  unit  = \"four-gearset-8\"\n  reports \"driver\" {\n    present = [%s]\n    absent  = [%s]\n  }\n}\n",
		strings.Join(said[0], ", "), strings.Join(said[1], ", "))
	if err := os.WriteFile(file, []byte(src), 0o600); err != nil {
		b.Fatal(err)
	}
	return asking.CaseRef{File: file}
}

// manyCases is an export of so many cases, invented, with the same few jobs again
// and again.
func manyCases(n int) []byte {
	var out bytes.Buffer
	fmt.Fprintf(&out, `{"kind":"casebook","format":1,"cases":%d,"entries":%d}`+"\n", n, 6*n)
	for i := range n {
		id := fmt.Sprintf("26-%04d", i+1)
		fmt.Fprintf(&out, `{"kind":"case","id":%q,"unit":"northfork-4","title":"Slips","at":"2026-01-02T08:00:00Z"}`+"\n", id)
		state := []string{"present", "absent"}
		for j, body := range []string{
			fmt.Sprintf(`"report","body":{"finding":"slips@D/4","state":%q,"by":"driver"}`, state[i%2]),
			fmt.Sprintf(`"report","body":{"finding":"slips@D/3","state":%q,"by":"driver"}`, state[i/2%2]),
			fmt.Sprintf(`"report","body":{"finding":"no_engine_braking@2/2","state":%q,"by":"road_test"}`, state[i/4%2]),
			`"seen","body":{"component":"overdrive_servo","mode":"servo_seal_cut"}`,
			fmt.Sprintf(`"settled_cause","body":{"cause":"neglected_fluid","present":%v}`, i%3 == 0),
			`"close","body":{"outcome":"fixed"}`,
		} {
			kind, rest, _ := strings.Cut(body, ",")
			fmt.Fprintf(&out, `{"kind":%s,"case":%q,"seq":%d,%s}`+"\n", kind, id, j+1, rest)
		}
	}
	return out.Bytes()
}

// BenchmarkInterrupt is how much processor time use cases still take once their
// context has ended, at moments drawn by chance: a face can answer after that.
// It counts all threads, so two that work side by side count twice.
func BenchmarkInterrupt(b *testing.B) {
	d := New(Options{Home: b.TempDir()})
	slow := slowCase(b, d)
	many := New(Options{Home: b.TempDir()})
	if _, err := many.Import(context.Background(), "many", bytes.NewReader(manyCases(60))); err != nil {
		b.Fatal(err)
	}
	large := New(Options{Home: b.TempDir()})
	if _, err := large.Import(context.Background(), "many", bytes.NewReader(manyCases(2000))); err != nil {
		b.Fatal(err)
	}
	for _, x := range []struct {
		what string
		do   func(context.Context) error
	}{
		{"suspects", func(ctx context.Context) error { _, err := d.Suspects(ctx, slow, 10); return err }},
		{"suspects --full", func(ctx context.Context) error { _, err := d.SuspectsTried(ctx, slow, 10); return err }},
		{"next", func(ctx context.Context) error { _, err := d.Next(ctx, slow, 3, nil); return err }},
		{"plan", func(ctx context.Context) error { _, err := d.Plan(ctx, slow, asking.PlanInput{}); return err }},
		{"why", func(ctx context.Context) error { _, err := d.Why(ctx, slow, "pump"); return err }},
		{"check", func(ctx context.Context) error {
			_, err := New(Options{Home: d.books.Home()}).Check(ctx, nil, true)
			return err
		}},
		{"trial", func(ctx context.Context) error {
			_, err := d.Trial(ctx, "four-gearset-8", practice.TrialOptions{Cases: 1, Seed: 1, Perturb: 1})
			return err
		}},
		{"drill", func(ctx context.Context) error {
			dr, err := d.Drill(ctx, "four-gearset-8", "one", 1, "")
			if err == nil {
				_, err = dr.Best()
			}
			return err
		}},
		{"learn", func(ctx context.Context) error { _, err := many.Learn(ctx, learning.LearnInput{}); return err }},
		{"cases check", func(ctx context.Context) error { _, err := large.CheckBook(ctx); return err }},
		{"unit new", func(ctx context.Context) error {
			_, err := New(Options{Home: d.books.Home()}).DraftUnit(ctx, "some-4")
			return err
		}},
	} {
		b.Run(x.what, func(b *testing.B) {
			r := rand.New(rand.NewPCG(10, 26))
			begin, began := time.Now(), spent()
			if err := x.do(context.Background()); err != nil {
				b.Fatal(err)
			}
			whole, work := time.Since(begin), spent()-began
			var after []time.Duration
			for b.Loop() {
				for range 6 {
					ctx, cancel := context.WithCancel(context.Background())
					var at time.Duration
					told := make(chan struct{})
					timer := time.AfterFunc(time.Duration(r.Float64()*float64(whole)), func() {
						at = spent()
						cancel()
						close(told)
					})
					err := x.do(ctx)
					now := spent()
					if !timer.Stop() {
						<-told
						after = append(after, now-at)
					}
					if err != nil && !errors.Is(err, context.Canceled) {
						b.Fatal(err)
					}
					cancel()
				}
			}
			slices.Sort(after)
			if len(after) == 0 {
				b.Fatal("it always was done before")
			}
			ms := func(d time.Duration) float64 { return float64(d.Microseconds()) / 1000 }
			b.ReportMetric(ms(work), "cpu-ms")
			b.ReportMetric(ms(after[len(after)/2]), "median-ms")
			b.ReportMetric(ms(after[len(after)-1]), "worst-ms")
			b.ReportMetric(0, "ns/op")
		})
	}
}
