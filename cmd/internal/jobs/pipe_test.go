package jobs

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"strings"
	"testing"

	"slipcase/cmd/internal/cli"
)

// asProgram makes the test binary the program itself.
const asProgram = "SLIPCASE_JOBS_AS_PROGRAM"

func TestMain(m *testing.M) {
	if os.Getenv(asProgram) != "" {
		os.Exit(cli.Main())
	}
	os.Exit(m.Run())
}

// TestPipe runs the real program on a pipe: a driver who knows nothing convicts
// nobody and his words are kept; then what the shop sees puts the right part
// first.
func TestPipe(t *testing.T) {
	home := t.TempDir()
	run := func(stdin string, args ...string) string {
		t.Helper()
		c := exec.Command(os.Args[0], args...)
		c.Env = append(os.Environ(), asProgram+"=1", "SLIPCASE_HOME="+home)
		c.Stdin = strings.NewReader(stdin)
		var out, bad bytes.Buffer
		c.Stdout, c.Stderr = &out, &bad
		if err := c.Run(); err != nil {
			t.Fatalf("slipcase %s: %v\n%s%s", strings.Join(args, " "), err, out.String(), bad.String())
		}
		return out.String()
	}
	lead := func() suspect {
		var a struct {
			Data struct {
				Suspects []struct {
					Component   string
					Probability float64
				}
			}
		}
		if err := json.Unmarshal([]byte(run("", "suspects", "--json")), &a); err != nil || len(a.Data.Suspects) == 0 {
			t.Fatalf("suspects --json: %v", err)
		}
		return suspect{component: a.Data.Suspects[0].Component, p: a.Data.Suspects[0].Probability}
	}
	var j *job
	for _, x := range load(t) {
		if x.ID == "jb-38" {
			j = x
		}
	}
	run("", "open", "--unit", j.Unit, "--title", "came in", "--words", j.Words)
	run(strings.Repeat("?\n", 3)+"quit\n", "interview", "--plain")
	if s := lead(); s.p > 0.3 {
		t.Errorf("a driver who knows nothing convicts %s, %.2f", s.component, s.p)
	}
	if kept := run("", "export"); !strings.Contains(kept, "not one drop on the ground") {
		t.Errorf("the driver's words are lost: %s", kept)
	}
	run("", "note", "modulator_hose_wet", "engine_smokes", "--by", "eye")
	if s := lead(); !j.right(s) {
		t.Errorf("fluid in the modulator hose points at %s", s.component)
	}
}
