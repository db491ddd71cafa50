// Package advise finds the next check: the one that saves more minutes than it
// costs. The interview is a state machine over the same prices; a full-screen
// form, plain questions on a pipe and the bench page drive the same one.
//
// # The value of a check
//
// Let w be P(a culprit mode of the component is there | reports) of every
// component, a culprit being a fault that can be behind what is reported (as in
// package teardown), and q be P(root cause | reports) of every root cause. What
// a case still costs is
//
//	J(w, q) = V(w) + L(q)
//	V(w) = the least, over orders of the steps left, of Σ w·(minutes until the component is in view,
//	       with those of putting back what was taken off, and those of its repair) / max(1, W)
//	L(q) = Σ min(q · risk · comeback minutes, minutes to put it right unasked)
//
// W is Σ w as it stands before the check, over what is not in view yet: V is the
// minutes to a culprit, not the sum of those to all of them, which would count the
// same minutes as often as there are parts that one cause has ruined. But for that
// V is the sum that the teardown plan makes least (teardown.Remaining), so that a
// check, a step, a trial repair and pulling the unit are weighed in the same
// minutes: those to the repaired vehicle. A check that looks at what a step shows
// takes the minutes of that step out of V; a trial repair takes out the parts that
// it mends, where the drive after it is good. L is what unsettled root
// causes cost: each is either put right on suspicion or left, whichever is
// cheaper, and one that is left brings the job back with some risk. A check
// with reports r saves
//
//	gain = J(before) − Σ over r of P(r) · J(after r)
//
// and is worth gain − its minutes. V and L are least values of linear
// functions of w and q, hence concave, and the expectation of w and q after
// an answer is w and q today: a gain is never negative.
//
// Reports are soft: an answer is present or absent through the reporter's hit
// rate and false-alarm rate. All 2ⁿ answers to the n most telling open findings
// of a check are worked out (n up to Options.Exact), exactly. A check with more
// findings is worth at least that: the rest can only add to its gain, and the
// result says so. Which findings tell most is estimated; no price rests on the
// estimate.
//
// All checks are priced on one tree that holds the case and every mode. What a
// finding comes from is mostly not in it and is brought to it as weights on
// modes, which is exact unless several causes meet on the way (see site.off).
// Where they do the figures are near at first, and exact, on a tree of its own,
// for every check that could be among the Options.Best: all of them by default.
//
// # Bits
//
// The second column is Σ over components of the mutual information between
// "a culprit mode of this component is there" and the answer: Σ H(w) − E[Σ H(w after)]. It is
// never negative, and exactly zero for an irrelevant finding. Because
// components hang together it can exceed the entropy of the culprit alone.
//
// Errors are bad cases (unknown names, reports that contradict each other);
// a panic is a fault of this package.
package advise
