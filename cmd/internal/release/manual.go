package main

import (
	"errors"
	"os"
	"path/filepath"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"

	"slipcase/cmd/internal/cli"
)

// writeManual writes a man page for every command into dir/man, and the
// completion of every shell into dir/completions. The pages bear the day.
func writeManual(dir string, day time.Time) error {
	root := cli.Commands()
	untag(root)
	man, completions := filepath.Join(dir, "man"), filepath.Join(dir, "completions")
	if err := errors.Join(os.MkdirAll(man, 0o755), os.MkdirAll(completions, 0o755)); err != nil {
		return err
	}
	return errors.Join(
		doc.GenManTree(root, &doc.GenManHeader{Title: "SLIPCASE", Section: "1", Date: &day, Source: "slipcase", Manual: "slipcase"}, man),
		root.GenBashCompletionFileV2(filepath.Join(completions, "slipcase.bash"), true),
		root.GenZshCompletionFile(filepath.Join(completions, "slipcase.zsh")),
		root.GenFishCompletionFile(filepath.Join(completions, "slipcase.fish"), true),
		root.GenPowerShellCompletionFile(filepath.Join(completions, "slipcase.ps1")),
	)
}

// untag leaves out the line that says when and by what a page was made.
func untag(cmd *cobra.Command) {
	cmd.DisableAutoGenTag = true
	for _, c := range cmd.Commands() {
		untag(c)
	}
}
