// Package drawing draws what a gear train does, as SVG: the power flow of a row
// and the speeds of all members in every row, sound or with faults. Speeds and
// torques are those of engine/geartrain, to scale.
//
// Both drawings are laid out from the train alone, so that the same unit looks
// the same in every row. They read in black and white: an applied element is
// told by filled plates and a thick line, not by its color. No style sheet, no
// font and no script is in them, so that a page with a strict content security
// policy can hold them; title and description are there for screen readers.
package drawing
