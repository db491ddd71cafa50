package wording

import (
	"fmt"
	"strings"

	"slipcase/engine"
)

// Percent prints a probability (0 to 1): whole percent, one digit below 10%.
func Percent(p float64) string {
	switch {
	case p >= 0.995:
		return "over 99%"
	case p >= 0.0995:
		return fmt.Sprintf("%.0f%%", 100*p)
	case p >= 0.001:
		return fmt.Sprintf("%.1f%%", 100*p)
	}
	return "under 0.1%"
}

// List joins words with commas and a last "and"; "" when there are none.
func List(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " and " + words[last]
}

// Capital starts a text with a capital letter, where it starts with an ASCII one.
func Capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// Step is the title of a step, "" for nil.
func Step(s *engine.Step) string {
	if s == nil {
		return ""
	}
	return engine.TitleOr(s.Title, s.Name)
}

// Component is the title of a component.
func Component(c *engine.Component) string { return engine.TitleOr(c.Title, c.Name) }

// Mode is the title of a mode.
func Mode(m *engine.Mode) string { return engine.TitleOr(m.Title, m.Name) }
