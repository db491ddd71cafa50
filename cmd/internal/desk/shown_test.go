package desk

import (
	"encoding/json"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/library"
	"slipcase/cmd/internal/load"
	"slipcase/engine"
	"slipcase/engine/advise"
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
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	more, err := filepath.Glob("../load/*.go")
	if err != nil {
		t.Fatal(err)
	}
	names := regexp.MustCompile(`(^|[^/\w])slipcase [a-z]|(^|\s)--[a-z]|SLIPCASE_`)
	looked := 0
	for _, f := range append(files, more...) {
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

// An answer holds what it can be worked out from again, to the last bit.
func TestAnswersCanBeWorkedOutAgain(t *testing.T) {
	d := shopDesk(t)
	opened(t, d, "northfork-4")
	ctx := t.Context()
	if _, err := d.Note(ctx, JobRef{}, NoteInput{Items: items("slips@D/3", "slips@R/R=no", "line_pressure@idle/R=62psi")}); err != nil {
		t.Fatal(err)
	}
	for _, ref := range []CaseRef{{}, {Demo: "two-faults"}, {Demo: "slip-one-gear"}} {
		got, err := d.Suspects(ctx, ref, 5)
		if err != nil {
			t.Fatal(err)
		}
		text, err := json.Marshal(got.Input)
		if err != nil {
			t.Fatal(err)
		}
		var in answer.Input
		if err := json.Unmarshal(text, &in); err != nil {
			t.Fatal(err)
		}
		c, err := in.Case.File(in.Unit)
		if err != nil {
			t.Fatal(err)
		}
		x, err := d.load.Load(ctx, in.Unit)
		if err != nil {
			t.Fatal(err)
		}
		if x.Knowledge.Hash != got.Rules {
			t.Fatalf("rules %s, the answer names %s", x.Knowledge.Hash, got.Rules)
		}
		m, err := x.Model(in.Unit)
		if err != nil {
			t.Fatal(err)
		}
		top, err := strconv.Atoi(in.Options["top"])
		if err != nil {
			t.Fatal(err)
		}
		w := &work{k: x.Knowledge, m: m, c: c}
		again, err := w.suspects(top, in.Options["firm"] == "true", true)
		if err != nil {
			t.Fatal(err)
		}
		again.Data.Case.Status = got.Data.Case.Status
		if !reflect.DeepEqual(again.Data, got.Data) || again.Method != got.Method {
			t.Errorf("%+v: worked out again it is\n%+v, not\n%+v", ref, again.Data, got.Data)
		}
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
		for _, demo := range load.Demos()[:2] {
			ref := CaseRef{Demo: demo}
			wg.Go(func() { a, err := d.Suspects(ctx, ref, 3); same("suspects "+demo, a.Data, err) })
			wg.Go(func() { a, err := d.Plan(ctx, ref, PlanInput{}); same("plan "+demo, a.Data, err) })
			wg.Go(func() { a, err := d.Next(ctx, ref, 1, nil); same("next "+demo, a.Data, err) })
		}
		wg.Go(func() { a, err := d.Library.Chart(ctx, "harrow-3", library.FaultFlags{}); same("chart", a.Data, err) })
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

// JSON of learn holds what the screen shows, and says how much more there is.
func TestLearnShown(t *testing.T) {
	x := Learned{Changes: make([]LearnChange, 25), Kept: make([]LearnKept, 30), Skipped: []LearnSkipped{{Reason: "r", Cases: make([]string, 7)}, {Reason: "s", Cases: []string{"1"}}}}
	for i := range 8 {
		x.Kept[3*i].Rival = "other"
	}
	y := x.Shown()
	if len(y.Changes) != 20 || y.More != 5 || len(y.Kept) != 5 || y.MoreKept != 25 || y.Kept[0].Rival == "" {
		t.Errorf("%d changes and %d, %d kept and %d", len(y.Changes), y.More, len(y.Kept), y.MoreKept)
	}
	if len(y.Skipped[0].Cases) != 5 || y.Skipped[0].More != 2 || y.Skipped[1].More != 0 || len(x.Skipped[0].Cases) != 7 {
		t.Errorf("skipped: %+v", y.Skipped)
	}
}

// Checks that are not open any more are named for each reason while they are
// few; those that wait for a step are counted.
func TestClosedChecks(t *testing.T) {
	check := func(n int, why advise.Obstacle) (out []advise.Refusal) {
		for i := range n {
			out = append(out, advise.Refusal{Check: &engine.Check{Name: string(rune('a' + i))}, Why: why, Step: &engine.Step{Name: "pull"}})
		}
		return out
	}
	list, waiting := closed(slices.Concat(check(4, advise.UnitOut), check(3, advise.NeedsStep), check(5, advise.TooLate)))
	if waiting != 3 || len(list) != 2 {
		t.Fatalf("%d wait, %+v", waiting, list)
	}
	if len(list[0].Checks) != 4 || list[0].More != 0 || len(list[1].Checks) != 0 || list[1].More != 5 {
		t.Errorf("%+v", list)
	}
}

// A run of learn that hit its limit says so.
func TestLimitOfLearningIsTold(t *testing.T) {
	for _, cut := range []bool{true, false} {
		said := false
		for _, m := range doubts(&Learned{Cases: 50, Cut: cut}) {
			said = said || strings.Contains(m.Summary, "limit")
		}
		if said != cut {
			t.Errorf("cut %v, said %v", cut, said)
		}
	}
}
