package desk

import (
	"fmt"
	"slices"
	"strings"

	"slipcase/engine"
	"slipcase/engine/model"
)

// CloseInput is how the work on a case ends.
type CloseInput struct {
	Outcome engine.CaseStatus
	Drove   []string // PLACE[,PLACE…]=good|bad[:note]
	Earlier string   // come-back: the case whose repair came back
	Note    string
	Undrove string // fixed without the whole verification drive: why
}

// mustDrive lists the rows, shifts and engagements that were reported faulty,
// each with what was reported.
func (w *work) mustDrive() (places []string, why map[string][]string) {
	why = map[string][]string{}
	add := func(finding string) {
		i, ok := w.m.Lookup(finding)
		if !ok || w.m.Nodes[i].Finding == nil || !driven(w.m.Nodes[i].Finding.Per) {
			return
		}
		place := w.m.Nodes[i].Place
		if why[place] == nil {
			places = append(places, place)
		}
		if text := findingTitle(w.m, finding); !slices.Contains(why[place], text) {
			why[place] = append(why[place], text)
		}
	}
	for _, r := range w.c.Reports {
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
	for _, r := range w.m.Unit.Rows {
		out = append(out, r.Name())
	}
	for _, n := range w.m.Nodes {
		if n.Layer == model.FindingLayer && n.Finding != nil && driven(n.Finding.Per) && !slices.Contains(out, n.Place) {
			out = append(out, n.Place)
		}
	}
	return out
}

// drive reads what was driven.
func (w *work) drive(list []string) ([]engine.DriveResult, []engine.Diagnostic) {
	var out []engine.DriveResult
	var diags []engine.Diagnostic
	known := w.drivePlaces()
	for _, text := range list {
		places, result, given := strings.Cut(text, "=")
		word, note, _ := strings.Cut(result, ":")
		good := slices.Contains([]string{"good", "ok", "yes"}, word)
		if !given || !good && !slices.Contains([]string{"bad", "no"}, word) {
			diags = append(diags, usage(fmt.Sprintf("--drove %s does not say how it went", text), "write the row with good or bad: D/3=good, or D/3=bad:slips_when_hot").Diagnostics...)
			continue
		}
		for _, place := range strings.Split(places, ",") {
			if !slices.Contains(known, place) {
				hint := nearestOr(place, known, "it has "+strings.Join(known, ", "))
				diags = append(diags, usage(fmt.Sprintf("unit %s has no row or shift %q to drive", w.m.Unit.ID, place), hint).Diagnostics...)
				continue
			}
			r := engine.DriveResult{Place: place, OK: good, Note: strings.TrimSpace(note)}
			if i := slices.IndexFunc(out, func(o engine.DriveResult) bool { return o.Place == place }); i >= 0 {
				if out[i].OK != good {
					diags = append(diags, usage(place+" is driven twice, and not the same", "say it once").Diagnostics...)
				}
				continue
			}
			out = append(out, r)
		}
	}
	return out, diags
}

// CloseCase ends the work on a case. Fixed asks for the verification drive:
// every row, shift and engagement that was reported faulty, driven again.
func (d *Desk) CloseCase(ref JobRef, in CloseInput) (Answer, error) {
	j, err := d.forWriting(ref)
	if err != nil {
		return Answer{}, err
	}
	defer j.close()
	w := j.w
	c := engine.Closing{Outcome: in.Outcome, Earlier: in.Earlier, Note: in.Note}
	var diags []engine.Diagnostic
	c.Drive, diags = w.drive(in.Drove)
	if len(diags) > 0 {
		return Answer{}, &Failure{Rules: w.k.Hash, Usage: true, Diagnostics: nothing(diags, 2)}
	}
	var warn []engine.Diagnostic
	switch in.Outcome {
	case engine.CaseFixed:
		missing, err := j.verify(c.Drive)
		if err != nil {
			return Answer{}, err
		}
		if missing != nil && in.Undrove == "" {
			return Answer{}, missing
		}
		if missing != nil {
			c.Note = strings.TrimPrefix(c.Note+"; not driven: "+in.Undrove, "; ")
			for _, x := range missing.Diagnostics {
				warn = append(warn, warning(x.Summary, "closed all the same: "+in.Undrove))
			}
		}
		warn = append(warn, j.unproved()...)
	case engine.CaseComeBack:
		if in.Earlier == j.c.ID {
			return Answer{}, usage("a case is no come-back of itself", "--of names the earlier case, whose repair did not last")
		}
		if err := j.earlierCase(in.Earlier); err != nil {
			return Answer{}, err
		}
	}
	ans, err := j.write(Written{}, c)
	if err != nil {
		return Answer{}, err
	}
	ans.Warnings = append(ans.Warnings, warn...)
	return ans, nil
}

// verify compares the drive with what was faulty; what is missing can be
// overruled, a row that is still bad cannot.
func (j *job) verify(drive []engine.DriveResult) (missing *Failure, err error) {
	var bad, undriven []string
	for _, r := range drive {
		if !r.OK {
			bad = append(bad, r.Place)
		}
	}
	if len(bad) > 0 {
		return nil, failed(fmt.Sprintf("it is not fixed: still bad in %s; case %s stays open", strings.Join(bad, ", "), j.c.ID),
			"note what it does now, with slipcase note FINDING --by road_test, and go on")
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
	var each []string
	for _, p := range undriven {
		each = append(each, p+" ("+strings.Join(why[p], "; ")+")")
	}
	return failed("the verification drive is not complete, not driven again: "+strings.Join(each, ", "),
		fmt.Sprintf("drive them, warm, and close with --drove %s=good; or --undriven REASON; case %s stays open", strings.Join(undriven, ","), j.c.ID)), nil
}

// unproved warns of what a fixed case leaves open: nothing found, or something
// found whose root cause is not settled.
func (j *job) unproved() []engine.Diagnostic {
	for _, s := range j.w.c.Seen {
		if !s.Cleared {
			return j.unsettled()
		}
	}
	return []engine.Diagnostic{warning("no part was found failed: the casebook learns nothing from this case", "say what it was with slipcase undo and slipcase found COMPONENT MODE")}
}

// earlierCase looks at the case that a come-back names.
func (j *job) earlierCase(id string) error {
	other := &job{d: j.d, ctx: j.ctx, book: j.book}
	if err := other.read(id); err != nil {
		return err
	}
	if other.c.Status == engine.CaseOpen {
		return failed(fmt.Sprintf("case %s is still open: nothing of it can have come back", id), "close that one first, or name another with --of")
	}
	return nil
}
