package casework

import (
	"context"
	"slices"
	"sort"
	"strings"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/asking"
	"slipcase/cmd/internal/desk/opened"
	"slipcase/cmd/internal/fault"
	"slipcase/cmd/internal/notation"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
	"slipcase/engine/complaint"
	"slipcase/engine/model"
	"slipcase/rules"
)

// NoteInput is what to note, who says so, and text that no rule reads.
type NoteInput struct {
	Items []notation.Item
	By    string
	Text  string
	Codes string // a pasted scan list
}

// Note adds findings, readings and trouble codes to a case, all or none. Fails
// with NotFound for a case or reporter that is not there, with Conflict for a
// closed case, with WrongUse for what the unit does not have.
func (d *Casework) Note(ctx context.Context, ref opened.Ref, in NoteInput) (answer.Answer[opened.Written], error) {
	j, err := d.forWriting(ctx, ref)
	if err != nil {
		return answer.Answer[opened.Written]{}, err
	}
	defer j.Close()
	bodies, err := j.w.notes(in)
	if err != nil {
		return answer.Answer[opened.Written]{}, err
	}
	var out opened.Written
	var keep []engine.Body
	for _, b := range bodies {
		said, again := j.before(b)
		if said != "" {
			out.Said = append(out.Said, opened.Remark{Text: said})
		}
		if !again {
			keep = append(keep, b)
		}
	}
	list, unknown := j.w.scanned(in)
	for _, b := range list {
		said, again := j.before(b)
		if said != "" {
			out.Said = append(out.Said, opened.Remark{Text: said})
		}
		if !again {
			keep = append(keep, b)
		}
	}
	for _, c := range unknown {
		out.Said = append(out.Said, opened.Remark{Text: wording.CodeKept(c.Name)})
		keep = append(keep, engine.Note{Text: wording.ScanNote(c.Name, c.Status, c.Words)})
	}
	for _, said := range j.silent(keep) {
		out.Said = append(out.Said, opened.Remark{Text: said})
	}
	if text := strings.TrimSpace(in.Text); text != "" {
		keep = append(keep, engine.Note{Text: text})
	}
	if onlyRequest(keep, j.Case.Reports) {
		out.Said = append(out.Said, opened.Remark{Text: wording.ReadTheCodes})
	}
	return j.Write(out, keep...)
}

// silent says which reports count for nothing once some entries are written, and
// counted before: what does not drive cannot slip.
func (j *job) silent(bodies []engine.Body) []string {
	was := map[string]bool{}
	for _, said := range silenced(j.w.Model, j.w.Case) {
		was[said] = true
	}
	c := *j.w.Case
	c.Reports = slices.Clone(c.Reports)
	for _, b := range bodies {
		if r, ok := b.(engine.Report); ok {
			c.Reports = append(c.Reports, r)
		}
	}
	return slices.DeleteFunc(silenced(j.w.Model, &c), func(said string) bool { return was[said] })
}

func silenced(m *model.Model, c *engine.CaseFile) []string {
	var out []string
	_, problems := m.Evidence(c)
	for _, p := range problems {
		if p.Severity == engine.Warning {
			out = append(out, wording.Silent(p))
		}
	}
	return out
}

// lampRequest is the code of the engine's computer that says only that the
// transmission's holds codes of its own (SAE J2012: "MIL Request").
const lampRequest = "code_P0700"

// onlyRequest tells whether that code is noted and no other one has been.
func onlyRequest(noted []engine.Body, before []engine.Report) bool {
	request := false
	for _, b := range noted {
		r, ok := b.(engine.Report)
		if !ok || r.State != engine.Present || !strings.HasPrefix(r.Finding, "code_") {
			continue
		}
		if r.Finding != lampRequest {
			return false
		}
		request = true
	}
	return request && !slices.ContainsFunc(before, func(r engine.Report) bool {
		return r.State == engine.Present && strings.HasPrefix(r.Finding, "code_") && r.Finding != lampRequest
	})
}

// scanned reads a pasted scan list: the codes that the rules know as reports of
// the scan tool, and those that they do not.
func (w *work) scanned(in NoteInput) (known []engine.Body, unknown []complaint.Code) {
	by := in.By
	if by == "" {
		by = "scan_tool"
	}
	for _, c := range complaint.Codes(in.Codes) {
		r := engine.Report{Finding: "code_" + c.Name, State: engine.Present, By: by, Note: c.Status}
		if w.Model.HasFinding(r.Finding) {
			known = append(known, r)
		} else {
			unknown = append(unknown, c)
		}
	}
	return known, unknown
}

// before says what an entry replaces, or that it is there already.
func (j *job) before(body engine.Body) (said string, again bool) {
	switch b := body.(type) {
	case engine.Report:
		for _, o := range j.Case.Reports {
			if engine.ParseFindingName(o.Finding).String() != engine.ParseFindingName(b.Finding).String() {
				continue
			}
			switch {
			case o.By == b.By && o.State == b.State:
				return wording.Already(j.w.Model, o), true
			case o.By == b.By:
				return wording.Replaces(j.w.Model, o), false
			case o.State != b.State && o.State != engine.Unknown && b.State != engine.Unknown:
				said = wording.Disagrees(j.w.Model, o)
			}
		}
	case engine.Reading:
		for _, o := range j.Case.Readings {
			if o.By != b.By || o.Name != b.Name || o.Place != b.Place {
				continue
			}
			if o.Value == b.Value {
				return wording.ReadAlready(j.w.Model, o), true
			}
			return wording.ReplacesReading(o), false
		}
	}
	return said, false
}

// ReadingNames lists what can be measured on the unit of a case, each once and
// without its places. Fails as Suspects does, but for clashing reports.
func (d *Casework) ReadingNames(ctx context.Context, ref asking.CaseRef) ([]string, error) {
	w, err := d.open(ctx, ref)
	if err != nil {
		return nil, err
	}
	return w.ReadingBases(), nil
}

// notes takes what was noted where the unit has it. Whatever cannot be taken
// makes all of it fail.
func (w *work) notes(in NoteInput) ([]engine.Body, error) {
	var out []engine.Body
	var bad []answer.Message
	if in.By != "" {
		if err := w.reporter(in.By); err != nil {
			bad = append(bad, fault.Messages(err)...)
		}
	}
	failed := 0
	for _, item := range in.Items {
		var body engine.Body
		var err error
		switch {
		case item.Wrong != nil:
			err = item.Wrong
		case item.Reading != nil:
			r := *item.Reading
			r.By = in.By
			err = w.Admit(&r)
			body = r
		case strings.HasPrefix(item.Report.Finding, engine.GoodPrefix):
			var denied []engine.Body
			if denied, err = w.good(*item.Report, in.By); err == nil {
				for _, d := range denied {
					if !slices.Contains(out, d) { // D/1=good and D/2=good may deny one thing
						out = append(out, d)
					}
				}
				continue
			}
		default:
			body, err = w.report(item.Report.Finding, item.Report.State, in.By)
		}
		if err != nil {
			failed++
			bad = append(bad, fault.Messages(err)...)
			continue
		}
		out = append(out, body)
	}
	for i, b := range out {
		for _, o := range out[:i] {
			if clash(o, b) {
				bad = append(bad, fault.WrongUse(wording.GivenTwice(nameOf(b))).Messages...)
			}
		}
	}
	if len(bad) > 0 {
		return nil, w.Refused(append(bad, fault.Error(wording.NothingNoted(failed, len(in.Items)), answer.Do(answer.SayAllAgain))))
	}
	if strings.TrimSpace(in.Codes) != "" && len(complaint.Codes(in.Codes)) == 0 {
		return nil, fault.WrongUse(wording.NoCodeInList(), answer.Do(answer.KeepAsText))
	}
	if len(out) == 0 && strings.TrimSpace(in.Text+in.Codes) == "" {
		return nil, fault.WrongUse(wording.NothingToNote(), answer.Do(answer.NoteSomething))
	}
	return out, nil
}

func nameOf(b engine.Body) string {
	switch b := b.(type) {
	case engine.Report:
		return b.Finding
	case engine.Reading:
		return wording.At(b.Name, b.Place)
	}
	return ""
}

// clash tells whether two notes of one command speak of the same thing.
func clash(a, b engine.Body) bool {
	switch x := a.(type) {
	case engine.Report:
		y, ok := b.(engine.Report)
		return ok && x.Finding == y.Finding && x.State != y.State
	case engine.Reading:
		y, ok := b.(engine.Reading)
		return ok && x.Name == y.Name && x.Place == y.Place && x.Value != y.Value
	}
	return false
}

// reporter refuses a reporter that no rule knows.
func (w *work) reporter(name string) error {
	var known []string
	for _, r := range w.Knowledge.Reporters {
		known = append(known, r.Name)
	}
	return fault.OneOf(name, known, wording.NoReporter)
}

// report makes a report of a finding that the unit has.
func (w *work) report(name string, s engine.State, by string) (engine.Report, error) {
	r := engine.Report{Finding: name, State: s, By: by}
	one := engine.CaseFile{Unit: w.Model.Unit.ID, Reports: []engine.Report{r}}
	// For its names only: a reporter is looked up by itself.
	if len(w.Knowledge.Reporters) > 0 {
		one.Reports[0].By = w.Knowledge.Reporters[0].Name
	}
	for _, d := range rules.ResolveCase(w.Knowledge, &one) {
		if d.Severity == engine.Error {
			d.Detail = w.findingHint(name, d.Detail)
			m := answer.Message{Diagnostic: d}
			if code, ok := strings.CutPrefix(name, "code_"); ok {
				m = fault.Error(wording.NoRuleKnowsCode(code), answer.Do(answer.KeepCodeAsText, code))
				m.Subject = d.Subject
			}
			return r, w.Refused([]answer.Message{m})
		}
	}
	r.Finding = one.Reports[0].Finding
	if _, ok := w.Model.LookupFinding(r.Finding); !ok { // a place of the unit where no such thing can be: nothing would follow from it
		_, problems := w.Model.Evidence(&one)
		for _, p := range problems {
			if p.Severity == engine.Error {
				return r, w.Refused([]answer.Message{{Diagnostic: wording.Problem(p)}})
			}
		}
	}
	if i, ok := w.Model.Lookup(r.Finding); r.By == "" && ok {
		r.By = w.Model.DefaultReporter(i)
	}
	return r, nil
}

// good makes the reports that a row's being good stands for, by the driver
// where nobody else is named.
func (w *work) good(r engine.Report, by string) ([]engine.Body, error) {
	r.By = by
	if by == "" {
		r.By = engine.Driver
	}
	one := engine.CaseFile{Unit: w.Model.Unit.ID, Reports: []engine.Report{r}}
	for _, d := range rules.ResolveCase(w.Knowledge, &one) {
		if d.Severity == engine.Error {
			return nil, w.Refused([]answer.Message{{Diagnostic: d}})
		}
	}
	var out []engine.Body
	for _, name := range w.Model.GoodRow(one.Reports[0].Finding, r.By) {
		out = append(out, engine.Report{Finding: name, State: engine.Absent, By: r.By})
	}
	if len(out) == 0 {
		return nil, fault.WrongUse(wording.CannotTellGood(r.By))
	}
	return out, nil
}

// findingHint names the places of a finding that was named without one, codes
// near a code, and what was measured for a reading.
func (w *work) findingHint(name, otherwise string) string {
	f := engine.ParseFindingName(name)
	if f.Place == "" {
		var same []string
		for _, n := range w.Model.FindingNames() {
			if engine.ParseFindingName(n).Name == f.Name {
				same = append(same, n)
			}
		}
		if len(same) > 0 {
			return wording.SayWhere(same)
		}
	}
	if near := wording.Nearest(name, w.ReadingNames()); near != "" && otherwise == "" {
		return near
	}
	return otherwise
}

// NoteWords lists what a note can hold, for the completion of what is typed.
func (d *Casework) NoteWords(ctx context.Context, ref asking.CaseRef, typed string) []asking.Word {
	w, err := d.open(ctx, ref)
	if err != nil {
		return nil
	}
	if strings.ContainsAny(typed, ":=") {
		return w.saidOf(typed)
	}
	var out []asking.Word
	for _, name := range w.Model.FindingNames() {
		if i, ok := w.Model.Lookup(name); ok {
			out = append(out, asking.Word{Name: strings.TrimPrefix(name, "code_"), Title: wording.Node(&w.Model.Nodes[i])})
		}
	}
	for _, name := range w.ReadingNames() {
		r, place, _ := strings.Cut(name, "@")
		if b, ok := w.Model.Unit.Bounds(r, place); ok {
			out = append(out, asking.Word{Name: name, Title: wording.ReadingWord(wording.Limits(b, ""))})
		}
	}
	sort.Slice(out, func(i, j int) bool { return out[i].Name < out[j].Name })
	return slices.CompactFunc(out, func(a, b asking.Word) bool { return a.Name == b.Name })
}

// saidOf lists what can follow a finding: states after =, conditions after a
// colon.
func (w *work) saidOf(typed string) []asking.Word {
	name, _, state := strings.Cut(typed, "=")
	base, _, _ := strings.Cut(name, ":")
	if !w.Model.HasFinding(name) && !w.Model.HasFinding("code_"+name) && (state || !w.Model.HasFinding(base)) {
		return nil
	}
	var out []asking.Word
	if state {
		for _, x := range []asking.Word{{Name: "yes", Title: wording.StateWord(engine.Present)}, {Name: "no", Title: wording.StateWord(engine.Absent)}, {Name: "unknown", Title: wording.StateWord(engine.Unknown)}} {
			out = append(out, asking.Word{Name: name + "=" + x.Name, Title: x.Title})
		}
		return out
	}
	for _, c := range engine.Conditions {
		out = append(out, asking.Word{Name: base + ":" + string(c), Title: wording.Name(string(c))})
	}
	return out
}
