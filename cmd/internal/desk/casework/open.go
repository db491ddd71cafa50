package casework

import (
	"cmp"
	"context"
	"slices"
	"strings"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/books"
	"slipcase/cmd/internal/desk/opened"
	"slipcase/cmd/internal/fault"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
	"slipcase/engine/complaint"
	"slipcase/engine/fold"
	"slipcase/engine/model"
)

// OpenInput is the head of a new case.
type OpenInput struct {
	Unit, Title, Vehicle, Words, Who string
	// Of is the case whose repair came back, "" for none: unit and vehicle are
	// its own where none are given.
	Of  string
	Key string // as in opened.Ref
}

// Opened is a case that was opened or taken up.
type Opened struct {
	ID        string             `json:"id"`
	Title     string             `json:"title"`
	Unit      string             `json:"unit"`
	UnitTitle string             `json:"unit_title"`
	Vehicle   string             `json:"vehicle"`
	Mileage   string             `json:"mileage"` // as it was noted from the words for the vehicle, "" for none
	Words     string             `json:"words"`
	Book      string             `json:"book"`     // file of the casebook
	First     bool               `json:"first"`    // the casebook was made for it
	Reopened  bool               `json:"reopened"` // it was closed before
	Entries   int                `json:"entries"`
	LeftOpen  string             `json:"left_open"` // the case that was current until now and is still open, "" for none
	Earlier   *opened.EarlierJob `json:"earlier"`   // of a comeback: the job that came back
	Says      []Said             `json:"says"`      // what its words and its title may mean, which nothing counts before it is noted
}

// Said is one thing that the words of a complaint may mean.
type Said struct {
	Note  string `json:"note"` // as a note of the driver takes it, slips@D/3=no; "" where the words leave the place open
	Title string `json:"title"`
	Words string `json:"words"` // that it was read from
}

// says is what a complaint may mean as a builder can note it.
func says(m *model.Model, means []complaint.Proposal) []Said {
	out := []Said{}
	for _, p := range means {
		x := Said{Title: wording.Proposed(m, p), Words: p.Words}
		row, good := strings.CutPrefix(p.Finding, engine.GoodPrefix)
		switch {
		case len(p.Places) > 0:
		case good:
			x.Note = row + "=good"
		case p.State == engine.Absent:
			x.Note = p.Finding + "=no"
		default:
			x.Note = p.Finding
		}
		if p.State == engine.Absent && !good {
			x.Title = wording.Denied(x.Title)
		}
		if !slices.ContainsFunc(out, func(y Said) bool { return y.Note == x.Note && y.Title == x.Title }) {
			out = append(out, x)
		}
	}
	return out
}

// OpenCase opens a case in the casebook, which is made if need be, and makes it
// the current one. Fails with NotFound for a unit or an earlier case that is not
// known, with Conflict for an earlier case that is still open, with Unavailable
// or Damaged where the casebook cannot be written.
func (d *Casework) OpenCase(ctx context.Context, in OpenInput) (answer.Answer[Opened], error) {
	in.Key = cmp.Or(in.Key, books.NewKey())
	var before *job
	told := in.Vehicle // of a comeback the earlier mileage is none of today
	if in.Of != "" {
		j, err := d.job(ctx, opened.Ref{In: in.Of, Who: in.Who, Key: in.Key})
		if err != nil {
			return answer.Answer[Opened]{}, err
		}
		defer j.Close()
		if in, err = j.ofEarlier(in); err != nil {
			return answer.Answer[Opened]{}, err
		}
		before = j
	}
	if in.Unit == "" {
		return answer.Answer[Opened]{}, fault.WrongUse(wording.NoUnitNamed(), answer.Do(answer.ListUnits))
	}
	x, err := d.keeper.Load.Load(ctx, in.Unit)
	if err != nil {
		return answer.Answer[Opened]{}, err
	}
	book, err := d.keeper.Books.Open(ctx, true)
	if err != nil {
		return answer.Answer[Opened]{}, err
	}
	defer book.Close()
	list, err := book.List(ctx, engine.CaseFilter{}, engine.CasePage{Limit: 1})
	if err != nil {
		return answer.Answer[Opened]{}, d.keeper.Books.Failure(err)
	}
	left := d.leftOpen(ctx, book)
	var link []engine.Entry
	if in.Of != "" {
		link = []engine.Entry{{By: d.keeper.Who(in.Who), Key: in.Key + "-1", Body: engine.ComeBack{Earlier: in.Of}}}
	}
	noted := ""
	if miles, ok := complaint.Mileage(told); ok {
		if _, has := x.Knowledge.Unit(in.Unit).Bounds("mileage", ""); has {
			link = append(link, engine.Entry{By: d.keeper.Who(in.Who), Key: in.Key + "-mileage", Body: engine.Reading{Name: "mileage", Value: miles, By: engine.Driver}})
			noted = miles.Text
		}
	}
	id, err := book.OpenCase(ctx, engine.Opening{
		Unit: in.Unit, Title: in.Title, Vehicle: in.Vehicle, Words: in.Words, RulesHash: x.Knowledge.Hash, By: d.keeper.Who(in.Who), Key: in.Key,
	}, link...)
	if err != nil {
		return answer.Answer[Opened]{}, d.keeper.Books.Failure(err)
	}
	out := Opened{ID: id, Title: in.Title, Unit: in.Unit, UnitTitle: x.Knowledge.Unit(in.Unit).Title, Vehicle: in.Vehicle, Mileage: noted, Words: in.Words, Book: book.Path(), First: list.Total == 0, LeftOpen: left}
	m, _ := x.Model(in.Unit) // without one, names stand for titles
	if before != nil {
		out.Earlier = before.AsEarlier(m)
		out.Entries = len(link)
	}
	out.Says = []Said{}
	if m != nil {
		_, means := opened.Complaint(m, in.Words, in.Title, nil)
		out.Says = says(m, means)
	}
	return answer.Answer[Opened]{Rules: x.Knowledge.Hash, Data: out, Diagnostics: answer.Messages(x.Diagnostics), Warnings: d.remember(id)}, nil
}

// leftOpen is the case opened before, if it is still open.
func (d *Casework) leftOpen(ctx context.Context, book engine.Casebook) string {
	id := d.keeper.Books.PointedID()
	if id == "" {
		return ""
	}
	rec, err := book.Get(ctx, id)
	if err != nil {
		return "" // not of this casebook any more
	}
	if c, err := fold.Fold(rec); err != nil || c.Status != engine.CaseOpen {
		return ""
	}
	return id
}

// remember makes a case the current one; that it cannot be is a warning.
func (d *Casework) remember(id string) []answer.Message {
	var out []answer.Message
	if err := d.keeper.Books.SetCurrent(id); err != nil {
		out = append(out, fault.Warning(wording.CurrentNotKept(err), answer.Do(answer.NameCase, id)))
	}
	if d.keeper.Books.In() != "" && d.keeper.Books.In() != id {
		out = append(out, fault.Warning(wording.WindowStays(d.keeper.Books.In()), answer.Do(answer.WindowCase, d.keeper.Books.In())))
	}
	return out
}

// TakeUp makes a case of the casebook the current one, and opens it again if
// it was closed. Fails with NotFound for a case that is not there.
func (d *Casework) TakeUp(ctx context.Context, id, why, who string) (answer.Answer[Opened], error) {
	j, err := d.job(ctx, opened.Ref{In: id, Who: who})
	if err != nil {
		return answer.Answer[Opened]{}, err
	}
	defer j.Close()
	out := Opened{ID: id, Title: j.Case.Title, Unit: j.Case.Unit, UnitTitle: j.Case.Unit, Vehicle: j.Case.Vehicle, Words: j.Case.Words, Book: j.Book.Path(), Says: []Said{}}
	if left := d.leftOpen(j.Ctx, j.Book); left != id {
		out.LeftOpen = left
	}
	if j.Case.Status != engine.CaseOpen {
		if _, err := j.Append(engine.Reopening{Reason: why}); err != nil {
			return answer.Answer[Opened]{}, err
		}
		out.Reopened = true
		if err := j.Read(id); err != nil {
			return answer.Answer[Opened]{}, err
		}
	}
	out.Entries = len(j.Rec.Entries)
	ans := answer.Answer[Opened]{Warnings: d.remember(id)}
	if err := j.model(); err == nil {
		out.UnitTitle = j.w.Model.Unit.Title
		ans.Rules, ans.Diagnostics = j.w.Knowledge.Hash, answer.Messages(j.w.Diags)
		ans.Warnings = append(ans.Warnings, j.w.Warn...)
	} else {
		for _, x := range fault.Messages(err) {
			x.Severity = engine.Warning
			ans.Warnings = append(ans.Warnings, x)
		}
	}
	ans.Data = out
	return ans, nil
}
