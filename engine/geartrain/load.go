package geartrain

import (
	"math/big"
	"strings"

	"slipcase/engine"
)

// factor reads a row's converter or pressure factor exactly as written; 1 when
// it is not said. It reports false for one that is not above 0.
func factor(n engine.Number) (*big.Rat, bool) {
	if n.Text == "" && n.Value == 0 {
		return big.NewRat(1, 1), true
	}
	if plain := len(n.Text) < 40 && strings.Trim(n.Text, "0123456789.") == ""; plain {
		if r, ok := new(big.Rat).SetString(n.Text); ok {
			return r, r.Sign() > 0
		}
	}
	r := new(big.Rat)
	if r.SetFloat64(n.Value) == nil {
		return nil, false
	}
	return r, r.Sign() > 0
}

// usualLaunch is the converter's torque ratio at stall where a unit states no
// factor for any row: about 2 (common practice of passenger-car converters).
var usualLaunch = big.NewRat(2, 1)

// fought is how much more a band needs in a row where drum torque unwinds it
// than in one where drum torque winds it on. A strap of wrap θ and friction μ
// holds p·r·(e^{μθ} − 1) where it helps itself and p·r·(1 − e^{−μθ}) where it
// is fought: their quotient is e^{μθ}. With wet friction 0.12 and a wrap of
// 315° (5.50 rad), both common practice, that is e^{0.66} = 1.93.
var fought = big.NewRat(193, 100)

// converter is the converter factor of row i: as stated, or where the unit
// states none, the usual one for the rows that a vehicle starts in.
func (m *Machine) converter(i int) *big.Rat {
	if m.launch[i] {
		return usualLaunch
	}
	f, _ := factor(m.unit.Rows[i].ConverterFactor)
	return f
}

// findLaunch marks, where no row states a converter factor, the row of each
// range with the largest ratio.
func (m *Machine) findLaunch() {
	m.launch = make([]bool, len(m.rowKey))
	for _, r := range m.unit.Rows {
		if r.ConverterFactor.Text != "" || r.ConverterFactor.Value != 0 {
			return
		}
	}
	for _, e := range m.Engagements() {
		m.launch[e.Row] = true
	}
}

// load is |torque| × converter factor ÷ pressure factor of an element in row
// i, for a band that the drum fights × fought: nil when its torque is not
// settled, 0 when it carries none.
func (m *Machine) load(i int, element string) *big.Rat {
	t, on := m.Row(i).Torques[element]
	switch {
	case !on:
		return new(big.Rat)
	case t == nil:
		return nil
	}
	press, _ := factor(m.unit.Rows[i].PressureFactor)
	t = new(big.Rat).Abs(t)
	t.Quo(t.Mul(t, m.converter(i)), press)
	if m.BandHelped(i, element) < 0 {
		t.Mul(t, fought)
	}
	return t
}

// loads finds the largest load of each element over all rows that drive.
func (m *Machine) loads() {
	m.demanded = map[string]*big.Rat{}
	for _, l := range m.links {
		top := new(big.Rat)
		for i := range m.rowKey {
			if v := m.load(i, l.name); m.Row(i).Class == Drives && v != nil && v.Cmp(top) > 0 {
				top = v
			}
		}
		m.demanded[l.name] = top
	}
}

// Demand is what row i asks of an element, 0 to 1: its torque × the row's
// converter factor ÷ the row's pressure factor (and × 1.93 for a band that the
// drum fights there), over the largest such product of the same element in any
// row. nil when it carries no torque there. Where
// sharing is statically indeterminate it may carry all, so Demand is 1;
// Unsettled tells those.
func (m *Machine) Demand(i int, element string) *big.Rat {
	top, ok := m.demanded[element]
	if !ok || m.Row(i).Class != Drives {
		return nil
	}
	v := m.load(i, element)
	switch {
	case v == nil:
		return big.NewRat(1, 1)
	case v.Sign() == 0:
		return nil
	}
	return v.Quo(v, top)
}

// Unsettled lists the elements and joints whose torque in row i statics cannot
// tell, in the unit's order.
func (m *Machine) Unsettled(i int) []string {
	var out []string
	for _, l := range m.links {
		if t, on := m.Row(i).Torques[l.name]; on && t == nil {
			out = append(out, l.name)
		}
	}
	return out
}

// RelativeSpeed is ω_A − ω_B of an element in row i as a multiple of input
// speed: 0 for one that is applied or holds, nil when the train does not
// settle it or the unit has no such element.
func (m *Machine) RelativeSpeed(i int, element string) *big.Rat {
	return m.Row(i).Slips[element]
}

// GearsetTurns says whether the gears of a gearset turn against each other in
// row i, so that they can whine: false when sun, carrier and ring share one
// speed and in rows that do not drive, where they are not loaded.
func (m *Machine) GearsetTurns(i int, gearset string) bool {
	block, ok := m.Row(i).blocks[gearset]
	return ok && !block && m.Row(i).Class == Drives
}

// BandHelped says whether drum torque winds a band on in row i: +1 the band is
// self-energising, −1 it works against the drum, 0 when it carries no settled
// torque there or the unit does not say its direction. The drum's torque on
// the band is the opposite of the band's torque on the drum.
func (m *Machine) BandHelped(i int, band string) int {
	l, ok := m.linkOf[band]
	t := m.Row(i).Torques[band]
	if !ok || t == nil || m.links[l].kind != engine.Band {
		return 0
	}
	switch d := -t.Sign() * m.links[l].wraps; {
	case d > 0:
		return 1
	case d < 0:
		return -1
	}
	return 0
}

// Path is what carries torque in a row, each list in the unit's order.
type Path struct {
	Members  []string // that transmit torque between what acts on them
	Gearsets []string
	Elements []string // that are on, or hold, and carry torque
	Joints   []string
	// Unsettled lists gearsets, elements and joints that may carry torque:
	// statics does not tell. They are in no other list.
	Unsettled []string
}

// PowerPath is the path of torque through row i; empty without drive. A
// broken joint takes out the rows in whose path it is.
func (m *Machine) PowerPath(i int) Path {
	var p Path
	st := m.Row(i)
	if st.Class != Drives {
		return p
	}
	loaded := make([]bool, len(m.members))
	loaded[m.in], loaded[m.out] = true, true
	// carries notes a torque on some members and says where it is listed.
	carries := func(list *[]string, name, torque string, members ...int) {
		t, on := st.Torques[torque]
		switch {
		case !on:
		case t == nil:
			p.Unsettled = append(p.Unsettled, name)
		case t.Sign() != 0:
			*list = append(*list, name)
			for _, i := range members {
				loaded[i] = true
			}
		}
	}
	for _, g := range m.gears {
		carries(&p.Gearsets, g.name, g.name+".sun", g.sun, g.carr, g.ring)
	}
	for _, l := range m.links {
		list := &p.Elements
		if l.kind == "" {
			list = &p.Joints
		}
		carries(list, l.name, l.name, l.a, l.b)
	}
	for i, name := range m.members[1:] {
		if loaded[i+1] {
			p.Members = append(p.Members, name)
		}
	}
	return p
}
