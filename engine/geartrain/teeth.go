package geartrain

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"math/big"
	"slices"
	"sort"

	"slipcase/engine"
)

// What FitTeeth tries. Suns and rings of passenger-car and light-truck units
// lie well within (common practice; all of testdata/geartrains does).
const (
	leastSun, mostSun   = 18, 60
	leastRing, mostRing = 44, 120
	leastPinion         = 12
	mostFits            = 100_000 // sets of proportions kept while rows are joined
	mostSolves          = 200_000 // solutions of a row
)

// Teeth are tooth counts of a unit's gearsets in its order, [sun, ring] each.
type Teeth [][2]int64

// ErrManyTeeth says that the declared ratios leave too much open to be
// searched: state the teeth of one gearset.
var ErrManyTeeth = errors.New("geartrain: too many tooth counts to try")

// FitTeeth finds tooth counts for the gearsets that state none (both counts
// 0), with which every declared ratio prints as it is declared. It gives at
// most most sets, the simplest first, and how many sets of proportions fit in
// all; none fit is no error. All of them print the same table: which one the
// unit has only a count of its teeth can tell.
//
// Simplest are those whose gearsets are all Plain, then those with the fewest
// teeth. Gearsets that share ring and carrier share the ring's count. Suns from
// 18 to 60 teeth, rings from 44 to 120, pinions of 12 and more.
//
// The error is a Problems where the unit is bad otherwise, or ErrManyTeeth.
func FitTeeth(u *engine.Unit, most int) (sets []Teeth, fits int, err error) {
	f, err := newFitter(u)
	if err != nil {
		return nil, 0, err
	}
	if err := f.join(); err != nil {
		return nil, 0, err
	}
	return f.teeth(most)
}

// share is a proportion ring / sun with the tooth counts that have it.
type share struct {
	value float64
	pairs [][2]int64 // fewest teeth first
}

type fitter struct {
	u      *engine.Unit
	m      *Machine
	open   []int     // gearsets without teeth
	shares [][]share // of each open gearset, by value
	known  [][]int   // groups of open gearsets joined so far
	sets   [][][]int // group -> tuples of indices into shares
	solves int
}

func newFitter(u *engine.Unit) (*fitter, error) {
	v := *u
	v.Train.Gearsets = slices.Clone(u.Train.Gearsets)
	f := &fitter{u: &v}
	for i := range v.Train.Gearsets {
		g := &v.Train.Gearsets[i]
		if g.SunTeeth != 0 || g.RingTeeth != 0 {
			continue
		}
		f.open = append(f.open, i)
		g.SunTeeth, g.RingTeeth = 30, 70
		f.shares = append(f.shares, proportions(g.Kind))
	}
	m, err := New(&v)
	if err != nil {
		return nil, err
	}
	f.m = m
	for i := range f.open {
		all := make([][]int, len(f.shares[i]))
		for k := range all {
			all[k] = []int{k}
		}
		f.known, f.sets = append(f.known, []int{i}), append(f.sets, all)
	}
	return f, nil
}

// proportions lists what gearsets within the bounds can have.
func proportions(kind engine.GearsetKind) []share {
	by := map[[2]int64]int{}
	var out []share
	for s := int64(leastSun); s <= mostSun; s++ {
		for r := int64(leastRing); r <= mostRing; r++ {
			// Of a double pinion set two pinions stand in the gap.
			if r-s < 2*leastPinion {
				continue
			}
			d := new(big.Int).GCD(nil, nil, big.NewInt(s), big.NewInt(r)).Int64()
			low := [2]int64{s / d, r / d}
			i, ok := by[low]
			if !ok {
				i = len(out)
				by[low] = i
				out = append(out, share{value: float64(r) / float64(s)})
			}
			out[i].pairs = append(out[i].pairs, [2]int64{s, r})
		}
	}
	for i := range out {
		slices.SortStableFunc(out[i].pairs, func(a, b [2]int64) int {
			return cmp.Or(cmp.Compare(corrected(kind, a), corrected(kind, b)), cmp.Compare(a[0]+a[1], b[0]+b[1]))
		})
	}
	slices.SortFunc(out, func(a, b share) int { return cmp.Compare(a.value, b.value) })
	return out
}

func corrected(kind engine.GearsetKind, p [2]int64) int {
	if Plain(kind, p[0], p[1]) {
		return 0
	}
	return 1
}

// Plain says that a gearset meshes and assembles without a correction: of a
// single-pinion set the pinion, (ring − sun) / 2, is a whole number of teeth;
// and three, four, five or six pinions (or pairs) can be spaced evenly, ring +
// sun being divisible so, of a double-pinion set ring − sun. Makers do build
// others, with shifted profiles and uneven spacing: 42 in 79 of od-simpson-4
// in testdata is one.
func Plain(kind engine.GearsetKind, sun, ring int64) bool {
	sum := ring + sun
	if kind == engine.Double {
		sum = ring - sun
	} else if sum%2 != 0 {
		return false
	}
	return sum%3 == 0 || sum%4 == 0 || sum%5 == 0
}

// speed is the output speed of a row with these proportions of the open
// gearsets, nil where it does not drive.
func (f *fitter) speed(row int, of []int) *big.Rat {
	f.solves++
	m := *f.scratch(of)
	return m.solve(m.rowKey[row]).speed
}

// scratch is the machine with other teeth. Only what solve reads is set.
func (f *fitter) scratch(of []int) *Machine {
	m := &Machine{unit: f.m.unit, members: f.m.members, in: f.m.in, out: f.m.out, links: f.m.links,
		oneWays: f.m.oneWays, joints: f.m.joints, rowKey: f.m.rowKey, gears: slices.Clone(f.m.gears)}
	for i, g := range f.open {
		if of[i] < 0 {
			continue
		}
		p := f.shares[i][of[i]].pairs[0]
		s, r := p[0], p[1]
		if f.u.Train.Gearsets[g].Kind == engine.Double {
			r = -r
		}
		m.gears[g].csun, m.gears[g].ccarr, m.gears[g].crg = s, -(s + r), r
	}
	return m
}

// base is a proportion somewhere in the middle for every gearset.
func (f *fitter) base() []int {
	of := make([]int, len(f.open))
	for i := range of {
		of[i] = len(f.shares[i]) / 2
	}
	return of
}

// matters lists the open gearsets that a row's ratio depends on.
func (f *fitter) matters(row int) []int {
	var out []int
	for i := range f.open {
		differ := false
		var first *big.Rat
		for n, at := range []int{len(f.shares[i]) / 7, len(f.shares[i]) / 2, len(f.shares[i]) * 6 / 7} {
			of := f.base()
			of[i] = at
			v := f.speed(row, of)
			if n == 0 {
				first = v
			} else if (v == nil) != (first == nil) || v != nil && v.Cmp(first) != 0 {
				differ = true
			}
		}
		if differ {
			out = append(out, i)
		}
	}
	return out
}

// join narrows the proportions row by row, rows of few gearsets first.
func (f *fitter) join() error {
	type job struct {
		row  int
		sets []int
	}
	var jobs []job
	for i, r := range f.u.Rows {
		if r.Ratio != nil {
			jobs = append(jobs, job{i, f.matters(i)})
		}
	}
	sort.SliceStable(jobs, func(a, b int) bool { return len(jobs[a].sets) < len(jobs[b].sets) })
	for _, j := range jobs {
		if err := f.row(j.row, j.sets); err != nil {
			return err
		}
	}
	return nil
}

// group is the index of the group that holds an open gearset.
func (f *fitter) group(i int) int {
	return slices.IndexFunc(f.known, func(g []int) bool { return slices.Contains(g, i) })
}

// row keeps what prints as the row's ratio. The last group that the row adds
// is narrowed by inverting the ratio, which is a fractional linear function of
// each proportion.
func (f *fitter) row(row int, sets []int) error {
	if len(sets) == 0 {
		of := f.base()
		if v := f.speed(row, of); v == nil || !printsAs(f.u.Rows[row], inverse(v)) {
			for g := range f.sets {
				f.sets[g] = nil
			}
			if len(f.open) == 0 {
				f.known, f.sets = [][]int{{}}, [][][]int{nil}
			}
		}
		return nil
	}
	var groups []int
	for _, s := range sets {
		if g := f.group(s); !slices.Contains(groups, g) {
			groups = append(groups, g)
		}
	}
	// The largest group last: it is the one that is narrowed by inversion.
	sort.SliceStable(groups, func(a, b int) bool { return len(f.sets[groups[a]]) < len(f.sets[groups[b]]) })
	last := groups[len(groups)-1]
	product := [][]int{f.base()}
	for _, g := range groups[:len(groups)-1] {
		var next [][]int
		for _, p := range product {
			for _, t := range f.sets[g] {
				q := slices.Clone(p)
				for n, i := range f.known[g] {
					q[i] = t[n]
				}
				next = append(next, q)
				if len(next) > mostFits {
					return ErrManyTeeth
				}
			}
		}
		product = next
	}
	var all []int
	for _, g := range groups {
		all = append(all, f.known[g]...)
	}
	var kept [][]int
	keep := func(of []int) error {
		v := f.speed(row, of)
		if v != nil && printsAs(f.u.Rows[row], inverse(v)) {
			t := make([]int, len(all))
			for n, i := range all {
				t[n] = of[i]
			}
			if kept = append(kept, t); len(kept) > mostFits {
				return ErrManyTeeth
			}
		}
		if f.solves > mostSolves {
			return ErrManyTeeth
		}
		return nil
	}
	alone := len(f.known[last]) == 1
	for _, p := range product {
		from, to := 0, len(f.sets[last])
		if alone {
			from, to = f.window(row, p, f.known[last][0], f.sets[last])
		}
		for _, t := range f.sets[last][from:to] {
			of := slices.Clone(p)
			for n, i := range f.known[last] {
				of[i] = t[n]
			}
			if err := keep(of); err != nil {
				return err
			}
		}
	}
	var known [][]int
	var tuples [][][]int
	for g := range f.known {
		if !slices.Contains(groups, g) {
			known, tuples = append(known, f.known[g]), append(tuples, f.sets[g])
		}
	}
	f.known, f.sets = append(known, all), append(tuples, kept)
	return nil
}

// window is which of the tuples of one gearset can print the row's ratio, the
// others being as in of: ratio(x) = (a + b·x) / (c + d·x), known from three
// values, is monotone between its poles. A little more than needed is let
// through; each is then tried exactly.
func (f *fitter) window(row int, of []int, i int, tuples [][]int) (from, to int) {
	n := len(f.shares[i])
	var x, y [3]float64
	for k, at := range []int{n / 9, n / 2, n * 8 / 9} {
		q := slices.Clone(of)
		q[i] = at
		v := f.speed(row, q)
		if v == nil {
			return 0, len(tuples)
		}
		x[k] = f.shares[i][at].value
		y[k], _ = inverse(v).Float64()
	}
	// x as a function of y is fractional linear too: cross ratios are kept.
	back := func(v float64) float64 {
		k := (v - y[0]) * (y[1] - y[2]) / ((v - y[2]) * (y[1] - y[0]))
		h := k * (x[1] - x[0]) / (x[1] - x[2])
		return (x[0] - h*x[2]) / (1 - h)
	}
	lo, hi := printed(f.u.Rows[row])
	a, _ := lo.Float64()
	b, _ := hi.Float64()
	if f.u.Rows[row].Ratio.Sign() < 0 {
		a, b = -a, -b
	}
	p, q := back(a), back(b)
	if math.IsNaN(p) || math.IsNaN(q) || math.IsInf(p, 0) || math.IsInf(q, 0) {
		return 0, len(tuples)
	}
	if p > q {
		p, q = q, p
	}
	const slack = 1e-6 // far above rounding, far below a tooth
	value := func(t []int) float64 { return f.shares[i][t[0]].value }
	from = sort.Search(len(tuples), func(k int) bool { return value(tuples[k]) >= p-slack })
	to = sort.Search(len(tuples), func(k int) bool { return value(tuples[k]) > q+slack })
	return from, to
}

// teeth turns proportions into counts, the simplest first.
func (f *fitter) teeth(most int) ([]Teeth, int, error) {
	sets := [][]int{f.base()}
	for g := range f.known {
		var next [][]int
		for _, p := range sets {
			for _, t := range f.sets[g] {
				q := slices.Clone(p)
				for n, i := range f.known[g] {
					q[i] = t[n]
				}
				if next = append(next, q); len(next) > mostFits {
					return nil, 0, ErrManyTeeth
				}
			}
		}
		sets = next
	}
	var out []Teeth
	for _, of := range sets {
		if t := f.counts(of); t != nil {
			out = append(out, t)
		}
	}
	fits := len(out)
	total := func(t Teeth) (n int64) {
		for _, p := range t {
			n += p[0] + p[1]
		}
		return n
	}
	uneven := func(t Teeth) (n int) {
		for i, p := range t {
			n += corrected(f.u.Train.Gearsets[i].Kind, p)
		}
		return n
	}
	slices.SortStableFunc(out, func(a, b Teeth) int {
		return cmp.Or(cmp.Compare(uneven(a), uneven(b)), cmp.Compare(total(a), total(b)))
	})
	return out[:min(most, len(out))], fits, nil
}

// counts picks the smallest tooth counts with these proportions that share
// what has to be shared; nil when none do.
func (f *fitter) counts(of []int) Teeth {
	t := make(Teeth, len(f.u.Train.Gearsets))
	for i, g := range f.u.Train.Gearsets {
		t[i] = [2]int64{g.SunTeeth, g.RingTeeth}
	}
	at := map[int]int{} // gearset -> open index
	for i, g := range f.open {
		at[g] = i
		t[g] = f.shares[i][of[i]].pairs[0]
	}
	for g, a := range f.u.Train.Gearsets {
		for h := range g {
			b := f.u.Train.Gearsets[h]
			if a.Ring != b.Ring || a.Carrier != b.Carrier {
				continue
			}
			if !f.sameRing(t, at, of, h, g) {
				return nil
			}
		}
	}
	return t
}

// sameRing gives gearsets h and g, on one carrier in one ring, the smallest
// common count of ring teeth.
func (f *fitter) sameRing(t Teeth, at map[int]int, of []int, h, g int) bool {
	pairs := func(g int) [][2]int64 {
		if i, ok := at[g]; ok {
			return f.shares[i][of[i]].pairs
		}
		return [][2]int64{t[g]}
	}
	for _, p := range pairs(h) {
		for _, q := range pairs(g) {
			if p[1] == q[1] {
				t[h], t[g] = p, q
				return true
			}
		}
	}
	return false
}

// String writes the counts as a unit file does: "[30, 70] [28, 62]".
func (t Teeth) String() string {
	s := ""
	for i, p := range t {
		if i > 0 {
			s += " "
		}
		s += fmt.Sprintf("[%d, %d]", p[0], p[1])
	}
	return s
}
