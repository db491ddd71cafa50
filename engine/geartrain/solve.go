package geartrain

import (
	"math/big"
	"math/bits"
	"slices"
)

// Class is what a set of constraints makes of the train.
type Class string

// The classes.
const (
	Drives  Class = "drives"   // the output turns with the input
	NoDrive Class = "no_drive" // the input turns, the output need not
	TieUp   Class = "tie_up"   // input or output cannot turn
)

// outcome is the bare answer for one key: class, ratio, what holds.
type outcome struct {
	class      Class
	outputHeld bool     // tie-up of the output, the input turns
	speed      *big.Rat // output speed over input speed when it drives
	hold       uint64   // one-way clutches that hold, engine driving
	coast      Class    // coasting
	coastSpeed *big.Rat
	coastHold  uint64
}

// ratio is input speed over output speed, a new number, or nil.
func (o *outcome) ratio() *big.Rat { return inverse(o.speed) }

func (o *outcome) braking() bool {
	return o.class == Drives && o.coast == Drives && o.speed.Cmp(o.coastSpeed) == 0
}

func inverse(r *big.Rat) *big.Rat {
	if r == nil || r.Sign() == 0 {
		return nil
	}
	return new(big.Rat).Inv(r)
}

// outcome solves the train for a key, once.
func (m *Machine) outcome(k key) *outcome {
	m.mu.RLock()
	o := m.outcomes[k]
	m.mu.RUnlock()
	if o != nil {
		return o
	}
	o = m.solve(k)
	m.mu.Lock()
	defer m.mu.Unlock()
	if first := m.outcomes[k]; first != nil {
		return first
	}
	m.outcomes[k] = o
	return o
}

// system is the train under one key with rigidly joined members merged into
// one class each: only the gearsets are left as equations.
type system struct {
	class   []int     // member -> class; -1 for the case and what is held to it
	n       int       // classes
	gears   [][]int64 // equations over the classes
	oneWays []oneWay  // that do not act inside one class
	in, out int
}

// oneWay is ω_a − ω_b ≥ 0 between classes; -1 is the case.
type oneWay struct{ link, a, b int }

func (m *Machine) system(k key) *system {
	root := make([]int, len(m.members))
	for i := range root {
		root[i] = i
	}
	find := func(i int) int {
		for root[i] != i {
			root[i] = root[root[i]]
			i = root[i]
		}
		return i
	}
	for w := k.rigid; w != 0; w &= w - 1 {
		l := m.links[bits.TrailingZeros64(w)]
		// The case, member 0, stays the root of what is held to it.
		a, b := find(l.a), find(l.b)
		root[max(a, b)] = min(a, b)
	}
	s := &system{class: make([]int, len(m.members))}
	number := make([]int, len(m.members))
	for i := range root {
		r := find(i)
		switch {
		case r == 0:
			s.class[i] = -1
		case r == i:
			number[i] = s.n
			s.class[i] = s.n
			s.n++
		default: // the root is the lowest member, so it has its number by now
			s.class[i] = number[r]
		}
	}
	for _, g := range m.gears {
		row := make([]int64, s.n)
		for _, t := range []struct {
			member int
			c      int64
		}{{g.sun, g.csun}, {g.carr, g.ccarr}, {g.ring, g.crg}} {
			if c := s.class[t.member]; c >= 0 {
				row[c] += t.c
			}
		}
		s.gears = append(s.gears, row)
	}
	for w := (k.forward | k.backward) &^ k.rigid; w != 0; w &= w - 1 {
		i := bits.TrailingZeros64(w)
		a, b := s.class[m.links[i].a], s.class[m.links[i].b]
		if k.backward>>i&1 == 1 {
			a, b = b, a
		}
		if a != b {
			s.oneWays = append(s.oneWays, oneWay{i, a, b})
		}
	}
	s.in, s.out = s.class[m.in], s.class[m.out]
	return s
}

// matrix lays the equations of the gearsets and of the one-way clutches in
// hold out as columns, then a column for the input and extra further ones.
func (s *system) matrix(hold uint64, extra int) (a []int64, cols, input int) {
	input = len(s.gears) + bits.OnesCount64(hold)
	cols = input + 1 + extra
	a = make([]int64, s.n*cols)
	for j, g := range s.gears {
		for i, v := range g {
			a[i*cols+j] = v
		}
	}
	j := len(s.gears)
	for _, w := range s.oneWays {
		if hold>>w.link&1 == 0 {
			continue
		}
		put(a, cols, w.a, j, 1)
		put(a, cols, w.b, j, -1)
		j++
	}
	put(a, cols, s.in, input, 1)
	return a, cols, input
}

// put adds v to row i and column j; the case has no row.
func put(a []int64, cols, i, j int, v int64) {
	if i >= 0 {
		a[i*cols+j] += v
	}
}

// solve finds the interval of output speeds (see the package comment).
func (m *Machine) solve(k key) *outcome {
	s := m.system(k)
	var lo, hi *big.Rat
	var loHold, hiHold uint64
	var dependent []uint64
	for _, set := range subsets(len(s.oneWays)) {
		if slices.ContainsFunc(dependent, func(d uint64) bool { return d&^set == 0 }) {
			continue
		}
		hold := s.mask(set)
		a, cols, input := s.matrix(hold, 1)
		put(a, cols, s.out, input+1, 1)
		e := reduce(a, s.n, cols, input+1)
		first := len(s.gears) // column of the first held one-way clutch
		if slices.Contains(e.rowOf[first:input], -1) {
			dependent = append(dependent, set)
			continue
		}
		if e.rowOf[input] < 0 {
			// The input is a combination of the constraints. It is blocked
			// if the clutches push it backward, −e_in = Σ λ·row.
			if signs(e, first, input, input) <= 0 {
				return &outcome{class: TieUp, coast: TieUp, hold: hold}
			}
			continue
		}
		if !e.spans(input + 1) {
			continue
		}
		sign := signs(e, first, input, input+1)
		if sign == mixed {
			continue
		}
		speed := e.coef(input, input+1)
		if sign >= 0 && (lo == nil || speed.Cmp(lo) > 0) {
			lo, loHold = speed, hold
		}
		if sign <= 0 && (hi == nil || speed.Cmp(hi) < 0) {
			hi, hiHold = speed, hold
		}
	}
	o := &outcome{class: NoDrive, coast: NoDrive}
	switch {
	case lo != nil && lo.Sign() > 0:
		o.class, o.speed, o.hold = Drives, lo, loHold
		if hi != nil {
			o.coast, o.coastSpeed, o.coastHold = Drives, hi, hiHold
		}
	case hi != nil && hi.Sign() < 0:
		o.class, o.speed, o.hold = Drives, hi, hiHold
		if lo != nil {
			o.coast, o.coastSpeed, o.coastHold = Drives, lo, loHold
		}
	case lo != nil && hi != nil && lo.Sign() == 0 && hi.Sign() == 0:
		o.class, o.outputHeld, o.hold = TieUp, true, loHold|hiHold
		o.coast, o.coastHold = TieUp, o.hold
	case hi != nil && hi.Sign() > 0: // rolling forward turns the engine
		o.coast, o.coastSpeed, o.coastHold = Drives, hi, hiHold
	case lo != nil && lo.Sign() < 0: // rolling backward does
		o.coast, o.coastSpeed, o.coastHold = Drives, lo, loHold
	}
	return o
}

// mixed is what signs says of torques that no one-way clutch can give.
const mixed = 2

// signs is the common sign of the coefficients of the pivot columns from..to
// in column j: 0 when there are none, mixed when they differ or one is 0 (then
// a smaller set does the same).
func signs(e *echelon, from, to, j int) int {
	sign := 0
	for p := from; p < to; p++ {
		switch c := e.coefSign(p, j); {
		case c == 0, sign == -c:
			return mixed
		default:
			sign = c
		}
	}
	return sign
}

// mask turns a set of the system's one-way clutches into one of links.
func (s *system) mask(set uint64) uint64 {
	var out uint64
	for w := set; w != 0; w &= w - 1 {
		out |= 1 << s.oneWays[bits.TrailingZeros64(w)].link
	}
	return out
}

// bySize[n] lists the subsets of n things, smallest first, then in order.
var bySize [maxOneWays + 1][]uint64

func init() {
	for n := range bySize {
		sets := make([]uint64, 1<<n)
		for i := range sets {
			sets[i] = uint64(i)
		}
		slices.SortStableFunc(sets, func(a, b uint64) int {
			if c := bits.OnesCount64(a) - bits.OnesCount64(b); c != 0 {
				return c
			}
			// The set with the earlier first difference comes first.
			if a == b {
				return 0
			}
			if low := (a ^ b) & -(a ^ b); a&low != 0 {
				return -1
			}
			return 1
		})
		bySize[n] = sets
	}
}

func subsets(n int) []uint64 { return bySize[n] }
