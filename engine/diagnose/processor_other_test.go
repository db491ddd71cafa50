//go:build !unix

package diagnose_test

import "time"

// processor is not known here.
func processor() time.Duration { return 0 }
