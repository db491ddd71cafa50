// Package teardown orders the steps of a teardown for a case: what to open
// first so that the culprit is seen soonest, what to take before a step
// destroys it, whether taking the unit out is justified now, and, once a
// culprit is confirmed, why it failed. The ordering itself is package order;
// this package says what the steps of a unit weigh and what stands beside them.
//
// # What counts as a culprit
//
// Any unit that comes in has parts that are worn and have nothing to do with
// the complaint. A culprit is a fault that can bring about something reported
// present, by its effects or directly; once a part is found failed, also a
// fault that may be behind it or that it may have spread to. While nothing is
// reported present, every fault counts. Faults of less than one in a thousand are
// left out. The weight of a component is P(at
// least one of its culprit modes | reports); of a part that was looked at it
// is zero.
//
// # The order
//
// Steps are ordered so that Σ weight × minutes until the component is in view
// is least (package order proves it), after the decision on pulling: what is
// worth doing in the vehicle stands before the pull, everything else after it;
// looks at the vehicle itself (engine, wiring, cooler) cannot be had while the
// unit is out and wait until it is back.
//
// # The decision
//
// See Decision.
package teardown
