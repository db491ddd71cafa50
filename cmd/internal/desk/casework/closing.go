package casework

import (
	"cmp"
	"context"
	"slices"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/opened"
	"slipcase/cmd/internal/fault"
	"slipcase/cmd/internal/notation"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
	"slipcase/engine/model"
)

// CloseInput is how the work on a case ends.
type CloseInput struct {
	Outcome engine.CaseStatus
	Drove   []notation.Drive
	Earlier string // comeback: the case whose repair came back
	Note    string
	Undrove string // fixed without the whole verification drive: why
}

// mustDrive lists the rows, shifts and engagements that were reported faulty,
// each with what was reported.
func (w *work) mustDrive() (places []string, why map[string][]string) {
	why = map[string][]string{}
	add := func(finding string) {
		i, ok := w.Model.Lookup(finding)
		if !ok || w.Model.Nodes[i].Finding == nil || !driven(w.Model.Nodes[i].Finding.Per) {
			return
		}
		place := w.Model.Nodes[i].Place
		if why[place] == nil {
			places = append(places, place)
		}
		if text := wording.FindingOf(w.Model, finding); !slices.Contains(why[place], text) {
			why[place] = append(why[place], text)
		}
	}
	for _, r := range w.Case.Reports {
		if r.State == engine.Present {
			add(r.Finding)
		}
	}
	order := w.drivePlaces()
	slices.SortStableFunc(places, func(a, b string) int { return slices.Index(order, a) - slices.Index(order, b) })
	return places, why
}

func driven(per engine.Per) bool {
	return slices.Contains([]engine.Per{engine.PerRow, engine.PerRowGear, engine.PerShift, engine.PerEngagement}, per)
}

// drivePlaces lists what can be driven: rows, then shifts and engagements.
func (w *work) drivePlaces() []string {
	var out []string
	for _, r := range w.Model.Unit.Rows {
		out = append(out, r.Name())
	}
	for _, n := range w.Model.Nodes {
		if n.Layer == model.FindingLayer && n.Finding != nil && driven(n.Finding.Per) && !slices.Contains(out, n.Place) {
			out = append(out, n.Place)
		}
	}
	return out
}

// drive takes what was driven where the unit has it.
func (w *work) drive(list []notation.Drive) ([]engine.DriveResult, []answer.Message) {
	var out []engine.DriveResult
	var bad []answer.Message
	known := w.drivePlaces()
	for _, d := range list {
		if d.Wrong != nil {
			bad = append(bad, d.Wrong.Messages...)
			continue
		}
		if !slices.Contains(known, d.Place) {
			bad = append(bad, fault.Error(wording.NoneToDrive(w.Model.Unit.ID, d.Place, known)))
			continue
		}
		if i := slices.IndexFunc(out, func(o engine.DriveResult) bool { return o.Place == d.Place }); i >= 0 {
			if out[i].OK != d.OK {
				bad = append(bad, fault.WrongUse(wording.DrivenTwice(d.Place)).Messages...)
			}
			continue
		}
		out = append(out, d.DriveResult)
	}
	return out, bad
}

// CloseCase ends the work on a case. Fixed asks for the verification drive:
// every row, shift and engagement that was reported faulty, driven again. Fails
// with NotFound where there is no such case, with Conflict where it is closed,
// still bad or not driven, with WrongUse for what cannot be.
func (d *Casework) CloseCase(ctx context.Context, ref opened.Ref, in CloseInput) (answer.Answer[opened.Written], error) {
	j, err := d.forWriting(ctx, ref)
	if err != nil {
		return answer.Answer[opened.Written]{}, err
	}
	defer j.Close()
	w := j.w
	if in.Outcome == engine.CaseComeBack {
		if in.Earlier = cmp.Or(in.Earlier, j.Case.Earlier()); in.Earlier == "" {
			return answer.Answer[opened.Written]{}, fault.WrongUse(wording.NoEarlier(), answer.Do(answer.NameEarlier))
		}
	}
	c := engine.Closing{Outcome: in.Outcome, Earlier: in.Earlier, Note: in.Note}
	var bad []answer.Message
	c.Drive, bad = w.drive(in.Drove)
	if len(bad) > 0 {
		return answer.Answer[opened.Written]{}, w.Refused(nothing(bad, 2))
	}
	var warn []answer.Message
	switch in.Outcome {
	case engine.CaseFixed:
		missing, err := j.verify(c.Drive)
		if err != nil {
			return answer.Answer[opened.Written]{}, err
		}
		if missing != nil && in.Undrove == "" {
			return answer.Answer[opened.Written]{}, missing
		}
		if missing != nil {
			c.Note = wording.UndrivenNote(c.Note, in.Undrove)
			for _, x := range missing.Messages {
				warn = append(warn, answer.Warning(x.Summary, wording.ClosedUndriven(in.Undrove)))
			}
		}
		warn = append(warn, j.unproved()...)
	case engine.CaseComeBack:
		if in.Earlier == j.Case.ID {
			return answer.Answer[opened.Written]{}, fault.WrongUse(wording.OwnComeback(), answer.Do(answer.NameEarlier))
		}
		if err := j.earlierCase(in.Earlier); err != nil {
			return answer.Answer[opened.Written]{}, err
		}
	}
	ans, err := j.Write(opened.Written{}, c)
	if err != nil {
		return answer.Answer[opened.Written]{}, err
	}
	ans.Warnings = append(ans.Warnings, warn...)
	return ans, nil
}

// verify compares the drive with what was faulty; what is missing can be
// overruled, a row that is still bad cannot.
func (j *job) verify(drive []engine.DriveResult) (missing *answer.Failure, err error) {
	var bad, undriven []string
	for _, r := range drive {
		if !r.OK {
			bad = append(bad, r.Place)
		}
	}
	if len(bad) > 0 {
		return nil, fault.Conflict(wording.StillBad(bad, j.Case.ID), answer.Do(answer.NoteAndGoOn))
	}
	places, why := j.w.mustDrive()
	for _, p := range places {
		if !slices.ContainsFunc(drive, func(r engine.DriveResult) bool { return r.Place == p }) {
			undriven = append(undriven, p)
		}
	}
	if len(undriven) == 0 {
		return nil, nil
	}
	return fault.Conflict(wording.NotDriven(undriven, why), answer.Do(answer.DriveAndClose, append([]string{j.Case.ID}, undriven...)...)), nil
}

// unproved warns of what a fixed case leaves open: nothing found, or something
// found whose root cause is not settled.
func (j *job) unproved() []answer.Message {
	for _, s := range j.w.Case.Seen {
		if !s.Cleared {
			return j.unsettled()
		}
	}
	return []answer.Message{fault.Warning(wording.NothingFound(), answer.Do(answer.SayWhatItWas))}
}

// earlierCase looks at the case that a comeback names.
func (j *job) earlierCase(id string) error {
	other, err := j.Beside(id)
	if err != nil {
		return err
	}
	if other.Case.Status == engine.CaseOpen {
		return fault.Conflict(wording.NotBackYet(id), answer.Do(answer.CloseEarlierFirst))
	}
	return nil
}
