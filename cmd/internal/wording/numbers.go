package wording

import (
	"strings"

	"slipcase/engine"
	"slipcase/engine/refine/rulepath"
)

// Numbers says in words what the numbers of the rules mean.
type Numbers struct {
	titles    map[string]string // of modes, causes and stresses
	find      map[string]engine.Finding
	units     map[string]*engine.Unit
	reporters map[string]string // titles
}

// NewNumbers reads the titles of rules.
func NewNumbers(k *engine.Knowledge) *Numbers {
	n := &Numbers{titles: map[string]string{}, find: map[string]engine.Finding{}, units: map[string]*engine.Unit{}, reporters: map[string]string{}}
	for _, x := range k.Stresses {
		n.titles[x.Name] = x.Title
	}
	for _, x := range k.Causes {
		n.titles[x.Name] = x.Title
	}
	kinds, same := map[string]string{}, map[string]int{}
	for _, x := range k.Kinds {
		kinds[x.Name] = Title(x.Title, x.Name)
	}
	for _, x := range k.Modes {
		same[x.Title]++
	}
	for _, x := range k.Modes {
		n.titles[x.Name] = x.Title
		if x.Title != "" && same[x.Title] > 1 { // of several kinds of parts: say which
			var of []string
			for _, kind := range x.Of {
				of = append(of, Name(kinds[kind]))
			}
			n.titles[x.Name] += " (" + strings.Join(of, ", ") + ")"
		}
	}
	for _, x := range k.Findings {
		n.find[x.Name] = x
	}
	for _, u := range k.Units {
		n.units[u.ID] = u
	}
	for _, x := range k.Reporters {
		n.reporters[x.Name] = Title(x.Title, x.Name)
	}
	return n
}

func (n *Numbers) title(name string) string { return Title(n.titles[name], name) }

// finding is the title of a finding of the rules, with the place that a link
// names: "slips in any row".
func (n *Numbers) finding(name string) string {
	f := engine.ParseFindingName(name)
	text := Title(n.find[f.Name].Title, f.Name)
	place := "any place"
	if per, _, _ := strings.Cut(string(n.find[f.Name].Per), "_"); per != "" {
		place = "any " + per
	}
	switch f.Place {
	case "", "*":
	case "served":
		place = "what it serves"
	default:
		place = Name(f.Place)
	}
	text = strings.ReplaceAll(text, "{place}", place)
	if f.Condition != "" {
		text += ", " + Name(string(f.Condition))
	}
	return text
}

// sign is what a sign is read from: an outcome, a finding or an effect.
func (n *Numbers) sign(name string) string {
	if _, ok := n.find[engine.ParseFindingName(name).Name]; ok {
		return n.finding(name)
	}
	return n.title(name)
}

// Words says what a number means: "servo seal cut: has the effect slips".
func (n *Numbers) Words(p rulepath.Path) string {
	if len(p.Blocks) == 0 {
		return p.Argument
	}
	label := func(i int) string {
		if i < len(p.Blocks) && len(p.Blocks[i].Labels) > 0 {
			return p.Blocks[i].Labels[0]
		}
		return ""
	}
	head := ""
	switch p.Blocks[0].Type {
	case "finding":
		head = n.finding(label(0))
	case "code":
		head = "code " + label(0)
	case "unit":
		if len(p.Blocks) == 2 { // of all parts of a kind
			return n.title(label(1)) + " in " + label(0) + ": how often"
		}
		name := label(1)
		if u := n.units[label(0)]; u != nil {
			for _, c := range u.Components {
				if c.Name == name {
					name = Title(c.Title, c.Name)
				}
			}
		}
		return Name(name) + " of " + label(0) + ", " + n.title(label(2)) + ": how often"
	case "reporter":
		if head = n.reporters[label(0)] + ": "; label(1) == rulepath.Miss {
			return head + "how often what is there is missed"
		}
		return head + "how often what is not there is reported"
	default:
		head = n.title(label(0))
	}
	if len(p.Blocks) == 1 {
		if p.Argument == "leak" {
			return head + ": without a known fault"
		}
		return head + ": how often"
	}
	last := p.Blocks[len(p.Blocks)-1]
	text := ""
	switch last.Type {
	case "effect":
		text = "has the effect: " + Name(label(1))
	case "shows":
		text = "shows: " + n.finding(label(1))
	case "because":
		text = "caused by: " + n.title(label(1))
	case "stresses":
		text = "brings about: " + n.title(label(1))
	case "sign":
		text = "seen at: " + n.sign(label(1))
	default:
		text = last.String()
	}
	if last.When != "" {
		text += ", when " + Name(string(last.When))
	}
	return head + "; " + text
}
