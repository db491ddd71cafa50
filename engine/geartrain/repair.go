package geartrain

import (
	"cmp"
	"slices"

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
	EditTurn     EditKind = "turn"     // the one-way clutch the other way round
	EditSwap     EditKind = "swap"     // sun and ring of the gearset exchanged
	EditPinions  EditKind = "pinions"  // single pinion for double, or the other way
	EditRatio    EditKind = "ratio"    // the row's ratio as the train gives it
	EditHolding  EditKind = "holding"  // what holds in the row as the train gives it
	EditBraking  EditKind = "braking"  // engine braking as the train gives it
	mostGlobal            = 64
	mostRowEdits          = 400
)

// Edit is one change. Name is the element or gearset; Row the row, "" for a
// change of the train; Got what the train gives, for EditRatio (digits as
// printed), EditHolding (names).
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
	globals := slices.Concat([]Edit{{}}, trainEdits(u), m.exchanges())
	var best [][]Edit
	size := len(u.Rows) + 2
	for _, g := range globals {
		v := u
		n := 0
		if g.Kind != "" {
			v, n = edited(u, g), 1
		}
		mv, err := New(v)
		if err != nil {
			continue
		}
		bad := mv.Disagree()
		if n+len(bad) > size {
			continue
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
			continue
		}
		if n+len(bad) < size {
			size, best = n+len(bad), nil
		}
		best = append(best, sets...)
	}
	rank := []EditKind{EditTurn, EditExchange, EditApply, EditRelease, EditReplace, EditSwap, EditPinions, EditHolding, EditBraking, EditRatio}
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

// edited is a copy of the unit with one change built in.
func edited(u *engine.Unit, e Edit) *engine.Unit {
	v := *u
	v.Elements, v.Rows = slices.Clone(u.Elements), slices.Clone(u.Rows)
	v.Train.Gearsets = slices.Clone(u.Train.Gearsets)
	for i := range v.Elements {
		if x := &v.Elements[i]; e.Kind == EditTurn && x.Name == e.Name {
			x.A, x.B = x.B, x.A
		}
	}
	for i := range v.Train.Gearsets {
		g := &v.Train.Gearsets[i]
		switch {
		case g.Name != e.Name:
		case e.Kind == EditSwap:
			g.Sun, g.Ring = g.Ring, g.Sun
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

// rowEdits are the single changes of row i that make it agree. What was
// printed is changed only where no element in or out does it.
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
		v := edited(u, e)
		k := m.applied(v.Rows[i].Apply)
		if m.would(v, i, k) {
			out = append(out, e)
		}
	}
	if len(out) > 0 {
		return out
	}
	if r.Gear == "N" || r.Gear == "P" || m.Row(i).Class != Drives {
		return nil
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
