package geartrain

import (
	"cmp"
	"math/big"
	"slices"
	"strconv"

	"slipcase/engine"
)

// EditKind is one way to change a unit file so that chart and train agree.
type EditKind string

// The edits, the likeliest slip of the pen first.
const (
	EditApply    EditKind = "apply"    // apply the element in the row too
	EditRelease  EditKind = "release"  // do not apply it there
	EditReplace  EditKind = "replace"  // apply With in the place of Name there
	EditExchange EditKind = "exchange" // Row applies what stands in the row With, and the other way
	EditTurn     EditKind = "turn"     // the one-way clutch the other way around
	EditMember   EditKind = "member"   // the element on the member With in the place of Got
	EditSwap     EditKind = "swap"     // sun and ring of the gearset exchanged
	EditTeeth    EditKind = "teeth"    // one of the tooth counts of the gearset another
	EditPinions  EditKind = "pinions"  // single pinion for double, or the other way
	EditRatio    EditKind = "ratio"    // the row's ratio as the train gives it
	EditHolding  EditKind = "holding"  // what holds in the row as the train gives it
	EditBraking  EditKind = "braking"  // engine braking as the train gives it
	mostGlobal            = 64
	mostRowEdits          = 400
)

// Edit is one change. Name is the element or gearset; Row the row, "" for a
// change of the train; Got what the train gives, for EditRatio (digits as
// printed), EditHolding (names); for EditTeeth both counts as they would be, for
// EditMember the member that it is on now.
type Edit struct {
	Kind EditKind
	Row  string
	Name string
	With string
	Got  []string
}

// Disagree lists the rows, by index, in which chart and train do not agree:
// that do not drive though they should, drive though they should not, or whose
// declared ratio, holding clutches or engine braking are not the train's.
func (m *Machine) Disagree() []int {
	var out []int
	for i := range m.rowKey {
		if !m.agrees(i) {
			out = append(out, i)
		}
	}
	return out
}

func (m *Machine) agrees(i int) bool {
	r := m.unit.Rows[i]
	st := m.Row(i)
	if r.Gear == "N" || r.Gear == "P" {
		return st.Class != Drives
	}
	if st.Class != Drives {
		return false
	}
	ratio, _ := m.RatioMatches(i)
	holding, _ := m.HoldingMatches(i)
	braking, _ := m.BrakingMatches(i)
	return ratio && holding && braking
}

// Repairs finds the smallest sets of edits with which every row agrees: at
// most one change of the train and one change of each row that still
// disagrees then. Sets of one size are all given, up to most, those first
// that change what was drawn rather than what was printed (a ratio is copied
// from a table, an element is put into a chart by eye). None when the unit
// agrees already, cannot be built, or no such set is found.
func Repairs(u *engine.Unit, most int) [][]Edit {
	m, err := New(u)
	if err != nil || len(m.Disagree()) == 0 {
		return nil
	}
	var best [][]Edit
	size := len(u.Rows) + 2
	try := func(g Edit) {
		v := u
		n := 0
		if g.Kind != "" {
			v, n = Edited(u, g), 1
		}
		mv, err := New(v)
		if err != nil {
			return
		}
		bad := mv.Disagree()
		if n+len(bad) > size {
			return
		}
		sets := [][]Edit{{}}
		if n == 1 {
			sets = [][]Edit{{g}}
		}
		for _, i := range bad {
			var next [][]Edit
			edits := mv.rowEdits(v, i)
			for _, s := range sets {
				for _, e := range edits {
					if len(next) < most {
						next = append(next, append(slices.Clone(s), e))
					}
				}
			}
			sets = next
		}
		if len(sets) == 0 {
			return
		}
		if n+len(bad) < size {
			size, best = n+len(bad), nil
		}
		best = append(best, sets...)
	}
	for _, g := range slices.Concat([]Edit{{}}, trainEdits(u), m.exchanges(), toothEdits(u)) {
		try(g)
	}
	if size > 1 { // many to try, and seldom what went wrong
		for _, g := range memberEdits(u) {
			try(g)
		}
	}
	if size > 2 { // a tooth count, and a row that is wrong by itself
		for _, i := range m.Disagree() {
			v := *u
			v.Rows = slices.Delete(slices.Clone(u.Rows), i, i+1)
			for _, g := range toothEdits(&v) {
				if !slices.ContainsFunc(best, func(s []Edit) bool {
					return s[0].Kind == EditTeeth && s[0].Name == g.Name && slices.Equal(s[0].Got, g.Got)
				}) {
					try(g)
				}
			}
		}
	}
	rank := []EditKind{EditTurn, EditExchange, EditApply, EditRelease, EditReplace, EditMember, EditSwap, EditTeeth, EditPinions, EditHolding, EditBraking, EditRatio}
	worst := func(s []Edit) (w int) {
		for _, e := range s {
			w = max(w, slices.Index(rank, e.Kind))
		}
		return w
	}
	slices.SortStableFunc(best, func(a, b []Edit) int { return cmp.Compare(worst(a), worst(b)) })
	return best[:min(most, len(best))]
}

// exchanges are the pairs of rows of one range that disagree: each may stand on
// the other's line.
func (m *Machine) exchanges() []Edit {
	bad := m.Disagree()
	var out []Edit
	for a, i := range bad {
		for _, j := range bad[a+1:] {
			if x, y := m.unit.Rows[i], m.unit.Rows[j]; x.Range == y.Range && len(out) < mostGlobal {
				out = append(out, Edit{Kind: EditExchange, Row: x.Name(), With: y.Name()})
			}
		}
	}
	return out
}

// trainEdits are the single changes of a train.
func trainEdits(u *engine.Unit) []Edit {
	var out []Edit
	for _, e := range u.Elements {
		if e.Kind == engine.OneWay {
			out = append(out, Edit{Kind: EditTurn, Name: e.Name})
		}
	}
	for _, g := range u.Train.Gearsets {
		out = append(out, Edit{Kind: EditSwap, Name: g.Name}, Edit{Kind: EditPinions, Name: g.Name})
	}
	return out[:min(len(out), mostGlobal)]
}

// memberEdits put one end of one element on another member.
func memberEdits(u *engine.Unit) []Edit {
	var members []string
	add := func(list ...string) {
		for _, n := range list {
			if n != engine.CaseMember && !slices.Contains(members, n) {
				members = append(members, n)
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
	var out []Edit
	for _, e := range u.Elements {
		for _, was := range []string{e.A, e.B} {
			for _, n := range members {
				if was != engine.CaseMember && was != "" && n != e.A && n != e.B && len(out) < mostRowEdits {
					out = append(out, Edit{Kind: EditMember, Name: e.Name, With: n, Got: []string{was}})
				}
			}
		}
	}
	return out
}

// toothEdits are single tooth counts with which every declared ratio comes out,
// the nearest to what stands there for each gearset.
func toothEdits(u *engine.Unit) []Edit {
	var out []Edit
	for i, g := range u.Train.Gearsets {
		v := *u
		v.Train.Gearsets = slices.Clone(u.Train.Gearsets)
		v.Train.Gearsets[i].SunTeeth, v.Train.Gearsets[i].RingTeeth = 0, 0
		sets, _, err := FitTeeth(&v, mostGlobal)
		if err != nil {
			continue
		}
		best, far := [2]int64{}, int64(-1)
		take := func(sun, ring int64) {
			d := max(sun-g.SunTeeth, g.SunTeeth-sun) + max(ring-g.RingTeeth, g.RingTeeth-ring)
			if d > 0 && (far < 0 || d < far) {
				best, far = [2]int64{sun, ring}, d
			}
		}
		for _, s := range sets { // the proportion counts: one of the two stays
			if sun, ring := s[i][0], s[i][1]; g.RingTeeth*sun%ring == 0 {
				take(g.RingTeeth*sun/ring, g.RingTeeth)
			}
			if sun, ring := s[i][0], s[i][1]; g.SunTeeth*ring%sun == 0 {
				take(g.SunTeeth, g.SunTeeth*ring/sun)
			}
		}
		if far > 0 {
			out = append(out, Edit{Kind: EditTeeth, Name: g.Name, Got: []string{strconv.FormatInt(best[0], 10), strconv.FormatInt(best[1], 10)}})
		}
	}
	return out
}

// Edited is a copy of the unit with one change built in: the edits of a set that
// Repairs gives, one after the other, mend the unit.
func Edited(u *engine.Unit, e Edit) *engine.Unit {
	v := *u
	v.Elements, v.Rows = slices.Clone(u.Elements), slices.Clone(u.Rows)
	v.Train.Gearsets = slices.Clone(u.Train.Gearsets)
	for i := range v.Elements {
		if x := &v.Elements[i]; e.Kind == EditTurn && x.Name == e.Name {
			x.A, x.B = x.B, x.A
		} else if e.Kind == EditMember && x.Name == e.Name {
			if x.A == e.Got[0] {
				x.A = e.With
			} else {
				x.B = e.With
			}
		}
	}
	for i := range v.Train.Gearsets {
		g := &v.Train.Gearsets[i]
		switch {
		case g.Name != e.Name:
		case e.Kind == EditSwap:
			g.Sun, g.Ring = g.Ring, g.Sun
		case e.Kind == EditTeeth:
			g.SunTeeth, _ = strconv.ParseInt(e.Got[0], 10, 64)
			g.RingTeeth, _ = strconv.ParseInt(e.Got[1], 10, 64)
		case e.Kind == EditPinions && g.Kind == engine.Single:
			g.Kind = engine.Double
		case e.Kind == EditPinions:
			g.Kind = engine.Single
		}
	}
	for i := range v.Rows {
		r := &v.Rows[i]
		if r.Name() != e.Row {
			continue
		}
		if j := slices.IndexFunc(v.Rows, func(o engine.Row) bool { return o.Name() == e.With }); e.Kind == EditExchange && j >= 0 {
			r.Apply, v.Rows[j].Apply = v.Rows[j].Apply, r.Apply
		}
		switch e.Kind {
		case EditRatio:
			r.RatioText = e.Got[0]
			r.Ratio, _ = new(big.Rat).SetString(e.Got[0])
		case EditHolding:
			r.Holding = e.Got
		case EditBraking:
			other := r.EngineBraking == nil || !*r.EngineBraking
			r.EngineBraking = &other
		case EditApply:
			r.Apply = append(slices.Clone(r.Apply), e.Name)
		case EditRelease:
			r.Apply = slices.DeleteFunc(slices.Clone(r.Apply), func(s string) bool { return s == e.Name })
		case EditReplace:
			r.Apply = slices.Clone(r.Apply)
			for k, s := range r.Apply {
				if s == e.Name {
					r.Apply[k] = e.With
				}
			}
		}
	}
	return &v
}

// rowEdits are the single changes of row i that make it agree: an element in,
// out or another, and where the row drives what was printed of it.
func (m *Machine) rowEdits(u *engine.Unit, i int) []Edit {
	r := u.Rows[i]
	var try []Edit
	for _, e := range u.Elements {
		if e.Kind == engine.OneWay || e.Kind == engine.ConverterClutch {
			continue
		}
		if slices.Contains(r.Apply, e.Name) {
			try = append(try, Edit{Kind: EditRelease, Row: r.Name(), Name: e.Name})
			continue
		}
		try = append(try, Edit{Kind: EditApply, Row: r.Name(), Name: e.Name})
		for _, off := range r.Apply {
			if !m.outside[off] {
				try = append(try, Edit{Kind: EditReplace, Row: r.Name(), Name: off, With: e.Name})
			}
		}
	}
	var out []Edit
	for n, e := range try {
		if n == mostRowEdits {
			break
		}
		v := Edited(u, e)
		k := m.applied(v.Rows[i].Apply)
		if m.would(v, i, k) {
			out = append(out, e)
		}
	}
	if r.Gear == "N" || r.Gear == "P" || m.Row(i).Class != Drives {
		return out
	}
	ratio, got := m.RatioMatches(i)
	holding, names := m.HoldingMatches(i)
	braking, _ := m.BrakingMatches(i)
	switch {
	case !ratio && holding && braking:
		out = append(out, Edit{Kind: EditRatio, Row: r.Name(), Got: []string{got}})
	case ratio && !holding && braking:
		out = append(out, Edit{Kind: EditHolding, Row: r.Name(), Got: names})
	case ratio && holding && !braking:
		out = append(out, Edit{Kind: EditBraking, Row: r.Name()})
	}
	return out
}

// would tells whether row i agrees with these constraints on. The holding
// clutches that the chart declares are compared only where they are stated.
func (m *Machine) would(u *engine.Unit, i int, k key) bool {
	n := &Machine{unit: u, members: m.members, index: m.index, in: m.in, out: m.out, gears: m.gears, links: m.links,
		linkOf: m.linkOf, oneWays: m.oneWays, joints: m.joints, outside: m.outside,
		rowKey: slices.Clone(m.rowKey), outcomes: map[key]*outcome{}, states: map[key]*State{}}
	n.rowKey[i] = k
	return n.agrees(i)
}
