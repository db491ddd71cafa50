// Command slipcase finds what failed in an automatic transmission.
package main

import (
	"math"
	"os"
	"runtime/debug"

	"slipcase/cmd/internal/cli"
)

func main() {
	// Most runs end after a tenth of a second with some 40 MiB allocated:
	// collecting garbage every few megabytes is a fifth of their time.
	debug.SetGCPercent(400)
	// Long runs would take five times what they need for that. GOMEMLIMIT, where
	// it is set, says otherwise.
	if debug.SetMemoryLimit(-1) == math.MaxInt64 {
		debug.SetMemoryLimit(768 << 20)
	}
	os.Exit(cli.Main())
}
