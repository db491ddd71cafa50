package wording

import "fmt"

// TrialNotKept says that a file cannot keep a trial, and what to do.
func TrialNotKept(path string, err error) (what, do string) {
	return fmt.Sprintf("%s cannot hold a trial: %v", path, err), "name a file that can be written"
}

// AnotherTrial says that a file keeps a trial of another unit or other options.
func AnotherTrial(path, unit string, seed uint64, off float64) (what, do string) {
	return path + " holds another trial",
		fmt.Sprintf("it is of %s, seed %d, off by up to %g; unit, rules, seed and options must be the same: name another file", unit, seed, off)
}

// NoTrialLine says that a line of a file was not written by a trial.
func NoTrialLine(path string, line int) (what, do string) {
	return fmt.Sprintf("%s:%d: this is not a line of a trial", path, line), "name another file, or delete this one and start over"
}

// TrialFull says that a trial cannot be kept any longer.
func TrialFull(path string, err error) (what, do string) {
	return fmt.Sprintf("%s cannot keep the trial: %v", path, err), "make room, or name another file"
}
