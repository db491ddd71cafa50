package cli

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/asking"
	"slipcase/cmd/internal/table"
	"slipcase/cmd/internal/wording"
)

func init() { register(nextCmd) }

func nextCmd(a *app) *cobra.Command {
	var ref asking.CaseRef
	var stages []string
	var all, method bool
	top := 5
	cmd := &cobra.Command{
		Use:   "next",
		Short: "show the best next check, and what it saves",
		Long: `Prices every open check of a case in minutes: what it saves in finding the culprit and in comebacks, less what it takes. First in one sentence, then as a table with the best first; then what the likely answers would change, the cautions, what to check before the next step destroys it, and the checks that are withheld, with the reason.

A check is not offered twice: what was already reported, measured or ruled out is left out.

--method adds how much the answer to each check tells about the suspects, in bits: 1 bit halves what is possible.`,
		Example: "slipcase next --demo slip-one-gear\nslipcase next --case van.hcl --stage gauges --top 3\nslipcase next --demo no-reverse --all",
		Args:    noArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if top < 1 {
				return wrongUse("--top %d: must be at least 1", top)
			}
			best := top
			if all {
				best = 0
			}
			ans, err := a.desk().Next(a.ctx, ref, best, stages)
			return show(a, cmd, ans, err, func(p *table.Page) { printNext(p, ans, ref, method) })
		},
	}
	a.caseFlags(cmd, &ref)
	cmd.Flags().IntVar(&top, "top", top, "how `many` checks to show, best first")
	cmd.Flags().BoolVar(&all, "all", false, "price and show every open check")
	cmd.Flags().BoolVar(&method, "method", false, "show how much each check tells, in bits")
	cmd.Flags().StringSliceVar(&stages, "stage", nil, "only checks of this `stage`: interview, road, gauges, pan, in_vehicle, pulled or teardown")
	cmd.MarkFlagsMutuallyExclusive("top", "all")
	complete(cmd, "stage", func(_ *cobra.Command, _ []string, prefix string) ([]string, cobra.ShellCompDirective) {
		return words(asking.StageWords(), prefix), noFiles
	})
	a.asJSON(cmd)
	return cmd
}

func printNext(p *table.Page, ans answer.Answer[asking.Next], ref asking.CaseRef, method bool) {
	n := ans.Data
	p.Styled(n.Sentence, table.Strong)
	p.Space()
	p.Para("%s", caseWords(n.Case))
	if len(n.Checks) > 0 {
		p.Space()
		printNextTable(p, n, method)
	}
	printAnswers(p, n)
	printBefore(p, n)
	printCautions(p, n)
	printRefused(p, n)
	p.Space()
	p.Para("With today's plan it takes %s on average to find a culprit and put back what was taken off; root causes that are not settled cost another %s.", wording.Minutes(float64(n.Minutes)), wording.Minutes(float64(n.Causes)))
	if len(n.Checks) > 0 && n.Checks[0].Stage == "interview" {
		p.Para("Questions to the driver one by one: slipcase interview%s", caseArgs(ref))
	}
	p.Space()
	p.Styled(verdict, table.Warn)
}

func printNextTable(p *table.Page, n asking.Next, method bool) {
	t := table.Table{Columns: []table.Column{
		{Title: "#", Right: true, Keep: true}, {Title: "check"}, {Title: "when", Keep: true}, {Title: "takes", Right: true, Keep: true},
		{Title: "saves", Right: true, Keep: true}, {Title: "net", Right: true, Keep: true},
	}}
	if method {
		t.Columns = append(t.Columns, table.Column{Title: "bits", Right: true, Keep: true})
	}
	bounds := false
	for _, c := range n.Checks {
		what := c.Title
		if c.Urgent {
			what += "\n- before you go on: " + c.Before
		}
		if !c.Worth {
			what += "\n- not worth its minutes"
		}
		saves, net := fmt.Sprintf("%.0f", float64(c.Saves)), signed(c.Net)
		if !c.Exact && c.SavesTop-c.Saves >= 0.5 {
			bounds = true
			saves, net = "over "+saves, "over "+net
		}
		row := []string{fmt.Sprint(c.Rank), what, c.Stage, minutes(&c.Minutes), saves, net}
		if method {
			row = append(row, fmt.Sprintf("%.2f", float64(c.Bits)))
		}
		t.Add(row...)
	}
	p.Table(t)
	note := "takes, saves, net: minutes; net is what it saves less what it takes."
	if method {
		note += " bits: how much the answer tells about the suspects."
	}
	if bounds {
		note += " over: of its findings only the most telling were worked out; the rest can only add."
	}
	p.Para("%s", note)
	switch {
	case len(n.Near) > 0 && n.Whole:
		p.Para("To choose these checks, %s weighed approximately, because they tie too many causes together: %s. The figures count them exactly.", wording.Count(len(n.Near), "report was", "reports were"), strings.Join(n.Near, "; "))
	case len(n.Near) > 0:
		p.Para("In these figures %s weighed approximately, because they tie too many causes together: %s.", wording.Count(len(n.Near), "report was", "reports were"), strings.Join(n.Near, "; "))
	}
	switch {
	case n.Proven >= len(n.Checks) && n.More > 0:
		p.Para("The best of %d open checks, by their most telling findings; --all prices every one.", len(n.Checks)+n.More)
	case n.More > 0:
		p.Para("%d more open checks come after these; --all prices every one.", n.More)
	}
}

func signed(n answer.Num) string {
	s := fmt.Sprintf("%+.0f", float64(n))
	if s == "-0" || s == "+0" {
		return "0"
	}
	return s
}

// printAnswers says how the first check helps: the likely answers and what
// each would make of the suspects.
func printAnswers(p *table.Page, n asking.Next) {
	if len(n.Checks) == 0 {
		return
	}
	c := n.Checks[0]
	p.Head("How the first helps")
	if c.Asks != "" {
		p.Para("Ask: %s", c.Asks)
	}
	if c.Why != "" {
		p.Para("%s.", wording.Capital(strings.TrimSuffix(c.Why, ".")))
	}
	if c.Causes >= 1 {
		p.Para("%.0f of the %.0f minutes come from root causes that it settles.", float64(c.Causes), float64(c.Saves))
	}
	for _, a := range c.Answers {
		text := "none of these"
		if len(a.Present) > 0 {
			text = strings.Join(a.Present, "; ")
		}
		text += ": "
		var moves []string
		for _, s := range a.Shifts {
			moves = append(moves, fmt.Sprintf("%s %s to %s", s.Title, percent(s.From), percent(s.To)))
		}
		if len(moves) == 0 {
			moves = []string{"no suspect moves"}
		}
		p.Item(fmt.Sprintf("%9s  ", percent(a.Probability)), "%s", text+strings.Join(moves, "; "))
	}
	if len(c.Answers) > 0 {
		p.Para("Left: how likely the answer is; after it, what it would do to the suspects.")
	}
}

// printBefore lists what a step of the plan would destroy.
func printBefore(p *table.Page, n asking.Next) {
	first := true
	for _, c := range n.Checks {
		if c.Before == "" || !c.Worth {
			continue
		}
		if first {
			p.Head("Before it is destroyed")
			first = false
		}
		p.Item("  - ", "%s (%s), before this step: %s", c.Title, wording.Minutes(float64(c.Minutes)), c.Before)
	}
}

func printCautions(p *table.Page, n asking.Next) {
	var texts []string
	for _, c := range n.Checks {
		for _, t := range c.Cautions {
			if !slices.Contains(texts, t) {
				texts = append(texts, t)
			}
		}
	}
	if len(texts) == 0 {
		return
	}
	p.Head("Cautions")
	for _, t := range texts {
		p.StyledItem("CAUTION: ", t, table.Warn)
	}
}

// printRefused lists what is not offered, by reason.
func printRefused(p *table.Page, n asking.Next) {
	if len(n.Withheld) > 0 {
		p.Head("Withheld")
		for _, r := range n.Withheld {
			p.Item("  - ", "%s: %s", r.Title, r.Reason)
		}
	}
	if len(n.Pointless) > 0 {
		p.Space()
		p.Para("Pointless now, since no answer would change a suspect or the plan: %s.", titles(n.Pointless))
	}
	if len(n.Closed) > 0 {
		p.Head("No longer open")
	}
	for _, c := range n.Closed {
		if c.More > 0 {
			p.Item("  - ", "%s: %d checks", c.Reason, c.More)
			continue
		}
		p.Item("  - ", "%s: %s", c.Reason, titles(c.Checks))
	}
	if n.Waiting > 0 {
		p.Space()
		p.Para("%s for a teardown step to be done first.", wording.Count(n.Waiting, "more check waits", "more checks wait"))
	}
}

func titles(list []asking.Refused) string {
	var out []string
	for _, r := range list {
		out = append(out, r.Title)
	}
	return strings.Join(out, "; ")
}
