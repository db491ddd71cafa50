package cli

import (
	"fmt"
	"os"
	"sync"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk"
	"slipcase/cmd/internal/table"
	"slipcase/cmd/internal/wording"
)

func init() { register(trialCmd) }

func trialCmd(a *app) *cobra.Command {
	o := desk.TrialOptions{Cases: 30, Seed: 1, Perturb: 1}
	cmd := &cobra.Command{
		Use:   "trial UNIT",
		Short: "simulated cases: how soon and how often the culprit leads",
		Long: `Draws vehicles with faults from the rules of a unit, lets four ways of asking play the same ones, and counts questions and minutes until a part leads with 80 %, and how often that part is behind the complaint: as advised (minutes saved less minutes spent), most information first, in the fixed order of the rule files, and in random order. Then it says how often the leader is right with thirty reports from before pulling.

The simulated world follows the rules: what is counted is what the advice gains, not how true the rules are. With --perturb the vehicles follow rules whose numbers are off.`,
		Example:           "slipcase trial northfork-4 --cases 50\nslipcase trial harrow-3 --cases 20 --seed 7 --perturb 2 --json",
		Args:              exactArgs(1, "one UNIT: an id, or the path of a unit file"),
		ValidArgsFunction: a.completeUnits,
		RunE: func(cmd *cobra.Command, args []string) error {
			switch {
			case o.Cases < 1:
				return wrongUse("--cases %d: play one case at least", o.Cases)
			case !(o.Perturb >= 1 && o.Perturb <= 10):
				return wrongUse("--perturb %g: a factor from 1 (not at all) to 10", o.Perturb)
			}
			bar := a.progress()
			o.Progress = bar.tell
			ans, err := a.desk().Trial(a.ctx, args[0], o)
			bar.clear()
			return show(a, cmd, ans, err, func(p *table.Page) { printTrial(p, ans) })
		},
	}
	cmd.Flags().IntVar(&o.Cases, "cases", o.Cases, "how `many` cases to play")
	cmd.Flags().Uint64Var(&o.Seed, "seed", o.Seed, "`number` that the cases are drawn by; the same number, the same cases")
	cmd.Flags().Float64Var(&o.Perturb, "perturb", o.Perturb, "largest `factor` by which the numbers of the vehicles are off from the rules")
	a.asJSON(cmd)
	return cmd
}

// progress is a line on standard error, where that is a terminal.
type progress struct {
	mu    sync.Mutex
	a     *app
	shown bool
}

func (a *app) progress() *progress {
	f, ok := a.err.(*os.File)
	if !ok || !term.IsTerminal(int(f.Fd())) {
		return &progress{}
	}
	return &progress{a: a}
}

func (b *progress) tell(part string, done, of int) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.a == nil {
		return
	}
	b.shown = true
	line := table.Cut(fmt.Sprintf("%s: %d of %d", part, done, of), min(b.a.width, fallbackWidth)-1)
	fmt.Fprintf(b.a.err, "\r%-*s", min(b.a.width, fallbackWidth)-1, line)
}

func (b *progress) clear() {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.shown {
		fmt.Fprintf(b.a.err, "\r%-*s\r", min(b.a.width, fallbackWidth)-1, "")
		b.shown = false
	}
}

func printTrial(p *table.Page, ans answer.Answer[desk.Trial]) {
	t := ans.Data
	p.Styled(trialSentence(t), table.Strong)
	p.Space()
	p.Para("%s. %s, until a part leads with %.0f %%.", t.UnitTitle, wording.Count(t.Cases, "simulated case", "simulated cases"), 100*float64(t.Lead))
	if t.Perturb > 1 {
		p.Para("The numbers of the vehicles are off from the rules by a factor of up to %g.", float64(t.Perturb))
	}
	if t.Undrawn > 0 {
		p.Para("For %s no complaint came up.", wording.Count(t.Undrawn, "more case", "more cases"))
	}
	p.Space()
	tab := table.Table{Columns: []table.Column{{Title: "way of asking"}, {Title: "questions, median", Right: true}, {Title: "90 %", Right: true, Keep: true},
		{Title: "minutes, median", Right: true}, {Title: "90 %", Right: true, Keep: true}, {Title: "leads in", Right: true}, {Title: "right then", Right: true}, {Title: "top 1", Right: true}, {Title: "top 3", Right: true}, {Title: "off by", Right: true}}}
	trimmed := 0
	for _, w := range t.Ways {
		trimmed = max(trimmed, w.Trimmed)
		right := share(w.RightAtLead)
		if w.Reached == 0 {
			right = ""
		}
		tab.Add(w.Title, whole(w.Questions.Median), whole(w.Questions.P90), whole(w.Minutes.Median), whole(w.Minutes.P90),
			fmt.Sprintf("%d/%d", w.Reached, t.Cases), right, share(w.Top1), share(w.Top3), fmt.Sprintf("%.2f", float64(w.Calibration)))
	}
	p.Table(tab)
	p.Para("A case in which no part comes to lead counts with all that was asked. leads in: cases; right then: how often that part is behind the complaint. top 1, top 3: the same of the first and the first three at the end. off by: how far the leader's probability is from the share that is right (calibration error).")
	printSame(p, t)
	if trimmed > 0 {
		p.Para("In up to %s of a way the last figures leave out some reports, which would tie too many causes together.", wording.Count(trimmed, "case", "cases"))
	}
	p.Head("With thirty reports from before pulling")
	b := t.Before
	p.Para("Of %s, with %.1f failed parts each on average: the leader has failed in %s (give or take %s), one of the first three in %s. Its probability is off by %.3f (calibration error; Brier score %.3f).",
		wording.Count(b.Cases, "case", "cases"), float64(b.Faults), share(b.Top1), share(b.Top1Error), share(b.Top3), float64(b.Calibration), float64(b.Brier))
	if b.Cases < 1000 {
		p.Para("A calibration error over so few cases is mostly chance: a perfect model shows it, too.")
	}
	p.Space()
	r := table.Table{Columns: []table.Column{{Title: "leader said"}, {Title: "cases", Right: true}, {Title: "mean said", Right: true}, {Title: "was right", Right: true}}}
	for _, x := range b.Reliability {
		r.Add(fmt.Sprintf("%.0f to %.0f %%", 100*float64(x.Low), 100*float64(x.High)), fmt.Sprint(x.Cases), percent(x.Said), share(x.Right))
	}
	p.Table(r)
	p.Para("The vehicles are drawn from the rules: this tells what asking well is worth, not how true the rules are.")
}

// printSame says what each way needs to come as far as the fixed list.
func printSame(p *table.Page, t desk.Trial) {
	first := true
	for _, w := range t.Ways {
		s := w.Same
		if s.Cases == 0 {
			return
		}
		if first {
			p.Para("As many cases with a leader as the fixed list comes to, %d, take:", s.Cases)
			first = false
		}
		if !s.Reached {
			p.Item("  "+w.Title+": ", "never")
			continue
		}
		p.Item("  "+w.Title+": ", "%s and %s a case", wording.Count(s.Checks, "question", "questions"), wording.Minutes(float64(s.Minutes)))
	}
}

// share is a counted share: 0 and 100 % are just that.
func share(n answer.Num) string { return fmt.Sprintf("%.0f %%", 100*float64(n)) }

func whole(n answer.Num) string { return fmt.Sprintf("%.0f", float64(n)) }

// trialSentence compares the advised way with the fixed order.
func trialSentence(t desk.Trial) string {
	by := map[string]desk.TrialWay{}
	for _, w := range t.Ways {
		by[w.Way] = w
	}
	advised, fixed := by["advice"], by["fixed"]
	text := fmt.Sprintf("Asked as advised, a part comes to lead in %d of %s; in a fixed order, in %d.", advised.Reached, wording.Count(t.Cases, "case", "cases"), fixed.Reached)
	if x, y := advised.Same, fixed.Same; x.Reached && y.Reached && y.Cases > 0 {
		text += fmt.Sprintf(" To come as far as the fixed order takes %s instead of %d.", wording.Count(x.Checks, "question", "questions"), y.Checks)
	}
	return text
}
