package cli

import (
	"context"
	"fmt"
	"os"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"slipcase/cmd/internal/desk/asking"
	"slipcase/cmd/internal/desk/talk"
	"slipcase/cmd/internal/table"
	"slipcase/cmd/internal/wording"
)

func init() { register(interviewCmd) }

func interviewCmd(a *app) *cobra.Command {
	var ref asking.CaseRef
	var who string
	var plain bool
	cmd := &cobra.Command{
		Use:   "interview",
		Short: "ask the driver, most valuable question first",
		Long: `Asks what the driver knows, one question at a time, in the driver's words; the next question is the one that saves the most, given what is known. What is already known is not asked. It begins with the complaint as the driver tells it: what the words may mean is shown, and only what you confirm is entered.

Every question can be skipped, answered with "don't know", gone back to and changed. It can be left at any question: answers are in the casebook as soon as they are given, and the next start continues there. It stops when no question is worth the time, and says what going on would cost.

On a terminal it is a form that fills the screen; with --plain, or on a pipe, plain questions, one answer a line. With --case or --demo nothing is written: the answers are printed as a block for the case file.`,
		Example: "slipcase interview\nslipcase interview --in 26-0007 --who Mia\nslipcase interview --demo no-reverse --plain",
		Args:    noArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			// An interrupt leaves the sitting; what was answered is still written.
			a.leaves.Store(true)
			x, err := a.desk().Interview(context.WithoutCancel(a.ctx), ref, who)
			if err != nil {
				return err
			}
			defer x.Close()
			a.complain(x.Warnings())
			if !plain && a.screen() {
				err = a.interviewForm(x)
			} else {
				err = a.interviewLines(x)
			}
			if err != nil {
				// What was answered is not lost with it.
				if text := x.ReportsHCL(); !x.Kept() && text != "" {
					fmt.Fprint(a.out, "\n"+text)
				}
				return err
			}
			return a.printInterview(x, ref)
		},
	}
	a.caseFlags(cmd, &ref)
	cmd.Flags().StringVar(&who, "who", "", "`name` of who writes the answers down (default: SLIPCASE_WHO)")
	cmd.Flags().BoolVar(&plain, "plain", false, "plain questions and lines, also on a terminal")
	return cmd
}

// screen tells whether a full-screen form can be shown: both ends are a
// terminal that can move its cursor.
func (a *app) screen() bool {
	in, ok := a.in.(*os.File)
	return ok && a.tty && term.IsTerminal(int(in.Fd())) && a.getenv("TERM") != "dumb"
}

// printInterview is what stands at the end of a sitting.
func (a *app) printInterview(x *talk.Interview, ref asking.CaseRef) error {
	p := a.page()
	n := wording.Count(x.Answered(), "question", "questions")
	switch {
	case !x.Kept():
		if text := x.ReportsHCL(); text != "" {
			p.Para("Nothing was written. The answers, for the case file:")
			p.Space()
			// As it is: a line that is cut could not be pasted.
			fmt.Fprint(a.out, text)
			p.Space()
		} else {
			p.Para("Nothing was answered, and nothing was written.")
		}
	case x.Answered() == 0:
		p.Para("Case %s. No question is answered yet; slipcase interview%s begins again.", x.Case().ID, caseArgs(ref))
	case x.Over():
		p.Para("Case %s: %s asked, all answers are kept.", x.Case().ID, n)
	default:
		p.Para("Case %s: %s asked, all answers are kept. slipcase interview%s continues here.", x.Case().ID, n, caseArgs(ref))
	}
	if _, sentence, err := x.Leading(); err == nil && x.Case().Reports > 0 {
		p.Styled(sentence, table.Strong)
	}
	if x.Kept() {
		p.Para("What to do next: slipcase next%s", caseArgs(ref))
	}
	p.Styled(verdict, table.Warn)
	return p.Err()
}
