package casework

import (
	"cmp"
	"context"
	"slices"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/fault"
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

// earlier is the job of which j is the comeback, nil for none. m may be nil.
func (j *job) earlier(m *model.Model) *EarlierJob {
	id := j.c.Earlier()
	if id == "" {
		return nil
	}
	other := &job{d: j.d, ctx: j.ctx, book: j.book}
	if err := other.read(id); err != nil {
		j.d.log.Warn("the earlier case cannot be read", "case", id, "error", err)
		return nil
	}
	if m != nil && m.Unit.ID != other.c.Unit {
		m = nil
	}
	return earlierJob(m, other.c, other.rec)
}

func earlierJob(m *model.Model, c *fold.Case, rec engine.CaseRecord) *EarlierJob {
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
		force, _ := fold.InForce(rec.Entries) // it was folded
		for i, e := range rec.Entries {
			if _, ok := e.Body.(engine.Closing); ok && force[i] {
				out.Closed = stamp(e.At)
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

// cameBack lists the cases that were opened or closed as comebacks of a case,
// oldest first.
func (j *job) cameBack() ([]string, error) {
	back, err := j.book.List(j.ctx, engine.CaseFilter{Earlier: j.c.ID}, engine.CasePage{})
	if err != nil {
		return nil, j.d.books.Failure(err)
	}
	out := []string{}
	for _, c := range slices.Backward(back.Cases) {
		out = append(out, c.ID)
	}
	return out, nil
}

// ofEarlier fills in the head of a comeback from the earlier job: the same unit
// and vehicle, without its mileage, which is another today.
func (j *job) ofEarlier(in OpenInput) (OpenInput, error) {
	if j.c.Status == engine.CaseOpen {
		return in, fault.Conflict(wording.NotBackYet(in.Of), answer.Do(answer.CloseEarlierFirst))
	}
	if in.Unit != "" && in.Unit != j.c.Unit {
		return in, fault.WrongUse(wording.EarlierUnit(in.Of, j.c.Unit, in.Unit))
	}
	in.Unit = j.c.Unit
	in.Vehicle = cmp.Or(in.Vehicle, wording.WithoutMiles(j.c.Vehicle))
	in.Title = cmp.Or(in.Title, in.Words, wording.CameBack(wording.WithoutMiles(j.c.Title)))
	return in, nil
}

// comebacks counts the comebacks of a case.
func (d *Casework) comebacks(ctx context.Context, id string) (int, error) {
	book, err := d.books.Standing(ctx)
	if err != nil {
		return 0, err
	}
	back, err := book.List(ctx, engine.CaseFilter{Earlier: id}, engine.CasePage{Limit: 1})
	return back.Total, d.books.Failure(err)
}
