package desk

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"testing"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/asking"
	"slipcase/cmd/internal/desk/library"
	"slipcase/cmd/internal/load"
	"slipcase/internal/size"
)

// Every use case's answer, found by reflection over the methods of Desk: no
// list of types that could be forgotten.
func answers() map[string]reflect.Type {
	out := map[string]reflect.Type{}
	d := reflect.TypeOf(&Desk{})
	for i := range d.NumMethod() {
		m := d.Method(i)
		for j := range m.Type.NumOut() {
			if x := m.Type.Out(j); x.Kind() == reflect.Struct {
				if f, ok := x.FieldByName("Data"); ok {
					out[m.Name] = f.Type
				}
			}
		}
	}
	return out
}

// Every number of an answer is a Num, so that JSON has nine digits, and every
// field has a JSON name of its own.
func TestAnswersHaveNoBareFloats(t *testing.T) {
	seen := map[reflect.Type]bool{}
	var walk func(reflect.Type, string)
	walk = func(x reflect.Type, path string) {
		switch x.Kind() {
		case reflect.Float32, reflect.Float64:
			if x != reflect.TypeOf(answer.Num(0)) {
				t.Errorf("%s is a bare %s", path, x)
			}
		case reflect.Interface:
			t.Errorf("%s is an %s", path, x)
		case reflect.Pointer, reflect.Slice, reflect.Map, reflect.Array:
			walk(x.Elem(), path+"[]")
		case reflect.Struct:
			if seen[x] {
				return
			}
			seen[x] = true
			for i := range x.NumField() {
				f := x.Field(i)
				if f.Tag.Get("json") == "" && !f.Anonymous {
					t.Errorf("%s.%s has no JSON name", path, f.Name)
				}
				walk(f.Type, path+"."+f.Name)
			}
		}
	}
	all := answers()
	for name, x := range all {
		walk(x, name)
	}
	walk(reflect.TypeOf(answer.Input{}), "Input")
	if len(all) < 20 {
		t.Errorf("only %d use cases were found", len(all))
	}
}

// What commands and flags there are is for a face to say: no text of a use
// case names one.
func TestUseCasesNameNoCommand(t *testing.T) {
	var files []string
	for _, pattern := range []string{"*.go", "*/*.go", "../load/*.go", "../fault/*.go"} {
		found, err := filepath.Glob(pattern)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, found...)
	}
	names := regexp.MustCompile(`(^|[^/\w])slipcase [a-z]|(^|\s)--[a-z]|SLIPCASE_`)
	looked := 0
	for _, f := range files {
		if strings.HasSuffix(f, "_test.go") {
			continue
		}
		set := token.NewFileSet()
		tree, err := parser.ParseFile(set, f, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(tree, func(n ast.Node) bool {
			if lit, ok := n.(*ast.BasicLit); ok && lit.Kind == token.STRING {
				looked++
				if text, err := strconv.Unquote(lit.Value); err == nil && names.MatchString(text) {
					t.Errorf("%s: %q", set.Position(lit.Pos()), text)
				}
			}
			return true
		})
	}
	if looked < 500 {
		t.Errorf("only %d texts were looked at", looked)
	}
}

// Many requests at once share what is loaded; the race detector looks on.
func TestRequestsAtOnce(t *testing.T) {
	d := New(Options{Home: t.TempDir()})
	ctx := t.Context()
	var wg sync.WaitGroup
	var mu sync.Mutex
	first := map[string]any{}
	same := func(name string, got any, err error) {
		mu.Lock()
		defer mu.Unlock()
		if err != nil {
			t.Errorf("%s: %v", name, err)
		} else if first[name] == nil {
			first[name] = got
		} else if !reflect.DeepEqual(first[name], got) {
			t.Errorf("%s: another answer", name)
		}
	}
	for range 2 {
		for _, demo := range load.Demos()[:size.Of(1, 2, 2)] {
			ref := asking.CaseRef{Demo: demo}
			wg.Go(func() { a, err := d.Suspects(ctx, ref, 3); same("suspects "+demo, a.Data, err) })
			wg.Go(func() { a, err := d.Plan(ctx, ref, asking.PlanInput{}); same("plan "+demo, a.Data, err) })
			wg.Go(func() { a, err := d.Next(ctx, ref, 1, nil); same("next "+demo, a.Data, err) })
		}
		wg.Go(func() { a, err := d.Chart(ctx, "harrow-3", library.FaultFlags{}); same("chart", a.Data, err) })
		wg.Go(func() { d.Source("knowledge/cases/two-faults.hcl") })
	}
	wg.Wait()
}

// What is loaded is kept, and a file that changes is seen at once.
func TestKnowledgeIsKept(t *testing.T) {
	home := t.TempDir()
	d := New(Options{Home: home})
	one, err := d.load.Load(t.Context(), "harrow-3")
	if err != nil {
		t.Fatal(err)
	}
	two, err := d.load.Load(t.Context(), "harrow-3")
	if err != nil || one != two {
		t.Errorf("loaded twice: %v", err)
	}
	if err := os.MkdirAll(filepath.Join(home, "rules", "rules"), fs.ModePerm); err != nil {
		t.Fatal(err)
	}
	text := "language = 1\nbasis \"invented\" {\n  note = \"a test\"\n}\nreporter \"apprentice\" {\n  hit = 0.7\n  false_alarm = 0.1\n}\n"
	if err := os.WriteFile(filepath.Join(home, "rules", "rules", "own.hcl"), []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	three, err := d.load.Load(t.Context(), "harrow-3")
	if err != nil || three == one || three.Knowledge.Hash == one.Knowledge.Hash {
		t.Errorf("the shop's new file is not seen: %v", err)
	}
}
