package cli

import (
	"github.com/spf13/cobra"

	"slipcase/cmd/internal/desk/asking"
	"slipcase/cmd/internal/desk/opened"
	"slipcase/cmd/internal/table"
)

func init() { register(clearCmd) }

func clearCmd(a *app) *cobra.Command {
	var ref opened.Ref
	var note string
	cmd := &cobra.Command{
		Use:     "clear COMPONENT...",
		Short:   "confirm parts that were looked at and are good",
		Long:    "Confirms that parts were looked at and have not failed, in any way: the ranking changes at once. A command is recorded whole or not at all. It replaces what was found on a part before.",
		Example: "slipcase clear forward_frictions pump\nslipcase clear overdrive_servo --note 'air-checked and measured'",
		Args:    someArgs("at least one COMPONENT"),
		RunE: func(cmd *cobra.Command, args []string) error {
			ans, err := a.desk().Clear(a.ctx, ref, args, note)
			return show(a, cmd, ans, err, func(p *table.Page) { a.printWritten(p, ans) })
		},
	}
	cmd.Flags().StringVar(&note, "note", "", "`words` to keep with it")
	cmd.ValidArgsFunction = func(c *cobra.Command, _ []string, prefix string) ([]string, cobra.ShellCompDirective) {
		return words(a.desk().SuspectWords(a.ctx, asking.CaseRef{In: ref.In}, false), prefix), noFiles
	}
	a.jobFlags(cmd, &ref)
	return cmd
}
