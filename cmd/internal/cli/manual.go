package cli

import (
	"context"
	"io"

	"github.com/spf13/cobra"
)

// Commands is the tree of all commands, to write pages and completions from; it
// is not meant to be run.
func Commands() *cobra.Command {
	a := &app{ctx: context.Background(), out: io.Discard, err: io.Discard, getenv: func(string) string { return "" }, width: fallbackWidth}
	root := a.root()
	root.InitDefaultHelpCmd()
	return root
}
