package network

import "fmt"

func errNoNode(n, count int) error {
	return fmt.Errorf("network: node %d is not in the network (0..%d)", n, count-1)
}

func errWide(work float64) error {
	return fmt.Errorf("network: these reports tie too many causes together: some %.0e table entries; ask with fewer reports or raise MaxWork", work)
}
