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

// The measures of the power flow, in pixels.
const (
	railStep  = 46.0
	rungStep  = 74.0
	nameWidth = 150.0
	flowTop   = 92.0
	thinnest  = 2.0 // a rail or rung without torque
	oneTorque = 4.0 // weight of one turbine torque
	heaviest  = 16.0
)

// flow is a drawing at work.
type flow struct {
	picture
	u      *engine.Unit
	m      *geartrain.Machine
	row    int
	s      *geartrain.State
	faults []geartrain.Fault
	rails  []string // members, top to bottom; the case is last
	right  float64
}

// Flow draws the power flow of a row under faults: every member is a rail with
// its speed, the input on top and the case at the foot; every gearset, element
// and joint is a rung between the rails that it connects. Weight is torque, to
// scale up to four times that of the turbine.
func Flow(u *engine.Unit, m *geartrain.Machine, row int, faults ...geartrain.Fault) []byte {
	f := &flow{u: u, m: m, row: row, s: m.Under(row, faults...), faults: faults, rails: railsOf(u, m)}
	rungs := len(u.Train.Gearsets) + len(f.elements()) + len(u.Joints)
	f.width = nameWidth + rungStep*float64(rungs) + 40
	f.height = flowTop + railStep*float64(len(f.rails)-1) + 96
	f.right = f.width - 20
	f.heading()
	for i, member := range f.rails {
		f.rail(i, member)
	}
	x := nameWidth + rungStep/2
	for i := range u.Train.Gearsets {
		f.gearset(x, &u.Train.Gearsets[i])
		x += rungStep
	}
	for _, j := range u.Joints {
		f.joint(x, j)
		x += rungStep
	}
	for _, e := range f.elements() {
		f.element(x, e)
		x += rungStep
	}
	return f.svg("Power flow of "+u.Title+" in "+m.RowName(row), f.description())
}

// railsOf orders the members: input first, then as the unit names them, output
// behind the others, the case last.
func railsOf(u *engine.Unit, m *geartrain.Machine) []string {
	out := []string{u.Train.Input}
	for _, name := range m.Members() {
		if name != u.Train.Input && name != u.Train.Output && name != engine.CaseMember {
			out = append(out, name)
		}
	}
	return append(out, u.Train.Output, engine.CaseMember)
}

// elements are those of the train; the converter clutch stands before it.
func (f *flow) elements() []*engine.Element {
	var out []*engine.Element
	for i := range f.u.Elements {
		if e := &f.u.Elements[i]; e.Kind != engine.ConverterClutch {
			out = append(out, e)
		}
	}
	return out
}

func (f *flow) y(member string) float64 {
	return flowTop + railStep*float64(slices.Index(f.rails, member))
}

// weight is the weight of a line for a torque.
func weight(t *big.Rat) float64 {
	if t == nil {
		return thinnest
	}
	return min(max(math.Abs(value(t))*oneTorque, thinnest), heaviest)
}

func (f *flow) heading() {
	text := f.m.RowName(f.row) + ": " + stateWords(f.s)
	if f.s.Class == geartrain.Drives && f.s.EngineBraking {
		text += ", engine braking"
	}
	f.text(16, 24, "start", present, text, "font-size", 16, "font-weight", "bold")
	if len(f.faults) > 0 {
		var list []string
		for _, x := range f.faults {
			list = append(list, plain(x.Name)+" "+plain(string(x.Kind)))
		}
		f.text(16, 44, "start", present, "with "+strings.Join(list, ", "))
	}
}

// rail draws a member with its name and speed.
func (f *flow) rail(i int, member string) {
	y := flowTop + railStep*float64(i)
	if member == engine.CaseMember {
		f.line(nameWidth, y, f.right, y, thinnest, present)
		for x := nameWidth; x < f.right-6; x += 12 { // hatched: it stands
			f.line(x, y+9, x+9, y, 1, present)
		}
		f.text(16, y+4, "start", present, "case")
		return
	}
	speed := f.s.Speeds[member]
	ink, w := idle, thinnest
	if slices.Contains(f.m.PowerPath(f.row).Members, member) && f.s.Class == geartrain.Drives && len(f.faults) == 0 {
		ink, w = carrying, 5
	}
	name, says := plain(member), "free"
	switch {
	case f.s.Speeds == nil:
		says = ""
	case speed != nil && speed.Sign() == 0:
		says = "stands"
	case speed != nil:
		says = "× " + figure(speed)
	}
	switch member {
	case f.u.Train.Input:
		name = "in: " + name
	case f.u.Train.Output:
		name = "out: " + name
	}
	f.text(16, y-1, "start", present, name, "font-weight", "bold")
	a := attrs{"data-member", member}
	if speed != nil {
		a = append(a, "data-speed", speed.RatString())
	}
	f.text(16, y+13, "start", present, says, a...)
	dash := ""
	if speed == nil {
		dash = "6 4"
	}
	f.line(nameWidth, y, f.right, y, w, ink, "stroke-dasharray", dash)
}

// foot names a rung below the case.
func (f *flow) foot(x float64, name, says string, torque *big.Rat) {
	y := f.y(engine.CaseMember)
	for i, part := range twoLines(plain(name)) {
		f.text(x, y+30+14*float64(i), "middle", present, part)
	}
	f.text(x, y+60, "middle", present, says, "font-size", 11)
	if torque != nil && torque.Sign() != 0 {
		f.text(x, y+75, "middle", present, "torque × "+figure(new(big.Rat).Abs(torque)), "font-size", 11)
	}
}

// twoLines breaks a name at the space nearest to its middle.
func twoLines(s string) []string {
	if len(s) <= 10 {
		return []string{s}
	}
	best := -1
	for i, r := range s {
		if r == ' ' && (best < 0 || abs(2*i-len(s)) < abs(2*best-len(s))) {
			best = i
		}
	}
	if best < 0 {
		return []string{s}
	}
	return []string{s[:best], s[best+1:]}
}

func abs(n int) int { return max(n, -n) }

// gearset draws a gearset: a box from the first of its members to the last,
// with a mark at each.
func (f *flow) gearset(x float64, g *engine.Gearset) {
	members := []struct{ part, member string }{{"sun", g.Sun}, {"carrier", g.Carrier}, {"ring", g.Ring}}
	top, bottom := math.Inf(1), math.Inf(-1)
	heavy := new(big.Rat)
	for _, p := range members {
		top, bottom = min(top, f.y(p.member)), max(bottom, f.y(p.member))
		if t := f.s.Torques[g.Name+"."+p.part]; t != nil && new(big.Rat).Abs(t).Cmp(heavy) > 0 {
			heavy = new(big.Rat).Abs(t)
		}
	}
	ink := idle
	if heavy.Sign() > 0 {
		ink = carrying
	}
	f.put("rect", attrs{"x", x - 8, "y", top - 8, "width", 16.0, "height", bottom - top + 16, "rx", 3.0, "fill", paper, "stroke", ink, "stroke-width", max(weight(heavy)/2, 1.5)})
	for _, p := range members {
		y := f.y(p.member)
		f.put("circle", attrs{"cx", x, "cy", y, "r", 7.0, "fill", ink})
		f.text(x, y+4, "middle", paper, strings.ToUpper(p.part[:1]), "font-size", 10, "font-weight", "bold")
	}
	says := "idle"
	if heavy.Sign() > 0 {
		says = "turns as one"
		if f.m.GearsetTurns(f.row, g.Name) {
			says = "geared"
		}
	}
	f.foot(x, g.Name, says, nil)
}

func (f *flow) joint(x float64, j engine.Joint) {
	a, b := f.y(j.A), f.y(j.B)
	says, ink, w := "joint", idle, thinnest
	broken := slices.ContainsFunc(f.faults, func(x geartrain.Fault) bool { return x.Name == j.Name })
	t := f.s.Torques[j.Name]
	if t != nil && t.Sign() != 0 {
		ink, w = carrying, weight(t)
	}
	if broken {
		mid := min(a, b) + railStep/2
		f.line(x, min(a, b), x, mid-9, thinnest, idle)
		f.line(x, mid+9, x, max(a, b), thinnest, idle)
		f.cross(x, mid)
		says = "BROKEN"
	} else {
		f.line(x, a, x, b, w, ink)
	}
	f.ends(x, a, b, ink)
	f.foot(x, j.Name, says, t)
}

// state is what an element does: applied, released, holds, overruns, stands.
func (f *flow) state(e *engine.Element) string {
	switch {
	case e.Kind == engine.OneWay && slices.Contains(f.s.Holding, e.Name):
		return "holds"
	case e.Kind == engine.OneWay && slices.Contains(f.s.Overrunning, e.Name):
		return "overruns"
	case e.Kind == engine.OneWay:
		return "stands"
	}
	for _, x := range f.faults {
		if x.Name != e.Name {
			continue
		}
		if x.Kind == geartrain.StaysOn || x.Kind == geartrain.Seized {
			return "STAYS ON"
		}
		return "DEAD"
	}
	if slices.Contains(f.u.Rows[f.row].Apply, e.Name) {
		return "applied"
	}
	return "released"
}

// element draws a clutch, brake, band or one-way clutch. Open ones have a gap.
func (f *flow) element(x float64, e *engine.Element) {
	memberB := e.B
	if memberB == "" {
		memberB = engine.CaseMember
	}
	a, b := f.y(e.A), f.y(memberB)
	if a > b {
		a, b = b, a
	}
	state := f.state(e)
	on := state == "applied" || state == "holds" || state == "STAYS ON"
	ink, w := idle, thinnest
	if on {
		ink = present
	}
	t := f.s.Torques[e.Name]
	if !on {
		t = nil
	}
	if t != nil && t.Sign() != 0 {
		ink, w = carrying, weight(t)
	}
	mid := a + railStep/2 // between two rails, so that none crosses the mark
	gap := 0.0
	if !on {
		gap = 7
	}
	f.line(x, a, x, mid-gap, w, ink)
	f.line(x, mid+gap, x, b, w, ink)
	f.ends(x, a, b, ink)
	f.mark(x, mid, gap, e.Kind, on, ink)
	if state == "DEAD" {
		f.cross(x, mid)
	}
	f.foot(x, e.Name, state, t)
}

// mark draws what kind of element it is: two plates for a clutch, plates
// against a hatched foot for a brake, a strap for a band, an arrow head for a
// one-way clutch; filled when it is on.
func (f *flow) mark(x, y, gap float64, kind engine.ElementKind, on bool, ink string) {
	fill := paper
	if on {
		fill = ink
	}
	switch kind {
	case engine.OneWay:
		f.put("path", attrs{"d", fmt.Sprintf("M %s %s l 9 16 l -18 0 z", num(x), num(y-8)), "fill", fill, "stroke", ink, "stroke-width", 2})
	case engine.Band:
		f.put("rect", attrs{"x", x - 13, "y", y - 5, "width", 26.0, "height", 10.0, "rx", 5.0, "fill", fill, "stroke", ink, "stroke-width", 2})
	case engine.Brake:
		f.line(x-13, y-max(gap, 3), x+13, y-max(gap, 3), 3, ink)
		f.put("rect", attrs{"x", x - 13, "y", y + max(gap, 3) - 2, "width", 26.0, "height", 7.0, "fill", fill, "stroke", ink, "stroke-width", 2})
	default:
		f.line(x-13, y-max(gap, 3), x+13, y-max(gap, 3), 3, ink)
		f.line(x-13, y+max(gap, 3), x+13, y+max(gap, 3), 3, ink)
	}
}

func (f *flow) ends(x, a, b float64, ink string) {
	for _, y := range []float64{a, b} {
		f.put("circle", attrs{"cx", x, "cy", y, "r", 3.5, "fill", ink})
	}
}

func (f *flow) cross(x, y float64) {
	f.line(x-9, y-9, x+9, y+9, 3, present)
	f.line(x-9, y+9, x+9, y-9, 3, present)
}

func (f *flow) description() string {
	out := f.m.RowName(f.row) + ": " + stateWords(f.s) + "."
	for _, e := range f.elements() {
		out += " " + plain(e.Name) + " " + f.state(e)
		if t := f.s.Torques[e.Name]; t != nil && t.Sign() != 0 {
			out += ", " + figure(new(big.Rat).Abs(t)) + " times turbine torque"
		}
		out += ";"
	}
	return strings.TrimSuffix(out, ";") + "."
}
