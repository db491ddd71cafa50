package cli

import (
	"slices"
	"strings"

	"slipcase/cmd/internal/desk/talk"
	"slipcase/engine"
)

// give hands an answer to the interview. Form and plain lines answer through it
// alike; one that says nothing passes the question over.
func give(x *talk.Interview, q *talk.Question, r reply) error {
	switch {
	case r.silent():
		return x.Skip()
	case r.count != "":
		return x.Count(q.Counts, r.count)
	case len(r.choices) > 0:
		return x.Choose(r.choices...)
	}
	return x.Answer(r.said)
}

// speaksOf names what a question of which one choice is taken is about: the
// places, without the condition that the choices are about.
func speaksOf(q *talk.Question) string {
	var out []string
	for _, o := range q.Options {
		title := o.Title
		if f := engine.ParseFindingName(o.Finding); f.Condition != "" {
			title, _, _ = strings.Cut(title, ",")
		}
		if !slices.Contains(out, title) {
			out = append(out, title)
		}
	}
	return strings.Join(out, "; ")
}
