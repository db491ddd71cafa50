package table

import (
	"strings"

	"github.com/olekukonko/tablewriter"
	"github.com/olekukonko/tablewriter/renderer"
	"github.com/olekukonko/tablewriter/tw"
)

// Column is the head of a column.
type Column struct {
	Title string
	Right bool // numbers: aligned to the right
	// Keep asks that the column keeps its natural width as long as another
	// can give way.
	Keep bool
}

// Cell is one cell; line breaks in the text stay.
type Cell struct {
	Text  string
	Style Style
}

// Table is a table without borders: a line under the heads, two spaces between
// the columns.
type Table struct {
	Columns []Column
	Rows    [][]Cell
}

// The space between columns: two, or one where that lets the words stay whole.
const wideGap, narrowGap = 2, 1

// Add appends a row of plain cells.
func (t *Table) Add(cells ...string) {
	row := make([]Cell, len(cells))
	for i, c := range cells {
		row[i].Text = c
	}
	t.Rows = append(t.Rows, row)
}

// Fits tells whether the table can be printed at a width without breaking a
// word.
func (t *Table) Fits(width int) bool {
	least, _ := t.bounds(width)
	return total(least, narrowGap) <= width
}

// bounds are the least width of each column that breaks no word (longer than
// 18 columns: no part between joints), and its natural width.
func (t *Table) bounds(width int) (least, natural []int) {
	const longWord = 18
	least = make([]int, len(t.Columns))
	natural = make([]int, len(t.Columns))
	for i, c := range t.Columns {
		least[i] = longest(c.Title, longWord)
		// A head likes to stand on two lines at most.
		natural[i] = least[i]
		for len(Wrap(c.Title, natural[i])) > 2 {
			natural[i]++
		}
	}
	for _, row := range t.Rows {
		for i, c := range row {
			least[i] = max(least[i], longest(c.Text, longWord))
			for _, l := range strings.Split(c.Text, "\n") {
				natural[i] = max(natural[i], Width(l))
			}
		}
	}
	for i := range natural {
		natural[i] = max(1, min(natural[i], width))
		least[i] = max(1, min(least[i], natural[i]))
	}
	return least, natural
}

func total(widths []int, gap int) int {
	sum := gap * (len(widths) - 1)
	for _, w := range widths {
		sum += w
	}
	return sum
}

// fit chooses the gap and the widths: natural ones when they fit; otherwise
// the widest column that may give way loses, down to its least width and then,
// if there is no other way, below it.
func (t *Table) fit(width int) (w []int, gap int) {
	least, w := t.bounds(width)
	gap = wideGap
	if total(least, gap) > width {
		gap = narrowGap
	}
	for _, pass := range []func(i int) bool{
		func(i int) bool { return !t.Columns[i].Keep && w[i] > least[i] },
		func(i int) bool { return w[i] > least[i] },
		func(i int) bool { return w[i] > 1 },
	} {
		for total(w, gap) > width {
			widest := -1
			for i := range w {
				if pass(i) && (widest < 0 || w[i] > w[widest]) {
					widest = i
				}
			}
			if widest < 0 {
				break
			}
			w[widest]--
		}
	}
	return w, gap
}

// Table prints a table. Rules, padding, alignment and the space between columns
// are tablewriter's. Three things cannot be had from it (1.1.5) and are done
// here: it cuts a word that is longer than its column and drops the rest, it
// lets a color run on over the line break of a wrapped cell, and it shares out
// the page's width without knowing which columns may give way. So it is given
// lines that fit, and the width of each column.
func (p *Page) Table(t Table) {
	if len(t.Columns) == 0 || p.err != nil {
		return
	}
	p.used = true
	widths, gap := t.fit(p.Width)
	var out strings.Builder
	tbl := tablewriter.NewTable(&out, layout(t.Columns, widths, gap)...)
	tbl.Header(p.heads(t.Columns, widths))
	for _, row := range t.Rows {
		cells := make([]string, len(widths))
		for i, c := range row {
			cells[i] = p.lines(c.Text, widths[i], c.Style, 0)
		}
		if p.err == nil {
			p.err = tbl.Append(cells)
		}
	}
	if p.err == nil {
		p.err = tbl.Render()
	}
	for _, l := range strings.Split(strings.TrimRight(out.String(), "\n"), "\n") {
		p.line(l)
	}
}

// layout are the options of a table without borders: a rule under the heads,
// gap spaces between the columns.
func layout(columns []Column, widths []int, gap int) []tablewriter.Option {
	space := strings.Repeat(" ", gap)
	perColumn := tw.NewMapper[int, int]()
	align := make([]tw.Align, len(columns))
	for i, c := range columns {
		perColumn.Set(i, widths[i])
		align[i] = tw.AlignLeft
		if c.Right {
			align[i] = tw.AlignRight
		}
	}
	return []tablewriter.Option{
		tablewriter.WithRenderer(renderer.NewBlueprint(tw.Rendition{
			Borders: tw.BorderNone,
			Symbols: tw.NewSymbolCustom("columns").WithRow("-").WithColumn(space).WithCenter(space),
			Settings: tw.Settings{
				Separators: tw.Separators{BetweenColumns: tw.On, BetweenRows: tw.Off, ShowHeader: tw.Off, ShowFooter: tw.Off},
				Lines:      tw.Lines{ShowTop: tw.Off, ShowBottom: tw.Off, ShowHeaderLine: tw.On, ShowFooterLine: tw.Off},
			},
		})),
		tablewriter.WithHeaderAutoFormat(tw.Off),
		tablewriter.WithHeaderAutoWrap(tw.WrapNone),
		tablewriter.WithRowAutoWrap(tw.WrapNone),
		tablewriter.WithTrimSpace(tw.Off),
		tablewriter.WithColumnWidths(perColumn),
		tablewriter.WithPadding(tw.PaddingNone),
		tablewriter.WithHeaderAlignmentConfig(tw.CellAlignment{PerColumn: align}),
		tablewriter.WithRowAlignmentConfig(tw.CellAlignment{PerColumn: align}),
	}
}

// heads are the titles of the columns; they stand at the foot of their cells,
// next to what they name.
func (p *Page) heads(columns []Column, widths []int) []string {
	deep := 0
	for i, c := range columns {
		deep = max(deep, len(Wrap(c.Title, widths[i])))
	}
	out := make([]string, len(columns))
	for i, c := range columns {
		out[i] = p.lines(c.Title, widths[i], Strong, deep)
	}
	return out
}

// lines breaks a text at a width, each line with its style; at least deep
// lines, the text in the last ones.
func (p *Page) lines(text string, width int, style Style, deep int) string {
	lines := Wrap(text, width)
	for i := range lines {
		lines[i] = p.paint(lines[i], style)
	}
	return strings.Repeat("\n", max(0, deep-len(lines))) + strings.Join(lines, "\n")
}
