package draft

import (
	"slices"
	"strconv"
	"strings"

	"slipcase/engine"
)

// scratch begins a unit that is built like none of those known: gear sets,
// elements and rows are told member by member.
func (d *Draft) scratch() {
	d.members, d.like = true, &engine.Unit{}
	d.u = engine.Unit{ID: d.id}
	d.queue = append(d.queue,
		Question{Kind: AskTitle, Default: d.id},
		Question{Kind: AskSource},
		Question{Kind: AskDrive, Default: "rear"},
		Question{Kind: AskControls, Default: "hydraulic"},
		Question{Kind: AskGearset},
		Question{Kind: AskEnds},
		Question{Kind: AskElement},
		Question{Kind: AskMore},
		Question{Kind: AskOrder})
}

// again puts the question once more before those that follow.
func (d *Draft) again(q Question) { d.queue = slices.Insert(d.queue, 1, q) }

// gearset reads "front single sun carrier ring", with the teeth of sun and ring
// behind it where they are known.
func (d *Draft) gearset(q Question, text string) error {
	w := strings.Fields(text)
	bad := &ErrAnswer{Question: q.Kind, Text: text}
	switch {
	case len(w) == 0 && len(d.u.Train.Gearsets) > 0:
		return nil
	case len(w) != 5 && len(w) != 7:
		return bad
	}
	kind := engine.GearsetKind(w[1])
	if kind != engine.Single && kind != engine.Double {
		return &ErrAnswer{Question: q.Kind, Text: w[1], Known: []string{string(engine.Single), string(engine.Double)}}
	}
	g := engine.Gearset{Name: plain(w[0]), Kind: kind, Sun: plain(w[2]), Carrier: plain(w[3]), Ring: plain(w[4])}
	if len(w) == 7 {
		for i, into := range []*int64{&g.SunTeeth, &g.RingTeeth} {
			n, err := strconv.Atoi(w[5+i])
			if err != nil || n < 1 || n > 1000 {
				return bad
			}
			*into = int64(n)
		}
		if g.RingTeeth <= g.SunTeeth && g.Carrier != engine.CaseMember {
			return bad
		}
	}
	for _, name := range []string{g.Name, g.Sun, g.Carrier, g.Ring} {
		if name == "" {
			return bad
		}
	}
	if d.taken(g.Name) {
		return bad
	}
	d.u.Train.Gearsets = append(d.u.Train.Gearsets, g)
	d.again(q)
	return nil
}

// ends reads the input and the output member.
func (d *Draft) ends(q Question, text string) error {
	w := strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == ',' })
	bad := &ErrAnswer{Question: q.Kind, Text: text, NotCovered: engine.NotCovered(text)}
	if bad.NotCovered != "" || len(w) != 2 || plain(w[0]) == "" || plain(w[1]) == "" || plain(w[0]) == plain(w[1]) {
		if bad.NotCovered == "" && len(w) == 3 { // two that drive, and what is driven
			bad.NotCovered = engine.TwoInputs
		}
		return bad
	}
	d.u.Train.Input, d.u.Train.Output = plain(w[0]), plain(w[1])
	return nil
}

// oneElement reads one element: its kind, its name in the manual, and what it
// joins, holds or stops.
func (d *Draft) oneElement(q Question, text string) error {
	w := strings.Fields(strings.NewReplacer("one-way", "one_way", "converter-clutch", "converter_clutch").Replace(text))
	bad := &ErrAnswer{Question: q.Kind, Text: text}
	if len(w) == 0 {
		if len(d.u.Elements) == 0 {
			return bad
		}
		d.offer()
		return nil
	}
	kinds := map[string][2]int{"clutch": {4, 4}, "brake": {3, 3}, "band": {3, 3}, "one_way": {3, 4}, "converter_clutch": {2, 2}}
	n, ok := kinds[w[0]]
	if !ok {
		return &ErrAnswer{Question: q.Kind, Text: w[0], Known: []string{"clutch", "brake", "band", "one_way", "converter_clutch"}}
	}
	if len(w) < n[0] || len(w) > n[1] || plain(w[1]) == "" || d.taken(plain(w[1])) {
		return bad
	}
	if w[0] == "converter_clutch" { // outside the train: it has no members
		if d.converterClutch() != "" {
			return bad
		}
		e := engine.Element{Name: plain(w[1]), Title: w[1], Kind: engine.ConverterClutch}
		d.u.Elements = append(d.u.Elements, e)
		d.names[e.Name] = e.Name
		d.again(q)
		return nil
	}
	e := engine.Element{Name: plain(w[1]), Title: w[1], Kind: engine.ElementKind(w[0]), A: plain(w[2]), B: engine.CaseMember}
	if len(w) == 4 {
		e.B = plain(w[3])
	}
	for _, m := range []string{e.A, e.B} {
		if m != engine.CaseMember && !d.member(m) && e.Kind != engine.OneWay && e.Kind != engine.Brake {
			return &ErrAnswer{Question: q.Kind, Text: m, Known: d.memberNames()}
		}
	}
	d.u.Elements = append(d.u.Elements, e)
	d.names[e.Name] = e.Name
	d.again(q)
	return nil
}

// offer writes what may be named into the questions that follow.
func (d *Draft) offer() {
	for i := range d.queue {
		switch q := &d.queue[i]; q.Kind {
		case AskMore:
			q.Names = d.applicable()
		case AskOrder:
			q.Names = d.stack()
			q.Default = strings.Join(q.Names, ", ")
		}
	}
}

func (d *Draft) taken(name string) bool {
	return slices.Contains([]string{"converter", "unit", "shift", "pressure", "range", "case"}, name) ||
		slices.ContainsFunc(d.u.Train.Gearsets, func(g engine.Gearset) bool { return g.Name == name }) ||
		slices.ContainsFunc(d.u.Elements, func(e engine.Element) bool { return e.Name == name })
}

func (d *Draft) memberNames() []string {
	out := []string{d.u.Train.Input, d.u.Train.Output}
	for _, g := range d.u.Train.Gearsets {
		out = append(out, g.Sun, g.Carrier, g.Ring)
	}
	for _, e := range d.u.Elements {
		out = append(out, e.A, e.B)
	}
	slices.Sort(out)
	return slices.DeleteFunc(slices.Compact(out), func(s string) bool { return s == engine.CaseMember || s == "" })
}

func (d *Draft) member(name string) bool { return slices.Contains(d.memberNames(), name) }

// ParallelShafts is a train to start from: four gear pairs on two fixed shafts
// and a reverse pair with its idler, each with a clutch. The case is the carrier
// of every pair; a pair counts as double where the wheels go forward, as single
// with the idler. Tooth counts are invented near 2.5, 1.5, 1.0, 0.7 and 2.2.
func ParallelShafts() *engine.Unit {
	u := &engine.Unit{ID: "parallel-shafts", Title: "Four-speed with gear pairs on parallel shafts, transaxle", Drive: "front", Controls: "electronic"}
	u.Train = engine.Train{Input: "main", Output: "counter"}
	u.Rows = append(u.Rows, engine.Row{Range: "P", Gear: "P"})
	for _, x := range []struct {
		gear, name string
		kind       engine.GearsetKind
		sun, ring  string
		s, r       int64
	}{
		{"R", "reverse", engine.Single, "main", "reverse_gear", 20, 44},
		{"N", "", "", "", "", 0, 0},
		{"1", "first", engine.Double, "main", "first_gear", 20, 50},
		{"2", "second", engine.Double, "main", "second_gear", 26, 39},
		{"3", "third", engine.Double, "main", "third_gear", 31, 32},
		{"4", "fourth", engine.Double, "fourth_gear", "main", 28, 40},
	} {
		rng := "D"
		if x.gear == "R" || x.gear == "N" {
			rng = x.gear
		}
		row := engine.Row{Range: rng, Gear: x.gear}
		if x.name != "" {
			row.Apply = []string{x.name}
			loose := x.ring
			if loose == "main" {
				loose = x.sun
			}
			u.Train.Gearsets = append(u.Train.Gearsets, engine.Gearset{Name: x.name + "_pair", Title: x.name + " gear pair", Kind: x.kind,
				Sun: x.sun, Carrier: engine.CaseMember, Ring: x.ring, SunTeeth: x.s, RingTeeth: x.r})
			u.Elements = append(u.Elements, engine.Element{Name: x.name, Title: x.name + " clutch", Kind: engine.Clutch, A: loose, B: "counter"})
		}
		u.Rows = append(u.Rows, row)
	}
	return u
}
