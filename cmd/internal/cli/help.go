package cli

import (
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"slipcase/cmd/internal/table"
)

// help prints what a command is for, how it is written, an example and its
// flags, at the page's width.
func (a *app) help(cmd *cobra.Command) {
	p := a.page()
	text := cmd.Long
	if text == "" {
		text = cmd.Short + "."
	}
	for i, para := range strings.Split(text, "\n\n") {
		if i > 0 {
			p.Space()
		}
		p.Para("%s", para)
	}
	p.Head("Use")
	if cmd.Runnable() && cmd.HasParent() {
		p.Item("  ", "%s", cmd.UseLine())
	}
	if cmd.HasAvailableSubCommands() {
		p.Item("  ", "%s COMMAND", cmd.CommandPath())
	}
	if cmd.Example != "" {
		p.Head("Example")
		for _, l := range strings.Split(cmd.Example, "\n") {
			p.Item("  ", "%s", l)
		}
	}
	if cmd.HasAvailableSubCommands() {
		p.Head("Commands")
		list := map[string]string{}
		var names []string
		for _, c := range cmd.Commands() {
			if c.IsAvailableCommand() {
				names = append(names, c.Name())
				list[c.Name()] = c.Short
			}
		}
		definitions(p, names, list)
	}
	flags(p, "Flags", cmd.LocalNonPersistentFlags())
	shared := pflag.NewFlagSet("", pflag.ContinueOnError)
	cmd.InheritedFlags().VisitAll(func(f *pflag.Flag) { shared.AddFlag(f) })
	cmd.PersistentFlags().VisitAll(func(f *pflag.Flag) { shared.AddFlag(f) })
	flags(p, "Flags of every command", shared)
}

func flags(p *table.Page, title string, set *pflag.FlagSet) {
	var names []string
	list := map[string]string{}
	set.VisitAll(func(f *pflag.Flag) {
		if f.Hidden {
			return
		}
		arg, text := pflag.UnquoteUsage(f)
		name := "--" + f.Name
		if f.Shorthand != "" {
			name = "-" + f.Shorthand + ", " + name
		}
		if arg != "" {
			name += " " + arg
		}
		if f.DefValue != "" && f.DefValue != "false" && f.DefValue != "[]" && f.DefValue != "0" {
			text += " (default " + f.DefValue + ")"
		}
		names = append(names, name)
		list[name] = text
	})
	if len(names) > 0 {
		p.Head(title)
		definitions(p, names, list)
	}
}

// definitions prints names with their texts beside them.
func definitions(p *table.Page, names []string, text map[string]string) {
	w := 0
	for _, n := range names {
		w = max(w, table.Width(n))
	}
	for _, n := range names {
		p.Item("  "+n+strings.Repeat(" ", w-table.Width(n)+2), "%s", text[n])
	}
}
