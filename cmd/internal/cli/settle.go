package cli

import (
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/internal/desk"
	"slipcase/cmd/internal/table"
)

func init() { register(settleCmd) }

func settleCmd(a *app) *cobra.Command {
	var ref desk.JobRef
	cmd := &cobra.Command{
		Use:     "settle CAUSE yes|no...",
		Short:   "say of root causes whether they were so",
		Long:    "Settles root causes: yes, it was so, or no, it is ruled out; several at once, all or nothing. The ranking changes at once. What settles a cause stands under slipcase suspects.",
		Example: "slipcase settle neglected_fluid yes overheated no\nslipcase settle overloaded=no",
		Args: func(cmd *cobra.Command, args []string) error {
			_, err := causeAnswers(args)
			return err
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			list, err := causeAnswers(args)
			if err != nil {
				return err
			}
			ans, err := a.desk().Settle(ref, list)
			return a.answer(cmd, ans, err, func(p *table.Page) { a.printWritten(p, ans) })
		},
	}
	cmd.ValidArgsFunction = a.completeCauses(&ref)
	a.jobFlags(cmd, &ref)
	return cmd
}

// causeAnswers reads CAUSE yes, CAUSE no, CAUSE=yes and CAUSE=no.
func causeAnswers(args []string) ([]desk.CauseAnswer, error) {
	var out []desk.CauseAnswer
	for i := 0; i < len(args); i++ {
		cause, word, given := strings.Cut(args[i], "=")
		if !given {
			i++
			if i == len(args) {
				return nil, wrongUse("slipcase settle: was it %s? Say yes or no after it", cause)
			}
			word = args[i]
		}
		if word != "yes" && word != "no" {
			return nil, wrongUse("slipcase settle: %s is yes or no, not %q", cause, word)
		}
		out = append(out, desk.CauseAnswer{Cause: cause, Present: word == "yes"})
	}
	if len(out) == 0 {
		return nil, wrongUse("slipcase settle needs a root CAUSE, and yes or no")
	}
	return out, nil
}
