package desk

import (
	"fmt"
	"strings"
	"time"

	"slipcase/cmd/internal/wording"
	"slipcase/engine"
	"slipcase/engine/fold"
	"slipcase/engine/model"
)

// EntryLine is one entry of a case, for people and for programs.
type EntryLine struct {
	Seq         int64  `json:"seq"`
	Kind        string `json:"kind"`
	At          string `json:"at"` // RFC 3339, "" when not known
	Who         string `json:"who"`
	Name        string `json:"name"`     // finding, reading, component/mode, cause, step or outcome
	State       string `json:"state"`    // present, absent, unknown; failed, cleared; yes, no; a value
	Reporter    string `json:"reporter"` // of a report or reading
	Words       string `json:"words"`
	InForce     bool   `json:"in_force"`
	TakenBackBy int64  `json:"taken_back_by"` // 0 when in force
}

// lines are the entries of the case in words; without a model, by their names.
func (j *job) lines() []EntryLine {
	var m *model.Model
	if j.w != nil {
		m = j.w.m
	}
	force, err := fold.InForce(j.rec.Entries)
	if err != nil {
		panic(err) // the case was folded already
	}
	out := []EntryLine{}
	for i, e := range j.rec.Entries {
		l := EntryLine{Seq: e.Seq, Kind: string(e.Body.EntryKind()), At: stamp(e.At), Who: e.By, InForce: force[i]}
		j.describe(&l, e.Body, m)
		out = append(out, l)
	}
	for i, e := range j.rec.Entries {
		if r, ok := e.Body.(engine.Retraction); ok && force[i] {
			out[r.Of-1].TakenBackBy = e.Seq
		}
	}
	return out
}

func stamp(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Format(time.RFC3339)
}

func (j *job) describe(l *EntryLine, body engine.Body, m *model.Model) {
	switch b := body.(type) {
	case engine.Report:
		l.Name, l.State, l.Reporter = b.Finding, string(b.State), b.By
		l.Words = fmt.Sprintf("%s: %s%s", findingTitle(m, b.Finding), wording.State(b.State), wording.Says(b.By))
		if b.Note != "" {
			l.Words += " (" + b.Note + ")"
		}
	case engine.Reading:
		l.Name, l.State, l.Reporter = wording.At(b.Name, b.Place), b.Value.String(), b.By
		l.Words = readingWords(j.w, b) + wording.Says(b.By)
	case engine.Seen:
		l.Name, l.State = b.Component, "cleared"
		name := componentTitle(m, b.Component)
		l.Words = name + ": looked at and good"
		if !b.Cleared {
			l.Name, l.State = b.Component+"/"+b.Mode, "failed"
			l.Words = suspectTitle(m, b.Component, b.Mode) + ": found"
		}
		if b.Cause != "" {
			l.Words += "; root cause: " + causeTitle(m, b.Cause)
		}
		if b.Note != "" {
			l.Words += " (" + b.Note + ")"
		}
		if b.Photo != "" {
			l.Words += "; photo " + b.Photo
		}
	case engine.SettledCause:
		l.Name, l.State = b.Cause, wording.YesNo(b.Present)
		l.Words = "root cause, " + causeTitle(m, b.Cause) + ": it was so"
		if !b.Present {
			l.Words = "root cause, " + causeTitle(m, b.Cause) + ": ruled out"
		}
	case engine.StepDone:
		l.Name, l.State = b.Step, "done"
		l.Words = "done: " + stepTitle(m, b.Step)
		for _, r := range b.Readings {
			l.Words += "; " + readingWords(j.w, r)
		}
		if b.Note != "" {
			l.Words += " (" + b.Note + ")"
		}
	case engine.Note:
		l.Words = "note: " + b.Text
	case engine.InterviewMark:
		l.Name = b.Question
		switch {
		case b.Answer != "":
			l.Words = "answer to " + b.Question + ": " + b.Answer
		case b.Skipped:
			l.Words = "question passed over: " + b.Question
		case b.Question == "":
			l.Words = "interview over"
		default:
			l.Words = "interview at: " + b.Question
		}
	case engine.Retraction:
		l.Name = fmt.Sprint(b.Of)
		l.Words = fmt.Sprintf("entry %d taken back", b.Of)
		if _, again := j.rec.Entries[b.Of-1].Body.(engine.Retraction); again {
			l.Words = fmt.Sprintf("entry %d taken back: what it took back holds again", b.Of)
		}
		if b.Reason != "" {
			l.Words += " (" + b.Reason + ")"
		}
	case engine.Closing:
		l.Name = string(b.Outcome)
		l.Words = "closed as " + wording.Status(b.Outcome)
		if b.Earlier != "" {
			l.Words += " of " + b.Earlier
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
			l.Words += "; driven: " + strings.Join(drive, ", ")
		}
		if b.Note != "" {
			l.Words += "; " + b.Note
		}
	case engine.Reopening:
		l.Words = "taken up again"
		if b.Reason != "" {
			l.Words += " (" + b.Reason + ")"
		}
	}
}

// findingTitle is a finding in words, its condition too.
func findingTitle(m *model.Model, name string) string {
	if m == nil {
		return name
	}
	i, ok := m.Lookup(name)
	if !ok {
		return name
	}
	text := m.Nodes[i].Title
	if c := engine.ParseFindingName(name).Condition; c != "" && m.Nodes[i].Condition == "" {
		text += ", " + wording.Name(string(c))
	}
	return text
}

func componentTitle(m *model.Model, name string) string {
	if m != nil {
		for _, c := range m.Unit.Components {
			if c.Name == name {
				return wording.Title(c.Title, name)
			}
		}
	}
	return wording.Name(name)
}

func suspectTitle(m *model.Model, component, mode string) string {
	if m != nil {
		if i, ok := m.Lookup(component + "/" + mode); ok {
			return m.Nodes[i].Title
		}
	}
	return wording.Name(component) + ": " + wording.Name(mode)
}

func causeTitle(m *model.Model, name string) string {
	if m != nil {
		if i, ok := m.Lookup(name); ok {
			return m.Nodes[i].Title
		}
	}
	return wording.Name(name)
}

func stepTitle(m *model.Model, name string) string {
	if m != nil {
		if s := m.Step(name); s != nil {
			return wording.Title(s.Title, name)
		}
	}
	return wording.Name(name)
}
