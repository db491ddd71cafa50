package cli

import (
	"bytes"
	"html/template"
	"io"
	"net/url"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/internal/desk/asking"
	"slipcase/cmd/internal/sheet"
	"slipcase/cmd/internal/table"
)

func init() { register(sheetCmd) }

func sheetCmd(a *app) *cobra.Command {
	var ref asking.CaseRef
	var out, at string
	var replace, short bool
	cmd := &cobra.Command{
		Use:   "sheet",
		Short: "write the case as a page to print: evidence, chart, checklist, what to order",
		Long: `Writes the case as one HTML page that needs no network and prints on A4 and Letter in black and white: complaint and reports, suspects with what speaks for and against them, the apply chart with the rows marked that they change and a drawing of the row that tells most, the plan with boxes to check and fields for what is measured, with its cautions, what to lay where on the bench, what to order, and the root causes to settle before the build. The last page is for the vehicle's owner, in everyday words.

With --short it is one or two pages: what is wrong, the suspects, the next steps with their cautions, and fields for what is measured at them.

It is the same answer as that of suspects, chart and plan. With --bench, the address at which slipcase bench answers, the sheet of a case in the casebook has a code that takes a tablet back to that case. Without --out it is written to standard output.`,
		Example: "slipcase sheet --demo slip-one-gear --out job.html\nslipcase sheet --short --out bench.html\nslipcase sheet --in 26-0007 --out van.html --replace",
		Args:    noArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if replace && out == "" {
				return wrongUse("--replace goes with --out FILE")
			}
			page, err := benchAt(at, ref)
			if err != nil {
				return err
			}
			ans, err := a.desk().Sheet(a.ctx, ref)
			if err != nil {
				return err
			}
			code, address := codeOf(page, ans.Data.Case.ID)
			write := sheet.Write
			if short {
				write = sheet.Short
			}
			var text bytes.Buffer
			if err := write(&text, ans.Data, code, address); err != nil {
				return err
			}
			if out == "" {
				_, err = io.Copy(a.out, &text)
				return err
			}
			written, err := a.desk().WriteFile(out, text.Bytes(), replace)
			return show(a, cmd, written, err, func(p *table.Page) { p.Para("%s written, %d bytes.", written.Data.File, written.Data.Bytes) })
		},
	}
	a.caseFlags(cmd, &ref)
	cmd.Flags().BoolVar(&short, "short", false, "one or two pages for the bench")
	cmd.Flags().StringVar(&at, "bench", "", "`address` of the bench page, http://192.168.1.20:8461: the sheet gets a code for the tablet")
	cmd.Flags().StringVar(&out, "out", "", "write it into this `file`")
	cmd.Flags().BoolVar(&replace, "replace", false, "replace the file if it exists")
	if err := cmd.MarkFlagFilename("out", "html"); err != nil {
		panic(err)
	}
	return cmd
}

// benchAt reads the address of the bench page; nil for none. Fails with wrong use where
// it is no such address, or the case not one that a tablet finds there.
func benchAt(at string, ref asking.CaseRef) (*url.URL, error) {
	if at == "" {
		return nil, nil
	}
	if ref.File != "" || ref.Demo != "" {
		return nil, wrongUse("--bench goes with a case of the casebook: a tablet finds no other")
	}
	u, err := url.Parse(at)
	if err != nil || u.Scheme != "http" && u.Scheme != "https" || u.Host == "" || u.User != nil || strings.Trim(u.Path, "/") != "" || u.RawQuery != "" || u.Fragment != "" {
		return nil, wrongUse("%q is not an address of the bench page: give what slipcase bench shows, as http://192.168.1.20:8461", at)
	}
	return u, nil
}

// codeOf is the code that takes a tablet to a case of the casebook on a bench page,
// with what it says; "" for no page.
func codeOf(page *url.URL, id string) (template.HTML, string) {
	if page == nil {
		return "", ""
	}
	address := page.Scheme + "://" + page.Host + "/case/" + url.PathEscape(id)
	return sheet.Code(address), address
}
