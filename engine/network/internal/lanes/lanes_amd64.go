package lanes

import "golang.org/x/sys/cpu"

// wide tells that the loops of lanes_amd64.s can be used.
var wide = cpu.X86.HasAVX2

// Each takes n entries, a multiple of 8 above 0.

//go:noescape
func mulWide(dst, a, b *float64, n int)

//go:noescape
func addWide(dst, a, b *float64, n int)

//go:noescape
func scaleWide(dst, a *float64, f float64, n int)

// runsWide takes count runs of n entries, a multiple of 8.
//
//go:noescape
func runsWide(dst, src, m *float64, place *int32, n, count int)

//go:noescape
func gatherWide(dst, src, m *float64, place *int32, n int)

// foldWide takes count pairs of blocks of s entries, a multiple of 4.
//
//go:noescape
func foldWide(dst, c *float64, s, count int)

// fold2Wide and fold1Wide write 4 × count entries.
//
//go:noescape
func fold2Wide(dst, c *float64, count int)

//go:noescape
func fold1Wide(dst, c *float64, count int)

//go:noescape
func sumsWide(c *float64, n int, v, e *[8]float64)

//go:noescape
func sumWide(c *float64, n int, v *[8]float64)

//go:noescape
func largestWide(c *float64, n int) float64

//go:noescape
func leastWide(c *float64, n int) float64
