package check

import (
	"fmt"
	"slices"
	"sort"
	"strings"

	"slipcase/engine"
	"slipcase/rules"
)

func sortStrings(s []string) { sort.Strings(s) }

// components reports parts that cannot fail, or serve what their kind does
// not.
func components(r *run) {
	for _, u := range r.k.Units {
		if len(u.Components) == 0 {
			r.error(u.At, fmt.Sprintf("unit %q has no part that can fail", u.ID), "With a chart alone nothing can be diagnosed. Add `parts = usual`, which gives it the parts and teardown steps that such units have, or write components of its own.")
			continue
		}
		r.served(u)
		for _, name := range sorted(u.Frequency) {
			m, n := r.modes[name], u.Frequency[name]
			if m != nil && !slices.ContainsFunc(u.Components, func(c engine.Component) bool { return slices.Contains(m.Of, c.Kind) }) {
				r.error(n.At, fmt.Sprintf("no part of %q fails by %q", u.ID, name), fmt.Sprintf("The mode is of %s; the unit has no such part.", names(m.Of)))
			}
		}
		for i := range u.Components {
			c := &u.Components[i]
			k := r.kinds[c.Kind]
			if k == nil {
				continue
			}
			if len(r.modesOf[c.Kind]) == 0 {
				r.error(c.At, fmt.Sprintf("component %q cannot fail", c.Name), fmt.Sprintf("No mode is `of` its kind %s.", c.Kind))
			}
			for _, t := range c.Serves {
				if len(k.Serves) > 0 && !slices.Contains(k.Serves, t.Kind) {
					r.error(t.At, fmt.Sprintf("component %q serves a %s", c.Name, t.Kind), fmt.Sprintf("Components of kind %s serve %s.", k.Name, kindList(k.Serves)))
				}
			}
			for _, name := range sorted(c.Frequency) {
				n := c.Frequency[name]
				if m := r.modes[name]; m != nil && !slices.Contains(m.Of, c.Kind) {
					r.error(n.At, fmt.Sprintf("component %q never fails by %q", c.Name, name), fmt.Sprintf("It is a %s; the mode is of %s.", c.Kind, names(m.Of)))
				}
			}
		}
	}
}

// served warns of elements that no part serves: whatever happens to one, no
// suspect could be behind it.
func (r *run) served(u *engine.Unit) {
	has := map[string]bool{}
	for i := range u.Components {
		for _, t := range u.Components[i].Serves {
			if t.Kind == engine.OnElement {
				has[t.Name] = true
			}
		}
	}
	for i := range u.Elements {
		if e := &u.Elements[i]; !has[e.Name] {
			r.warn(e.At, fmt.Sprintf("no component serves %q", e.Name), "If it slips, nothing can be blamed. Add its parts, or `parts = usual` to the unit.")
		}
	}
}

func kindList(list []engine.TargetKind) string {
	s := make([]string, len(list))
	for i, k := range list {
		s[i] = string(k)
	}
	return names(s)
}

// effectsServed reports modes whose effects mean nothing for what a component
// serves.
func effectsServed(r *run) {
	for _, u := range r.k.Units {
		oneWay := map[string]bool{}
		for i := range u.Elements {
			oneWay[u.Elements[i].Name] = u.Elements[i].Kind == engine.OneWay
		}
		for i := range u.Components {
			c := &u.Components[i]
			known := map[string]bool{}
			for _, t := range c.Serves {
				for _, w := range engine.EffectWords(t.Kind, t.Kind == engine.OnElement && oneWay[t.Name]) {
					known[w] = true
				}
			}
			for _, m := range r.modesOf[c.Kind] {
				r.effects(u, c, m, known)
			}
		}
	}
}

// effects reports a mode none of whose effects the component's targets know.
func (r *run) effects(u *engine.Unit, c *engine.Component, m *engine.Mode, known map[string]bool) {
	if len(c.Serves) == 0 {
		return
	}
	var lost []string
	for _, e := range m.Effects {
		if !known[e.To] && !slices.Contains(lost, e.To) {
			lost = append(lost, e.To)
		}
	}
	if len(lost) == 0 {
		return
	}
	served := make([]string, len(c.Serves))
	for i, t := range c.Serves {
		served[i] = t.String()
	}
	at := c.Serves[0].At
	summary := fmt.Sprintf("component %q: mode %q cannot have its effect", c.Name, m.Name)
	detail := fmt.Sprintf("Its effect %s means nothing for %s, which can have: %s.", names(lost), names(served), names(sorted(known)))
	if len(lost) == len(m.Effects) {
		r.add(engine.Diagnostic{Severity: engine.Error, Summary: summary, Detail: detail, Subject: at, Also: m.At})
	}
}

// stepOrder refuses circles and steps before their stage.
func stepOrder(r *run) {
	stage := map[engine.Stage]int{}
	for i, s := range engine.Stages {
		stage[s] = i
	}
	for _, u := range r.k.Units {
		edges := map[string][]string{}
		at := map[string]*engine.Step{}
		var nodes []string
		var pulls *engine.Step
		for i := range u.Steps {
			s := &u.Steps[i]
			nodes = append(nodes, s.Name)
			edges[s.Name] = s.After
			at[s.Name] = s
			if s.Pulls {
				if pulls != nil {
					r.add(engine.Diagnostic{Severity: engine.Error, Summary: fmt.Sprintf("step %q pulls the unit again", s.Name), Detail: "One step takes the unit out of the vehicle.", Subject: s.At, Also: pulls.At})
				} else {
					pulls = s
				}
			}
		}
		inCircle := map[string]bool{}
		for _, c := range rules.Circles(nodes, edges) {
			for _, name := range c {
				inCircle[name] = true
			}
			own := slices.IndexFunc(c, func(name string) bool { return at[name].At.File == u.At.File })
			if own > 0 { // begin at a step that the author wrote
				c = slices.Concat(c[own:], c[:own])
			}
			r.error(at[c[0]].At, fmt.Sprintf("step %q waits for itself", c[0]), fmt.Sprintf("Each of these comes after the next: %s. Take one out of an `after`.", strings.Join(append(c, c[0]), ", ")))
		}
		for i := range u.Steps {
			s := &u.Steps[i]
			for _, a := range s.After {
				if b := at[a]; b != nil && !(inCircle[a] && inCircle[s.Name]) && stage[b.Stage] > stage[s.Stage] {
					r.error(s.At, fmt.Sprintf("step %q of stage %s after one of %s", s.Name, s.Stage, b.Stage), fmt.Sprintf("%q comes after %q, so its stage is not earlier.", s.Name, a))
				}
			}
		}
		if pulls == nil && len(u.Steps) > 0 {
			r.warn(u.At, fmt.Sprintf("no step pulls unit %q", u.ID), "The plan weighs pulling the unit against work in the vehicle. Mark the step: pulls = true")
		}
	}
}

// exposedOnce demands one step for every component.
func exposedOnce(r *run) {
	for _, u := range r.k.Units {
		by := map[string]*engine.Step{}
		for i := range u.Steps {
			s := &u.Steps[i]
			for _, c := range s.Exposes {
				if first := by[c]; first != nil {
					r.add(engine.Diagnostic{Severity: engine.Error, Summary: fmt.Sprintf("component %q comes into view twice", c),
						Detail: fmt.Sprintf("Steps %q and %q both expose it. Keep the first where it is wholly seen; an earlier partial view is a check.", first.Name, s.Name), Subject: s.At, Also: first.At})
					continue
				}
				by[c] = s
			}
		}
		for i := range u.Components {
			if c := &u.Components[i]; by[c.Name] == nil {
				r.error(c.At, fmt.Sprintf("no step exposes component %q", c.Name), "It would never be seen. Name it in the `exposes` of the step that brings it into view.")
			}
		}
	}
}

// examples runs the examples and lists modes that none blames.
func examples(r *run) {
	if r.opt.RunExample == nil {
		return
	}
	blamed := map[string]bool{}
	ran := 0
	for _, e := range r.k.Examples {
		u := r.k.Unit(e.Case.Unit)
		if u == nil {
			continue
		}
		ranked, causes, err := r.opt.RunExample(u, e)
		if err != nil {
			r.error(e.At, fmt.Sprintf("example %q cannot be run", e.Name), err.Error())
			continue
		}
		ran++
		r.example(e, ranked, causes, blamed)
	}
	if ran == 0 {
		return
	}
	var idle []string
	for i := range r.k.Modes {
		if m := &r.k.Modes[i]; !blamed[m.Name] {
			idle = append(idle, m.Name)
		}
	}
	if len(idle) > 0 && !r.opt.Part {
		r.warn(engine.Range{}, fmt.Sprintf("%d of %d modes are blamed by no example", len(idle), len(r.k.Modes)), strings.Join(idle, ", "))
	}
}

// example compares a ranking with what must come out.
func (r *run) example(e engine.Example, ranked, causes []string, blamed map[string]bool) {
	var order []string // components, best first
	best := map[string]string{}
	for _, s := range ranked {
		c, mode, _ := strings.Cut(s, "/")
		if !slices.Contains(order, c) {
			order = append(order, c)
			best[c] = mode
		}
	}
	for i, want := range e.Expect {
		if r.within(e, want, at(e.ExpectAt, i, e.At), order) {
			blamed[best[want]] = true
		}
	}
	for i, want := range e.Cause {
		r.within(e, want, at(e.CauseAt, i, e.At), causes)
	}
}

// within tells whether something is among the first that an example allows; it is an
// error where it is not.
func (r *run) within(e engine.Example, want string, at engine.Range, order []string) bool {
	place := slices.Index(order, want) + 1
	if place > 0 && place <= e.Within {
		return true
	}
	came := "is not in the list"
	if place > 0 {
		came = fmt.Sprintf("is number %d", place)
	}
	r.error(at, fmt.Sprintf("example %q: %s is not within the first %d", e.Name, want, e.Within), fmt.Sprintf("It %s. The order was: %s.", came, strings.Join(order[:min(5, len(order))], ", ")))
	return false
}

// at is the place of the name number i, or that of the whole where there is none.
func at(places []engine.Range, i int, whole engine.Range) engine.Range {
	if i < len(places) {
		return places[i]
	}
	return whole
}
