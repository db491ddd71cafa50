// Mutants breaks a package in small ways, one at a time, and tells which breakages its tests do not notice.
//
//	go run ./testdata/mutants -n 60 -seed 1 ./engine/geartrain
//	go run ./testdata/mutants -n 60 -seed 1 -tests ./knowledge/casebook/sqlite ./knowledge/casebook/internal/records
//
// A mutant is a comparison moved by one or turned around, an arithmetic sign, and for or, a condition or a bool
// negated, an error returned as nil, or a call left out. A seeded sample is drawn from all of a package; what does
// not compile does not count. Nothing is written into the tree: the go command reads the mutant by an overlay. Lines
// that no test reaches are told without a run. Tests run from the quickest to the slowest and stop at the first
// failure; a run over its time counts as noticed.
//
// Mutants that change nothing that can be seen are listed in equivalent.txt with the reason.
package main

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// A mutant is one small change of a file: the bytes from at to end become with.
type mutant struct {
	file    string
	at, end int
	with    string
	place   token.Position
	was     string
	kind    string
}

// A timedTest is a test with the seconds that it took on the package as it is.
type timedTest struct {
	pkg, name string
	seconds   float64
}

// A span is a stretch of a file, and whether a test comes there.
type span struct {
	from, to [2]int // line and column; to is the column behind its last
	reached  bool
}

func (s span) holds(p token.Position) bool {
	at := [2]int{p.Line, p.Column}
	return slices.Compare(s.from[:], at[:]) <= 0 && slices.Compare(at[:], s.to[:]) < 0
}

func main() {
	n := flag.Int("n", 60, "how many mutants that compile")
	seed := flag.Uint64("seed", 1, "which sample")
	also := flag.String("tests", "", "more packages whose tests may notice, with commas")
	only := flag.String("only", "", "only the mutants at FILE.go:LINE, several with commas")
	which := flag.String("run", "", "only the tests whose names match, as go test has it")
	skip := flag.Int("skip", 0, "how many of the sample to pass over, to go on with one that was stopped")
	draw := flag.Bool("draw", false, "only list the sample, what does not compile included")
	flag.Parse()
	if flag.NArg() != 1 {
		flag.Usage()
		os.Exit(2)
	}
	if err := run(flag.Arg(0), *also, *only, *which, *n, *skip, *seed, *draw); err != nil {
		fmt.Fprintln(os.Stderr, "mutants:", err)
		os.Exit(1)
	}
}

func run(pkg, also, only, which string, n, skip int, seed uint64, draw bool) error {
	work, err := os.MkdirTemp("", "mutants")
	if err != nil {
		return err
	}
	defer os.RemoveAll(work)
	packages := []string{pkg}
	if also != "" {
		packages = append(packages, strings.Split(also, ",")...)
	}
	all, err := mutantsOf(pkg)
	if err != nil {
		return err
	}
	rng := rand.New(rand.NewPCG(seed, 0))
	rng.Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
	if draw {
		for _, m := range all[:min(n, len(all))] {
			fmt.Printf("%s:%d:%d %s: %s → %s\n", m.file, m.place.Line, m.place.Column, m.kind, m.was, m.with)
		}
		return nil
	}
	all = all[min(skip, len(all)):]
	tests, reached, err := baseline(work, pkg, which, packages)
	if err != nil {
		return err
	}
	same := equivalents()
	count := map[string]int{}
	done := 0
	for _, m := range all {
		if done == n {
			break
		}
		if here := fmt.Sprintf("%s:%d", m.file, m.place.Line); only != "" && !slices.ContainsFunc(strings.Split(only, ","), func(o string) bool { return strings.HasSuffix(here, o) }) {
			continue
		}
		verdict, by := "survived", ""
		switch {
		case same[m.key()]:
			verdict = "equivalent"
		case !reached(m):
			by = "no test comes here"
		default:
			verdict, by = try(work, m, packages, tests)
		}
		if verdict == "broken" {
			continue
		}
		done++
		count[verdict]++
		fmt.Printf("%3d %-10s %s:%d:%d %s: %s → %s  %s\n", done, verdict, m.file, m.place.Line, m.place.Column, m.kind, m.was, m.with, by)
	}
	fmt.Printf("%s: seed %d, %d possible, %d tried, %d noticed, %d equivalent, %d survived\n", pkg, seed, len(all), done, count["noticed"], count["equivalent"], count["survived"])
	return nil
}

// key names a mutant by what stands there, not by its line, so that the list of equivalents outlives an edit above.
func (m mutant) key() string {
	text, _ := os.ReadFile(m.file)
	start := bytes.LastIndexByte(text[:m.at], '\n') + 1
	end := m.at + bytes.IndexByte(text[m.at:], '\n')
	line := string(text[start:m.at]) + "⟦" + m.kind + "⟧" + string(text[m.at:end])
	return filepath.ToSlash(m.file) + " " + strings.TrimSpace(line)
}

// equivalents reads the list of mutants that change nothing that can be seen: lines "file text", each under a
// comment with its reason.
func equivalents() map[string]bool {
	out := map[string]bool{}
	f, err := os.Open("testdata/mutants/equivalent.txt")
	if err != nil {
		return out
	}
	defer f.Close()
	lines := bufio.NewScanner(f)
	for lines.Scan() {
		if text := strings.TrimSpace(lines.Text()); text != "" && !strings.HasPrefix(text, "#") {
			out[text] = true
		}
	}
	return out
}

func mutantsOf(pkg string) ([]mutant, error) {
	files, err := filepath.Glob(filepath.Join(pkg, "*.go"))
	if err != nil {
		return nil, err
	}
	var out []mutant
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		text, err := os.ReadFile(name)
		if err != nil {
			return nil, err
		}
		set := token.NewFileSet()
		tree, err := parser.ParseFile(set, name, text, 0)
		if err != nil {
			return nil, err
		}
		add := func(kind string, from, to token.Pos, with string) {
			at, end := set.Position(from).Offset, set.Position(to).Offset
			out = append(out, mutant{file: name, at: at, end: end, with: with, place: set.Position(from),
				was: strings.Join(strings.Fields(string(text[at:end])), " "), kind: kind})
		}
		source := func(n ast.Node) string {
			return string(text[set.Position(n.Pos()).Offset:set.Position(n.End()).Offset])
		}
		ast.Inspect(tree, func(node ast.Node) bool {
			switch x := node.(type) {
			case *ast.BinaryExpr:
				for _, with := range operators[x.Op] {
					add(with.kind, x.OpPos, x.OpPos+token.Pos(len(x.Op.String())), with.op.String())
				}
			case *ast.AssignStmt:
				if with, ok := assigns[x.Tok]; ok {
					add("arithmetic", x.TokPos, x.TokPos+token.Pos(len(x.Tok.String())), with.String())
				}
			case *ast.IncDecStmt:
				add("arithmetic", x.TokPos, x.TokPos+2, map[token.Token]string{token.INC: "--", token.DEC: "++"}[x.Tok])
			case *ast.UnaryExpr:
				if x.Op == token.NOT {
					add("not left out", x.Pos(), x.Pos()+1, "")
				} else if x.Op == token.SUB {
					add("sign left out", x.Pos(), x.Pos()+1, "")
				}
			case *ast.IfStmt:
				add("condition negated", x.Cond.Pos(), x.Cond.End(), "!("+source(x.Cond)+")")
			case *ast.Ident:
				if x.Name == "true" || x.Name == "false" {
					add("bool turned", x.Pos(), x.End(), map[string]string{"true": "false", "false": "true"}[x.Name])
				}
			case *ast.BranchStmt:
				if x.Label == nil && x.Tok == token.CONTINUE {
					add("loop", x.Pos(), x.End(), "break")
				} else if x.Label == nil && x.Tok == token.BREAK {
					add("loop", x.Pos(), x.End(), "continue")
				}
			case *ast.ExprStmt:
				if _, ok := x.X.(*ast.CallExpr); ok {
					add("call left out", x.Pos(), x.End(), "_ = 0")
				}
			case *ast.ReturnStmt:
				if len(x.Results) > 0 {
					last := x.Results[len(x.Results)-1]
					if id, ok := last.(*ast.Ident); ok && id.Name == "err" {
						add("error lost", last.Pos(), last.End(), "nil")
					} else if isError(last) {
						add("error lost", last.Pos(), last.End(), "nil")
					}
				}
			}
			return true
		})
	}
	return out, nil
}

// isError tells the usual ways to make an error on the spot.
func isError(e ast.Expr) bool {
	call, ok := e.(*ast.CallExpr)
	if !ok {
		return false
	}
	sel, ok := call.Fun.(*ast.SelectorExpr)
	return ok && (sel.Sel.Name == "Errorf" || sel.Sel.Name == "New" && strings.HasPrefix(fmt.Sprint(sel.X), "errors"))
}

type change struct {
	kind string
	op   token.Token
}

var operators = map[token.Token][]change{
	token.LSS:  {{"boundary", token.LEQ}, {"comparison", token.GEQ}},
	token.LEQ:  {{"boundary", token.LSS}, {"comparison", token.GTR}},
	token.GTR:  {{"boundary", token.GEQ}, {"comparison", token.LEQ}},
	token.GEQ:  {{"boundary", token.GTR}, {"comparison", token.LSS}},
	token.EQL:  {{"comparison", token.NEQ}},
	token.NEQ:  {{"comparison", token.EQL}},
	token.LAND: {{"and/or", token.LOR}},
	token.LOR:  {{"and/or", token.LAND}},
	token.ADD:  {{"arithmetic", token.SUB}},
	token.SUB:  {{"arithmetic", token.ADD}},
	token.MUL:  {{"arithmetic", token.QUO}},
	token.QUO:  {{"arithmetic", token.MUL}},
	token.REM:  {{"arithmetic", token.MUL}},
	token.SHL:  {{"arithmetic", token.SHR}},
	token.SHR:  {{"arithmetic", token.SHL}},
	token.AND:  {{"arithmetic", token.OR}},
	token.OR:   {{"arithmetic", token.AND}},
}

var assigns = map[token.Token]token.Token{
	token.ADD_ASSIGN: token.SUB_ASSIGN, token.SUB_ASSIGN: token.ADD_ASSIGN,
	token.MUL_ASSIGN: token.QUO_ASSIGN, token.QUO_ASSIGN: token.MUL_ASSIGN,
	token.OR_ASSIGN: token.AND_ASSIGN, token.AND_ASSIGN: token.OR_ASSIGN,
}

// baseline times every test of the packages as they are and tells which lines of pkg they come to.
func baseline(work, pkg, which string, packages []string) ([]timedTest, func(mutant) bool, error) {
	var tests []timedTest
	covered := map[string][]span{}
	for i, p := range packages {
		profile := filepath.Join(work, fmt.Sprint("cover", i))
		cmd := exec.Command("go", "test", "-short", "-json", "-count=1", "-run="+which, "-coverpkg="+pkg, "-coverprofile="+profile, p)
		cmd.Env = environment()
		out, err := cmd.Output()
		if err != nil {
			return nil, nil, fmt.Errorf("the tests of %s fail before anything is changed: %w\n%s", p, err, failures(out))
		}
		for _, line := range bytes.Split(out, []byte("\n")) {
			var event struct {
				Action, Test string
				Elapsed      float64
			}
			if json.Unmarshal(line, &event) == nil && event.Action == "pass" && event.Test != "" && !strings.Contains(event.Test, "/") {
				tests = append(tests, timedTest{p, event.Test, event.Elapsed})
			}
		}
		if err := readProfile(profile, covered); err != nil {
			return nil, nil, err
		}
	}
	slices.SortStableFunc(tests, func(a, b timedTest) int {
		if a.seconds < b.seconds {
			return -1
		}
		if a.seconds > b.seconds {
			return 1
		}
		return strings.Compare(a.name, b.name)
	})
	return tests, func(m mutant) bool {
		counted := false // the conditions of cases are in no span: they are tried
		for _, s := range covered[filepath.Base(m.file)] {
			if s.holds(m.place) {
				if s.reached {
					return true
				}
				counted = true
			}
		}
		return !counted
	}, nil
}

func readProfile(name string, covered map[string][]span) error {
	text, err := os.ReadFile(name)
	if err != nil {
		return err
	}
	for _, line := range strings.Split(string(text), "\n") {
		var l0, c0, l1, c1, statements, times int
		colon := strings.LastIndex(line, ":")
		if colon < 0 {
			continue
		}
		if k, _ := fmt.Sscanf(line[colon+1:], "%d.%d,%d.%d %d %d", &l0, &c0, &l1, &c1, &statements, &times); k == 6 {
			file := filepath.Base(line[:colon])
			covered[file] = append(covered[file], span{[2]int{l0, c0}, [2]int{l1, c1}, times > 0})
		}
	}
	return nil
}

// try builds the tests over the mutant and runs them until one fails.
func try(work string, m mutant, packages []string, tests []timedTest) (verdict, by string) {
	text, err := os.ReadFile(m.file)
	if err != nil {
		return "broken", err.Error()
	}
	changed := filepath.Join(work, "mutant.go")
	full := slices.Concat(text[:m.at], []byte(m.with), text[m.end:])
	abs, _ := filepath.Abs(m.file)
	overlay, _ := json.Marshal(map[string]any{"Replace": map[string]string{abs: changed}})
	if os.WriteFile(changed, full, 0o600) != nil || os.WriteFile(filepath.Join(work, "overlay"), overlay, 0o600) != nil {
		return "broken", "no place for the mutant"
	}
	programs := map[string]string{}
	for i, p := range packages {
		programs[p] = filepath.Join(work, fmt.Sprint("tests", i))
		cmd := exec.Command("go", "test", "-c", "-vet=off", "-overlay="+filepath.Join(work, "overlay"), "-o", programs[p], p)
		cmd.Env = environment()
		if err := cmd.Run(); err != nil {
			return "broken", ""
		}
	}
	// Quick tests in one run, slow ones one by one.
	type batch struct {
		pkg   string
		names []string
		most  float64
	}
	var batches []batch
	quick := map[string]int{}
	for _, t := range tests {
		at, ok := quick[t.pkg]
		if t.seconds < 0.5 && ok {
			batches[at].names = append(batches[at].names, t.name)
			batches[at].most += t.seconds
			continue
		}
		batches = append(batches, batch{t.pkg, []string{t.name}, t.seconds})
		if t.seconds < 0.5 {
			quick[t.pkg] = len(batches) - 1
		}
	}
	for _, b := range batches {
		limit := time.Duration((20 + 4*b.most) * float64(time.Second))
		ctx, cancel := context.WithTimeout(context.Background(), limit)
		cmd := exec.CommandContext(ctx, programs[b.pkg], "-test.short", "-test.failfast", "-test.run", "^("+strings.Join(b.names, "|")+")$")
		cmd.Dir = b.pkg
		cmd.Env = environment()
		cmd.WaitDelay = time.Second
		out, err := cmd.CombinedOutput()
		late := ctx.Err() != nil
		cancel()
		if late {
			return "noticed", "out of time"
		}
		if err != nil {
			return "noticed", failed(out)
		}
	}
	return "survived", ""
}

// failed is the name of the first test that failed.
func failed(out []byte) string {
	for _, line := range strings.Split(string(out), "\n") {
		if name, ok := strings.CutPrefix(line, "--- FAIL: "); ok {
			return strings.Fields(name)[0]
		}
	}
	return "panic"
}

// failures is what the failing tests of a run told by events printed.
func failures(out []byte) string {
	type event struct{ Action, Test, Output string }
	said, bad := map[string]string{}, []string{}
	for _, line := range bytes.Split(out, []byte("\n")) {
		var e event
		if json.Unmarshal(line, &e) != nil {
			continue
		}
		said[e.Test] += e.Output
		if e.Action == "fail" && e.Test != "" {
			bad = append(bad, said[e.Test])
		}
	}
	return strings.Join(bad, "")
}

// environment keeps failures of property tests from writing their seeds into the tree.
func environment() []string {
	return append(os.Environ(), "CI=1", "RAPID_NOFAILFILE=1")
}
