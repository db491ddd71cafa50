package casework

import (
	"context"
	"errors"
	"fmt"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/asking"
	"slipcase/cmd/internal/desk/books"
	"slipcase/cmd/internal/fault"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
	"slipcase/engine/diagnose"
	"slipcase/engine/fold"
	"slipcase/engine/model"
	"slipcase/rules"
	"slipcase/rules/diag"
)

// JobRef names a case of the casebook that is written to, and who writes.
type JobRef struct {
	In  string // id; "" for the current case
	Who string // who enters it; "" for whom the desk was made for
	// Key is made by a client that may send the same again: what is written is
	// known by it. "" for one that nobody else has.
	Key string
}

// job is a case of the casebook in work.
type job struct {
	d    *Casework
	ctx  context.Context
	book books.Book
	who  string
	rec  engine.CaseRecord
	c    *fold.Case
	w    *work  // under today's rules; nil until they are loaded
	key  string // of what is written; "" for a new one at each writing
	n    int    // entries written under key
	// For a job sheet: the earlier job of a comeback, and comebacks of this one.
	was  *EarlierJob
	back []string
}

// job opens the casebook and the case in it.
func (d *Casework) job(ctx context.Context, ref JobRef) (*job, error) {
	book, err := d.books.Open(ctx, false)
	if err != nil {
		return nil, err
	}
	j := &job{d: d, ctx: ctx, book: book, who: d.who(ref.Who), key: ref.Key}
	id, err := d.books.CurrentID(j.ctx, book, ref.In)
	if err == nil {
		err = j.read(id)
	}
	if err != nil {
		book.Close()
		return nil, err
	}
	return j, nil
}

func (d *Casework) who(asked string) string {
	if asked != "" {
		return asked
	}
	return d.by
}

func (j *job) close() {
	if err := j.book.Close(); err != nil {
		j.d.log.Warn("the casebook did not close properly", "error", err)
	}
}

// read reads the case as it now stands.
func (j *job) read(id string) error {
	rec, err := j.book.Get(j.ctx, id)
	if errors.Is(err, engine.ErrNoCase) {
		return fault.Fail(answer.NotFound, wording.NoCaseIn(id, j.d.books.Name()), answer.Do(answer.ListCases)).Because(err)
	}
	if err != nil {
		return j.d.books.Failure(err)
	}
	c, err := fold.Fold(rec)
	if err != nil {
		return books.Unreadable(err)
	}
	j.rec, j.c = rec, c
	return nil
}

// model loads today's rules for the case's unit and makes the model.
func (j *job) model() error {
	x, err := j.d.load.Load(j.ctx, j.c.Unit)
	if err != nil {
		return err
	}
	m, err := x.Model(j.c.Unit)
	if err != nil {
		return err
	}
	j.w = &work{&asking.Work{Knowledge: x.Knowledge, Model: m.WithContext(j.ctx), Diags: x.Diagnostics}}
	j.take()
	return nil
}

// take gives the case to the model: what today's rules do not know any more is
// left out, and said.
func (j *job) take() {
	w := j.w
	w.Case, w.Status, w.Warn = &j.c.CaseFile, j.c.Status, nil
	if j.c.RulesHash != w.Knowledge.Hash {
		w.Warn = append(w.Warn, fault.Warning(wording.RulesChanged(j.c.ID, short(w.Knowledge.Hash), short(j.c.RulesHash))))
	}
	said := rules.ResolveCase(w.Knowledge, w.Case)
	_, more := w.Model.Evidence(w.Case)
	if diag.HasErrors(said) || model.Refused(more) {
		w.Warn = append(w.Warn, w.LeaveOut()...)
	}
	w.Reach()
}

func short(hash string) string {
	if len(hash) > 8 {
		return hash[:8]
	}
	if hash == "" {
		return "unknown"
	}
	return hash
}

// booked opens a case of the casebook for reading.
func (d *Casework) booked(ctx context.Context, in string) (*asking.Work, error) {
	j, err := d.job(ctx, JobRef{In: in})
	if err != nil {
		return nil, err
	}
	defer j.close()
	if err := j.model(); err != nil {
		return nil, err
	}
	return j.w.Work, nil
}

// forWriting opens the case with its model, to add to it. A closed case is
// refused: most often the next vehicle stands there already.
func (d *Casework) forWriting(ctx context.Context, ref JobRef) (*job, error) {
	j, err := d.job(ctx, ref)
	if err != nil {
		return nil, err
	}
	if j.c.Status != engine.CaseOpen {
		err = fault.Conflict(wording.CaseClosed(j.c.ID, j.c.Status), answer.Do(answer.CaseIsClosed, j.c.ID))
	} else {
		err = j.model()
	}
	if err != nil {
		j.close()
		return nil, err
	}
	return j, nil
}

// Written is what a command has added to a case, and where the case stands now.
type Written struct {
	Case    asking.CaseHead `json:"case"`
	Entries []EntryLine     `json:"entries"` // written just now
	Said    []Remark        `json:"said"`    // what was replaced, what was there already, what has come into view
	Leader  string          `json:"leader"`  // where the case stands, in one sentence; "" once it is closed
	Next    string          `json:"next"`    // where the leader comes into view
	Lead    string          `json:"lead"`    // component that leads; "" for none
}

// Remark is something to know beside what was written.
type Remark struct {
	Text  string        `json:"text"` // "" where the hint says it all
	Hints []answer.Hint `json:"hints,omitempty"`
}

// say makes a remark.
func say(text string) Remark { return Remark{Text: text} }

// with is the remark with hints.
func (r Remark) with(hints ...answer.Hint) Remark { return Remark{r.Text, hints} }

// append writes bodies as entries of one batch (see engine.Entry.Batch), all
// or none.
func (j *job) append(bodies ...engine.Body) ([]int64, error) {
	if len(bodies) == 0 {
		return nil, nil
	}
	batch, from := j.key, j.n
	if batch == "" {
		batch, from = books.NewKey(), 0
	}
	entries := make([]engine.Entry, len(bodies))
	for i, b := range bodies {
		entries[i] = engine.Entry{By: j.who, Key: fmt.Sprintf("%s-%d", batch, from+i+1), Body: b}
	}
	j.n += len(bodies)
	seqs, err := j.book.Append(j.ctx, j.rec.ID, entries...)
	if err != nil {
		return nil, j.d.books.Failure(err)
	}
	return seqs, nil
}

// write appends and answers with the case as it now stands.
func (j *job) write(out Written, bodies ...engine.Body) (answer.Answer[Written], error) {
	seqs, err := j.append(bodies...)
	if err != nil {
		return answer.Answer[Written]{}, err
	}
	if err := j.read(j.rec.ID); err != nil {
		return answer.Answer[Written]{}, err
	}
	j.take()
	lines := j.lines()
	out.Entries = []EntryLine{}
	for _, s := range seqs {
		out.Entries = append(out.Entries, lines[s-1])
	}
	return j.stand(out)
}

// stand says where the case stands.
func (j *job) stand(out Written) (answer.Answer[Written], error) {
	w := j.w
	if out.Said == nil {
		out.Said = []Remark{}
	}
	r, err := w.Diagnose(diagnose.Options{Top: 1})
	if err != nil {
		// What was written is written: that the reports clash is a warning.
		f := answer.AsFailure(err)
		if f.Code != answer.Clash {
			return answer.Answer[Written]{}, err
		}
		for _, d := range f.Messages {
			d.Severity = engine.Warning
			w.Warn = append(w.Warn, d)
		}
		out.Case = w.Head(&diagnose.Result{Reports: len(w.Case.Reports) + len(w.Case.Readings)})
		return answer.Answer[Written]{Rules: w.Knowledge.Hash, Data: out, Diagnostics: answer.Messages(w.Diags), Warnings: w.Warn}, nil
	}
	out.Case = w.Head(r)
	if j.c.Status == engine.CaseOpen {
		out.Leader = wording.Gist(r.Gist)
		if r.Reports > 0 && len(r.Suspects) > 0 {
			lead := w.Suspect(0, &r.Suspects[0])
			out.Lead = lead.Component
			if lead.StepTitle != "" && lead.Minutes != nil && *lead.Minutes > 0 {
				out.Next = wording.Visible(lead.Title, lead.StepTitle, float64(*lead.Minutes))
			}
		}
	}
	return asking.Answered(w.Work, r, out, nil), nil
}
