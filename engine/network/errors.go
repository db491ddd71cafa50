package network

import "fmt"

func errNoNode(n, count int) error {
	return fmt.Errorf("network: node %d is not in the network (0..%d)", n, count-1)
}

// WideError is an ErrWide with its figures: what ties too many causes together
// cannot be left out.
type WideError struct {
	Entries float64 // table entries of the smallest tree found
	Allowed float64 // table entries of the largest allowed
}

// Error gives the figures.
func (e *WideError) Error() string {
	return fmt.Sprintf("network: what cannot be left out ties too many causes together: some %.0e table entries where %.0e are allowed", e.Entries, e.Allowed)
}

// Is makes it an ErrWide.
func (e *WideError) Is(target error) bool { return target == ErrWide }
