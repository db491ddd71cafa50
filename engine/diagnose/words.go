package diagnose

import (
	"fmt"
	"sort"
	"strings"

	"slipcase/engine"
	"slipcase/engine/model"
)

// sentence is what a builder would say: the strongest complaints, the leader,
// what the pan will show of it, and what outside the transmission it could be.
func sentence(m *model.Model, r *Result) string {
	if len(r.Suspects) == 0 {
		return "The unit has no component that a rule can blame."
	}
	lead := r.Suspects[0]
	s := ""
	if words := complaint(m, r, lead); words != "" {
		s = capital(words) + ": "
	} else {
		s = "Nothing is reported present yet; before any report: "
	}
	s += named(m, lead.Modes[0].Node, lead.P)
	if len(r.Suspects) > 1 && lead.P < 2*r.Suspects[1].P {
		second := r.Suspects[1]
		word := "or"
		if together(m, r, lead, second) {
			word = "and"
		}
		s += fmt.Sprintf(", %s %s", word, named(m, second.Modes[0].Node, second.P))
	}
	s += "."
	if !lead.Outside {
		if shownInPan(m, lead.Modes[0].Node) {
			s += " The pan should show it."
		} else {
			s += " The pan will not show it."
		}
	}
	s += " " + outsideWords(m, r, lead)
	return s
}

// complaint joins the reported symptoms that the leader can bring about, the
// heaviest first, up to three; where there are none, what else is reported.
// Symptoms before history: "high mileage" is no complaint.
func complaint(m *model.Model, r *Result, lead Suspect) string {
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
		if !symptom(m, p.Label) {
			s.rank += 2
		}
		if !m.BringsAbout(lead.Modes[0].Node, p.Node) {
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

// named is a suspect in words: "overdrive servo (82 %; servo seal cut)".
func named(m *model.Model, node int, p float64) string {
	n := m.Nodes[node]
	return fmt.Sprintf("%s (%s; %s)", model.TitleOr(n.Component.Title, n.Component.Name), percent(p), model.TitleOr(n.Mode.Title, n.Mode.Name))
}

// together tells whether the best joint explanation has both suspects in it.
func together(m *model.Model, r *Result, a, b Suspect) bool {
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
func symptom(m *model.Model, label string) bool {
	i, ok := m.LookupFinding(label)
	if !ok {
		return false
	}
	f := m.Nodes[i].Finding
	return f == nil || f.Per != engine.PerUnit || f.Stage != engine.StageInterview
}

// shownInPan tells whether a mode is likely (half or more) to leave something
// in the pan.
func shownInPan(m *model.Model, node int) bool {
	for i, n := range m.Nodes {
		if n.Layer != model.FindingLayer && n.Layer != model.PartLayer || n.Finding == nil || n.Finding.Stage != engine.StagePan {
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
func outsideWords(m *model.Model, r *Result, lead Suspect) string {
	about := m.SpeaksOf(r.Pieces)
	pick := func(outside bool) (string, bool) {
		for _, s := range r.Suspects {
			if s.Outside != outside {
				continue
			}
			for _, b := range s.Modes {
				if about[b.Node] {
					return named(m, b.Node, b.P), true
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
			return fmt.Sprintf("No part outside the transmission brings this about; of what came before it, settle %s (%s).", model.TitleOr(c.Cause.Title, c.Cause.Name), percent(c.P))
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
