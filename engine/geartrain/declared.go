package geartrain

import (
	"math/big"
	"slices"
	"strconv"
	"strings"

	"slipcase/engine"
)

// RatioMatches says whether row i's declared ratio is the train's, rounded or
// cut off after the digits that are printed: makers do both. A ratio made by
// code, without text, must be exact. got is the train's ratio rounded to as
// many digits, or "no drive", or "tie-up". A row without a declared ratio
// matches.
func (m *Machine) RatioMatches(i int) (ok bool, got string) {
	r, st := m.unit.Rows[i], m.Row(i)
	switch st.Class {
	case NoDrive:
		return r.Ratio == nil, "no drive"
	case TieUp:
		return r.Ratio == nil, "tie-up"
	}
	if r.Ratio == nil && r.RatioText == "" {
		return true, st.Ratio.FloatString(3)
	}
	places := 3
	if r.RatioText != "" {
		places = decimals(r.RatioText)
	}
	return r.Ratio == nil || printsAs(r, st.Ratio), st.Ratio.FloatString(max(places, 0))
}

// printsAs says whether a ratio prints as the row's declared one: rounded or
// cut off after as many digits, or exactly where the row has no text.
func printsAs(r engine.Row, ratio *big.Rat) bool {
	lo, hi := printed(r)
	if r.RatioText == "" {
		return ratio.Cmp(lo) == 0
	}
	size, neg := new(big.Rat).Abs(ratio), ratio.Sign() < 0
	return neg == (r.Ratio.Sign() < 0) && size.Cmp(lo) >= 0 && size.Cmp(hi) < 0
}

// printed is the range of sizes that print as a row's ratio: from half a unit
// of its last digit below (rounded up) to one unit above (cut off), the upper
// end not included. Both ends are the ratio itself where it has no text.
func printed(r engine.Row) (lo, hi *big.Rat) {
	size := new(big.Rat).Abs(r.Ratio)
	if r.RatioText == "" {
		return size, size
	}
	places := decimals(r.RatioText)
	unit := new(big.Rat).SetInt(new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(max(places, -places))), nil))
	if places > 0 {
		unit.Inv(unit)
	}
	half := new(big.Rat).Quo(unit, big.NewRat(2, 1))
	return new(big.Rat).Sub(size, half), new(big.Rat).Add(size, unit)
}

// decimals is the number of decimal places that a number is written with:
// 2 for "2.80", −1 for "3e1".
func decimals(text string) int {
	exp := 0
	if at := strings.IndexAny(text, "eE"); at >= 0 {
		exp, _ = strconv.Atoi(text[at+1:])
		exp = min(max(exp, -30), 30)
		text = text[:at]
	}
	if dot := strings.IndexByte(text, '.'); dot >= 0 {
		return len(text) - dot - 1 - exp
	}
	return -exp
}

// HoldingMatches says whether the one-way clutches declared to hold in row i
// can be the ones that do: they give the train's ratio and can carry its
// torque, each in its own direction, and none of them overruns. A clutch in
// parallel with an applied element may be declared or not. got lists what the
// train needs.
func (m *Machine) HoldingMatches(i int) (ok bool, got []string) {
	r, st := m.unit.Rows[i], m.Row(i)
	if !r.HoldingStated {
		return true, st.Holding
	}
	k := m.rowKey[i]
	k.forward = 0
	for _, n := range r.Holding {
		k.forward |= 1 << m.linkOf[n]
		if slices.Contains(st.Overrunning, n) {
			return false, st.Holding
		}
	}
	// The declared ones alone must do what all of them do.
	o, all := m.outcome(k), m.outcome(m.rowKey[i])
	same := o.class == all.class && (o.class != Drives || o.speed.Cmp(all.speed) == 0)
	if !same {
		return false, st.Holding
	}
	// What was declared beyond need must be able to stand still.
	extra := k.forward &^ o.hold
	k.rigid |= k.forward
	k.forward = 0
	if extra != 0 {
		o = m.outcome(k)
		same = o.class == all.class && (o.class != Drives || o.speed.Cmp(all.speed) == 0)
	}
	return same, st.Holding
}

// BrakingMatches says whether row i's declared engine braking is the train's,
// and what the train does. A row without it matches.
func (m *Machine) BrakingMatches(i int) (ok, got bool) {
	d, st := m.unit.Rows[i].EngineBraking, m.Row(i)
	return d == nil || *d == st.EngineBraking, st.EngineBraking
}
