package engine

import "fmt"

// Range is a stretch of source text: from its first character to just past
// its last. Lines and columns count from 1, columns in visible characters,
// bytes from 0. The zero Range means "nowhere in a file" (made by code).
type Range struct {
	File      string `json:"file,omitempty"`
	Line      int    `json:"line,omitempty"`
	Column    int    `json:"column,omitempty"`
	Byte      int    `json:"-"`
	EndLine   int    `json:"end_line,omitempty"`
	EndColumn int    `json:"end_column,omitempty"`
	EndByte   int    `json:"-"`
}

// String is "file:line:col", or "" for the zero Range.
func (r Range) String() string {
	if r.File == "" {
		return ""
	}
	return fmt.Sprintf("%s:%d:%d", r.File, r.Line, r.Column)
}

// Severity tells an error (the data cannot be used as it stands) from a
// warning (it can, but doubt it).
type Severity string

// The severities.
const (
	Error   Severity = "error"
	Warning Severity = "warning"
)

// Diagnostic is one message for the author of a rule, unit or case file.
// Terminal, JSON and page render the same value.
type Diagnostic struct {
	Severity Severity `json:"severity"`
	Summary  string   `json:"summary"`       // one line: what is wrong
	Detail   string   `json:"detail"`        // what was expected and what to do next
	Subject  Range    `json:"subject"`       // the words at fault
	Context  Range    `json:"context"`       // the block around them; zero when none
	Also     Range    `json:"also,omitzero"` // a second place concerned: where a duplicate stands first
}

// Error makes a Diagnostic usable as an error: "file:line:col: summary: detail".
func (d Diagnostic) Error() string {
	place := d.Subject.String()
	if place != "" {
		place += ": "
	}
	if d.Detail == "" {
		return place + d.Summary
	}
	return place + d.Summary + ": " + d.Detail
}
