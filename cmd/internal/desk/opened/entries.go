package opened

import (
	"fmt"
	"strings"
	"time"

	"slipcase/cmd/internal/desk/books"
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
	State       string `json:"state"`    // present, absent, unknown; failed, cleared; yes, no; answered, passed_over; a value
	Reporter    string `json:"reporter"` // of a report or reading
	Words       string `json:"words"`
	InForce     bool   `json:"in_force"`
	TakenBackBy int64  `json:"taken_back_by"` // 0 when in force
	Photo       string `json:"photo"`         // file of the photo that a note is of, "" for none
	PhotoOf     string `json:"photo_of"`      // what is on it, in words
}

// Lines are the entries of the case in words; without a model, by their names.
func (j *Job) Lines() []EntryLine {
	var m *model.Model
	if j.Work != nil {
		m = j.Work.Model
	}
	force, err := fold.InForce(j.Rec.Entries)
	if err != nil {
		panic(err) // the case was folded already
	}
	out := []EntryLine{}
	for i, e := range j.Rec.Entries {
		l := EntryLine{Seq: e.Seq, Kind: string(e.Body.EntryKind()), At: Stamp(e.At), Who: e.By, InForce: force[i]}
		l.describe(e.Body)
		again := false
		if r, ok := e.Body.(engine.Retraction); ok {
			_, again = j.Rec.Entries[r.Of-1].Body.(engine.Retraction)
		}
		l.Words = wording.Entry(m, e.Body, again)
		if component, _, ok := strings.Cut(l.Photo, "--"); ok {
			l.PhotoOf = wording.PhotoOf(m, component)
		}
		out = append(out, l)
	}
	for i, e := range j.Rec.Entries {
		if r, ok := e.Body.(engine.Retraction); ok && force[i] {
			out[r.Of-1].TakenBackBy = e.Seq
		}
	}
	return out
}

// Stamp is a time as answers hold it, "" where none is known.
func Stamp(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Format(time.RFC3339)
}

// describe says what an entry speaks of, by name.
func (l *EntryLine) describe(body engine.Body) {
	switch b := body.(type) {
	case engine.Report:
		l.Name, l.State, l.Reporter = b.Finding, string(b.State), b.By
	case engine.Reading:
		l.Name, l.State, l.Reporter = wording.At(b.Name, b.Place), b.Value.String(), b.By
	case engine.Seen:
		l.Name, l.State = b.Component, "cleared"
		if !b.Cleared {
			l.Name, l.State = b.Component+"/"+b.Mode, "failed"
		}
	case engine.SettledCause:
		l.Name, l.State = b.Cause, wording.YesNo(b.Present)
	case engine.StepDone:
		l.Name, l.State = b.Step, "done"
	case engine.Note:
		l.Photo = books.PhotoOf(b.Text)
	case engine.InterviewMark:
		l.Name = b.Question
		switch {
		case b.Answer != "":
			l.State = "answered"
		case b.Skipped:
			l.State = "passed_over"
		}
	case engine.Retraction:
		l.Name = fmt.Sprint(b.Of)
	case engine.Closing:
		l.Name = string(b.Outcome)
	case engine.ComeBack:
		l.Name = b.Earlier
	}
}
