package interview

import (
	"regexp"

	"slipcase/engine"
)

var milesGiven = regexp.MustCompile(`(?i)\d[\d,. ]*\s*(k\s*)?(miles|mile|mi)\b`)

// numberKnown tells whether the number that a question asks for was given when
// the case was opened: the mileage with the vehicle.
func (iv *Interview) numberKnown(c *engine.Check) bool {
	return c.Counts != nil && c.Counts.Unit == "miles" && milesGiven.MatchString(iv.c.Vehicle+" "+iv.c.Title)
}
