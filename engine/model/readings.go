package model

import (
	"fmt"
	"math"
	"slices"

	"slipcase/engine"
	"slipcase/engine/quantity"
)

// A grade says how loudly a measured value speaks, by how far it is past its
// limit, or within it. Weight scales the logarithm of the reporter's own
// likelihood ratio: 1 is a plain report of the finding, or of its absence; a
// quarter of it is a hint. A reporter who never errs has no ratio to scale.
type grade struct {
	beyond float64 // of the width between the limits; negative within
	weight float64
}

// The grades, far within to far out (basis: invented. Common practice behind
// them: a tolerance is no cliff, tools and hands repeat to a few percent of it,
// so a value at the limit says little and one half a width past it is plain).
var grades = []grade{
	{-0.25, 1},
	{-0.10, 0.6},
	{0, 0.25}, // within, close to the limit
	{0.10, 0.3},
	{0.50, 0.7},
}

// weigh is the grade of a value.
func weigh(beyond float64) float64 {
	for _, g := range grades {
		if beyond <= g.beyond {
			return g.weight
		}
	}
	return 1 // far out
}

// hotFrom is the temperature of a coil, in degC, from which its resistance is
// one taken hot (basis: invented; oil at work has 80 to 100 degC).
const hotFrom = 60

// readAs is a finding that a reading speaks of.
type readAs struct {
	name   string // with its condition
	node   int
	beyond bool
}

// read lists the findings that a reading decides.
func (m *Model) read(b engine.Bounds, r engine.Reading) []readAs {
	v, err := b.Judge(r.Value)
	if err != nil {
		return nil
	}
	var out []readAs
	for _, f := range m.Knowledge.Findings {
		name, place := b.Reading, b.Place
		if b.Reading == "" && b.Limit != nil && f.Per == engine.PerLimit {
			name, place = "limit", b.Limit.Name
		}
		if f.Reading == "" || f.Reading != name || f.ReadingSide == "low" && b.Low == nil || f.ReadingSide == "high" && b.High == nil {
			continue
		}
		full := engine.FindingName{Name: f.Name, Place: place}
		if r.Value.Dim == quantity.Resistance && r.Value.TempSet {
			full.Condition = engine.Cold
			if r.Value.Temp >= hotFrom {
				full.Condition = engine.Hot
			}
		}
		node, ok := m.LookupFinding(full.String())
		if !ok {
			continue
		}
		out = append(out, readAs{full.String(), node, v.Side != "" && (f.ReadingSide == v.Side || f.ReadingSide == "either")})
	}
	return out
}

// measured is the finding that stands for a limit's own one ("above_limit@x")
// where the limit says what it measures, or "".
func (m *Model) measured(f engine.FindingName) string {
	for _, t := range m.Knowledge.Findings {
		if t.Name != f.Name || t.Per != engine.PerLimit {
			continue
		}
		for _, l := range m.Unit.Limits {
			if l.Name != f.Place || l.Measures == "" {
				continue
			}
			at := engine.ParseFindingName(l.Measures)
			for _, o := range m.Knowledge.Findings {
				if o.Reading == at.Name && (o.ReadingSide == t.ReadingSide || o.ReadingSide == "either") {
					return engine.FindingName{Name: o.Name, Place: at.Place}.String()
				}
			}
		}
	}
	return ""
}

// reading compares a measured value with the unit's limits: each finding that
// reads it becomes present or absent, the more plainly the further the value is
// from its limit.
func (m *Model) reading(r engine.Reading, group int, split map[string]bool) ([]Piece, error) {
	b, ok := m.Unit.Bounds(r.Name, r.Place)
	if !ok {
		return nil, fmt.Errorf("the unit %s has no limits for %s %s", m.Unit.ID, r.Name, r.Place)
	}
	v, err := b.Judge(r.Value)
	if err != nil {
		return nil, err
	}
	var out []Piece
	for _, x := range m.read(b, r) {
		by := r.By
		if by == "" {
			by = m.DefaultReporter(x.node)
		}
		hit, fa, ok := m.reliability(by, x.node)
		if !ok {
			return nil, fmt.Errorf("unknown reporter %q", by)
		}
		hit, fa = min(hit, 1-1e-6), max(fa, 1e-6)
		p := Piece{Label: x.name, About: &m.Nodes[x.node], Value: r.Value.Text, By: by, Node: m.part(x.node, x.name, split), Where: r.Where, Group: group, Ranked: true}
		// The other side of the limits is far away when this one is passed.
		w := 1.0
		if x.beyond || v.Side == "" {
			w = weigh(v.Beyond)
		}
		if x.beyond {
			p.State, p.Off = engine.Present, fa
			p.On = fa * math.Pow(hit/fa, w)
		} else {
			p.State, p.Off = engine.Absent, 1-fa
			p.On = (1 - fa) * math.Pow((1-hit)/(1-fa), w)
		}
		p.Weak = p.On < 1.5*p.Off && p.Off < 1.5*p.On
		out = append(out, p)
	}
	return out, nil
}

// lastTaken keeps, of the readings of one thing, the last; cold and hot ones of
// a resistance are two things.
func lastTaken(readings []engine.Reading) []engine.Reading {
	type key struct {
		name, place string
		hot         bool
	}
	of := func(r engine.Reading) key {
		return key{r.Name, r.Place, r.Value.TempSet && r.Value.Temp >= hotFrom}
	}
	var out []engine.Reading
	for i, r := range readings {
		if !slices.ContainsFunc(readings[i+1:], func(o engine.Reading) bool { return of(o) == of(r) }) {
			out = append(out, r)
		}
	}
	return out
}
