package cli

import (
	"github.com/spf13/cobra"

	"slipcase/cmd/internal/desk/asking"
)

// caseFlags adds --in, --case and --demo: the case that a reading command
// works on. Without them it is the current case of the casebook.
func (a *app) caseFlags(cmd *cobra.Command, ref *asking.CaseRef) {
	cmd.Flags().StringVar(&ref.File, "case", "", "case `file`; nothing is written to it")
	cmd.Flags().StringVar(&ref.Demo, "demo", "", "built-in demo `name` (see slipcase demos)")
	a.inFlag(cmd, &ref.In)
	cmd.MarkFlagsMutuallyExclusive("in", "case", "demo")
	if err := cmd.MarkFlagFilename("case", "hcl"); err != nil {
		panic(err)
	}
	complete(cmd, "demo", a.completeDemos)
}

// inFlag adds --in: a case of the casebook other than the current one.
func (a *app) inFlag(cmd *cobra.Command, id *string) {
	cmd.Flags().StringVar(id, "in", "", "case of the casebook, by its `id` (default: SLIPCASE_CASE, or the case opened last)")
	complete(cmd, "in", a.completeCases)
}

// caseArgs are the flags that name the case again, with a space before them.
func caseArgs(ref asking.CaseRef) string {
	switch {
	case ref.Demo != "":
		return " --demo " + ref.Demo
	case ref.File != "":
		return " --case " + ref.File
	case ref.In != "":
		return " --in " + ref.In
	}
	return ""
}
