package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/internal/table"
)

func init() { register(unitsCmd) }

func unitsCmd(a *app) *cobra.Command {
	cmd := &cobra.Command{
		Use:     "units",
		Short:   "list the transmissions that slipcase knows",
		Long:    "Lists the units that the built-in knowledge and the shop's folder describe: gears, parts and steps of each.",
		Example: "slipcase units\nslipcase units --json",
		Args:    noArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			ans, err := a.desk().Units(a.ctx)
			return show(a, cmd, ans, err, func(p *table.Page) {
				list := ans.Data
				if len(list) == 0 {
					p.Para("No unit is known. Write one into the shop's folder: one file, named after the unit.")
					return
				}
				t := table.Table{Columns: []table.Column{{Title: "unit", Keep: true}, {Title: "what it is"}, {Title: "gears"}, {Title: "parts", Right: true}, {Title: "usual", Right: true}, {Title: "steps", Right: true}}}
				for _, u := range list {
					t.Add(u.ID, u.Title, strings.Join(u.Gears, " "), fmt.Sprint(u.Components), fmt.Sprint(u.Made.Parts), fmt.Sprint(u.Steps))
				}
				p.Table(t)
				p.Para("parts: components that can fail; usual: those of them added from the chart; steps: teardown steps. More with slipcase chart UNIT.")
			})
		},
	}
	a.asJSON(cmd)
	return cmd
}
