package cli

import (
	"bufio"
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/library"
	"slipcase/cmd/internal/draft"
	"slipcase/cmd/internal/table"
	"slipcase/cmd/internal/wording"
)

func init() { register(unitCmd) }

func unitCmd(a *app) *cobra.Command {
	cmd := &cobra.Command{
		Use:     "unit",
		Short:   "add a transmission from its paper chart",
		Long:    "Makes a unit of your own: new asks for its clutch and band chart and writes the unit's file; write prints a unit with all its usual parts, for editing.",
		Example: "slipcase unit new shop-4\nslipcase unit write od-simpson-4",
		Args:    noArgs,
		RunE:    func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	cmd.AddCommand(unitNewCmd(a), unitWriteCmd(a))
	return cmd
}

func unitNewCmd(a *app) *cobra.Command {
	return &cobra.Command{
		Use:   "new NAME",
		Short: "make a unit from its chart, one question at a time",
		Long: `Asks what your manual prints: which known unit is built alike, what the manual calls the elements, the ratios, and what each row of the chart applies. Enter accepts what is in brackets. After each row the gear train says what the row does; teeth that you do not know are found from the ratios; a chart that contradicts the train is reported with the smallest change that would fix it.

The unit is written into the shop's folder with the usual parts of such a unit, so that it can be diagnosed at once. Leave with Ctrl-C or "quit" at any question: the same command picks up there.`,
		Example: "slipcase unit new shop-4",
		Args:    exactArgs(1, "the name of the unit"),
		RunE: func(cmd *cobra.Command, args []string) error {
			u, err := a.desk().DraftUnit(a.ctx, args[0])
			if err != nil {
				return err
			}
			return a.unitTalk(u)
		},
	}
}

// unitTalk puts the questions in plain lines, on a terminal and on a pipe.
func (a *app) unitTalk(u *library.UnitDraft) error {
	p := a.page()
	if u.Resumed > 0 {
		p.Para("Picking up %s: %s so far.", u.ID, wording.Count(u.Resumed, "answer", "answers"))
	}
	in := bufio.NewReader(a.in)
	named := false
	for q := u.Next(); q.Kind != draft.Done; q = u.Next() {
		if q.Kind == draft.AskRow && !named {
			named = true
			p.Para("%s", wording.DraftNames(q))
		}
		for _, l := range splitLines(wording.DraftAsks(q)) {
			p.Para("%s", l)
		}
		if p.Err() != nil {
			return p.Err()
		}
		prompt := "> "
		if q.Default != "" {
			prompt = "[" + q.Default + "] > "
		}
		fmt.Fprint(a.out, prompt)
		line, err := in.ReadString('\n')
		if err != nil && line == "" {
			fmt.Fprintln(a.out)
			p.Para("Stopped here; slipcase unit new %s picks up at this question.", u.ID)
			return p.Err()
		}
		line = trimLine(line)
		if line == "quit" {
			p.Para("Stopped here; slipcase unit new %s picks up at this question.", u.ID)
			return p.Err()
		}
		r, err := u.Answer(line)
		var f *answer.Failure
		switch {
		case err == nil:
			for _, l := range splitLines(wording.DraftSays(r)) {
				p.Para("%s", l)
			}
		case errors.As(err, &f):
			return err
		default:
			p.Para("%s", wording.DraftRefuses(err))
		}
	}
	if err := u.Write(); err != nil {
		return err
	}
	p.Para("%s is written: %s", u.ID, u.File)
	p.Para("Look at it with slipcase chart %s; open a case on it with slipcase open --unit %s. Add the manual's limits to the file; slipcase check lists anything wrong.", u.ID, u.ID)
	return p.Err()
}

func unitWriteCmd(a *app) *cobra.Command {
	cmd := &cobra.Command{
		Use:     "write UNIT",
		Short:   "print a unit whole, usual parts included, for editing",
		Long:    "Prints the unit as one file: what its own file says, what it is like, and the usual parts and teardown steps that were made from its chart. When that text is read, nothing more is made from the chart.",
		Example: "slipcase unit write od-simpson-4",
		Args:    exactArgs(1, "a unit"),
		RunE: func(cmd *cobra.Command, args []string) error {
			ans, err := a.desk().WholeUnit(a.ctx, args[0])
			if err == nil && !a.json {
				_, err = fmt.Fprint(a.out, ans.Data.Text)
				return err
			}
			return show(a, cmd, ans, err, func(*table.Page) {})
		},
	}
	a.asJSON(cmd)
	return cmd
}

func splitLines(s string) []string {
	if s == "" {
		return nil
	}
	return strings.Split(s, "\n")
}

func trimLine(s string) string { return strings.TrimSpace(strings.TrimRight(s, "\r\n")) }
