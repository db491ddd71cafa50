package edit

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"slipcase/engine"
	"slipcase/engine/refine/rulepath"
	"slipcase/rules/syntax"
)

func at(argument string, blocks ...rulepath.Block) rulepath.Path {
	return rulepath.Path{Blocks: blocks, Argument: argument}
}

func bl(typ string, labels ...string) rulepath.Block {
	return rulepath.Block{Type: typ, Labels: labels}
}

var (
	rate   = at("frequency", bl("mode", "burnt"))
	slips  = at("strength", bl("mode", "burnt"), bl("effect", "slips"))
	hot    = at("strength", bl("mode", "burnt"), rulepath.Block{Type: "effect", Labels: []string{"slips"}, When: engine.Hot})
	driver = Change{Text: "0.031", Cases: 12, Note: "learned"}
)

func with(p rulepath.Path) Change { c := driver; c.Path = p; return c }

// Layouts that people and editors leave behind, each with what must come out.
func TestSetLayouts(t *testing.T) {
	record := "  basis \"shop record\" {\n    cases = 12\n    note  = \"learned\"\n  }\n"
	deep := strings.ReplaceAll(record, "  basis", "    basis")
	deep = strings.ReplaceAll(strings.ReplaceAll(deep, "    cases", "      cases"), "    note", "      note")
	deep = strings.ReplaceAll(deep, "\n  }", "\n    }")
	for _, c := range []struct {
		name, src string
		path      rulepath.Path
		want      string
	}{
		{"plain", "language = 1\nmode \"burnt\" {\n  frequency = 0.02 # by eye\n}\n", rate,
			"language = 1\nmode \"burnt\" {\n  frequency = 0.031 # by eye\n" + record + "}\n"},
		{"one line", "language = 1\nmode \"burnt\" { frequency = 0.02 }\n", rate,
			"language = 1\nmode \"burnt\" {\n  frequency = 0.031\n" + record + "}\n"},
		{"one line with comments", "language = 1\nmode /* { */ \"burnt\" /* } */ { frequency = /* } */ 0.02 /* { */ } # {\n", rate,
			"language = 1\nmode /* { */ \"burnt\" /* } */ {\n  frequency = /* } */ 0.031 /* { */\n" + record + "} # {\n"},
		{"empty block", "language = 1\nmode \"burnt\" {}\n", rate,
			"language = 1\nmode \"burnt\" {\n  frequency = 0.031\n" + record + "}\n"},
		{"empty with spaces", "language = 1\nmode \"burnt\" {   }", rate,
			"language = 1\nmode \"burnt\" {\n  frequency = 0.031\n" + record + "}"},
		{"title alone", "language = 1\nmode \"burnt\" {\n  title = \"lining { burnt\"\n}\n", rate,
			"language = 1\nmode \"burnt\" {\n  title = \"lining { burnt\"\n  frequency = 0.031\n" + record + "}\n"},
		{"bare label, comment before the brace's end", "language = 1\nmode burnt {\n  frequency = 0.02\n  /* the\n  end } */ }\n", rate,
			"language = 1\nmode burnt {\n  frequency = 0.031\n" + record + "  /* the\n  end } */ }\n"},
		{"tabs", "language = 1\nmode \"burnt\" {\n\tfrequency = 0.02\n}\n", rate,
			"language = 1\nmode \"burnt\" {\n\tfrequency = 0.031\n\tbasis \"shop record\" {\n\t  cases = 12\n\t  note  = \"learned\"\n\t}\n}\n"},
		{"basis replaced, comments kept", "language = 1\nmode \"burnt\" {\n  basis \"published\" { # hm\n    cite = \"a book\" # p. 3\n    // why\n    note = \"old\"\n  }\n  frequency = 0.02\n}\n", rate,
			"language = 1\nmode \"burnt\" {\n  basis \"shop record\" { # hm\n     # p. 3\n    // why\n    note = \"learned\"\n    cases = 12\n  }\n  frequency = 0.031\n}\n"},
		{"basis on one line", "language = 1\nmode \"burnt\" {\n  basis recalled {}\n  frequency = 0.02\n}\n", rate,
			"language = 1\nmode \"burnt\" {\n  basis \"shop record\" {\n    cases = 12\n    note = \"learned\"\n  }\n  frequency = 0.031\n}\n"},
		{"others keep their basis", "language = 1\nbasis \"recalled\" {\n  note = \"shop\"\n}\nmode \"burnt\" {\n  frequency = 0.02\n  effect \"slips\" { strength = 0.5 }\n}\n", rate,
			"language = 1\nbasis \"recalled\" {\n  note = \"shop\"\n}\nmode \"burnt\" {\n  frequency = 0.031\n  effect \"slips\" {\n    strength = 0.5\n    basis \"recalled\" {\n      note = \"shop\"\n    }\n  }\n" + record + "}\n"},
		{"nested", "language = 1\nmode \"burnt\" {\n  effect \"slips\" {\n    strength = probable\n  }\n}\n", slips,
			"language = 1\nmode \"burnt\" {\n  effect \"slips\" {\n    strength = 0.031\n" + deep + "  }\n}\n"},
		{"nested, by its condition", "language = 1\nmode \"burnt\" {\n  effect \"slips\" { strength = 0.5 }\n  effect \"slips\" {\n    when = hot\n    strength = 0.5\n  }\n}\n", hot,
			"language = 1\nmode \"burnt\" {\n  effect \"slips\" { strength = 0.5 }\n  effect \"slips\" {\n    when = hot\n    strength = 0.031\n" + deep + "  }\n}\n"},
		{"inner block missing", "language = 1\nmode \"burnt\" { frequency = 0.02 }\n", hot,
			"language = 1\nmode \"burnt\" {\n  frequency = 0.02\n  effect \"slips\" {\n    strength = 0.031\n    when     = hot\n" + deep + "  }\n}\n"},
	} {
		for _, style := range []struct {
			name string
			f    func(string) string
		}{
			{"", func(s string) string { return s }},
			{" CRLF", func(s string) string { return strings.ReplaceAll(s, "\n", "\r\n") }},
			{" BOM", func(s string) string { return "\ufeff" + s }},
		} {
			t.Run(c.name+style.name, func(t *testing.T) {
				out, done, err := Set("shop.hcl", []byte(style.f(c.src)), with(c.path))
				if err != nil || !done {
					t.Fatalf("done %v: %v", done, err)
				}
				if d := cmp.Diff(style.f(c.want), string(out)); d != "" {
					t.Error(d)
				}
			})
		}
	}
}

func TestSetRefuses(t *testing.T) {
	for _, c := range []struct {
		name, src string
		change    Change
		want      string
	}{
		{"broken file", "language = 1\nmode \"burnt\" {\n", with(rate), "fix the file first"},
		{"dropped", "language = 1\nmode \"burnt\" {\n  drop = true\n}\n", with(rate), "drop this block"},
		{"two basis blocks of other kinds in the way", "language = 1\nmode \"burnt\" {\n  basis {}\n  frequency = 0.1\n}\n", with(rate), "no kind"},
		{"no number", "language = 1\n", Change{Path: rate, Text: "probable", Cases: 1}, "not a number"},
		{"too large", "language = 1\n", Change{Path: rate, Text: "1.5", Cases: 1}, "not a number"},
		{"not a number", "language = 1\n", Change{Path: rate, Text: "NaN", Cases: 1}, "not a number"},
		{"no case", "language = 1\n", Change{Path: rate, Text: "0.5"}, "at least one case"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, _, err := Set("shop.hcl", []byte(c.src), c.change)
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("error %v, want %q", err, c.want)
			}
		})
	}
}

// Files of the shop as a rule author writes them, with the edit's targets.
var authored = rapid.Custom(func(t *rapid.T) string {
	var b strings.Builder
	nl := rapid.SampledFrom([]string{"\n", "\r\n"}).Draw(t, "nl")
	space := rapid.SampledFrom([]string{"", " ", "\t", "  /* { } \" */ "})
	tail := rapid.SampledFrom([]string{"", "", " # note { \"", " // }", " /* x */"})
	b.WriteString(rapid.SampledFrom([]string{"", "\ufeff"}).Draw(t, "bom"))
	line := func(indent, s string) {
		b.WriteString(indent + s + tail.Draw(t, "tail") + nl)
		for range rapid.IntRange(0, 1).Draw(t, "blank") {
			b.WriteString(rapid.SampledFrom([]string{"", "  ", "# between", "/* two\n lines } */"}).Draw(t, "between") + nl)
		}
	}
	number := func() string {
		return rapid.SampledFrom([]string{"0.02", "1e-3", "probable", "0", "\"expected\""}).Draw(t, "number")
	}
	basis := func(indent string) {
		if rapid.Bool().Draw(t, "basis") {
			kind := rapid.SampledFrom([]string{"\"recalled\"", "invented", "\"published\""}).Draw(t, "kind")
			switch rapid.IntRange(0, 2).Draw(t, "form") {
			case 0:
				line(indent, "basis "+kind+space.Draw(t, "s")+"{}")
			case 1:
				line(indent, "basis "+kind+" { note = \"a \\\"note\\\" {\" }")
			default:
				line(indent, "basis "+kind+" {")
				line(indent+"  ", "cite = \"p. 3\"")
				line(indent, "}")
			}
		}
	}
	line("", "language = 1")
	// Numbers without a basis are refused by the loader, and by Set.
	line("", "basis \"common practice\" {}")
	for _, mode := range []string{"other", "burnt"} {
		if !rapid.Bool().Draw(t, "has") {
			continue
		}
		if rapid.IntRange(0, 3).Draw(t, "short") == 0 {
			line("", "mode \""+mode+"\" {"+space.Draw(t, "s")+"frequency = 0.1"+rapid.SampledFrom([]string{" ", "", " /* } */"}).Draw(t, "e")+"}")
			continue
		}
		line("", "mode"+rapid.SampledFrom([]string{" ", " /* { */ "}).Draw(t, "m")+mode+" {")
		basis("  ")
		if rapid.Bool().Draw(t, "frequency") {
			line("  ", "frequency = "+rapid.SampledFrom([]string{"0.02", "1e-3"}).Draw(t, "f"))
		}
		for _, when := range []string{"", "hot", "cold"} {
			switch rapid.IntRange(0, 2).Draw(t, "effect") {
			case 1:
				if when == "" {
					line("  ", "effect \"slips\" { strength = "+number()+" }")
				}
			case 2:
				line("  ", "effect \"slips\" {")
				basis("    ")
				line("    ", "strength = "+number())
				if when != "" {
					line("    ", "when = "+when)
				}
				line("  ", "}")
			}
		}
		b.WriteString("}" + tail.Draw(t, "end") + nl)
	}
	s := b.String()
	if rapid.Bool().Draw(t, "no end") {
		s = strings.TrimRight(s, "\r\n")
	}
	return s
})

// Whatever the layout: an edit changes its number and nothing else (Set
// compares; here by other means: comments and all other lines survive), a
// second edit puts the number back, and editing twice is editing once.
func TestSetProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		src := authored.Draw(t, "file")
		c := with(rapid.SampledFrom([]rulepath.Path{rate, slips, hot}).Draw(t, "path"))
		out, done, err := Set("f", []byte(src), c)
		if err == nil && !done {
			out, err = Add("f", []byte(src), c)
		}
		if err != nil {
			t.Fatalf("%v\n%s", err, src)
		}
		again, done, err := Set("f", out, c)
		if err != nil || !done || string(again) != string(out) {
			t.Fatalf("editing twice: %v %v\n%s\n%s", done, err, out, again)
		}
		count := func(s string) (n int) {
			for _, mark := range []string{"# note", "// }", "/* x */", "# between", "/* two", "{ } \"", "/* { */", "/* } */"} {
				n += strings.Count(s, mark)
			}
			return n
		}
		if count(src) != count(string(out)) {
			t.Fatalf("comments lost\n%s\n%s", src, out)
		}
		if strings.HasPrefix(src, "\ufeff") != strings.HasPrefix(string(out), "\ufeff") {
			t.Fatal("byte order mark")
		}
		if lone := strings.ReplaceAll(string(out), "\r\n", ""); strings.Contains(src, "\r\n") && strings.Count(lone, "\n") != strings.Count(strings.ReplaceAll(src, "\r\n", ""), "\n") {
			t.Fatalf("line ends\n%q", out)
		}
	})
}

// FuzzSet edits whatever parses: no panic, and what comes out says the number
// and otherwise the same (Set itself compares and refuses).
func FuzzSet(f *testing.F) {
	for _, s := range []string{
		"language = 1\nmode \"burnt\" { frequency = 0.02 }\n",
		"language = 1\nmode burnt {\n  basis recalled {}\n  frequency = 0.02\n  effect slips { strength = 1 }\n}",
		"\ufefflanguage = 1\r\nmode \"burnt\" /* { */ {\r\n}\r\n",
		"mode \"burnt\" {\n/*\n*/ }",
		"mode \"burnt\" { /*\n*/ frequency = 0.5 }",
		"mode \"b\\u0075rnt\" {\n\tfrequency\t=\t\"x\"\n}",
	} {
		f.Add(s)
	}
	files, _ := filepath.Glob("../../knowledge/rules/*.hcl")
	for _, name := range files[:min(3, len(files))] {
		if b, err := os.ReadFile(name); err == nil {
			f.Add(string(b))
		}
	}
	f.Fuzz(func(t *testing.T, src string) {
		for _, p := range []rulepath.Path{rate, slips, hot} {
			out, done, err := Set("f", []byte(src), with(p))
			if err != nil || !done {
				continue
			}
			tree, bad := syntax.Parse("f", string(out))
			if len(bad.List) > 0 {
				t.Fatalf("damaged: %v", bad.List[0])
			}
			found := false
			for _, e := range entries(tree) {
				found = found || e.attr != nil && target(e, []Change{with(p)}) == 0 && e.attr.Value.Text == driver.Text
			}
			if !found {
				t.Fatal("number not set")
			}
		}
	})
}

func TestNoteIsCleaned(t *testing.T) {
	c := with(rate)
	c.Note = "line\nbreak ${x} %{y} \"q\" \\ \u202e\xff"
	out, err := Add("f", nil, c)
	if err != nil {
		t.Fatal(err)
	}
	if _, bad := syntax.Parse("f", string(out)); len(bad.List) > 0 {
		t.Errorf("%v\n%s", bad.List[0], out)
	}
	if want := fmt.Sprintf("language = 1\n\nmode %q {", "burnt"); !strings.HasPrefix(string(out), want) {
		t.Errorf("got\n%s", out)
	}
}
