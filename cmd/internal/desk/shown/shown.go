// Package shown decides what of an answer is shown, once for every face: JSON
// holds what the screen shows, and says how much more there is.
package shown

import "slipcase/cmd/internal/answer"

// The figures are our own choice: a screen of 24 lines should hold what matters.
const (
	// A second way to fail is shown when it is this likely beside the first.
	BesideTheFirst = 0.2
	// Ways to fail of one suspect.
	MostModes = 3
	// A suspect that the reports have not made likelier by this factor stands
	// there by base rate alone.
	Raised = 1.5
	// Reports named for and against the first suspect.
	MostPros = 3
	// WeighedPros is of how many it is worked out what they weigh: of those that
	// weigh most by an estimate, so many that the ones shown are among them.
	WeighedPros = 8
	// Sets of faults that explain it together.
	LeastExplanation = 0.001
	// Below these a set beside the first, and that nothing known explains it, are
	// too little for a first screen.
	LeastBeside, LeastUnexplained = 0.03, 0.02
	// The root cause of a set of faults.
	LeastCauseOfSet = 0.2
	// Root causes to settle.
	LeastCause, MostCauses = 0.02, 5
	// Checks and causes of one suspect.
	MostChecks, MostLeads = 8, 8
	// A check shows a fault when a finding of it comes this often with it.
	LeastShown = 0.2
	// Weight of a report that counts as for or against, in decibans.
	LeastWeight = 0.5

	// Steps of a plan where the asker does not say how many: until this share
	// of all that may have failed is in view, so that a likely second fault is
	// shown as well as the first; but not fewer and not more than these.
	EnoughInView           = 0.9
	FewestSteps, MostSteps = 3, 12
	// Parts in view that nobody has judged; what no step shows.
	LeastOpen, LeastUnseen = 0.01, 0.01
	// A suspect named to the owner of the vehicle.
	LeastOwner = 0.1
	// Checks priced for what is next, unless asked otherwise; checks named before the
	// steps of a plan.
	NextChecks, FirstChecks = 5, 2
	// Parts named for a step.
	LeastPart, MostParts = 0.005, 2
	// Signs of a part on the result sheet of a drill.
	MostSigns = 8
	// Numbers that learning moves; examples of numbers that cannot be told apart,
	// and of cases that were not learned from.
	MostLearned, MostKept = 20, 5
	// Cases below which a proposal is called thin: a rate of one in ten has then
	// shown itself three times.
	FewCases = 30
	// Entries that rules of today do not know any more, of all cases learned from.
	MostLeftOut = 10
	// Checks that are not open any more for one reason, by name; more are counted.
	MostClosed = 4
	// What may be behind a find, and what to look at as well.
	LeastBehind, MostBehind = 0.01, 8
)

// First are the first n of a list; more is how many are left.
func First[T any](list []T, n int) (shown []T, more int) {
	if len(list) <= n {
		return list, 0
	}
	return list[:n:n], len(list) - n
}

// AtLeast is the head of a list that is sorted by falling weight, down to a
// least one.
func AtLeast[T any](list []T, least answer.Num, weight func(*T) answer.Num) []T {
	for i := range list {
		if weight(&list[i]) < least {
			return list[:i:i]
		}
	}
	return list
}
