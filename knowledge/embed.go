// Package knowledge holds what slipcase knows without a shop's own folder: the
// demo units, the rules of the trade, checks, cautions and demo cases, as HCL.
//
// Every figure in it has a basis; the units, their limits and the shop of the
// cases are invented, and no maker's figure stands here.
package knowledge

import "embed"

// FS holds units/, rules/, checks/ and cautions/ for the loader of package
// rules, and cases/, whose files are read one at a time with rules.LoadCase.
//
//go:embed units rules checks cautions cases
var FS embed.FS
