package geartrain

import (
	"fmt"
	"math/big"
	"slices"

	"slipcase/engine"
)

// FaultKind is what a fault does to an element or joint.
type FaultKind string

// Kinds of fault. Of an element that is no one-way clutch, Slips and Broken
// mean Dead and Seized means StaysOn; of a one-way clutch, Dead and Broken
// mean Slips and StaysOn means Seized; of a joint, Dead and Slips mean Broken.
const (
	Dead     FaultKind = "dead"     // never applies
	StaysOn  FaultKind = "stays_on" // always applied
	Slips    FaultKind = "slips"    // one-way clutch free both ways
	Seized   FaultKind = "seized"   // one-way clutch holds both ways
	Reversed FaultKind = "reversed" // one-way clutch installed the wrong way around
	Broken   FaultKind = "broken"   // joint
)

// Fault is one fault of an element or joint.
type Fault struct {
	Name string // element or joint
	Kind FaultKind
}

// String is the written form, "forward.dead".
func (f Fault) String() string { return f.Name + "." + string(f.Kind) }

// Check says what is wrong with a fault that changes nothing because the unit
// lacks what it names; nil for one that the train knows.
func (m *Machine) Check(f Fault) error {
	if m.outside[f.Name] {
		return fmt.Errorf("fault %s: the converter clutch stands outside the gear train", f)
	}
	i, ok := m.linkOf[f.Name]
	if !ok {
		return fmt.Errorf("fault %s: unit %q has no element or joint %q", f, m.unit.ID, f.Name)
	}
	switch f.Kind {
	case Dead, Slips, Broken:
		return nil
	case StaysOn, Seized:
		if m.links[i].kind != "" {
			return nil
		}
	case Reversed:
		if m.links[i].kind == engine.OneWay {
			return nil
		}
	}
	return fmt.Errorf("fault %s: a %s cannot have it", f, kindName(m.links[i].kind))
}

func kindName(k engine.ElementKind) string {
	if k == "" {
		return "joint"
	}
	return string(k)
}

// Faults lists every single fault of the unit: of each element dead and stays
// on, of each one-way clutch slips, seized and reversed, of each joint broken.
func (m *Machine) Faults() []Fault {
	var out []Fault
	for _, l := range m.links {
		kinds := []FaultKind{Dead, StaysOn}
		switch l.kind {
		case engine.OneWay:
			kinds = []FaultKind{Slips, Seized, Reversed}
		case "":
			kinds = []FaultKind{Broken}
		}
		for _, k := range kinds {
			out = append(out, Fault{l.name, k})
		}
	}
	return out
}

// faulty is the key with the faults built in. What is dead or broken stays so
// whatever else is said of it.
func (m *Machine) faulty(k key, faults []Fault) key {
	var gone uint64
	for _, f := range faults {
		i, ok := m.linkOf[f.Name]
		if !ok {
			continue
		}
		bit := uint64(1) << i
		switch f.Kind {
		case Dead, Slips, Broken:
			gone |= bit
		case StaysOn, Seized:
			k.rigid |= bit
			for _, o := range m.moved[f.Name] { // its sleeve cannot be at the other
				gone |= 1 << m.linkOf[o]
			}
		case Reversed:
			if m.oneWays&bit != 0 {
				k.forward &^= bit
				k.backward |= bit
			}
		}
	}
	k.rigid &^= gone
	k.forward &^= gone | k.rigid
	k.backward &^= gone | k.rigid
	return k
}

// Under is what row i does with these faults.
func (m *Machine) Under(i int, f ...Fault) *State {
	return m.state(m.faulty(m.rowKey[i], f))
}

// Against lists what is held together with an element that stays on, a one-way
// clutch that is seized: what some row applies that ties up with it and, if let go,
// would not. One of them gives way, the weakest, and burns.
func (m *Machine) Against(element string) []string {
	on := Fault{element, StaysOn}
	var out []string
	for i, k := range m.rowKey {
		if m.outcome(k).class == TieUp || m.outcome(m.faulty(k, []Fault{on})).class != TieUp {
			continue
		}
		for _, e := range m.unit.Rows[i].Apply {
			if e != element && !slices.Contains(out, e) && m.outcome(m.faulty(k, []Fault{on, {e, Dead}})).class != TieUp {
				out = append(out, e)
			}
		}
	}
	return out
}

// Change is what faults make of a row, compared with the healthy row.
type Change struct {
	Same  bool     // class, ratio and engine braking are as they were
	Class Class    // under the fault
	Ratio *big.Rat // under the fault, nil when it does not drive
	// ActsAs is the label of the gear whose healthy ratio it has now, "" when
	// none or when the ratio is the row's own. Gears of the row's own range
	// come first.
	ActsAs string
	Sense  int // +1 drives forward, −1 in reverse, 0 not at all
	// Lower and Higher: drives in the same sense as before, with a larger or
	// smaller ratio. Reverse: in the other sense.
	Lower, Higher, Reverse bool
	// LostBraking: drives as before, at whatever ratio, but the engine brakes
	// no more. ExtraBraking: it brakes where it did not. In a row without
	// drive, then and now: the rolling vehicle turns the engine no more, or
	// does so now.
	LostBraking, ExtraBraking bool
	// DrivesInNeutral: the healthy row has no drive, and drives now.
	DrivesInNeutral bool
}

// Change compares row i under these faults with the healthy row.
func (m *Machine) Change(i int, f ...Fault) Change {
	was := m.outcome(m.rowKey[i])
	now := m.outcome(m.faulty(m.rowKey[i], f))
	c := Change{Class: now.class, Ratio: now.ratio()}
	if now == was {
		c.Same = true
		if now.class == Drives {
			c.Sense = now.speed.Sign()
		}
		return c
	}
	sameRatio := was.class == Drives && now.class == Drives && was.speed.Cmp(now.speed) == 0
	if now.class == Drives {
		c.Sense = now.speed.Sign()
		if !sameRatio {
			c.ActsAs = m.label(i, now.speed)
		}
		switch {
		case was.class == NoDrive:
			c.DrivesInNeutral = true
		case was.class != Drives || sameRatio:
		case was.speed.Sign() != c.Sense:
			c.Reverse = true
		default: // a lower gear turns the output less
			d := now.speed.Cmp(was.speed) * c.Sense
			c.Lower, c.Higher = d < 0, d > 0
		}
	}
	if was.class == now.class && now.class != TieUp {
		before, after := was.drags(), now.drags()
		c.LostBraking, c.ExtraBraking = before && !after, after && !before
	}
	c.Same = was.class == now.class && was.outputHeld == now.outputHeld &&
		(sameRatio || now.class != Drives) && !c.LostBraking && !c.ExtraBraking
	return c
}

// drags says that the rolling vehicle turns the engine: at the ratio in force
// when the row drives, at any when it does not.
func (o *outcome) drags() bool {
	if o.class == NoDrive {
		return o.coast == Drives
	}
	return o.braking()
}

// label is the gear whose healthy ratio this is, looked for in row i's range
// and then in all rows; "" when there is none.
func (m *Machine) label(i int, speed *big.Rat) string {
	found := ""
	for j, r := range m.unit.Rows {
		own := r.Range == m.unit.Rows[i].Range
		if !own && found != "" {
			continue
		}
		if o := m.outcome(m.rowKey[j]); o.class == Drives && o.speed.Cmp(speed) == 0 {
			if own {
				return r.Gear
			}
			found = r.Gear
		}
	}
	return found
}
