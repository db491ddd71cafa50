package refine

import (
	"errors"
	"sync/atomic"

	"slipcase/engine/network"
)

// ErrWork is what learning ends with past Options.Work. Nothing is proposed then:
// numbers on their way say nothing.
var ErrWork = errors.New("refine: learning takes more work than it may")

// What learning may take by itself, in table entries of a pass in float64: so much,
// and so much more for each case. At some 2e8 entries a second that is a minute and a
// half, and a third of a second for each case, where a case of a real unit takes
// hundredths in all its passes.
const (
	baseWork = 1 << 34
	caseWork = 1 << 26
)

// MaxTree bounds the tree of one case, in table entries: a pass of a tenth of a
// second. A case past it is not learned from.
const MaxTree = 1 << 26

// budget counts the work of a learner.
type budget struct {
	most  float64
	spent atomic.Int64
}

// over tells whether it is used up.
func (b *budget) over() error {
	if float64(b.spent.Load()) > b.most {
		return ErrWork
	}
	return nil
}

// add counts an answer: passes over its tree, one for each state of what is
// conditioned on, that cost more in more digits (see network.Solver.Shallow).
func (b *budget) add(m network.Method) {
	cost := m.TableSize * float64(int64(1)<<m.Conditioned)
	switch {
	case m.Precision > 106:
		cost *= 400
	case m.Precision > 53:
		cost *= 32
	}
	b.spent.Add(int64(cost))
}
