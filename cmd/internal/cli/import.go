package cli

import (
	"io"

	"github.com/spf13/cobra"

	"slipcase/cmd/internal/table"
	"slipcase/cmd/internal/wording"
)

func init() { register(importCmd) }

func importCmd(a *app) *cobra.Command {
	cmd := &cobra.Command{
		Use:     "import FILE",
		Short:   "read cases that export wrote",
		Long:    "Reads the cases of a file that slipcase export wrote (- for standard input) into the casebook, all or none. Photos are taken from the folder FILE.photos beside it. Cases that are here already, identical, are skipped. Errors in a file are reported by line and column. The current case stays the same.",
		Example: "slipcase import cases.jsonl",
		Args:    exactArgs(1, "one FILE"),
		RunE: func(cmd *cobra.Command, args []string) error {
			var r io.Reader
			name := args[0]
			if name == "-" {
				name, r = "standard input", a.in
			}
			ans, err := a.desk().Import(a.ctx, name, r)
			return show(a, cmd, ans, err, func(p *table.Page) {
				x := ans.Data
				p.Para("%s with %s imported into %s.", wording.Count(x.Cases, "case", "cases"), wording.Count(x.Entries, "entry", "entries"), x.Book)
				if x.Photos > 0 {
					p.Para("%s taken along.", wording.Count(x.Photos, "photo", "photos"))
				}
				if x.Skipped > 0 {
					p.Para("%s here already, identical.", wording.Count(x.Skipped, "case was", "cases were"))
				}
				p.Para("Next: slipcase cases lists them; slipcase open ID goes to one.")
			})
		},
	}
	a.asJSON(cmd)
	return cmd
}
