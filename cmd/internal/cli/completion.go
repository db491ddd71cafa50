package cli

import (
	"slices"

	"github.com/spf13/cobra"
)

func init() { register(completionCmd) }

func completionCmd(a *app) *cobra.Command {
	shells := []string{"bash", "zsh", "fish", "powershell"}
	return &cobra.Command{
		Use:       "completion SHELL",
		Short:     "print shell completion for commands and names",
		Long:      "Prints a script that completes commands, flags, unit ids, demo names, elements and components on the command line. SHELL is bash, zsh, fish or powershell.",
		Example:   "slipcase completion bash\nslipcase completion fish",
		ValidArgs: shells,
		Args: func(cmd *cobra.Command, args []string) error {
			if err := exactArgs(1, "one SHELL: bash, zsh, fish or powershell")(cmd, args); err != nil {
				return err
			}
			if !slices.Contains(shells, args[0]) {
				return wrongUse("no completion for %q; SHELL is bash, zsh, fish or powershell", args[0])
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			root := cmd.Root()
			switch args[0] {
			case "bash":
				return root.GenBashCompletionV2(a.out, true)
			case "zsh":
				return root.GenZshCompletion(a.out)
			case "fish":
				return root.GenFishCompletion(a.out, true)
			}
			return root.GenPowerShellCompletionWithDesc(a.out)
		},
	}
}
