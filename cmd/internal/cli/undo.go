package cli

import (
	"github.com/spf13/cobra"

	"slipcase/cmd/internal/desk/opened"
	"slipcase/cmd/internal/notation"
	"slipcase/cmd/internal/table"
)

func init() { register(undoCmd) }

func undoCmd(a *app) *cobra.Command {
	var ref opened.Ref
	var why string
	cmd := &cobra.Command{
		Use:   "undo [N...]",
		Short: "undo the last entry of the case, or those numbered",
		Long: `Undoes the last entry of the case that still counts, or those numbered; a range is written 3-7. Run it again to undo one more. Nothing is deleted: what was undone stays in the history, and undo with the number of the undo restores it.

It works on a closed case too; the last entry is then the closing.`,
		Example: "slipcase undo\nslipcase undo 3-7 9 --why 'wrong vehicle'",
		Args: func(_ *cobra.Command, args []string) error {
			_, err := entries(args)
			return err
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			list, err := entries(args)
			if err != nil {
				return err
			}
			ans, err := a.desk().Undo(a.ctx, ref, list, why)
			return show(a, cmd, ans, err, func(p *table.Page) { a.printWritten(p, ans) })
		},
	}
	cmd.Flags().StringVar(&why, "why", "", "the reason, as `text`")
	a.jobFlags(cmd, &ref)
	return cmd
}

// entries reads numbers of entries; what cannot be read is a wrong command line.
func entries(args []string) ([]int64, error) {
	list, err := notation.Entries(args)
	if err != nil {
		return nil, wrongUse("%v", err)
	}
	return list, nil
}
