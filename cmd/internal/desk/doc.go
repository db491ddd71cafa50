// Package desk holds the use cases that the command line and the page share. One
// Desk has them all; they stand in rooms: library (units and rules), asking (a
// case, nothing written), casework (cases of the casebook), learning, practice
// (drawn vehicles). Each returns plain data with JSON names; nothing here prints,
// and nothing is computed here: the engine computes, the desk asks it and puts the
// answer in order.
//
// What goes wrong is a *answer.Failure: the diagnostics to show, and whether the
// asker used the program wrongly (a name that is not known) or the work failed
// (a rule file with errors, reports that contradict each other).
package desk
