package library

import "slipcase/engine"

// Made says how much of a unit its own file leaves to what such units usually
// have: parts and steps that were made from its chart.
type Made struct {
	Parts   int `json:"parts"`
	OfParts int `json:"of_parts"`
	Steps   int `json:"steps"`
	OfSteps int `json:"of_steps"`
}

// MadeOf counts it.
func MadeOf(u *engine.Unit) Made {
	return Made{Parts: u.MadeParts(), OfParts: len(u.Components), Steps: u.MadeSteps(), OfSteps: len(u.Steps)}
}
