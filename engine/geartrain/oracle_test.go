package geartrain

import (
	"math/big"

	"slipcase/engine"
)

// The oracle works a train out slowly and by other means than the package: it
// tries every set of holding one-way clutches, and asks a linear-programming
// feasibility test on big.Rat (Gauss, then Fourier-Motzkin) whether all free
// ones can have relative speed ≥ 0 at once and all held ones torque ≥ 0 at
// once.

// inequality is Σ c·x + c[last] ≥ 0, or > 0 when strict.
type inequality struct {
	c      []*big.Rat
	strict bool
}

// feasible says whether some x has every equation = 0 and every inequality.
// Rows hold the coefficients and then the constant.
func feasible(n int, equations [][]*big.Rat, ineqs []inequality) bool {
	eq := make([][]*big.Rat, len(equations))
	for i := range equations {
		eq[i] = copyRow(equations[i])
	}
	in := make([]inequality, len(ineqs))
	for i := range ineqs {
		in[i] = inequality{copyRow(ineqs[i].c), ineqs[i].strict}
	}
	// Gauss: use each equation to remove one variable everywhere.
	for len(eq) > 0 {
		row := eq[0]
		eq = eq[1:]
		p := 0
		for p < n && row[p].Sign() == 0 {
			p++
		}
		if p == n {
			if row[n].Sign() != 0 {
				return false
			}
			continue
		}
		for i := range eq {
			subtract(eq[i], row, p)
		}
		for i := range in {
			subtract(in[i].c, row, p)
		}
	}
	// Fourier-Motzkin: pair lower with upper bounds of each variable.
	for v := range n {
		var keep, lower, upper []inequality
		for _, q := range in {
			switch q.c[v].Sign() {
			case 0:
				keep = append(keep, q)
			case 1:
				lower = append(lower, q)
			default:
				upper = append(upper, q)
			}
		}
		for _, l := range lower {
			for _, u := range upper {
				c := copyRow(l.c)
				f := new(big.Rat).Quo(l.c[v], u.c[v])
				f.Neg(f)
				for j := range c {
					c[j].Add(c[j], new(big.Rat).Mul(f, u.c[j]))
				}
				keep = append(keep, inequality{c, l.strict || u.strict})
			}
		}
		in = keep
	}
	for _, q := range in {
		if s := q.c[n].Sign(); s < 0 || s == 0 && q.strict {
			return false
		}
	}
	return true
}

func copyRow(r []*big.Rat) []*big.Rat {
	out := make([]*big.Rat, len(r))
	for i := range r {
		out[i] = new(big.Rat).Set(r[i])
	}
	return out
}

// subtract makes row[p] zero with a multiple of by.
func subtract(row, by []*big.Rat, p int) {
	if row[p].Sign() == 0 {
		return
	}
	f := new(big.Rat).Quo(row[p], by[p])
	for j := range row {
		if by[j].Sign() != 0 {
			row[j].Sub(row[j], new(big.Rat).Mul(f, by[j]))
		}
	}
}

// rank is the rank of the rows.
func rank(rows [][]*big.Rat) int {
	a := make([][]*big.Rat, len(rows))
	for i := range rows {
		a[i] = copyRow(rows[i])
	}
	r := 0
	for c := 0; len(a) > 0 && c < len(a[0]); c++ {
		p := r
		for p < len(a) && a[p][c].Sign() == 0 {
			p++
		}
		if p == len(a) {
			continue
		}
		a[r], a[p] = a[p], a[r]
		for i := range a {
			if i != r {
				subtract(a[i], a[r], c)
			}
		}
		r++
	}
	return r
}

// oracle is a train in the oracle's own form: one row per constraint over all
// members but the case.
type oracle struct {
	n       int
	at      map[string]int // member -> column
	rigid   [][]*big.Rat
	oneWay  [][]*big.Rat
	names   []string // of the one-way clutches
	in, out []*big.Rat
}

// newOracle reads the unit afresh, with these elements applied and one fault.
func newOracle(u *engine.Unit, apply []string, f Fault) *oracle {
	o := &oracle{at: map[string]int{}}
	add := func(names ...string) {
		for _, n := range names {
			if _, ok := o.at[n]; !ok && n != engine.CaseMember && n != "" {
				o.at[n] = o.n
				o.n++
			}
		}
	}
	add(u.Train.Input, u.Train.Output)
	for _, g := range u.Train.Gearsets {
		add(g.Sun, g.Carrier, g.Ring)
	}
	for _, e := range u.Elements {
		add(e.A, e.B)
	}
	for _, j := range u.Joints {
		add(j.A, j.B)
	}
	row := func(terms map[string]int64) []*big.Rat {
		r := make([]*big.Rat, o.n)
		for i := range r {
			r[i] = new(big.Rat)
		}
		for n, c := range terms {
			if i, ok := o.at[n]; ok {
				r[i].Add(r[i], big.NewRat(c, 1))
			}
		}
		return r
	}
	o.in, o.out = row(map[string]int64{u.Train.Input: 1}), row(map[string]int64{u.Train.Output: 1})
	for _, g := range u.Train.Gearsets {
		s, r := g.SunTeeth, g.RingTeeth
		if g.Kind == engine.Single {
			o.rigid = append(o.rigid, row(map[string]int64{g.Sun: s, g.Ring: r, g.Carrier: -s - r}))
		} else {
			o.rigid = append(o.rigid, row(map[string]int64{g.Sun: s, g.Ring: -r, g.Carrier: r - s}))
		}
	}
	for _, j := range u.Joints {
		if f.Name != j.Name {
			o.rigid = append(o.rigid, row(map[string]int64{j.A: 1, j.B: -1}))
		}
	}
	on := map[string]bool{}
	for _, n := range apply {
		on[n] = true
	}
	if f.Kind == StaysOn {
		on[f.Name] = true
	}
	for _, e := range u.Elements {
		a, b := e.A, e.B
		faulty := e.Name == f.Name
		switch {
		case e.Kind == engine.ConverterClutch:
		case faulty && (f.Kind == Dead || f.Kind == Slips):
		case e.Kind != engine.OneWay:
			if on[e.Name] {
				o.rigid = append(o.rigid, row(map[string]int64{a: 1, b: -1}))
			}
		case faulty && f.Kind == Seized:
			o.rigid = append(o.rigid, row(map[string]int64{a: 1, b: -1}))
		default:
			if faulty && f.Kind == Reversed {
				a, b = b, a
			}
			o.oneWay = append(o.oneWay, row(map[string]int64{a: 1, b: -1}))
			o.names = append(o.names, e.Name)
		}
	}
	return o
}

// verdict is what the oracle finds. Drive and coast hold the sets of one-way
// clutches that are consistent, by ratio.
type verdict struct {
	class      Class
	outputHeld bool
	speed      *big.Rat
	holds      []uint64   // every consistent set at that speed or tie-up
	coasts     []*big.Rat // output speeds of consistent coasting states
}

func (o *oracle) solve() verdict {
	var v verdict
	for set := range uint64(1) << len(o.oneWay) {
		rows := append([][]*big.Rat(nil), o.rigid...)
		for i, w := range o.oneWay {
			if set>>i&1 == 1 {
				rows = append(rows, w)
			}
		}
		if o.spanned(rows, o.in) {
			if o.balanced(rows, set, big.NewRat(1, 1), new(big.Rat)) {
				v.class = TieUp
				v.holds = append(v.holds, set)
			}
			continue
		}
		speed := o.relation(rows)
		if speed == nil || speed.Sign() == 0 || !o.moves(rows, set, speed) {
			continue
		}
		load := new(big.Rat).Inv(speed)
		load.Neg(load)
		if o.balanced(rows, set, big.NewRat(1, 1), load) {
			if v.class == "" {
				v.class, v.speed = Drives, speed
			}
			if v.class != Drives || v.speed.Cmp(speed) != 0 {
				panic("two consistent states that differ")
			}
			v.holds = append(v.holds, set)
		}
		if o.balanced(rows, set, big.NewRat(-1, 1), load.Neg(load)) {
			v.coasts = append(v.coasts, speed)
		}
	}
	if v.class != "" {
		return v
	}
	if !o.can(0) {
		panic("nothing holds, yet the input cannot turn alone")
	}
	v.class = NoDrive
	if !o.can(1) && !o.can(-1) {
		v.class, v.outputHeld = TieUp, true
	}
	return v
}

func (o *oracle) spanned(rows [][]*big.Rat, x []*big.Rat) bool {
	return rank(rows) == rank(append(rows[:len(rows):len(rows)], x))
}

// relation is r with e_out − r·e_in in the row space, or nil. With x a motion
// that has ω_in = 1, r can only be its ω_out.
func (o *oracle) relation(rows [][]*big.Rat) *big.Rat {
	both := append(rows[:len(rows):len(rows)], o.in)
	if !o.spanned(both, o.out) {
		return nil
	}
	// Solve out = Σ y·rows + r·in for r: bisecting is not exact, so eliminate
	// on the transposed system with r as the last unknown.
	n := len(rows) + 1
	var eqs [][]*big.Rat
	for c := range o.n {
		eq := make([]*big.Rat, n+1)
		for i, r := range both {
			eq[i] = new(big.Rat).Set(r[c])
		}
		eq[n] = new(big.Rat).Neg(o.out[c])
		eqs = append(eqs, eq)
	}
	for len(eqs) > 0 {
		row := eqs[0]
		eqs = eqs[1:]
		p := 0
		for p < n-1 && row[p].Sign() == 0 {
			p++
		}
		if p == n-1 {
			if row[p].Sign() == 0 {
				continue
			}
			r := new(big.Rat).Quo(row[n], row[p])
			return r.Neg(r)
		}
		for i := range eqs {
			subtract(eqs[i], row, p)
		}
	}
	panic("spanned, but without a coefficient")
}

func (o *oracle) constant(r []*big.Rat, c *big.Rat) []*big.Rat {
	return append(r[:len(r):len(r)], c)
}

// moves says whether the train can turn with input 1 and output speed while
// the clutches of set hold and all others have relative speed ≥ 0.
func (o *oracle) moves(rows [][]*big.Rat, set uint64, speed *big.Rat) bool {
	var eqs [][]*big.Rat
	for _, r := range rows {
		eqs = append(eqs, o.constant(r, new(big.Rat)))
	}
	eqs = append(eqs, o.constant(o.in, big.NewRat(-1, 1)), o.constant(o.out, new(big.Rat).Neg(speed)))
	var in []inequality
	for i, w := range o.oneWay {
		if set>>i&1 == 0 {
			in = append(in, inequality{o.constant(w, new(big.Rat)), false})
		}
	}
	return feasible(o.n, eqs, in)
}

// can says whether the input can turn forward, all clutches obeyed, with the
// output standing (0), turning forward (1) or backward (−1).
func (o *oracle) can(sign int) bool {
	var eqs [][]*big.Rat
	for _, r := range o.rigid {
		eqs = append(eqs, o.constant(r, new(big.Rat)))
	}
	eqs = append(eqs, o.constant(o.in, big.NewRat(-1, 1)))
	var in []inequality
	for _, w := range o.oneWay {
		in = append(in, inequality{o.constant(w, new(big.Rat)), false})
	}
	if sign == 0 {
		eqs = append(eqs, o.constant(o.out, new(big.Rat)))
	} else {
		r := copyRow(o.out)
		for i := range r {
			r[i].Mul(r[i], big.NewRat(int64(sign), 1))
		}
		in = append(in, inequality{o.constant(r, new(big.Rat)), true})
	}
	return feasible(o.n, eqs, in)
}

// balanced says whether torques exist that balance every member under tin at
// the input and tout at the output, with every held clutch pushing forward.
func (o *oracle) balanced(rows [][]*big.Rat, set uint64, tin, tout *big.Rat) bool {
	n := len(rows)
	var eqs [][]*big.Rat
	for c := range o.n {
		eq := make([]*big.Rat, n+1)
		for i, r := range rows {
			eq[i] = r[c]
		}
		k := new(big.Rat).Mul(tin, o.in[c])
		eq[n] = k.Add(k, new(big.Rat).Mul(tout, o.out[c]))
		eqs = append(eqs, eq)
	}
	var in []inequality
	for i := len(o.rigid); i < n; i++ {
		c := make([]*big.Rat, n+1)
		for j := range c {
			c[j] = new(big.Rat)
		}
		c[i].SetInt64(1)
		in = append(in, inequality{c, false})
	}
	return feasible(n, eqs, in)
}
