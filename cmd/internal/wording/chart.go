package wording

import (
	"slices"
	"strings"

	"slipcase/engine"
	"slipcase/engine/geartrain"
)

// ElementState is what a row does with an element, in a word: "applied",
// "holds", "dead"; "" where it is released.
func ElementState(r engine.Row, st *geartrain.State, e engine.Element, faults []geartrain.Fault) string {
	for _, f := range faults {
		if f.Name != e.Name {
			continue
		}
		switch {
		case f.Kind == geartrain.Reversed:
			// What it does now stands in the state.
		case e.Kind == engine.OneWay && f.Kind == geartrain.Seized:
			return "seized"
		case e.Kind == engine.OneWay:
			return "slips"
		case f.Kind == geartrain.StaysOn && !slices.Contains(r.Apply, e.Name):
			return "stays on"
		case f.Kind == geartrain.Dead && slices.Contains(r.Apply, e.Name):
			return "dead"
		}
	}
	switch {
	case slices.Contains(r.Apply, e.Name), e.Kind == engine.ConverterClutch && r.Lockup:
		return "applied"
	case slices.Contains(st.Holding, e.Name):
		return "holds"
	case slices.Contains(st.Overrunning, e.Name):
		return "overruns"
	}
	return ""
}

// Class says what a row does: "drives", "no drive".
func Class(st *geartrain.State) string {
	switch {
	case st.Class == geartrain.Drives:
		return "drives"
	case st.Class == geartrain.NoDrive:
		return "no drive"
	case st.OutputHeld:
		return "output locked"
	}
	return "ties up"
}

// RowChange says what faults make of a row; "" when nothing.
func RowChange(m *geartrain.Machine, i int, f ...geartrain.Fault) string {
	c := m.Change(i, f...)
	if c.Same {
		return ""
	}
	var words []string
	like := func() string {
		if c.ActsAs != "" {
			return "acts as " + c.ActsAs
		}
		return "drives at " + c.Ratio.FloatString(2)
	}
	switch {
	case c.Class == geartrain.TieUp:
		words = append(words, Class(m.Under(i, f...)))
	case c.Class == geartrain.NoDrive:
		if m.Row(i).Class != geartrain.NoDrive {
			words = append(words, "no drive")
		}
	case c.DrivesInNeutral:
		words = append(words, "drives, "+strings.TrimPrefix(like(), "drives "))
	case c.Reverse && c.Sense > 0:
		words = append(words, "drives forward")
	case c.Reverse:
		words = append(words, "drives backward")
	case c.Lower, c.Higher:
		words = append(words, like())
	case m.Row(i).Class == geartrain.TieUp:
		words = append(words, like())
	}
	if c.LostBraking {
		words = append(words, "no engine braking")
	}
	if c.ExtraBraking {
		if c.Class == geartrain.NoDrive {
			words = append(words, "rolling wheels turn the input")
		} else {
			words = append(words, "engine braking added")
		}
	}
	if len(words) == 0 {
		words = append(words, "changes, but cannot be felt")
	}
	return strings.Join(words, ", ")
}

// TrainState says what a state of the train amounts to: "gear 1", "no drive".
func TrainState(m *geartrain.Machine, st *geartrain.State, rng string) string {
	if st.Class != geartrain.Drives {
		return Class(st)
	}
	for i := range m.Rows() {
		if name := m.RowName(i); strings.HasPrefix(name, rng+"/") && m.Row(i).Ratio != nil && m.Row(i).Ratio.Cmp(st.Ratio) == 0 {
			return "gear " + strings.TrimPrefix(name, rng+"/")
		}
	}
	return "ratio " + st.Ratio.FloatString(2)
}

// SlowOn says what an element that applies late does to a shift.
func SlowOn(m *geartrain.Machine, element string, s geartrain.Shift) string {
	words := slow(m, m.SlowOn(s, element), s)
	if m.CoastFelt(s, element) && s.Down {
		words += "; a harsh apply is felt coasting down"
	}
	return words
}

func slow(m *geartrain.Machine, w geartrain.Meanwhile, s geartrain.Shift) string {
	switch w.Timing {
	case geartrain.Late:
		return "gear " + s.From + " stays on: the shift is late, it cannot flare"
	case geartrain.FlareBounded:
		return "flares, up to " + TrainState(m, w.State, s.Range)
	case geartrain.FlareUnbounded:
		return "flares: nothing holds the engine back"
	case geartrain.Binds:
		return "binds"
	case geartrain.Detour:
		return "for a moment " + TrainState(m, w.State, s.Range)
	}
	return "not noticed in this shift"
}

// LateOff says what an element that releases late does to a shift.
func LateOff(m *geartrain.Machine, w geartrain.Meanwhile, s geartrain.Shift) string {
	switch w.Timing {
	case geartrain.Binds:
		return "binds: two gears at once"
	case geartrain.Late:
		return "gear " + s.From + " stays on: the shift is late"
	case geartrain.FlareBounded, geartrain.Detour:
		return "for a moment " + TrainState(m, w.State, s.Range)
	case geartrain.FlareUnbounded:
		return "flares"
	}
	return "cannot bind"
}

// LinkTitle is the title of an element or joint.
func LinkTitle(u *engine.Unit, name string) string {
	for _, e := range u.Elements {
		if e.Name == name {
			return Title(e.Title, name)
		}
	}
	for _, j := range u.Joints {
		if j.Name == name {
			return Title(j.Title, name)
		}
	}
	return Name(name)
}
