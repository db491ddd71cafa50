package archive

import (
	"context"
	"slices"
	"strings"
	"time"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/asking"
	"slipcase/cmd/internal/desk/opened"
	"slipcase/cmd/internal/fault"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
)

// CasesInput narrows a list of cases; zero fields do not.
type CasesInput struct {
	Unit, Text, Finding, Culprit, Earlier string
	Status                                engine.CaseStatus
	Closed                                bool
	Since                                 time.Time
	Limit                                 int
	After                                 string // the last case of the page before
}

// Cases is one page of a list.
type Cases struct {
	Book    string     `json:"book"`
	Current string     `json:"current"` // the case that commands work on; "" for none
	Cases   []CaseLine `json:"cases"`
	Total   int        `json:"total"`
	Open    int        `json:"open"`
	Fixed   int        `json:"fixed"`
	Back    int        `json:"come_back"`
	Gone    int        `json:"abandoned"`
	Next    string     `json:"next"` // After of the next page, "" for none
}

// CaseLine is one case of a list.
type CaseLine struct {
	ID       string   `json:"id"`
	Unit     string   `json:"unit"`
	Title    string   `json:"title"`
	Vehicle  string   `json:"vehicle"`
	Status   string   `json:"status"`
	Earlier  string   `json:"earlier"` // comeback of this case
	Culprits []string `json:"culprits"`
	Entries  int64    `json:"entries"`
	Opened   string   `json:"opened"`
	Last     string   `json:"last"`
}

// Cases lists the casebook, newest first. Fails with NotFound, Unavailable or
// Damaged as the casebook is.
func (d *Archive) Cases(ctx context.Context, in CasesInput) (answer.Answer[Cases], error) {
	book, err := d.keeper.Books.Open(ctx, false)
	if err != nil {
		return answer.Answer[Cases]{}, err
	}
	defer book.Close()
	list, err := book.List(ctx, engine.CaseFilter{
		Unit: in.Unit, Text: in.Text, Finding: in.Finding, Culprit: in.Culprit, Earlier: in.Earlier,
		Status: in.Status, Closed: in.Closed, Since: in.Since,
	}, engine.CasePage{Limit: in.Limit, After: in.After})
	if err != nil {
		return answer.Answer[Cases]{}, d.keeper.Books.Failure(err)
	}
	out := Cases{Book: book.Path(), Cases: []CaseLine{}, Total: list.Total, Next: list.Next,
		Open: list.Counts[0], Fixed: list.Counts[1], Back: list.Counts[2], Gone: list.Counts[3]}
	if id, err := d.keeper.Books.CurrentID(ctx, book, ""); err == nil {
		out.Current = id
	}
	for _, c := range list.Cases {
		l := CaseLine{c.ID, c.Unit, c.Title, c.Vehicle, string(c.Status), c.Earlier, []string{}, c.Entries, opened.Stamp(c.Opened), opened.Stamp(c.Last)}
		l.Culprits = append(l.Culprits, c.Culprits...)
		out.Cases = append(out.Cases, l)
	}
	ans := answer.Answer[Cases]{Data: out}
	if list.Total == 0 {
		ans.Warnings = d.unknownNames(ctx, in)
	}
	return ans, nil
}

// unknownNames tells of the names of a search that found nothing which today's
// rules do not know. They are no errors: a case can be older than the rules.
func (d *Archive) unknownNames(ctx context.Context, in CasesInput) []answer.Message {
	if in.Unit == "" && in.Finding == "" && in.Culprit == "" {
		return nil
	}
	x, err := d.keeper.Load.Load(ctx, "")
	if err != nil {
		return nil // the search itself needs no rules
	}
	var units, findings, parts []string
	for _, u := range x.Knowledge.Units {
		units = append(units, u.ID)
		for _, c := range u.Components {
			parts = append(parts, c.Name)
		}
	}
	for _, f := range x.Knowledge.Findings {
		findings = append(findings, f.Name)
	}
	finding, _, _ := strings.Cut(in.Finding, "@")
	finding, _, _ = strings.Cut(finding, ":")
	part, _, _ := strings.Cut(in.Culprit, "/")
	var out []answer.Message
	for _, x := range []struct {
		what, name string
		known      []string
	}{{"unit", in.Unit, units}, {"finding", finding, findings}, {"part", part, parts}} {
		if x.name != "" && !slices.Contains(x.known, x.name) {
			out = append(out, fault.Warning(wording.RulesKnowNone(x.what, x.name, x.known)))
		}
	}
	return out
}

// History is all of one case.
type History struct {
	ID         string             `json:"id"`
	Title      string             `json:"title"`
	Unit       string             `json:"unit"`
	UnitTitle  string             `json:"unit_title"` // "" when today's rules have no such unit
	Vehicle    string             `json:"vehicle"`
	Words      string             `json:"words"`
	Rules      string             `json:"rules"` // fingerprint of the rules that it was opened with
	Who        string             `json:"who"`
	Opened     string             `json:"opened"`
	Status     string             `json:"status"`
	Earlier    string             `json:"earlier"`     // comeback of this case
	EarlierJob *opened.EarlierJob `json:"earlier_job"` // what that came to; null for none
	CameBack   []string           `json:"came_back"`   // cases opened or closed as comebacks of this one
	Current    bool               `json:"is_current"`  // commands work on it
	Entries    []opened.EntryLine `json:"entries"`
}

// CaseHistory shows all of a case, what was taken back too; "" for the current
// one. It needs no rules: without them names stand for titles. Fails with
// NotFound for a case that is not there.
func (d *Archive) CaseHistory(ctx context.Context, id string) (answer.Answer[History], error) {
	j, err := d.keeper.Job(ctx, opened.Ref{In: id})
	if err != nil {
		return answer.Answer[History]{}, err
	}
	defer j.Close()
	ans := answer.Answer[History]{}
	o := j.Rec.Opening
	out := History{
		ID: j.Rec.ID, Title: o.Title, Unit: o.Unit, Vehicle: o.Vehicle, Words: o.Words, Rules: o.RulesHash, Who: o.By, Opened: opened.Stamp(o.At),
		Status: string(j.Case.Status), CameBack: []string{},
	}
	if err := j.Model(); err == nil {
		out.UnitTitle = j.Work.Model.Unit.Title
		ans.Rules, ans.Diagnostics, ans.Warnings = j.Work.Knowledge.Hash, answer.Messages(j.Work.Diags), j.Work.Warn
	} else {
		ans.Warnings = append(ans.Warnings, fault.Warning(wording.NoTitles(err)))
	}
	out.Earlier = j.Case.Earlier()
	if j.Work != nil {
		out.EarlierJob = j.Earlier(j.Work.Model)
	} else {
		out.EarlierJob = j.Earlier(nil)
	}
	if now, err := d.keeper.Books.CurrentID(j.Ctx, j.Book, ""); err == nil {
		out.Current = now == out.ID
	}
	if out.CameBack, err = j.CameBack(); err != nil {
		return answer.Answer[History]{}, err
	}
	out.Entries = j.Lines()
	ans.Data = out
	return ans, nil
}

// CaseWords lists the newest cases of the casebook.
func (d *Archive) CaseWords(ctx context.Context) []asking.Word {
	book, err := d.keeper.Books.Open(ctx, false)
	if err != nil {
		return nil
	}
	defer book.Close()
	list, err := book.List(ctx, engine.CaseFilter{}, engine.CasePage{})
	if err != nil {
		return nil
	}
	var out []asking.Word
	for _, c := range list.Cases {
		out = append(out, asking.Word{Name: c.ID, Title: wording.CaseWord(c.Status, c.Title)})
	}
	return out
}
