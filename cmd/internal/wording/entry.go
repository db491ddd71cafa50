package wording

import (
	"fmt"
	"strings"

	"slipcase/engine"
	"slipcase/engine/model"
)

// Entry is an entry of a case in words. m may be nil: then things stand by
// their names. again says that a retraction takes back one that took back.
func Entry(m *model.Model, body engine.Body, again bool) (text string) {
	switch b := body.(type) {
	case engine.Report:
		text = fmt.Sprintf("%s: %s%s", FindingOf(m, b.Finding), State(b.State), Says(b.By))
		if b.Note != "" {
			text += " (" + b.Note + ")"
		}
	case engine.Reading:
		text = ReadingOf(m, b) + Says(b.By)
	case engine.Seen:
		name := ComponentOf(m, b.Component)
		text = name + ": looked at and good"
		if !b.Cleared {
			text = SuspectOf(m, b.Component, b.Mode) + ": found"
		}
		if b.Cause != "" {
			text += "; root cause: " + CauseOf(m, b.Cause)
		}
		if b.Note != "" {
			text += " (" + b.Note + ")"
		}
		if b.Photo != "" {
			text += "; photo " + b.Photo
		}
	case engine.SettledCause:
		text = "root cause, " + CauseOf(m, b.Cause) + ": confirmed"
		if !b.Present {
			text = "root cause, " + CauseOf(m, b.Cause) + ": ruled out"
		}
	case engine.StepDone:
		text = "done: " + StepOf(m, b.Step)
		for _, r := range b.Readings {
			text += "; " + ReadingOf(m, r)
		}
		if b.Note != "" {
			text += " (" + b.Note + ")"
		}
	case engine.Note:
		text = "note: " + b.Text
	case engine.InterviewMark:
		switch {
		case b.Answer != "":
			text = "answer to " + questionOf(m, b.Question) + ": " + answerOf(m, b.Question, b.Answer)
		case b.Skipped:
			text = "question skipped: " + questionOf(m, b.Question)
		case b.Question == "":
			text = "interview over"
		default:
			text = "interview at: " + questionOf(m, b.Question)
		}
	case engine.Retraction:
		text = fmt.Sprintf("entry %d undone", b.Of)
		if again {
			text = fmt.Sprintf("entry %d undone: what it undid counts again", b.Of)
		}
		if b.Reason != "" {
			text += " (" + b.Reason + ")"
		}
	case engine.Closing:
		text = "closed as " + Status(b.Outcome)
		if b.Earlier != "" {
			text += " of " + b.Earlier
		}
		var drive []string
		for _, r := range b.Drive {
			s := r.Place + " good"
			if !r.OK {
				s = r.Place + " bad"
			}
			if r.Note != "" {
				s += " (" + r.Note + ")"
			}
			drive = append(drive, s)
		}
		if len(drive) > 0 {
			text += "; driven: " + strings.Join(drive, ", ")
		}
		if b.Note != "" {
			text += "; " + b.Note
		}
	case engine.ComeBack:
		text = "comeback of " + b.Earlier
		if b.Note != "" {
			text += " (" + b.Note + ")"
		}
	case engine.Reopening:
		text = "reopened"
		if b.Reason != "" {
			text += " (" + b.Reason + ")"
		}
	}
	return text
}

// questionOf is a question of the interview by its title.
func questionOf(m *model.Model, name string) string {
	if c := askedBy(m, name); c != nil {
		return Title(c.Title, name)
	}
	return Name(name)
}

// answerOf is an answer to it, a number or the names of choices, in words.
func answerOf(m *model.Model, question, answer string) string {
	c := askedBy(m, question)
	if c == nil || len(c.Choices) == 0 {
		return answer
	}
	var out []string
	for _, name := range strings.Fields(answer) {
		text := Name(name)
		for _, x := range c.Choices {
			if x.Name == name {
				text = Title(x.Title, name)
			}
		}
		out = append(out, text)
	}
	return strings.Join(out, ", ")
}

func askedBy(m *model.Model, name string) *engine.Check {
	if m == nil {
		return nil
	}
	for i := range m.Knowledge.Checks {
		if c := &m.Knowledge.Checks[i]; c.Name == name {
			return c
		}
	}
	return nil
}
