package cli

import (
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/opened"
	"slipcase/cmd/internal/table"
	"slipcase/cmd/internal/wording"
)

// jobFlags adds the flags of every command that writes to a case.
func (a *app) jobFlags(cmd *cobra.Command, ref *opened.Ref) {
	a.inFlag(cmd, &ref.In)
	a.whoFlag(cmd, &ref.Who)
	a.asJSON(cmd)
}

func (a *app) whoFlag(cmd *cobra.Command, who *string) {
	cmd.Flags().StringVar(who, "who", "", "`name` of the person at the bench, kept with the entry (default: SLIPCASE_WHO)")
}

// printWritten says which case was written to, what was written, where the case
// stands now, and what to do next.
func (a *app) printWritten(p *table.Page, ans answer.Answer[opened.Written]) {
	w := ans.Data
	p.Para("%s", caseWords(w.Case))
	for _, e := range w.Entries {
		p.Item(entryMark(e.Seq), "%s", e.Words)
	}
	for _, s := range w.Said {
		p.Item("      - ", "%s", strings.Join(slices.DeleteFunc(append([]string{s.Text}, hints(s.Hints)...), func(t string) bool { return t == "" }), "; "))
	}
	if w.Leader != "" {
		p.Space()
		p.Styled(w.Leader, table.Strong)
	}
	a.next(p, w.Next)
}

// next says what to do next: where the leader is seen, and the commands that
// there are.
func (a *app) next(p *table.Page, where string) {
	if where != "" {
		p.Para("%s.", wording.Capital(where))
	}
	list := ""
	for _, c := range []struct{ name, does string }{
		{"next", "the best next check"}, {"suspects", "the whole ranking"}, {"plan", "the order of steps"},
	} {
		if !a.has(c.name) {
			continue
		}
		if list != "" {
			list += "; "
		}
		list += "slipcase " + c.name + ", " + c.does
	}
	p.Para("Next: %s.", list)
}

// has tells whether there is a command of this name.
func (a *app) has(name string) bool { return slices.Contains(a.commands, name) }

// someArgs is for commands that take a list.
func someArgs(what string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) == 0 {
			return wrongUse("%s needs %s", cmd.CommandPath(), what)
		}
		return nil
	}
}
