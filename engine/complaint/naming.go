package complaint

import (
	"strings"

	"slipcase/engine"
)

// places names a finding at the places that words name. Open tells that the
// words name none where one is needed: it is to be asked.
func (x *Matcher) places(f *engine.Finding, said []place, starts, shifting bool, before []place) (names []string, open bool) {
	add := func(name string) {
		for _, n := range names {
			if n == name {
				return
			}
		}
		names = append(names, name)
	}
	// Who does not name both gears speaks of upshifts, unless the finding is one
	// of downshifts alone.
	shifts := func(fits func(from, to string) bool) {
		for _, name := range x.m.Match(f.Name + "@*") {
			if place := engine.ParseFindingName(name).Place; !pairNamed(said) && !x.m.Upshift(place) && x.isUp(f) {
				continue
			}
			rng, s, _ := strings.Cut(engine.ParseFindingName(name).Place, "/")
			if from, to, ok := strings.Cut(s, "-"); ok && rng == x.forward() && !strings.Contains(to, "/") && fits(from, to) {
				add(name)
			}
		}
	}
	switch f.Per {
	case engine.PerUnit:
		return []string{f.Name}, false
	case engine.PerRow:
		if starts && onlyGears(said) {
			// "starts off in third": it is where it starts that is wrong.
			if rows := x.rows([]place{{kind: takeoff}}, nil); len(rows) > 0 {
				add(f.Name + "@" + rows[0])
			}
			return names, false
		}
		for _, p := range said {
			for _, row := range x.rowsOf(f, p, before) {
				if x.m.HasFinding(f.Name + "@" + row) {
					add(f.Name + "@" + row)
				}
			}
		}
	case engine.PerRowGear:
		// "starts off in third": first acts as third.
		rows := x.rows([]place{{kind: takeoff}}, nil)
		for _, p := range said {
			if p.kind == gear && len(rows) > 0 {
				if name := f.Name + "_" + x.gear(p.name) + "@" + rows[0]; x.m.HasFinding(name) {
					add(name)
				}
			}
		}
		return names, false
	case engine.PerShift:
		paired := false
		for _, p := range said {
			paired = paired || p.kind == shift
		}
		for _, p := range said {
			switch g := x.gear(p.name); {
			case p.kind == shift:
				shifts(func(from, to string) bool { return from+"-"+to == p.name })
			case p.kind == all:
				shifts(func(from, to string) bool { return true })
			case p.kind == others:
				shifts(func(from, to string) bool {
					for _, b := range before {
						if b.name == from+"-"+to || b.kind == gear && !b.from && x.gear(b.name) == to || b.kind == gear && b.from && x.gear(b.name) == from {
							return false
						}
					}
					return true
				})
			case p.kind == gear && !paired:
				shifts(func(from, to string) bool { return p.from && from == g || !p.from && to == g })
			}
		}
	case engine.PerEngagement:
		for _, p := range said {
			switch {
			case p.kind == span && x.m.HasFinding(f.Name+"@"+p.name):
				add(f.Name + "@" + p.name)
			case p.kind == ahead, p.kind == gear && p.name == "1":
				add(f.Name + "@" + x.forward())
			case p.kind == all && p.name == "":
				add(f.Name + "@" + x.forward())
				add(f.Name + "@R")
			}
		}
	}
	if len(names) > 0 {
		return names, false
	}
	for _, p := range said {
		switch {
		case p.kind == span && (p.name == "N" || p.name == "P") && f.Per == engine.PerRow,
			p.kind == gear && f.Per == engine.PerShift,
			p.kind == span && f.Per == engine.PerShift && !shifting,
			p.kind == gear && f.Per == engine.PerEngagement:
			return nil, false // said of a place where there is no such thing
		}
	}
	return nil, true
}

// isUp tells whether a finding is one of upshifts, be it of downshifts too.
func (x *Matcher) isUp(f *engine.Finding) bool { return len(x.m.Match(f.Name+"@up")) > 0 }

func pairNamed(said []place) bool {
	for _, p := range said {
		if p.kind == shift {
			return true
		}
	}
	return false
}

func onlyGears(said []place) bool {
	for _, p := range said {
		if p.kind != gear && p.kind != takeoff {
			return false
		}
	}
	return true
}

// forward is the range in which a driver drives.
func (x *Matcher) forward() string {
	for _, r := range x.m.Unit.Rows {
		if r.Range == "D" {
			return "D"
		}
	}
	for _, r := range x.m.Unit.Rows {
		if r.Gear == "1" {
			return r.Range
		}
	}
	return "D"
}

// gear is the label of a gear; "top" is the highest of the forward range.
func (x *Matcher) gear(name string) string {
	if name != "top" {
		return name
	}
	top := ""
	for _, r := range x.m.Unit.Rows {
		if r.Range == x.forward() && (len(r.Gear) > len(top) || len(r.Gear) == len(top) && r.Gear > top) {
			top = r.Gear
		}
	}
	return top
}

// rows are the rows that a driver means by places: those of the forward range
// for gears, the row in which it pulls away for a range.
func (x *Matcher) rows(said []place, before []place) []string {
	var out []string
	for _, p := range said {
		for _, row := range x.rowsOf(nil, p, before) {
			dup := false
			for _, o := range out {
				dup = dup || o == row
			}
			if !dup {
				out = append(out, row)
			}
		}
	}
	return out
}

// rowsOf are the rows of one place. Loss of drive shows where it pulls away;
// engine braking is felt in the highest gear of a range.
func (x *Matcher) rowsOf(f *engine.Finding, p place, before []place) []string {
	var out []string
	u, fwd := x.m.Unit, x.forward()
	launch := f != nil && lossOfDrive(f)
	switch p.kind {
	case gear:
		g := x.gear(p.name)
		for _, r := range u.Rows {
			if r.Gear == g && r.Range == fwd {
				return []string{r.Name()}
			}
		}
		for _, r := range u.Rows {
			if r.Gear == g {
				return []string{r.Name()}
			}
		}
	case shift:
		_, to, _ := strings.Cut(p.name, "-")
		return x.rowsOf(f, place{kind: gear, name: to}, before)
	case span:
		name := p.name
		if name == "L" && !x.hasRange("L") && x.hasRange("1") {
			name = "1"
		}
		first, last := "", ""
		for _, r := range u.Rows {
			if r.Range != name {
				continue
			}
			if first == "" || r.Gear < first {
				first = r.Gear
			}
			if r.Gear > last {
				last = r.Gear
			}
		}
		switch {
		case first == "" && p.name >= "1" && p.name <= "9":
			return x.rowsOf(f, place{kind: gear, name: p.name}, before)
		case first == "":
		case f != nil && braking(f) && name != fwd:
			return []string{name + "/" + last}
		default:
			return []string{name + "/" + first}
		}
	case takeoff:
		return x.rowsOf(f, place{kind: span, name: fwd}, before)
	case ahead, all, others:
		if launch && (p.kind == ahead && p.name == "" || p.kind == all) {
			out = x.rowsOf(f, place{kind: span, name: fwd}, before)
		} else {
			for _, r := range u.Rows {
				if r.Range == fwd {
					out = append(out, r.Name())
				}
			}
		}
		if p.kind == all {
			out = append(out, x.rowsOf(f, place{kind: span, name: "R"}, before)...)
		}
		if p.kind == others {
			named := map[string]bool{}
			for _, row := range x.rows(before, nil) {
				named[row] = true
			}
			var rest []string
			for _, row := range out {
				if !named[row] {
					rest = append(rest, row)
				}
			}
			return rest
		}
	}
	return out
}

func (x *Matcher) hasRange(name string) bool {
	for _, r := range x.m.Unit.Rows {
		if r.Range == name {
			return true
		}
	}
	return false
}

func hasSign(f *engine.Finding, outcomes ...string) bool {
	for _, s := range f.Signs {
		for _, o := range outcomes {
			if s.To == o {
				return true
			}
		}
	}
	return false
}

// lossOfDrive tells a finding that a row does not drive at all.
func lossOfDrive(f *engine.Finding) bool {
	return hasSign(f, "no_drive") && !hasSign(f, "partial", "reverse")
}

func braking(f *engine.Finding) bool {
	return hasSign(f, "no_engine_braking", "extra_engine_braking")
}
