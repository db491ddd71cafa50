package wording

import (
	"slices"
	"strings"

	"slipcase/engine"
	"slipcase/engine/complaint"
	"slipcase/engine/model"
)

// conditions are the conditions in which something shows.
var conditions = map[engine.Condition]string{
	engine.Cold: "cold", engine.Hot: "hot", engine.AfterStanding: "after standing",
	engine.LightFoot: "with a light foot", engine.HeavyFoot: "with a heavy foot", engine.HighRPM: "at high rpm",
}

// Condition is a condition in words.
func Condition(c engine.Condition) string {
	if text, ok := conditions[c]; ok {
		return text
	}
	return Name(string(c))
}

// Node is what a node of the network stands for: "slips in D/3, cold", "code
// P0741: converter clutch", "forward clutch slips".
func Node(n *model.Node) string {
	text := n.Title
	switch {
	case n.Code != nil:
		text = "code " + n.Code.Name + ": " + n.Title
	case n.Layer == model.EffectLayer:
		if n.Effect.Target.Kind == engine.OnShift {
			text = "shift " + text
		}
		text += " " + Name(n.Effect.Word)
	case n.Like != "":
		text += " like gear " + n.Like
	}
	if n.Condition != "" {
		text += ", " + Condition(n.Condition)
	}
	return text
}

// Piece is a piece of evidence: what was reported, measured or looked at.
func Piece(p model.Piece) string {
	switch text := Node(p.About); {
	case p.Value != "":
		return text + " (" + p.Value + ")"
	case p.Looked && p.State == engine.Absent:
		return text + " (cleared)"
	case p.Looked:
		return text + " (found)"
	default:
		return text
	}
}

// FindingOf is a finding of a unit in words, its condition too; where the unit
// is not known (nil), as it is named.
func FindingOf(m *model.Model, name string) string {
	if m == nil {
		return name
	}
	i, ok := m.Lookup(name)
	if !ok {
		return name
	}
	text := Node(&m.Nodes[i])
	if c := engine.ParseFindingName(name).Condition; c != "" && m.Nodes[i].Condition == "" {
		text += ", " + Condition(c)
	}
	return text
}

// Proposed is what the words of a driver may mean.
func Proposed(m *model.Model, p complaint.Proposal) string {
	f := engine.ParseFindingName(p.Finding)
	if row, ok := strings.CutPrefix(p.Finding, engine.GoodPrefix); ok {
		return row + " is good"
	}
	for i := range m.Knowledge.Findings {
		if t := &m.Knowledge.Findings[i]; f.Place == "*" && t.Name == f.Name {
			words := strings.Fields(strings.ReplaceAll(t.Title, "{place}", ""))
			if n := len(words); n > 1 && slices.Contains([]string{"in", "on", "of"}, words[n-1]) {
				words = words[:n-1]
			}
			return strings.Join(words, " ")
		}
	}
	return FindingOf(m, p.Finding)
}

// Denied is what is said where a finding is not there: "no slips in D/3"; "drive
// in L/1" for the finding "no drive in L/1".
func Denied(title string) string {
	there, no := strings.CutPrefix(title, "no ")
	switch {
	case !no:
		return "no " + title
	case strings.Contains(there, ", or "):
		return "not so: " + title
	}
	return there
}

// ComponentOf is a component of a unit in words.
func ComponentOf(m *model.Model, name string) string {
	if m != nil {
		for _, c := range m.Unit.Components {
			if c.Name == name {
				return Title(c.Title, name)
			}
		}
	}
	return Name(name)
}

// SuspectOf is a component with the way it failed, in words.
func SuspectOf(m *model.Model, component, mode string) string {
	if m != nil {
		if i, ok := m.Lookup(component + "/" + mode); ok {
			return Node(&m.Nodes[i])
		}
	}
	return Name(component) + ": " + Name(mode)
}

// CauseOf is a root cause in words.
func CauseOf(m *model.Model, name string) string {
	if m != nil {
		if i, ok := m.Lookup(name); ok {
			return Node(&m.Nodes[i])
		}
	}
	return Name(name)
}

// StepOf is a teardown step of a unit in words.
func StepOf(m *model.Model, name string) string {
	if m != nil {
		if s := m.Step(name); s != nil {
			return Title(s.Title, name)
		}
	}
	return Name(name)
}
