package check

import (
	"fmt"
	"slices"
	"strings"

	"slipcase/engine"
)

// sourceAndVictim refuses a mode that makes a stress and is made by it.
func sourceAndVictim(r *run) {
	for i := range r.k.Modes {
		m := &r.k.Modes[i]
		for _, s := range m.Stresses {
			for _, b := range m.Because {
				if b.Of == s.To {
					r.add(engine.Diagnostic{Severity: engine.Error, Summary: fmt.Sprintf("mode %q is source and victim of %q", m.Name, s.To),
						Detail: "A mode stresses other parts or suffers from that stress, never both. Take one out, or split the mode in two.", Subject: b.At, Also: s.At})
				}
			}
		}
	}
}

// idleCauses reports root causes that cause nothing.
func idleCauses(r *run) {
	caused := map[string]bool{}
	for i := range r.k.Modes {
		for _, b := range r.k.Modes[i].Because {
			caused[b.Of] = true
		}
	}
	for i := range r.k.Causes {
		c := &r.k.Causes[i]
		if len(c.Stresses) == 0 && len(c.Shows) == 0 && !caused[c.Name] {
			r.error(c.At, fmt.Sprintf("root cause %q causes nothing", c.Name), "Say which stress it causes, which finding it shows, or name it in a mode's `because`.")
		}
		if c.Frequency.Text == "" {
			r.error(c.At, fmt.Sprintf("root cause %q without frequency", c.Name), "Give its frequency: the share of units with a complaint where it is true.")
		}
	}
}

// idleModes reports modes that cannot come about or cannot be seen.
func idleModes(r *run) {
	used := map[string]bool{}
	for _, u := range r.k.Units {
		for i := range u.Components {
			used[u.Components[i].Kind] = true
		}
	}
	for i := range r.k.Modes {
		m := &r.k.Modes[i]
		if len(m.Effects) == 0 && len(m.Shows) == 0 {
			r.error(m.At, fmt.Sprintf("mode %q without effect or sign", m.Name), "Nothing would ever point to it. Give an effect on what the part serves, or a finding that it shows.")
		}
		if m.Frequency.Text == "" && len(m.Because) == 0 {
			r.error(m.At, fmt.Sprintf("mode %q without frequency or because", m.Name), "It could never come about. Give its frequency, or what brings it about.")
		}
		if m.Frequency.Text != "" && m.Frequency.Value >= 0.5 {
			r.warn(m.Frequency.At, fmt.Sprintf("%s of all units fail by %q", m.Frequency.Text, m.Name), "Frequency is the share of units with a complaint that have this mode without any known cause. Half or more is hardly possible.")
		}
		if m.Duty && len(m.Of) > 0 && !slices.ContainsFunc(r.k.Kinds, func(k engine.Kind) bool {
			return slices.Contains(m.Of, k.Name) && (len(k.Serves) == 0 || slices.Contains(k.Serves, engine.OnElement))
		}) {
			r.warn(m.At, fmt.Sprintf("mode %q goes by no duty", m.Name), fmt.Sprintf("Duty is what driving asks of an element, and parts of kind %s serve none. Take `duty` out.", names(m.Of)))
		}
		if !r.opt.Part && len(r.k.Units) > 0 && !slices.ContainsFunc(m.Of, func(k string) bool { return used[k] }) && len(m.Of) > 0 {
			r.warn(m.At, fmt.Sprintf("mode %q of no component", m.Name), fmt.Sprintf("No unit has a component of kind %s.", names(m.Of)))
		}
	}
}

// idleStresses reports stresses that nothing makes or that harm nothing.
func idleStresses(r *run) {
	made, suffered := map[string]bool{}, map[string]bool{}
	for i := range r.k.Causes {
		for _, s := range r.k.Causes[i].Stresses {
			made[s.To] = true
		}
	}
	for i := range r.k.Modes {
		for _, s := range r.k.Modes[i].Stresses {
			made[s.To] = true
		}
		for _, b := range r.k.Modes[i].Because {
			suffered[b.Of] = true
		}
	}
	for i := range r.k.Stresses {
		s := &r.k.Stresses[i]
		if !made[s.Name] {
			r.warn(s.At, fmt.Sprintf("nothing makes the stress %q", s.Name), "No root cause and no mode `stresses` it, so what it explains never happens.")
		}
		if !suffered[s.Name] {
			r.warn(s.At, fmt.Sprintf("the stress %q harms nothing", s.Name), "No mode has it in a `because`.")
		}
	}
}

// base is a finding's template name, as it stands in a link.
func (r *run) base(name string) string {
	n := engine.ParseFindingName(name).Name
	best := ""
	for i := range r.k.Findings {
		f := &r.k.Findings[i]
		if f.Name == n {
			return n
		}
		if f.Per == engine.PerRowGear && strings.HasPrefix(n, f.Name+"_") && len(f.Name) > len(best) {
			best = f.Name
		}
	}
	if best != "" {
		return best
	}
	return n
}

// idleFindings reports findings that nothing shows, that no check yields, or
// that never come by chance.
func idleFindings(r *run) {
	shown, asked := map[string]bool{}, map[string]bool{}
	links := func(list []engine.Link) {
		for _, l := range list {
			shown[r.base(l.To)] = true
		}
	}
	for i := range r.k.Causes {
		links(r.k.Causes[i].Shows)
	}
	for i := range r.k.Modes {
		links(r.k.Modes[i].Shows)
	}
	for i := range r.k.Checks {
		for _, y := range r.k.Checks[i].Yields {
			asked[r.base(y)] = true
		}
	}
	limits := false
	for _, u := range r.k.Units {
		limits = limits || len(u.Limits) > 0
	}
	for i := range r.k.Findings {
		f := &r.k.Findings[i]
		if len(f.Signs) == 0 && !shown[f.Name] {
			r.warn(f.At, fmt.Sprintf("nothing shows the finding %q", f.Name), "No mode, root cause or outcome of physics makes it, so a report of it tells nothing.")
		}
		if !asked[f.Name] && f.Reading == "" && !(f.Per == engine.PerLimit && limits) {
			r.warn(f.At, fmt.Sprintf("no check yields the finding %q", f.Name), "It would never be asked for. Name it in a check's `yields`.")
		}
		if f.Leak.Text == "" {
			r.warn(f.At, fmt.Sprintf("finding %q without leak", f.Name), "Without one it is never there without a known cause, so that one report of it rules out all else. Give its leak: how often it is there anyway.")
		}
		if f.Reporter == "" && !r.reported(f.Name) {
			r.warn(f.At, fmt.Sprintf("nobody reports the finding %q", f.Name), "Give its reporter, or a reporter to the check that yields it.")
		}
	}
	for i := range r.k.Codes {
		c := &r.k.Codes[i]
		// A title alone defines a code: it is known, and tells nothing of a part.
		if len(c.Signs) == 0 && c.Title == "" && !shown["code_"+c.Name] {
			r.warn(c.At, fmt.Sprintf("nothing sets the code %q", c.Name), "Without a `sign` a report of it tells nothing.")
		}
		if c.Leak.Text == "" {
			r.warn(c.At, fmt.Sprintf("code %q without leak", c.Name), "Codes are set without a known cause too. Give its leak.")
		}
	}
}

// reported tells whether some check with a reporter yields the finding.
func (r *run) reported(finding string) bool {
	for i := range r.k.Checks {
		c := &r.k.Checks[i]
		if c.Reporter == "" {
			continue
		}
		for _, y := range c.Yields {
			if r.base(y) == finding {
				return true
			}
		}
	}
	return false
}

// reporters refuses those whose word means nothing.
func reporters(r *run) {
	const detail = "P(says present | present) must be above P(says present | absent); otherwise a report means nothing, or the opposite."
	for i := range r.k.Reporters {
		p := &r.k.Reporters[i]
		bad := func(on *engine.ReporterOn, hit, alarm engine.Number) bool {
			if hit.Text == "" || alarm.Text == "" {
				return false
			}
			falseAlarm, miss := p.Errs(on)
			return 1-miss <= falseAlarm
		}
		// Where the rules' own rates are well it is the shop's that are not.
		own := p.FalseAlarm.At
		if p.FalseAlarms.At.File != "" {
			own = p.FalseAlarms.At
		}
		if bad(nil, p.Hit, p.FalseAlarm) {
			r.error(own, fmt.Sprintf("reporter %q: false alarms as frequent as hits", p.Name), detail)
		}
		for i := range p.On {
			o := &p.On[i]
			if !bad(o, o.Hit, o.FalseAlarm) {
				continue
			}
			at := o.FalseAlarm.At
			if o.Hit.Value > o.FalseAlarm.Value {
				at = own
			}
			r.error(at, fmt.Sprintf("reporter %q on %q: false alarms as frequent as hits", p.Name, o.Finding), detail)
		}
	}
}
