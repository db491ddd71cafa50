package check

import (
	"fmt"

	"slipcase/engine"
)

// limits refuses limits that change no figure: a reading of them would be noted
// and mean nothing.
func limits(r *run) {
	for _, u := range r.k.Units {
		for i := range u.Limits {
			r.limit(u, &u.Limits[i])
		}
	}
}

func (r *run) limit(u *engine.Unit, l *engine.Limit) {
	at := engine.ParseFindingName(l.Measures)
	name, place := at.Name, at.Place
	if name == "" {
		name, place = "limit", l.Name
	}
	var read []*engine.Finding
	for i := range r.k.Findings {
		if f := &r.k.Findings[i]; f.Reading == name && (l.Measures != "") == (f.Per != engine.PerLimit) {
			read = append(read, f)
		}
	}
	if len(read) == 0 {
		r.error(l.At, fmt.Sprintf("no finding reads the limit %q", l.Name), fmt.Sprintf("A value noted for it would change nothing. Findings with reading = %q are wanted, or say in `measures` what it is that findings read.", name))
		return
	}
	used := false
	for _, f := range read {
		if !placeFits(u, f.Per, place) {
			r.error(l.At, fmt.Sprintf("limit %q measures no place of the unit", l.Name), fmt.Sprintf("%q is read per %s; %q is none of %s. Write: measures = \"%s@PLACE\"", name, perWord(f.Per), place, u.ID, name))
			return
		}
		used = used || len(f.Signs) > 0 || r.shows(u, l, f, place)
	}
	if !used {
		r.error(l.At, fmt.Sprintf("no fault shows in the limit %q", l.Name), "No mode of the unit's parts and no root cause shows what it measures, so a value noted for it would change nothing. Give a mode its `shows`, or take the limit out.")
	}
}

func perWord(p engine.Per) string {
	if p == engine.PerUnit {
		return "unit, without a place"
	}
	return string(p)
}

// placeFits tells whether a place is one of the unit, for findings per element,
// solenoid and so on. Places of the apply chart are the engine's business.
func placeFits(u *engine.Unit, per engine.Per, place string) bool {
	named := func(ok func(yield func(string))) bool {
		found := false
		ok(func(s string) { found = found || s == place })
		return found
	}
	switch per {
	case engine.PerUnit:
		return place == ""
	case engine.PerElement:
		return named(func(y func(string)) {
			for _, x := range u.Elements {
				y(x.Name)
			}
		})
	case engine.PerSolenoid:
		return named(func(y func(string)) {
			for _, x := range u.Solenoids {
				y(x.Name)
			}
		})
	case engine.PerCircuit:
		return named(func(y func(string)) {
			for _, x := range u.Circuits {
				y(x.Name)
			}
		})
	case engine.PerRow:
		return named(func(y func(string)) {
			for _, x := range u.Rows {
				y(x.Name())
			}
		})
	case engine.PerEngagement:
		return named(func(y func(string)) {
			for _, x := range u.Rows {
				y(x.Range)
			}
		})
	}
	return place != ""
}

// shows tells whether some mode of the unit's parts, or a root cause, shows the
// finding at the place.
func (r *run) shows(u *engine.Unit, l *engine.Limit, f *engine.Finding, place string) bool {
	names := func(links []engine.Link, served bool) bool {
		for _, x := range links {
			n := engine.ParseFindingName(x.To)
			if n.Name == f.Name && (n.Place == "*" || n.Place == place || n.Place == "served" && served) {
				return true
			}
		}
		return false
	}
	for i := range r.k.Causes {
		if names(r.k.Causes[i].Shows, false) {
			return true
		}
	}
	for i := range u.Components {
		c := &u.Components[i]
		served := f.Per == engine.PerLimit && l.Component == c.Name
		for _, t := range c.Serves {
			served = served || f.Per != engine.PerLimit && t.Name == place
		}
		for _, m := range r.modesOf[c.Kind] {
			if names(m.Shows, served) {
				return true
			}
		}
	}
	return false
}
