package cli

import (
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/casework"
	"slipcase/cmd/internal/table"
)

func init() { register(openCmd) }

func openCmd(a *app) *cobra.Command {
	var in casework.OpenInput
	var why string
	cmd := &cobra.Command{
		Use:   "open [ID]",
		Short: "open a case for a vehicle that came in, or go back to one",
		Long: `Opens a case in the casebook for a vehicle that came in, and makes it the current case: the commands that follow work on it until another is opened. The casebook is made with the first case.

A repair that came back is opened with --of and the ID of the earlier job: unit and vehicle are taken from it, the mileage is asked again, and what was found and repaired then is shown. Nothing is learned from the earlier verdict until the comeback is closed with what was found.

With the ID of an existing case, goes back to it: it becomes the current case, and is reopened if it was closed.

Two benches at work on two cases each name theirs: with --in, or with SLIPCASE_CASE in their own window.`,
		Example: "slipcase open --unit northfork-4 --title 'Slips in fourth' --vehicle 'gray van, 138000 miles' --words 'it revs up on the highway'\nslipcase open --of 26-0001 --words 'it does it again'\nslipcase open 26-0001",
		Args: func(cmd *cobra.Command, args []string) error {
			switch {
			case len(args) > 1:
				return wrongUse("%s takes one ID; unexpected %q", cmd.CommandPath(), args[1])
			case len(args) == 1:
				for _, f := range []string{"unit", "title", "vehicle", "words", "of"} {
					if cmd.Flags().Changed(f) {
						return wrongUse("an existing case already has its %s: leave out --%s, or leave out %s to open a new case", f, f, args[0])
					}
				}
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 1 {
				ans, err := a.desk().TakeUp(a.ctx, args[0], why, in.Who)
				return show(a, cmd, ans, err, func(p *table.Page) { a.printOpened(p, ans) })
			}
			if in.Unit == "" && in.Of == "" {
				return wrongUse("%s needs --unit: which transmission is it? slipcase units lists them", cmd.CommandPath())
			}
			if in.Of == "" && strings.TrimSpace(in.Title) == "" && strings.TrimSpace(in.Words) == "" {
				return wrongUse("%s needs --title, what is wrong in a few words, or --words, what the customer says", cmd.CommandPath())
			}
			if in.Title == "" {
				in.Title = in.Words
			}
			ans, err := a.desk().OpenCase(a.ctx, in)
			return show(a, cmd, ans, err, func(p *table.Page) { a.printOpened(p, ans) })
		},
	}
	f := cmd.Flags()
	f.StringVar(&in.Unit, "unit", "", "which `transmission` it is (slipcase units lists them)")
	f.StringVar(&in.Title, "title", "", "what is wrong, in a few `words`")
	f.StringVar(&in.Vehicle, "vehicle", "", "the vehicle, as the shop calls it: `text`")
	f.StringVar(&in.Words, "words", "", "the complaint in the customer's own `words`")
	f.StringVar(&in.Of, "of", "", "a repair that came back: `id` of the earlier job")
	complete(cmd, "of", a.completeCases)
	f.StringVar(&why, "why", "", "with an ID: why it is reopened, as `text`")
	a.whoFlag(cmd, &in.Who)
	complete(cmd, "unit", func(_ *cobra.Command, _ []string, prefix string) ([]string, cobra.ShellCompDirective) {
		return words(a.desk().UnitWords(a.ctx), prefix), noFiles
	})
	cmd.ValidArgsFunction = func(c *cobra.Command, args []string, prefix string) ([]string, cobra.ShellCompDirective) {
		if len(args) > 0 {
			return nil, noFiles
		}
		return a.completeCases(c, args, prefix)
	}
	a.asJSON(cmd)
	return cmd
}

func (a *app) printOpened(p *table.Page, ans answer.Answer[casework.Opened]) {
	o := ans.Data
	done := "is open"
	switch {
	case o.Reopened:
		done = "is open again"
	case o.Entries > 0 && o.Earlier == nil:
		done = "is the current case"
	}
	text := "Case " + o.ID + " " + done + ": " + o.Title
	if o.Vehicle != "" {
		text += " (" + o.Vehicle + ")"
	}
	p.Styled(text+".", table.Strong)
	p.Para("%s: %s.", o.Unit, strings.TrimSuffix(o.UnitTitle, "."))
	if o.Mileage != "" {
		p.Para("Noted from it: %s.", o.Mileage)
	}
	if o.Earlier != nil {
		for _, w := range o.Earlier.Words {
			p.Para("%s", w)
		}
	}
	if o.First {
		p.Para("A new casebook was made for it: %s", o.Book)
	}
	if o.LeftOpen != "" {
		p.Para("Case %s stays open; name it with --in %s, or go back to it with slipcase open %s.", o.LeftOpen, o.LeftOpen, o.LeftOpen)
	}
	p.Space()
	if o.Entries > 0 && o.Earlier == nil {
		a.next(p, "")
		return
	}
	if len(o.Says) > 0 {
		p.Para("What the words may mean; note what is right, or have the interview ask:")
		for _, x := range o.Says {
			if x.Note == "" {
				p.Item("  ", "%s: where?", x.Title)
				continue
			}
			p.Item("  ", "slipcase note %s --by driver  (%s)", x.Note, x.Title)
		}
		p.Item("  ", "slipcase interview")
		p.Para("More is noted the same way, with the rows of slipcase chart %s:", o.Unit)
		p.Item("  ", "slipcase note slips@D/3 P0750 line_pressure idle R 62 psi")
		return
	}
	p.Para("Next, note what is said and found:")
	for _, l := range []string{
		"slipcase note slips@D/3 slips@R/R no_drive@D/1=no --by driver",
		"slipcase note P0750 P0741",
		"slipcase note line_pressure idle R 62 psi",
	} {
		p.Item("  ", "%s", l)
	}
	p.Para("The rows are those of slipcase chart %s.", o.Unit)
}
