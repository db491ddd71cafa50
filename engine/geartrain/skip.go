package geartrain

import "slices"

// SkipUps lists the upshifts over a gear, 1-3 as the foot is lifted, where they
// are felt otherwise than the two shifts that they stand for: an element that is
// slow or late makes something else of them, because the gap or the overlap is
// another. Where all is the same, what single shifts tell is told.
func (m *Machine) SkipUps() []Shift { return m.skips() }

// LeverShifts lists the downshifts that the selector makes on the move, from
// the range with the most gears to another one's highest gear, one gear down,
// where they are felt otherwise than the downshift of the same gears without
// the lever: L and 2 apply what D leaves to a one-way clutch.
func (m *Machine) LeverShifts() []Shift { return m.levers() }

func (m *Machine) findSkips() (out []Shift) {
	m.eachRange(func(gears []int) {
		for j := 2; j < len(gears); j++ {
			s := m.shift(gears[j-2], gears[j])
			if m.tellsMore(s, m.shift(gears[j-2], gears[j-1]), m.shift(gears[j-1], gears[j])) {
				out = append(out, s)
			}
		}
	})
	return out
}

func (m *Machine) findLevers() (out []Shift) {
	var ranges [][]int
	m.eachRange(func(gears []int) { ranges = append(ranges, gears) })
	most := 0
	for i, gears := range ranges {
		if len(gears) > len(ranges[most]) {
			most = i
		}
	}
	if len(ranges) == 0 {
		return nil
	}
	drive := ranges[most]
	for i, gears := range ranges {
		if i == most {
			continue
		}
		to := gears[len(gears)-1]
		// The gear of the main range just above.
		from := slices.IndexFunc(drive, func(g int) bool {
			return m.outcome(m.rowKey[g]).speed.Cmp(m.outcome(m.rowKey[to]).speed) > 0
		})
		if from < 0 {
			continue
		}
		s := m.shift(drive[from], to)
		s.Down, s.ToRange = true, m.unit.Rows[to].Range
		var plain []Shift
		if from > 0 && sameRatio(m.Row(drive[from-1]).Ratio, m.Row(to).Ratio) {
			d := m.shift(drive[from], drive[from-1])
			d.Down = true
			plain = append(plain, d)
		}
		if m.tellsMore(s, plain...) {
			out = append(out, s)
		}
	}
	return out
}

// felt is what one slow or late element makes of a shift.
type felt struct {
	element, what string
}

// tellsMore tells whether a shift is felt in a way that none of the others is.
func (m *Machine) tellsMore(s Shift, others ...Shift) bool {
	var known []felt
	for _, o := range others {
		known = append(known, m.felt(o)...)
	}
	return slices.ContainsFunc(m.felt(s), func(f felt) bool { return !slices.Contains(known, f) })
}

// felt lists what is felt of a shift where one of its elements is slow to come
// on, late to go off, comes on hard, or is missing in its gap.
func (m *Machine) felt(s Shift) (out []felt) {
	add := func(element string, t Timing, whats ...Timing) {
		if slices.Contains(whats, t) {
			if t == FlareBounded {
				t = FlareUnbounded // the engine runs up, be it to a gear or freely
			}
			out = append(out, felt{element, string(t)})
		}
	}
	for _, e := range s.Oncoming {
		add(e, m.SlowOn(s, e).Timing, Late, FlareBounded, FlareUnbounded)
		if s.Down && m.CoastFelt(s, e) {
			out = append(out, felt{e, "coasting"})
		}
	}
	for _, e := range s.Offgoing {
		if t := m.LateOff(s, e).Timing; s.Down {
			add(e, t, Binds, Late)
		} else {
			add(e, t, Binds)
		}
	}
	for _, e := range s.Carriers {
		add(e, m.InGap(s, Fault{e, Slips}).Timing, FlareBounded, FlareUnbounded, Binds)
	}
	return out
}
