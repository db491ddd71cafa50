package cli

import (
	"os/exec"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"slipcase/internal/size"
)

// run runs a command line in this process, as on a terminal or not.
func run(t *testing.T, tty bool, env map[string]string, args ...string) (out, errs string, code int) {
	t.Helper()
	return runOn(t, tty, "", env, args...)
}

// runOn is run with something on standard input.
func runOn(t *testing.T, tty bool, in string, env map[string]string, args ...string) (out, errs string, code int) {
	t.Helper()
	var o, e strings.Builder
	a := &app{getenv: func(k string) string { return env[k] }, width: fallbackWidth, tty: tty, in: strings.NewReader(in), out: &o, err: &e}
	code = a.run(args)
	return o.String(), e.String(), code
}

// Color only on a terminal, not against NO_COLOR, and never alone: without
// the codes the text is the same.
func TestColorOnlyOnATerminal(t *testing.T) {
	line := []string{"chart", "harrow-3", "--dead", "rear_band"}
	home := map[string]string{"SLIPCASE_HOME": t.TempDir()}
	plain, _, code := run(t, false, home, line...)
	if code != 0 || strings.Contains(plain, "\x1b") {
		t.Fatalf("exit code %d, color codes: %v", code, strings.Contains(plain, "\x1b"))
	}
	color, _, _ := run(t, true, home, line...)
	if !strings.Contains(color, "\x1b[") {
		t.Error("no color on a terminal")
	}
	var stripped strings.Builder
	for i, part := range strings.Split(color, "\x1b[") {
		if i > 0 {
			_, part, _ = strings.Cut(part, "m")
		}
		stripped.WriteString(part)
	}
	trim := func(s string) []string {
		lines := strings.Split(s, "\n")
		for i := range lines {
			lines[i] = strings.TrimRight(lines[i], " ")
		}
		return lines
	}
	if d := cmp.Diff(trim(plain), trim(stripped.String())); d != "" {
		t.Error(d)
	}
	for _, env := range []map[string]string{{"NO_COLOR": "1"}, {"TERM": "dumb"}} {
		env["SLIPCASE_HOME"] = home["SLIPCASE_HOME"]
		if got, _, _ := run(t, true, env, line...); got != plain {
			t.Errorf("%v: differs from the plain text", env)
		}
	}
}

// Whatever the terminal's width, nothing is wider.
func TestEveryWidth(t *testing.T) {
	for _, width := range []int{40, 60, 80, 100, 200} {
		for _, args := range [][]string{{}, {"units"}, {"demos"}, {"version"}, {"chart", "northfork-4"}, {"chart", "northfork-4", "--on", "forward"}, {"check", "-h"}} {
			var o, e strings.Builder
			home := t.TempDir()
			a := &app{getenv: func(k string) string {
				if k == "SLIPCASE_HOME" {
					return home
				}
				return ""
			}, width: width, out: &o, err: &e, in: strings.NewReader("")}
			if code := a.run(args); code != 0 {
				t.Fatalf("%v: exit code %d: %s", args, code, e.String())
			}
			for _, l := range strings.Split(o.String(), "\n") {
				if len([]rune(l)) > width {
					t.Errorf("%v at %d columns: %q", args, width, l)
				}
			}
		}
	}
}

// The same question gives the same bytes, in a process of its own each time,
// since one process reads the rules once.
func TestAnswersAreDeterministic(t *testing.T) {
	t.Setenv("SLIPCASE_HOME", t.TempDir())
	run := func(args []string) string {
		out, err := exec.Command("slipcase", args...).Output()
		if err != nil {
			t.Fatal(args, err)
		}
		return string(out)
	}
	all := [][]string{{"units", "--json"}, {"chart", "northfork-4", "--json"}, {"demos", "--json"}, {"check", "--no-examples", "--json"}}
	for _, args := range size.Of(all[:3], all, all) {
		first := run(args)
		for range size.Of(1, 3, 3) {
			if run(args) != first {
				t.Errorf("%v: two runs differ", args)
			}
		}
	}
}
