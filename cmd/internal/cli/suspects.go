package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk"
	"slipcase/cmd/internal/table"
	"slipcase/cmd/internal/wording"
)

func init() { register(suspectsCmd) }

// verdict stands under every ranking.
const (
	verdict = "A probability is not a verdict. " + service
	service = "The maker's service procedure, local rules and licensed practice come first."
)

func suspectsCmd(a *app) *cobra.Command {
	var ref desk.CaseRef
	top := 8
	cmd := &cobra.Command{
		Use:     "suspects",
		Short:   "what has failed, most probable first",
		Long:    "Ranks the parts that can be behind the reports of a case: first in one plain sentence, then as a table with the probability of each, where it comes into view and how many minutes that takes; then the faults that explain the reports together, and the root causes to settle before the build.",
		Example: "slipcase suspects --demo slip-one-gear\nslipcase suspects --case van.hcl --top 3",
		Args:    noArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if top < 1 {
				return wrongUse("--top %d: ask for one suspect at least", top)
			}
			ans, err := a.desk().Suspects(a.ctx, ref, top)
			return show(a, cmd, ans, err, func(p *table.Page) { printSuspects(p, ans, ref) })
		},
	}
	a.caseFlags(cmd, &ref)
	cmd.Flags().IntVar(&top, "top", top, "how `many` suspects to show")
	a.asJSON(cmd)
	return cmd
}

func percent(n answer.Num) string { return wording.Percent(float64(n)) }

func printSuspects(p *table.Page, ans answer.Answer[desk.Suspects], ref desk.CaseRef) {
	s := ans.Data
	p.Styled(s.Sentence, table.Strong)
	p.Space()
	p.Para("%s", caseWords(s.Case))
	p.Space()
	t := table.Table{Columns: []table.Column{
		{Title: "#", Right: true, Keep: true}, {Title: "suspect"}, {Title: "how sure", Right: true, Keep: true},
		{Title: "seen at"}, {Title: "minutes", Right: true, Keep: true}, {Title: "order", Keep: true},
	}}
	for _, x := range s.Suspects {
		order := "firm"
		if x.Stands == nil {
			order = ""
		} else if !*x.Stands {
			order = "may swap"
		}
		sure := percent(x.Probability)
		if x.Bounded {
			sure = "at most " + sure
		}
		t.Add(fmt.Sprint(x.Rank), suspectWords(x), sure, seenAt(x), minutes(x.Minutes), order)
	}
	p.Table(t)
	p.Para("minutes: from here until it is in view. order, for the first places: firm where it stays if the recalled and invented numbers are off by a factor of two.")
	if s.More > 0 {
		p.Para("%d more components are less likely; --top shows more.", s.More)
	}
	if len(s.Suspects) > 0 {
		p.Para("Reasons for the first: slipcase why %s%s", s.Suspects[0].Component, caseArgs(ref))
	}
	printExplanations(p, s)
	printCauses(p, s.Causes)
	p.Space()
	p.Para("Probability that no known fault explains this: %s. Then a report is wrong, or it is something new.", percent(s.Unexplained))
	if s.Doubt != "" {
		p.Para("%s", s.Doubt)
	}
	if len(s.Bases) > 0 {
		p.Para("The numbers behind these suspects are: %s. slipcase why lists them.", strings.Join(s.Bases, ", "))
	}
	p.Para("Worked out %s.", ans.Method)
	p.Space()
	p.Styled(verdict, table.Warn)
}

func caseWords(c desk.CaseHead) string {
	s := "Case " + c.ID
	if c.Title != "" {
		s += ": " + c.Title
	}
	if c.Vehicle != "" {
		s += " (" + c.Vehicle + ")"
	}
	return fmt.Sprintf("%s. %s, %s.", s, c.UnitTitle, wording.Count(c.Reports, "report", "reports"))
}

// suspectWords is a suspect's title, how it has failed, and its name where the
// title does not tell it.
func suspectWords(x desk.Suspect) string {
	s := x.Title
	if x.Outside {
		s += " (outside the transmission)"
	}
	for _, m := range x.Modes {
		s += "\n- " + m.Title
		if len(x.Modes)+x.MoreModes > 1 {
			s += " " + percent(m.Probability)
		}
	}
	if strings.ReplaceAll(strings.ToLower(x.Title), " ", "_") != x.Component {
		s += "\n[" + x.Component + "]"
	}
	return s
}

func seenAt(x desk.Suspect) string {
	switch {
	case x.StepTitle != "":
		return x.StepTitle
	case x.Outside:
		return "on the vehicle"
	}
	return "no step shows it"
}

func minutes(n *answer.Num) string {
	if n == nil {
		return ""
	}
	return fmt.Sprintf("%.0f", float64(*n))
}

func printExplanations(p *table.Page, s desk.Suspects) {
	if len(s.Explanations) == 0 {
		return
	}
	p.Head("Faults that explain it together")
	for _, e := range s.Explanations {
		var faults []string
		for _, f := range e.Faults {
			faults = append(faults, f.Title)
		}
		text := strings.Join(faults, "; with ")
		switch len(faults) {
		case 0:
			text = "none of the likeliest faults: a rarer one, or a report that is wrong"
		case 1:
			text += ", alone"
		}
		if e.Cause != "" {
			text += fmt.Sprintf(". Likeliest root cause then: %s (%s)", e.CauseTitle, percent(e.CauseProbability))
		}
		p.Item(fmt.Sprintf("%9s  ", percent(e.Probability)), "%s", text)
	}
}

// printCauses lists root causes that the reports have made likelier, or that
// are likely anyway.
func printCauses(p *table.Page, causes []desk.Cause) {
	for i, c := range causes {
		if i == 0 {
			p.Head("Root causes to settle before the build")
		}
		text := c.Title
		if len(c.SettledBy) > 0 {
			text += "; settled by: " + strings.Join(c.SettledBy, ", ")
		}
		p.Item(fmt.Sprintf("%9s  ", percent(c.Probability)), "%s", text)
	}
}
