package cli

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/internal/desk/library"
	"slipcase/cmd/internal/table"
	"slipcase/cmd/internal/wording"
)

func init() { register(chartCmd) }

func chartCmd(a *app) *cobra.Command {
	var f library.FaultFlags
	var svg, row string
	var replace, speeds bool
	cmd := &cobra.Command{
		Use:   "chart UNIT|FILE",
		Short: "show the apply chart, healthy or with faults applied",
		Long: `Shows the apply chart of a unit as the gear train works it out: what is applied, which one-way clutches hold or overrun, the ratio from the teeth next to the stated one, engine braking, and the torque on each element. Then, for each element, what is lost when it is dead and what happens when it stays on, and what a slow or late element does to each shift.

With --dead, --on, --seized, --reversed or --broken the whole chart is worked out under these faults at once, and every row that changes says how. The flags can be repeated.

With --svg a drawing is written instead: the speeds of the unit's members in all rows, to scale; with --row the power flow of that row, its lines as thick as their torque; with --row and --speeds the speeds, with that row marked.`,
		Example:           "slipcase chart northfork-4\nslipcase chart northfork-4 --on forward\nslipcase chart northfork-4 --dead low_roller --dead low_reverse\nslipcase chart northfork-4 --row D/3 --svg third.svg",
		Args:              exactArgs(1, "one unit or unit file"),
		ValidArgsFunction: a.completeUnits,
		RunE: func(cmd *cobra.Command, args []string) error {
			if svg == "" && (row != "" || speeds || replace) {
				return wrongUse("--row, --speeds and --replace go with --svg FILE")
			}
			if svg != "" {
				ans, err := a.desk().DrawFile(a.ctx, args[0], row, speeds, f, svg, replace)
				return show(a, cmd, ans, err, func(p *table.Page) { p.Para("%s written, %d bytes.", ans.Data.File, ans.Data.Bytes) })
			}
			ans, err := a.desk().Chart(a.ctx, args[0], f)
			return show(a, cmd, ans, err, func(p *table.Page) { printChart(p, ans.Data) })
		},
	}
	for _, flag := range []struct {
		into *[]string
		name string
		text string
	}{
		{&f.Dead, "dead", "`element` that never applies (a one-way clutch: slips both ways)"},
		{&f.On, "on", "`element` that stays on"},
		{&f.Seized, "seized", "`one-way` clutch that holds both ways"},
		{&f.Reversed, "reversed", "`one-way` clutch installed backward"},
		{&f.Broken, "broken", "`joint` that is broken"},
	} {
		cmd.Flags().StringArrayVar(flag.into, flag.name, nil, flag.text)
		complete(cmd, flag.name, a.completeLinks(flag.name))
	}
	cmd.Flags().StringVar(&svg, "svg", "", "draw it into this `file`")
	cmd.Flags().StringVar(&row, "row", "", "draw the power flow of this `row`, such as D/3")
	cmd.Flags().BoolVar(&speeds, "speeds", false, "draw the speeds, with the row marked")
	cmd.Flags().BoolVar(&replace, "replace", false, "replace the file if it exists")
	a.asJSON(cmd)
	return cmd
}

func printChart(p *table.Page, c library.Chart) {
	if len(c.Faults) == 0 {
		p.Styled(c.Title, table.Strong)
	} else {
		p.Styled(c.Title+", with "+strings.Join(faultNames(c), " and "), table.Strong)
	}
	if s := wording.Made(c.Made.Parts, c.Made.OfParts, c.Made.Steps, c.Made.OfSteps); s != "" {
		p.Para("%s", s)
	}
	p.Space()
	printRows(p, c)
	if len(c.Faults) > 0 {
		printChanges(p, c)
		return
	}
	printTorque(p, c)
	printEffects(p, c)
	printShifts(p, c)
}

var faultWords = map[string]string{
	"dead": "dead", "stays_on": "stuck on", "slips": "slipping both ways", "seized": "seized",
	"reversed": "installed backward", "broken": "broken",
}

func faultNames(c library.Chart) []string {
	titles := map[string]string{}
	for _, e := range append(slices.Clone(c.Elements), c.Joints...) {
		titles[e.Name] = e.Title
	}
	var out []string
	for _, f := range c.Faults {
		name, kind, _ := strings.Cut(f, ".")
		out = append(out, titles[name]+" "+faultWords[kind])
	}
	return out
}

// marks are what stands in the chart for an element's state.
var marks = map[string]string{"applied": "X", "holds": "hold", "overruns": "free", "dead": "DEAD", "stays on": "ON", "seized": "SEIZED", "slips": "SLIPS"}

// heads gives the elements their column heads: names, or letters with a key
// when the names do not fit. keyed tells which.
func heads(c library.Chart, fits func(heads []string) bool) (names []string, keyed bool) {
	for _, e := range c.Elements {
		names = append(names, wording.Name(e.Name))
	}
	if fits(names) {
		return names, false
	}
	for i := range names {
		names[i] = string(rune('A' + i%26))
		if i >= 26 {
			names[i] += string(rune('A' + i/26 - 1))
		}
	}
	return names, true
}

func key(p *table.Page, c library.Chart, heads []string) {
	var parts []string
	for i, e := range c.Elements {
		parts = append(parts, heads[i]+" "+e.Title)
	}
	p.Para("%s", strings.Join(parts, "; "))
}

func printRows(p *table.Page, c library.Chart) {
	build := func(heads []string) table.Table {
		t := table.Table{Columns: []table.Column{{Title: "row", Keep: true}}}
		for _, h := range heads {
			t.Columns = append(t.Columns, table.Column{Title: h})
		}
		t.Columns = append(t.Columns, table.Column{Title: "ratio", Right: true, Keep: true})
		if len(c.Faults) == 0 {
			t.Columns = append(t.Columns, table.Column{Title: "stated", Right: true, Keep: true}, table.Column{Title: "engine brakes"})
		} else {
			t.Columns = append(t.Columns, table.Column{Title: "with the fault"})
		}
		for _, r := range c.Rows {
			t.Rows = append(t.Rows, chartCells(c, r))
		}
		return t
	}
	names, keyed := heads(c, func(h []string) bool { t := build(h); return t.Fits(p.Width) })
	if keyed {
		key(p, c, names)
		p.Space()
	}
	p.Table(build(names))
	notes := "X applied; hold and free: a one-way clutch holds or overruns."
	if len(c.Faults) == 0 {
		notes += " Ratio: worked out from the teeth; stated: as the unit's file has it."
		for _, r := range c.Rows {
			if r.Agrees != nil && !*r.Agrees {
				notes += " Where the two differ the row says NOT."
				break
			}
		}
	}
	p.Para("%s", notes)
}

func chartCells(c library.Chart, r library.ChartRow) []table.Cell {
	row := []table.Cell{{Text: r.Row}}
	for _, e := range c.Elements {
		cell := table.Cell{Text: marks[r.States[e.Name]]}
		if strings.ToUpper(cell.Text) == cell.Text && len(cell.Text) > 1 {
			cell.Style = table.Bad
		}
		row = append(row, cell)
	}
	row = append(row, table.Cell{Text: ratioWords(r)})
	if len(c.Faults) > 0 {
		if r.Change == nil {
			return append(row, table.Cell{Text: "normal"})
		}
		return append(row, table.Cell{Text: "CHANGED: " + r.Change.Words, Style: table.Bad})
	}
	stated := table.Cell{Text: r.Stated}
	if r.Agrees != nil && !*r.Agrees {
		stated = table.Cell{Text: "NOT " + r.Stated, Style: table.Bad}
	}
	brakes := "no"
	if r.Braking {
		brakes = "yes"
	}
	if r.Ratio == nil {
		brakes = ""
	}
	return append(row, stated, table.Cell{Text: brakes})
}

func ratioWords(r library.ChartRow) string {
	if r.Ratio == nil {
		switch r.Drive {
		case "no drive":
			return "none"
		}
		return r.Drive
	}
	return fmt.Sprintf("%.3f", float64(r.Ratio.Value))
}

// printChanges lists the changed rows in words, after the chart.
func printChanges(p *table.Page, c library.Chart) {
	p.Space()
	changed := 0
	for _, r := range c.Rows {
		if r.Change != nil {
			changed++
		}
	}
	switch changed {
	case 0:
		p.Para("Nothing changes: this fault alone cannot be felt.")
	default:
		p.Para("%d of %d rows change; the others are normal.", changed, len(c.Rows))
	}
}

func printTorque(p *table.Page, c library.Chart) {
	p.Head("Torque on each element")
	p.Para("As a multiple of turbine torque; below it, how hard the row works the element, in percent of its hardest row, from torque, launch and line pressure. At 100 it slips first.")
	p.Space()
	used := map[string]bool{}
	for _, r := range c.Rows {
		for _, t := range r.Torque {
			used[t.Element] = true
		}
	}
	shown := c
	shown.Elements = nil
	for _, e := range c.Elements {
		if used[e.Name] {
			shown.Elements = append(shown.Elements, e)
		}
	}
	build := func(heads []string) table.Table {
		t := table.Table{Columns: []table.Column{{Title: "row", Keep: true}}}
		for _, h := range heads {
			t.Columns = append(t.Columns, table.Column{Title: h, Right: true})
		}
		for _, r := range c.Rows {
			if len(r.Torque) == 0 {
				continue
			}
			row := []string{r.Row}
			for _, e := range shown.Elements {
				row = append(row, torqueWords(r, e.Name))
			}
			t.Add(row...)
		}
		return t
	}
	names, keyed := heads(shown, func(h []string) bool { t := build(h); return t.Fits(p.Width) })
	if keyed {
		key(p, shown, names)
		p.Space()
	}
	p.Table(build(names))
	unsettled, helped := false, false
	for _, r := range c.Rows {
		for _, t := range r.Torque {
			unsettled = unsettled || t.Multiple == nil
			helped = helped || t.Band != ""
		}
	}
	if unsettled {
		p.Para("shared: two or more elements share the torque, and how much each takes cannot be worked out.")
	}
	if helped {
		p.Para("wraps on, wraps off: the drum's torque helps the band or works against it.")
	}
}

func torqueWords(r library.ChartRow, element string) string {
	for _, t := range r.Torque {
		if t.Element != element {
			continue
		}
		if t.Multiple == nil {
			return "shared"
		}
		s := fmt.Sprintf("%.2f", float64(t.Multiple.Value))
		if t.Demand != nil {
			s += fmt.Sprintf("\n%.0f%%", 100*float64(*t.Demand))
		}
		switch t.Band {
		case "helped":
			s += "\nwraps on"
		case "fought":
			s += "\nwraps off"
		}
		return s
	}
	return ""
}

func printEffects(p *table.Page, c library.Chart) {
	p.Head("When one fails")
	p.Space()
	t := table.Table{Columns: []table.Column{{Title: "element"}, {Title: "when it", Keep: true}, {Title: "what is felt"}}}
	last := ""
	for _, e := range c.Effects {
		name := e.Title
		if e.Title == last {
			name = ""
		}
		last = e.Title
		t.Add(name, map[string]string{
			"dead": "is dead", "stays_on": "stays on", "slips": "slips", "seized": "is seized",
			"reversed": "is reversed", "broken": "breaks",
		}[e.Fault], effectWords(e))
	}
	p.Table(t)
}

// effectWords joins the rows that a fault changes in the same way: "D/1, D/2:
// no drive; D/3: acts as 2".
func effectWords(e library.FaultEffect) string {
	if len(e.Changes) == 0 {
		return "nothing changes"
	}
	var order []string
	rows := map[string][]string{}
	for _, c := range e.Changes {
		if rows[c.Words] == nil {
			order = append(order, c.Words)
		}
		rows[c.Words] = append(rows[c.Words], c.Row)
	}
	var parts []string
	for _, w := range order {
		parts = append(parts, strings.Join(rows[w], ", ")+": "+w)
	}
	return strings.Join(parts, "\n")
}

func printShifts(p *table.Page, c library.Chart) {
	printShiftsOf(p, c, "Upshifts", false)
	down := "Downshifts under power"
	if slices.ContainsFunc(c.Shifts, func(s library.ChartShift) bool { return strings.Count(s.Shift, "/") > 1 }) {
		down += ", and by the lever"
	}
	printShiftsOf(p, c, down, true)
	if len(c.Shifts) == 0 {
		return
	}
	p.Head("Between gears")
	p.Space()
	g := table.Table{Columns: []table.Column{{Title: "shift", Keep: true}, {Title: "gap: all that change still off"}, {Title: "overlap: all that change on"}}}
	for _, s := range c.Shifts {
		g.Add(s.Shift, s.Gap, s.Overlap)
	}
	p.Table(g)
}

func printShiftsOf(p *table.Page, c library.Chart, head string, down bool) {
	if !slices.ContainsFunc(c.Shifts, func(s library.ChartShift) bool { return s.Down == down }) {
		return
	}
	p.Head(head)
	p.Space()
	t := table.Table{Columns: []table.Column{{Title: "shift", Keep: true}, {Title: "element"}, {Title: "what is felt"}}}
	for _, s := range c.Shifts {
		if s.Down != down {
			continue
		}
		first := s.Shift
		for _, e := range s.On {
			t.Add(first, e.Title+" slow to apply", e.Words)
			first = ""
		}
		for _, e := range s.Off {
			t.Add(first, e.Title+" late to release", e.Words)
			first = ""
		}
		if first != "" {
			t.Add(first, "no element changes", "")
		}
	}
	p.Table(t)
}
