package geartrain

import (
	"fmt"
	"math/big"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"slipcase/engine"
)

// same says whether two states agree in what a driver could notice.
func same(a, b *State) bool {
	return a.Class == b.Class && a.OutputHeld == b.OutputHeld && equal(a.Ratio, b.Ratio) &&
		a.EngineBraking == b.EngineBraking && a.CoastClass == b.CoastClass && equal(a.CoastRatio, b.CoastRatio)
}

func equal(a, b *big.Rat) bool {
	if a == nil || b == nil {
		return a == b
	}
	return a.Cmp(b) == 0
}

// identical says whether two states agree in everything but pointers.
func identical(a, b *State) bool {
	show := func(m map[string]*big.Rat) map[string]string {
		out := map[string]string{}
		for k, v := range m {
			out[k] = fmt.Sprint(v)
		}
		return out
	}
	return same(a, b) && slices.Equal(a.Holding, b.Holding) && slices.Equal(a.Overrunning, b.Overrunning) && slices.Equal(a.Standing, b.Standing) &&
		slices.Equal(a.CoastHolding, b.CoastHolding) && reflect.DeepEqual(a.blocks, b.blocks) &&
		reflect.DeepEqual(show(a.Speeds), show(b.Speeds)) &&
		reflect.DeepEqual(show(a.Slips), show(b.Slips)) &&
		reflect.DeepEqual(show(a.Torques), show(b.Torques))
}

// checkBalance checks every member's torque balance, that no gearset and no
// element makes or eats power, and that what goes in comes out.
func checkBalance(t failer, u *engine.Unit, st *State) (settled bool) {
	t.Helper()
	if st.Torques == nil {
		return false
	}
	sum := map[string]*big.Rat{}
	for name := range newOracle(u, nil, Fault{}).at {
		sum[name] = new(big.Rat)
	}
	loose := map[string]bool{} // members on which some torque is not settled
	settled = true
	on := func(member, torque string, sign int64) {
		v, ok := st.Torques[torque]
		switch {
		case !ok || sum[member] == nil:
		case v == nil:
			loose[member], settled = true, false
		default:
			sum[member].Add(sum[member], new(big.Rat).Mul(v, big.NewRat(sign, 1)))
		}
	}
	for _, g := range u.Train.Gearsets {
		power, known := new(big.Rat), true
		for _, p := range [][2]string{{g.Sun, "sun"}, {g.Carrier, "carrier"}, {g.Ring, "ring"}} {
			on(p[0], g.Name+"."+p[1], 1)
			tq, w := st.Torques[g.Name+"."+p[1]], st.Speeds[p[0]]
			switch {
			case tq != nil && tq.Sign() == 0:
			case tq == nil || w == nil:
				known = false
			default:
				power.Add(power, new(big.Rat).Mul(tq, w))
			}
		}
		if known && power.Sign() != 0 {
			t.Fatalf("gearset %s makes power %s", g.Name, power)
		}
	}
	for _, e := range u.Elements {
		on(e.A, e.Name, 1)
		on(e.B, e.Name, -1)
	}
	for _, j := range u.Joints {
		on(j.A, j.Name, 1)
		on(j.B, j.Name, -1)
	}
	for name, slip := range st.Slips { // none when the input cannot turn
		if tq := st.Torques[name]; tq != nil && tq.Sign() != 0 && (slip == nil || slip.Sign() != 0) {
			t.Fatalf("%s carries %s and slips %v", name, tq, slip)
		}
	}
	// Turbine and load.
	in, out := u.Train.Input, u.Train.Output
	sum[in].Add(sum[in], big.NewRat(1, 1))
	if st.Class == Drives {
		sum[out].Sub(sum[out], st.Ratio)
	}
	for name, s := range sum {
		if !loose[name] && s.Sign() != 0 {
			t.Fatalf("member %s has %s torque left over", name, s)
		}
	}
	if st.Class == Drives {
		power := new(big.Rat).Mul(st.Ratio, st.Speeds[out])
		if st.Speeds[in].Cmp(big.NewRat(1, 1)) != 0 || power.Cmp(big.NewRat(1, 1)) != 0 {
			t.Fatalf("input speed %s, power out %s", st.Speeds[in], power)
		}
	}
	return settled
}

func TestBalanceOnPublishedUnits(t *testing.T) {
	settled := map[Class]int{}
	for _, tb := range readTables(t) {
		u := tb.unit()
		m := mustNew(t, u)
		for i := range m.Rows() {
			for _, f := range rowFaults(m) {
				if st := m.Under(i, f); checkBalance(t, u, st) {
					settled[st.Class]++
				}
			}
		}
	}
	if settled[Drives] < 100 || settled[TieUp] < 10 {
		t.Errorf("states with every torque settled: %v", settled)
	}
}

func TestBalance(t *testing.T) {
	settled := 0
	rapid.Check(t, func(t *rapid.T) {
		u, m := drawDriven(t)
		for i := range m.Rows() {
			if checkBalance(t, u, m.Row(i)) {
				settled++
			}
		}
	})
	if settled == 0 {
		t.Error("no state with every torque settled")
	}
}

// An element that carries no settled torque can go without changing the ratio;
// in a train without one-way clutches, that could take over, one that carries
// some cannot.
func TestTorqueTellsWhatIsNeeded(t *testing.T) {
	needed, spare := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		u, m := drawDriven(t)
		oneWay := slices.ContainsFunc(u.Elements, func(e engine.Element) bool { return e.Kind == engine.OneWay })
		for i := range m.Rows() {
			st := m.Row(i)
			for _, f := range m.Faults() {
				tq, on := st.Torques[f.Name]
				if !on || f.Kind != Dead && f.Kind != Broken && f.Kind != Slips {
					continue
				}
				now := m.Under(i, f)
				kept := now.Class == Drives && equal(now.Ratio, st.Ratio)
				if tq == nil || tq.Sign() == 0 {
					spare++
					if !kept {
						t.Fatalf("%s %s: torque %v, yet %s at %v", u.Rows[i].Name(), f, tq, now.Class, now.Ratio)
					}
				} else if !oneWay {
					needed++
					if kept {
						t.Fatalf("%s %s: torque %v, yet the ratio stays", u.Rows[i].Name(), f, tq)
					}
				}
			}
		}
	})
	if needed == 0 || spare == 0 {
		t.Errorf("%d needed, %d spare elements seen", needed, spare)
	}
}

func TestScalingTeethChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := drawUnit(t, 90)
		m, err := New(u)
		if err != nil {
			t.Fatal(err)
		}
		v := *u
		v.Train.Gearsets = slices.Clone(u.Train.Gearsets)
		for i := range v.Train.Gearsets {
			k := rapid.Int64Range(1, 10_000).Draw(t, "factor")
			v.Train.Gearsets[i].SunTeeth *= k
			v.Train.Gearsets[i].RingTeeth *= k
		}
		n, err := New(&v)
		if err != nil {
			t.Fatal(err)
		}
		for i := range m.Rows() {
			for _, f := range rowFaults(m) {
				if !identical(m.Under(i, f), n.Under(i, f)) {
					t.Fatalf("%s %s: %+v, scaled %+v", m.RowName(i), f, m.Under(i, f), n.Under(i, f))
				}
			}
		}
	})
}

func TestRenamingMembersChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := drawUnit(t, 90)
		m, err := New(u)
		if err != nil {
			t.Fatal(err)
		}
		names := m.Members()
		to := map[string]string{engine.CaseMember: engine.CaseMember}
		for i, p := range rapid.Permutation(names[1:]).Draw(t, "names") {
			to[names[i+1]] = p
		}
		v := *u
		v.Train.Input, v.Train.Output = to[u.Train.Input], to[u.Train.Output]
		v.Train.Gearsets = slices.Clone(u.Train.Gearsets)
		for i, g := range v.Train.Gearsets {
			g.Sun, g.Carrier, g.Ring = to[g.Sun], to[g.Carrier], to[g.Ring]
			v.Train.Gearsets[i] = g
		}
		v.Elements = slices.Clone(u.Elements)
		for i := range v.Elements {
			v.Elements[i].A, v.Elements[i].B = to[v.Elements[i].A], to[v.Elements[i].B]
		}
		v.Joints = slices.Clone(u.Joints)
		for i := range v.Joints {
			v.Joints[i].A, v.Joints[i].B = to[v.Joints[i].A], to[v.Joints[i].B]
		}
		n, err := New(&v)
		if err != nil {
			t.Fatal(err)
		}
		for i := range m.Rows() {
			for _, f := range rowFaults(m) {
				a := *m.Under(i, f)
				if a.Speeds != nil {
					speeds := map[string]*big.Rat{}
					for name, s := range a.Speeds {
						speeds[to[name]] = s
					}
					a.Speeds = speeds
				}
				if b := n.Under(i, f); !identical(&a, b) {
					t.Fatalf("%s %s: %+v, renamed %+v", m.RowName(i), f, &a, b)
				}
			}
		}
	})
}

// A joint between members whose speeds the other constraints make equal
// anyway, or a second copy of a gearset, changes nothing that can be noticed.
func TestImpliedConstraintChangesNothing(t *testing.T) {
	added := 0
	rapid.Check(t, func(t *rapid.T) {
		u := drawUnit(t, 90)
		m, err := New(u)
		if err != nil {
			t.Fatal(err)
		}
		row := rapid.IntRange(0, m.Rows()-1).Draw(t, "row")
		o := newOracle(u, u.Rows[row].Apply, Fault{})
		v := *u
		v.Joints = slices.Clone(u.Joints)
		v.Train.Gearsets = append(slices.Clone(u.Train.Gearsets), u.Train.Gearsets[0])
		v.Train.Gearsets[len(u.Train.Gearsets)].Name = "copy"
		names := m.Members()
		for i, a := range names {
			for _, b := range names[i+1:] {
				diff := make([]*big.Rat, o.n)
				for j := range diff {
					diff[j] = new(big.Rat)
				}
				diff[o.at[b]].SetInt64(-1)
				if a != engine.CaseMember {
					diff[o.at[a]].SetInt64(1)
				}
				if o.spanned(o.rigid, diff) {
					v.Joints = append(v.Joints, engine.Joint{Name: "implied_" + a + b, A: a, B: b})
					added++
				}
			}
		}
		n, err := New(&v)
		if err != nil {
			t.Fatal(err)
		}
		if !same(m.Row(row), n.Row(row)) {
			t.Fatalf("%+v, with implied joints %+v", m.Row(row), n.Row(row))
		}
	})
	if added == 0 {
		t.Error("no implied joint was added")
	}
}

// twoReverse is an invented train with two reverse gears: an underdrive set
// with a one-way clutch ahead of a reversing set.
func twoReverse() *engine.Unit {
	return &engine.Unit{
		ID: "two-reverse",
		Train: engine.Train{Input: "in", Output: "out", Gearsets: []engine.Gearset{
			{Name: "under", Kind: engine.Single, Sun: "small", Carrier: "mid", Ring: "in", SunTeeth: 30, RingTeeth: 70},
			{Name: "back", Kind: engine.Single, Sun: "mid", Carrier: "held", Ring: "out", SunTeeth: 40, RingTeeth: 90},
		}},
		Elements: []engine.Element{
			{Name: "direct", Kind: engine.Clutch, A: "in", B: "mid"},
			{Name: "reverse", Kind: engine.Brake, A: "held"},
			{Name: "forward", Kind: engine.Clutch, A: "mid", B: "out"},
			{Name: "roller", Kind: engine.OneWay, A: "small", B: engine.CaseMember},
			{Name: "park", Kind: engine.Brake, A: "out"}, // holds the output, not the input
		},
		Rows: []engine.Row{
			{Range: "R", Gear: "R1", Apply: []string{"reverse"}},
			{Range: "R", Gear: "R2", Apply: []string{"reverse", "direct"}},
			{Range: "D", Gear: "1", Apply: []string{"forward"}},
			{Range: "D", Gear: "2", Apply: []string{"forward", "direct"}},
			{Range: "P", Gear: "P", Apply: []string{"park"}},
		},
	}
}

// pairs is every single fault and every pair of them.
func pairs(m *Machine) [][]Fault {
	var out [][]Fault
	all := m.Faults()
	for i, f := range all {
		out = append(out, []Fault{f})
		for _, g := range all[i+1:] {
			out = append(out, []Fault{f, g})
		}
	}
	return out
}

// Change says of two states what their own fields say.
func TestChangeComparesStates(t *testing.T) {
	seen := map[string]int{}
	check := func(t failer, m *Machine, faults [][]Fault) {
		t.Helper()
		for i := range m.Rows() {
			for _, f := range faults {
				a, b, c := m.Row(i), m.Under(i, f...), m.Change(i, f...)
				want := Change{Class: b.Class, Ratio: b.Ratio}
				both := a.Class == Drives && b.Class == Drives
				if b.Ratio != nil {
					want.Sense = b.Ratio.Sign()
				}
				if both && a.Ratio.Sign() == b.Ratio.Sign() {
					d := new(big.Rat).Abs(b.Ratio).Cmp(new(big.Rat).Abs(a.Ratio))
					want.Lower, want.Higher = d > 0, d < 0
				}
				want.Reverse = both && a.Ratio.Sign() != b.Ratio.Sign()
				want.DrivesInNeutral = a.Class == NoDrive && b.Class == Drives
				if both {
					want.LostBraking, want.ExtraBraking = a.EngineBraking && !b.EngineBraking, b.EngineBraking && !a.EngineBraking
				}
				if a.Class == NoDrive && b.Class == NoDrive {
					want.LostBraking, want.ExtraBraking = a.CoastClass == Drives && b.CoastClass == NoDrive, b.CoastClass == Drives && a.CoastClass == NoDrive
				}
				want.Same = a.Class == b.Class && a.OutputHeld == b.OutputHeld && equal(a.Ratio, b.Ratio) && !want.LostBraking && !want.ExtraBraking
				want.ActsAs = c.ActsAs
				if c.ActsAs != "" && (b.Class != Drives || equal(a.Ratio, b.Ratio) || !equal(m.Gear(c.ActsAs), b.Ratio)) {
					t.Fatalf("%s %s: acts as %s", m.RowName(i), f, c.ActsAs)
				}
				if !equal(c.Ratio, want.Ratio) {
					t.Fatalf("%s %s: ratio %v, want %v", m.RowName(i), f, c.Ratio, want.Ratio)
				}
				want.Ratio = c.Ratio
				if c != want {
					t.Fatalf("%s %s: %+v, want %+v", m.RowName(i), f, c, want)
				}
				for name, hit := range map[string]bool{"lower": c.Lower, "higher": c.Higher, "reverse": c.Reverse, "lost": c.LostBraking, "extra": c.ExtraBraking, "neutral": c.DrivesInNeutral, "same": c.Same, "acts": c.ActsAs != "", "back": c.Lower && c.Sense < 0} {
					if hit {
						seen[name]++
					}
				}
			}
		}
	}
	check(t, mustNew(t, twoReverse()), pairs(mustNew(t, twoReverse())))
	for _, tb := range readTables(t) {
		m := mustNew(t, tb.unit())
		check(t, m, pairs(m))
	}
	rapid.Check(t, func(t *rapid.T) {
		u, _ := drawDriven(t)
		// A row without drive, where there is one.
		u.Rows = append(u.Rows, engine.Row{Range: "N", Gear: "N"})
		m, err := New(u)
		if err != nil {
			t.Fatal(err)
		}
		check(t, m, pairs(m))
	})
	for _, name := range []string{"lower", "higher", "reverse", "lost", "extra", "neutral", "same", "acts", "back"} {
		if seen[name] == 0 {
			t.Errorf("no change of the sort %q was seen", name)
		}
	}
}

// Products beyond 64 bits: 2^40 · 2^40 is not computed modulo 2^64.
func TestEliminationDoesNotWrap(t *testing.T) {
	for _, k := range []int64{limit64 - 1, limit64, 1 << 40, 1 << 62} {
		// Column 2 is 1·column 0 + 0·column 1.
		a := []int64{k - 1, k - 3, k - 1, k - 5, k - 2, k - 5, 1, k - 7, 1}
		e := reduce(a, 3, 3, 2)
		if !e.spans(2) || e.coef(0, 2).Cmp(big.NewRat(1, 1)) != 0 || e.coefSign(1, 2) != 0 {
			t.Errorf("k = %d: spans %v, %s and %s", k, e.spans(2), e.coef(0, 2), e.coef(1, 2))
		}
		if k > limit64 && e.big == nil {
			t.Errorf("k = %d: done in 64 bits", k)
		}
	}
}

// The 64-bit elimination and the one on big integers reduce any matrix to the
// same rational rows, drawn ones and some that are sure to be too large.
func TestEliminationsAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rows, cols := rapid.IntRange(0, 7).Draw(t, "rows"), rapid.IntRange(1, 9).Draw(t, "cols")
		span := rapid.IntRange(0, cols).Draw(t, "span")
		top := rapid.SampledFrom([]int64{1, 3, 100, 1_000_000, 1 << 40}).Draw(t, "largest")
		a := make([]int64, rows*cols)
		for i := range a {
			if rapid.Bool().Draw(t, "zero") {
				a[i] = rapid.Int64Range(-top, top).Draw(t, "entry")
			}
		}
		agree(t, a, rows, cols, span)
	})
	large := 0
	rng := rand.New(rand.NewPCG(3, 64))
	for range 100 {
		a := make([]int64, 6*8)
		for i := range a {
			a[i] = rng.Int64N(1<<41) - 1<<40
		}
		if agree(t, a, 6, 8, 6) {
			large++
		}
	}
	if large < 50 {
		t.Errorf("%d of 100 were too large for 64 bits", large)
	}
}

// agree compares the two eliminations of a matrix and tells whether it was too
// large for 64 bits.
func agree(t interface{ Fatalf(string, ...any) }, a []int64, rows, cols, span int) (large bool) {
	e, b := reduce(slices.Clone(a), rows, cols, span), reduceBig(a, rows, cols, span)
	if !slices.Equal(e.pivots, b.pivots) || !slices.Equal(e.rowOf, b.rowOf) {
		t.Fatalf("pivots %v and %v", e.pivots, b.pivots)
	}
	for j := range cols {
		if e.spans(j) != b.spans(j) {
			t.Fatalf("column %d spanned: %v and %v", j, e.spans(j), b.spans(j))
		}
		if !e.spans(j) {
			continue // coefficients then depend on the choice of rows
		}
		for p := range span {
			if x, y := e.coef(p, j), b.coef(p, j); x.Cmp(y) != 0 || x.Sign() != e.coefSign(p, j) || y.Sign() != b.coefSign(p, j) {
				t.Fatalf("coefficient of %d by %d: %s and %s", j, p, x, y)
			}
		}
	}
	return e.big != nil
}

// Units with teeth near the limit go through big integers; the answers are
// still those of the oracle.
func TestLargeTeeth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := drawUnit(t, maxTeeth)
		m, err := New(u)
		if err != nil {
			t.Fatal(err)
		}
		compare(t, u, m, 0, Fault{})
	})
}
