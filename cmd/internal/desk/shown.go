package desk

// What of an answer is shown stands here, once for every face: JSON holds what
// the screen shows, and says how much more there is. The figures are our own
// choice: a screen of 24 lines should hold what matters.
const (
	// A second way to fail is shown when it is this likely beside the first.
	besideTheFirst = 0.2
	// Ways to fail of one suspect.
	mostModes = 3
	// A suspect that the reports have not made likelier by this factor stands
	// there by base rate alone.
	raised = 1.5
	// Reports named for and against the first suspect.
	mostPros = 3
	// weighedPros is of how many it is worked out what they weigh: of those that
	// weigh most by an estimate, so many that the ones shown are among them.
	weighedPros = 8
	// Sets of faults that explain it together.
	leastExplanation = 0.001
	// The root cause of a set of faults.
	leastCauseOfSet = 0.2
	// Root causes to settle.
	leastCause, mostCauses = 0.02, 5
	// Checks and causes of one suspect.
	mostChecks, mostLeads = 8, 8
	// A check shows a fault when a finding of it comes this often with it.
	leastShown = 0.2
	// Weight of a report that counts as for or against, in decibans.
	leastWeight = 0.5

	// Steps of a plan where the asker does not say how many: until this share
	// of all that may have failed is in view, so that a likely second fault is
	// shown as well as the first; but not fewer and not more than these.
	enoughInView           = 0.9
	fewestSteps, mostSteps = 3, 12
	// Parts in view that nobody has judged; what no step shows.
	leastOpen, leastUnseen = 0.01, 0.01
	// A suspect named to the owner of the vehicle.
	leastOwner = 0.1
	// Parts named for a step.
	leastPart, mostParts = 0.005, 2
	// Signs of a part on the result sheet of a drill.
	mostSigns = 8
	// Numbers that learning moves; examples of numbers that cannot be told apart,
	// and of cases that were not learned from.
	mostLearned, mostKept = 20, 5
	// Cases below which a proposal is called thin: a rate of one in ten has then
	// shown itself three times.
	fewCases = 30
	// Entries that rules of today do not know any more, of all cases learned from.
	mostLeftOut = 10
	// Checks that are not open any more for one reason, by name; more are counted.
	mostClosed = 4
	// What may be behind a find, and what to look at as well.
	leastBehind, mostBehind = 0.01, 8
)

// first are the first n of a list; more is how many are left.
func first[T any](list []T, n int) (shown []T, more int) {
	if len(list) <= n {
		return list, 0
	}
	return list[:n:n], len(list) - n
}

// atLeast is the head of a list that is sorted by falling weight, down to a
// least one.
func atLeast[T any](list []T, least Num, weight func(*T) Num) []T {
	for i := range list {
		if weight(&list[i]) < least {
			return list[:i:i]
		}
	}
	return list
}
