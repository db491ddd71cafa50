package cli

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"slipcase/cmd/internal/desk/library"
	"slipcase/cmd/internal/table"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
)

func init() { register(checkCmd) }

// errTold is a failure that the answer itself has told.
var errTold = errors.New("told")

func checkCmd(a *app) *cobra.Command {
	noExamples := false
	cmd := &cobra.Command{
		Use:   "check [PATH…]",
		Short: "find errors in rule, unit and case files",
		Long: `Checks the built-in rules and the shop's folder, or the files and folders given, as they override the rules: names, numbers without a basis, dimensions, cycles, the gear train against the declared ratios and holding elements, parts that no step shows, work without a caution. Then it runs the examples (with paths: the ones in them) and reports which no longer come out.

All problems are reported in one run, each with its place and what to do; what only follows from another is not. The exit code is 1 when there is an error, 0 with warnings only.`,
		Example: "slipcase check\nslipcase check van.hcl\nslipcase check --json rules/",
		Args:    cobra.ArbitraryArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			ans, err := a.desk().Check(a.ctx, args, !noExamples)
			if err != nil {
				return err
			}
			c := ans.Data
			err = show(a, cmd, ans, nil, func(p *table.Page) {
				a.messages(p, ans.Diagnostics)
				if len(ans.Diagnostics) > 0 {
					p.Space()
				}
				p.Para("%s, %s in %s, %s, %s, %s; %s.", wording.Count(c.Errors, "error", "errors"), wording.Count(c.Warnings, "warning", "warnings"),
					wording.Count(c.Units, "unit", "units"), wording.Count(c.Modes, "mode", "modes"), wording.Count(c.Findings, "finding", "findings"), wording.Count(c.Checks, "check", "checks"), examplesWords(c))
				printSources(p, c)
			})
			if err == nil && c.Errors > 0 {
				return errTold
			}
			return err
		},
	}
	cmd.Flags().BoolVar(&noExamples, "no-examples", false, "skip the examples (faster)")
	a.asJSON(cmd)
	return cmd
}

// printSources tells what is made from charts and where the numbers come from.
func printSources(p *table.Page, c library.Checked) {
	if c.Errors > 0 || len(c.Sources) == 0 {
		return
	}
	p.Space()
	kinds := engine.BasisKinds
	t := table.Table{Columns: []table.Column{{Title: "", Keep: true}, {Title: "parts", Right: true}, {Title: "usual", Right: true}}}
	for _, k := range kinds {
		t.Columns = append(t.Columns, table.Column{Title: string(k), Right: true})
	}
	for _, s := range c.Sources {
		cells := []string{s.Unit, fmt.Sprint(s.Made.OfParts), fmt.Sprint(s.Made.Parts)}
		if s.Unit == "" {
			cells = []string{"rules", "", ""}
		}
		for _, k := range kinds {
			cells = append(cells, fmt.Sprint(s.Numbers[string(k)]))
		}
		t.Add(cells...)
	}
	p.Table(t)
	p.Para("usual: parts added from the chart. After it, how many numbers there are by where they come from; those of usual parts and steps count too.")
}

func examplesWords(c library.Checked) string {
	if c.Skipped {
		return "the examples were skipped"
	}
	if c.Examples == 0 && c.Errors > 0 {
		return "the examples were not run: fix the errors first"
	}
	return wording.Count(c.Examples, "example", "examples") + " worked"
}
