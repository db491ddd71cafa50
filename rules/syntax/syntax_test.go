package syntax

import (
	"encoding/binary"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"testing"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
	"github.com/zclconf/go-cty/cty"
	"golang.org/x/text/unicode/norm"
)

// snippets are those of the language's own page.
func snippets(t testing.TB) []string {
	b, err := os.ReadFile("../language.md")
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, m := range regexp.MustCompile("(?s)```hcl\n(.*?)```").FindAllStringSubmatch(string(b), -1) {
		out = append(out, m[1])
	}
	if len(out) < 7 {
		t.Fatalf("only %d snippets found", len(out))
	}
	return out
}

// texts are the snippets and every case of the loader, wrong ones too.
func texts(t testing.TB) []string {
	out := snippets(t)
	n := 0
	err := filepath.WalkDir("../testdata", func(p string, d os.DirEntry, err error) error {
		if err == nil && strings.HasSuffix(p, ".hcl") {
			b, err := os.ReadFile(p)
			if err != nil {
				return err
			}
			out = append(out, string(b))
			n++
		}
		return err
	})
	if err != nil || n < 50 {
		t.Fatalf("%d files, %v", n, err)
	}
	return out
}

// hostile are files meant to cost more than they weigh. Each is refused.
var hostile = map[string]func() string{
	"brackets 60000":           func() string { return "a = " + strings.Repeat("[", 60000) },
	"braces 60000":             func() string { return strings.Repeat("a {\n", 60000) },
	"parentheses 60000":        func() string { return "a = " + strings.Repeat("(", 60000) },
	"minus 256000":             func() string { return "a = " + strings.Repeat("-", 256000) + "1" },
	"not 256000":               func() string { return "a = " + strings.Repeat("!", 256000) + "true" },
	"nested for":               func() string { return "a = " + strings.Repeat("[for x in ", 7) + "y" + strings.Repeat(": x]", 7) },
	"nested for 10000":         func() string { return "a = " + strings.Repeat("[for x in ", 10000) + "y" },
	"heredoc 128000 lines":     func() string { return "a = <<END\n" + strings.Repeat("\n", 128000) + "END\n" },
	"heredocs without end":     func() string { return strings.Repeat("a = <<END\n", 20000) },
	"templates":                func() string { return "a = \"" + strings.Repeat("${\"", 60000) },
	"template on each line":    func() string { return strings.Repeat("a = \"${x}\"\n", 20000) },
	"conditionals":             func() string { return "a = " + strings.Repeat("b ? c : ", 30000) + "d" },
	"splats":                   func() string { return "a = b" + strings.Repeat("[*]", 80000) },
	"dots":                     func() string { return "a = b" + strings.Repeat(".c", 120000) },
	"indexes":                  func() string { return "a = b" + strings.Repeat("[0]", 80000) },
	"calls":                    func() string { return "a = " + strings.Repeat("f(", 100000) },
	"objects":                  func() string { return "a = " + strings.Repeat("{b=", 80000) },
	"exponent":                 func() string { return "a = 1e999999999\n" },
	"digits":                   func() string { return "a = " + strings.Repeat("9", 250000) },
	"one argument many times":  func() string { return strings.Repeat("a = 1\n", 40000) },
	"labels":                   func() string { return "a " + strings.Repeat("\"b\" ", 60000) + "{\n}\n" },
	"junk lines":               func() string { return strings.Repeat("a b\n", 60000) },
	"junk characters":          func() string { return strings.Repeat("¤", 120000) },
	"quotes":                   func() string { return strings.Repeat("\"", 256000) },
	"unclosed comment":         func() string { return strings.Repeat("/*", 128000) },
	"wide letters on one line": func() string { return "a = [" + strings.Repeat("\"é\",", 50000) + "\n" },
	"joined marks":             func() string { return "a = \"e" + strings.Repeat("\u0301", 100000) + "\"\nb" },
	"nul bytes":                func() string { return strings.Repeat("\x00", 200000) },
	"binary": func() string {
		b := make([]byte, 200000)
		x := uint64(88172645463325252)
		for i := 0; i+8 <= len(b); i += 8 {
			x ^= x << 13
			x ^= x >> 7
			x ^= x << 17
			binary.LittleEndian.PutUint64(b[i:], x)
		}
		return string(b)
	},
	"longer than a file may be": func() string { return strings.Repeat("# comment\n", 30000) },
}

// TestHostile refuses each within bounded memory: the parser takes some 40 MiB
// for 256 KiB of ordinary rules, and three times that for the densest text
// that the guard lets through.
func TestHostile(t *testing.T) {
	for name, text := range hostile {
		t.Run(name, func(t *testing.T) {
			src := text()
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			f, p := Parse("hostile.hcl", src)
			runtime.ReadMemStats(&after)
			if len(p.List) == 0 {
				t.Fatal("accepted")
			}
			if len(p.List) > MaxProblems {
				t.Errorf("%d diagnostics", len(p.List))
			}
			if took := after.TotalAlloc - before.TotalAlloc; took > 160<<20 {
				t.Errorf("%d KiB of text took %d KiB", len(src)>>10, took>>10)
			}
			for _, d := range p.List {
				if d.Subject.Line < 1 || d.Subject.Column < 1 || d.Subject.EndByte < d.Subject.Byte || d.Subject.EndByte > len(src)+1 {
					t.Fatalf("range %+v", d.Subject)
				}
			}
			_ = f
		})
	}
}

// TestDepth reads as deep as is allowed and no deeper.
func TestDepth(t *testing.T) {
	nested := func(n int) string { return "a = " + strings.Repeat("[", n) + strings.Repeat("]", n) + "\n" }
	if _, p := Parse("x", nested(MaxDepth)); len(p.List) != 0 {
		t.Error(p.List[0])
	}
	if _, p := Parse("x", nested(MaxDepth+1)); len(p.List) != 1 || p.List[0].Summary != "nested too deep" {
		t.Error(p.List)
	}
	blocks := func(n int) string { return strings.Repeat("a {\n", n) + strings.Repeat("}\n", n) }
	if _, p := Parse("x", blocks(MaxDepth)); len(p.List) != 0 {
		t.Error(p.List[0])
	}
	if _, p := Parse("x", blocks(MaxDepth+1)); len(p.List) != 1 || p.List[0].Summary != "nested too deep" {
		t.Error(p.List)
	}
}

// TestRecovery: what follows a fault is still read.
func TestRecovery(t *testing.T) {
	for _, fault := range []string{
		"a = <<X\ntext }\nX\n", "a = f(1,\n2)\n", "a = {\nx = 1\n}\n", "a = \"${b}\"\n", "a = \"open\n", "a = [1, 2 3]\n", "a = [\n1,\n(2),\n3\n]\n",
		"a = b ? c : d\n", "a = 1 + 1\n", "a = --1\n", "a\n", "a = \n", "= 1\n", "a = 1,\n", "a = 5mm\n", "\"a\" = 1\n", "a = b.c.d\n", "a = b[0]\n", "a = b[\n0]\n", "a = 'x'\n",
	} {
		for _, around := range []string{"%sgood = 1\n", "block {\n%sgood = 1\n}\nlast = 1\n"} {
			src := fmt.Sprintf(around, fault)
			f, p := Parse("x", src)
			if len(p.List) != 1 {
				t.Errorf("%q: %d diagnostics: %v", src, len(p.List), p.List)
			}
			body := &f.Body
			if len(f.Body.Blocks) > 0 {
				body = &f.Body.Blocks[0].Body
				if len(f.Body.Attrs) != 1 || f.Body.Attrs[0].Name != "last" {
					t.Errorf("%q: what follows the block is lost", src)
				}
			}
			found := false
			for _, a := range body.Attrs {
				found = found || a.Name == "good"
			}
			if !found {
				t.Errorf("%q: what follows is lost", src)
			}
		}
	}
}

// TestAgainstParser compares with HCL's own parser on all texts at hand.
func TestAgainstParser(t *testing.T) {
	accepted := 0
	for _, src := range texts(t) {
		accepted += agree(t, src)
	}
	if accepted < 40 {
		t.Errorf("only %d texts were accepted and compared", accepted)
	}
}

func FuzzParse(f *testing.F) {
	for _, s := range texts(f) {
		f.Add(s)
	}
	for _, s := range hostile {
		if text := s(); len(text) < 4096 {
			f.Add(text)
		} else {
			f.Add(text[:4096])
		}
	}
	f.Fuzz(func(t *testing.T, src string) {
		if len(src) > 1<<16 {
			return
		}
		agree(t, src)
	})
}

// agree checks that what Parse accepts, HCL's parser accepts with the same
// tree and places. It gives 1 when the text was accepted.
func agree(t *testing.T, src string) int {
	t.Helper()
	f, p := Parse("x.hcl", src)
	for _, d := range p.List {
		if r := d.Subject; r.Line < 1 || r.Column < 1 || r.EndLine < r.Line || r.Byte > r.EndByte {
			t.Fatalf("range %+v of %q", r, d.Summary)
		}
	}
	if len(p.List) > 0 || p.More > 0 {
		return 0
	}
	h, diags := hclsyntax.ParseConfig([]byte(src), "x.hcl", hcl.InitialPos)
	if diags.HasErrors() {
		t.Fatalf("accepted, but HCL says: %v\n%q", diags, src)
	}
	sameBody(t, f, &f.Body, h.Body.(*hclsyntax.Body))
	return 1
}

func sameBody(t *testing.T, f *File, a *Body, b *hclsyntax.Body) {
	t.Helper()
	if len(a.Attrs) != len(b.Attributes) || len(a.Blocks) != len(b.Blocks) {
		t.Fatalf("%d arguments and %d blocks; HCL has %d and %d", len(a.Attrs), len(a.Blocks), len(b.Attributes), len(b.Blocks))
	}
	for i := range a.Attrs {
		x := &a.Attrs[i]
		y := b.Attributes[x.Name]
		if y == nil {
			t.Fatalf("argument %s is not in HCL's tree", x.Name)
		}
		sameRange(t, f, x.At, y.SrcRange)
		sameRange(t, f, x.NameAt, y.NameRange)
		sameValue(t, f, &x.Value, y.Expr)
	}
	for i, x := range a.Blocks {
		y := b.Blocks[i]
		if x.Type != y.Type || len(x.Labels) != len(y.Labels) {
			t.Fatalf("block %s %v; HCL has %s %v", x.Type, x.Labels, y.Type, y.Labels)
		}
		sameRange(t, f, x.TypeAt, y.TypeRange)
		sameRange(t, f, hcl.RangeBetween(x.TypeAt, x.Close), hcl.RangeBetween(y.TypeRange, y.CloseBraceRange))
		for j := range x.Labels {
			if norm.NFC.String(x.Labels[j].Text) != norm.NFC.String(y.Labels[j]) {
				t.Fatalf("label %q; HCL has %q", x.Labels[j].Text, y.Labels[j])
			}
			sameRange(t, f, x.Labels[j].At, y.LabelRanges[j])
		}
		sameBody(t, f, &x.Body, y.Body)
	}
}

// cutCharacter is where HCL's scanner cuts a character in two and counts one
// column too many: a sign of its templates before a character of several bytes.
var cutCharacter = regexp.MustCompile(`[$%][^\x00-\x7f]`)

func sameRange(t *testing.T, f *File, s, r hcl.Range) {
	t.Helper()
	a := Range(s)
	if cutCharacter.MatchString(f.Src) {
		a.Column, a.EndColumn = r.Start.Column, r.End.Column
	}
	if a.Byte != r.Start.Byte || a.EndByte != r.End.Byte || a.Line != r.Start.Line || a.EndLine != r.End.Line || a.Column != r.Start.Column || a.EndColumn != r.End.Column {
		t.Fatalf("range %d:%d-%d:%d (%d-%d); HCL has %v (%d-%d)", a.Line, a.Column, a.EndLine, a.EndColumn, a.Byte, a.EndByte, r, r.Start.Byte, r.End.Byte)
	}
}

func sameValue(t *testing.T, f *File, a *Value, e hclsyntax.Expression) {
	t.Helper()
	switch a.Kind {
	case String:
		v, diags := e.Value(nil)
		if diags.HasErrors() || v.Type() != cty.String || norm.NFC.String(a.Text) != v.AsString() {
			t.Fatalf("text %q; HCL has %#v", a.Text, v)
		}
	case Number:
		v, diags := e.Value(nil)
		if diags.HasErrors() || v.Type() != cty.Number {
			t.Fatalf("number %q; HCL has %#v", a.Text, v)
		}
		want, err := cty.ParseNumberVal(a.Text)
		if err != nil || want.AsBigFloat().Cmp(v.AsBigFloat()) != 0 {
			t.Fatalf("number %q; HCL has %#v", a.Text, v)
		}
	case Word:
		if a.Text == "true" || a.Text == "false" {
			v, diags := e.Value(nil)
			if diags.HasErrors() || v.Type() != cty.Bool || v.True() != (a.Text == "true") {
				t.Fatalf("%s; HCL has %#v", a.Text, v)
			}
			break
		}
		if got := hcl.ExprAsKeyword(e); got != a.Text {
			t.Fatalf("word %q; HCL has %q", a.Text, got)
		}
	case Ref:
		tr, diags := hcl.AbsTraversalForExpr(e)
		if diags.HasErrors() || len(tr) != 2 || tr.RootName() != a.Text {
			t.Fatalf("reference %s.%s; HCL has %v", a.Text, a.Key, tr)
		}
		key := ""
		switch step := tr[1].(type) {
		case hcl.TraverseAttr:
			key = step.Name
		case hcl.TraverseIndex:
			key = step.Key.AsString()
		}
		if key != norm.NFC.String(a.Key) {
			t.Fatalf("reference to %q; HCL has %q", a.Key, key)
		}
	case List:
		items, diags := hcl.ExprList(e)
		if diags.HasErrors() || len(items) != len(a.Items) {
			t.Fatalf("list of %d; HCL has %d", len(a.Items), len(items))
		}
		for i := range items {
			sameValue(t, f, &a.Items[i], items[i].(hclsyntax.Expression))
		}
	default:
		t.Fatal("a bad value without a diagnostic")
	}
	sameRange(t, f, a.At, e.Range())
}

func BenchmarkParse(b *testing.B) {
	one := strings.Join(snippets(b), "")
	s := strings.Repeat(one, MaxBytes/len(one))
	b.SetBytes(int64(len(s)))
	b.ReportAllocs()
	for b.Loop() {
		Parse("x", s)
	}
}

func BenchmarkHCLParser(b *testing.B) {
	one := strings.Join(snippets(b), "")
	s := []byte(strings.Repeat(one, MaxBytes/len(one)))
	b.SetBytes(int64(len(s)))
	b.ReportAllocs()
	for b.Loop() {
		hclsyntax.ParseConfig(s, "x", hcl.InitialPos)
	}
}
