package cli

import (
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/internal/desk/asking"
	"slipcase/cmd/internal/desk/opened"
	"slipcase/cmd/internal/notation"
	"slipcase/cmd/internal/table"
	"slipcase/engine"
)

func init() { register(settleCmd) }

func settleCmd(a *app) *cobra.Command {
	var ref opened.Ref
	cmd := &cobra.Command{
		Use:     "settle CAUSE yes|no...",
		Short:   "settle root causes: yes or no",
		Long:    "Settles root causes: yes, it is confirmed, or no, it is ruled out; several at once, all or nothing. The ranking changes at once. slipcase suspects --full shows what settles a cause.",
		Example: "slipcase settle neglected_fluid yes overheated no\nslipcase settle overloaded=no",
		Args: func(cmd *cobra.Command, args []string) error {
			_, err := causes(args)
			return err
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			list, err := causes(args)
			if err != nil {
				return err
			}
			ans, err := a.desk().Settle(a.ctx, ref, list)
			return show(a, cmd, ans, err, func(p *table.Page) { a.printWritten(p, ans) })
		},
	}
	names := a.completeCauses(&ref)
	cmd.ValidArgsFunction = func(cmd *cobra.Command, args []string, prefix string) ([]string, cobra.ShellCompDirective) {
		if n := len(args); n > 0 && !strings.Contains(args[n-1], "=") && args[n-1] != "yes" && args[n-1] != "no" {
			return words([]asking.Word{{Name: "yes", Title: "confirmed"}, {Name: "no", Title: "it is ruled out"}}, prefix), noFiles
		}
		return names(cmd, args, prefix)
	}
	a.jobFlags(cmd, &ref)
	return cmd
}

// causes reads what is settled; what cannot be read is a wrong command line.
func causes(args []string) ([]engine.SettledCause, error) {
	list, err := notation.Causes(args)
	if err != nil {
		return nil, wrongUse("%v", err)
	}
	return list, nil
}
