package cli

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"slipcase/internal/size"
)

// slowCase is a case of the largest unit that takes seconds: every other one of
// the findings that the program lists for it is reported present.
func slowCase(t *testing.T) string {
	t.Helper()
	out, err := exec.Command("slipcase", "list", "findings", "four-gearset-8", "--json").Output()
	if err != nil {
		t.Fatal(err)
	}
	var present, absent []string
	for _, line := range strings.Split(string(out), "\n") {
		name, ok := strings.CutPrefix(strings.TrimSpace(line), `"name": `)
		switch {
		case !ok:
		case len(present) <= len(absent):
			present = append(present, strings.TrimSuffix(name, ","))
		default:
			absent = append(absent, strings.TrimSuffix(name, ","))
		}
	}
	file := filepath.Join(t.TempDir(), "slow.hcl")
	src := fmt.Sprintf("language = 1\n\ncase \"slow\" {\n  title = \"Slow\"\n  unit  = \"four-gearset-8\"\n  reports \"driver\" {\n    present = [%s]\n    absent  = [%s]\n  }\n}\n",
		strings.Join(present, ", "), strings.Join(absent, ", "))
	if err := os.WriteFile(file, []byte(src), 0o600); err != nil {
		t.Fatal(err)
	}
	return file
}

// An interrupt ends a slow command wherever it is: it says so, with exit code 1,
// and nothing of an answer comes out. How long it took is logged, not asserted.
func TestInterrupt(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("no process of Windows can be sent an interrupt alone")
	}
	slow := slowCase(t)
	home := t.TempDir()
	asks := map[string]bool{"drill": true, "unit": true} // their questions are out by then
	for _, args := range [][]string{
		{"suspects", "--case", slow},
		{"next", "--case", slow},
		{"plan", "--case", slow},
		{"check"},
		{"trial", "four-gearset-8", "--cases", "200"},
		{"why", "pump", "--case", slow},
		{"drill", "four-gearset-8"},
		{"unit", "new", "interrupted-4"},
	} {
		t.Run(args[0], func(t *testing.T) {
			waits := size.Of([]time.Duration{250}, []time.Duration{30, 200, 700}, []time.Duration{30, 200, 700})
			meant := len(waits)
			// On a busy machine a program only listens late.
			waits = append(waits, 1000, 2000, 4000, 8000)
			stopped := 0
			for i, after := range waits {
				if i >= meant && stopped > 0 {
					break
				}
				cmd := exec.Command("slipcase", args...)
				cmd.Env = append(os.Environ(), "SLIPCASE_HOME="+home, "NO_COLOR=1")
				var out, said bytes.Buffer
				cmd.Stdout, cmd.Stderr = &out, &said
				in, err := cmd.StdinPipe() // nobody answers what drill and unit new ask
				if err != nil {
					t.Fatal(err)
				}
				defer in.Close()
				if err := cmd.Start(); err != nil {
					t.Fatal(err)
				}
				time.Sleep(after * time.Millisecond)
				sent := time.Now()
				if err := cmd.Process.Signal(os.Interrupt); err != nil {
					cmd.Wait()
					continue // done before
				}
				guard := time.AfterFunc(time.Minute, func() { cmd.Process.Kill() })
				err = cmd.Wait()
				guard.Stop()
				var exit *exec.ExitError
				switch {
				case err == nil:
					continue // done before
				case !errors.As(err, &exit):
					t.Fatal(err)
				case exit.ExitCode() == -1 && said.Len() == 0:
					continue // the program had not begun to listen
				}
				stopped++
				t.Logf("after %v: ended in %v", after*time.Millisecond, time.Since(sent).Round(time.Millisecond))
				if exit.ExitCode() != exitFailed || !strings.Contains(said.String(), "stopped before it") || out.Len() > 0 && !asks[args[0]] {
					t.Errorf("after %v: exit %d\n%s%s", after*time.Millisecond, exit.ExitCode(), &out, &said)
				}
			}
			if stopped == 0 {
				t.Error("never interrupted")
			}
		})
	}
}

// A command that writes and does not end in time after an interrupt does not say
// that nothing was done.
func TestInterruptedWriterPromisesNothing(t *testing.T) {
	for _, c := range []struct {
		args string
		want string
	}{
		{"note slips@D/4", "stopped before it could confirm"},
		{"suspects --demo slip-one-gear", "stopped before it was done"},
	} {
		if got := interrupted(strings.Fields(c.args)).Messages[0].Summary; got != c.want {
			t.Errorf("%s: %q, want %q", c.args, got, c.want)
		}
	}
}
