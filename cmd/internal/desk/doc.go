// Package desk holds the use cases that the command line and the page share:
// load the knowledge, open a case, show a chart, diagnose, check. Each returns
// plain data with JSON names; nothing here prints, and nothing is computed
// here: the engine computes, desk asks it and puts the answer in order.
//
// What goes wrong is a *answer.Failure: the diagnostics to show, and whether the
// asker used the program wrongly (a name that is not known) or the work failed
// (a rule file with errors, reports that contradict each other).
package desk
