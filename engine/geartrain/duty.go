package geartrain

import "slices"

// How a vehicle is driven, and what of the wear goes by it. All recalled: orders of
// magnitude from memory, of passenger cars and light trucks, no published figure.
const (
	// inReverse and byHand are the shares of what is asked in reverse, and in the
	// forward ranges beside the one driven in, together.
	inReverse = 0.02
	byHand    = 0.05
	// kickdowns for each time that the gears are gone up through.
	kickdowns = 0.2
	// shared is what an element carries where statics leaves open which of two
	// carries the torque.
	shared = 0.5
	// byShifts is the share of duty that is what an element slips through in
	// shifts; the rest is what it holds.
	byShifts = 0.5
	// byDuty is the share of the linings gone without a known cause that duty wears;
	// the rest strikes a pack alike, whatever is asked of it.
	byDuty = 0.5
	// MostDuty bounds the factor of one element on the rate of its kind; 1/MostDuty
	// is its lower bound, which byDuty keeps it above.
	MostDuty = 2.5
)

// Duty is what driving asks of an element of the train, in multiples of its own
// largest demand, since each is built for that.
type Duty struct {
	Applied float64 // share of driving in which it is on, with a load or without
	Held    float64 // its demand over the rows, each by its share of driving
	Shifts  float64 // in which it slips as it comes on or lets go, for each time up through the gears
	Shifted float64 // those, each by its demand
}

// Duty is what driving asks of an element; ok is false for one that is not of the
// train.
//
// Of the rows of the range that is driven in, the forward range with the most gears,
// each counts alike: time in a gear grows with its road speed, and the throttle falls
// with it. What slips in an upshift is what comes on at a speed; in a kickdown it is
// also what lets go, which holds the engine back as it runs up. With a closed
// throttle, and in neutral, it is next to nothing.
func (m *Machine) Duty(element string) (d Duty, ok bool) {
	if _, ok := m.linkOf[element]; !ok {
		return d, false
	}
	driving, drive := m.driving()
	for i, share := range driving {
		if slices.Contains(m.unit.Rows[i].Apply, element) || slices.Contains(m.Row(i).Holding, element) {
			d.Applied += share
		}
		d.Held += share * m.asked(i, element)
	}
	slips := func(row int, often float64) {
		if a := m.asked(row, element); a > 0 {
			d.Shifts += often
			d.Shifted += often * a
		}
	}
	comes := func(s Shift, often float64) {
		speed := m.RelativeSpeed(s.FromRow, element)
		if slices.Contains(s.Oncoming, element) && (speed == nil || speed.Sign() != 0) {
			slips(s.ToRow, often)
		}
	}
	for _, s := range m.Shifts() {
		if s.Range != drive {
			continue
		}
		comes(s, 1)
		back := m.shift(s.ToRow, s.FromRow)
		comes(back, kickdowns)
		if slices.Contains(back.Offgoing, element) {
			slips(back.FromRow, kickdowns)
		}
	}
	return d, true
}

// Plus is what is asked of both.
func (d Duty) Plus(o Duty) Duty {
	return Duty{d.Applied + o.Applied, d.Held + o.Held, d.Shifts + o.Shifts, d.Shifted + o.Shifted}
}

// asked is the demand of an element in a row, 0 to 1.
func (m *Machine) asked(row int, element string) float64 {
	v := m.Demand(row, element)
	switch {
	case v == nil:
		return 0
	case slices.Contains(m.Unsettled(row), element):
		return shared
	}
	f, _ := v.Float64()
	return f
}

// driving is the share of each row in what is asked of the unit, and the range that
// is driven in, "" where no row drives forward.
func (m *Machine) driving() (share []float64, drive string) {
	share = make([]float64, len(m.rowKey))
	var reverse []int
	var ranges []string
	rows := map[string][]int{}
	for i, r := range m.unit.Rows {
		switch ratio := m.Row(i).Ratio; {
		case ratio == nil:
		case ratio.Sign() < 0:
			reverse = append(reverse, i)
		default:
			if rows[r.Range] == nil {
				ranges = append(ranges, r.Range)
			}
			rows[r.Range] = append(rows[r.Range], i)
		}
	}
	for _, name := range ranges {
		if len(rows[name]) > len(rows[drive]) {
			drive = name
		}
	}
	give := func(list []int, of float64) {
		for _, i := range list {
			share[i] = of / float64(len(list))
		}
	}
	left := 1.0
	if len(reverse) > 0 {
		give(reverse, inReverse)
		left -= inReverse
	}
	if others := len(ranges) - 1; others > 0 {
		for _, name := range ranges {
			if name != drive {
				give(rows[name], byHand/float64(others))
			}
		}
		left -= byHand
	}
	give(rows[drive], left)
	return share, drive
}

// DutyFactors are the factors that elements with these duties put on the rate of a
// way to fail that goes by duty: 1 in the mean, none beyond MostDuty either way, the
// same for the same duty. All 1 where nothing is asked of any.
func DutyFactors(duties []Duty) []float64 {
	var held, shifted float64
	for _, d := range duties {
		held += d.Held
		shifted += d.Shifted
	}
	n := float64(len(duties))
	out := make([]float64, len(duties))
	for i, d := range duties {
		rel := 1.0 // in the mean
		switch {
		case held > 0 && shifted > 0:
			rel = (1-byShifts)*d.Held/held*n + byShifts*d.Shifted/shifted*n
		case held > 0:
			rel = d.Held / held * n
		case shifted > 0:
			rel = d.Shifted / shifted * n
		}
		out[i] = 1 - byDuty + byDuty*rel
	}
	// What the bound takes from those that are asked most, the others have alike.
	for {
		excess, free := 0.0, 0.0
		for _, f := range out {
			if f >= MostDuty {
				excess += f - MostDuty
			} else {
				free++
			}
		}
		if excess == 0 {
			return out
		}
		for i, f := range out {
			if f >= MostDuty {
				out[i] = MostDuty
			} else {
				out[i] += excess / free
			}
		}
	}
}
