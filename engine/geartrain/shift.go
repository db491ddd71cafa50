package geartrain

import (
	"math/big"
	"slices"

	"slipcase/engine"
)

// Shift is a shift between two gears of a range.
type Shift struct {
	Range, From, To    string // "D", "2", "3"
	ToRange            string // of To, where the lever goes to another range; else ""
	Down               bool   // a downshift: To has the larger ratio
	FromRow, ToRow     int
	Oncoming, Offgoing []string // elements of the train that come on and go off
	// Gap is the train with only the elements that are on in both rows,
	// Overlap with all that are on in either.
	Gap, Overlap *State
	// GapKeeps: the gap still gives the old gear, so slow oncoming elements
	// make the shift late and it cannot flare. GapReaches: it gives the new gear
	// by itself, a one-way clutch catches it, so a slow element is not noticed.
	GapKeeps, GapReaches bool
	// GapRatio is the gap's ratio, nil without drive: a flare ends there.
	GapRatio *big.Rat
	// FlareUnbounded: the gap gives no drive.
	FlareUnbounded bool
	// OverlapTies: the overlap ties up, so a late release binds.
	OverlapTies bool
	// Carriers are the one-way clutches that hold in the gap and in neither
	// row: they carry the shift and do nothing else in it.
	Carriers []string
}

// Place is the shift as findings name it, "D/2-3", "D/3-2", and "D/3-2/2" where
// the lever goes from D to 2.
func (s Shift) Place() string {
	to := s.To
	if s.ToRange != "" {
		to = s.ToRange + "/" + to
	}
	return s.Range + "/" + s.From + "-" + to
}

// Shifts lists the upshifts: in each range, in the unit's order, from each
// forward gear to the one with the next smaller ratio.
func (m *Machine) Shifts() []Shift { return m.shifts() }

// Downshifts lists the downshifts: in each range from each forward gear to the
// one with the next larger ratio and to the one after that, which a kickdown,
// or a stop, may skip to.
func (m *Machine) Downshifts() []Shift { return m.downshifts() }

func (m *Machine) findShifts() (out []Shift) {
	m.eachRange(func(gears []int) {
		for j := 1; j < len(gears); j++ {
			out = append(out, m.shift(gears[j-1], gears[j]))
		}
	})
	return out
}

func (m *Machine) findDownshifts() (out []Shift) {
	m.eachRange(func(gears []int) {
		for skip := 1; skip <= 2; skip++ {
			for j := skip; j < len(gears); j++ {
				s := m.shift(gears[j], gears[j-skip])
				s.Down = true
				out = append(out, s)
			}
		}
	})
	return out
}

// eachRange gives the rows that drive forward, range by range in the unit's
// order, from the largest ratio to the smallest. Of rows with one ratio the
// first stands.
func (m *Machine) eachRange(f func(gears []int)) {
	var ranges []string
	rows := map[string][]int{}
	for i, r := range m.unit.Rows {
		o := m.outcome(m.rowKey[i])
		if o.class != Drives || o.speed.Sign() < 0 {
			continue
		}
		if rows[r.Range] == nil {
			ranges = append(ranges, r.Range)
		}
		rows[r.Range] = append(rows[r.Range], i)
	}
	for _, name := range ranges {
		gears := rows[name]
		slices.SortStableFunc(gears, func(a, b int) int {
			return m.outcome(m.rowKey[a]).speed.Cmp(m.outcome(m.rowKey[b]).speed)
		})
		f(slices.CompactFunc(gears, func(a, b int) bool {
			return m.outcome(m.rowKey[a]).speed.Cmp(m.outcome(m.rowKey[b]).speed) == 0
		}))
	}
}

func (m *Machine) shift(a, b int) Shift {
	from, to := m.rowKey[a].rigid&^m.joints, m.rowKey[b].rigid&^m.joints
	k := m.rowKey[a]
	s := Shift{
		Range: m.unit.Rows[a].Range, From: m.unit.Rows[a].Gear, To: m.unit.Rows[b].Gear,
		FromRow: a, ToRow: b,
		Oncoming: m.linkNames(to &^ from), Offgoing: m.linkNames(from &^ to),
	}
	k.rigid = m.joints | from&to
	s.Gap = m.state(k)
	k.rigid = m.joints | from | to
	s.Overlap = m.state(k)
	s.GapRatio = s.Gap.Ratio
	s.GapKeeps = sameRatio(s.GapRatio, m.Row(a).Ratio)
	s.GapReaches = sameRatio(s.GapRatio, m.Row(b).Ratio)
	s.FlareUnbounded = s.Gap.Class == NoDrive
	s.OverlapTies = s.Overlap.Class == TieUp
	for _, h := range s.Gap.Holding {
		if !slices.Contains(m.Row(a).Holding, h) && !slices.Contains(m.Row(b).Holding, h) {
			s.Carriers = append(s.Carriers, h)
		}
	}
	return s
}

// InGap is the shift with its offgoing elements off, its oncoming ones not yet
// on, and these faults built in: what carries the drive for that moment. A
// gap that no longer keeps what the healthy gap keeps flares although both
// rows are sound; only a one-way clutch beside an applied clutch, or a joint,
// can bring that about. InTime where the faults leave the gap as it is.
func (m *Machine) InGap(s Shift, f ...Fault) Meanwhile {
	k := m.rowKey[s.FromRow]
	k.rigid = m.joints | m.rowKey[s.FromRow].rigid&m.rowKey[s.ToRow].rigid
	st := m.state(m.faulty(k, f))
	w := Meanwhile{InTime, st}
	switch {
	case st.Class == s.Gap.Class && (st.Ratio == nil || sameRatio(st.Ratio, s.GapRatio)):
	case st.Class == TieUp:
		w.Timing = Binds
	case st.Class == NoDrive:
		w.Timing = FlareUnbounded
	case s.GapRatio != nil && st.Ratio.Sign() == s.GapRatio.Sign() && absolute(st.Ratio).Cmp(absolute(s.GapRatio)) > 0 &&
		(!s.Down || absolute(st.Ratio).Cmp(absolute(m.Row(s.ToRow).Ratio)) > 0):
		w.Timing = FlareBounded
	default:
		w.Timing = Detour
	}
	return w
}

func absolute(r *big.Rat) *big.Rat { return new(big.Rat).Abs(r) }

func sameRatio(a, b *big.Rat) bool { return a != nil && b != nil && a.Cmp(b) == 0 }

// Timing is what one slow or late element makes of a shift.
type Timing string

// The timings.
const (
	InTime         Timing = ""                // no harm: the new gear comes all the same
	Late           Timing = "late"            // the old gear stays on until the element moves
	FlareBounded   Timing = "flare_bounded"   // the engine runs up to a lower gear
	FlareUnbounded Timing = "flare_unbounded" // the engine runs up freely
	Binds          Timing = "binds"           // two gears at once
	Detour         Timing = "detour"          // for a moment another higher gear, or reverse
)

// Meanwhile is the train while one element of a shift is slow or late.
type Meanwhile struct {
	Timing Timing
	State  *State // nil when the element has no part in the shift
}

// SlowOn is the shift with all done but this element still off.
func (m *Machine) SlowOn(s Shift, element string) Meanwhile {
	if !slices.Contains(s.Oncoming, element) {
		return Meanwhile{}
	}
	return m.Lag(s, m.withMoved(element)...)
}

// LateOff is the shift with all done but this element still on.
func (m *Machine) LateOff(s Shift, element string) Meanwhile {
	if !slices.Contains(s.Offgoing, element) {
		return Meanwhile{}
	}
	return m.Lag(s, m.withMoved(element)...)
}

// withMoved is an element with those that one sleeve or valve moves with it:
// where it is late they are late with it.
func (m *Machine) withMoved(element string) []string {
	return append([]string{element}, m.moved[element]...)
}

// Lag is the shift with all done but these elements as they were: oncoming ones
// still off, offgoing ones still on. Elements without a part in the shift
// change nothing, and the State is nil when none has one.
func (m *Machine) Lag(s Shift, elements ...string) Meanwhile {
	k := m.rowKey[s.ToRow]
	some := false
	for _, e := range elements {
		bit := uint64(1) << m.linkOf[e]
		switch {
		case slices.Contains(s.Oncoming, e):
			k.rigid &^= bit
		case slices.Contains(s.Offgoing, e):
			k.rigid |= bit
		default:
			continue
		}
		some = true
	}
	if !some {
		return Meanwhile{}
	}
	st := m.state(k)
	from, to := m.Row(s.FromRow).Ratio, m.Row(s.ToRow).Ratio
	w := Meanwhile{Detour, st}
	switch {
	case st.Class == TieUp:
		w.Timing = Binds
	case st.Class == NoDrive:
		w.Timing = FlareUnbounded
	case st.Ratio.Cmp(to) == 0:
		w.Timing = InTime
	case st.Ratio.Cmp(from) == 0:
		w.Timing = Late
	// The engine runs up past both gears: an upshift starts from the one with
	// the larger ratio, a downshift ends there.
	case st.Ratio.Cmp(from) > 0 && st.Ratio.Cmp(to) > 0:
		w.Timing = FlareBounded
	}
	return w
}

// CoastFelt tells of a downshift with the throttle closed whether an oncoming
// element is felt as it grips: in the new gear the rolling vehicle turns the
// engine, and without the element it would not, or at another speed. Where a
// one-way clutch lets the gear run free nothing is felt, however hard the
// element comes on.
func (m *Machine) CoastFelt(s Shift, element string) bool {
	if !slices.Contains(s.Oncoming, element) {
		return false
	}
	with, without := m.Row(s.ToRow), m.Under(s.ToRow, Fault{element, Dead})
	return with.CoastClass == Drives && (without.CoastClass != Drives || without.CoastRatio.Cmp(with.CoastRatio) != 0)
}

// CoastGrabs tells of a downshift with the throttle closed whether these faults
// make its new gear turn the engine where it should run free: the engine is
// torn up to speed as the gear comes.
func (m *Machine) CoastGrabs(s Shift, f ...Fault) bool {
	c := m.Change(s.ToRow, f...)
	return c.Class == Drives && c.ExtraBraking && m.Under(s.FromRow, f...).Class == Drives
}

// Engagement is a range as it is engaged at rest, from neutral.
type Engagement struct {
	Range    string
	Row      int      // the row that it launches in: the largest ratio of the range
	Oncoming []string // elements that come on: not on already in the N row, if there is one
}

// Engagements lists the ranges that drive, in the unit's order.
func (m *Machine) Engagements() []Engagement {
	var idle uint64
	if n := slices.IndexFunc(m.unit.Rows, func(r engine.Row) bool { return r.Range == "N" }); n >= 0 {
		idle = m.rowKey[n].rigid
	}
	var out []Engagement
	for i, r := range m.unit.Rows {
		o := m.outcome(m.rowKey[i])
		if o.class != Drives || r.Range == "P" || r.Range == "N" {
			continue
		}
		e := Engagement{r.Range, i, m.linkNames(m.rowKey[i].rigid &^ m.joints &^ idle)}
		at := slices.IndexFunc(out, func(e Engagement) bool { return e.Range == r.Range })
		switch {
		case at < 0:
			out = append(out, e)
		case size(o).Cmp(size(m.outcome(m.rowKey[out[at].Row]))) > 0:
			out[at] = e
		}
	}
	return out
}

// size is the ratio's absolute value.
func size(o *outcome) *big.Rat { return absolute(o.ratio()) }

// Stuck maps every row to the row obtained with a shift solenoid stuck on or
// off: the row of the same range that has the resulting state, "" when none
// has. Solenoids of kind "clutch" go on as the commanded row has them, so that
// the row obtained has to have the same of them applying: one whose oil a valve
// then sends to another element. A row without stated solenoids stays as it is, and so do all rows when
// the solenoid is not a shift solenoid of the unit: others move no element.
func (m *Machine) Stuck(solenoid string, on bool) []string {
	shift := slices.ContainsFunc(m.unit.Solenoids, func(s engine.Solenoid) bool {
		return s.Name == solenoid && (s.Kind == "shift" || s.Kind == "")
	})
	out := make([]string, len(m.unit.Rows))
	for i, r := range m.unit.Rows {
		out[i] = r.Name()
		if !r.SolenoidsStated || !shift {
			continue
		}
		want := m.shifting(r)
		if want[solenoid] == on {
			continue
		}
		if on {
			want[solenoid] = true
		} else {
			delete(want, solenoid)
		}
		out[i] = ""
		for _, q := range m.unit.Rows {
			if q.Range == r.Range && q.SolenoidsStated && equalSets(m.shifting(q), want) && equalSets(Applying(m.unit, q), Applying(m.unit, r)) {
				out[i] = q.Name()
				break
			}
		}
	}
	return out
}

func equalSets(a, b map[string]bool) bool {
	if len(a) != len(b) {
		return false
	}
	for n := range a {
		if !b[n] {
			return false
		}
	}
	return true
}

// Held is what a solenoid of kind "clutch" does to row i when it is stuck with
// current (on) or without: the elements that it feeds there stay on or dead. No
// faults for other kinds, nor where it is not clear what it feeds, nor for what
// the manual valve feeds past it.
func (m *Machine) Held(solenoid string, on bool, i int) []Fault {
	var out []Fault
	for _, s := range m.unit.Solenoids {
		if s.Name != solenoid {
			continue
		}
		kind := Dead
		if on != s.Applied {
			kind = StaysOn
		}
		fed, clear := m.fed(s, i)
		for _, e := range fed {
			if !clear {
				break
			}
			if slices.Contains(m.unit.Failsafe[m.unit.Rows[i].Range].ByValve, e) {
				continue
			}
			out = append(out, Fault{e, kind})
		}
	}
	return out
}

// Unclear lists the elements of which a solenoid of kind "clutch" may feed any
// in row i, where the chart does not tell which; nil where it does.
func (m *Machine) Unclear(solenoid string, i int) []string {
	for _, s := range m.unit.Solenoids {
		if s.Name == solenoid {
			if fed, clear := m.fed(s, i); !clear {
				return fed
			}
		}
	}
	return nil
}

// fed are the elements that a solenoid's oil reaches in row i. One that
// controls several works through a valve that sends its oil to some of them:
// to those that the row applies; where it applies none, to those of rows of the
// same range with the same shift solenoids on, for these move the valve; else to
// the one that the range uses at all, for the manual valve moves it. Where that
// leaves several it is not clear, and they are the candidates.
func (m *Machine) fed(s engine.Solenoid, i int) (elements []string, clear bool) {
	row := m.unit.Rows[i]
	if len(s.Controls) < 2 {
		if neutral := row.Range == "N" || row.Range == "P"; neutral && !slices.Contains(row.Apply, firstOf(s.Controls)) {
			return nil, true // the manual valve cuts it off
		}
		return s.Controls, true
	}
	in := func(rows func(engine.Row) bool) []string {
		var out []string
		for _, e := range s.Controls {
			if slices.ContainsFunc(m.unit.Rows, func(r engine.Row) bool { return rows(r) && slices.Contains(r.Apply, e) }) {
				out = append(out, e)
			}
		}
		return out
	}
	if own := in(func(r engine.Row) bool { return r.Name() == row.Name() }); len(own) > 0 {
		return own, true
	}
	used := in(func(r engine.Row) bool { return r.Range == row.Range })
	if len(used) < 2 {
		return used, true
	}
	if row.SolenoidsStated {
		alike := in(func(r engine.Row) bool {
			return r.Range == row.Range && r.SolenoidsStated && equalSets(m.shifting(r), m.shifting(row))
		})
		if len(alike) == 1 {
			return alike, true
		}
	}
	return used, false
}

func firstOf(list []string) string {
	if len(list) == 0 {
		return ""
	}
	return list[0]
}

// Applying are the solenoids of kind "clutch" that apply something in a row.
func Applying(u *engine.Unit, r engine.Row) map[string]bool {
	out := map[string]bool{}
	for _, s := range u.Solenoids {
		if slices.ContainsFunc(s.Controls, func(e string) bool { return slices.Contains(r.Apply, e) }) {
			out[s.Name] = true
		}
	}
	return out
}

// shifting are the shift solenoids that are on in a row.
func (m *Machine) shifting(r engine.Row) map[string]bool {
	out := map[string]bool{}
	for _, s := range m.unit.Solenoids {
		if (s.Kind == "shift" || s.Kind == "") && slices.Contains(r.Solenoids, s.Name) {
			out[s.Name] = true
		}
	}
	return out
}

// Unpowered maps every row to the row in force without electric power: the
// failsafe gear of its range. The manual valve still works, so the range
// stays. A row of a range without failsafe stays as it is; "" when the range
// lacks a row of its failsafe gear.
func (m *Machine) Unpowered() []string {
	out := make([]string, len(m.unit.Rows))
	for i, r := range m.unit.Rows {
		out[i] = r.Name()
		if f, ok := m.unit.Failsafe[r.Range]; ok {
			out[i] = r.Range + "/" + f.Gear
			if m.RowIndex(out[i]) < 0 {
				out[i] = ""
			}
		}
	}
	return out
}
