package answer

import "slipcase/engine"

// Answer is what a use case gives.
type Answer[T any] struct {
	Rules       string // fingerprint of the rules behind it, hex; "" when none were loaded
	Method      string // how it was reached, in words; "" when nothing was worked out
	Data        T
	Input       *Input    // what it can be worked out from again; nil when nothing was worked out
	Diagnostics []Message // warnings about the rules
	Warnings    []Message // warnings about the case: always told
}

// Message is something that is wrong or to be told, with what can be done
// about it.
type Message struct {
	engine.Diagnostic
	Hints []Hint `json:"hints,omitempty"`
	// Named is all that it speaks of, where its text names only some.
	Named []string `json:"named,omitempty"`
	// First marks a message without which the answer below it would be taken
	// for more than it is: it stands above the answer in every face.
	First bool `json:"first,omitempty"`
}

// Messages are diagnostics of the rules as messages.
func Messages(list []engine.Diagnostic) []Message {
	out := make([]Message, len(list))
	for i, d := range list {
		out[i].Diagnostic = d
	}
	return out
}

// Warning is a message that stops nothing.
func Warning(summary, detail string, hints ...Hint) Message {
	return Message{engine.Diagnostic{Severity: engine.Warning, Summary: summary, Detail: detail}, hints, nil, false}
}

// Error is a message of something that could not be done.
func Error(summary, detail string, hints ...Hint) Message {
	return Message{engine.Diagnostic{Severity: engine.Error, Summary: summary, Detail: detail}, hints, nil, false}
}
