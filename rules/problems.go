package rules

import "slipcase/rules/diag"

// problems are the diagnostics of a load.
type problems struct{ diag.Collector }
