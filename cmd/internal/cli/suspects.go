package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/asking"
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
	var ref asking.CaseRef
	var full, method bool
	top := 8
	cmd := &cobra.Command{
		Use:   "suspects",
		Short: "rank what has failed, most likely first",
		Long: `Ranks the parts that can be behind the reports of a case: one plain sentence, then what explains what was reported, joint faults first and parts after them, with those that are listed by base rate alone set apart; then what speaks for and against the first.

--full shows every suspect with where it comes into view and how many minutes that takes, and the root causes to settle before the build, and tries whether the leader stays first when the numbers of the rules are off; --method says how it was worked out.`,
		Example: "slipcase suspects --demo slip-one-gear\nslipcase suspects --case van.hcl --full --top 3",
		Args:    noArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if top < 1 {
				return wrongUse("--top %d: must be at least 1", top)
			}
			ask := a.desk().Suspects
			if full {
				ask = a.desk().SuspectsTried
			}
			ans, err := ask(a.ctx, ref, top)
			return show(a, cmd, ans, err, func(p *table.Page) {
				if full {
					printSuspects(p, ans, ref, method)
				} else {
					printSuspectsShort(p, ans, ref, method)
				}
			})
		},
	}
	a.caseFlags(cmd, &ref)
	cmd.Flags().IntVar(&top, "top", top, "how `many` suspects to work out; --full shows all of them")
	cmd.Flags().BoolVar(&full, "full", false, "show every suspect worked out, the root causes and what is behind the numbers")
	cmd.Flags().BoolVar(&method, "method", false, "say how it was worked out")
	a.asJSON(cmd)
	return cmd
}

func percent(n answer.Num) string { return wording.Percent(float64(n)) }

// How much of each list stands on the first screen, which is to fit 24 lines.
const shortSets, shortParts, shortPros = 3, 2, 2

// togetherWords are an element with its parts: "reverse clutch with its oil 71%,
// among plates, piston and rings".
func togetherWords(t *asking.Together) string {
	list := strings.Join(t.Parts[:min(mostTogether, len(t.Parts))], ", ")
	if len(t.Parts) > mostTogether {
		list += " and more"
	}
	return fmt.Sprintf("%s %s, any of its parts: %s", t.Title, percent(t.Probability), list)
}

// mostTogether is how many parts of an element are named.
const mostTogether = 3

// printSuspectsShort is the first screen: what, how sure, because, do this.
func printSuspectsShort(p *table.Page, ans answer.Answer[asking.Suspects], ref asking.CaseRef, method bool) {
	s := ans.Data
	p.Styled(s.Sentence, table.Strong)
	p.Para("%s", caseWords(s.Case))
	p.Space()
	var parts, rest []string
	for _, x := range s.Suspects {
		words := x.Title + " " + sureWords(x)
		if x.Raised {
			parts = append(parts, words)
		} else {
			rest = append(rest, words)
		}
	}
	sets := shortSets
	if s.Together != nil {
		sets-- // its lines come after them
	}
	for i, e := range s.Explanations {
		if i == sets || e.Slight {
			break
		}
		p.Item(fmt.Sprintf("%9s  ", percent(e.Probability)), "%s", setWords(e))
	}
	if t := s.Together; t != nil {
		p.Item("Together: ", "%s.", togetherWords(t))
	}
	for _, l := range []struct {
		head string
		list []string
	}{{"Part by part: ", parts}, {"By base rate alone: ", rest}} {
		if len(l.list) > 0 {
			p.Item(l.head, "%s.", strings.Join(l.list[:min(shortParts, len(l.list))], ", "))
		}
	}
	if !s.Slight {
		p.Item("", "%s chance that nothing known explains it: a report is wrong, or it is something new.", percent(s.Unexplained))
	}
	for _, l := range []struct {
		head string
		list []string
	}{{"Because: ", s.For}, {"Against it: ", s.Against}} {
		if len(l.list) > 0 {
			p.Item(l.head, "%s.", strings.Join(l.list[:min(shortPros, len(l.list))], "; "))
		}
	}
	if len(s.Suspects) > 0 {
		x := s.Suspects[0]
		at := seenAt(x)
		if x.Minutes != nil {
			at += ", " + wording.Minutes(float64(*x.Minutes)) + " from here"
		}
		p.Item("Seen at: ", "%s.", at)
		p.Item("Do this: ", "slipcase next%s", caseArgs(ref))
		p.Item("More: ", "--full; slipcase why %s%s", x.Component, caseArgs(ref))
	}
	if method {
		p.Para("Worked out %s.", ans.Method)
	}
	p.Styled(verdict, table.Warn)
}

// sureWords is the probability of a suspect.
func sureWords(x asking.Suspect) string {
	if x.Bounded {
		return "at most " + percent(x.Probability)
	}
	return percent(x.Probability)
}

// setWords names the faults of a joint explanation.
func setWords(e asking.Explanation) string {
	var faults []string
	for _, f := range e.Faults {
		faults = append(faults, f.Title)
	}
	switch len(faults) {
	case 0:
		return "none of the likeliest faults: a rarer one, or a report that is wrong"
	case 1:
		return faults[0] + ", alone"
	}
	return strings.Join(faults, "; with ")
}

func printSuspects(p *table.Page, ans answer.Answer[asking.Suspects], ref asking.CaseRef, method bool) {
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
		t.Add(fmt.Sprint(x.Rank), suspectWords(x), sureWords(x), seenAt(x), minutes(x.Minutes), order)
	}
	p.Table(t)
	p.Para("minutes: from here until it is in view. order, for the first places: firm where it stays in nine of ten tries with every number of the rules off by up to a factor of two.")
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
	if method {
		p.Para("Worked out %s.", ans.Method)
	}
	p.Space()
	p.Styled(verdict, table.Warn)
}

func caseWords(c asking.CaseHead) string {
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
func suspectWords(x asking.Suspect) string {
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

func seenAt(x asking.Suspect) string {
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

func printExplanations(p *table.Page, s asking.Suspects) {
	if len(s.Explanations) == 0 {
		return
	}
	p.Head("Faults that explain it together")
	for _, e := range s.Explanations {
		text := setWords(e)
		if e.Cause != "" {
			text += fmt.Sprintf(". Likeliest root cause then: %s (%s)", e.CauseTitle, percent(e.CauseProbability))
		}
		p.Item(fmt.Sprintf("%9s  ", percent(e.Probability)), "%s", text)
	}
}

// printCauses lists root causes that the reports have made likelier, or that
// are likely anyway.
func printCauses(p *table.Page, causes []asking.Cause) {
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
