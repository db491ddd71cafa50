// Command slipcase finds what failed in an automatic transmission.
package main

import (
	"os"

	"slipcase/cmd/internal/cli"
)

func main() { os.Exit(cli.Main()) }
