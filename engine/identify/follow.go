package identify

import (
	"math/big"
	"slices"

	"slipcase/engine"
	"slipcase/engine/quantity"
)

// ChangeKind is how something differs between two units.
type ChangeKind string

// The kinds of changes.
const (
	Added   ChangeKind = "added"
	Dropped ChangeKind = "dropped"
	Changed ChangeKind = "changed"
)

// Subject is what a change is about.
type Subject string

// The subjects, in the order in which changes are listed.
const (
	OfGearset   Subject = "gearset"
	OfElement   Subject = "element"
	OfRow       Subject = "row"
	OfFailsafe  Subject = "failsafe" // named by its range
	OfSolenoid  Subject = "solenoid"
	OfPart      Subject = "component"
	OfStep      Subject = "step"
	OfPressure  Subject = "pressure" // named by its place, "idle/R"
	OfDimension Subject = "limit"
)

// Change is one difference between the unit that a family begins with and a
// variant's.
type Change struct {
	Of   Subject
	Name string
	Kind ChangeKind
}

// Follow lists what differs between two units for chart, parts, steps and
// limits, in the order of the subjects, each in the units' order.
func Follow(from, to *engine.Unit) []Change {
	var out []Change
	out = append(out, changes(OfGearset, from.Train.Gearsets, to.Train.Gearsets, func(g engine.Gearset) string { return g.Name }, func(a, b engine.Gearset) bool {
		return a.Kind == b.Kind && a.Sun == b.Sun && a.Carrier == b.Carrier && a.Ring == b.Ring && a.SunTeeth == b.SunTeeth && a.RingTeeth == b.RingTeeth
	})...)
	out = append(out, changes(OfElement, from.Elements, to.Elements, func(e engine.Element) string { return e.Name }, func(a, b engine.Element) bool {
		return a.Kind == b.Kind && a.A == b.A && a.B == b.B && a.Wraps == b.Wraps
	})...)
	out = append(out, changes(OfRow, from.Rows, to.Rows, engine.Row.Name, func(a, b engine.Row) bool {
		return slices.Equal(sorted(a.Apply), sorted(b.Apply)) && sameRat(a.Ratio, b.Ratio) && a.Lockup == b.Lockup && slices.Equal(sorted(a.Solenoids), sorted(b.Solenoids))
	})...)
	out = append(out, changes(OfFailsafe, ranges(from), ranges(to), func(s string) string { return s }, func(a, b string) bool { return from.Failsafe[a].Gear == to.Failsafe[b].Gear })...)
	out = append(out, changes(OfSolenoid, from.Solenoids, to.Solenoids, func(s engine.Solenoid) string { return s.Name }, func(a, b engine.Solenoid) bool {
		return a.Kind == b.Kind && a.Applied == b.Applied && slices.Equal(a.Controls, b.Controls)
	})...)
	out = append(out, changes(OfPart, from.Components, to.Components, func(c engine.Component) string { return c.Name }, func(a, b engine.Component) bool {
		return a.Kind == b.Kind && a.Title == b.Title
	})...)
	out = append(out, changes(OfStep, from.Steps, to.Steps, func(s engine.Step) string { return s.Name }, func(a, b engine.Step) bool {
		return a.Title == b.Title && slices.Equal(a.After, b.After)
	})...)
	out = append(out, changes(OfPressure, from.Pressures, to.Pressures, engine.PressurePoint.Place, func(a, b engine.PressurePoint) bool {
		return sameSize(a.Low, b.Low) && sameSize(a.High, b.High)
	})...)
	out = append(out, changes(OfDimension, from.Limits, to.Limits, func(l engine.Limit) string { return l.Name }, func(a, b engine.Limit) bool {
		return sameSize(a.Low, b.Low) && sameSize(a.High, b.High)
	})...)
	return out
}

func changes[T any](of Subject, from, to []T, name func(T) string, equal func(a, b T) bool) []Change {
	var out []Change
	for _, a := range from {
		i := slices.IndexFunc(to, func(b T) bool { return name(b) == name(a) })
		switch {
		case i < 0:
			out = append(out, Change{of, name(a), Dropped})
		case !equal(a, to[i]):
			out = append(out, Change{of, name(a), Changed})
		}
	}
	for _, b := range to {
		if !slices.ContainsFunc(from, func(a T) bool { return name(a) == name(b) }) {
			out = append(out, Change{of, name(b), Added})
		}
	}
	return out
}

// ranges are the ranges with a failsafe gear, in the order of the rows.
func ranges(u *engine.Unit) []string {
	var out []string
	for _, r := range u.Rows {
		if u.Failsafe[r.Range].Gear != "" && !slices.Contains(out, r.Range) {
			out = append(out, r.Range)
		}
	}
	return out
}

func sorted(list []string) []string {
	out := slices.Clone(list)
	slices.Sort(out)
	return out
}

func sameRat(a, b *big.Rat) bool {
	if a == nil || b == nil {
		return a == b
	}
	return a.Cmp(b) == 0
}

func sameSize(a, b *quantity.Quantity) bool {
	if a == nil || b == nil {
		return a == b
	}
	return a.Dim == b.Dim && same(a.Base, b.Base)
}
