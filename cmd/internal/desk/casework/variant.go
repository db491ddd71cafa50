package casework

import (
	"context"
	"fmt"
	"strings"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/asking"
	"slipcase/cmd/internal/desk/books"
	"slipcase/cmd/internal/desk/library"
	"slipcase/cmd/internal/desk/opened"
	"slipcase/cmd/internal/fault"
	"slipcase/cmd/internal/notation"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
	"slipcase/engine/fold"
	"slipcase/engine/model"
)

// VariantRecorded is a variant that was written on a case, and where the case
// goes on.
type VariantRecorded struct {
	Identified library.Identified `json:"identified"`
	Case       string             `json:"case"` // the case that it was written on
	GoesOn     string             `json:"goes_on"`
	Unit       string             `json:"unit"`    // the unit that it is worked as from now on
	Carried    int                `json:"carried"` // entries that go with it to another case
	Photos     int                `json:"photos"`  // pictures that do
	LeftOut    []string           `json:"left_out"`
	Words      string             `json:"words"`
}

// CaseUnit is the unit that a case is worked as. Fails as job does.
func (d *Casework) CaseUnit(ctx context.Context, ref opened.Ref) (string, error) {
	j, err := d.job(ctx, ref)
	if err != nil {
		return "", err
	}
	defer j.Close()
	return j.Case.Unit, nil
}

// RecordVariant writes on an open case which variant of its unit it is. Where
// the variant has a unit of its own, the case goes on under that: a new case takes
// over every entry in force that the unit knows, with the pictures, and the old one is closed as
// abandoned with a note that says where it went. name may be left out: the unit of
// the case. Fails with WrongUse where the variant is not settled, or where the
// case is one of another family; with what Identify and writing fail with.
func (d *Casework) RecordVariant(ctx context.Context, ref opened.Ref, name string, seen []notation.FeatureAnswer) (answer.Answer[VariantRecorded], error) {
	none := answer.Answer[VariantRecorded]{}
	j, err := d.forWriting(ctx, ref)
	if err != nil {
		return none, err
	}
	defer j.Close()
	if name == "" {
		name = j.Case.Unit
	}
	told, err := d.library.Identify(ctx, name, seen)
	if err != nil {
		return none, err
	}
	s := told.Data.Settled
	if s == nil {
		return none, fault.WrongUse(wording.VariantOpen(told.Data.Verdict))
	}
	ours := false
	for _, v := range told.Data.Variants {
		ours = ours || v.Unit == j.Case.Unit
	}
	if !ours {
		return none, fault.WrongUse(wording.NotOfFamily(j.Case.ID, j.Case.Unit, told.Data.Family))
	}
	out := VariantRecorded{Identified: told.Data, Case: j.Case.ID, GoesOn: j.Case.ID, Unit: s.Unit, LeftOut: []string{}}
	note := wording.VariantNote(s.Name)
	if s.Title != "" {
		note += " (" + s.Title + ")"
	}
	for i, a := range told.Data.Answers {
		note += map[bool]string{true: ": ", false: "; "}[i == 0] + a.Title + " " + a.Seen
	}
	ans := answer.Answer[VariantRecorded]{Rules: told.Rules, Diagnostics: told.Diagnostics}
	if s.Unit == j.Case.Unit {
		if _, err := j.Append(engine.Note{Text: note}); err != nil {
			return none, err
		}
		out.Words = wording.SameUnit(j.Case.ID)
		ans.Data = out
		return ans, nil
	}
	if err := j.goOn(&out, note, s.Unit); err != nil {
		return none, err
	}
	ans.Data, ans.Warnings = out, d.remember(out.GoesOn)
	return ans, nil
}

// goOn opens a case of another unit that takes over what is in force here, and
// closes this one.
func (j *job) goOn(out *VariantRecorded, note, unit string) error {
	x, err := j.d.keeper.Load.Load(j.Ctx, unit)
	if err != nil {
		return err
	}
	m, err := x.Model(unit)
	if err != nil {
		return err
	}
	entries, err := j.carried(x.Knowledge, m, out)
	if err != nil {
		return err
	}
	entries = append(entries, engine.Entry{By: j.Who, Body: engine.Note{Text: wording.GoesOnFrom(note, j.Case.ID)}})
	o := j.Rec.Opening
	o.Unit, o.RulesHash, o.Key = unit, x.Knowledge.Hash, books.NewKey()
	batch := books.NewKey()
	for i := range entries {
		entries[i].Key = fmt.Sprintf("%s-%d", batch, i+1)
	}
	id, err := j.Book.GoOn(j.Ctx, j.Case.ID, o, entries, func(id string) []engine.Entry {
		return []engine.Entry{
			{By: j.Who, Key: batch + "-note", Body: engine.Note{Text: note}},
			{By: j.Who, Key: batch + "-close", Body: engine.Closing{Outcome: engine.CaseAbandoned, Note: wording.GoesOnAs(id, unit)}},
		}
	})
	if err != nil {
		return j.d.keeper.Books.Failure(err)
	}
	out.GoesOn, out.Carried = id, len(entries)-1
	if out.Photos, err = j.d.takeAlong(j.Ctx, j.Case.ID, id); err != nil {
		return err
	}
	out.Words = wording.OtherUnit(j.Case.ID, id, unit, out.Carried, out.Photos)
	return nil
}

// carried are the entries in force that a unit knows; what it does not is told.
func (j *job) carried(k *engine.Knowledge, m *model.Model, out *VariantRecorded) ([]engine.Entry, error) {
	force, err := fold.InForce(j.Rec.Entries)
	if err != nil {
		return nil, err
	}
	lines := j.Lines()
	var keep []engine.Entry
	for i, e := range j.Rec.Entries {
		one := engine.CaseFile{Unit: m.Unit.ID}
		switch b := e.Body.(type) {
		case engine.Report:
			one.Reports = []engine.Report{b}
		case engine.Reading:
			one.Readings = []engine.Reading{b}
		case engine.Seen:
			one.Seen = []engine.Seen{b}
		case engine.SettledCause:
			one.Settled = []engine.SettledCause{b}
		case engine.StepDone:
			one.Done, one.Readings = []string{b.Step}, b.Readings
		case engine.Note, engine.InterviewMark:
		default:
			continue // taken back, closed, opened again: what is in force is what counts
		}
		if !force[i] {
			continue
		}
		why := ""
		for _, d := range asking.Amiss(k, m, &one) {
			if d.Severity == engine.Error && why == "" {
				why = d.Summary
			}
		}
		if why != "" {
			out.LeftOut = append(out.LeftOut, strings.TrimSuffix(lines[i].Words, ".")+": "+why)
			continue
		}
		keep = append(keep, engine.Entry{By: e.By, At: e.At, Body: e.Body})
	}
	return keep, nil
}
