// Command slipcase finds what failed in an automatic transmission.
package main

import (
	"os"
	"runtime/debug"

	"slipcase/cmd/internal/cli"
)

func main() {
	// Most runs end after a tenth of a second with some 40 MiB allocated:
	// collecting garbage every few megabytes is a fifth of their time.
	debug.SetGCPercent(400)
	os.Exit(cli.Main())
}
