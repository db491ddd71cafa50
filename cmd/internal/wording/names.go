package wording

import (
	"slipcase/engine"
	"slipcase/engine/model"
)

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
	text := m.Nodes[i].Title
	if c := engine.ParseFindingName(name).Condition; c != "" && m.Nodes[i].Condition == "" {
		text += ", " + Name(string(c))
	}
	return text
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
			return m.Nodes[i].Title
		}
	}
	return Name(component) + ": " + Name(mode)
}

// CauseOf is a root cause in words.
func CauseOf(m *model.Model, name string) string {
	if m != nil {
		if i, ok := m.Lookup(name); ok {
			return m.Nodes[i].Title
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
