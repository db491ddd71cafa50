//go:build !amd64

package lanes

var wide = false

// These are never called where wide is false.

func mulWide(dst, a, b *float64, n int)                         {}
func addWide(dst, a, b *float64, n int)                         {}
func scaleWide(dst, a *float64, f float64, n int)               {}
func runsWide(dst, src, m *float64, place *int32, n, count int) {}
func gatherWide(dst, src, m *float64, place *int32, n int)      {}
func foldWide(dst, c *float64, s, count int)                    {}
func fold2Wide(dst, c *float64, count int)                      {}
func fold1Wide(dst, c *float64, count int)                      {}
func sumsWide(c *float64, n int, v, e *[8]float64)              {}
func sumWide(c *float64, n int, v *[8]float64)                  {}
func largestWide(c *float64, n int) float64                     { return 0 }
func leastWide(c *float64, n int) float64                       { return 0 }
