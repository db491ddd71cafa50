package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"slipcase/cmd/internal/desk/archive"
	"slipcase/cmd/internal/table"
	"slipcase/cmd/internal/wording"
)

func checkBookCmd(a *app) *cobra.Command {
	cmd := &cobra.Command{
		Use:     "check",
		Short:   "read the whole casebook and check that it is sound",
		Long:    "Reads every case: each row against its checksum, each index against its table, each list against what it follows from. Exit status 1 when anything is damaged.",
		Example: "slipcase cases check",
		Args:    noArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			ans, err := a.desk().CheckBook(a.ctx)
			return show(a, cmd, ans, err, func(p *table.Page) {
				p.Para("Sound: %s in %s.", wording.Count(ans.Data.Cases, "case", "cases"), ans.Data.Book)
			})
		},
	}
	a.asJSON(cmd)
	return cmd
}

func rescueCmd(a *app) *cobra.Command {
	var replace bool
	cmd := &cobra.Command{
		Use:   "rescue FILE",
		Short: "write what is readable of a damaged casebook",
		Long: `Writes every case of a damaged casebook that can be trusted to FILE, and each damaged one up to its first bad entry, and says what is lost. The casebook is not changed.

FILE is an export: a new casebook takes it with slipcase import. Where a sound backup is newer than the damage, that is the better way; the error that names the damage names the backup.`,
		Example: "slipcase cases rescue saved.jsonl",
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) != 1 {
				return wrongUse("%s takes the FILE to write", cmd.CommandPath())
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			ans, err := a.desk().RescueBook(a.ctx, args[0], replace)
			return show(a, cmd, ans, err, func(p *table.Page) { printRescued(p, ans.Data) })
		},
	}
	cmd.Flags().BoolVar(&replace, "replace", false, "replace the file if it exists")
	a.asJSON(cmd)
	return cmd
}

func printRescued(p *table.Page, r archive.Rescued) {
	p.Para("%s written: %s, %s.", r.File, wording.Count(r.Cases, "case", "cases"), wording.Count(r.Entries, "entry", "entries"))
	if len(r.Lost) == 0 {
		p.Para("Nothing is lost.")
		return
	}
	p.Head("Lost")
	for _, l := range r.Lost {
		name := "case " + l.ID
		if l.ID == "" {
			name = fmt.Sprintf("case number %d of the casebook", l.Row)
		}
		if !l.Whole {
			name += fmt.Sprintf(", everything after entry %d", l.After)
		}
		p.Item("- ", "%s: %s", name, l.Why)
	}
}
