package cli

import (
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/internal/desk"
	"slipcase/cmd/internal/table"
)

func init() { register(undoCmd) }

func undoCmd(a *app) *cobra.Command {
	var ref desk.JobRef
	var why string
	cmd := &cobra.Command{
		Use:   "undo [N...]",
		Short: "take back the last entry of the case, or those numbered",
		Long: `Takes back the last entry of the case that still holds, or those numbered; a stretch is written 3-7. Said again without a number it goes back one further. Nothing is deleted: what was taken back stays in the history, and undo with the number of the taking back has it again.

It works on a closed case too, where most often its closing is meant.`,
		Example: "slipcase undo\nslipcase undo 3-7 9 --why 'wrong vehicle'",
		Args: func(_ *cobra.Command, args []string) error {
			_, err := numbers(args)
			return err
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			list, err := numbers(args)
			if err != nil {
				return err
			}
			ans, err := a.desk().Undo(ref, list, why)
			return a.answer(cmd, ans, err, func(p *table.Page) { a.printWritten(p, ans) })
		},
	}
	cmd.Flags().StringVar(&why, "why", "", "the reason, as `text`")
	a.jobFlags(cmd, &ref)
	return cmd
}

// numbers reads numbers of entries and stretches of them.
func numbers(args []string) ([]int64, error) {
	const most = 10_000 // longer stretches are slips of the finger
	var out []int64
	for _, arg := range args {
		from, to, stretch := strings.Cut(arg, "-")
		if !stretch {
			to = from
		}
		a, err := strconv.ParseInt(from, 10, 64)
		b, err2 := strconv.ParseInt(to, 10, 64)
		if err != nil || err2 != nil || a < 1 || b < a || b-a > most {
			return nil, wrongUse("slipcase undo: %q is no number of an entry and no stretch of them like 3-7", arg)
		}
		for n := a; n <= b; n++ {
			out = append(out, n)
		}
	}
	return out, nil
}
