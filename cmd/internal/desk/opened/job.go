// Package opened is a case of the casebook that is open before somebody: read,
// under today's rules, in words, and written to in one batch. The rooms of the desk
// that work on cases share it.
package opened

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"log/slog"
	"strings"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/asking"
	"slipcase/cmd/internal/desk/books"
	"slipcase/cmd/internal/fault"
	"slipcase/cmd/internal/load"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
	"slipcase/engine/complaint"
	"slipcase/engine/diagnose"
	"slipcase/engine/fold"
	"slipcase/engine/model"
	"slipcase/rules/diag"
)

// Ref names a case of the casebook that is written to, and who writes.
type Ref struct {
	In  string // id; "" for the current case
	Who string // who enters it; "" for whom the desk was made for
	// Key is made by a client that may send the same again: what is written is
	// known by it. "" for one that nobody else has.
	Key string
}

// Keeper opens cases of the casebook. It is safe for many requests at once.
type Keeper struct {
	Load  *load.Loader
	Log   *slog.Logger
	Books *books.Books
	By    string // who enters what is entered, where nobody is named
}

// Job is a case of the casebook in work.
type Job struct {
	Keeper *Keeper
	Ctx    context.Context
	Book   books.Book
	Who    string
	Rec    engine.CaseRecord
	Case   *fold.Case
	Work   *asking.Work // under today's rules; nil until Model has loaded them
	key    string       // of what is written; "" for a new one at each writing
	n      int          // entries written under key
}

// Job opens the casebook and the case in it. Fails with NotFound for a case that
// is not there, else as the casebook does.
func (k *Keeper) Job(ctx context.Context, ref Ref) (*Job, error) {
	book, err := k.Books.Open(ctx, false)
	if err != nil {
		return nil, err
	}
	j := &Job{Keeper: k, Ctx: ctx, Book: book, Who: k.Who(ref.Who), key: ref.Key}
	id, err := k.Books.CurrentID(ctx, book, ref.In)
	if err == nil {
		err = j.Read(id)
	}
	if err != nil {
		book.Close()
		return nil, err
	}
	return j, nil
}

// Who is who enters something: the one named, or whom the keeper is for.
func (k *Keeper) Who(asked string) string { return cmp.Or(asked, k.By) }

// Beside reads another case of the same casebook, which is closed with the first.
// Fails as Read does.
func (j *Job) Beside(id string) (*Job, error) {
	other := &Job{Keeper: j.Keeper, Ctx: j.Ctx, Book: j.Book}
	return other, other.Read(id)
}

// Close lets go of the casebook.
func (j *Job) Close() {
	if err := j.Book.Close(); err != nil {
		j.Keeper.Log.Warn("the casebook did not close properly", "error", err)
	}
}

// Read reads the case as it now stands. Fails with NotFound for a case that is
// not there, with Damaged for entries that make no case, else as the casebook
// does.
func (j *Job) Read(id string) error {
	rec, err := j.Book.Get(j.Ctx, id)
	if errors.Is(err, engine.ErrNoCase) {
		return fault.Fail(answer.NotFound, wording.NoCaseIn(id, j.Keeper.Books.Name()), answer.Do(answer.ListCases)).Because(err)
	}
	if err != nil {
		return j.Keeper.Books.Failure(err)
	}
	c, err := fold.Fold(rec)
	if err != nil {
		return books.Unreadable(err)
	}
	j.Rec, j.Case = rec, c
	return nil
}

// Model loads today's rules for the case's unit and makes the model. Fails with
// Rules, and with NotFound for a unit that they do not have.
func (j *Job) Model() error {
	x, err := j.Keeper.Load.Load(j.Ctx, j.Case.Unit)
	if err != nil {
		return err
	}
	m, err := x.Model(j.Case.Unit)
	if err != nil {
		return err
	}
	j.Work = &asking.Work{Knowledge: x.Knowledge, Model: m.WithContext(j.Ctx), Diags: x.Diagnostics}
	j.Take()
	return nil
}

// Take gives the case to the model: what today's rules do not know any more is
// left out, and said.
func (j *Job) Take() {
	w := j.Work
	w.Case, w.Status, w.Warn = &j.Case.CaseFile, j.Case.Status, nil
	if j.Case.RulesHash != w.Knowledge.Hash {
		w.Warn = append(w.Warn, fault.Warning(wording.RulesChanged(j.Case.ID, Short(w.Knowledge.Hash), Short(j.Case.RulesHash))))
	}
	if diag.HasErrors(asking.Amiss(w.Knowledge, w.Model, w.Case)) {
		w.Warn = append(w.Warn, w.LeaveOut()...)
	}
	if !w.Noted() {
		if words, means := Complaint(w.Model, j.Case.Words, j.Case.Title, j.Case.Notes); len(means) > 0 {
			w.Unheard = words
		}
	}
	w.Reach()
}

// Complaint is a complaint as it was written down, with what it may mean: the
// customer's own words, or what was typed in an interview, and the title where it says
// what is wrong.
func Complaint(m *model.Model, words, title string, notes []engine.Note) (string, []complaint.Proposal) {
	if words == "" {
		for _, n := range notes {
			if w, ok := strings.CutPrefix(n.Text, wording.DriverSays); ok {
				words = w
			}
		}
	}
	title = strings.TrimSpace(title)
	match := complaint.New(m).Match
	switch {
	case title == "" || len(match(title)) == 0: // the name of a job, no complaint
	case words == "":
		words = title
	case !strings.Contains(strings.ToLower(words), strings.ToLower(title)):
		words = strings.TrimRight(words, ". ") + ". " + title
	}
	return words, match(words)
}

// Short is a fingerprint as people read it.
func Short(hash string) string {
	if len(hash) > 8 {
		return hash[:8]
	}
	if hash == "" {
		return "unknown"
	}
	return hash
}

// ForReading opens a case of the casebook for whoever asks about it. Fails as Job
// and Model do.
func (k *Keeper) ForReading(ctx context.Context, in string) (*asking.Work, error) {
	j, err := k.Job(ctx, Ref{In: in})
	if err != nil {
		return nil, err
	}
	defer j.Close()
	if err := j.Model(); err != nil {
		return nil, err
	}
	return j.Work, nil
}

// ForWriting opens the case with its model, to add to it. Fails as ForReading
// does, and with Conflict for a closed case: most often the next vehicle stands
// there already.
func (k *Keeper) ForWriting(ctx context.Context, ref Ref) (*Job, error) {
	j, err := k.Job(ctx, ref)
	if err != nil {
		return nil, err
	}
	if j.Case.Status != engine.CaseOpen {
		err = fault.Conflict(wording.CaseClosed(j.Case.ID, j.Case.Status), answer.Do(answer.CaseIsClosed, j.Case.ID))
	} else {
		err = j.Model()
	}
	if err != nil {
		j.Close()
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

// Say makes a remark.
func Say(text string) Remark { return Remark{Text: text} }

// With is the remark with hints.
func (r Remark) With(hints ...answer.Hint) Remark { return Remark{r.Text, hints} }

// Append writes bodies as entries of one batch (see engine.Entry.Batch), all
// or none. Fails as the casebook does.
func (j *Job) Append(bodies ...engine.Body) ([]int64, error) {
	if len(bodies) == 0 {
		return nil, nil
	}
	batch, from := j.key, j.n
	if batch == "" {
		batch, from = books.NewKey(), 0
	}
	entries := make([]engine.Entry, len(bodies))
	for i, b := range bodies {
		entries[i] = engine.Entry{By: j.Who, Key: fmt.Sprintf("%s-%d", batch, from+i+1), Body: b}
	}
	j.n += len(bodies)
	seqs, err := j.Book.Append(j.Ctx, j.Rec.ID, entries...)
	if err != nil {
		return nil, j.Keeper.Books.Failure(err)
	}
	return seqs, nil
}

// Write appends and answers with the case as it now stands. Fails as Append and
// Stand do.
func (j *Job) Write(out Written, bodies ...engine.Body) (answer.Answer[Written], error) {
	seqs, err := j.Append(bodies...)
	if err != nil {
		return answer.Answer[Written]{}, err
	}
	if err := j.Read(j.Rec.ID); err != nil {
		return answer.Answer[Written]{}, err
	}
	j.Take()
	lines := j.Lines()
	out.Entries = []EntryLine{}
	for _, s := range seqs {
		out.Entries = append(out.Entries, lines[s-1])
	}
	return j.Stand(out)
}

// Stand says where the case stands. Fails with TooWide and Canceled.
func (j *Job) Stand(out Written) (answer.Answer[Written], error) {
	w := j.Work
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
	if j.Case.Status == engine.CaseOpen {
		out.Leader = wording.Gist(r.Gist)
		if r.Reports > 0 && len(r.Suspects) > 0 {
			lead := w.Suspect(0, &r.Suspects[0])
			out.Lead = lead.Component
			if lead.StepTitle != "" && lead.Minutes != nil && *lead.Minutes > 0 {
				out.Next = wording.Visible(lead.Title, lead.StepTitle, float64(*lead.Minutes))
			}
		}
	}
	return asking.Answered(w, r, out, nil), nil
}
