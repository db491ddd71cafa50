// Package refine turns confirmed cases into better rules. It proposes; what is
// done with a proposal is decided elsewhere.
//
// # Parameters
//
// What is learned are the numbers of the rules (rulepath.Path): one number
// stands behind many nodes and links of a unit's network, and behind those of
// several units. A link's strength is number × factor, where physics gives the
// factor (an element's demand in the row). The noisy-OR is read as independent
// trials, and a link with factor f < 1 as two of them in a row: the rule's own
// (probability θ) and a thinning one (probability f, known). Of the first, the
// expectation given a case is
//
//	transmits + (parent on − transmits) · θ(1−f)/(1−θf),
//
// for what was not transmitted may have passed the rule's trial and failed the
// other. So every factor is treated exactly. The rate of a mode that goes by duty is
// thinned in the same way: what is learned is the most that duty can make of it, and
// each part's is a share of that. A number of exactly 0 or 1 (the
// words impossible and certain) is a statement, not an estimate, and stays.
// Of two rules for one link the stronger stands, as the rules are before
// learning.
//
// # Prior
//
// A Beta distribution with the rule's value as its mean and the size that goes
// with the basis (engine.BasisKind.SampleSize), but never worth fewer than a
// quarter of that size of either outcome. From p = 0.25 to 0.75 that is the
// size itself. A rate of 0.005 at size 10 would otherwise rest on 0.05 events:
// a single case would multiply it by nineteen, and its prior would deny the
// very order of magnitude that the rule states. With the floor a recalled rate
// rests on 2.5 events, good to a factor of about two, which is what such
// numbers are worth.
//
// # Estimate
//
// Expectation-maximization with exact expectations from network.Families. The
// update is (a+S)/(a+b+N) for S expected successes in N expected trials: the
// posterior mean when nothing is hidden. Its fixed point is the mode of the
// posterior density of the log-odds, so the logarithm of that density never
// falls from one plain step to the next. The steps are combined with those before
// (Anderson acceleration); an accelerated step that loses log-posterior is taken back
// and a plain one made. Casebooks from 800 cases on start from a spread of 400.
//
// Iteration stops when the next step leaves no number farther from the optimum
// than Options.Tolerance (0.03 unless said otherwise) of its own standard
// deviations, or after Options.MaxIterations. That is a forecast, which takes
// the other numbers as settled; on the cases of the tests the farthest number
// then lies within a tenth of its standard deviation of the optimum, the mean
// within a hundredth. Beyond 2,000 cases, all are counted once from where five
// hundred end, and the counts stand for them nearby (anchor, follow); 4,000 are counted
// again where that ends (census). What numbers have in common is measured in each count.
//
// Nodes without a report at or below them are left out of both counts. They
// would add the same share to each, and so change the speed and not the
// solution. Parts that were never looked at are unobserved, not sound.
//
// # What silence says
//
// Found parts are noted, sound ones seldom. Taken as parts that nobody looked
// at, the unnoted would drop out of the count, and a mode seen in two cases of
// a hundred would be rated by those two alone. In a case whose repair held,
// silence about a mode is therefore weak evidence against it: had it been
// there, it would have been found and noted with a probability that is a detection model
// of the shop. So it is for root causes. What is not found is still not known.
//
// The two detection models are learned with the rules' numbers, from a prior at
// Options.Found (0.8) and Options.Settled (0.5), both invented. Fixed, they
// would bias all rates alike: those of a shop that notes nine in ten would come
// out an eighth too high. What tells a detection model from the rates is the general
// level of the rules and what the reports say of modes that were not found: a
// shop whose failures are all half as frequent as the rules say looks much like
// one that notes half of them. The intervals allow for that: what holds the
// common level of the rates is their priors (a hundred of them, each good to a
// factor of two, some six per cent). How often what is sound is noted all the same is counted: a shop that
// clears every part says nothing by silence.
//
// A case that came back gives no such evidence: its repair did not show that
// nothing else was wrong. There what was seen failed stays seen, but root
// causes settled on are open again, and so is a part that was cleared and that
// the comeback found failed.
//
// After a few cases many rates are lower by some per cent, from silence alone:
// fifteen cases without a mode of rate 0.02, on a prior of 2.5 in 125, leave
// 2.5 in some 138. That is what those cases are worth, the same as for a part
// cleared as often; each step is small, and they only count for something
// together. Options.HeardOnly keeps such a number out of the proposal as long
// as it stays within the 90% interval of its own prior.
//
// Reports are taken as if they had been asked for whatever the answer. Where fewer
// than two in three answers are of what is not there, what was noted was chosen by
// the answer: leaks, what shows by what, and how often reporters err then stay. A
// shop that leaves out some of the absent, and not so many, will see them rise; the
// held-out score does not show it. Noting what is absent mends it.
//
// # What a vehicle came in for
//
// The first complaint of a case was not asked for: it is reported because it is
// there. It counts in as many of the cases as the same thing is asked about in the
// others (ascertain.go); else what shows by what would rise in a shop that is as the
// rules say. A diagnosis counts it in every case, and so does the held-out score.
//
// # Reporters
//
// How often a reporter errs is learned in general, false alarms and misses; what
// the rules say of single findings goes with it in proportion (answers.go). What
// the vehicle is brought in for is no answer: it says nothing of how often answers
// are wrong.
//
// # Single parts
//
// Where one rate of the rules stands for several parts of a unit, or of several,
// a part that fails oftener than the others is set apart with a rate of its own,
// and the rate of its kind is left to the others (single.go). That is decided by
// the probability of the cases with the rate integrated over its prior, less a
// price for each of the parts that it might have been.
//
// # Vehicles that never came in
//
// A rate is that of vehicles of their kind and age on the road. A shop sees
// those with a complaint (model.Complaints): n of them stand for n q/(1−q)
// more, with q the probability of none, which is exact and costs as much as one
// case. Their expected counts are added in each step (Dempster, Laird and Rubin
// 1977, section 4.2, for truncated data), so the log-posterior still never
// falls. A case with a complaint is taken as one of them, whether what it came in
// for counts or not: its likelihood is that of what is noted and some complaint,
// the network's answer less that with every complaint absent (brought.go). Over
// 1 − q that is at most one; what is noted alone, over 1 − q, would grow without
// bound as complaints become rare. A case without a complaint, as of a rebuild on a
// fixed mileage, stands for itself alone. The intervals leave the vehicles that never
// came in out: they tie the common
// level of the rates, and hardly a single one.
//
// # Held out
//
// Cases are put into five parts by a hash of their id (of the first case, in a
// chain of comebacks); the rules are learned without one part and asked about
// it, in turn, or only once beyond 1,000 cases, from 1,000 about 300. Beyond 2,000 it is
// learned from all others, whose counts are known: no case is counted again for that but
// those of the few; what numbers have in common, and which parts are set apart, is that
// of all. "Before" are
// the rules before anything was learned, with the shop's detection models as they come out under them, so
// that the comparison is of the rules alone. Which numbers move is decided anew
// in each turn, without the cases held out. Scored is all that was noted with
// the silence about the rest, as learning takes it: the parts found and cleared
// alone are mostly failed ones, and rates that are too high would look right.
//
// # Intervals
//
// A 90% interval is read from the Beta with the estimate as mean and
// a+b+E as size. E, the cases behind the number, is what remains of its N
// trials after taking away the missing information (Louis 1982): per trial,
// the variance of its score given the case is subtracted from the information
// that the trial would carry if it were seen. Trials of one number within one
// case are taken as independent there. Where other numbers explain the same
// cases, the loss from not knowing them is taken away too: of the eight closest
// rivals together, those set apart whose scores go together no closer than the
// largest of so many would by chance, and never less than of the worst alone.
// What two numbers share is estimated by the covariance of their scores over
// cases, and never taken larger than the missing information allows, nor than
// the correlation of the scores makes of the information on the two. On the
// network of the tests the standard errors are within two per cent of those of
// the whole matrix. With nothing hidden E = N, and the interval is the exact
// one.
//
// An interval covers its number nine times in ten if the truth is spread as
// the prior says. Numbers on which there are few cases keep mostly their
// prior's interval: a rate that is truly twice its rule lies just within it.
//
// # What is not moved
//
// A number stays, with the reason, when no case speaks of it; when the cases
// give less than Options.MinGain (5%) of the information that there is on it,
// prior included, be it for want of cases, because its trials are never seen,
// or because the cases cannot tell it from another number (there the rival
// counts as unknown: two modes that look alike and are never looked at have a
// known sum, and neither is moved); and when the cases agree with it or allow it:
// when it lies within the interval that they leave, or no farther outside it
// than some of so many would by chance: of those that move one in ten at most has
// done so by chance, of the rules' numbers, of reporters and of single parts each
// (unless Options.Eager; Benjamini and Hochberg 1995). Of some 1,800 numbers a
// hundred would move otherwise, and a shop that is as the rules say would foretell
// less. The others are then estimated again
// with these held fast, until each that moves has to.
package refine
