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

func init() { register(planCmd) }

func planCmd(a *app) *cobra.Command {
	var ref asking.CaseRef
	var full bool
	steps := 0
	cmd := &cobra.Command{
		Use:   "plan",
		Short: "show the order of teardown steps that finds the culprit soonest",
		Long: `Orders the steps that are left: first in one sentence whether to take the unit out and where to begin, then as a table with minutes and the probability that a culprit is in view by then, then the first step with its cautions and what to check before it destroys it.

--steps and --full show each step with what to look for, its limits, its cautions in full, and the place on the parts bench where each part is laid.

It follows the bench: parts found or cleared, steps done and measured values change it at once. Once a culprit is found it turns to the question why it failed.

Minutes are those of the steps; measurements are extra, with their minutes beside them. A culprit is a fault that can bring about something reported.`,
		Example: "slipcase plan --demo slip-one-gear\nslipcase plan --case van.hcl --steps 5\nslipcase plan --demo third-and-reverse --full",
		Args:    noArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if cmd.Flags().Changed("steps") && steps < 1 {
				return wrongUse("--steps %d: must be at least 1", steps)
			}
			ans, err := a.desk().Plan(a.ctx, ref, asking.PlanInput{Steps: steps, Full: full})
			return show(a, cmd, ans, err, func(p *table.Page) {
				if full || steps > 0 {
					printPlan(p, ans)
				} else {
					printPlanShort(p, ans)
				}
			})
		},
	}
	a.caseFlags(cmd, &ref)
	cmd.Flags().IntVar(&steps, "steps", 0, "show this `many` steps, each with all that belongs to it")
	cmd.Flags().BoolVar(&full, "full", false, "show every step that is left, each with all that belongs to it")
	cmd.MarkFlagsMutuallyExclusive("steps", "full")
	a.asJSON(cmd)
	return cmd
}

// What of a plan stands on the first screen, which is to fit 24 lines.
const shortSteps, shortBefore = 4, 3

// printPlanShort is the first screen: the decision, the first steps, and what
// to take and heed before the first of them.
func printPlanShort(p *table.Page, ans answer.Answer[asking.Plan]) {
	x := ans.Data
	p.Styled(wording.Capital(x.Sentence), table.Strong)
	p.Para("%s", caseWords(x.Case))
	// What is told above the plan takes the place of other lines.
	told := slices.ContainsFunc(ans.Warnings, func(m answer.Message) bool { return m.First })
	if !told {
		printFirst(p, x)
	}
	printPlanState(p, x)
	if x.After != nil {
		printPlanAfter(p, x.After)
	}
	if len(x.Steps) > 0 {
		if x.Pull.Enough || x.Pull.Unlikely || x.Now.Kind == "repaired" {
			p.Head("If the complaint stays")
		}
		p.Space()
		t := table.Table{Columns: []table.Column{{Title: "#", Right: true, Keep: true}, {Title: "step"}, {Title: "sum", Right: true, Keep: true}, {Title: "in view", Right: true, Keep: true}, {Title: "look for"}}}
		most := shortSteps
		if len(x.First) > 1 {
			most-- // the checks before take its line
		}
		if told {
			most = 1
		}
		for i, s := range x.Steps[:min(most, len(x.Steps))] {
			look := ""
			if len(s.Likely) > 0 {
				look = s.Likely[0].Title + " " + percent(s.Likely[0].Probability)
			}
			if s.Looked {
				look += " (checked: found or clear?)"
			}
			t.Add(fmt.Sprint(i+1), s.Title, fmt.Sprintf("%.0f", float64(s.Sum)), inViewWords(s.InView), look)
		}
		p.Table(t)
		first := x.Steps[0]
		var before []string
		for _, m := range first.Before {
			if !m.Taken {
				before = append(before, m.Text)
			}
		}
		if len(before) > 0 {
			text := strings.Join(before[:min(shortBefore, len(before))], "; ")
			if n := len(before) - shortBefore; n > 0 {
				text += fmt.Sprintf("; and %d more", n)
			}
			p.Item("Before step 1: ", "%s.", text)
		}
		var cautions []string
		for _, c := range first.Cautions {
			cautions = append(cautions, gistOfCaution(c)+".")
		}
		if len(cautions) > 0 {
			p.StyledItem("CAUTION: ", strings.Join(cautions, " "), table.Warn)
		}
		if x.Unseen > 0 && x.After == nil {
			p.Para("%s chance that no step shows a fault behind the reports.", percent(x.Unseen))
		}
		p.Para("%s; --steps 1 shows the first in full, with its cautions, --full all.", stepsLeft(len(x.Steps)-most+x.More))
	}
	p.Styled(verdict, table.Warn)
}

// printFirst names the other checks that come before the steps: the first stands in
// the sentence.
func printFirst(p *table.Page, x asking.Plan) {
	var out []string
	for _, c := range x.First[min(1, len(x.First)):] {
		out = append(out, fmt.Sprintf("%s (%s)", c.Title, wording.Minutes(float64(c.Minutes))))
	}
	if len(out) > 0 {
		p.Item("Also worth checking first: ", "%s.", strings.Join(out, "; "))
	}
}

// stepsLeft says how many steps are not shown.
func stepsLeft(n int) string {
	if n <= 0 {
		return "No more steps"
	}
	return wording.Count(n, "more step", "more steps")
}

// gistOfCaution is what a caution begins with: the danger, or the first thing
// to do. The whole of it stands with the step.
func gistOfCaution(c string) string {
	if i := strings.IndexAny(c, ":;."); i > 0 {
		return c[:i]
	}
	return c
}

func printPlan(p *table.Page, ans answer.Answer[asking.Plan]) {
	x := ans.Data
	p.Styled(wording.Capital(x.Sentence), table.Strong)
	p.Space()
	p.Para("%s", caseWords(x.Case))
	if s := wording.Made(x.Made.Parts, x.Made.OfParts, x.Made.Steps, x.Made.OfSteps); s != "" {
		p.Para("%s", s)
	}
	if len(x.Steps) > 0 && !x.Pull.Out && !x.Pull.Enough && !x.Pull.Unlikely && x.Now.Kind != "repaired" {
		p.Space()
		p.Para("%s", x.Pull.Words)
	}
	printFirst(p, x)
	printPlanState(p, x)
	shown := x.Steps
	if x.After != nil {
		printPlanAfter(p, x.After)
	}
	if len(shown) > 0 {
		if x.Pull.Enough || x.Pull.Unlikely || x.Now.Kind == "repaired" {
			p.Head("If the complaint stays")
		}
		printPlanTable(p, x, shown)
		for i := range shown {
			printPlanStep(p, i+1, &shown[i])
		}
		printPlanCompared(p, x)
		if x.Invented {
			p.Space()
			p.Styled("The limits of this unit are invented examples: take the maker's.", table.Warn)
		}
	}
	if x.After == nil {
		p.Para("Finding one does not end the search: after it, slipcase plan tells what to settle and what a second fault would look like.")
	}
	p.Space()
	p.Styled(verdict, table.Warn)
}

// printPlanState says what is done, and what is in view without a word on it.
func printPlanState(p *table.Page, x asking.Plan) {
	if len(x.Done) > 0 {
		p.Space()
		p.Para("Done: %s.", strings.Join(x.Done, "; "))
	}
	var open []string
	for _, v := range x.Open {
		open = append(open, fmt.Sprintf("%s (%s)", v.Title, percent(v.Probability)))
	}
	if len(open) > 0 {
		p.Styled("In view, not yet marked good or bad: "+strings.Join(open, ", ")+". Mark them with slipcase found or slipcase clear; the plan leaves them out until then.", table.Warn)
	}
}

func printPlanTable(p *table.Page, x asking.Plan, shown []asking.PlanStep) {
	p.Space()
	t := table.Table{Columns: []table.Column{
		{Title: "#", Right: true, Keep: true}, {Title: "step"}, {Title: "min", Right: true, Keep: true}, {Title: "sum", Right: true, Keep: true},
		{Title: "in view", Right: true, Keep: true}, {Title: "look for"},
	}}
	for i, s := range shown {
		t.Add(fmt.Sprint(i+1), s.Title, fmt.Sprintf("%.0f", float64(s.Minutes)), fmt.Sprintf("%.0f", float64(s.Sum)), inViewWords(s.InView), planSuspects(s))
	}
	p.Table(t)
	p.Para("in view: how likely it is that at least one culprit is in view by then. Percent after a part: how likely it is a culprit.")
	if x.More > 0 {
		p.Para("%s more would bring it to %s; --full shows them.", wording.Count(x.More, "step", "steps"), percent(x.Reaches))
	}
	if x.Unseen > 0 && x.After == nil {
		p.Para("%s chance that no step shows a fault behind the reports: then a report is wrong, the fault is a rare one or lies where no step looks, or it is something new.", percent(x.Unseen))
	}
}

// inViewWords is a probability, or a dash while nothing is in view.
func inViewWords(n answer.Num) string {
	if n == 0 {
		return "-"
	}
	return percent(n)
}

// planSuspects names the likeliest parts of a step.
func planSuspects(s asking.PlanStep) string {
	var out []string
	for _, v := range s.Likely {
		words := v.Title + " " + percent(v.Probability)
		if v.Mode != "" {
			words += ": " + v.Mode
		}
		out = append(out, words)
	}
	if s.Late {
		out = append(out, "(when it is back)")
	}
	if s.Looked {
		out = append(out, "(checked: found or clear?)")
	}
	return strings.Join(out, "\n")
}

// printPlanStep is one step with everything that belongs to it.
func printPlanStep(p *table.Page, n int, s *asking.PlanStep) {
	head := fmt.Sprintf("%d. %s, %s", n, s.Title, wording.Minutes(float64(s.Minutes)))
	if s.Late {
		head += ", when the unit is back"
	}
	p.Head(head)
	for _, c := range s.Cautions {
		p.StyledItem("  CAUTION: ", c, table.Warn)
	}
	printPlanMeasures(p, "Before you do this", s.Before)
	printPlanMeasures(p, "As soon as it is done, before anything else", s.At)
	if len(s.LookFor) > 0 {
		p.Item("  ", "Look for")
	}
	for _, l := range s.LookFor {
		p.Item("    - ", "%s, %s (%s): %s", l.Part, l.Mode, percent(l.Probability), l.Look)
	}
	if len(s.Look) > 0 {
		p.Item("  Look also: ", "%s", strings.Join(s.Look, " / "))
	}
	printPlanMeasures(p, "Limits", s.Limits)
	printPlanBench(p, s.Parts)
}

func printPlanMeasures(p *table.Page, head string, list []asking.PlanMeasure) {
	if len(list) == 0 {
		return
	}
	p.Item("  ", "%s", head)
	for _, m := range list {
		box := "    [ ] "
		if m.Taken {
			box = "    [x] "
		}
		text := m.Text
		if m.Limit != "" {
			text += ", " + m.Limit
		}
		if m.Minutes != nil && !m.Taken {
			text += fmt.Sprintf(" (%.0f min)", float64(*m.Minutes))
		}
		if len(m.Needs) > 0 {
			text += "; only with this done: " + strings.Join(m.Needs, ", ")
		}
		style := table.Plain
		if m.Value != "" {
			text += ": measured " + m.Value
			if m.Outside != "" {
				text += ", " + m.Outside + " its limit"
				style = table.Bad
			} else {
				text += ", within"
			}
		}
		p.StyledItem(box, text, style)
	}
}

// printPlanBench says where the parts are laid, those of one place together.
func printPlanBench(p *table.Page, parts []asking.PlanView) {
	var places []string
	at := map[string][]string{}
	for _, v := range parts {
		if v.Bench == "" {
			continue
		}
		if at[v.Bench] == nil {
			places = append(places, v.Bench)
		}
		at[v.Bench] = append(at[v.Bench], v.Title)
	}
	for _, place := range places {
		p.Item("  Lay: ", "%s: %s", strings.Join(at[place], ", "), place)
	}
}

// printPlanCompared sets the plan beside other orders.
func printPlanCompared(p *table.Page, x asking.Plan) {
	if x.Minutes == 0 {
		return
	}
	p.Head("Compared with other orders: minutes to find a culprit and put things back, on average")
	t := table.Table{Columns: []table.Column{
		{Title: "order"}, {Title: "minutes", Right: true, Keep: true}, {Title: "saved", Right: true, Keep: true},
		{Title: "before pulling", Right: true, Keep: true}, {Title: "from the pull on", Right: true, Keep: true},
	}}
	t.Add("this plan", fmt.Sprintf("%.0f", float64(x.Minutes)), "", "", "")
	for _, o := range []struct {
		name string
		asking.PlanOther
	}{{"plain bench order", x.Bench}, {"likeliest culprit first", x.Likely}} {
		before, after := savedWords(o.Before)+" min", savedWords(o.After)+" min"
		if x.Pull.Out {
			before = ""
		}
		t.Add(o.name, fmt.Sprintf("%.0f", float64(o.Minutes)), savedWords(o.Saved)+"%", before, after)
	}
	p.Table(t)
	if !x.Exact {
		p.Para("The order is not proven best: %s.", x.Order)
	}
}

// savedWords rounds a saving; a loss keeps its sign, and nothing is 0.
func savedWords(n answer.Num) string {
	if s := fmt.Sprintf("%.0f", float64(n)); s != "-0" {
		return s
	}
	return "0"
}

// printPlanAfter is what a find asks for.
func printPlanAfter(p *table.Page, a *asking.PlanAfter) {
	p.Head("Why it failed")
	for _, f := range a.Found {
		text := f.Title + ", " + f.Mode
		switch {
		case f.Open:
			text += ": not settled why"
		case len(f.Causes) > 0:
			text += ", because of: " + strings.Join(f.Causes, ", ")
		}
		p.Item("  found: ", "%s", text)
	}
	if a.Warning != "" {
		p.StyledItem("  BEFORE THE BUILD: ", a.Warning, table.Bad)
	}
	for _, c := range a.Causes {
		text := fmt.Sprintf("%s (%s)", c.Title, percent(c.Probability))
		var by []string
		by = append(by, c.SettledBy...)
		if len(by) == 0 && c.Step != "" {
			by = append(by, c.Step)
		}
		if len(by) > 0 {
			text += "; settle it by: " + strings.Join(by, ", ")
		}
		p.Item("    [ ] ", "%s", text)
	}
	if len(a.Also) > 0 {
		p.Head("Look at these as well")
		for _, l := range a.Also {
			where := l.Step
			if l.Done {
				where = "in view now"
			}
			if where != "" {
				where = "; " + where
			}
			p.Item("    [ ] ", "%s: %s%s", l.Title, l.Reason, where)
		}
	}
	p.Head("A second fault")
	if len(a.Second) == 0 {
		p.Para("Finding one does not end the search, but nothing reported points to another fault.")
		return
	}
	p.Para("Finding one does not end the search. What the reports still allow:")
	for _, s := range a.Second {
		where := s.Step
		if s.Done {
			where = "in view now"
		} else if where != "" {
			where = "at: " + where
		}
		look := ""
		if len(s.Part.Signs) > 0 {
			look = s.Part.Signs[0].Title
			if s.Part.Signs[0].Look != "" {
				look += " (" + s.Part.Signs[0].Look + ")"
			}
		}
		p.Item("    - ", "%s, %s: %s; %s", s.Part.Title, percent(s.Part.Probability), look, where)
	}
}
