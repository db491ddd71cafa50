package cli

import (
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/spf13/cobra"

	"slipcase/cmd/internal/table"
	"slipcase/internal/size"
	"slipcase/knowledge/casebook/postgres/throwaway"
)

var update = flag.Bool("update", false, "write the golden files anew; refused when CI=true")

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"slipcase": func() { os.Exit(Main()) },
		workerName: worker,
	})
}

// TestScripts runs the real commands: those behind exec in a process each, those
// behind exits by workers in an ordinary run. Beside testscript's own words a script
// has:
//
//	exits CODE slipcase …   the command must end with this exit code; <FILE at its end is its standard input
//	narrow                  no line of stdout or stderr is wider than 80 columns
//	plain                   neither has a color code
//	envelope SCHEMA         stdout is one JSON envelope of this schema
//	says TEXT               stdout or stderr holds the text, wherever its lines are wrapped
//	server NAME             starts a database server; $NAME is the URL of an empty casebook
//	golden FILE             stdout is what testdata/golden/FILE holds
//	[more] COMMAND          only at the larger sizes: what repeats something that takes its time
func TestScripts(t *testing.T) {
	dir, err := filepath.Abs(filepath.Join("testdata", "golden"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(throwaway.Done)
	var w workers
	t.Cleanup(w.end)
	testscript.Run(t, testscript.Params{
		Dir:                 filepath.Join("testdata", "script"),
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Condition: func(cond string) (bool, error) {
			if cond != "more" {
				return false, fmt.Errorf("there is no condition %q", cond)
			}
			return size.Of(false, true, true), nil
		},
		Setup: func(e *testscript.Env) error {
			e.Setenv("SLIPCASE_HOME", filepath.Join(e.WorkDir, "home"))
			e.Setenv("NO_COLOR", "")
			e.Setenv("YY", time.Now().Format("06")) // ids of cases begin so
			return nil
		},
		Cmds: map[string]func(ts *testscript.TestScript, neg bool, args []string){
			"exits":    func(ts *testscript.TestScript, neg bool, args []string) { exits(ts, neg, args, &w) },
			"server":   server,
			"narrow":   narrow,
			"says":     says,
			"plain":    plain,
			"envelope": envelope,
			"golden":   func(ts *testscript.TestScript, neg bool, args []string) { compareGolden(ts, dir, args) },
		},
	})
}

func exits(ts *testscript.TestScript, neg bool, args []string, w *workers) {
	if neg || len(args) < 2 || args[1] != "slipcase" {
		ts.Fatalf("usage: exits CODE slipcase …")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	if got := w.run(ts, args[2:]); got != want {
		ts.Fatalf("exit code %d, want %d", got, want)
	}
}

func narrow(ts *testscript.TestScript, neg bool, args []string) {
	for _, name := range []string{"stdout", "stderr"} {
		for i, l := range strings.Split(ts.ReadFile(name), "\n") {
			if w := table.Width(l); w > fallbackWidth {
				ts.Fatalf("%s line %d is %d columns wide: %s", name, i+1, w, l)
			}
		}
	}
}

func says(ts *testscript.TestScript, neg bool, args []string) {
	for _, name := range []string{"stdout", "stderr"} {
		text := strings.Join(strings.Fields(ts.ReadFile(name)), " ")
		if strings.Contains(text, args[0]) {
			if neg {
				ts.Fatalf("%s says %q", name, args[0])
			}
			return
		}
	}
	if !neg {
		ts.Fatalf("neither stdout nor stderr says %q", args[0])
	}
}

func plain(ts *testscript.TestScript, neg bool, args []string) {
	if strings.Contains(ts.ReadFile("stdout")+ts.ReadFile("stderr"), "\x1b") {
		ts.Fatalf("color codes where none belong")
	}
}

func envelope(ts *testscript.TestScript, neg bool, args []string) {
	var e struct {
		Schema, Rules, Method *string
		Data                  json.RawMessage
		Diagnostics           *[]struct {
			Severity, Summary, Detail *string
			Subject                   *struct{ File string }
		}
	}
	dec := json.NewDecoder(strings.NewReader(ts.ReadFile("stdout")))
	dec.DisallowUnknownFields()
	var whole map[string]json.RawMessage
	ts.Check(json.Unmarshal([]byte(ts.ReadFile("stdout")), &whole))
	ts.Check(json.Unmarshal([]byte(ts.ReadFile("stdout")), &e))
	for _, k := range []string{"schema", "program", "rules", "method", "input", "data", "diagnostics", "error"} {
		if _, ok := whole[k]; !ok {
			ts.Fatalf("the envelope has no %s", k)
		}
	}
	if len(whole) != 8 || e.Schema == nil || e.Rules == nil || e.Method == nil || e.Diagnostics == nil {
		ts.Fatalf("not the documented envelope: %d fields", len(whole))
	}
	if want := fmt.Sprintf("slipcase/%s/%d", args[0], max(1, schemas[args[0]])); *e.Schema != want {
		ts.Fatalf("schema %q, want %q", *e.Schema, want)
	}
	for _, d := range *e.Diagnostics {
		if d.Severity == nil || d.Summary == nil || d.Detail == nil || d.Subject == nil {
			ts.Fatalf("a diagnostic lacks a field")
		}
	}
	failed := string(e.Data) == "null"
	if code := string(whole["error"]); failed != (code != "null") {
		ts.Fatalf("data %.40s, but error %s", e.Data, code)
	}
	if neg != failed {
		ts.Fatalf("data: %.40s", e.Data)
	}
}

// fingerprint of the rules: it changes with every comment of a rule file, which
// says nothing about an answer.
var fingerprint = regexp.MustCompile(`\b[0-9a-f]{64}\b`)

// treeSize is the size of the tree and the bound on the error: they change with
// the engine's order of elimination while the answer stays.
var treeSize = regexp.MustCompile(`\(noisy-OR network[^)]*\)`)

// program is the version of the build.
var program = regexp.MustCompile(`"program": "[^"]*"`)

func compareGolden(ts *testscript.TestScript, dir string, args []string) {
	got := fingerprint.ReplaceAllString(ts.ReadFile("stdout"), "(fingerprint)")
	got = treeSize.ReplaceAllString(got, "(size of the tree)")
	got = program.ReplaceAllString(got, `"program": "(version)"`)
	ts.Check(golden(filepath.Join(dir, args[0]), got))
}

// golden compares a text with a golden file, or writes the file with -update.
func golden(file, got string) error {
	if *update {
		if os.Getenv("CI") == "true" {
			return errors.New("-update is refused in CI")
		}
		return errors.Join(os.MkdirAll(filepath.Dir(file), 0o777), os.WriteFile(file, []byte(got), 0o666))
	}
	want, err := os.ReadFile(file)
	if err == nil && got != string(want) {
		err = fmt.Errorf("differs from %s (run with -update when the change is meant):\n%s", filepath.Base(file), firstDifference(string(want), got))
	}
	return err
}

func firstDifference(want, got string) string {
	w, g := strings.Split(want, "\n"), strings.Split(got, "\n")
	for i := 0; i < max(len(w), len(g)); i++ {
		a, b := "(end)", "(end)"
		if i < len(w) {
			a = w[i]
		}
		if i < len(g) {
			b = g[i]
		}
		if a != b {
			return fmt.Sprintf("line %d\n- %s\n+ %s", i+1, a, b)
		}
	}
	return ""
}

func testApp() *app {
	return &app{getenv: func(string) string { return "" }, width: fallbackWidth, in: strings.NewReader(""), out: &strings.Builder{}, err: &strings.Builder{}}
}

func walk(cmd *cobra.Command, f func(*cobra.Command)) {
	f(cmd)
	for _, c := range cmd.Commands() {
		walk(c, f)
	}
}

// Every command has a text, an example that parses, and a script that runs it.
func TestEveryCommandIsDocumentedAndTested(t *testing.T) {
	scripts, err := filepath.Glob(filepath.Join("testdata", "script", "*.txt"))
	if err != nil || len(scripts) == 0 {
		t.Fatal("no scripts", err)
	}
	var all strings.Builder
	for _, s := range scripts {
		text, err := os.ReadFile(s)
		if err != nil {
			t.Fatal(err)
		}
		all.Write(text)
	}
	seen := 0
	walk(testApp().root(), func(cmd *cobra.Command) {
		if cmd.Name() == "help" || cmd.Hidden {
			return
		}
		seen++
		if cmd.Short == "" || cmd.Long == "" || cmd.Example == "" {
			t.Errorf("%s lacks a short text, a text or an example", cmd.CommandPath())
		}
		for _, line := range strings.Split(cmd.Example, "\n") {
			if err := parses(line); err != nil {
				t.Errorf("%s: example %q: %v", cmd.CommandPath(), line, err)
			}
		}
		if cmd.HasParent() && !strings.Contains(all.String(), cmd.CommandPath()) {
			t.Errorf("no script under testdata/script runs %s", cmd.CommandPath())
		}
	})
	if seen < len(registered) {
		t.Errorf("walked %d commands, %d are registered", seen, len(registered))
	}
}

// parses tells whether a command line fits the command tree: a known command,
// known flags, and as many arguments as it takes.
func parses(line string) error {
	args := shellWords(line)
	if len(args) == 0 || args[0] != "slipcase" {
		return errors.New("does not begin with slipcase")
	}
	root := testApp().root()
	cmd, rest, err := root.Find(args[1:])
	if err != nil {
		return err
	}
	if err := cmd.ParseFlags(rest); err != nil {
		return err
	}
	if err := cmd.ValidateFlagGroups(); err != nil {
		return err
	}
	return cmd.ValidateArgs(cmd.Flags().Args())
}

// shellWords splits a command line as a shell does, without escapes.
func shellWords(line string) []string {
	var out []string
	word, quote, begun := "", rune(0), false
	for _, r := range line + " " {
		switch {
		case quote != 0 && r == quote:
			quote = 0
		case quote == 0 && (r == '\'' || r == '"'):
			quote, begun = r, true
		case quote == 0 && r == ' ':
			if begun {
				out = append(out, word)
			}
			word, begun = "", false
		default:
			word, begun = word+string(r), true
		}
	}
	return out
}

func TestParses(t *testing.T) {
	for line, ok := range map[string]bool{
		"slipcase":                            true,
		"slipcase version":                    true,
		"slipcase version now":                false,
		"slipcase suspects --demo x":          true,
		"slipcase suspects --demo x --case y": false,
		"slipcase suspects --dmeo x":          false,
		"slipcase chart":                      false,
		"slipcase nosuch":                     false,
		"gearbox version":                     false,
	} {
		if err := parses(line); (err == nil) != ok {
			t.Errorf("%s: %v", line, err)
		}
	}
}

// Every command line in the documents fits the command tree.
func TestCommandLinesInDocuments(t *testing.T) {
	top := filepath.Join("..", "..", "..")
	docs, err := filepath.Glob(filepath.Join(top, "*.md"))
	if err != nil {
		t.Fatal(err)
	}
	lines := 0
	for _, doc := range docs {
		text, err := os.ReadFile(doc)
		if err != nil {
			t.Fatal(err)
		}
		for _, l := range commandLines(string(text)) {
			lines++
			if err := parses(l.text); err != nil {
				t.Errorf("%s:%d: %s: %v", filepath.Base(doc), l.number, l.text, err)
			}
		}
	}
	if lines == 0 {
		t.Error("no document shows a command line of slipcase")
	}
}

type docLine struct {
	number int
	text   string
}

// commandLines are the lines of fenced sh blocks that run slipcase, without
// what follows a pipe, a redirection or a comment.
func commandLines(doc string) []docLine {
	var out []docLine
	inside := false
	for i, l := range strings.Split(doc, "\n") {
		if fence, ok := strings.CutPrefix(strings.TrimSpace(l), "```"); ok {
			inside = !inside && slices.Contains([]string{"sh", "shell", "bash", "console"}, fence)
			continue
		}
		l = strings.TrimPrefix(strings.TrimSpace(l), "$ ")
		if rest, ok := strings.CutPrefix(l, "go run ./cmd/slipcase"); ok {
			l = "slipcase" + rest
		}
		if !inside || l != "slipcase" && !strings.HasPrefix(l, "slipcase ") {
			continue
		}
		for _, stop := range []string{" |", " >", " <", " #", " &&", ";"} {
			l, _, _ = strings.Cut(l, stop)
		}
		out = append(out, docLine{i + 1, l})
	}
	return out
}

func TestCommandLinesAreFound(t *testing.T) {
	doc := "slipcase outside\n```sh\nslipcase units | less\ngo run ./cmd/slipcase version # comment\ngo test ./...\n```\n```hcl\nslipcase hcl\n```\n"
	got := fmt.Sprint(commandLines(doc))
	if want := "[{3 slipcase units} {4 slipcase version}]"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}

func server(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: server NAME")
	}
	s, err := throwaway.Get()
	ts.Check(err)
	name, err := s.NewDatabase()
	ts.Check(err)
	ts.Setenv(args[0], s.URL(name))
	ts.Setenv("PASSWORD", throwaway.Password)
}
