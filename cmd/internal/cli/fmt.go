package cli

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"slipcase/cmd/internal/desk"
	"slipcase/cmd/internal/desk/library"
)

func init() { register(fmtCmd) }

func fmtCmd(a *app) *cobra.Command {
	var write, list bool
	cmd := &cobra.Command{
		Use:     "fmt FILE…",
		Short:   "format rule files",
		Long:    "Formats rule, unit and case files: indents, equals signs lined up. Comments and values stay. Prints the result; with -w writes it back; with --list prints only the names of the files that are not formatted. FILE - is standard input.",
		Example: "slipcase fmt -w shop.hcl\nslipcase fmt --list rules/modes.hcl rules/causes.hcl\nslipcase fmt -",
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return wrongUse("%s needs a FILE, or - for standard input", cmd.CommandPath())
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error {
			d := a.desk()
			for _, name := range args {
				f, err := a.format(d, name, write)
				if err != nil {
					return err
				}
				switch {
				case list:
					if f.Changed {
						_, err = fmt.Fprintln(a.out, f.Name)
					}
				case !write:
					_, err = a.out.Write(f.Text)
				}
				if err != nil {
					return err
				}
			}
			return nil
		},
	}
	cmd.Flags().BoolVarP(&write, "write", "w", false, "write the result back to the file")
	cmd.Flags().BoolVarP(&list, "list", "l", false, "print the names of files that are not formatted")
	return cmd
}

func (a *app) format(d *desk.Desk, name string, write bool) (library.Formatted, error) {
	if name != "-" {
		return d.FormatFile(a.ctx, name, write)
	}
	if write {
		return library.Formatted{}, wrongUse("-w cannot write to standard input")
	}
	src, err := io.ReadAll(io.LimitReader(a.in, library.MaxText+1)) // one byte more is refused as too long
	if err != nil {
		return library.Formatted{}, err
	}
	return d.Format("standard input", src)
}
