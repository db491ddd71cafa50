package opened

import (
	"slices"

	"slipcase/cmd/internal/wording"
	"slipcase/engine"
	"slipcase/engine/fold"
	"slipcase/engine/model"
)

// EarlierJob is the job whose repair came back, as a comeback shows it.
type EarlierJob struct {
	ID      string   `json:"id"`
	Title   string   `json:"title"`
	Vehicle string   `json:"vehicle"`
	Status  string   `json:"status"`
	Closed  string   `json:"closed"` // when, RFC 3339; "" when not known
	Found   []string `json:"found"`  // what was found failed, and so replaced or repaired
	Causes  []string `json:"causes"` // root causes that were settled on
	Note    string   `json:"note"`   // of its closing
	Words   []string `json:"words"`  // the same in sentences
}

// Earlier is the job of which j is the comeback, nil for none. m may be nil.
func (j *Job) Earlier(m *model.Model) *EarlierJob {
	id := j.Case.Earlier()
	if id == "" {
		return nil
	}
	other, err := j.Beside(id)
	if err != nil {
		j.Keeper.Log.Warn("the earlier case cannot be read", "case", id, "error", err)
		return nil
	}
	if m != nil && m.Unit.ID != other.Case.Unit {
		m = nil
	}
	return other.AsEarlier(m)
}

// AsEarlier is the job as its comeback shows it. m may be nil: names stand for
// titles then.
func (j *Job) AsEarlier(m *model.Model) *EarlierJob {
	c := j.Case
	out := &EarlierJob{ID: c.ID, Title: c.Title, Vehicle: c.Vehicle, Status: string(c.Status), Found: []string{}, Causes: []string{}}
	for _, s := range c.Seen {
		if !s.Cleared {
			out.Found = append(out.Found, wording.SuspectOf(m, s.Component, s.Mode))
		}
		if s.Cause != "" && !slices.Contains(out.Causes, wording.CauseOf(m, s.Cause)) {
			out.Causes = append(out.Causes, wording.CauseOf(m, s.Cause))
		}
	}
	for _, s := range c.Settled {
		if title := wording.CauseOf(m, s.Cause); s.Present && !slices.Contains(out.Causes, title) {
			out.Causes = append(out.Causes, title)
		}
	}
	if c.Closing != nil {
		out.Note = c.Closing.Note
		force, _ := fold.InForce(j.Rec.Entries) // it was folded
		for i, e := range j.Rec.Entries {
			if _, ok := e.Body.(engine.Closing); ok && force[i] {
				out.Closed = Stamp(e.At)
			}
		}
	}
	day := out.Closed
	if len(day) >= len("2006-01-02") {
		day = day[:len("2006-01-02")]
	}
	out.Words = wording.EarlierJob(wording.Earlier{ID: c.ID, Title: c.Title, Status: c.Status, Day: day, Found: out.Found, Causes: out.Causes, Note: out.Note})
	return out
}

// CameBack lists the cases that were opened or closed as comebacks of a case,
// oldest first. Fails as the casebook does.
func (j *Job) CameBack() ([]string, error) {
	back, err := j.Book.List(j.Ctx, engine.CaseFilter{Earlier: j.Case.ID}, engine.CasePage{})
	if err != nil {
		return nil, j.Keeper.Books.Failure(err)
	}
	out := []string{}
	for _, c := range slices.Backward(back.Cases) {
		out = append(out, c.ID)
	}
	return out, nil
}
