package teardown

import (
	"slices"
	"sort"

	"slipcase/engine"
	"slipcase/engine/model"
	"slipcase/engine/quantity"
	"slipcase/engine/tie"
)

// View is a component that a step brings into view.
type View struct {
	Component *engine.Component
	P         float64 // P(it is a culprit | reports); 0 for one that was looked at
	Looked    bool    // it was found failed or cleared
	Signs     []Sign  // what its culprit modes look like, likeliest first
	Bench     string  // where it is laid; "" when not said
}

// Sign is what one fault looks like in the hand.
type Sign struct {
	Mode *engine.Mode
	P    float64 // P(the mode | reports)
	Look string
}

// Limit is a dimension with its limits and, once it was measured, its value.
type Limit struct {
	Limit   *engine.Limit
	Value   *quantity.Quantity // as measured; nil while it was not
	Outside string             // "below" or "above" the limit; "" within
}

// When is when something is taken.
type When int

// Before the step destroys it, or as soon as the step is done and before
// anything else is.
const (
	BeforeStep When = iota
	AtStep
)

// Measure is one thing to take before it is destroyed.
type Measure struct {
	Text  string
	When  When
	Check *engine.Check  // nil for a limit or a sentence of the step
	Limit *Limit         // nil when there is no limit to it
	Taken bool           // reported already
	Needs []*engine.Step // what must be done before it can be taken, and the plan does later
}

// mostSigns is how many modes of a component are described.
const mostSigns = 3

// view says what to look for on a component: its likely modes first.
func (k *culprits) view(c *engine.CaseFile, component *engine.Component, p float64) View {
	v := View{Component: component, P: p, Bench: Bench(k.m, component), Looked: seenComponents(c)[component.Name]}
	nodes := append([]int(nil), k.modes[component.Name]...)
	sort.SliceStable(nodes, func(i, j int) bool { return tie.More(k.r.Posterior[nodes[i]], k.r.Posterior[nodes[j]]) })
	for i, n := range nodes {
		if mode := k.m.Nodes[n].Mode; i < mostSigns {
			v.Signs = append(v.Signs, Sign{mode, k.r.Posterior[n], mode.Look})
		}
	}
	return v
}

// Bench is the place on the parts bench where a component is laid: its own, or
// its kind's.
func Bench(m *model.Model, c *engine.Component) string {
	if c.Bench != "" {
		return c.Bench
	}
	if k := m.KindOf(c); k != nil {
		return k.Bench
	}
	return ""
}

// measures is what to take for a step: its own list, then every check that
// names the step in its `before`.
func measures(m *model.Model, c *engine.CaseFile, s *engine.Step) []Measure {
	var out []Measure
	add := func(name string) {
		var x Measure
		x.Text = name
		if check := m.Knowledge.Check(name); check != nil {
			x.Text, x.Check, x.Taken = check.Title, check, taken(m, c, check)
			if slices.Contains(check.Needs, s.Name) {
				x.When = AtStep
			}
		}
		for i := range m.Unit.Limits {
			if l := &m.Unit.Limits[i]; l.Name == name {
				limit := measured(m.Unit, c, l)
				x.Limit = &limit
				x.Taken = x.Taken || limit.Value != nil
				if x.Check == nil {
					x.Text = l.Title
				}
			}
		}
		if x.Text == "" {
			x.Text = name
		}
		out = append(out, x)
	}
	for _, name := range s.Measure {
		add(name)
	}
	for i := range m.Knowledge.Checks {
		check := &m.Knowledge.Checks[i]
		if slices.Contains(check.Before, s.Name) && !slices.Contains(s.Measure, check.Name) {
			add(check.Name)
		}
	}
	out = merged(out)
	sort.SliceStable(out, func(i, j int) bool { return out[i].When < out[j].When })
	return out
}

// merged makes one of a check and the first limit that is measured in it, where
// a step has both: the builder does it once.
func merged(list []Measure) []Measure {
	drop := map[*engine.Check]bool{}
	for i := range list {
		x := &list[i]
		if x.Limit == nil || x.Check != nil || x.Limit.Limit.Check == "" {
			continue
		}
		for _, y := range list {
			if y.Check != nil && y.Limit == nil && y.Check.Name == x.Limit.Limit.Check && !drop[y.Check] {
				x.Check, x.When, x.Taken = y.Check, y.When, x.Taken || y.Taken
				drop[y.Check] = true
			}
		}
	}
	kept := list[:0]
	for _, x := range list {
		if x.Limit != nil || !drop[x.Check] {
			kept = append(kept, x)
		}
	}
	return kept
}

// limits are the limits that belong to a step or to what it shows, those of
// its measures left out.
func limits(u *engine.Unit, c *engine.CaseFile, s *engine.Step, have []Measure) []Limit {
	var out []Limit
next:
	for i := range u.Limits {
		l := &u.Limits[i]
		if l.Step != s.Name && !(l.Step == "" && slices.Contains(s.Exposes, l.Component)) {
			continue
		}
		for _, x := range have {
			if x.Limit != nil && x.Limit.Limit == l {
				continue next
			}
		}
		out = append(out, measured(u, c, l))
	}
	return out
}

// measured is a limit with the last value that the case has for it.
func measured(u *engine.Unit, c *engine.CaseFile, l *engine.Limit) Limit {
	out := Limit{Limit: l}
	for i := range c.Readings {
		r := &c.Readings[i]
		b, ok := u.Bounds(r.Name, r.Place)
		if !ok || b.Limit != l {
			continue
		}
		out.Value, out.Outside = &r.Value, ""
		if v, err := b.Judge(r.Value); err == nil {
			out.Outside = map[string]string{"low": "below", "high": "above"}[v.Side]
		}
	}
	return out
}

// taken tells whether every finding of a check is reported already.
func taken(m *model.Model, c *engine.CaseFile, check *engine.Check) bool {
	any := false
	for _, y := range check.Yields {
		for _, name := range m.Match(y) {
			any = true
			found := false
			for _, r := range c.Reports {
				found = found || r.Finding == name
			}
			if !found {
				return false
			}
		}
	}
	return any
}

// cautionsOf are the names of the cautions of a step and of what is taken for
// it, each once.
func cautionsOf(s *engine.Step, list []Measure) []string {
	var out []string
	add := func(names []string) {
		for _, n := range names {
			if !slices.Contains(out, n) {
				out = append(out, n)
			}
		}
	}
	add(s.Cautions)
	for _, x := range list {
		if x.Check != nil && !x.Taken {
			add(x.Check.Cautions)
		}
	}
	return out
}

func cautionNamed(k *engine.Knowledge, name string) *engine.Caution {
	for i := range k.Cautions {
		if k.Cautions[i].Name == name {
			return &k.Cautions[i]
		}
	}
	return nil
}
