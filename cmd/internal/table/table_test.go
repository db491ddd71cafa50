package table

import (
	"slices"
	"strings"
	"testing"
	"unicode"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func TestWrap(t *testing.T) {
	for _, c := range []struct {
		name, in string
		width    int
		want     []string
	}{
		{"empty", "", 10, []string{""}},
		{"fits", "two words", 10, []string{"two words"}},
		{"at spaces", "no drive in third", 10, []string{"no drive", "in third"}},
		{"item of a list", "- lining burnt away", 12, []string{"- lining", "  burnt away"}},
		{"keeps line breaks", "a\nb", 10, []string{"a", "b"}},
		{"long name at its joints", "forward_frictions/burnt_friction", 12, []string{"forward_", "frictions/", "burnt_", "friction"}},
		{"long name begins on the line", "see forward_frictions/burnt", 20, []string{"see forward_", "frictions/burnt"}},
		{"no joint", "abcdefgh", 3, []string{"abc", "def", "gh"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			if d := cmp.Diff(c.want, Wrap(c.in, c.width)); d != "" {
				t.Error(d)
			}
		})
	}
}

func TestTableLooks(t *testing.T) {
	var b strings.Builder
	p := NewPage(&b, 42, false)
	p.Head("Chart")
	tbl := Table{Columns: []Column{{Title: "row"}, {Title: "torque on it", Right: true}, {Title: "under the fault"}}}
	tbl.Add("D/1", "1.00", "no drive")
	tbl.Add("D/2", "12.50", "acts as 1, and engine braking is lost")
	p.Table(tbl)
	p.Head("Next")
	p.Item("  - ", "an item that is wrapped under its own text")
	want := `Chart
     torque
row   on it  under the fault
---  ------  -----------------------------
D/1    1.00  no drive
D/2   12.50  acts as 1, and engine braking
             is lost

Next
  - an item that is wrapped under its own
    text
`
	if d := cmp.Diff(want, b.String()); d != "" {
		t.Error(d)
	}
	if p.Err() != nil {
		t.Error(p.Err())
	}
}

func TestColorOnlyAddsCodes(t *testing.T) {
	print := func(color bool) string {
		var b strings.Builder
		p := NewPage(&b, 40, color)
		p.Head("Head")
		p.StyledItem("- ", "a warning that goes over two lines of text", Warn)
		tbl := Table{Columns: []Column{{Title: "a"}, {Title: "b"}}, Rows: [][]Cell{{{Text: "x", Style: Bad}, {Text: "words that are wrapped in their cell, twice"}}}}
		p.Table(tbl)
		return b.String()
	}
	plain, color := print(false), print(true)
	if plain == color || strings.Contains(plain, "\x1b") {
		t.Error("color on and off must differ, and off must have no codes")
	}
	var stripped strings.Builder
	for i, part := range strings.Split(color, "\x1b[") {
		if i > 0 {
			_, part, _ = strings.Cut(part, "m")
		}
		stripped.WriteString(part)
	}
	trim := func(s string) string {
		lines := strings.Split(s, "\n")
		for i := range lines {
			lines[i] = strings.TrimRight(lines[i], " ")
		}
		return strings.Join(lines, "\n")
	}
	if d := cmp.Diff(plain, trim(stripped.String())); d != "" {
		t.Error(d)
	}
}

// Whatever the texts: no line is wider than the page, and every character of
// every cell is printed.
func TestNeverWiderThanThePage(t *testing.T) {
	text := rapid.StringOfN(rapid.RuneFrom([]rune("abcdefghij klmno_/@-. é世µ")), 0, 60, -1)
	rapid.Check(t, func(t *rapid.T) {
		width := rapid.IntRange(40, 100).Draw(t, "width")
		n := rapid.IntRange(1, 9).Draw(t, "columns")
		tbl := Table{}
		want := map[rune]int{}
		count := func(s string) {
			for _, r := range s {
				if !unicode.IsSpace(r) && r != '-' {
					want[r]++
				}
			}
		}
		for range n {
			c := Column{Title: text.Draw(t, "title"), Right: rapid.Bool().Draw(t, "right"), Keep: rapid.Bool().Draw(t, "keep")}
			count(c.Title)
			tbl.Columns = append(tbl.Columns, c)
		}
		for range rapid.IntRange(0, 4).Draw(t, "rows") {
			row := make([]string, n)
			for i := range row {
				row[i] = text.Draw(t, "cell")
				count(row[i])
			}
			tbl.Add(row...)
		}
		var b strings.Builder
		p := NewPage(&b, width, false)
		p.Table(tbl)
		if p.Err() != nil {
			t.Fatal(p.Err())
		}
		got := map[rune]int{}
		for _, l := range strings.Split(b.String(), "\n") {
			if Width(l) > width {
				t.Fatalf("line of %d columns on a page of %d: %q", Width(l), width, l)
			}
			for _, r := range l {
				if !unicode.IsSpace(r) && r != '-' {
					got[r]++
				}
			}
		}
		if d := cmp.Diff(want, got); d != "" {
			t.Fatalf("characters lost or added: %s\n%s", d, b.String())
		}
	})
}

func TestCut(t *testing.T) {
	if got := Cut("abcdef", 4); got != "abc~" {
		t.Errorf("got %q", got)
	}
	if got := Cut("abcd", 4); got != "abcd" {
		t.Errorf("got %q", got)
	}
}

// A column that is to keep its width gives way last, the widest first, and the
// space between columns is narrowed only where words would break.
func TestFit(t *testing.T) {
	words := func(n int) string { return strings.TrimSpace(strings.Repeat("word ", n)) } // 5n-1 columns, 4 at least
	tbl := Table{Columns: []Column{{Title: "a", Keep: true}, {Title: "b"}, {Title: "c"}}}
	tbl.Add(words(4), words(6), words(8)) // 19, 29 and 39 columns
	for _, c := range []struct {
		width, gap int
		want       []int
	}{
		{91, 2, []int{19, 29, 39}}, // 87 and two spaces of two
		{90, 2, []int{19, 29, 38}},
		{81, 2, []int{19, 29, 29}},
		{71, 2, []int{19, 24, 24}},
		{31, 2, []int{19, 4, 4}}, // the others are down to their words
		{30, 2, []int{18, 4, 4}}, // only now does the first give way
		{16, 2, []int{4, 4, 4}},
		{15, 1, []int{5, 4, 4}}, // whole words with one space between
		{14, 1, []int{4, 4, 4}},
		{13, 1, []int{3, 4, 4}}, // below that words break
	} {
		w, gap := tbl.fit(c.width)
		if gap != c.gap || !slices.Equal(w, c.want) {
			t.Errorf("width %d: columns %v with %d between, want %v with %d", c.width, w, gap, c.want, c.gap)
		}
		if fits := tbl.Fits(c.width); fits != (c.width >= 14) {
			t.Errorf("width %d: fits %v", c.width, fits)
		}
	}
}
