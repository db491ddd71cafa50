package cli

import (
	"github.com/spf13/cobra"

	"slipcase/cmd/internal/table"
)

func init() { register(demosCmd) }

func demosCmd(a *app) *cobra.Command {
	cmd := &cobra.Command{
		Use:     "demos",
		Short:   "list invented cases to try the commands on",
		Long:    "Lists the built-in demo cases: an invented shop, invented vehicles, invented complaints. Give one to any command that takes a case with --demo NAME.",
		Example: "slipcase demos\nslipcase suspects --demo slip-one-gear",
		Args:    noArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			ans, err := a.desk().Demos(a.ctx)
			return show(a, cmd, ans, err, func(p *table.Page) {
				t := table.Table{Columns: []table.Column{{Title: "demo", Keep: true}, {Title: "complaint"}, {Title: "unit"}}}
				for _, d := range ans.Data {
					t.Add(d.Name, d.Title, d.Unit)
				}
				p.Table(t)
				p.Para("All invented. Try slipcase suspects --demo NAME.")
			})
		},
	}
	a.asJSON(cmd)
	return cmd
}
