package drawing

import (
	"cmp"
	"fmt"
	"math"
	"math/big"
	"slices"
	"strings"

	"slipcase/engine"
	"slipcase/engine/geartrain"
)

// lever is a set of gearsets of which the speeds lie on one straight line:
// every gearset that shares two members with it belongs to it. Distances are
// those of the teeth: between carrier and sun 1/sun teeth, between carrier and
// ring 1/ring teeth, on the other side for a single pinion.
type lever struct {
	title string
	nodes []node // from left to right
}

// node is what turns as one: members that sound joints tie together.
type node struct {
	members []string
	at      *big.Rat
}

// levers makes the levers of the train; joints in faults are broken.
func (s *Sketch) levers(faults []geartrain.Fault) []lever {
	leader := map[string]string{}
	var find func(m string) string
	find = func(m string) string {
		if up, ok := leader[m]; ok {
			return find(up)
		}
		return m
	}
	for _, j := range s.u.Joints {
		if a, b := find(j.A), find(j.B); a != b && faultOf(j.Name, faults) == "" {
			leader[b] = a
		}
	}
	type built struct {
		titles []string
		at     map[string]*big.Rat
	}
	var all []*built
	for _, g := range s.u.Train.Gearsets {
		one := big.NewRat(1, 1)
		ring := new(big.Rat).Quo(one, big.NewRat(g.RingTeeth, 1))
		if g.Kind == engine.Single {
			ring.Neg(ring)
		}
		own := map[string]*big.Rat{find(g.Carrier): new(big.Rat), find(g.Sun): new(big.Rat).Quo(one, big.NewRat(g.SunTeeth, 1)), find(g.Ring): ring}
		title := engine.TitleOr(g.Title, g.Name+" gear set")
		joined := false
		for _, b := range all {
			if scale, shift, ok := fit(own, b.at); ok {
				for m, x := range own {
					b.at[m] = new(big.Rat).Add(new(big.Rat).Mul(x, scale), shift)
				}
				b.titles = append(b.titles, title)
				joined = true
				break
			}
		}
		if !joined {
			all = append(all, &built{[]string{title}, own})
		}
	}
	var out []lever
	for _, b := range all {
		l := lever{title: strings.Join(b.titles, " + ")}
		for _, m := range s.m.Members() {
			at := b.at[m]
			if at == nil {
				continue
			}
			n := node{at: at}
			for _, x := range s.m.Members() {
				if find(x) == m {
					n.members = append(n.members, x)
				}
			}
			l.nodes = append(l.nodes, n)
		}
		slices.SortStableFunc(l.nodes, func(a, b node) int { return a.at.Cmp(b.at) })
		out = append(out, l)
	}
	return out
}

// fit finds the stretch that lays one lever on another by two members of both.
func fit(own, other map[string]*big.Rat) (scale, shift *big.Rat, ok bool) {
	var shared []string
	for m := range own {
		if other[m] != nil {
			shared = append(shared, m)
		}
	}
	slices.Sort(shared)
	if len(shared) != 2 {
		return nil, nil, false
	}
	a, b := shared[0], shared[1]
	from, to := new(big.Rat).Sub(own[b], own[a]), new(big.Rat).Sub(other[b], other[a])
	if from.Sign() == 0 || to.Sign() == 0 {
		return nil, nil, false
	}
	scale = new(big.Rat).Quo(to, from)
	return scale, new(big.Rat).Sub(other[a], new(big.Rat).Mul(own[a], scale)), true
}

// alike are rows in which every member turns alike.
type alike struct {
	rows  []string
	label string
	st    *geartrain.State
	shown bool // is or holds the row that was asked for
}

// together groups the rows by speeds.
func (s *Sketch) together(row string, faults []geartrain.Fault) []alike {
	var out []alike
	for i := range s.m.Rows() {
		st, name := s.m.Under(i, faults...), s.m.RowName(i)
		j := slices.IndexFunc(out, func(a alike) bool { return a.st.Class == st.Class && same(a.st.Speeds, st.Speeds) })
		if j < 0 {
			out, j = append(out, alike{st: st}), len(out)
		}
		out[j].rows = append(out[j].rows, name)
		out[j].shown = out[j].shown || name == row
	}
	gears := map[string]int{}
	for i := range out {
		_, out[i].label, _ = strings.Cut(out[i].rows[0], "/")
		for _, r := range out[i].rows {
			if _, g, _ := strings.Cut(r, "/"); g != out[i].label {
				out[i].label = out[i].rows[0]
			}
		}
		gears[out[i].label]++
	}
	for i := range out {
		if gears[out[i].label] > 1 {
			out[i].label = out[i].rows[0]
		}
	}
	return out
}

func same(a, b map[string]*big.Rat) bool {
	if len(a) != len(b) {
		return false
	}
	for m, x := range a {
		y, ok := b[m]
		if !ok || (x == nil) != (y == nil) || x != nil && x.Cmp(y) != 0 {
			return false
		}
	}
	return true
}

// Measures of the nomogram.
const (
	tall     = 330.0 // of the scale
	nodeWide = 104.0 // of a lever, for each distance between members
	between  = 92.0  // from lever to lever, with room for the labels of lines
)

// dashes tell the lines of rows apart; the marks on them do as well.
var dashes = []string{"", "7 4", "2 3", "10 3 2 3", "12 5", "4 2 1 2", "1 4", "9 2 2 2 2 2"}

// Nomogram draws the speeds of all members in all rows, sound or with faults,
// to one scale: each lever's members stand at the distances of their teeth, and
// a row is a straight line through them. row is drawn heavier than the others,
// "" for none. Below stands the table of all speeds. The error says that the
// unit has no such row.
func (s *Sketch) Nomogram(row string, faults ...geartrain.Fault) (string, error) {
	if row != "" {
		if _, err := s.row(row); err != nil {
			return "", err
		}
	}
	n := &nomogram{Sketch: s, faults: faults, levers: s.levers(faults), groups: s.together(row, faults), row: row}
	return n.draw(), nil
}

type nomogram struct {
	*Sketch
	canvas
	row       string
	faults    []geartrain.Fault
	levers    []lever
	groups    []alike
	low, high float64 // of the scale, in multiples of input speed
	top       float64
}

func (n *nomogram) y(speed float64) float64 {
	return n.top + tall*(n.high-speed)/(n.high-n.low)
}

func (n *nomogram) draw() string {
	n.scale()
	n.top = 140
	w := 160.0
	widths := make([]float64, len(n.levers))
	for i := range n.levers {
		widths[i] = nodeWide * float64(max(1, len(n.levers[i].nodes)-1))
		w += widths[i] + between
	}
	tableWide := 170 + 74*float64(len(n.groups)) + 20
	w = max(w, tableWide, 560)
	n.label(16, 26, "Speed of every member in every row", "font-size", 19.0, "font-weight", "bold")
	n.label(16, 46, n.u.Title+n.with(n.faults))
	n.grid(w)
	x := 70.0
	for i := range n.levers {
		n.lever(&n.levers[i], x, widths[i])
		x += widths[i] + between
	}
	h := n.table(n.top + tall + 34)
	title := fmt.Sprintf("%s, speeds of all members%s", n.u.Title, n.with(n.faults))
	return n.document(ident("speeds", n.u.ID, n.row, n.with(n.faults)), title, n.describe(), w, h)
}

// scale takes in every speed that is drawn, and 0 and 1.
func (n *nomogram) scale() {
	n.low, n.high = 0, 1
	for _, g := range n.groups {
		for _, v := range g.st.Speeds {
			if v != nil && g.st.Class == geartrain.Drives {
				n.low, n.high = min(n.low, float(v)), max(n.high, float(v))
			}
		}
	}
	n.low, n.high = math.Floor(n.low*4-0.2)/4, math.Ceil(n.high*4+0.2)/4
}

func (n *nomogram) grid(w float64) {
	every := 0.5
	if n.high-n.low > 5 {
		every = 1
	}
	for v := math.Ceil(n.low/every) * every; v <= n.high; v += every {
		width, color := 0.7, hair
		text := value(v)
		if v == 0 || v == 1 {
			width, color = 1.6, ink
		}
		n.line(46, n.y(v), w-16, n.y(v), width, color)
		n.label(40, n.y(v)+4, text, "text-anchor", "end", "font-size", 12.0)
	}
	n.label(16, 68, "Speed upward, input = 1; below 0: backward", "font-size", 12.0)
	n.label(w-18, n.y(0)+14, "stands still", "text-anchor", "end", "font-size", 11.0, "fill", faint)
	n.label(w-18, n.y(1)-5, "turns with the input", "text-anchor", "end", "font-size", 11.0, "fill", faint)
}

func (n *nomogram) lever(l *lever, x0, span float64) {
	first, last := l.nodes[0].at, l.nodes[len(l.nodes)-1].at
	at := func(i int) float64 {
		if first.Cmp(last) == 0 {
			return x0
		}
		part := new(big.Rat).Quo(new(big.Rat).Sub(l.nodes[i].at, first), new(big.Rat).Sub(last, first))
		return x0 + span*float(part)
	}
	n.begin("g", "data-lever", l.title)
	n.names(l, at)
	for i := range l.nodes {
		n.line(at(i), n.top-6, at(i), n.top+tall, 1.2, faint)
	}
	type endLabel struct {
		y, want float64
		g       int
	}
	var labels []endLabel
	for gi := range n.groups {
		g := &n.groups[gi]
		if g.st.Class != geartrain.Drives {
			continue
		}
		n.begin("g", "data-rows", strings.Join(g.rows, " "))
		width, color := 1.5, ink
		if g.shown {
			width, color = 4.5, accent
		}
		ends := []int{0, len(l.nodes) - 1}
		a, b := n.speed(g, l.nodes[ends[0]]), n.speed(g, l.nodes[ends[1]])
		if a != nil && b != nil {
			more := []any{}
			if d := dashes[gi%len(dashes)]; d != "" && !g.shown {
				more = append(more, "stroke-dasharray", d)
			}
			n.line(at(ends[0]), n.y(float(a)), at(ends[1]), n.y(float(b)), width, color, more...)
			labels = append(labels, endLabel{n.y(float(b)), n.y(float(b)), gi})
		}
		for i, nd := range l.nodes {
			if v := n.speed(g, nd); v != nil {
				n.point(at(i), n.y(float(v)), gi, g.shown, nd.members[0], v)
			}
		}
		n.end("g")
	}
	slices.SortStableFunc(labels, func(a, b endLabel) int { return cmp.Compare(a.want, b.want) })
	spread(len(labels), func(i int) *float64 { return &labels[i].y }, 14, n.top, n.top+tall)
	x := at(len(l.nodes) - 1)
	for _, e := range labels {
		g := n.groups[e.g]
		n.line(x+6, e.want, x+22, e.y, 0.8, faint)
		n.marker(x+29, e.y, e.g, g.shown)
		weight := "normal"
		if g.shown {
			weight = "bold"
		}
		n.label(x+38, e.y+4, g.label, "font-size", 12.5, "font-weight", weight)
	}
	n.end("g")
}

// spread pushes labels apart until they stand at least gap from each other.
func spread(count int, at func(int) *float64, gap, low, high float64) {
	for range 40 {
		for i := 1; i < count; i++ {
			if d := gap - (*at(i) - *at(i - 1)); d > 0 {
				*at(i - 1) -= d / 2
				*at(i) += d / 2
			}
		}
		if count > 0 {
			*at(0) = max(*at(0), low)
			*at(count - 1) = min(*at(count - 1), high)
		}
	}
}

// names writes the members over their axes, on as many levels as they need.
func (n *nomogram) names(l *lever, at func(int) float64) {
	ends := []float64{math.Inf(-1), math.Inf(-1), math.Inf(-1), math.Inf(-1)}
	for i, nd := range l.nodes {
		text := n.nodeName(nd)
		w := wide(text, 12.5)
		level := 0
		for level < len(ends)-1 && at(i)-w/2 < ends[level]+8 {
			level++
		}
		ends[level] = at(i) + w/2
		y := n.top - 12 - 16*float64(level)
		if level > 0 {
			n.line(at(i), y+3, at(i), n.top-6, 0.7, faint)
		}
		n.label(at(i), y, text, "text-anchor", "middle", "font-size", 12.5, "stroke", paper, "stroke-width", 3.0, "paint-order", "stroke")
	}
	n.label(at(0)-10, n.top+tall+18, l.title, "font-size", 12.0, "fill", faint)
}

// nodeName is what of a gearset a node is, and whether it is the way in or out.
func (n *nomogram) nodeName(nd node) string {
	text := ""
	for _, m := range nd.members {
		ofSet := slices.ContainsFunc(n.u.Train.Gearsets, func(g engine.Gearset) bool { return g.Sun == m || g.Carrier == m || g.Ring == m })
		if text == "" && ofSet {
			text = engine.Spaced(m)
		}
	}
	for _, m := range nd.members {
		if (m == n.u.Train.Output || m == n.u.Train.Input) && text != engine.Spaced(m) {
			text += ", " + engine.Spaced(m)
		}
	}
	return text
}

func (n *nomogram) speed(g *alike, nd node) *big.Rat {
	for _, m := range nd.members {
		if v := g.st.Speeds[m]; v != nil {
			return v
		}
	}
	return nil
}

// point is a member's speed in a row; its place and its figure are the same.
func (n *nomogram) point(x, y float64, g int, shown bool, member string, v *big.Rat) {
	n.begin("g", "data-member", member, "data-speed", v.RatString(), "data-y", y)
	n.marker(x, y, g, shown)
	n.end("g")
}

// marker is the sign of a group of rows.
func (n *nomogram) marker(x, y float64, g int, shown bool) {
	r, stroke := 3.6, ink
	if shown {
		r, stroke = 5.2, accent
	}
	fill := paper
	if g/4%2 == 0 {
		fill = stroke
	}
	switch g % 4 {
	case 0:
		n.tag("circle", "cx", x, "cy", y, "r", r, "fill", fill, "stroke", stroke, "stroke-width", 1.3)
	case 1:
		n.path(fill, stroke, 1.3, x-r, y-r, x+r, y-r, x+r, y+r, x-r, y+r)
	case 2:
		n.path(fill, stroke, 1.3, x, y-r-0.5, x+r+1, y+r+0.5, x-r-1, y+r+0.5)
	default:
		n.path(fill, stroke, 1.3, x, y-r-1.5, x+r+1.5, y, x, y+r+1.5, x-r-1.5, y)
	}
}

// table writes every speed as a figure, and says what rows do not drive.
func (n *nomogram) table(y float64) float64 {
	x := func(i int) float64 { return 170 + 74*float64(i) + 37 }
	lines := 0
	for gi, g := range n.groups {
		n.marker(x(gi), y+12, gi, g.shown)
		for i, r := range g.rows {
			weight := "normal"
			if r == n.row {
				weight = "bold"
			}
			n.label(x(gi), y+30+14*float64(i), r, "text-anchor", "middle", "font-size", 12.0, "font-weight", weight)
		}
		lines = max(lines, len(g.rows))
	}
	n.label(16, y+16, "speed, input = 1", "font-size", 12.0, "fill", faint)
	y += 30 + 14*float64(lines)
	row := func(name string, bold bool, cell func(*alike) (string, string)) {
		n.line(16, y-11, x(len(n.groups))-37, y-11, 0.7, hair)
		weight := "normal"
		if bold {
			weight = "bold"
		}
		n.label(16, y+4, name, "font-weight", weight)
		for gi := range n.groups {
			text, exact := cell(&n.groups[gi])
			more := []any{"text-anchor", "middle", "font-weight", weight}
			if exact != "" {
				more = append(more, "data-cell", name, "data-rows", strings.Join(n.groups[gi].rows, " "), "data-speed", exact)
			}
			n.label(x(gi), y+4, text, more...)
		}
		y += 20
	}
	for _, m := range n.m.Members() {
		if m == engine.CaseMember {
			continue
		}
		row(engine.Spaced(m), m == n.u.Train.Output || m == n.u.Train.Input, func(g *alike) (string, string) {
			switch v := g.st.Speeds[m]; {
			case g.st.Speeds == nil:
				return "–", ""
			case v == nil:
				return "free", ""
			case v.Sign() == 0:
				return "0 held", "0"
			default:
				return v.FloatString(3), v.RatString()
			}
		})
	}
	row("ratio", true, func(g *alike) (string, string) {
		switch {
		case g.st.Class == geartrain.Drives:
			return g.st.Ratio.FloatString(3), ""
		case g.st.Class == geartrain.NoDrive:
			return "no drive", ""
		}
		return "ties up", ""
	})
	n.line(16, y-11, x(len(n.groups))-37, y-11, 0.7, hair)
	n.label(16, y+8, "Each row is a straight line through a lever; members are spaced by", "font-size", 12.0)
	n.label(16, y+24, "their tooth counts. Rows that do not drive have no line.", "font-size", 12.0)
	return y + 40
}

func (n *nomogram) describe() string {
	var parts []string
	for _, g := range n.groups {
		text := strings.Join(g.rows, ", ") + ": " + outcome(g.st)
		if g.st.Class == geartrain.Drives {
			var list []string
			for _, m := range n.m.Members() {
				if v := g.st.Speeds[m]; v != nil && m != engine.CaseMember {
					list = append(list, engine.Spaced(m)+" "+number(v))
				}
			}
			text += "; " + strings.Join(list, ", ")
		}
		parts = append(parts, text)
	}
	return "Speeds, input 1. " + strings.Join(parts, ". ") + "."
}
