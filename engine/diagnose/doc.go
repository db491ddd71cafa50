// Package diagnose joins a unit, the rules and gear-train physics into one
// probability model, and answers a case with ranked suspects.
//
// Build makes the Model once per unit: a directed network of leaky noisy-OR
// nodes in the causal order root cause → stress → mode → effect → finding.
// What an effect shows in each row, shift, engagement and gauge comes from
// package geartrain (see physics.go); the rules give the strengths. Diagnose
// turns the reports of a case into evidence and reads the exact posterior.
package diagnose
