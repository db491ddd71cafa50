//go:build unix

package diagnose_test

import (
	"syscall"
	"time"
)

// processor is the time of both cores that this process has used so far, in user
// and system mode: other work on the machine does not count.
func processor() time.Duration {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
