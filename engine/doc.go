// Package engine holds the nouns of slipcase: the unit and its parts, the
// rules as plain data, the case with its reports, and the contract of the
// casebook. It has no logic beyond small look-ups and imports nothing of the
// project but quantity, so reading it is reading the business.
//
// Three audiences: a panic in this project is our own bug; an error is bad
// data or a failed operation; a Diagnostic is a message for the author of a
// rule or case file, with the place to mend.
package engine
