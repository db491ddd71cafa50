package cli

import (
	"bytes"
	"io"

	"github.com/spf13/cobra"

	"slipcase/cmd/internal/desk"
	"slipcase/cmd/internal/sheet"
	"slipcase/cmd/internal/table"
)

func init() { register(sheetCmd) }

func sheetCmd(a *app) *cobra.Command {
	var ref desk.CaseRef
	var out string
	var replace bool
	cmd := &cobra.Command{
		Use:   "sheet",
		Short: "the case as a page for paper: evidence, chart, plan to tick, what to order",
		Long: `Writes the case as one HTML page that needs no network and prints on A4 and Letter in black and white: complaint and reports, suspects with what speaks for and against them, the apply chart with the rows marked that they change and a drawing of the row that tells most, the plan with boxes to tick and fields for what is measured, with its cautions, what to lay where on the bench, what to order, and the root causes to settle before the build. The last page is for the vehicle's owner, in everyday words.

It is the same answer as that of suspects, chart and plan. Without --out it is written to standard output.`,
		Example: "slipcase sheet --demo slip-one-gear --out job.html\nslipcase sheet --in 26-0007 --out van.html --replace",
		Args:    noArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if replace && out == "" {
				return wrongUse("--replace goes with --out FILE")
			}
			ans, err := a.desk().Sheet(a.ctx, ref)
			if err != nil {
				return err
			}
			var page bytes.Buffer
			if err := sheet.Write(&page, ans.Data, "", ""); err != nil {
				return err
			}
			if out == "" {
				_, err = io.Copy(a.out, &page)
				return err
			}
			written, err := a.desk().WriteFile(out, page.Bytes(), replace)
			return show(a, cmd, written, err, func(p *table.Page) { p.Para("%s written, %d bytes.", written.Data.File, written.Data.Bytes) })
		},
	}
	a.caseFlags(cmd, &ref)
	cmd.Flags().StringVar(&out, "out", "", "write it into this `file`")
	cmd.Flags().BoolVar(&replace, "replace", false, "replace the file if it is there")
	if err := cmd.MarkFlagFilename("out", "html"); err != nil {
		panic(err)
	}
	return cmd
}
