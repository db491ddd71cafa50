package cli

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/asking"
	"slipcase/cmd/internal/table"
	"slipcase/cmd/internal/wording"
)

func init() { register(whyCmd) }

func whyCmd(a *app) *cobra.Command {
	var ref asking.CaseRef
	var full, method bool
	cmd := &cobra.Command{
		Use:   "why COMPONENT[/MODE]",
		Short: "explain one suspect: what speaks for and against it, and where to see it",
		Long: `Explains one suspect of a case: the reports for and against it, the rows of the chart behind them, and where it can be seen and what it looks like in the hand.

--full adds the checks that can still show it with their cautions, what can have brought it about, and where every number comes from. --method adds the weight of each report in decibans, the logarithm of how much it moves the odds (+3 doubles them, +10 makes them ten times better, -10 ten times worse), and how it was worked out.`,
		Example: "slipcase why forward_frictions --demo slip-one-gear\nslipcase why forward_frictions/burnt_friction --case van.hcl",
		Args:    exactArgs(1, "one COMPONENT or COMPONENT/MODE"),
		RunE: func(cmd *cobra.Command, args []string) error {
			ans, err := a.desk().Why(a.ctx, ref, args[0])
			return show(a, cmd, ans, err, func(p *table.Page) { printWhy(p, ans, full, method) })
		},
	}
	cmd.ValidArgsFunction = a.completeSuspects(&ref)
	a.caseFlags(cmd, &ref)
	cmd.Flags().BoolVar(&full, "full", false, "show checks, causes and numbers as well")
	cmd.Flags().BoolVar(&method, "method", false, "show weights in decibans, and say how it was worked out")
	a.asJSON(cmd)
	return cmd
}

// What of a reason stands on the first screen, which is to fit 24 lines.
const shortWeights, shortSigns, shortChecks, shortLeads = 3, 2, 2, 2

func printWhy(p *table.Page, ans answer.Answer[asking.Why], full, method bool) {
	w := ans.Data
	p.Styled(fmt.Sprintf("%s. %s with all reports, %s before any; ranked %d of %d.", wording.Capital(w.Title), percent(w.Probability), percent(w.Prior), w.Rank, w.Of), table.Strong)
	if w.Outside {
		p.Para("This is outside the transmission.")
	}
	p.Space()
	p.Para("%s", caseWords(w.Case))
	if full || method {
		printWeights(p, w, method)
	} else {
		printWeightsShort(p, w)
	}
	if full {
		printSigns(p, w)
		printPlace(p, w)
		printChecks(p, w)
		printLeads(p, w)
		printNumbers(p, w)
	} else {
		printWhyShort(p, w)
	}
	if method {
		p.Space()
		p.Para("Worked out %s.", ans.Method)
	}
	if full {
		p.Space()
	}
	p.Styled(verdict, table.Warn)
}

// printWeightsShort names the heaviest reports, without figures.
func printWeightsShort(p *table.Page, w asking.Why) {
	p.Space()
	if len(w.For)+len(w.Against)+len(w.Neutral) == 0 {
		p.Para("No report says anything yet.")
		return
	}
	for _, l := range []struct {
		head string
		list []asking.Weight
	}{{"For it: ", w.For}, {"Against it: ", w.Against}} {
		var out []string
		for _, x := range l.list[:min(shortWeights, len(l.list))] {
			out = append(out, fmt.Sprintf("%s (odds %s)", reportWords(x), oddsWords(x.Decibans)))
		}
		if len(out) > 0 {
			p.Item(l.head, "%s.", strings.Join(out, "; "))
		}
	}
	if n := reports(w.Neutral); n > 0 {
		p.Para("%s next to nothing about it.", wording.Count(n, "more report says", "more reports say"))
	}
	if w.Without != "" {
		p.Para("%s", w.Without)
	}
}

// printWhyShort is the rest of the first screen: the chart, where it is seen,
// the best checks and the likeliest causes.
func printWhyShort(p *table.Page, w asking.Why) {
	for i, l := range signLines(w) {
		if i == shortSigns {
			break
		}
		p.Item("In the chart: ", "%s", l)
	}
	switch {
	case w.Step != "":
		p.Item("Seen at: ", "%s, %s minutes from here.", w.StepTitle, minutes(w.Minutes))
	case w.Outside:
		p.Item("Seen: ", "on the vehicle.")
	default:
		p.Item("Seen: ", "at no teardown step.")
	}
	if w.Look != "" {
		p.Item("In the hand: ", "%s.", strings.TrimSuffix(w.Look, "."))
	}
	var checks []string
	for _, c := range w.Checks[:min(shortChecks, len(w.Checks))] {
		checks = append(checks, fmt.Sprintf("%s (%.0f min)", c.Title, float64(c.Minutes)))
	}
	if len(checks) > 0 {
		p.Item("Checks that show it: ", "%s.", strings.Join(checks, "; "))
	}
	var leads []string
	for _, c := range w.Causes[:min(shortLeads, len(w.Causes))] {
		leads = append(leads, c.Title+" "+percent(c.Probability))
	}
	if len(leads) > 0 {
		p.Item("Possible causes: ", "%s.", strings.Join(leads, "; "))
	}
	p.Para("--full shows checks with their cautions, causes and numbers.")
}

func printWeights(p *table.Page, w asking.Why, method bool) {
	p.Head("For and against")
	if len(w.For)+len(w.Against)+len(w.Neutral) == 0 {
		p.Para("No report says anything yet.")
		return
	}
	p.Space()
	t := table.Table{Columns: []table.Column{{Title: "odds", Keep: true}, {Title: "report"}, {Title: "said by"}, {Title: "sure then", Right: true, Keep: true}}}
	if method {
		t.Columns = append([]table.Column{{Title: "weight", Right: true, Keep: true}}, t.Columns...)
	}
	list := slices.Concat(w.For, w.Against)
	slices.SortFunc(list, func(a, b asking.Weight) int { return a.Place - b.Place })
	for _, x := range list {
		style := table.Good
		if x.Decibans < 0 {
			style = table.Bad
		}
		row := []table.Cell{{Text: oddsWords(x.Decibans), Style: style}, {Text: reportWords(x)}, {Text: x.By}, {Text: percent(x.After)}}
		if method {
			row = append([]table.Cell{{Text: fmt.Sprintf("%+.1f", float64(x.Decibans)), Style: style}}, row...)
		}
		t.Rows = append(t.Rows, row)
	}
	if len(t.Rows) > 0 {
		p.Table(t)
		p.Para("In order of arrival; reports that say the same are shown together. odds: the factor by which they change the odds. sure then: with them and all that came before.")
	}
	if len(t.Rows) > 0 && method {
		p.Para("Weight in decibans: +3 doubles the odds, +10 makes them ten times better, -10 ten times worse.")
	}
	if len(w.Neutral) > 0 {
		var names []string
		for _, x := range w.Neutral {
			names = append(names, reportWords(x))
		}
		p.Para("Next to nothing, either way: %s.", strings.Join(names, "; "))
	}
	if w.Without != "" {
		p.Para("%s", w.Without)
	}
}

// reports counts the reports in groups.
func reports(list []asking.Weight) int {
	n := 0
	for _, x := range list {
		n += x.Reports
	}
	return n
}

func reportWords(x asking.Weight) string {
	if x.State == "absent" {
		return x.Title + ": absent"
	}
	return x.Title
}

// oddsWords turns decibans into a factor on the odds.
func oddsWords(db answer.Num) string {
	f := math.Pow(10, math.Abs(float64(db))/10)
	text := fmt.Sprintf("%.1f", f)
	if f >= 9.95 {
		text = fmt.Sprintf("%.0f", f)
	}
	if f >= 1e6 {
		text = "over 1000000"
	}
	if db < 0 {
		return "/ " + text
	}
	return "x " + text
}

// signWords are the effects as they stand before a row's outcome.
var signWords = map[string]string{
	"slips": "slips", "dead": "dead", "stays_on": "stays on", "applies_late": "applies late", "applies_hard": "applies hard",
	"releases_late": "releases late", "stuck_on": "stuck on", "stuck_off": "stuck off",
}

// printSigns lists what the fault does to the rows of the chart.
func printSigns(p *table.Page, w asking.Why) {
	p.Head("What it does in the chart")
	lines := signLines(w)
	if len(lines) == 0 {
		p.Para("It changes no row of the chart by itself; it shows in other ways.")
		return
	}
	for _, l := range lines {
		p.Item("  ", "%s", l)
	}
	if slices.ContainsFunc(w.Rows, partial) {
		p.Para("Percent: how hard the row works the element; it shows first at 100.")
	}
}

// partial tells whether a row works the element less than the hardest does.
func partial(r asking.ChartSign) bool { return r.Share < 0.995 }

// signLines are the rows of the chart that the fault changes, one line for each
// of its effects.
func signLines(w asking.Why) (out []string) {
	var effects []string
	outcomes := map[string][]string{} // effect -> outcomes in order
	rows := map[[2]string][]string{}  // effect, outcome -> rows
	for _, r := range w.Rows {
		if outcomes[r.Effect] == nil {
			effects = append(effects, r.Effect)
		}
		key := [2]string{r.Effect, r.Words}
		if rows[key] == nil {
			outcomes[r.Effect] = append(outcomes[r.Effect], r.Words)
		}
		place := r.Row
		if partial(r) {
			place += fmt.Sprintf(" (%.0f%%)", 100*float64(r.Share))
		}
		if !slices.Contains(rows[key], place) {
			rows[key] = append(rows[key], place)
		}
	}
	for _, e := range effects {
		var parts []string
		for _, o := range outcomes[e] {
			parts = append(parts, o+" in "+strings.Join(rows[[2]string{e, o}], ", "))
		}
		who, word, _ := strings.Cut(e, ".")
		word, when, _ := strings.Cut(word, ":")
		if s := signWords[word]; s != "" {
			word = s
		}
		if when != "" {
			word += " when " + wording.Name(when)
		}
		out = append(out, fmt.Sprintf("%s %s: %s", wording.Name(who), wording.Name(word), strings.Join(parts, "; ")))
	}
	return out
}

func printPlace(p *table.Page, w asking.Why) {
	p.Head("Where to see it")
	switch {
	case w.Step != "":
		p.Para("%s, %s minutes from here with all that comes before it.", wording.Capital(w.StepTitle), minutes(w.Minutes))
	case w.Outside:
		p.Para("On the vehicle, outside the transmission.")
	default:
		p.Para("No teardown step shows it.")
	}
	for _, l := range w.StepLook {
		p.Item("  - ", "%s", l)
	}
	if w.Look != "" {
		p.Para("In the hand: %s.", strings.TrimSuffix(w.Look, "."))
	}
	if w.Bench != "" {
		p.Para("Its place on the bench: %s.", w.Bench)
	}
}

func printChecks(p *table.Page, w asking.Why) {
	if len(w.Checks) == 0 {
		return
	}
	p.Head("Checks that can still show it")
	p.Space()
	t := table.Table{Columns: []table.Column{{Title: "check"}, {Title: "when", Keep: true}, {Title: "minutes", Right: true, Keep: true}, {Title: "shows"}, {Title: "how often", Right: true, Keep: true}}}
	var cautions []string
	for _, c := range w.Checks {
		t.Add(c.Title, c.Stage, fmt.Sprintf("%.0f", float64(c.Minutes)), c.Shows, percent(c.Strength))
		for _, text := range c.Cautions {
			if !slices.Contains(cautions, text) {
				cautions = append(cautions, text)
			}
		}
	}
	p.Table(t)
	if w.MoreChecks > 0 {
		p.Para("And %d more that show it less often.", w.MoreChecks)
	}
	for _, c := range cautions {
		p.StyledItem("CAUTION: ", c, table.Warn)
	}
}

func printLeads(p *table.Page, w asking.Why) {
	if len(w.Causes) == 0 {
		return
	}
	p.Head("What can have brought it about")
	for _, c := range w.Causes {
		text := c.Title
		if c.Layer == "cause" {
			text += " (root cause"
		} else {
			text += " (another fault"
		}
		if c.Via != "" {
			text += ", by " + c.Via
		}
		p.Item(fmt.Sprintf("%9s  ", percent(c.Probability)), "%s)", text)
	}
	if w.MoreCauses > 0 {
		p.Para("And %d less likely.", w.MoreCauses)
	}
}

// printNumbers lists the numbers by where they come from: each basis once, then
// its numbers with the lines that hold them.
func printNumbers(p *table.Page, w asking.Why) {
	if len(w.Numbers) == 0 {
		return
	}
	type origin struct{ basis, note, file string }
	var order []origin
	by := map[origin][]asking.NumberRef{}
	for _, n := range w.Numbers {
		o := origin{n.Basis, n.Note, n.At.File}
		if by[o] == nil {
			order = append(order, o)
		}
		by[o] = append(by[o], n)
	}
	p.Head("Where the numbers come from")
	for _, o := range order {
		text := o.basis
		if o.note != "" {
			text += ": " + o.note
		}
		if o.file != "" {
			text += " (" + o.file + ")"
		}
		p.Item("  - ", "%s", wording.Capital(text))
		t := table.Table{Columns: []table.Column{{Title: "line", Right: true, Keep: true}, {Title: "value", Right: true, Keep: true}, {Title: "what it says"}}}
		for _, n := range by[o] {
			t.Add(fmt.Sprint(n.At.Line), n.Text, n.What)
		}
		p.Table(t)
	}
	if w.Duty != nil {
		p.Para("%s", w.Duty.Words)
	}
}
