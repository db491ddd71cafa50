package cli

import (
	"bufio"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/practice"
	"slipcase/cmd/internal/table"
	"slipcase/cmd/internal/wording"
)

func init() { register(drillCmd) }

func drillCmd(a *app) *cobra.Command {
	level, student := "one", ""
	var seed uint64 = 1
	cmd := &cobra.Command{
		Use:   "drill UNIT",
		Short: "practice: find the hidden fault in a simulated vehicle",
		Long: `Gives you a vehicle with a hidden fault, drawn from the rules of a unit. You hear the complaint; then you make checks, take the unit apart and look at parts, each by its name, and hear and see what that vehicle would show. The minutes of every move are counted. Drivers, gauges and eyes can err, as the rules say they do; what is in the hand is sure.

It is over when what is behind the complaint is in view; the result sheet then compares your way with the advised one. The same unit, level and seed give the same vehicle to a whole class.

Levels: one part; a part with its root cause, to be named too; two parts; or a fault outside the transmission. Nothing is written to the casebook.`,
		Example:           "slipcase drill harrow-3\nslipcase drill northfork-4 --level two --seed 26 --student Mia",
		Args:              exactArgs(1, "one UNIT: an id, or the path of a unit file"),
		ValidArgsFunction: a.completeUnits,
		RunE: func(cmd *cobra.Command, args []string) error {
			x, err := a.desk().Drill(a.ctx, args[0], level, seed, student)
			if err != nil {
				return err
			}
			if err := a.drillTalk(x, level, seed); err != nil {
				return err
			}
			ans, err := x.Sheet()
			return show(a, cmd, ans, err, func(p *table.Page) { printDrill(p, ans) })
		},
	}
	cmd.Flags().StringVar(&level, "level", level, "`what` is wrong: "+strings.Join(practice.DrillLevels(), ", "))
	cmd.Flags().Uint64Var(&seed, "seed", seed, "`number` that the vehicle is drawn by; the same number gives the same vehicle")
	cmd.Flags().StringVar(&student, "student", "", "`name` for the result sheet")
	complete(cmd, "level", cobra.FixedCompletions(practice.DrillLevels(), noFiles))
	a.asJSON(cmd)
	return cmd
}

const drillHelp = "Type the name of a check, step or part to look at it, or of a root cause to name it. checks, steps, parts and causes list them; done ends the drill."

// drillTalk plays the vehicle in plain lines until the student is done.
func (a *app) drillTalk(x *practice.Drill, level string, seed uint64) error {
	p := a.page()
	if a.json {
		p = table.NewPage(a.err, a.width, false)
	}
	p.Styled(fmt.Sprintf("%s, level %s, seed %d.", x.Unit(), level, seed), table.Strong)
	p.Para("%s", wording.DrillTask(level))
	p.Space()
	p.Para("The complaint:")
	for _, l := range x.Complaint() {
		p.Item("  ", "%s", l)
	}
	p.Space()
	p.Para("%s", drillHelp)
	in := bufio.NewReader(a.in)
	for !x.Over() && p.Err() == nil && a.ctx.Err() == nil {
		if !a.json {
			fmt.Fprintf(a.out, "%.0f min > ", x.Minutes())
		}
		line, err := in.ReadString('\n')
		word := strings.Join(strings.Fields(trimLine(line)), " ")
		if !a.tty && !a.json {
			fmt.Fprintln(a.out, table.Cut(word, a.width-16)) // what a terminal would have echoed
		}
		if err != nil && word == "" || word == "done" || word == "quit" {
			if a.tty && !a.json {
				fmt.Fprintln(a.out)
			}
			return p.Err()
		}
		if word == "" {
			continue
		}
		if err := a.drillMove(p, x, word); err != nil {
			return err
		}
	}
	return p.Err()
}

// drillMove does one thing and says what came of it.
func (a *app) drillMove(p *table.Page, x *practice.Drill, word string) error {
	switch word {
	case "help", "?":
		p.Para("%s", drillHelp)
		return nil
	case "checks":
		list, err := x.Checks()
		if err != nil {
			return err
		}
		printDrillChoices(p, "check", list)
		return nil
	case "steps":
		printDrillChoices(p, "step", x.Steps())
		return nil
	case "parts":
		printDrillChoices(p, "part", x.Elsewhere())
		p.Para("The other parts come into view with a step.")
		return nil
	case "causes":
		printDrillChoices(p, "root cause", x.Causes())
		return nil
	}
	told, err := x.Do(strings.ReplaceAll(word, " ", "_"))
	if err != nil {
		f := answer.AsFailure(err)
		if f.Code != answer.NotFound && f.Code != answer.Conflict {
			return err
		}
		p.Styled(f.Error(), table.Warn)
		return nil
	}
	for _, t := range told {
		switch {
		case t.Kind == "cause" && t.Right:
			p.Styled(t.Title+": yes, that is the root cause.", table.Good)
			continue
		case t.Kind == "cause":
			p.Styled(t.Title+": no, that is not behind it.", table.Warn)
			continue
		case t.Again:
			p.Styled(t.Title+" (done before)", table.Faint)
		default:
			p.Styled(fmt.Sprintf("%s, %s", t.Title, wording.Minutes(float64(t.Minutes))), table.Strong)
		}
		for _, l := range t.Lines {
			p.Item("  ", "%s", l)
		}
	}
	return nil
}

func printDrillChoices(p *table.Page, what string, list []practice.DrillChoice) {
	t := table.Table{Columns: []table.Column{{Title: what, Keep: true}, {Title: "min", Right: true, Keep: true}, {Title: "what it is"}}}
	for _, c := range list {
		title := c.Title
		if c.Stage != "" {
			title = wording.Stage(c.Stage) + ": " + title
		}
		t.Add(c.Name, fmt.Sprintf("%.0f", c.Minutes), title)
	}
	p.Table(t)
}

func printDrill(p *table.Page, ans answer.Answer[practice.DrillSheet]) {
	s := ans.Data
	p.Head("Result sheet")
	who := ""
	if s.Student != "" {
		who = s.Student + ", "
	}
	p.Para("%s%s, level %s, seed %d.", who, s.UnitTitle, s.Level, s.Seed)
	verb := "Not found"
	style := table.Warn
	if s.Found {
		verb, style = "Found", table.Good
	}
	p.Styled(fmt.Sprintf("%s in %s, with %s; as advised, %s with %s.", verb, wording.Minutes(float64(s.Yours.Minutes)), wording.Count(len(s.Yours.Moves), "move", "moves"),
		wording.Minutes(float64(s.Advised.Minutes)), wording.Count(len(s.Advised.Moves), "move", "moves")), style)
	for _, c := range s.Culprits {
		p.Item("- ", "%s: %s.", c.Title, strings.Join(c.Modes, "; "))
		if len(c.Signs) > 0 {
			more := ""
			if c.MoreSigns > 0 {
				more = fmt.Sprintf("; and %d more", c.MoreSigns)
			}
			p.Item("  ", "What gave it away: %s%s.", strings.Join(c.Signs, "; "), more)
		}
	}
	for _, c := range s.Causes {
		p.Item("- ", "root cause: %s.", c)
	}
	p.Space()
	t := table.Table{Columns: []table.Column{{Title: "#", Right: true, Keep: true}, {Title: "your way"}, {Title: "min", Right: true, Keep: true}, {Title: "as advised"}, {Title: "min", Right: true, Keep: true}}}
	for i := range max(len(s.Yours.Moves), len(s.Advised.Moves)) {
		row := []string{fmt.Sprint(i + 1), "", "", "", ""}
		if i < len(s.Yours.Moves) {
			row[1], row[2] = s.Yours.Moves[i].Title, fmt.Sprintf("%.0f", float64(s.Yours.Moves[i].Minutes))
		}
		if i < len(s.Advised.Moves) {
			row[3], row[4] = s.Advised.Moves[i].Title, fmt.Sprintf("%.0f", float64(s.Advised.Moves[i].Minutes))
		}
		t.Add(row...)
	}
	p.Table(t)
	if s.Yours.Idle > 0 {
		p.Para("The advised way skips %s of yours.", wording.Count(s.Yours.Idle, "move", "moves"))
	}
	p.Para("The vehicle follows the rules, invented numbers included: it teaches how to look, not how often things fail.")
}
