package rules_test

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
	widths "golang.org/x/text/width"

	"slipcase/engine"
	"slipcase/rules"
	"slipcase/rules/diag"
	"slipcase/rules/internal/told"
	"slipcase/rules/syntax"
)

// hclFiles are all files of the test cases.
func hclFiles(t testing.TB) map[string][]byte {
	out := all(t, "testdata")
	if len(out) < 90 {
		t.Fatalf("%d files", len(out))
	}
	_, snippets := page(t)
	for i, s := range snippets {
		out[string(rune('a'+i))] = []byte(s)
	}
	return out
}

// TestFormat: formatting keeps comments and values, and what is formatted
// stays as it is.
func TestFormat(t *testing.T) {
	formatted := 0
	for name, src := range hclFiles(t) {
		out, err := rules.Format(name, src)
		if err != nil {
			var bad *rules.SyntaxError
			if !errors.As(err, &bad) || len(bad.Diagnostics) == 0 || out != nil {
				t.Errorf("%s: %v", name, err)
			}
			continue
		}
		formatted++
		again, err := rules.Format(name, out)
		if err != nil || !bytes.Equal(again, out) {
			t.Errorf("%s: formatting again changes it: %v\n%s", name, err, cmp.Diff(string(out), string(again)))
		}
		a, _ := syntax.Parse(name, string(src))
		b, _ := syntax.Parse(name, string(out))
		if !syntax.Same(&a.Body, &b.Body) {
			t.Errorf("%s: values changed", name)
		}
	}
	if formatted < 70 {
		t.Errorf("only %d formatted", formatted)
	}
	got, err := rules.Format("x", []byte("language=1 # head\n# kept\nkind \"gear\" {\n title=\"a\"   # why\n   outside   = true\n serves=[\n gearset,\n unit\n]\n/* also kept */\n}\n"))
	want := "language = 1 # head\n# kept\nkind \"gear\" {\n  title   = \"a\" # why\n  outside = true\n  serves = [\n    gearset,\n    unit\n  ]\n  /* also kept */\n}\n"
	if err != nil || string(got) != want {
		t.Errorf("%v\n%s", err, cmp.Diff(want, string(got)))
	}
	// Line ends and byte order mark stay.
	got, err = rules.Format("x", []byte("\ufefflanguage=1\r\nkind \"gear\" {\r\ntitle=\"a\"\r\n}\r\n"))
	if want := "\ufefflanguage = 1\r\nkind \"gear\" {\r\n  title = \"a\"\r\n}\r\n"; err != nil || string(got) != want {
		t.Errorf("%v %q", err, got)
	}
	if _, err := rules.Format("x", []byte("a = "+strings.Repeat("[", 60000))); err == nil {
		t.Error("deep nesting is formatted")
	}
}

// TestRender: no line is wider than asked, no control character of a source
// reaches the terminal, and carets stand under the words at fault.
func TestRender(t *testing.T) {
	dirs, _ := filepath.Glob("testdata/cases/*")
	n := 0
	for _, dir := range dirs {
		opt := caseOptions(filepath.Base(dir))
		_, diags := rules.Load(opt)
		for _, d := range diags {
			for _, width := range []int{0, 30, 41, 60, 80, 200} {
				n++
				checkRender(t, d, told.Source(opt, d.Subject.File), width)
			}
		}
	}
	if n < 500 {
		t.Errorf("%d rendered", n)
	}
	for _, src := range []string{"", "\n", "\x1b[31mred\x00\n", "a\tb = \"\u0301x\" \xff\n", strings.Repeat("熱", 300) + "\n", strings.Repeat("x", 100000)} {
		for _, r := range []engine.Range{{}, {File: "x", Line: 1, Column: 1, EndLine: 1, EndColumn: 1}, {File: "x", Line: 1, Column: 5, EndLine: 1, EndColumn: 9},
			{File: "x", Line: 9, Column: 5, EndLine: 12, EndColumn: 9}, {File: "x", Line: 1, Column: 500, EndLine: 3, EndColumn: 1}, {File: "x", Line: 1, Column: 3, EndLine: 1, EndColumn: 1}} {
			for _, width := range []int{-1, 30, 80} {
				checkRender(t, engine.Diagnostic{Severity: engine.Error, Summary: "s\x1b[0m", Detail: "d \x07 e", Subject: r, Context: r, Also: r}, []byte(src), width)
			}
		}
	}
}

func checkRender(t *testing.T, d engine.Diagnostic, src []byte, width int) {
	t.Helper()
	text := told.Render(d, src, width)
	lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
	for i, line := range lines {
		for _, c := range line {
			if unicode.IsControl(c) {
				t.Fatalf("control character in %q", line)
			}
		}
		wide := 0
		for _, c := range line {
			switch {
			case unicode.In(c, unicode.Mn, unicode.Me):
			case widths.LookupRune(c).Kind() == widths.EastAsianWide || widths.LookupRune(c).Kind() == widths.EastAsianFullwidth:
				wide += 2
			default:
				wide++
			}
		}
		source := strings.Contains(line, " | ")
		if source && wide > max(width, 30) {
			t.Fatalf("width %d: %d columns in %q", width, wide, line)
		}
		if strings.TrimRight(line, " ") != line && !source {
			t.Fatalf("line %d ends in spaces: %q", i, line)
		}
	}
	if !strings.HasPrefix(text, d.Subject.String()) || !utf8.ValidString(text) {
		t.Fatalf("%q", text)
	}
}

// TestCarets compares the marked columns with the subject, where all of the
// line is shown.
func TestCarets(t *testing.T) {
	src := []byte("a = 1\n\tkurz = \"groß 熱 x\" y\n\"e\u0301\" z\n")
	if got := told.Render(engine.Diagnostic{Subject: engine.Range{File: "x", Line: 3, Column: 5, EndLine: 3, EndColumn: 6}}, src, 80); !strings.Contains(got, "\n    |     ^\n") {
		t.Errorf("after a joined mark:\n%s", got)
	}
	for _, c := range []struct {
		from, to int
		want     string
	}{
		{2, 6, "  2 |   kurz = \"groß 熱 x\" y\n    |   ^^^^"},
		{9, 19, "  2 |   kurz = \"groß 熱 x\" y\n    |          ^^^^^^^^^^^"},
		{20, 21, "  2 |   kurz = \"groß 熱 x\" y\n    |                      ^"},
	} {
		d := engine.Diagnostic{Severity: engine.Error, Summary: "s", Subject: engine.Range{File: "x", Line: 2, Column: c.from, EndLine: 2, EndColumn: c.to}}
		if got := told.Render(d, src, 80); !strings.Contains(got, c.want+"\n") {
			t.Errorf("%d-%d:\n%s", c.from, c.to, got)
		}
	}
}

// TestHostileNames: sound syntax that names nothing known costs little.
func TestHostileNames(t *testing.T) {
	head := "language = 1\nbasis \"invented\" {\n}\n"
	fill := func(one string) string {
		return head + strings.Repeat(one, (syntax.MaxBytes-len(head))/len(one))
	}
	numbered := func(format string) string {
		var b strings.Builder
		b.WriteString(head)
		for i := 0; b.Len() < syntax.MaxBytes-len(format)-200; i++ {
			b.WriteString(strings.ReplaceAll(format, "#", strings.Repeat("x", i%40)+string(rune('a'+i%26))))
		}
		return b.String()
	}
	for name, src := range map[string]string{
		"unknown arguments": "language = 1\nkind \"a\" {\n" + numbered("y# = 1\n")[len(head):] + "}\n",
		"unknown blocks":    fill("efect \"x\" {\n}\n"),
		"duplicates":        fill("stress \"x\" {\n}\n"),
		"unknown names":     numbered("mode \"m#\" {\nof = [k#]\n}\n"),
		"names in a list":   head + "check \"c\" {\nyields = [\n" + numbered("\"f#\",\n")[len(head):] + "]\n}\n",
		"deep blocks":       fill(strings.Repeat("mode \"a\" {\n", 30) + strings.Repeat("}\n", 30)),
		"units":             fill("unit \"u\" {\n}\n"),
		"links":             head + "mode \"m\" {\n" + numbered("because \"s#\" {\nstrength = 1\n}\n")[len(head):] + "}\n",
	} {
		t.Run(name, func(t *testing.T) {
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			_, diags := rules.Load(rules.Options{Layers: []rules.Layer{base}, Extra: []rules.File{{Name: "x.hcl", Src: []byte(src)}}})
			runtime.ReadMemStats(&after)
			if len(src) < syntax.MaxBytes-400 || len(src) > syntax.MaxBytes {
				t.Fatalf("%d bytes", len(src))
			}
			if len(diags) == 0 || len(diags) > diag.Most+1 {
				t.Errorf("%d diagnostics", len(diags))
			}
			if took := after.TotalAlloc - before.TotalAlloc; took > 160<<20 {
				t.Errorf("%d KiB took %d MiB", len(src)>>10, took>>20)
			}
		})
	}
}

func FuzzLoad(f *testing.F) {
	for _, src := range hclFiles(f) {
		f.Add(src)
	}
	f.Fuzz(func(t *testing.T, src []byte) {
		if len(src) > 1<<15 {
			return
		}
		opt := rules.Options{Layers: []rules.Layer{base}, Extra: []rules.File{{Name: "fuzz.hcl", Src: src}}}
		k, diags := rules.Load(opt)
		c, more := rules.LoadCase("fuzz.hcl", src)
		if c != nil {
			more = append(more, rules.ResolveCase(k, c)...)
		}
		for _, d := range append(diags, more...) {
			if d.Summary == "" || d.Severity == "" {
				t.Fatalf("%+v", d)
			}
			checkRender(t, d, told.Source(opt, d.Subject.File), 60)
		}
		if out, err := rules.Format("fuzz.hcl", src); err == nil {
			if again, err := rules.Format("fuzz.hcl", out); err != nil || !bytes.Equal(again, out) {
				t.Fatalf("formatting again: %v\n%q\n%q", err, out, again)
			}
		}
	})
}

// bigKnowledge is about 1 MB of rules and one unit.
func bigKnowledge(b *testing.B) rules.Options {
	files := mapLayer{}
	for p, src := range all(b, "testdata/base") {
		files[p] = src
	}
	for i := range 5 {
		var s strings.Builder
		s.WriteString("language = 1\nbasis \"invented\" {\n}\n")
		for j := 0; s.Len() < 205<<10; j++ {
			n := string(rune('a'+i)) + "_" + strings.Repeat("n", 1+j%9) + "_" + itoa(j)
			s.WriteString("mode \"m_" + n + "\" {\n  title     = \"some way to fail\"\n  of        = [friction_pack]\n  frequency = 0.01\n  look      = \"black and thin\"\n" +
				"  effect \"slips\" {\n    strength = probable\n  }\n  shows \"lining_in_pan\" {\n    strength = 0.35\n  }\n  because \"low_apply_pressure\" {\n    strength = uncertain\n  }\n}\n")
		}
		files["rules/big-"+string(rune('a'+i))+".hcl"] = []byte(s.String())
	}
	return rules.Options{Layers: []rules.Layer{{Name: "big", FS: files.fs()}}, Unit: "mill-2"}
}

func BenchmarkLoad1MB(b *testing.B) {
	opt := bigKnowledge(b)
	k, diags := rules.Load(opt)
	if len(diags) > 0 {
		b.Fatal(diags[0])
	}
	b.ReportMetric(float64(len(k.Modes)), "modes")
	b.ReportAllocs()
	for b.Loop() {
		rules.Load(opt)
	}
}

func BenchmarkLoadShipped(b *testing.B) {
	opt := rules.Options{Layers: []rules.Layer{{Name: "knowledge", FS: os.DirFS("../knowledge")}}}
	b.ReportAllocs()
	for b.Loop() {
		rules.Load(opt)
	}
}
