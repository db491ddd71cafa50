package cli

import (
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/internal/desk/asking"
	"slipcase/cmd/internal/table"
)

// completion is cobra's signature of a function that completes a word.
type completion = func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective)

// complete ties a completion to a flag.
func complete(cmd *cobra.Command, flag string, f completion) {
	if err := cmd.RegisterFlagCompletionFunc(flag, f); err != nil {
		panic(err)
	}
}

// words gives names, each with its description, as cobra wants them.
func words(list []asking.Word, prefix string) []string {
	var out []string
	for _, w := range list {
		if !strings.HasPrefix(w.Name, prefix) {
			continue
		}
		if w.Title != "" {
			out = append(out, table.Clean(w.Name)+"\t"+table.Clean(w.Title))
		} else {
			out = append(out, w.Name)
		}
	}
	return out
}

const noFiles = cobra.ShellCompDirectiveNoFileComp

// completeUnits completes the first argument: unit ids, and unit files.
func (a *app) completeUnits(_ *cobra.Command, args []string, prefix string) ([]string, cobra.ShellCompDirective) {
	if len(args) > 0 {
		return nil, noFiles
	}
	return words(a.desk().UnitWords(a.ctx), prefix), cobra.ShellCompDirectiveDefault
}

// completeDemos completes demo names.
func (a *app) completeDemos(_ *cobra.Command, _ []string, prefix string) ([]string, cobra.ShellCompDirective) {
	return words(a.desk().DemoWords(a.ctx), prefix), noFiles
}

// completeLinks completes the elements or joints of the unit that the first
// argument names, as a fault flag of chart takes them.
func (a *app) completeLinks(flag string) completion {
	return func(_ *cobra.Command, args []string, prefix string) ([]string, cobra.ShellCompDirective) {
		if len(args) == 0 {
			return nil, noFiles
		}
		return words(a.desk().LinkWords(a.ctx, args[0], flag), prefix), noFiles
	}
}

// completeSuspects completes component/mode of the case's unit.
func (a *app) completeSuspects(ref *asking.CaseRef) completion {
	return func(_ *cobra.Command, args []string, prefix string) ([]string, cobra.ShellCompDirective) {
		if len(args) > 0 {
			return nil, noFiles
		}
		return words(a.desk().SuspectWords(a.ctx, *ref, strings.Contains(prefix, "/")), prefix), noFiles
	}
}

// completeCases completes ids of the casebook, newest first.
func (a *app) completeCases(_ *cobra.Command, _ []string, prefix string) ([]string, cobra.ShellCompDirective) {
	return words(a.desk().CaseWords(a.ctx), prefix), noFiles | cobra.ShellCompDirectiveKeepOrder
}
