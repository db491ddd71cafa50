package cli

import (
	"github.com/spf13/cobra"

	"slipcase/cmd/internal/desk/asking"
	"slipcase/cmd/internal/table"
)

func init() { register(listCmd) }

func listCmd(a *app) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "list WHAT [UNIT]",
		Short: "list the names you can type: findings, codes, limits, steps, parts, causes",
		Long: `Lists the names that other commands take, each with what it means, for a unit or for that of the current case. WHAT is one of these:

findings are what note takes: a driver's words, road test, gauges, looks. codes are trouble codes that the rules know. limits are what can be measured, with what is good; note and done --measure take them. steps are for done. parts are for found and clear, with the ways to fail that found takes. causes are for settle.`,
		Example: "slipcase list findings northfork-4\nslipcase list steps harrow-3\nslipcase list parts northfork-4 --json",
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) == 2 {
				return nil
			}
			return exactArgs(1, "WHAT to list, and the UNIT")(cmd, args)
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			unit := ""
			if len(args) > 1 {
				unit = args[1]
			}
			ans, err := a.desk().Names(a.ctx, args[0], unit)
			return show(a, cmd, ans, err, func(p *table.Page) { printNames(p, ans.Data) })
		},
	}
	cmd.ValidArgsFunction = func(_ *cobra.Command, args []string, prefix string) ([]string, cobra.ShellCompDirective) {
		var list []asking.Word
		switch len(args) {
		case 0:
			for _, k := range asking.NameKinds {
				list = append(list, asking.Word{Name: k})
			}
		case 1:
			list = a.desk().UnitWords(a.ctx)
		}
		return words(list, prefix), noFiles
	}
	a.asJSON(cmd)
	return cmd
}

// more is the head of the third column of a list.
var more = map[string]string{"limits": "good", "parts": "fails as"}

func printNames(p *table.Page, d asking.Names) {
	t := table.Table{Columns: []table.Column{{Title: "name", Keep: true}, {Title: "what it is"}}}
	third := more[d.Kind]
	if third != "" {
		t.Columns = append(t.Columns, table.Column{Title: third})
	}
	for _, n := range d.Names {
		row := []string{n.Name, n.Title}
		if third != "" {
			row = append(row, n.More)
		}
		t.Add(row...)
	}
	p.Table(t)
	if d.Kind == "findings" {
		p.Para("A condition follows a colon where the unit tells it apart: slips@D/3:hot. =no and =unknown report it absent or not known.")
	}
}
