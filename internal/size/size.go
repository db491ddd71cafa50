// Package size says, for tests, how much of what can be drawn, played or tried
// without end is tried this time.
package size

import (
	"os"
	"runtime/debug"
)

// Tests make much that is soon garbage and have memory to spare: it is collected a
// quarter as often.
func init() { debug.SetGCPercent(400) }

// Of is short in an ordinary run, middle where SLIPCASE_LONG is "ci", as .ci/run
// sets it for some packages, and long where SLIPCASE_LONG is anything else, such
// as 1.
func Of[T any](short, middle, long T) T {
	switch os.Getenv("SLIPCASE_LONG") {
	case "":
		return short
	case "ci":
		return middle
	}
	return long
}

// Long tells whether the largest size was asked for.
func Long() bool { return Of(false, false, true) }
