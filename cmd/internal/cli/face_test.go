package cli

import (
	"context"
	"encoding/json"
	"go/ast"
	"go/parser"
	"go/token"
	"strconv"
	"strings"
	"testing"

	"github.com/spf13/cobra"

	"slipcase/cmd/internal/answer"
)

// Every kind of hint has words here.
func TestEveryHintHasWords(t *testing.T) {
	tree, err := parser.ParseFile(token.NewFileSet(), "../answer/hint.go", nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	ast.Inspect(tree, func(x ast.Node) bool {
		spec, ok := x.(*ast.ValueSpec)
		if !ok || len(spec.Values) != 1 {
			return true
		}
		kind, err := strconv.Unquote(spec.Values[0].(*ast.BasicLit).Value)
		if err != nil {
			t.Fatal(err)
		}
		n++
		text := hint(answer.Do(answer.HintKind(kind), "cause", "b"))
		if text == "" || strings.ContainsAny(text, "{}") {
			t.Errorf("%s is said as %q", kind, text)
		}
		return true
	})
	if n < 30 {
		t.Errorf("only %d hints", n)
	}
}

// A mistake of the program still gives the envelope, its code and exit code 1.
func TestPanicIsTold(t *testing.T) {
	before := registered
	defer func() { registered = before }()
	register(func(a *app) *cobra.Command {
		cmd := &cobra.Command{Use: "break", RunE: func(*cobra.Command, []string) error { panic("boom") }}
		a.asJSON(cmd)
		return cmd
	})
	out, _, code := run(t, false, nil, "break", "--json")
	var e struct {
		Schema string
		Error  struct{ Code string }
		Data   any
	}
	if err := json.Unmarshal([]byte(out), &e); err != nil || code != exitFailed || e.Error.Code != "internal" || e.Schema != "slipcase/break/1" {
		t.Errorf("exit code %d, %v: %s", code, err, out)
	}
	_, errs, code := run(t, false, nil, "break")
	if code != exitFailed || !strings.Contains(errs, "boom") || !strings.Contains(errs, "report it") {
		t.Errorf("exit code %d: %s", code, errs)
	}
}

// A unit without a name is wrong use, not a mistake of the program.
func TestNoUnitNamed(t *testing.T) {
	for _, args := range [][]string{{"chart", ""}, {"trial", ""}} {
		out, _, code := run(t, false, map[string]string{"SLIPCASE_HOME": t.TempDir()}, append(args, "--json")...)
		if code != exitUsage || !strings.Contains(out, `"wrong_use"`) {
			t.Errorf("%v: exit code %d: %s", args, code, out)
		}
	}
}

// An asker who gave up is told so, with the code for it.
func TestCanceled(t *testing.T) {
	ctx, stop := context.WithCancel(t.Context())
	stop()
	var o, e strings.Builder
	a := &app{ctx: ctx, getenv: func(k string) string { return map[string]string{"SLIPCASE_HOME": t.TempDir()}[k] }, width: fallbackWidth, in: strings.NewReader(""), out: &o, err: &e}
	if code := a.run([]string{"suspects", "--demo", "two-faults", "--json"}); code != exitFailed || !strings.Contains(o.String(), `"canceled"`) {
		t.Errorf("exit code %d: %s", code, o.String())
	}
}

// What comes from outside cannot act on the terminal or turn the text around.
func TestOutputIsClean(t *testing.T) {
	home := map[string]string{"SLIPCASE_HOME": t.TempDir()}
	const bad = "Slips\x1b[2J\u202ein third\x07\u2066"
	if _, errs, code := run(t, false, home, "open", "--unit", "harrow-3", "--title", bad, "--vehicle", "van\u009b31m"); code != 0 {
		t.Fatal(errs)
	}
	for _, args := range [][]string{{"cases"}, {"cases", "show"}, {"suspects"}, {"cases", "--json"}, {"suspects", "--case", "no\x1b[31m\u202esuch.hcl"}} {
		out, errs, _ := run(t, true, home, args...)
		for _, r := range strings.NewReplacer("\x1b[0m", "", "\x1b[1m", "", "\x1b[2m", "", "\x1b[31m", "", "\x1b[32m", "", "\x1b[33m", "").Replace(out + errs) {
			if r != '\n' && (r < ' ' || r >= 0x7f && r < 0xa0 || r == '\u202e' || r == '\u2066') {
				t.Errorf("%v prints %U:\n%q", args, r, out+errs)
				break
			}
		}
	}
}
