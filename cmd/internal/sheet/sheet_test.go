package sheet_test

import (
	"bytes"
	"context"
	"fmt"
	"html/template"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"golang.org/x/net/html"

	"slipcase/cmd/internal/chrome"
	"slipcase/cmd/internal/desk"
	"slipcase/cmd/internal/desk/asking"
	"slipcase/cmd/internal/desk/casework"
	"slipcase/cmd/internal/desk/opened"
	"slipcase/cmd/internal/desk/paper"
	"slipcase/cmd/internal/notation"
	"slipcase/cmd/internal/sheet"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
	"slipcase/internal/size"
)

func newDesk(t *testing.T) *desk.Desk {
	return desk.New(desk.Options{Home: t.TempDir(), Now: func() time.Time { return time.Date(2026, 5, 4, 10, 0, 0, 0, time.UTC) }})
}

// sheetOf is the sheet of a case. That of a demo, which no desk changes, is worked out
// once.
func sheetOf(t *testing.T, d *desk.Desk, ref asking.CaseRef) paper.Sheet {
	t.Helper()
	if x, ok := ofDemos[ref.Demo]; ok {
		return x
	}
	ans, err := d.Sheet(context.Background(), ref)
	if err != nil {
		t.Fatal(err)
	}
	if ref.Demo != "" {
		ofDemos[ref.Demo] = ans.Data
	}
	return ans.Data
}

var ofDemos = map[string]paper.Sheet{}

func write(t *testing.T, d *desk.Desk, ref asking.CaseRef, code template.HTML) (paper.Sheet, string) {
	t.Helper()
	data := sheetOf(t, d, ref)
	var b bytes.Buffer
	if err := sheet.Write(&b, data, code, "http://bench.test/case"); err != nil {
		t.Fatal(err)
	}
	return data, b.String()
}

// read parses the page as a browser does and gives its elements and its text.
func read(t *testing.T, page string) (count map[string]int, text string) {
	t.Helper()
	root, err := html.Parse(strings.NewReader(page))
	if err != nil {
		t.Fatal(err)
	}
	count = map[string]int{}
	ids := map[string]bool{}
	var words strings.Builder
	var walk func(*html.Node)
	walk = func(n *html.Node) {
		switch n.Type {
		case html.ElementNode:
			count[n.Data]++
			for _, a := range n.Attr {
				if a.Key == "id" && ids[a.Val] {
					t.Errorf("id %q twice", a.Val)
				} else if a.Key == "id" {
					ids[a.Val] = true
				}
				if a.Key == "src" || a.Key == "href" || a.Key == "srcset" || strings.HasPrefix(a.Key, "on") {
					t.Errorf("<%s %s=%q>: the page must need nothing else", n.Data, a.Key, a.Val)
				}
			}
		case html.TextNode:
			if n.Parent.Data != "style" {
				words.WriteString(n.Data + " ")
			}
		}
		for c := n.FirstChild; c != nil; c = c.NextSibling {
			walk(c)
		}
	}
	walk(root)
	balance(t, page)
	return count, strings.Join(strings.Fields(words.String()), " ")
}

// balance finds end tags that a browser would have to guess.
func balance(t *testing.T, page string) {
	t.Helper()
	empty := map[string]bool{"meta": true, "br": true}
	var open []string
	z := html.NewTokenizer(strings.NewReader(page))
	for {
		switch z.Next() {
		case html.ErrorToken:
			if len(open) > 0 {
				t.Errorf("not closed: %v", open)
			}
			return
		case html.StartTagToken:
			if name, _ := z.TagName(); !empty[string(name)] {
				open = append(open, string(name))
			}
		case html.EndTagToken:
			name, _ := z.TagName()
			if len(open) == 0 || open[len(open)-1] != string(name) {
				t.Fatalf("</%s> closes %v", name, open)
			}
			open = open[:len(open)-1]
		}
	}
}

// The sheet says what suspects, plan and chart say, for demos of several
// units.
func TestSameAnswers(t *testing.T) {
	d := newDesk(t)
	ctx := context.Background()
	demos := []string{"slip-one-gear", "two-faults", "not-the-transmission", "even-gears"}
	for _, demo := range demos[:size.Of(1, 4, 4)] {
		ref := asking.CaseRef{Demo: demo}
		s, page := write(t, d, ref, "")
		count, text := read(t, page)
		sus, err := d.Suspects(ctx, ref, 5)
		if err != nil {
			t.Fatal(err)
		}
		plan, err := d.Plan(ctx, ref, asking.PlanInput{})
		if err != nil {
			t.Fatal(err)
		}
		must := []string{sus.Data.Sentence, plan.Data.Pull.Words, "For the owner of the vehicle", s.Plan.Pull.Owner, "Root causes"}
		for _, x := range sus.Data.Suspects {
			must = append(must, fmt.Sprintf("%d. %s:", x.Rank, x.Title))
		}
		for i, x := range plan.Data.Steps {
			must = append(must, fmt.Sprintf("%d. %s", i+1, x.Title))
			must = append(must, x.Cautions...)
			for _, m := range x.Limits {
				must = append(must, m.Text+": limit "+m.Limit)
			}
			for _, v := range x.Parts {
				if v.Bench != "" {
					must = append(must, v.Bench, fmt.Sprintf("%s (step %d)", v.Title, i+1))
				}
			}
		}
		for _, x := range must {
			if !strings.Contains(text, strings.Join(strings.Fields(x), " ")) {
				t.Errorf("%s: the sheet lacks %q", demo, x)
			}
		}
		if count["script"] != 0 || count["link"] != 0 || count["img"] != 0 {
			t.Errorf("%s: %v", demo, count)
		}
		if len(s.Order) == 0 || len(s.Places) == 0 || len(s.Causes) == 0 {
			t.Errorf("%s: nothing to order, to lay or to settle", demo)
		}
		for _, c := range plan.Data.Steps {
			if len(c.Cautions) > strings.Count(page, "<b>CAUTION</b>") {
				t.Errorf("%s: cautions of %s are missing", demo, c.Step)
			}
		}
	}
}

// The row that was complained of is drawn, sound and with the fault.
func TestDrawsTheRow(t *testing.T) {
	s, page := write(t, newDesk(t), asking.CaseRef{Demo: "slip-one-gear"}, "")
	if len(s.Pressures) == 0 || len(s.PressureCautions) == 0 {
		t.Error("no field for line pressure, or no caution with it")
	}
	if len(s.Drawings) != 2 || !strings.Contains(s.Drawings[0].Title, "D/4") || !strings.Contains(s.Drawings[1].SVG, "overdrive band DEAD") {
		t.Errorf("%d drawings", len(s.Drawings))
	}
	if strings.Count(page, "<svg") != 2 {
		t.Error("the drawings are not on the page")
	}
	marked := 0
	for _, r := range s.Chart.Rows {
		if len(r.Marks) > 0 {
			marked++
		}
	}
	if marked == 0 || marked == len(s.Chart.Rows) || strings.Count(page, `class="marked"`) != marked {
		t.Errorf("%d of %d rows are marked", marked, len(s.Chart.Rows))
	}
}

const hostile = `"><script>alert(1)</script><img src=x onerror=alert(2)>' & ]]> --><style>`

// A case file can hold anything; it stays text.
func TestHostileText(t *testing.T) {
	file := filepath.Join(t.TempDir(), "case.hcl")
	q := strings.ReplaceAll(hostile, `"`, `\"`)
	src := fmt.Sprintf("language = 1\ncase \"odd\" {\n  title = \"%[1]s\"\n  unit = \"northfork-4\"\n  vehicle = \"%[1]s\"\n  reports \"driver\" {\n    present = [\"slips@D/4\"]\n    note = \"%[1]s\"\n  }\n}\n", q)
	if err := os.WriteFile(file, []byte(src), 0o644); err != nil {
		t.Fatal(err)
	}
	_, page := write(t, newDesk(t), asking.CaseRef{File: file}, "")
	count, text := read(t, page)
	if count["script"] != 0 || count["img"] != 0 || count["style"] != 1 {
		t.Errorf("text became elements: %v", count)
	}
	if strings.Count(text, "alert(1)") < 3 {
		t.Error("the text is not shown")
	}
}

// A part found failed stands under what was found and what to order, and the
// place for the code takes one.
func TestFoundPart(t *testing.T) {
	file := filepath.Join(t.TempDir(), "case.hcl")
	src := `language = 1
case "found" {
  title = "Slips in fourth"
  unit  = "northfork-4"
  done  = ["pan_off", "servo_cover_off"]
  reports "driver" {
    present = ["slips@D/4"]
  }
  found "overdrive_servo" {
    mode = "servo_seal_cut"
  }
}
`
	if err := os.WriteFile(file, []byte(src), 0o644); err != nil {
		t.Fatal(err)
	}
	s, page := write(t, newDesk(t), asking.CaseRef{File: file}, `<svg data-code="1"></svg>`)
	if len(s.Order) == 0 || s.Order[0].When != "found" || !strings.Contains(s.Order[0].Why, "servo seal cut") {
		t.Errorf("first to order: %+v", s.Order)
	}
	seen := false
	for _, o := range s.Order {
		seen = seen || o.When == "open now" && strings.Contains(o.What, "filter")
	}
	if !seen {
		t.Errorf("the filter of the open pan is not ordered: %+v", s.Order)
	}
	if len(s.Owner.Found) != 1 || !strings.Contains(s.Owner.Found[0], "has failed") {
		t.Errorf("the owner is told %v", s.Owner.Found)
	}
	if _, text := read(t, page); !strings.Contains(page, `data-code="1"`) || !strings.Contains(text, "http://bench.test/case") {
		t.Error("the code is not on the page")
	}
}

// printed is a page as a browser prints it, on the paper that it asks for.
func printed(ctx context.Context, url string) ([]byte, error) {
	if err := chromedp.Do(ctx, chromedp.Navigate(url)); err != nil {
		return nil, err
	}
	return chromedp.Run(ctx, chromedp.PrintToPDF(chromedp.PDFPreferCSSPageSize(), chromedp.PDFPrintBackground()))
}

var pages = regexp.MustCompile(`/Type\s*/Page\b[^s]`)

// A browser prints both sheets on A4 and on Letter: the full one in several
// pages, the short one in two at most, of units small and large, of a case with
// much found and a long complaint, with the code for a tablet.
// SLIPCASE_PICTURES names a folder for what it printed.
func TestPrints(t *testing.T) {
	browser := chrome.Path(t)
	d := newDesk(t)
	dir := t.TempDir()
	ctx, end, err := chrome.Start(browser, filepath.Join(dir, "profile"), time.Minute)
	defer end()
	if err != nil {
		t.Fatal("Chromium does not start: ", err)
	}
	print := func(name, page, paper string) int {
		t.Helper()
		out := filepath.Join(dir, name+"-"+paper+".pdf")
		if keep := os.Getenv("SLIPCASE_PICTURES"); keep != "" {
			out = filepath.Join(keep, filepath.Base(out))
		}
		in := filepath.Join(dir, "sheet.html")
		sized := strings.Replace(page, "@page {", "@page { size: "+paper+";", 1)
		if sized == page {
			t.Fatal("the page has no @page rule")
		}
		if err := os.WriteFile(in, []byte(sized), 0o644); err != nil {
			t.Fatal(err)
		}
		short, cancel := context.WithTimeout(ctx, 2*time.Minute)
		defer cancel()
		pdf, err := printed(short, "file://"+in)
		if err == nil {
			err = os.WriteFile(out, pdf, 0o644)
		}
		if err != nil {
			t.Fatal(err)
		}
		n := len(pages.FindAll(pdf, -1))
		t.Logf("%s, %s: %d pages, %d bytes", name, paper, n, len(pdf))
		return n
	}
	_, full := write(t, d, asking.CaseRef{Demo: "slip-one-gear"}, "")
	_, most := writeShort(t, d, asking.CaseRef{In: crowded(t, d)}, sheet.Code("http://192.168.100.200:8461/case/26-0001"))
	demos := []string{"slip-one-gear", "two-faults", "not-the-transmission", "from-fourth-up"}
	short := map[string]string{}
	for _, demo := range demos[:size.Of(1, 4, 4)] {
		_, short[demo] = writeShort(t, d, asking.CaseRef{Demo: demo}, "")
	}
	for _, paper := range []string{"a4", "letter"} {
		if n := print("full", full, paper); n < 5 || n > 20 {
			t.Errorf("full, %s: %d pages", paper, n)
		}
		for demo, page := range short {
			if n := print(demo, page, paper); n < 1 || n > 2 {
				t.Errorf("%s, %s: %d pages, two at most", demo, paper, n)
			}
		}
		if n := print("crowded", most, paper); n < 1 || n > 2 {
			t.Errorf("crowded, %s: %d pages, two at most", paper, n)
		}
	}
}

// crowded is a case of the largest unit with a long complaint, many reports and
// readings.
func crowded(t *testing.T, d *desk.Desk) string {
	t.Helper()
	ctx := context.Background()
	ans, err := d.OpenCase(ctx, casework.OpenInput{Unit: "four-gearset-8", Title: strings.Repeat("Slips and ties up, ", 6), Vehicle: strings.Repeat("long van ", 12), Words: strings.Repeat("it slips on the hill and bangs into gear; ", 40)})
	if err != nil {
		t.Fatal(err)
	}
	in := casework.NoteInput{By: "driver"}
	for _, f := range []string{"slips@D/4", "slips@D/6", "slips@D/8", "flare@D/3-4", "harsh_shift@D/3-4", "no_drive@R/R", "history_high_mileage", "fluid_burnt_smell", "fluid_low", "limp_mode", "whine@D/4", "shudder@D/6"} {
		in.Items = append(in.Items, notation.Item{Report: &engine.Report{Finding: f, State: engine.Present}})
	}
	if _, err := d.Note(ctx, opened.Ref{In: ans.Data.ID}, in); err != nil {
		t.Fatal(err)
	}
	return ans.Data.ID
}

func writeShort(t *testing.T, d *desk.Desk, ref asking.CaseRef, code template.HTML) (paper.Sheet, string) {
	t.Helper()
	data := sheetOf(t, d, ref)
	var b bytes.Buffer
	if err := sheet.Short(&b, data, code, "http://bench.test/case"); err != nil {
		t.Fatal(err)
	}
	return data, b.String()
}

// The short sheet says what the full one says: the sentence, the suspects, the
// next steps with every caution that goes with them, and a field for each of
// their limits.
func TestShort(t *testing.T) {
	d := newDesk(t)
	demos := []string{"two-faults", "slip-one-gear", "even-gears", "not-the-transmission"}
	for _, demo := range demos[:size.Of(1, 4, 4)] {
		s, page := writeShort(t, d, asking.CaseRef{Demo: demo}, "")
		count, text := read(t, page)
		steps := s.Plan.Steps[:min(8, len(s.Plan.Steps))]
		must := []string{s.Sentence, wording.Capital(s.Plan.Sentence), "The maker's service procedure"}
		for _, x := range s.Suspects {
			must = append(must, wording.Capital(x.Title), x.Percent)
		}
		for _, x := range steps {
			must = append(must, wording.Capital(x.Title))
			must = append(must, x.Cautions...)
			for _, m := range slices.Concat(x.Before, x.At, x.Limits) {
				if m.Limit != "" {
					must = append(must, wording.Capital(m.Text)+" ("+m.Limit+")")
				}
			}
		}
		must = append(must, s.PressureCautions...)
		for _, x := range must {
			if !strings.Contains(text, strings.Join(strings.Fields(x), " ")) {
				t.Errorf("%s: the short sheet lacks %q", demo, x)
			}
		}
		if n := strings.Count(page, `<td class="marks">`); n != len(steps) || len(steps) == 0 {
			t.Errorf("%s: %d steps, want %d", demo, n, len(steps))
		}
		for i, x := range steps {
			// Each of a step's cautions has its letter beside the step.
			row := strings.Split(strings.Split(page, `<td class="marks">`)[i+1], "</td>")[0]
			if len(strings.Fields(row)) != len(x.Cautions) {
				t.Errorf("%s: step %s has cautions %q, want %d", demo, x.Step, row, len(x.Cautions))
			}
		}
		if count["script"]+count["link"]+count["img"] != 0 {
			t.Errorf("%s: %v", demo, count)
		}
	}
}
