package cli

import (
	"fmt"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/archive"
	"slipcase/cmd/internal/table"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
)

func init() { register(casesCmd) }

func casesCmd(a *app) *cobra.Command {
	var in archive.CasesInput
	var open bool
	var outcome, since string
	cmd := &cobra.Command{
		Use:     "cases [WORD...]",
		Short:   "list and search the casebook",
		Long:    "Lists the cases of the casebook, newest first. Words narrow it: each must begin a word of the title, the vehicle, the customer's words or a note; case and accents do not matter. All conditions given must hold.",
		Example: "slipcase cases\nslipcase cases gray van --open\nslipcase cases --finding slips@D/4 --culprit overdrive_servo\nslipcase cases show 26-0001",
		Args:    cobra.ArbitraryArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			in.Text = strings.Join(args, " ")
			if open {
				in.Status = engine.CaseOpen
			}
			if outcome != "" {
				if in.Status = outcomes[outcome]; in.Status == "" {
					return wrongUse("--outcome is fixed, comeback or abandoned, not %q", outcome)
				}
			}
			if since != "" {
				t, err := time.ParseInLocation(time.DateOnly, since, time.Local)
				if err != nil {
					return wrongUse("--since %s is not a day like 2026-01-31", since)
				}
				in.Since = t
			}
			if in.Limit < 1 || in.Limit > 1000 {
				return wrongUse("--limit %d: 1 to 1000 cases fit on a page", in.Limit)
			}
			ans, err := a.desk().Cases(a.ctx, in)
			return show(a, cmd, ans, err, func(p *table.Page) { printCases(p, ans) })
		},
	}
	f := cmd.Flags()
	f.StringVar(&in.Unit, "unit", "", "only of this `unit`")
	f.StringVar(&in.Finding, "finding", "", "only where this `finding` is reported present: slips@D/3, or slips for any place")
	f.StringVar(&in.Culprit, "culprit", "", "only where this `component` was found failed, or component/mode")
	f.StringVar(&in.Earlier, "of", "", "only comebacks of the case with this `id`")
	f.BoolVar(&open, "open", false, "only open cases")
	f.BoolVar(&in.Closed, "closed", false, "only closed cases")
	f.StringVar(&outcome, "outcome", "", "only cases closed as fixed, comeback or abandoned: `which`")
	f.StringVar(&since, "since", "", "only cases opened on this `day` or later: 2026-01-31")
	f.IntVar(&in.Limit, "limit", 20, "how `many` cases on a page")
	f.StringVar(&in.After, "after", "", "the page after the case with this `id`")
	cmd.MarkFlagsMutuallyExclusive("open", "closed", "outcome")
	complete(cmd, "of", a.completeCases)
	complete(cmd, "after", a.completeCases)
	complete(cmd, "unit", func(_ *cobra.Command, _ []string, prefix string) ([]string, cobra.ShellCompDirective) {
		return words(a.desk().UnitWords(a.ctx), prefix), noFiles
	})
	a.asJSON(cmd)
	cmd.AddCommand(showCmd(a), checkBookCmd(a), rescueCmd(a))
	return cmd
}

func printCases(p *table.Page, ans answer.Answer[archive.Cases]) {
	l := ans.Data
	if len(l.Cases) == 0 {
		p.Para("No case matches in %s.", l.Book)
		return
	}
	t := table.Table{Columns: []table.Column{{Title: "case", Keep: true}, {Title: "state", Keep: true}, {Title: "what"}, {Title: "unit"}, {Title: "found"}}}
	current := false
	for _, c := range l.Cases {
		id := c.ID
		if id == l.Current {
			id, current = id+" *", true
		}
		what := c.Title
		if c.Vehicle != "" {
			what += " (" + c.Vehicle + ")"
		}
		state := wording.Status(engine.CaseStatus(c.Status))
		if c.Earlier != "" {
			state += "\nof " + c.Earlier
		}
		t.Add(id, state, what, c.Unit, strings.Join(c.Culprits, "\n"))
	}
	p.Table(t)
	var counts []string
	for _, x := range []struct {
		n    int
		what string
	}{{l.Open, "open"}, {l.Fixed, "fixed"}, {l.Back, "comeback"}, {l.Gone, "abandoned"}} {
		if x.n > 0 {
			counts = append(counts, fmt.Sprintf("%d %s", x.n, x.what))
		}
	}
	p.Para("%s: %s.", wording.Count(l.Total, "case", "cases"), strings.Join(counts, ", "))
	if current {
		p.Para("* the current case: commands work on it.")
	}
	if l.Next != "" {
		p.Para("For more, repeat with --after %s", l.Next)
	}
}

func showCmd(a *app) *cobra.Command {
	cmd := &cobra.Command{
		Use:     "show [ID]",
		Short:   "show all of one case, including undone entries",
		Long:    "Shows all of one case, the current one when no ID is given: every entry with its number, when it was made and by whom, and what was undone.",
		Example: "slipcase cases show 26-0001\nslipcase cases show",
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) > 1 {
				return wrongUse("%s takes one ID; unexpected %q", cmd.CommandPath(), args[1])
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			id := strings.Join(args, "")
			ans, err := a.desk().CaseHistory(a.ctx, id)
			return show(a, cmd, ans, err, func(p *table.Page) { printHistory(p, ans) })
		},
	}
	cmd.ValidArgsFunction = func(c *cobra.Command, args []string, prefix string) ([]string, cobra.ShellCompDirective) {
		if len(args) > 0 {
			return nil, noFiles
		}
		return a.completeCases(c, args, prefix)
	}
	a.asJSON(cmd)
	return cmd
}

func printHistory(p *table.Page, ans answer.Answer[archive.History]) {
	h := ans.Data
	text := fmt.Sprintf("Case %s, %s: %s", h.ID, wording.Status(engine.CaseStatus(h.Status)), h.Title)
	if h.Vehicle != "" {
		text += " (" + h.Vehicle + ")"
	}
	p.Styled(text, table.Strong)
	unit := h.Unit
	if h.UnitTitle != "" {
		unit += ", " + h.UnitTitle
	}
	p.Para("%s.", unit)
	if h.Words != "" {
		p.Para("The customer says: %s", h.Words)
	}
	line := "Opened " + dayAndTime(h.Opened)
	if h.Who != "" {
		line += " by " + h.Who
	}
	p.Para("%s.", line)
	switch {
	case h.EarlierJob != nil:
		for _, w := range h.EarlierJob.Words {
			p.Para("%s", w)
		}
	case h.Earlier != "":
		p.Para("A comeback of case %s.", h.Earlier)
	}
	if len(h.CameBack) > 0 {
		p.Para("It came back: %s. Its verdict is in doubt.", strings.Join(h.CameBack, ", "))
	}
	if h.Current {
		p.Para("It is the current case.")
	}
	p.Space()
	if len(h.Entries) == 0 {
		p.Para("Nothing is noted yet.")
		return
	}
	t := table.Table{Columns: []table.Column{{Title: "no.", Right: true, Keep: true}, {Title: "when", Keep: true}, {Title: "entry"}}}
	who := ""
	for _, e := range h.Entries {
		words := e.Words
		style := table.Plain
		if !e.InForce {
			words += fmt.Sprintf("\n(undone by %d)", e.TakenBackBy)
			style = table.Faint
		}
		if e.Who != who {
			words += "\n- " + e.Who
			who = e.Who
		}
		t.Rows = append(t.Rows, []table.Cell{{Text: fmt.Sprint(e.Seq), Style: style}, {Text: dayAndTime(e.At), Style: style}, {Text: words, Style: style}})
	}
	p.Table(t)
}

// dayAndTime shows a time as the clock on the wall here does.
func dayAndTime(stamp string) string {
	t, err := time.Parse(time.RFC3339, stamp)
	if err != nil {
		return "at an unknown time"
	}
	return t.Local().Format("2006-01-02 15:04")
}
