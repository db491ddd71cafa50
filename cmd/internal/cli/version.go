package cli

import (
	"github.com/spf13/cobra"

	"slipcase/cmd/internal/table"
)

func init() { register(versionCmd) }

func versionCmd(a *app) *cobra.Command {
	cmd := &cobra.Command{
		Use:     "version",
		Short:   "show version, language number and fingerprint of the rules",
		Long:    "Prints the version of the program and of Go, the number of the rule language, and the fingerprint of the rules that a run would use: two shops with the same fingerprint get the same answers.",
		Example: "slipcase version\nslipcase version --json",
		Args:    noArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			ans, err := a.desk().Version(a.ctx)
			return show(a, cmd, ans, err, func(p *table.Page) {
				v := ans.Data
				p.Para("slipcase %s", v.Version)
				p.Para("built with %s", v.Go)
				p.Para("rule language %d", v.Language)
				p.Para("rules %s", v.Rules)
				p.Para("shop rules in %s (%s)", v.Shop, v.ShopState)
			})
		},
	}
	a.asJSON(cmd)
	return cmd
}
