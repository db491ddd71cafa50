package cli

import (
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/internal/desk/asking"
	"slipcase/cmd/internal/desk/casework"
	"slipcase/cmd/internal/desk/opened"
	"slipcase/cmd/internal/notation"
	"slipcase/cmd/internal/table"
)

func init() { register(foundCmd) }

func foundCmd(a *app) *cobra.Command {
	var ref opened.Ref
	var in casework.FoundInput
	cmd := &cobra.Command{
		Use:   "found COMPONENT/MODE...",
		Short: "confirm parts that have failed, and how",
		Long: `Confirms that parts were found failed, and how: the ranking changes at once. A part can be found failed in more than one way; what cleared it before is replaced. For a single part the mode can also be given separately: COMPONENT MODE. A command is recorded whole or not at all; --cause, --note and --photo apply to every part in it.

Say with --cause why it failed, or settle that separately with slipcase settle: a part that burnt for a reason burns again.`,
		Example: "slipcase found forward_frictions burnt_friction --cause neglected_fluid\nslipcase found pump/pump_worn forward_frictions/burnt_friction\nslipcase found overdrive_servo/servo_seal_cut --note 'lip cut for 20 mm' --photo pictures/servo.jpg",
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) == 2 && !strings.ContainsAny(args[0]+args[1], "/:") {
				return nil
			}
			for _, x := range args {
				if !strings.ContainsAny(x, "/:") {
					return wrongUse("%s takes COMPONENT/MODE for each part: in which way has %q failed?", cmd.CommandPath(), x)
				}
			}
			return someArgs("at least one COMPONENT/MODE")(cmd, args)
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			for _, p := range notation.Suspects(args) {
				in.Parts = append(in.Parts, casework.FoundPart{Component: p[0], Mode: p[1]})
			}
			ans, err := a.desk().Found(a.ctx, ref, in)
			return show(a, cmd, ans, err, func(p *table.Page) { a.printWritten(p, ans) })
		},
	}
	f := cmd.Flags()
	f.StringVar(&in.Cause, "cause", "", "root `cause`, where it is settled")
	f.StringVar(&in.Note, "note", "", "`words` to keep with it")
	f.StringVar(&in.Photo, "photo", "", "`path` of a picture; the path is kept, not the picture")
	cmd.ValidArgsFunction = func(c *cobra.Command, args []string, prefix string) ([]string, cobra.ShellCompDirective) {
		of := asking.CaseRef{In: ref.In}
		if len(args) > 0 && strings.ContainsAny(args[0], "/:") {
			return a.completeSuspects(&of)(c, nil, prefix)
		}
		if len(args) == 1 {
			var out []asking.Word
			for _, w := range a.desk().SuspectWords(a.ctx, of, true) {
				if mode, ok := strings.CutPrefix(w.Name, args[0]+"/"); ok {
					out = append(out, asking.Word{Name: mode, Title: w.Title})
				}
			}
			return words(out, prefix), noFiles
		}
		return a.completeSuspects(&of)(c, args, prefix)
	}
	complete(cmd, "cause", a.completeCauses(&ref))
	a.jobFlags(cmd, &ref)
	return cmd
}

// completeCauses completes root causes.
func (a *app) completeCauses(ref *opened.Ref) completion {
	return func(_ *cobra.Command, _ []string, prefix string) ([]string, cobra.ShellCompDirective) {
		return words(a.desk().CauseWords(a.ctx, asking.CaseRef{In: ref.In}), prefix), noFiles
	}
}
