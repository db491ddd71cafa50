package cli

import (
	"fmt"
	"os"
	"strings"
	"sync"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/practice"
	"slipcase/cmd/internal/table"
	"slipcase/cmd/internal/wording"
)

func init() { register(trialCmd) }

func trialCmd(a *app) *cobra.Command {
	o := practice.TrialOptions{Cases: 30, Seed: 1, Perturb: 1}
	cmd := &cobra.Command{
		Use:   "trial UNIT...",
		Short: "run simulated vehicles: how soon and how often the suspects are right",
		Long: `Simulates vehicles with a complaint, drawn from the rules of a unit, makes the advised checks on them, and counts after 10, 20 and 40 minutes and with every check before pulling how often the first suspect, and one of the first three, is right: by component, by element and by teardown step. On the same vehicles it counts simpler ways (a paper chart, independent signs, matching symptoms, a fixed list of checks), and what is lost without parts of the rules. Then it compares the probabilities that were said with how often they were right.

The simulated world follows the rules: what is counted is what checks and ranking gain, not how true the rules are. With --perturb the vehicles follow rules whose numbers are off.

With --state a trial that was stopped goes on from the file. The table is the same as if it had run through, and more cases may be asked for later.

With --calibration nothing is asked: each vehicle is diagnosed once, from what the driver and the pan tell, so that thousands can be drawn. With several units, the result is shown for each unit and for all vehicles together; with --state each unit has its own file, named after it.`,
		Example: "slipcase trial northfork-4 --cases 50 --state trial.state\nslipcase trial harrow-3 --cases 20 --seed 7 --perturb 2 --json\nslipcase trial harrow-3 northfork-4 --calibration --cases 1000",
		Args: func(cmd *cobra.Command, args []string) error {
			if o.Calibration && len(args) > 1 {
				return nil
			}
			return exactArgs(1, "one UNIT: an id, or the path of a unit file; several with --calibration")(cmd, args)
		},
		ValidArgsFunction: a.completeUnits,
		RunE: func(cmd *cobra.Command, args []string) error {
			switch {
			case o.Cases < 1 || o.Cases > 1_000_000:
				return wrongUse("--cases %d: from 1 to 1000000", o.Cases)
			case !(o.Perturb >= 1 && o.Perturb <= 10):
				return wrongUse("--perturb %g: a factor from 1 (not at all) to 10", o.Perturb)
			}
			bar := a.progress()
			bar.lines = a.verbose && bar.a == nil
			o.Progress = func(part string, done, of int) {
				if bar.lines {
					fmt.Fprintf(a.err, "%s: %d of %d\n", part, done, of)
				}
				bar.tell(part, done, of)
			}
			run := func() (answer.Answer[practice.Trial], error) {
				if len(args) > 1 {
					return a.desk().Calibrations(a.ctx, args, o)
				}
				return a.desk().Trial(a.ctx, args[0], o)
			}
			ans, err := run()
			bar.clear()
			return show(a, cmd, ans, err, func(p *table.Page) { printTrial(p, ans) })
		},
	}
	cmd.Flags().IntVar(&o.Cases, "cases", o.Cases, "how `many` vehicles to draw")
	cmd.Flags().Uint64Var(&o.Seed, "seed", o.Seed, "`number` that the vehicles are drawn by; the same number gives the same vehicles")
	cmd.Flags().Float64Var(&o.Perturb, "perturb", o.Perturb, "largest `factor` by which the numbers of the vehicles are off from the rules")
	cmd.Flags().BoolVar(&o.Calibration, "calibration", false, "only compare what is said with what is right, without asking")
	cmd.Flags().StringVar(&o.State, "state", "", "`file` that keeps what is worked out, to go on after a stop")
	a.asJSON(cmd)
	return cmd
}

// progress is a line on standard error, where that is a terminal.
type progress struct {
	mu    sync.Mutex
	a     *app
	shown bool
	lines bool // a line for each step instead
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

func printTrial(p *table.Page, ans answer.Answer[practice.Trial]) {
	t := ans.Data
	p.Styled(trialSentence(t), table.Strong)
	p.Space()
	p.Para("%s. %s with a complaint, each drawn once, with %.1f failed parts on average.", t.UnitTitle, wording.Count(t.Cases, "simulated vehicle", "simulated vehicles"), float64(t.Failed))
	if t.Perturb > 1 {
		p.Para("The numbers of the vehicles are off from the rules by a factor of up to %g.", float64(t.Perturb))
	}
	if t.Undrawn > 0 {
		p.Para("No complaint came up for %s.", wording.Count(t.Undrawn, "more vehicle", "more vehicles"))
	}
	if t.Cases == 0 {
		return
	}
	if !t.Calibration {
		p.Para("As advised, the median vehicle takes %s and %s until 40 minutes are up or no check is worth its minutes (nine in ten: up to %s checks, %s minutes).",
			wording.Count(int(t.Checks.Median), "check", "checks"), wording.Minutes(float64(t.Minutes.Median)), whole(t.Checks.P90), whole(t.Minutes.P90))
	}
	if t.Near > 0 {
		p.Para("For %s some reports were weighed approximately, because they tie too many causes together.", wording.Count(t.Near, "vehicle", "vehicles"))
	}
	if t.Capped > 0 {
		p.Para("For %s a way of asking reached its limit of %d checks.", wording.Count(t.Capped, "vehicle", "vehicles"), t.MostChecks)
	}
	printTrialMeasures(p, t)
	printTrialCalibration(p, t)
	p.Para("The vehicles are drawn from the rules: this shows what checks and ranking are worth, not how true the rules are.")
}

func printTrialMeasures(p *table.Page, t practice.Trial) {
	give := 0.0
	for _, m := range t.Measures {
		p.Head(wording.TrialMeasure(m.Measure))
		tab := table.Table{Columns: []table.Column{{Title: "first / first three"}}}
		for i, w := range m.Ways {
			title, _ := wording.TrialWay(w.Way)
			row := []string{title}
			for _, r := range w.Right {
				if i == 0 {
					tab.Columns = append(tab.Columns, table.Column{Title: wording.TrialMoment(float64(r.Minutes), r.Everything), Right: true, Keep: true})
				}
				row = append(row, fmt.Sprintf("%s / %.0f%%", strings.TrimSuffix(share(r.First), "%"), 100*float64(r.Three)))
				give = max(give, float64(r.FirstError))
			}
			tab.Add(row...)
		}
		p.Table(tab)
	}
	if len(t.Measures) == 0 {
		return
	}
	p.Para("The standard error of a first share is %.0f points or less. The first two ways choose their own checks; the others rank by what was asked as advised. all: every check before pulling.", 100*give)
	for _, w := range wording.TrialWayNames() {
		title, what := wording.TrialWay(w)
		p.Item("  "+title+": ", "%s", what)
	}
}

func printTrialCalibration(p *table.Page, t practice.Trial) {
	p.Head("What was said against what was right")
	tab := table.Table{Columns: []table.Column{{Title: "after"}, {Title: "first off by", Right: true}, {Title: "95%", Right: true}, {Title: "by chance", Right: true},
		{Title: "all shown off by", Right: true}, {Title: "95%", Right: true}, {Title: "by chance", Right: true}}}
	for _, c := range t.Calibrated {
		after := wording.TrialMoment(float64(c.Minutes), c.Everything)
		if t.Calibration {
			after = "driver, pan"
		}
		tab.Add(after, errorText(c.Leader.Error), interval(c.Leader), errorText(c.Leader.Chance), errorText(c.Shown.Error), interval(c.Shown), errorText(c.Shown.Chance))
	}
	p.Table(tab)
	if len(t.Pooled) > 0 {
		units := table.Table{Columns: []table.Column{{Title: "unit", Keep: true}, {Title: "vehicles", Right: true}, {Title: "first off by", Right: true}, {Title: "95%", Right: true}, {Title: "by chance", Right: true},
			{Title: "all shown off by", Right: true}, {Title: "by chance", Right: true}}}
		for _, u := range t.Pooled {
			units.Add(u.Unit, fmt.Sprint(u.Cases), errorText(u.Leader.Error), interval(u.Leader), errorText(u.Leader.Chance), errorText(u.Shown.Error), errorText(u.Shown.Chance))
		}
		p.Space()
		p.Table(units)
	}
	p.Para("off by: how far the probability that a part has failed lies from the share that had, on average over ten bins (calibration error). by chance: what a perfect model shows over as many.")
	b := t.Bins
	p.Space()
	if !t.Calibration {
		p.Para("After %s:", wording.Minutes(float64(b.Minutes)))
	}
	bins := table.Table{Columns: []table.Column{{Title: "said"}, {Title: "first", Right: true}, {Title: "mean", Right: true}, {Title: "right (95%)", Right: true},
		{Title: "shown", Right: true}, {Title: "mean", Right: true}, {Title: "right (95%)", Right: true}}}
	for i, l := range b.Leader {
		s := b.Shown[i]
		if s.Said == 0 {
			continue
		}
		row := []string{fmt.Sprintf("%.0f to %.0f%%", 100*float64(l.Low), 100*float64(l.High))}
		for _, x := range []practice.TrialBin{l, s} {
			row = append(row, fmt.Sprint(x.Said))
			if x.Said == 0 {
				row = append(row, "", "")
				continue
			}
			row = append(row, share(x.Mean), fmt.Sprintf("%s (%.0f-%.0f)", share(x.Right), 100*float64(x.From), 100*float64(x.To)))
		}
		bins.Add(row...)
	}
	p.Table(bins)
}

func errorText(n answer.Num) string { return fmt.Sprintf("%.3f", float64(n)) }

func interval(e practice.TrialError) string {
	return fmt.Sprintf("%.3f-%.3f", float64(e.Low), float64(e.High))
}

// share is a counted share: 0 and 100% are just that.
func share(n answer.Num) string { return fmt.Sprintf("%.0f%%", 100*float64(n)) }

func whole(n answer.Num) string { return fmt.Sprintf("%.0f", float64(n)) }

// trialSentence says how often the advised way is right, beside the fixed list.
func trialSentence(t practice.Trial) string {
	if t.Cases == 0 {
		return "No vehicle with a complaint came up."
	}
	if t.Calibration {
		c := t.Calibrated[0].Leader
		return fmt.Sprintf("On what driver and pan tell, the first suspect's probability is off by %s (95%%: %s).", errorText(c.Error), interval(c))
	}
	at := func(w string) string {
		for _, x := range t.Measures[0].Ways {
			if x.Way == w {
				r := x.Right[min(1, len(x.Right)-1)]
				return share(r.First)
			}
		}
		return ""
	}
	r := t.Measures[0].Ways[0].Right
	return fmt.Sprintf("After %s as advised, the first suspect really caused the complaint in %s; after a fixed list of checks in %s.",
		wording.Minutes(float64(r[min(1, len(r)-1)].Minutes)), at("advised"), at("fixed_list"))
}
