package cli

import (
	"github.com/spf13/cobra"

	"slipcase/cmd/internal/desk"
)

// caseFlags adds --case and --demo: the case that a reading command works on.
func (a *app) caseFlags(cmd *cobra.Command, ref *desk.CaseRef) {
	cmd.Flags().StringVar(&ref.File, "case", "", "case `file`; nothing is written to it")
	cmd.Flags().StringVar(&ref.Demo, "demo", "", "built-in demo `name` (see slipcase demos)")
	cmd.MarkFlagsMutuallyExclusive("case", "demo")
	if err := cmd.MarkFlagFilename("case", "hcl"); err != nil {
		panic(err)
	}
	complete(cmd, "demo", a.completeDemos)
}

// needCase refuses a command line without a case.
func needCase(cmd *cobra.Command, ref desk.CaseRef) error {
	if ref.File == "" && ref.Demo == "" {
		return wrongUse("%s needs a case: --case FILE, or --demo NAME to try it", cmd.CommandPath())
	}
	return nil
}
