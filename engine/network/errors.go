package network

import "fmt"

func errNoNode(n, count int) error {
	return fmt.Errorf("network: node %d is not in the network (0..%d)", n, count-1)
}

// WideError is an ErrWide with its figures: what ties too many causes together
// cannot be left out.
type WideError struct {
	Entries float64 // of the smallest tree found
	Allowed float64
}

// Error says what it means for a user: the reports cannot help it, the rules can.
func (e *WideError) Error() string {
	return fmt.Sprintf("the rules tie too many causes together to work this out (some %.0e table entries, %.0e at most): put a stress between the causes and the ways to fail that share them", e.Entries, e.Allowed)
}

// Is makes it an ErrWide.
func (e *WideError) Is(target error) bool { return target == ErrWide }
