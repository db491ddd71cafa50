package teardown

import (
	"sort"

	"slipcase/engine"
	"slipcase/engine/diagnose"
)

// Why is the plan's second half, once a culprit is confirmed: why it failed,
// what else shares its oil or its debris, and what a second fault would be.
type Why struct {
	Confirmed []Confirmed
	Causes    []OpenCause
	Look      []Related // parts that share its oil circuit, or that its failure reaches
	Second    []diagnose.Suspect
	// Unsettled: something is confirmed failed and no root cause is settled.
	// A build now would come back.
	Unsettled bool
	Warning   string
}

// Confirmed is a component found failed.
type Confirmed struct {
	Component *engine.Component
	Mode      *engine.Mode
	Cause     string // "" while open
}

// OpenCause is a root cause, or a fault of another part, that may be behind
// what was found.
type OpenCause struct {
	Name      string
	Title     string
	P         float64
	Prior     float64
	SettledBy []*engine.Check
	Advice    string
}

// Related is a part to look at as well.
type Related struct {
	Component *engine.Component
	Reason    string
	P         float64
}

// after is nil while nothing is confirmed failed.
func after(m *diagnose.Model, c *engine.CaseFile, r *diagnose.Result) (*Why, error) {
	w := &Why{}
	settled := false
	for _, s := range c.Settled {
		settled = settled || s.Present
	}
	found := map[string]bool{}
	for _, s := range c.Seen {
		if s.Cleared {
			continue
		}
		node, ok := m.Lookup(s.Component + "/" + s.Mode)
		if !ok {
			continue
		}
		n := m.Nodes[node]
		w.Confirmed = append(w.Confirmed, Confirmed{n.Component, n.Mode, s.Cause})
		settled = settled || s.Cause != ""
		found[s.Component] = true
	}
	if len(w.Confirmed) == 0 {
		return nil, nil
	}
	beliefs, err := m.ComponentBeliefs(r)
	if err != nil {
		return nil, err
	}
	w.causes(m, c, r)
	w.related(m, beliefs, found)
	for _, s := range r.Suspects {
		if !found[s.Component.Name] && len(w.Second) < 3 {
			w.Second = append(w.Second, s)
		}
	}
	if !settled {
		w.Unsettled = true
		w.Warning = "No root cause is settled yet: a build now may come back for the same reason. Settle one of the open causes first."
	}
	return w, nil
}

// causes lists root causes, and faults of other parts, that lead to what was
// found, through stresses too.
func (w *Why) causes(m *diagnose.Model, c *engine.CaseFile, r *diagnose.Result) {
	known := map[string]bool{}
	for _, s := range c.Settled {
		known[s.Cause] = true
	}
	for _, s := range c.Seen {
		known[s.Component] = true
	}
	for _, node := range w.ancestors(m) {
		n := m.Nodes[node]
		var o OpenCause
		switch {
		case n.Cause != nil && !known[n.Cause.Name]:
			o = OpenCause{Name: n.Cause.Name, Title: n.Title, Advice: n.Cause.Advice, SettledBy: checks(m, n.Cause.SettledBy)}
		case n.Mode != nil && !known[n.Component.Name]:
			o = OpenCause{Name: n.Name, Title: n.Title, SettledBy: checks(m, n.Mode.SettledBy)}
		default:
			continue
		}
		o.P, o.Prior = r.Posterior[node], r.Prior[node]
		w.Causes = append(w.Causes, o)
	}
	sort.SliceStable(w.Causes, func(i, j int) bool {
		if d := w.Causes[i].P - w.Causes[j].P; d > 1e-9 || d < -1e-9 {
			return d > 0
		}
		return w.Causes[i].Name < w.Causes[j].Name
	})
	if len(w.Causes) > 12 {
		w.Causes = w.Causes[:12]
	}
}

func (w *Why) ancestors(m *diagnose.Model) []int {
	seen := map[int]bool{}
	var out []int
	var visit func(node int)
	visit = func(node int) {
		for _, l := range m.Net.Nodes[node].Links {
			if !seen[l.Parent] {
				seen[l.Parent] = true
				out = append(out, l.Parent)
				visit(l.Parent)
			}
		}
	}
	for _, f := range w.Confirmed {
		if node, ok := m.Lookup(f.Component.Name + "/" + f.Mode.Name); ok {
			visit(node)
		}
	}
	return out
}

func checks(m *diagnose.Model, names []string) []*engine.Check {
	var out []*engine.Check
	for _, name := range names {
		for i := range m.Knowledge.Checks {
			if m.Knowledge.Checks[i].Name == name {
				out = append(out, &m.Knowledge.Checks[i])
			}
		}
	}
	return out
}

// related lists parts on the same oil circuit and parts that the failure can
// spread to, likeliest first.
func (w *Why) related(m *diagnose.Model, beliefs map[string]float64, found map[string]bool) {
	reason := map[string]string{}
	for _, f := range w.Confirmed {
		for i := range m.Unit.Components {
			other := &m.Unit.Components[i]
			if !found[other.Name] && m.Share(f.Component, other) {
				reason[other.Name] = "shares its oil or its element with " + title(f.Component)
			}
		}
		node, ok := m.Lookup(f.Component.Name + "/" + f.Mode.Name)
		if !ok {
			continue
		}
		for i, n := range m.Nodes {
			if n.Mode == nil || found[n.Component.Name] || reason[n.Component.Name] != "" {
				continue
			}
			for _, l := range m.Net.Nodes[i].Links {
				if l.Parent == node {
					reason[n.Component.Name] = title(f.Component) + " can cause it: " + n.Mode.Title
				}
			}
		}
	}
	for i := range m.Unit.Components {
		c := &m.Unit.Components[i]
		if why := reason[c.Name]; why != "" {
			w.Look = append(w.Look, Related{c, why, beliefs[c.Name]})
		}
	}
	sort.SliceStable(w.Look, func(i, j int) bool { return w.Look[i].P > w.Look[j].P+1e-9 })
}

func title(c *engine.Component) string {
	if c.Title != "" {
		return c.Title
	}
	return c.Name
}
