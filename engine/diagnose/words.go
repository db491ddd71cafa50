package diagnose

import (
	"fmt"
	"sort"
	"strings"

	"slipcase/engine"
	"slipcase/engine/network"
)

// sentence is what a builder would say: the strongest complaints, the leader,
// what the pan will show of it, and what outside the transmission it could be.
func (m *Model) sentence(r *Result) string {
	if len(r.Suspects) == 0 {
		return "The unit has no component that a rule can blame."
	}
	lead := r.Suspects[0]
	s := ""
	if words := m.complaint(r, lead); words != "" {
		s = capital(words) + ": "
	} else {
		s = "Nothing is reported present yet; before any report: "
	}
	s += m.named(lead.Modes[0].Node, lead.P)
	if len(r.Suspects) > 1 && lead.P < 2*r.Suspects[1].P {
		second := r.Suspects[1]
		word := "or"
		if m.together(r, lead, second) {
			word = "and"
		}
		s += fmt.Sprintf(", %s %s", word, m.named(second.Modes[0].Node, second.P))
	}
	s += "."
	if !lead.Outside {
		if m.shownInPan(lead.Modes[0].Node) {
			s += " The pan should show it."
		} else {
			s += " The pan will not show it."
		}
	}
	s += " " + m.outsideWords(r, lead)
	return s
}

// complaint joins the reported symptoms that the leader can bring about, the
// heaviest first, up to three; where there are none, what else is reported.
// Symptoms before history: "high mileage" is no complaint.
func (m *Model) complaint(r *Result, lead Suspect) string {
	weight := map[string]float64{}
	for _, w := range lead.Weights {
		weight[w.Label+w.By] = w.Decibans
	}
	type said struct {
		title, base string
		weight      float64
		rank        int
		road        bool // of a row, a shift or an engagement
	}
	var all []said
	for _, p := range r.Pieces {
		if p.State != engine.Present || !p.Ranked {
			continue
		}
		s := said{title: p.Title, base: engine.ParseFindingName(p.Label).Base(), weight: weight[p.Label+p.By]}
		if f := m.Nodes[p.Node].Finding; f != nil {
			s.road = f.Per == engine.PerRow || f.Per == engine.PerShift || f.Per == engine.PerEngagement
		}
		if !m.symptom(p.Label) {
			s.rank += 2
		}
		if !m.bringsAbout(lead.Modes[0].Node, p.Node) {
			s.rank++
		}
		all = append(all, s)
	}
	sort.SliceStable(all, func(i, j int) bool {
		if all[i].rank != all[j].rank {
			return all[i].rank < all[j].rank
		}
		if all[i].road != all[j].road {
			return all[i].road
		}
		return all[i].weight > all[j].weight+tie
	})
	var words []string
	have := map[string]bool{}
	for _, s := range all {
		if s.rank > all[0].rank || have[s.base] || len(words) == 3 {
			continue
		}
		have[s.base] = true
		words = append(words, s.title)
	}
	switch len(words) {
	case 0:
		return ""
	case 1:
		return words[0]
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

// bringsAbout tells whether a mode leads to a node by its effects or directly.
func (m *Model) bringsAbout(mode, node int) bool {
	if m.Nodes[node].Layer <= ModeLayer {
		return mode == node
	}
	for _, l := range m.Net.Nodes[node].Links {
		if m.bringsAbout(mode, l.Parent) {
			return true
		}
	}
	return false
}

// named is a suspect in words: "overdrive servo (82 %; servo seal cut)".
func (m *Model) named(node int, p float64) string {
	n := m.Nodes[node]
	return fmt.Sprintf("%s (%s; %s)", orName(n.Component.Title, n.Component.Name), percent(p), orName(n.Mode.Title, n.Mode.Name))
}

// together tells whether the best joint explanation has both suspects in it.
func (m *Model) together(r *Result, a, b Suspect) bool {
	if len(r.Explanations) == 0 {
		return false
	}
	has := map[string]bool{}
	for _, n := range r.Explanations[0].Modes {
		has[m.Nodes[n].Component.Name] = true
	}
	return has[a.Component.Name] && has[b.Component.Name]
}

// symptom tells what is seen on the vehicle from what is only told about its
// past.
func (m *Model) symptom(label string) bool {
	i, ok := m.lookupFinding(label)
	if !ok {
		return false
	}
	f := m.Nodes[i].Finding
	return f == nil || f.Per != engine.PerUnit || f.Stage != engine.StageInterview
}

// shownInPan tells whether a mode is likely (half or more) to leave something
// in the pan.
func (m *Model) shownInPan(node int) bool {
	for i, n := range m.Nodes {
		if n.Layer != FindingLayer && n.Layer != PartLayer || n.Finding == nil || n.Finding.Stage != engine.StagePan {
			continue
		}
		for _, l := range m.Net.Nodes[i].Links {
			if l.Parent == node && l.Strength >= 0.5 {
				return true
			}
		}
	}
	return false
}

// outsideWords names what could be outside the transmission: the likeliest
// outside part that can bring about what is reported.
func (m *Model) outsideWords(r *Result, lead Suspect) string {
	about := m.speaksOf(r.Pieces)
	pick := func(outside bool) (string, bool) {
		for _, s := range r.Suspects {
			if s.Outside != outside {
				continue
			}
			for _, b := range s.Modes {
				if about[b.Node] {
					return m.named(b.Node, b.P), true
				}
			}
		}
		return "", false
	}
	if lead.Outside {
		if words, ok := pick(false); ok {
			return "That is outside the transmission; inside it, the likeliest is " + words + "."
		}
		return "That is outside the transmission."
	}
	if words, ok := pick(true); ok {
		return "Outside the transmission, rule out " + words + "."
	}
	// No part outside, but something may have been done to the unit.
	for _, c := range r.Causes {
		if c.P >= 0.05 {
			return fmt.Sprintf("No part outside the transmission brings this about; of what came before it, settle %s (%s).", orName(c.Cause.Title, c.Cause.Name), percent(c.P))
		}
	}
	return "Nothing outside the transmission that the rules know brings this about."
}

// percent prints a probability for people: whole percent, one digit below 10.
func percent(p float64) string {
	switch {
	case p >= 0.995:
		return "over 99 %"
	case p >= 0.0995:
		return fmt.Sprintf("%.0f %%", 100*p)
	case p >= 0.001:
		return fmt.Sprintf("%.1f %%", 100*p)
	}
	return "under 0.1 %"
}

// Percent prints a probability for people.
func Percent(p float64) string { return percent(p) }

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// doubt asks whether the first n suspects keep their place when weak rates are
// off by a factor of two: their own invented or recalled rates halved and
// those of the suspect after them doubled.
func (m *Model) doubt(r *Result, pieces []Piece, n int) error {
	for i := 0; i < len(r.Suspects) && i < n; i++ {
		stands := true
		if i+1 < len(r.Suspects) {
			factors := map[int]float64{}
			m.shift(factors, r.Suspects[i], 0.5)
			m.shift(factors, r.Suspects[i+1], 2)
			if len(factors) > 0 {
				post, err := m.withLeaks(factors, pieces, append(m.nodesOf(r.Suspects[i]), m.nodesOf(r.Suspects[i+1])...))
				if err != nil {
					return err
				}
				stands = sum(post, r.Suspects[i]) >= sum(post, r.Suspects[i+1])
			}
		}
		r.Suspects[i].Stands = &stands
	}
	return nil
}

func (m *Model) shift(factors map[int]float64, s Suspect, by float64) {
	for _, b := range s.Modes {
		n := m.Leaks[b.Node]
		if n.Basis == nil || n.Basis.Kind == engine.Invented || n.Basis.Kind == engine.Recalled {
			factors[b.Node] = by
		}
	}
}

func (m *Model) nodesOf(s Suspect) []int {
	return append([]int(nil), m.modesOf[s.Component.Name]...)
}

// sum bounds P(any mode of s) from above, for a comparison.
func sum(post *network.Posterior, s Suspect) float64 {
	var t float64
	for _, b := range s.Modes {
		t += post.P[b.Node]
	}
	return t
}

// withLeaks solves the case with some rates multiplied.
func (m *Model) withLeaks(factors map[int]float64, pieces []Piece, want []int) (*network.Posterior, error) {
	net := &network.Net{Nodes: append([]network.Node(nil), m.Net.Nodes...)}
	for node, f := range factors {
		net.Nodes[node].Leak = min(1, net.Nodes[node].Leak*f)
	}
	solver, err := network.NewSolver(net)
	if err != nil {
		return nil, err
	}
	return solver.SolveSubset(Likelihoods(pieces), want)
}

// Step is the step of the unit with this name, or nil.
func (m *Model) Step(name string) *engine.Step {
	for i := range m.Unit.Steps {
		if m.Unit.Steps[i].Name == name {
			return &m.Unit.Steps[i]
		}
	}
	return nil
}

// PanSigns lists the pan findings that a mode is linked to, strongest first.
func (m *Model) PanSigns(node int) []string {
	type sign struct {
		title string
		s     float64
	}
	var all []sign
	for i, n := range m.Nodes {
		if n.Finding == nil || n.Finding.Stage != engine.StagePan {
			continue
		}
		for _, l := range m.Net.Nodes[i].Links {
			if l.Parent == node {
				all = append(all, sign{n.Title, l.Strength})
			}
		}
	}
	sort.SliceStable(all, func(i, j int) bool { return all[i].s > all[j].s })
	var out []string
	for _, a := range all {
		out = append(out, a.title)
	}
	return out
}
