package cli

import (
	"github.com/spf13/cobra"

	"slipcase/cmd/internal/table"
	"slipcase/cmd/internal/wording"
)

func init() { register(exportCmd) }

func exportCmd(a *app) *cobra.Command {
	var only []string
	var replace bool
	cmd := &cobra.Command{
		Use:     "export [FILE]",
		Short:   "write cases to a file, to keep or to move (JSON Lines)",
		Long:    "Writes the whole casebook, or the cases named with --only, as JSON Lines: to FILE, or to standard output. Photos go into the folder FILE.photos beside FILE; to standard output go only their names. Nothing is lost: slipcase import makes the same cases from it. The same cases always give the same bytes.",
		Example: "slipcase export cases.jsonl\nslipcase export two.jsonl --only 26-0001,26-0002",
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) > 1 {
				return wrongUse("%s writes one FILE; unexpected %q", cmd.CommandPath(), args[1])
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 || args[0] == "-" {
				if a.json {
					return wrongUse("--json reports an export to a FILE; standard output is the export itself")
				}
				return a.desk().Export(a.ctx, a.out, only)
			}
			ans, err := a.desk().ExportFile(a.ctx, args[0], only, replace)
			return show(a, cmd, ans, err, func(p *table.Page) {
				x := ans.Data
				p.Para("%s written: %s, %d bytes.", x.File, wording.Count(x.Cases, "case", "cases"), x.Bytes)
				if x.Photos > 0 {
					p.Para("%s beside it in %s.photos: take the folder along.", wording.Count(x.Photos, "photo", "photos"), x.File)
				}
			})
		},
	}
	cmd.Flags().StringSliceVar(&only, "only", nil, "`ids` of the cases, separated by commas; a comeback goes with its earlier case")
	cmd.Flags().BoolVar(&replace, "replace", false, "replace the file if it exists")
	complete(cmd, "only", a.completeCases)
	a.asJSON(cmd)
	return cmd
}
