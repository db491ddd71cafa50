package cli

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/learning"
	"slipcase/cmd/internal/table"
	"slipcase/cmd/internal/wording"
)

func init() { register(learnCmd) }

func learnCmd(a *app) *cobra.Command {
	var in learning.LearnInput
	var undo bool
	cmd := &cobra.Command{
		Use:   "learn",
		Short: "propose better numbers for the rules from confirmed cases",
		Long: `Works out from the confirmed cases of the casebook which rates and strengths of the rules are off: cases closed as fixed or as a comeback, with something found or cleared. It shows the old number, the new one, how sure it is and how many cases are behind it, what stays and why, and whether the new numbers would have done better on cases that they were not learned from. Nothing is written.

With --apply the new numbers go to the shop's own rules, never to the built-in ones: in place, comments and layout kept, with the basis "shop record". Numbers that do worse than the old ones on held-out cases are not written; --anyway writes them, and says so beside them. --undo undoes the last --apply, byte for byte. Learning again starts from the numbers before anything was learned, so that no case counts twice.

A number moves only when the old one lies outside the interval that the cases leave. Rates are those of vehicles on the road; learning allows for those that never come in.

Note what is absent as well as what is there: where only the present is noted, its numbers come out too high.`,
		Example: "slipcase learn\nslipcase learn --unit northfork-4 --all\nslipcase learn --apply\nslipcase learn --undo",
		Args:    noArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if undo {
				ans, err := a.desk().LearnUndo(a.ctx)
				return show(a, cmd, ans, err, func(p *table.Page) { printLearnFiles(p, ans.Data) })
			}
			bar := &progress{}
			if !a.verbose { // then each step has a line of its own
				bar = a.progress()
			}
			in.Progress = func(part string, done, of int) {
				if step := max(of/100, 1); done%step == 0 || done == of {
					bar.tell(part, done, of)
				}
			}
			ans, err := a.desk().Learn(a.ctx, in)
			bar.clear()
			return show(a, cmd, ans, err, func(p *table.Page) { printLearned(p, ans) })
		},
	}
	f := cmd.Flags()
	f.StringVar(&in.Unit, "unit", "", "learn from the cases of this `unit` only")
	f.BoolVar(&in.Apply, "apply", false, "write the new numbers to the shop's own rules")
	f.BoolVar(&in.Anyway, "anyway", false, "with --apply: write them even where they do worse on held-out cases")
	f.BoolVar(&undo, "undo", false, "undo the last --apply")
	f.BoolVar(&in.All, "all", false, "list every number that moves, and those that stay each with its reason")
	cmd.MarkFlagsMutuallyExclusive("apply", "undo")
	cmd.MarkFlagsMutuallyExclusive("unit", "undo")
	cmd.MarkFlagsMutuallyExclusive("all", "undo")
	complete(cmd, "unit", func(_ *cobra.Command, _ []string, prefix string) ([]string, cobra.ShellCompDirective) {
		return words(a.desk().UnitWords(a.ctx), prefix), noFiles
	})
	a.asJSON(cmd)
	return cmd
}

func printLearned(p *table.Page, ans answer.Answer[learning.Learned]) {
	x := ans.Data
	p.Styled(x.Sentence, table.Strong)
	if x.Cases == 0 {
		p.Para("A case counts once it is closed as fixed or as a comeback and something was found or cleared in it.")
		printLearnSkipped(p, x)
		return
	}
	printLearnChanges(p, x)
	printLearnKept(p, x)
	printLearnHeldOut(p, x.HeldOut)
	printLearnSkipped(p, x)
	p.Space()
	p.Para("Worked out by %s.", ans.Method)
	switch {
	case x.State == "applied":
		p.Space()
		printLearnFiles(p, x)
	case len(x.Changes) > 0:
		p.Para("Nothing was written: slipcase learn --apply%s writes the new numbers to %s.", unitFlag(x.Unit), x.Shop)
	}
}

func unitFlag(unit string) string {
	if unit == "" {
		return ""
	}
	return " --unit " + unit
}

func printLearnChanges(p *table.Page, x learning.Learned) {
	if len(x.Changes) == 0 {
		return
	}
	p.Space()
	t := table.Table{Columns: []table.Column{
		{Title: "number"}, {Title: "old", Right: true, Keep: true}, {Title: "new", Right: true, Keep: true},
		{Title: "90% interval", Keep: true}, {Title: "cases", Right: true, Keep: true}, {Title: "basis"},
	}}
	for _, c := range x.Changes {
		t.Add(c.Words, written(c.Old), c.Text, chance(c.Low)+" to "+chance(c.High), tenths(c.Cases), c.Basis)
	}
	p.Table(t)
	if x.More > 0 {
		p.Para("%s; --all lists them.", wording.Count(x.More, "more number moves less", "more numbers move less"))
	}
	p.Para("cases: the effective number of fully observed cases. basis: of the old number; the new one is shop record.")
	if x.NotesFailed > 0 && x.NotesCauses > 0 {
		p.Para("Used with these numbers: this shop notes some %s of what had failed and %s of the root causes. What a closed case does not mention counts against it by that much.", percent(x.NotesFailed), percent(x.NotesCauses))
	}
}

// written is a number with all its digits, as a rule has it.
func written(n answer.Num) string { return strconv.FormatFloat(float64(n), 'f', -1, 64) }

// chance writes a probability with two significant digits of itself or of what
// it lacks to one.
func chance(n answer.Num) string {
	p := float64(n)
	small := math.Min(p, 1-p)
	if !(small > 0) {
		return strconv.FormatFloat(p, 'g', 3, 64)
	}
	digits := 1 - int(math.Floor(math.Log10(small)))
	return strconv.FormatFloat(p, 'f', min(max(digits, 2), 8), 64)
}

func tenths(n answer.Num) string {
	if n < 9.95 {
		return fmt.Sprintf("%.1f", float64(n))
	}
	return fmt.Sprintf("%.0f", float64(n))
}

// keptWords tells the reasons for which a number stays.
var keptWords = map[string]string{
	"no_case":          "no case says anything about them",
	"too_few":          "too few cases to outweigh what the rules already know",
	"unseen":           "what they say was hardly ever observed: it is inferred from other reports",
	"not_identifiable": "the cases cannot tell them from another number",
	"confirmed":        "the cases agree with them",
	"one_sided":        "almost nothing but what was there was noted, which does not show how often it is",
	"chance":           "they lie outside their 90% intervals, as some of so many do by chance",
	"allowed":          "the cases do not rule them out: they lie within the 90% intervals",
}

func printLearnKept(p *table.Page, x learning.Learned) {
	if len(x.Kept)+x.MoreKept == 0 {
		return
	}
	p.Head("What stays, and why")
	for _, r := range x.Reasons {
		p.Item(fmt.Sprintf("%6d  ", r.Count), "%s", keptWords[r.Why])
	}
	if x.MoreKept > 0 {
		if len(x.Kept) > 0 {
			p.Para("Not told apart, for example:")
		}
		for _, k := range x.Kept {
			p.Item("  - ", "%s / %s", k.Words, k.Rival)
		}
		p.Para("--all lists each with its reason.")
		return
	}
	p.Space()
	t := table.Table{Columns: []table.Column{{Title: "number"}, {Title: "value", Right: true, Keep: true}, {Title: "cases", Right: true, Keep: true}, {Title: "why it stays"}}}
	for _, k := range x.Kept {
		t.Add(k.Words, written(k.Value), tenths(k.Cases), k.Reason)
	}
	p.Table(t)
}

func printLearnHeldOut(p *table.Page, h *learning.LearnHeldOut) {
	if h == nil {
		return
	}
	p.Head("On cases that they were not learned from")
	p.Para("%s, held out in %s; %s with a part found failed.", wording.Count(h.Cases, "case", "cases"), wording.Count(h.Parts, "part", "parts"), wording.Count(h.Culprits, "case", "cases"))
	p.Space()
	t := table.Table{Columns: []table.Column{{Title: ""}, {Title: "before", Right: true, Keep: true}, {Title: "after", Right: true, Keep: true}, {Title: "better when", Keep: true}}}
	t.Add("log score, nats per case", fmt.Sprintf("%.3f", float64(h.Before.Log)), fmt.Sprintf("%.3f", float64(h.After.Log)), "higher")
	t.Add("Brier score, a case", fmt.Sprintf("%.3f", float64(h.Before.Brier)), fmt.Sprintf("%.3f", float64(h.After.Brier)), "lower")
	if h.Culprits > 0 {
		t.Add("found part came first", percent(h.Before.Top1), percent(h.After.Top1), "higher")
		t.Add("among the first three", percent(h.Before.Top3), percent(h.After.Top3), "higher")
	}
	p.Table(t)
	give := ""
	if !math.IsInf(float64(h.Error), 0) {
		give = fmt.Sprintf(", give or take %.3f", float64(h.Error))
	}
	p.Para("Gain of the log score: %+.3f%s. Before: the rules before anything was learned.", float64(h.Gain), give)
}

// printLearnSkipped tells which cases were skipped, and why.
func printLearnSkipped(p *table.Page, x learning.Learned) {
	skipped := 0
	for _, s := range x.Skipped {
		skipped += len(s.Cases) + s.More
	}
	if skipped == 0 {
		return
	}
	p.Head(fmt.Sprintf("Not learned from: %d of %s", skipped, wording.Count(x.InBook, "case", "cases")))
	for _, s := range x.Skipped {
		more := ""
		if s.More > 0 {
			more = fmt.Sprintf(" and %d more", s.More)
		}
		p.Item("  - ", "%s: %s%s", s.Reason, strings.Join(s.Cases, ", "), more)
	}
}

// printLearnFiles tells which files were written.
func printLearnFiles(p *table.Page, x learning.Learned) {
	if x.State == "undone" {
		p.Styled(x.Sentence, table.Strong)
	}
	for _, f := range x.Files {
		p.Item(f.State+": ", "%s", f.File)
	}
	if x.State == "applied" {
		p.Para("slipcase check goes over them; slipcase learn --undo undoes all of it, byte for byte.")
	}
}
