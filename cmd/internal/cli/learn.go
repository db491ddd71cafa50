package cli

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk"
	"slipcase/cmd/internal/table"
	"slipcase/cmd/internal/wording"
)

func init() { register(learnCmd) }

func learnCmd(a *app) *cobra.Command {
	var in desk.LearnInput
	var undo, all bool
	cmd := &cobra.Command{
		Use:   "learn",
		Short: "propose better numbers for the rules from confirmed cases",
		Long: `Works out from the confirmed cases of the casebook which rates and strengths of the rules are off: cases closed as fixed or as a come-back, with something found or cleared. It tells the old number, the new one, how sure it is and how many cases are behind it, what stays and why, and whether the new numbers would have done better on cases that they were not learned from. Nothing is written.

With --apply the new numbers go to the shop's own rules, never to the built-in ones: in place, comments and layout kept, with the basis "shop record". --undo takes the last apply back, byte for byte. Learning again starts from the numbers before anything was learned, so that no case counts twice.

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
			return show(a, cmd, ans, err, func(p *table.Page) { printLearned(p, ans, all) })
		},
	}
	f := cmd.Flags()
	f.StringVar(&in.Unit, "unit", "", "learn from the cases of this `unit` only")
	f.BoolVar(&in.Apply, "apply", false, "write the new numbers to the shop's own rules")
	f.BoolVar(&undo, "undo", false, "take back what the last --apply wrote")
	f.BoolVar(&all, "all", false, "list every number that moves, and those that stay each with its reason")
	cmd.MarkFlagsMutuallyExclusive("apply", "undo")
	cmd.MarkFlagsMutuallyExclusive("unit", "undo")
	cmd.MarkFlagsMutuallyExclusive("all", "undo")
	complete(cmd, "unit", func(_ *cobra.Command, _ []string, prefix string) ([]string, cobra.ShellCompDirective) {
		return words(a.desk().UnitWords(a.ctx), prefix), noFiles
	})
	a.asJSON(cmd)
	return cmd
}

func printLearned(p *table.Page, ans answer.Answer[desk.Learned], all bool) {
	x := ans.Data
	p.Styled(x.Sentence, table.Strong)
	if x.Cases == 0 {
		p.Para("A case counts once it is closed as fixed or as a come-back and something was found or cleared in it.")
		printLearnSkipped(p, x, all)
		return
	}
	printLearnChanges(p, x, all)
	printLearnKept(p, x, all)
	printLearnHeldOut(p, x.HeldOut)
	printLearnSkipped(p, x, all)
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

// How many rows are shown where not all are asked for.
const mostLearned, mostKept = 20, 5

func printLearnChanges(p *table.Page, x desk.Learned, all bool) {
	if len(x.Changes) == 0 {
		return
	}
	p.Space()
	t := table.Table{Columns: []table.Column{
		{Title: "number"}, {Title: "old", Right: true, Keep: true}, {Title: "new", Right: true, Keep: true},
		{Title: "90 % interval", Keep: true}, {Title: "cases", Right: true, Keep: true}, {Title: "basis"},
	}}
	shown := x.Changes
	if !all && len(shown) > mostLearned {
		shown = shown[:mostLearned]
	}
	for _, c := range shown {
		t.Add(c.Words, written(c.Old), c.Text, chance(c.Low)+" to "+chance(c.High), tenths(c.Cases), c.Basis)
	}
	p.Table(t)
	if more := len(x.Changes) - len(shown); more > 0 {
		p.Para("%s; --all lists them.", wording.Count(more, "more number moves less", "more numbers move less"))
	}
	p.Para("cases: the effective number of fully observed cases. basis: of the old number; the new one is shop record.")
	if x.NotesFailed > 0 && x.NotesCauses > 0 {
		p.Para("Taken with these numbers: of what had failed this shop notes some %s, of the root causes %s. What a closed case is silent about counts against it by that much.", percent(x.NotesFailed), percent(x.NotesCauses))
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
	"no_case":   "no case speaks of them",
	"too_few":   "too few cases to outweigh what the rules already know",
	"unseen":    "what they say was hardly ever seen: it is guessed from other reports",
	"rivals":    "the cases cannot tell them from another number",
	"confirmed": "the cases agree with them",
}

func printLearnKept(p *table.Page, x desk.Learned, all bool) {
	if len(x.Kept) == 0 {
		return
	}
	p.Head("What stays, and why")
	for _, r := range x.Reasons {
		p.Item(fmt.Sprintf("%6d  ", r.Count), "%s", keptWords[r.Why])
	}
	if !all {
		pairs, n := []desk.LearnKept{}, 0
		for _, k := range x.Kept {
			if k.Rival == "" {
				continue
			}
			if n++; n <= mostKept {
				pairs = append(pairs, k)
			}
		}
		if n > 0 {
			p.Para("Not told apart, for example:")
		}
		for _, k := range pairs {
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

func printLearnHeldOut(p *table.Page, h *desk.LearnHeldOut) {
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

// printLearnSkipped tells which cases were passed over, those of one reason
// together.
func printLearnSkipped(p *table.Page, x desk.Learned, all bool) {
	if len(x.Skipped) == 0 {
		return
	}
	p.Head(fmt.Sprintf("Not learned from: %d of %s", len(x.Skipped), wording.Count(x.InBook, "case", "cases")))
	var reasons []string
	by := map[string][]string{}
	for _, s := range x.Skipped {
		if by[s.Reason] == nil {
			reasons = append(reasons, s.Reason)
		}
		by[s.Reason] = append(by[s.Reason], s.Case)
	}
	for _, r := range reasons {
		ids := by[r]
		more := ""
		if !all && len(ids) > mostKept {
			more = fmt.Sprintf(" and %d more", len(ids)-mostKept)
			ids = ids[:mostKept]
		}
		p.Item("  - ", "%s: %s%s", r, strings.Join(ids, ", "), more)
	}
}

// printLearnFiles tells which files were written.
func printLearnFiles(p *table.Page, x desk.Learned) {
	if x.State == "undone" {
		p.Styled(x.Sentence, table.Strong)
	}
	for _, f := range x.Files {
		p.Item(f.State+": ", "%s", f.File)
	}
	if x.State == "applied" {
		p.Para("slipcase check goes over them; slipcase learn --undo takes all of it back, byte for byte.")
	}
}
