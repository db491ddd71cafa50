package geartrain

import (
	"math/big"
	"math/bits"
	"slices"
)

// State is what the train does under one set of constraints.
type State struct {
	Class Class
	// OutputHeld tells a tie-up of the output alone (the wheels are locked,
	// the engine can turn) from one of the input.
	OutputHeld bool
	// Ratio is input speed over output speed when it drives, else nil;
	// negative is reverse.
	Ratio *big.Rat
	// Holding lists the one-way clutches that carry torque with the engine
	// driving; Overrunning those that turn freely; Standing those that stand
	// still without being needed, in parallel with what is on, so that they may
	// share its torque. One whose speed is not settled is in none.
	Holding, Overrunning, Standing []string

	// EngineBraking says that the coasting train has the same ratio.
	EngineBraking bool
	// CoastClass says what the turning output does to the input: Drives at
	// CoastRatio, or NoDrive where it runs free. A train that does not drive
	// can still be driven: by the output turning forward, or else backward.
	CoastClass   Class
	CoastRatio   *big.Rat
	CoastHolding []string

	// Speeds maps each member to its multiple of input speed, engine driving;
	// nil means free, not settled by the train. The map is nil when the input
	// cannot turn.
	Speeds map[string]*big.Rat
	// Slips maps each element and joint to ω_A − ω_B as a multiple of input
	// speed; nil as in Speeds. For a one-way clutch it is the overrun.
	Slips map[string]*big.Rat
	// Torques maps what is on in this state to its torque as a multiple of the
	// turbine's, which is +1 on the input: for an element or joint the torque
	// that it puts on its member A (the opposite on B), for a gearset's
	// members ("name.sun", "name.carrier", "name.ring") the torque that the
	// gearset puts on them. The load puts −Ratio on the output; on every
	// member the sum is zero. nil means statically indeterminate. Released
	// elements are not in the map. The map is nil where no torque can build
	// up: no drive, or only the output held.
	Torques map[string]*big.Rat

	blocks map[string]bool // gearset -> its three members share one speed
}

// With is what the train does with these elements applied (one-way clutches
// work by themselves) and these faults. Unknown names change nothing.
func (m *Machine) With(applied []string, f ...Fault) *State {
	return m.state(m.faulty(m.applied(applied), f))
}

// state is the full answer for a key, made once.
func (m *Machine) state(k key) *State {
	m.mu.RLock()
	st := m.states[k]
	m.mu.RUnlock()
	if st != nil {
		return st
	}
	st = m.describe(k, m.outcome(k))
	m.mu.Lock()
	defer m.mu.Unlock()
	if first := m.states[k]; first != nil {
		return first
	}
	m.states[k] = st
	return st
}

func (m *Machine) describe(k key, o *outcome) *State {
	st := &State{
		Class: o.class, OutputHeld: o.outputHeld, Ratio: o.ratio(),
		Holding:       m.linkNames(o.hold),
		EngineBraking: o.braking(),
		CoastClass:    o.coast, CoastRatio: inverse(o.coastSpeed), CoastHolding: m.linkNames(o.coastHold),
	}
	if o.class != TieUp || o.outputHeld {
		m.describeSpeeds(st, k, o)
	}
	if o.class == Drives || o.class == TieUp && !o.outputHeld {
		m.describeTorques(st, k, o)
	}
	return st
}

func (m *Machine) linkNames(mask uint64) []string {
	var out []string
	for w := mask; w != 0; w &= w - 1 {
		out = append(out, m.links[bits.TrailingZeros64(w)].name)
	}
	return out
}

// describeSpeeds expresses every member, link and gearset by the input: what
// is a combination of constraints and input alone is settled.
func (m *Machine) describeSpeeds(st *State, k key, o *outcome) {
	s := m.system(k)
	extra := s.n + len(m.links) + len(m.gears)
	a, cols, input := s.matrix(o.hold, extra)
	at := input + 1
	for c := range s.n {
		put(a, cols, c, at+c, 1)
	}
	at += s.n
	for i, l := range m.links {
		put(a, cols, s.class[l.a], at+i, 1)
		put(a, cols, s.class[l.b], at+i, -1)
	}
	at += len(m.links)
	for i, g := range m.gears {
		// Sun and carrier alike make the ring alike too.
		put(a, cols, s.class[g.sun], at+i, 1)
		put(a, cols, s.class[g.carr], at+i, -1)
	}
	e := reduce(a, s.n, cols, input+1)
	value := func(j int) *big.Rat {
		if !e.spans(j) {
			return nil
		}
		return e.coef(input, j)
	}
	st.Speeds = make(map[string]*big.Rat, len(m.members))
	for i, name := range m.members {
		if c := s.class[i]; c < 0 {
			st.Speeds[name] = new(big.Rat)
		} else {
			st.Speeds[name] = value(input + 1 + c)
		}
	}
	st.Slips = make(map[string]*big.Rat, len(m.links))
	for i, l := range m.links {
		v := value(input + 1 + s.n + i)
		st.Slips[l.name] = v
		if v == nil || (k.forward|k.backward)&^(k.rigid|o.hold)>>i&1 == 0 {
			continue
		}
		if v.Sign() != 0 {
			st.Overrunning = append(st.Overrunning, l.name)
		} else {
			st.Standing = append(st.Standing, l.name)
		}
	}
	st.blocks = make(map[string]bool, len(m.gears))
	for i, g := range m.gears {
		v := value(input + 1 + s.n + len(m.links) + i)
		st.blocks[g.name] = v != nil && v.Sign() == 0
	}
}

// describeTorques solves the balance of every member for the torques of all
// constraints at once.
func (m *Machine) describeTorques(st *State, k key, o *outcome) {
	on := m.on(k, o.hold)
	input := len(m.gears) + len(on)
	cols := input + 2
	rows := len(m.members) - 1
	a := make([]int64, rows*cols)
	for j, g := range m.gears {
		put(a, cols, g.sun-1, j, g.csun)
		put(a, cols, g.carr-1, j, g.ccarr)
		put(a, cols, g.ring-1, j, g.crg)
	}
	for j, l := range on {
		put(a, cols, m.links[l].a-1, len(m.gears)+j, 1)
		put(a, cols, m.links[l].b-1, len(m.gears)+j, -1)
	}
	put(a, cols, m.in-1, input, 1)
	put(a, cols, m.out-1, input+1, 1)
	// Driving, e_out − speed·e_in = Σ μ·row, hence λ = μ / speed. Tied up,
	// e_in = Σ μ·row, hence λ = −μ.
	target, span, scale := input+1, input+1, st.Ratio
	if o.class == TieUp {
		target, span, scale = input, input, big.NewRat(-1, 1)
	}
	e := reduce(a, rows, cols, span)
	var free []int
	for j := range input {
		if e.rowOf[j] < 0 {
			free = append(free, j)
		}
	}
	value := func(j int) *big.Rat {
		r := e.rowOf[j]
		if r < 0 || slices.ContainsFunc(free, func(f int) bool { return e.sign(r, f) != 0 }) {
			return nil
		}
		return new(big.Rat).Mul(e.coef(j, target), scale)
	}
	st.Torques = make(map[string]*big.Rat, 3*len(m.gears)+len(m.links))
	for j, g := range m.gears {
		v := value(j)
		for _, t := range []struct {
			part string
			c    int64
		}{{"sun", g.csun}, {"carrier", g.ccarr}, {"ring", g.crg}} {
			st.Torques[g.name+"."+t.part] = times(v, t.c)
		}
	}
	for w := (k.forward | k.backward) &^ k.rigid; w != 0; w &= w - 1 {
		st.Torques[m.links[bits.TrailingZeros64(w)].name] = new(big.Rat)
	}
	for j, l := range on {
		st.Torques[m.links[l].name] = value(len(m.gears) + j)
	}
}

// on lists the links that join rigidly or hold, in order.
func (m *Machine) on(k key, hold uint64) []int {
	var out []int
	for w := k.rigid | hold; w != 0; w &= w - 1 {
		out = append(out, bits.TrailingZeros64(w))
	}
	return out
}

func times(v *big.Rat, c int64) *big.Rat {
	if v == nil {
		return nil
	}
	return new(big.Rat).Mul(v, new(big.Rat).SetInt64(c))
}
