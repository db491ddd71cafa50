package cli

import (
	"fmt"
	"io"
	"slices"

	"github.com/spf13/cobra"

	"slipcase/cmd/internal/desk/asking"
	"slipcase/cmd/internal/desk/casework"
	"slipcase/cmd/internal/desk/opened"
	"slipcase/cmd/internal/notation"
	"slipcase/cmd/internal/table"
)

func init() { register(noteCmd) }

// maxScanList is how many bytes of a scan list are read.
const maxScanList = 1 << 20

func noteCmd(a *app) *cobra.Command {
	var ref opened.Ref
	var in casework.NoteInput
	cmd := &cobra.Command{
		Use:   "note WHAT...",
		Short: "note what is said, seen, read from a tool or measured",
		Long: `Adds to the current case, the whole command or nothing. WHAT is any of these, in any number:

a finding, which is then present: slips@D/3. Absent or not known follows it: slips@D/1=no, or slips@D/1 absent, or slips@D/1=unknown; it speaks of that finding alone. A condition follows a colon: slips@D/4:hot.

a row that is good as a whole: D/3=good. It stands for no slip, no loss of drive, the right ratio, no noise in it and no flare into it, as far as the reporter can tell.

a reading with its unit: line_pressure idle R 62 psi, or line_pressure@idle/R=62psi, or input_end_play 0.9 mm. It is compared with the unit's limits.

a trouble code as the scan tool lists it: P0741. A whole scan list is pasted after --codes, or read from standard input with --codes -; codes that the rules do not know are kept as notes, and listed.

What the same reporter said earlier about the same finding is replaced; different reporters all count.`,
		Example: "slipcase note slips@D/3 slips@R/R D/1=good D/2=good --by driver\nslipcase note slips@D/4:hot present slips@D/4:cold absent --by road_test\nslipcase note line_pressure idle R 62 psi\nslipcase note P0741 P0750 --text 'codes cleared, P0741 came back'",
		RunE: func(cmd *cobra.Command, args []string) error {
			names, err := a.desk().ReadingNames(a.ctx, asking.CaseRef{In: ref.In})
			if err != nil {
				return err
			}
			in.Items = notation.Notes(args, func(name string) bool { return slices.Contains(names, name) })
			if in.Codes == "-" {
				text, err := io.ReadAll(io.LimitReader(cmd.InOrStdin(), maxScanList))
				if err != nil {
					return err
				}
				in.Codes = string(text)
			}
			ans, err := a.desk().Note(a.ctx, ref, in)
			return show(a, cmd, ans, err, func(p *table.Page) { a.printWritten(p, ans) })
		},
	}
	cmd.Flags().StringVar(&in.By, "by", "", "who or what `reports` it: driver, road_test, gauge, scan_tool, eye, measuring_tool, part_in_hand (default: by what it is)")
	cmd.Flags().StringVar(&in.Codes, "codes", "", "a pasted scan `list`, taken code by code; - reads it from standard input")
	cmd.Flags().StringVar(&in.Text, "text", "", "`words` to keep with the case; no rule reads them")
	cmd.ValidArgsFunction = func(_ *cobra.Command, _ []string, prefix string) ([]string, cobra.ShellCompDirective) {
		return words(a.desk().NoteWords(a.ctx, asking.CaseRef{In: ref.In}, prefix), prefix), noFiles
	}
	a.jobFlags(cmd, &ref)
	return cmd
}

// entryMark is the number of an entry, as undo takes it.
func entryMark(seq int64) string { return fmt.Sprintf("%5d ", seq) }
