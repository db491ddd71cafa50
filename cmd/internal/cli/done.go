package cli

import (
	"github.com/spf13/cobra"

	"slipcase/cmd/internal/desk/asking"
	"slipcase/cmd/internal/desk/casework"
	"slipcase/cmd/internal/desk/opened"
	"slipcase/cmd/internal/notation"
	"slipcase/cmd/internal/table"
)

func init() { register(doneCmd) }

func doneCmd(a *app) *cobra.Command {
	var ref opened.Ref
	var in casework.DoneInput
	var measures []string
	cmd := &cobra.Command{
		Use:     "done STEP...",
		Short:   "check off teardown steps, with what was measured",
		Long:    "Checks off steps of the teardown and keeps what was measured at them, compared with the unit's limits; says what has come into view and what to look for there. A command is recorded whole or not at all.\n\nThe step that pulls the unit is not checked off while checks are missing that need the unit in the vehicle, such as level, codes and cooler flow; --anyway goes on without them.",
		Example: "slipcase done pan_off\nslipcase done pump_out --measure input_end_play=0.95mm --measure intermediate_clearance=0.055in",
		Args:    someArgs("at least one STEP"),
		RunE: func(cmd *cobra.Command, args []string) error {
			in.Steps, in.Measures = args, notation.Measures(measures)
			ans, err := a.desk().Done(a.ctx, ref, in)
			return show(a, cmd, ans, err, func(p *table.Page) { a.printWritten(p, ans) })
		},
	}
	cmd.Flags().StringArrayVar(&measures, "measure", nil, "what was measured, as `name=value` with its unit; repeat for each")
	cmd.Flags().StringVar(&in.Note, "note", "", "`words` to keep with it")
	cmd.Flags().BoolVar(&in.Anyway, "anyway", false, "pull the unit although checks are missing that need it in the vehicle")
	cmd.ValidArgsFunction = func(_ *cobra.Command, _ []string, prefix string) ([]string, cobra.ShellCompDirective) {
		return words(a.desk().StepWords(a.ctx, asking.CaseRef{In: ref.In}), prefix), noFiles
	}
	a.jobFlags(cmd, &ref)
	return cmd
}
