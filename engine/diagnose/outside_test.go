package diagnose_test

import (
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"slipcase/engine/network"
	"slipcase/internal/size"
)

// uai writes the part of a network that evidence speaks of as a Markov network
// in the UAI 2008 file format: every noisy-OR as a chain of factors of three
// variables, every report as a factor of one.
func uai(net *network.Net, ev []network.Likelihood) string {
	need := make([]bool, len(net.Nodes))
	for _, e := range ev {
		need[e.Node] = true
	}
	for i := len(net.Nodes) - 1; i >= 0; i-- { // parents stand before children
		if need[i] {
			for _, l := range net.Nodes[i].Links {
				need[l.Parent] = true
			}
		}
	}
	vars := 0
	of := make([]int, len(net.Nodes))
	var scopes, tables []string
	factor := func(vars []int, p ...float64) {
		scopes = append(scopes, fmt.Sprintln(append([]any{len(vars)}, anys(vars)...)...))
		tables = append(tables, fmt.Sprintln(append([]any{len(p)}, anys(p)...)...))
	}
	for i := range net.Nodes {
		if !need[i] {
			continue
		}
		n := &net.Nodes[i]
		last := vars // on if the leak or any link so far got through
		vars++
		factor([]int{last}, 1-n.Leak, n.Leak)
		for _, l := range n.Links {
			factor([]int{last, of[l.Parent], vars}, 1, 0, 1-l.Strength, l.Strength, 0, 1, 0, 1)
			last = vars
			vars++
		}
		of[i] = last
	}
	for _, e := range ev {
		factor([]int{of[e.Node]}, e.Off, e.On)
	}
	return fmt.Sprintf("MARKOV\n%d\n%s\n%d\n%s\n%s", vars, strings.TrimSpace(strings.Repeat("2 ", vars)), len(scopes), strings.Join(scopes, ""), strings.Join(tables, "\n"))
}

func anys[T any](list []T) (out []any) {
	for _, x := range list {
		out = append(out, x)
	}
	return out
}

// toulbar2 is an outside engine for graphical models of any kind (MIT, Debian's
// package toulbar2), which works out the sum over all states by branch and
// bound. It tells the natural logarithm of it to three decimals; ok is false
// where it did not end in so much time of a processor, in whole seconds, however
// busy the machine is.
func toulbar2(t testing.TB, net *network.Net, ev []network.Likelihood, limit time.Duration) (logZ float64, took time.Duration, ok bool) {
	t.Helper()
	file := filepath.Join(t.TempDir(), "network.uai")
	if err := os.WriteFile(file, []byte(uai(net, ev)), 0o600); err != nil {
		t.Fatal(err)
	}
	cmd := exec.CommandContext(t.Context(), "sh", "-c", `ulimit -t "$0" && exec toulbar2 "$@"`, strconv.Itoa(int(limit/time.Second)), file, "-logz", "-precision=12")
	out, err := cmd.Output()
	if s := cmd.ProcessState; s != nil {
		took = s.UserTime() + s.SystemTime()
	}
	if err != nil && cmd.ProcessState != nil && cmd.ProcessState.ExitCode() < 0 {
		return 0, took, false // ended by the signal of the limit
	}
	if err != nil {
		t.Fatalf("toulbar2: %v\n%s", err, out)
	}
	found := sum.FindSubmatch(out)
	if found == nil {
		t.Fatalf("toulbar2 says no sum:\n%s", out)
	}
	low, _ := strconv.ParseFloat(string(found[1]), 64)
	high, _ := strconv.ParseFloat(string(found[2]), 64)
	return (low + high) / 2, took, true
}

var sum = regexp.MustCompile(`(?m)^(\S+) <= Log\(Z\) <= (\S+) in`)

// needsOutside leaves a test out where the outside engine is not installed;
// .ci/run installs it.
func needsOutside(t testing.TB) {
	if _, err := exec.LookPath("toulbar2"); err != nil {
		t.Skip("needs toulbar2")
	}
}

// TestOutsideEngine holds drawn vehicles on whole units against an outside
// engine: the probability of what is reported, and that of the likeliest mode. In an
// ordinary run the first two that it answers.
func TestOutsideEngine(t *testing.T) {
	needsOutside(t)
	t.Parallel()
	const digit = 0.0011 // three decimals, cut off
	patience := size.Of(time.Second, 3*time.Second, 3*time.Second)
	compared, posteriors := 0, 0
	for i, unit := range size.Of(allUnits[1:], allUnits, allUnits) { // the first is the slowest there
		if size.Of(posteriors == 2, false, false) {
			break
		}
		m := modelOf(t, unit)
		pieces, _ := m.Evidence(vehicle(m, 0, size.Of(4, 10+5*i, 10+5*i))) // 4 reports, or 10 to 45
		ev := m.Likelihoods(pieces)
		post, err := m.Solve(pieces)
		if err != nil {
			t.Fatal(err)
		}
		theirs, took, ok := toulbar2(t, m.Net, ev, patience)
		if !ok {
			t.Logf("%s, %d reports: not there in %v", unit, len(pieces), took)
			continue
		}
		compared++
		if d := post.LogEvidence - theirs; math.Abs(d) > digit {
			t.Errorf("%s: ln P(reports) = %.4f, the outside engine says %.3f", unit, post.LogEvidence, theirs)
		}
		at := m.Modes()[0]
		for _, n := range m.Modes() {
			if post.P[n] > post.P[at] {
				at = n
			}
		}
		none, _, ok := toulbar2(t, m.Net, append(ev, network.Likelihood{Node: at, Off: 1}), patience)
		if !ok {
			continue
		}
		posteriors++
		if p := 1 - math.Exp(none-theirs); math.Abs(p-post.P[at]) > 2*digit {
			t.Errorf("%s: P(%s) = %.4f, the outside engine says %.4f", unit, m.Nodes[at].Name, post.P[at], p)
		}
	}
	t.Logf("%d units compared, %d posteriors", compared, posteriors)
	if compared < size.Of(2, 4, 4) || posteriors < size.Of(2, 3, 3) {
		t.Errorf("the outside engine came back in time for %d units and %d posteriors: too few to tell", compared, posteriors)
	}
}

// BenchmarkOutside is the probability of the reports of drawn vehicles, here
// (with the posteriors of all modes and causes, and a tree not seen before) and
// by the outside engine, which gets 20 seconds. SEEDS says how many of each
// unit.
func BenchmarkOutside(b *testing.B) {
	needsOutside(b)
	for _, reports := range []int{5, 15, 25, 45} {
		b.Run(fmt.Sprint(reports), func(b *testing.B) {
			for b.Loop() {
				var ours, theirs []float64
				late := 0
				for _, unit := range allUnits {
					for seed := range uint64(number("SEEDS", 3)) {
						m := modelOf(b, unit)
						pieces, _ := m.Evidence(vehicle(m, seed, reports))
						ev := m.Likelihoods(pieces)
						start := time.Now()
						if _, err := m.Solve(pieces); err != nil {
							b.Fatal(err)
						}
						ours = append(ours, float64(time.Since(start).Microseconds())/1000)
						_, took, ok := toulbar2(b, m.Net, ev, 20*time.Second)
						if !ok {
							late++
						}
						theirs = append(theirs, float64(took.Microseconds())/1000)
					}
				}
				median, most, worst := spread(ours)
				b.ReportMetric(median, "ours-median-ms")
				b.ReportMetric(most, "ours-95%-ms")
				b.ReportMetric(worst, "ours-worst-ms")
				median, most, worst = spread(theirs)
				b.ReportMetric(median, "theirs-median-ms")
				b.ReportMetric(most, "theirs-95%-ms")
				b.ReportMetric(worst, "theirs-worst-ms")
				b.ReportMetric(float64(late), "theirs-late")
			}
		})
	}
}
