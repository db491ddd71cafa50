package drawing

import (
	"fmt"
	"math"
	"math/big"
	"slices"
	"strings"

	"slipcase/engine"
	"slipcase/engine/geartrain"
)

// Measures of the power flow, in pixels of the drawing.
const (
	pitch      = 54.0 // from lane to lane
	step       = 50.0 // from column to column
	left       = 176.0
	right      = 150.0
	thin       = 1.4
	torqueWide = 13.0 // the largest torque of the row
)

// PowerFlow draws a row ("D/2"), sound or with faults: every member is a lane
// along the axis, every gearset, element and joint stands across the lanes that
// it joins. How thick a line is, is its torque, to one scale. The error says
// that the unit has no such row.
func (s *Sketch) PowerFlow(row string, faults ...geartrain.Fault) (string, error) {
	i, err := s.row(row)
	if err != nil {
		return "", err
	}
	f := &flow{Sketch: s, st: s.m.Under(i, faults...), row: &s.u.Rows[i], faults: faults}
	return f.draw(), nil
}

// flow is one power flow in the making.
type flow struct {
	*Sketch
	canvas
	st     *geartrain.State
	row    *engine.Row
	faults []geartrain.Fault
	top    float64
	most   *big.Rat // largest torque
}

func (f *flow) laneY(member string) float64 {
	return f.top + pitch*float64(slices.Index(f.lanes, member))
}

// columnX is the place of column i; -1 is the engine.
func (f *flow) columnX(i int) float64 { return left + step*float64(i+1) }

// torque is what a column puts on a member; known is false where statics does
// not tell. No torque at all is 0.
func (f *flow) torque(e end) (t *big.Rat, known bool) {
	t, on := f.st.Torques[e.torque]
	if !on {
		return new(big.Rat), true
	}
	if t == nil {
		return nil, false
	}
	return new(big.Rat).Mul(t, big.NewRat(int64(e.sense), 1)), true
}

// thick is the width of a line that carries a torque.
func (f *flow) thick(t *big.Rat) float64 {
	if t.Sign() == 0 || f.most.Sign() == 0 {
		return thin
	}
	return max(2.2, torqueWide*math.Abs(float(t))/float(f.most))
}

// shaft is the torque in a member's lane to the right of each column, from the
// engine (index 0) on; nil where statics does not tell.
func (f *flow) shaft(member string) []*big.Rat {
	out := make([]*big.Rat, len(f.columns)+1)
	sum := new(big.Rat)
	if member == f.u.Train.Input && f.st.Torques != nil {
		sum = big.NewRat(1, 1)
	}
	out[0] = sum
	for i := range f.columns {
		for _, e := range f.columns[i].ends {
			if e.member != member || sum == nil {
				continue
			}
			if t, known := f.torque(e); known {
				sum = new(big.Rat).Add(sum, t)
			} else {
				sum = nil
			}
		}
		out[i+1] = sum
	}
	return out
}

// span is the first and last column that a member reaches.
func (f *flow) span(member string) (first, last int) {
	first, last = len(f.columns), -2
	if member == f.u.Train.Input {
		first, last = -1, -1
	}
	if member == f.u.Train.Output {
		first, last = min(first, len(f.columns)), len(f.columns)
	}
	for i := range f.columns {
		for _, e := range f.drawn(&f.columns[i]) {
			if e.member == member {
				first, last = min(first, i), max(last, i)
			}
		}
	}
	return first, last
}

func (f *flow) draw() string {
	head := 0.0
	for i := range f.columns {
		c := &f.columns[i]
		size := wide(f.heading(c), 13)
		head = max(head, size*0.74)
	}
	f.top = 66 + head + 24
	f.most = big.NewRat(1, 1)
	shafts := map[string][]*big.Rat{}
	for _, l := range f.lanes {
		shafts[l] = f.shaft(l)
		for _, t := range shafts[l] {
			f.largest(t)
		}
	}
	for i := range f.columns {
		for _, e := range f.columns[i].ends {
			t, _ := f.torque(e)
			f.largest(t)
		}
	}
	w := max(f.columnX(len(f.columns))+right, 900)
	bottom := f.top + pitch*float64(len(f.lanes)-1) + 58
	for _, l := range f.lanes {
		f.lane(l, shafts[l], w)
	}
	for i := range f.columns {
		f.column(i)
	}
	f.engineAndLoad()
	title := fmt.Sprintf("%s, power flow in %s%s", f.u.Title, f.row.Name(), f.with(f.faults))
	f.caption(w)
	h := f.legend(bottom, w)
	return f.document(ident("flow", f.u.ID, f.row.Name(), f.with(f.faults)), title, f.describe(), w, h)
}

func (f *flow) largest(t *big.Rat) {
	if t == nil {
		return
	}
	if a := new(big.Rat).Abs(t); a.Cmp(f.most) > 0 {
		f.most = a
	}
}

func (f *flow) caption(w float64) {
	f.label(16, 26, f.row.Name()+": "+outcome(f.st), "font-size", 19.0, "font-weight", "bold")
	small := f.u.Title + f.with(f.faults)
	if f.row.Lockup {
		small += "; converter clutch on"
	}
	if f.st.Class == geartrain.Drives {
		if f.st.EngineBraking {
			small += "; engine brakes"
		} else {
			small += "; no engine braking"
		}
	}
	f.label(16, 46, small)
}

// lane draws a member along the axis: torque as thickness, its name in front,
// its speed behind.
func (f *flow) lane(member string, shaft []*big.Rat, w float64) {
	first, last := f.span(member)
	if last < first {
		return
	}
	y := f.laneY(member)
	speed := f.st.Speeds[member]
	held := speed != nil && speed.Sign() == 0
	f.begin("g", "data-lane", member)
	for i := first; i < last; i++ {
		t := shaft[i+1]
		x1, x2 := f.columnX(i), f.columnX(i+1)
		switch {
		case t == nil:
			f.line(x1, y, x2, y, 5, accent, "stroke-dasharray", "3 3", "data-torque", "shared")
		case t.Sign() != 0:
			f.line(x1, y, x2, y, f.thick(t), accent, "data-torque", t.RatString())
		default:
			f.line(x1, y, x2, y, thin, faint, "data-torque", "0")
		}
	}
	if speed != nil && speed.Sign() != 0 {
		f.arrows(shaft, first, last, y, speed.Sign())
	}
	if first == last {
		f.line(f.columnX(first)-9, y, f.columnX(last)+9, y, thin, faint)
	}
	weight := "normal"
	if held || member == engine.CaseMember {
		weight = "bold"
	}
	f.label(left-36, y+4.5, engine.Spaced(member), "text-anchor", "end", "font-weight", weight)
	if start := f.columnX(first) - 14; first >= 0 && start > left {
		f.line(left-30, y, start, y, 0.8, hair, "stroke-dasharray", "1 4")
	}
	end := f.columnX(last) + 14
	if x := w - right + 28; last < len(f.columns) && end < x {
		f.line(end, y, x, y, 0.8, hair, "stroke-dasharray", "1 4")
	}
	text := "turns freely"
	switch {
	case f.st.Speeds == nil:
		text = "cannot turn"
	case member == engine.CaseMember:
		text = "the case"
	case held:
		text = "HELD"
	case speed != nil:
		text = number(speed) + " × input"
	}
	more := []any{"font-weight", weight, "data-member", member}
	if speed != nil {
		more = append(more, "data-speed", speed.RatString())
	}
	f.label(w-right+34, y+4.5, text, more...)
	if held && member != engine.CaseMember || member == engine.CaseMember {
		x := w - right + 34 + wide(text, 14) + 8
		f.line(x, y-7, x, y+7, 2.5, ink)
		for i := -6.0; i <= 6; i += 4 {
			f.line(x, y+i, x+6, y+i-4, 1, ink)
		}
	}
	f.end("g")
}

// arrows show which way power goes, once for each stretch of one torque.
func (f *flow) arrows(shaft []*big.Rat, first, last int, y float64, sense int) {
	for i := first; i < last; {
		j := i + 1
		for j < last && shaft[j+1] != nil && shaft[i+1] != nil && shaft[j+1].Cmp(shaft[i+1]) == 0 {
			j++
		}
		if t := shaft[i+1]; t != nil && t.Sign() != 0 {
			// Between columns, where nothing stands on the lane.
			f.chevron(f.columnX((i+j-1)/2)+step/2, y, float64(t.Sign()*sense), 0)
		}
		i = j
	}
}

func (f *flow) engineAndLoad() {
	y := f.laneY(f.u.Train.Input)
	x := f.columnX(-1)
	f.path(ink, ink, 1, x-22, y-9, x-2, y, x-22, y+9)
	y = f.laneY(f.u.Train.Output)
	x = f.columnX(len(f.columns))
	f.path(ink, ink, 1, x+2, y-9, x+22, y, x+2, y+9)
	f.label(f.columnX(-1)-12, f.laneY(f.u.Train.Input)-16, "engine in", "font-size", 12.0, "text-anchor", "middle")
	f.label(x+26, y+22, "to the wheels", "font-size", 12.0, "text-anchor", "end")
}

// heading is a column's name with what is wrong with it.
func (f *flow) heading(c *column) string {
	if w := faultOf(c.name, f.faults); w != "" && c.kind != "gearset" {
		return c.title + " " + w
	}
	return c.title
}

// state is what a column does in this row.
func (f *flow) state(c *column) string {
	switch {
	case c.kind == "gearset":
		return "gearset"
	case faultOf(c.name, f.faults) != "" && c.kind == "joint":
		return "broken"
	case c.kind == "joint":
		return "joined"
	case slices.Contains(f.st.Holding, c.name):
		return "holds"
	case slices.Contains(f.st.Overrunning, c.name):
		return "overruns"
	case slices.Contains(f.st.Standing, c.name):
		return "stands"
	}
	fault := faultOf(c.name, f.faults)
	switch {
	case c.kind == string(engine.OneWay) && fault == "SEIZED":
		return "applied"
	case c.kind == string(engine.OneWay):
		return "free"
	case fault == "STUCK ON", slices.Contains(f.row.Apply, c.name) && fault == "":
		return "applied"
	}
	return "released"
}

// column draws a gearset, element or joint across the lanes.
func (f *flow) column(i int) {
	c := &f.columns[i]
	x := f.columnX(i)
	state := f.state(c)
	bad := faultOf(c.name, f.faults) != "" && c.kind != "gearset"
	on := state == "applied" || state == "holds"
	f.begin("g", "data-column", c.name, "data-state", state)
	low, high := math.Inf(1), math.Inf(-1)
	for _, e := range f.drawn(c) {
		y := f.laneY(e.member)
		low, high = min(low, y), max(high, y)
	}
	grounded := len(f.drawn(c)) == 1
	if grounded {
		high = low + 34
	}
	color, weight := ink, "normal"
	switch {
	case bad:
		color, weight = alarm, "bold"
	case on:
		weight = "bold"
	case state == "released", state == "free", state == "overruns":
		color = faint
	}
	tx, ty := x+4, f.top-20
	f.label(tx, ty, f.heading(c), "transform", fmt.Sprintf("rotate(-48 %s %s)", value(tx), value(ty)), "fill", color, "font-weight", weight)
	f.line(x, f.top-14, x, low-4, 0.7, hair, "stroke-dasharray", "1 4")
	if c.kind == "gearset" {
		f.gearset(c, x, low, high)
	} else {
		f.link(c, x, low, high, state, grounded)
	}
	f.end("g")
}

func (f *flow) gearset(c *column, x, low, high float64) {
	f.line(x-3, low, x-3, high, 1.2, ink)
	f.line(x+3, low, x+3, high, 1.2, ink)
	for _, e := range c.ends {
		y := f.laneY(e.member)
		t, known := f.torque(e)
		text := ""
		switch {
		case !known:
			text = "?"
		case t.Sign() != 0:
			text = number(new(big.Rat).Abs(t))
		}
		f.tag("circle", "cx", x, "cy", y, "r", 10.0, "fill", paper, "stroke", ink, "stroke-width", 2.0)
		f.label(x, y+4.5, e.letter, "text-anchor", "middle", "font-weight", "bold")
		if text != "" {
			f.halo(x+12, y-9, text, "data-torque-of", e.torque)
		}
	}
}

// halo writes a small figure that stays readable on lines.
func (f *flow) halo(x, y float64, s string, more ...any) {
	f.label(x, y, s, append([]any{"font-size", 11.5, "stroke", paper, "stroke-width", 3.0, "paint-order", "stroke"}, more...)...)
}

// link draws an element or joint between two lanes, or from a lane to the case.
func (f *flow) link(c *column, x, low, high float64, state string, grounded bool) {
	t, known := f.torque(c.ends[0])
	width, color, dash := thin, ink, ""
	on := state == "applied" || state == "holds" || state == "joined" || state == "stands"
	switch {
	case !known:
		width, color, dash = 5, accent, "3 3"
	case t.Sign() != 0:
		width, color = f.thick(t), accent
	case !on:
		color, dash = faint, "5 4"
	}
	for _, e := range f.drawn(c) {
		f.tag("circle", "cx", x, "cy", f.laneY(e.member), "r", 4.2, "fill", color)
	}
	mid := (low + high) / 2
	if !grounded {
		// The mark stands between lanes, not on one.
		mid = low + pitch/2
	}
	line := func(y1, y2 float64) {
		f.line(x, y1+8, x, y2-8, width+4, paper) // a bridge over lanes in between
		more := []any{"data-torque", "shared"}
		if known {
			more[1] = t.RatString()
		}
		if dash != "" {
			more = append(more, "stroke-dasharray", dash)
		}
		f.line(x, y1, x, y2, width, color, more...)
	}
	line(low+4, mid)
	if grounded {
		line(mid, high)
	} else {
		line(mid, high-4)
	}
	if grounded {
		f.ground(x, high)
	}
	f.mark(c, x, mid, state)
	switch {
	case !known:
		f.halo(x+16, mid+4, "shared")
	case t.Sign() != 0:
		f.halo(x+14, mid+4, number(new(big.Rat).Abs(t)), "data-torque-of", c.name)
	case state == "overruns":
		f.halo(x+14, mid+4, "free")
	}
	f.power(c, x, mid, low, high)
}

// power shows which way power goes through a clutch or joint.
func (f *flow) power(c *column, x, mid, low, high float64) {
	a, b := c.ends[0], c.ends[1]
	t, known := f.torque(a)
	speed := f.st.Speeds[a.member]
	if !known || t.Sign() == 0 || speed == nil || speed.Sign() == 0 || b.member == engine.CaseMember || a.member == engine.CaseMember || high-mid < 44 {
		return
	}
	down := 1.0
	if f.laneY(b.member) < f.laneY(a.member) {
		down = -1
	}
	if t.Sign()*speed.Sign() > 0 { // the element drives A
		down = -down
	}
	f.chevron(x, high-18, 0, down)
}

// mark draws what kind of thing it is, and whether it is on.
func (f *flow) mark(c *column, x, y float64, state string) {
	on := state == "applied" || state == "holds"
	fill, stroke := paper, faint
	if on {
		fill, stroke = ink, ink
	}
	if state == "stands" {
		stroke = ink
	}
	switch c.kind {
	case "joint":
		f.tag("rect", "x", x-5, "y", y-5, "width", 10.0, "height", 10.0, "fill", paper, "stroke", ink, "stroke-width", 1.6)
		if state == "broken" {
			f.line(x-11, y-11, x+11, y+11, 3, alarm)
			f.line(x-11, y+11, x+11, y-11, 3, alarm)
		}
	case string(engine.OneWay):
		f.path(fill, stroke, 2, x-10, y-8, x+10, y-8, x, y+9)
		f.line(x-10, y+10, x+10, y+10, 2, stroke)
	case string(engine.Band):
		f.tag("rect", "x", x-11, "y", y-7, "width", 22.0, "height", 14.0, "rx", 7.0, "fill", fill, "stroke", stroke, "stroke-width", 2.0)
	default:
		gap := 5.5 // plates apart
		if on {
			gap = 3.2
		}
		f.tag("rect", "x", x-11, "y", y-gap-4, "width", 22.0, "height", 4.0+gap, "fill", paper)
		f.tag("rect", "x", x-11, "y", y, "width", 22.0, "height", 4.0+gap, "fill", paper)
		if on {
			f.tag("rect", "x", x-11, "y", y-gap-3, "width", 22.0, "height", 2*gap+6, "fill", ink)
			return
		}
		f.tag("rect", "x", x-10, "y", y-gap-3, "width", 20.0, "height", 4.0, "fill", paper, "stroke", stroke, "stroke-width", 1.4)
		f.tag("rect", "x", x-10, "y", y+gap-1, "width", 20.0, "height", 4.0, "fill", paper, "stroke", stroke, "stroke-width", 1.4)
	}
}

// legend explains the marks and gives the scale.
func (f *flow) legend(y, w float64) float64 {
	f.line(16, y-12, w-16, y-12, 0.8, hair)
	x := 16.0
	put := func(kind, state, text string) {
		need := 34 + wide(text, 12) + 18
		if x+need > w-16 {
			x, y = 16, y+28
		}
		f.mark(&column{kind: kind}, x+12, y+10, state)
		f.label(x+30, y+14.5, text, "font-size", 12.0)
		x += need
	}
	put("clutch", "applied", "clutch or brake applied")
	put("clutch", "released", "released")
	for _, k := range []struct{ kind, a, at, b, bt string }{
		{"band", "applied", "band applied", "released", "band released"},
		{"one_way", "holds", "one-way clutch holds", "overruns", "turns free (overruns)"},
		{"joint", "joined", "spline, weld, shell", "", ""},
	} {
		if !slices.ContainsFunc(f.columns, func(c column) bool { return c.kind == k.kind }) {
			continue
		}
		put(k.kind, k.a, k.at)
		if k.b != "" {
			put(k.kind, k.b, k.bt)
		}
	}
	text := "this thick: input torque; figures: multiples of input torque"
	if need := 64 + wide(text, 12); x+need > w-16 {
		x, y = 16, y+28
	}
	f.line(x, y+10, x+40, y+10, f.thick(big.NewRat(1, 1)), accent)
	f.label(x+48, y+14.5, text, "font-size", 12.0)
	y += 28
	f.label(16, y+12, "Hatched: held to the case. S sun, C carrier, R ring. Arrows: direction of power. The order along the axis is the drawing's, not the unit's.", "font-size", 12.0)
	return y + 26
}

// describe says the drawing in words.
func (f *flow) describe() string {
	by := map[string][]string{}
	for i := range f.columns {
		c := &f.columns[i]
		text := c.title
		if t, known := f.torque(c.ends[0]); c.kind != "gearset" && known && t.Sign() != 0 {
			text += " (" + number(new(big.Rat).Abs(t)) + " of the input's torque)"
		}
		by[f.state(c)] = append(by[f.state(c)], text)
	}
	parts := []string{outcome(f.st)}
	for _, s := range [][2]string{{"applied", "Applied: "}, {"holds", "One-way clutches that hold: "}, {"overruns", "Overrun: "}, {"broken", "Broken: "}} {
		if len(by[s[0]]) > 0 {
			parts = append(parts, s[1]+strings.Join(by[s[0]], ", "))
		}
	}
	var held, turn []string
	for _, l := range f.lanes {
		switch v := f.st.Speeds[l]; {
		case v == nil || l == engine.CaseMember:
		case v.Sign() == 0:
			held = append(held, engine.Spaced(l))
		default:
			turn = append(turn, engine.Spaced(l)+" "+number(v))
		}
	}
	if len(held) > 0 {
		parts = append(parts, "Held: "+strings.Join(held, ", "))
	}
	if len(turn) > 0 {
		parts = append(parts, "Speeds, input 1: "+strings.Join(turn, ", "))
	}
	return strings.Join(parts, ". ") + "."
}
