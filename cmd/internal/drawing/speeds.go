package drawing

import (
	"fmt"
	"math/big"
	"slices"
	"strings"

	"slipcase/engine"
	"slipcase/engine/geartrain"
)

// axis is one member of a lever with its place along it.
type axis struct {
	member string
	at     *big.Rat
}

// lever is a group of gearsets whose speeds lie on one straight line: gearsets
// that share two members.
type lever struct {
	gearsets []string
	axes     []axis
}

// levers groups the gearsets of a train. A gearset's own three places follow
// from its teeth: with the sun at 0 and the ring at 1 the carrier stands at
// R / (S + R), or for double pinions at R / (R − S), since then its speed is
// that of the line through the other two.
func levers(t *engine.Train) []lever {
	var out []lever
	for i := range t.Gearsets {
		g := &t.Gearsets[i]
		s, r := g.SunTeeth, g.RingTeeth
		if g.Kind == engine.Double {
			s = -s
		}
		carrier := new(big.Rat)
		if r+s != 0 {
			carrier.SetFrac64(r, r+s)
		}
		own := []axis{{g.Sun, new(big.Rat)}, {g.Carrier, carrier}, {g.Ring, big.NewRat(1, 1)}}
		joined := false
		for k := range out {
			if joined = out[k].join(g.Name, own); joined {
				break
			}
		}
		if !joined {
			out = append(out, lever{[]string{g.Name}, own})
		}
	}
	for _, l := range out {
		slices.SortStableFunc(l.axes, func(a, b axis) int { return a.at.Cmp(b.at) })
	}
	return out
}

// place is where a member stands on the lever, nil when it does not.
func (l *lever) place(member string) *big.Rat {
	for _, a := range l.axes {
		if a.member == member {
			return a.at
		}
	}
	return nil
}

// join lays a gearset over the lever where they share two members at different
// places, and tells whether it did.
func (l *lever) join(name string, own []axis) bool {
	var shared []axis
	for _, a := range own {
		if l.place(a.member) != nil {
			shared = append(shared, a)
		}
	}
	if len(shared) != 2 || shared[0].at.Cmp(shared[1].at) == 0 {
		return false
	}
	p, q := l.place(shared[0].member), l.place(shared[1].member)
	if p.Cmp(q) == 0 {
		return false
	}
	// The line that takes own places to those of the lever.
	slope := new(big.Rat).Quo(new(big.Rat).Sub(q, p), new(big.Rat).Sub(shared[1].at, shared[0].at))
	for _, a := range own {
		if l.place(a.member) == nil {
			at := new(big.Rat).Sub(a.at, shared[0].at)
			l.axes = append(l.axes, axis{a.member, at.Mul(at, slope).Add(at, p)})
		}
	}
	l.gearsets = append(l.gearsets, name)
	return true
}

// The measures of the speed diagram, in pixels.
const (
	panelWidth  = 330.0
	panelGap    = 70.0
	speedHeight = 300.0
	marginTop   = 64.0
	marginLeft  = 54.0
	marginEnd   = 90.0
)

// dashes tell rows apart without colour.
var dashes = []string{"", "7 3", "2 3", "9 3 2 3", "5 2 2 2 2 2", "1 2", "12 3", "4 4"}

// Speeds draws the speeds of all members, to scale, in these rows of the chart
// under faults: one upright axis a member, one straight line a row in each
// lever. Rows without drive, or with a speed that nothing settles, show the
// speeds that are known as points.
func Speeds(u *engine.Unit, m *geartrain.Machine, rows []int, faults ...geartrain.Fault) []byte {
	list := levers(&u.Train)
	states := make([]*geartrain.State, len(rows))
	low, high := 0.0, 1.0
	for i, r := range rows {
		states[i] = m.Under(r, faults...)
		for _, l := range list {
			for _, a := range l.axes {
				if s := states[i].Speeds[a.member]; s != nil {
					low, high = min(low, value(s)), max(high, value(s))
				}
			}
		}
	}
	groups := alike(list, rows, states)
	p := &picture{width: marginLeft + float64(len(list))*(panelWidth+panelGap) - panelGap + marginEnd}
	legend := 18.0 * float64(len(groups))
	p.height = marginTop + speedHeight + 56 + legend
	y := func(speed float64) float64 { return marginTop + (high-speed)/(high-low)*speedHeight }
	for _, tick := range []float64{0, 1} {
		words := map[float64]string{0: "0 (case)", 1: "1 (input)"}[tick]
		p.line(marginLeft, y(tick), p.width-marginEnd, y(tick), 1, present, "data-speed", num(tick))
		p.text(marginLeft-6, y(tick)+4, "end", present, strings.Fields(words)[0])
		p.text(p.width-marginEnd+6, y(tick)+4, "start", present, map[float64]string{0: "stands", 1: "input speed"}[tick])
	}
	for k, l := range list {
		l.draw(p, marginLeft+float64(k)*(panelWidth+panelGap), y, groups, states, m)
	}
	for i, g := range groups {
		at := marginTop + speedHeight + 56 + 18*float64(i)
		p.line(marginLeft, at-4, marginLeft+46, at-4, 2, present, "stroke-dasharray", dashes[i%len(dashes)])
		p.text(marginLeft+54, at, "start", present, g.names(m)+": "+stateWords(states[g.state]))
	}
	return p.svg("Speeds of "+u.Title, speedsDescription(m, rows, states))
}

// group is rows in which everything that is drawn is alike.
type group struct {
	rows  []int
	state int // of the first of them
}

func (g group) names(m *geartrain.Machine) string {
	var out []string
	for _, r := range g.rows {
		out = append(out, m.RowName(r))
	}
	return strings.Join(out, ", ")
}

// alike gathers rows with the same speeds, in the order of the chart.
func alike(list []lever, rows []int, states []*geartrain.State) []group {
	var out []group
	at := map[string]int{}
	for i, s := range states {
		key := stateWords(s)
		for _, l := range list {
			for _, a := range l.axes {
				key += "|"
				if v := s.Speeds[a.member]; v != nil {
					key += v.RatString()
				}
			}
		}
		if k, ok := at[key]; ok {
			out[k].rows = append(out[k].rows, rows[i])
			continue
		}
		at[key] = len(out)
		out = append(out, group{[]int{rows[i]}, i})
	}
	return out
}

// draw draws one lever: its axes and the line of each row.
func (l *lever) draw(p *picture, left float64, y func(float64) float64, groups []group, states []*geartrain.State, m *geartrain.Machine) {
	first, last := value(l.axes[0].at), value(l.axes[len(l.axes)-1].at)
	x := func(at float64) float64 {
		if last == first {
			return left
		}
		return left + (at-first)/(last-first)*panelWidth
	}
	bottom := marginTop + speedHeight
	p.text(left+panelWidth/2, bottom+34, "middle", present, "gearset "+plain(strings.Join(l.gearsets, " and ")), "font-weight", "bold")
	for i, a := range l.axes {
		at := x(value(a.at))
		p.line(at, marginTop-8, at, bottom+8, 1.5, present)
		// Names of neighbors stand on three heights, so that they do not touch.
		p.text(at, marginTop-14-15*float64(i%3), "middle", present, plain(a.member))
	}
	for i, g := range groups {
		s := states[g.state]
		dash := dashes[i%len(dashes)]
		var known []axis
		for _, a := range l.axes {
			speed := s.Speeds[a.member]
			if speed == nil {
				continue
			}
			known = append(known, axis{a.member, a.at})
			p.put("circle", attrs{"cx", x(value(a.at)), "cy", y(value(speed)), "r", 4.0, "fill", present,
				"data-row", g.names(m), "data-member", a.member, "data-speed", speed.RatString()})
			if len(groups) == 1 {
				p.text(x(value(a.at))+7, y(value(speed))-6, "start", present, figure(speed))
			}
		}
		if len(known) < 2 {
			continue
		}
		a, b := known[0], known[len(known)-1]
		p.line(x(value(a.at)), y(value(s.Speeds[a.member])), x(value(b.at)), y(value(s.Speeds[b.member])), 2, present, "stroke-dasharray", dash)
	}
}

// stateWords says what a row does.
func stateWords(s *geartrain.State) string {
	switch {
	case s.Class == geartrain.TieUp:
		return "ties up"
	case s.Class == geartrain.NoDrive:
		return "no drive"
	case s.Ratio.Sign() < 0:
		return "reverse, ratio " + figure(new(big.Rat).Neg(s.Ratio)) + " to 1"
	}
	return "ratio " + figure(s.Ratio) + " to 1"
}

func speedsDescription(m *geartrain.Machine, rows []int, states []*geartrain.State) string {
	var out []string
	for i, r := range rows {
		text := m.RowName(r) + ", " + stateWords(states[i]) + ":"
		for _, member := range m.Members() {
			if s := states[i].Speeds[member]; s != nil && s.Sign() != 0 {
				text += fmt.Sprintf(" %s %s,", plain(member), figure(s))
			}
		}
		out = append(out, strings.TrimRight(text, ",:"))
	}
	return "Speeds as multiples of input speed. " + strings.Join(out, "; ") + "."
}
