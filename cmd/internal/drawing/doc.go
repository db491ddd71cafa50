// Package drawing draws what the gear train does, as SVG: the power flow of a
// row, and the speeds of its members to scale. Every length that stands for a
// number comes from package geartrain; nothing is worked out here.
//
// What is applied, holds or overruns is told by shape, weight and words; colour
// only repeats it, so that paper in black and white says the same. Only
// presentation attributes are used, no style sheet and no script, so that a page
// with a strict content policy can hold a drawing.
package drawing
