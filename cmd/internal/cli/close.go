package cli

import (
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/casework"
	"slipcase/cmd/internal/desk/opened"
	"slipcase/cmd/internal/notation"
	"slipcase/cmd/internal/table"
	"slipcase/engine"
)

func init() { register(closeCmd) }

// "come-back" is how it was spelled once, and still taken.
var outcomes = map[string]engine.CaseStatus{"fixed": engine.CaseFixed, "comeback": engine.CaseComeBack, "come-back": engine.CaseComeBack, "abandoned": engine.CaseAbandoned}

func closeCmd(a *app) *cobra.Command {
	var ref opened.Ref
	var in casework.CloseInput
	var drove []string
	cmd := &cobra.Command{
		Use:   "close fixed|comeback|abandoned",
		Short: "end the work on a case",
		Long: `Ends the work on the current case.

fixed: the repair is proved by the verification drive. Every row, shift and engagement that was reported faulty is driven again, warm, and reported with --drove; the case stays open while one is missing or still bad.

comeback: the vehicle is here because an earlier repair did not last; --of names that case, if it was not opened from it.

abandoned: no repair, whatever the reason.`,
		Example: "slipcase close fixed --drove D/3=good --drove D/4,R/R=good\nslipcase close comeback --of 26-0001\nslipcase close abandoned --note 'sold for scrap'",
		Args: func(cmd *cobra.Command, args []string) error {
			if err := exactArgs(1, "how it ends: fixed, comeback or abandoned")(cmd, args); err != nil {
				return err
			}
			if outcomes[args[0]] == "" {
				return wrongUse("a case closes as fixed, comeback or abandoned, not %q", args[0])
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			in.Outcome, in.Drove = outcomes[args[0]], notation.Drives(drove)
			switch {
			case in.Outcome != engine.CaseComeBack && in.Earlier != "":
				return wrongUse("--of is for a comeback only")
			case cmd.Flags().Changed("undriven") && (in.Outcome != engine.CaseFixed || strings.TrimSpace(in.Undrove) == ""):
				return wrongUse("--undriven says why a fixed case was not driven")
			}
			ans, err := a.desk().CloseCase(a.ctx, ref, in)
			return show(a, cmd, ans, err, func(p *table.Page) { a.printClosed(p, ans) })
		},
	}
	f := cmd.Flags()
	f.StringArrayVar(&drove, "drove", nil, "a row, shift or engagement driven again and how it went: `PLACE=good`, PLACE,PLACE=good, or PLACE=bad:what it did; repeat for each")
	f.StringVar(&in.Earlier, "of", "", "comeback: `id` of the case whose repair did not last")
	f.StringVar(&in.Undrove, "undriven", "", "fixed without the whole drive: the `reason`")
	f.StringVar(&in.Note, "note", "", "`words` to keep with it")
	complete(cmd, "of", a.completeCases)
	cmd.ValidArgs = []string{"fixed", "comeback", "abandoned"}
	a.jobFlags(cmd, &ref)
	return cmd
}

func (a *app) printClosed(p *table.Page, ans answer.Answer[opened.Written]) {
	w := ans.Data
	p.Para("%s", caseWords(w.Case))
	for _, e := range w.Entries {
		p.Item(entryMark(e.Seq), "%s", e.Words)
	}
	p.Space()
	p.Styled("Case "+w.Case.ID+" is closed.", table.Strong)
	p.Para("slipcase cases show %s shows all of it; slipcase undo opens it again.", w.Case.ID)
	if a.has("learn") {
		p.Para("Next: slipcase learn, what the closed cases say about the rules.")
	}
}
