// Package model compiles a unit, the rules and gear-train physics into one
// probability model, and the reports of a case into its evidence.
//
// Build makes the Model once per unit: a directed network of leaky noisy-OR
// nodes in the causal order root cause → stress → mode → effect → finding.
// What an effect shows in each row, shift, engagement and gauge comes from
// package geartrain (see physics.go); the rules give the strengths. Evidence
// turns what is known of a case into likelihoods of that network's nodes.
// Package diagnose answers from it.
package model
