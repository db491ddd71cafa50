package rules

import (
	"fmt"
	"slices"
	"strings"

	"slipcase/engine"
	"slipcase/rules/syntax"
)

// use says where a finding's name stands, and so what its place may be.
type use uint8

const (
	forCase  use = iota // a report: one place of the unit, where the finding has places
	forCheck            // yields, withheld: one place, @*, or none for all
	forCause            // shows of a cause, sign of a code: one place or @*
	forMode             // shows of a mode: @served too
)

// placeExample shows what a place of a template looks like.
func placeExample(per engine.Per) string {
	switch per {
	case engine.PerRow, engine.PerRowGear:
		return "D/3"
	case engine.PerShift:
		return "D/2-3"
	case engine.PerEngagement:
		return "R"
	case engine.PerPressure:
		return "idle/R"
	case engine.PerCircuit:
		return "line"
	case engine.PerElement:
		return "forward"
	case engine.PerSolenoid:
		return "a"
	case engine.PerLimit:
		return "input_end_play"
	}
	return ""
}

// template gives the finding behind a name. Per row_gear the name carries the
// gear: acts_as_2 is of the template acts_as.
func (r *resolver) template(name string) (f *engine.Finding, now, gear string, renamed bool) {
	now, renamed, ok := r.rules[aFinding].find(name)
	if ok {
		return r.known[now], now, "", renamed
	}
	for i := range r.k.Findings {
		t := &r.k.Findings[i]
		if g, ok := strings.CutPrefix(name, t.Name+"_"); ok && t.Per == engine.PerRowGear && g != "" && len(g) <= 4 {
			return t, name, g, false
		}
	}
	return nil, "", "", false
}

// finding looks up name[@place][:condition] and gives it with the name that
// holds now.
func (r *resolver) finding(s *scope, text string, at engine.Range, in use) string {
	n := engine.ParseFindingName(text)
	if n.Condition != "" && !slices.Contains(conditionWords, string(n.Condition)) {
		if !r.Full() {
			r.Error(at, fmt.Sprintf("unknown condition %q", syntax.Clip(string(n.Condition))), "After the colon comes a condition. "+didYouMean(string(n.Condition), conditionWords))
		}
		n.Condition = ""
	}
	f, now, gear, renamed := r.template(n.Name)
	if now == "" {
		r.unknown(aFinding, s, n.Name, at)
		return text
	}
	if renamed {
		r.Warn(at, fmt.Sprintf("finding %q is now called %q", n.Name, now), "The old name still works. Change it to the new one.")
	}
	n.Name = now
	if f == nil { // a trouble code: it has no place
		if n.Place != "" {
			r.Error(at, "a trouble code has no place", fmt.Sprintf("Write: %q", n.Name))
		}
		return n.String()
	}
	if f.Per == engine.PerRowGear && gear == "" && in == forCase {
		r.Error(at, fmt.Sprintf("%s without its gear", n.Name), fmt.Sprintf("Say as which gear: \"%s_2@D/3\".", n.Name))
		return n.String()
	}
	if gear != "" && s != nil && !s.gear(gear) {
		r.Error(at, fmt.Sprintf("unit %s has no gear %q", s.unit.ID, gear), fmt.Sprintf("Its gears are %s.", strings.Join(s.gears(), ", ")))
		return n.String()
	}
	switch {
	case f.Per == engine.PerUnit:
		if n.Place != "" {
			r.Error(at, fmt.Sprintf("%s has no place", n.Name), fmt.Sprintf("It is one finding for the whole unit. Write: %q", n.Name))
		}
	case n.Place == "":
		if in != forCheck {
			r.Error(at, fmt.Sprintf("%s without its place", n.Name), fmt.Sprintf("It is a finding per %s. Write %q%s.", f.Per, n.Name+"@"+placeExample(f.Per), everyPlace(in, n.Name)))
		}
	case engine.IsPlaceSet(f.Per, n.Place):
		if in == forCase {
			r.Error(at, "a report of every place", fmt.Sprintf("Name each place: %q", n.Name+"@"+placeExample(f.Per)))
		}
	case n.Place == "served":
		if in != forMode {
			r.Error(at, "@served outside a mode", fmt.Sprintf("Only a mode's component serves something. Write %q for every place.", n.Name+"@*"))
		}
	default:
		if kind, ok := thingOf[f.Per]; ok && s != nil {
			if now, renamed, _ := s.tables[kind].find(n.Place); renamed {
				r.Warn(at, fmt.Sprintf("%s %q is now called %q", f.Per, n.Place, now), "The old name still works. Change it to the new one.")
				n.Place = now
			}
		}
		r.place(s, f, n.Name, n.Place, at)
	}
	return n.String()
}

// thingOf says what the places of a finding are names of, where these can change.
var thingOf = map[engine.Per]lookKind{
	engine.PerLimit: aLimit, engine.PerSolenoid: aSolenoid, engine.PerElement: anElement, engine.PerCircuit: aCircuit,
}

func everyPlace(in use, name string) string {
	switch in {
	case forMode:
		return fmt.Sprintf(", %q for what its component serves, or %q for every place", name+"@served", name+"@*")
	case forCause, forCheck:
		return fmt.Sprintf(", or %q for every place", name+"@*")
	}
	return ""
}

// place checks a place on a unit, or on all units when s is nil.
func (r *resolver) place(s *scope, f *engine.Finding, name, place string, at engine.Range) {
	if s != nil {
		known := s.placesOf(f.Per)
		if slices.Contains(known, place) || r.Full() {
			return
		}
		detail := didYouMean(place, known)
		if nearest(place, known) == "" && len(known) > 12 {
			detail = fmt.Sprintf("It is a finding per %s, written like %q.", f.Per, name+"@"+known[0])
		}
		if len(known) == 0 {
			detail = fmt.Sprintf("It is a finding per %s, and the unit has none.", f.Per)
		}
		r.Error(at, fmt.Sprintf("unit %s has no %q for %s", s.unit.ID, syntax.Clip(place), name), detail)
		return
	}
	if !r.whole || f.Per == engine.PerSolenoid && letter(place) {
		return
	}
	for _, u := range r.units {
		if slices.Contains(u.placesOf(f.Per), place) {
			return
		}
	}
	if len(r.units) > 0 {
		r.Error(at, fmt.Sprintf("no unit has %q for %s", syntax.Clip(place), name), fmt.Sprintf("It is a finding per %s, written like %q.", f.Per, name+"@"+placeExample(f.Per)))
	}
}

// placesOf lists the places of a template on this unit.
func (s *scope) placesOf(per engine.Per) []string {
	if s.byPer == nil {
		s.byPer = map[engine.Per][]string{}
	}
	if list, ok := s.byPer[per]; ok {
		return list
	}
	var out []string
	switch per {
	case engine.PerRow, engine.PerRowGear:
		out = s.tables[aRow].names
	case engine.PerShift:
		for i := range s.unit.Rows {
			for j := range s.unit.Rows {
				a, b := &s.unit.Rows[i], &s.unit.Rows[j]
				if i != j && a.Range == b.Range {
					out = append(out, a.Range+"/"+a.Gear+"-"+b.Gear)
				}
				if a.Range != b.Range && a.Gear > b.Gear && forward(a) && forward(b) {
					out = append(out, a.Name()+"-"+b.Name()) // by the lever
				}
			}
		}
	case engine.PerEngagement:
		out = s.tables[aRange].names
	case engine.PerPressure:
		for _, state := range []string{"idle", "load"} {
			for _, r := range s.tables[aRange].names {
				out = append(out, state+"/"+r)
			}
		}
	case engine.PerCircuit:
		out = s.tables[aCircuit].names
	case engine.PerElement:
		out = s.tables[anElement].names
	case engine.PerSolenoid:
		out = s.tables[aSolenoid].names
	case engine.PerLimit:
		out = s.tables[aLimit].names
	}
	s.byPer[per] = out
	return out
}

func forward(r *engine.Row) bool { return r.Range != "P" && r.Range != "N" && r.Range != "R" }
