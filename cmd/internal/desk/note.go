package desk

import (
	"fmt"
	"regexp"
	"slices"
	"sort"
	"strings"

	"slipcase/engine"
	"slipcase/engine/quantity"
	"slipcase/rules"
)

// NoteInput is what to note: words as they are typed, who says so, and text
// that no rule reads.
type NoteInput struct {
	Words []string
	By    string
	Text  string
}

// states are the words for the state of a finding.
var states = map[string]engine.State{
	"present": engine.Present, "yes": engine.Present, "absent": engine.Absent, "no": engine.Absent, "unknown": engine.Unknown,
}

var codeName = regexp.MustCompile(`^(?i:[PCBU][0-9A-F]{4})$`)

// Note adds findings, readings and trouble codes to a case, all or none.
func (d *Desk) Note(ref JobRef, in NoteInput) (Answer, error) {
	j, err := d.forWriting(ref)
	if err != nil {
		return Answer{}, err
	}
	defer j.close()
	bodies, err := j.w.parseNotes(in)
	if err != nil {
		return Answer{}, err
	}
	var out Written
	var keep []engine.Body
	for _, b := range bodies {
		said, again := j.before(b)
		if said != "" {
			out.Said = append(out.Said, said)
		}
		if !again {
			keep = append(keep, b)
		}
	}
	if text := strings.TrimSpace(in.Text); text != "" {
		keep = append(keep, engine.Note{Text: text})
	}
	return j.write(out, keep...)
}

// before says what an entry replaces, or that it is there already.
func (j *job) before(body engine.Body) (said string, again bool) {
	switch b := body.(type) {
	case engine.Report:
		for _, o := range j.c.Reports {
			if engine.ParseFindingName(o.Finding).String() != engine.ParseFindingName(b.Finding).String() {
				continue
			}
			words := findingTitle(j.w.m, b.Finding)
			switch {
			case o.By == b.By && o.State == b.State:
				return fmt.Sprintf("%s: %s%s: noted already, entry %d", words, saidWords(o.State), says(o.By), o.Seq), true
			case o.By == b.By:
				return fmt.Sprintf("%s: replaces what the %s said before, %s (entry %d)", words, title("", o.By), saidWords(o.State), o.Seq), false
			case o.State != b.State && o.State != engine.Unknown && b.State != engine.Unknown:
				said = fmt.Sprintf("%s: the %s says %s (entry %d); both count, each by how often it errs", words, title("", o.By), saidWords(o.State), o.Seq)
			}
		}
	case engine.Reading:
		for _, o := range j.c.Readings {
			if o.By != b.By || o.Name != b.Name || o.Place != b.Place {
				continue
			}
			if o.Value == b.Value {
				return fmt.Sprintf("%s: noted already, entry %d", readingWords(j.w, o), o.Seq), true
			}
			return fmt.Sprintf("%s: replaces %s (entry %d)", at(b.Name, b.Place), o.Value, o.Seq), false
		}
	}
	return said, false
}

// parseNotes reads the words of a note. Whatever cannot be understood makes
// all of it fail.
func (w *work) parseNotes(in NoteInput) ([]engine.Body, error) {
	var out []engine.Body
	var diags []engine.Diagnostic
	bad := func(err error) { diags = append(diags, AsFailure(err).Diagnostics...) }
	if in.By != "" {
		if err := w.reporter(in.By); err != nil {
			bad(err)
		}
	}
	items, fine := 0, 0 // fine: those that were understood
	for i := 0; i < len(in.Words); items, fine = items+1, len(out) {
		word := in.Words[i]
		head, state, given := strings.Cut(word, "=")
		base := engine.ParseFindingName(head).Name
		switch {
		case states[word] != "":
			bad(usage(fmt.Sprintf("%q stands before any finding", word), fmt.Sprintf("write it after the finding it speaks of: slips@D/3=%s, or slips@D/3 %s", word, word)))
			i++
			continue
		case w.isReading(base):
			r, used, err := w.takeReading(in.Words[i:], in.By)
			i += max(used, 1)
			if err != nil {
				bad(err)
				continue
			}
			out = append(out, r)
			continue
		}
		i++
		s := engine.Present
		if given {
			if s = states[state]; s == "" {
				bad(usage(fmt.Sprintf("%s: %q is no state of a finding", word, state), "the states are present (yes), absent (no) and unknown"))
				continue
			}
		} else if i < len(in.Words) && states[in.Words[i]] != "" {
			s = states[in.Words[i]]
			i++
		}
		if codeName.MatchString(head) {
			head = "code_" + strings.ToUpper(head)
		}
		r, err := w.report(head, s, in.By)
		if err != nil {
			bad(err)
			continue
		}
		out = append(out, r)
	}
	for i, b := range out {
		for _, o := range out[:i] {
			if clash(o, b) {
				bad(usage(fmt.Sprintf("%s is said twice, and not the same", nameOf(b)), "say it once"))
			}
		}
	}
	if len(diags) > 0 {
		more := "nothing was noted"
		if items > fine && items > 1 {
			more = fmt.Sprintf("nothing was noted: %d of %d items cannot be", items-fine, items)
		}
		return nil, &Failure{Rules: w.k.Hash, Usage: true, Diagnostics: append(diags, engine.Diagnostic{Severity: engine.Error, Summary: more, Detail: "set it right and say all of it again; what no rule knows can be kept with --text"})}
	}
	if len(out) == 0 && strings.TrimSpace(in.Text) == "" {
		return nil, usage("there is nothing to note", "name findings, readings or trouble codes, or give --text")
	}
	return out, nil
}

func nameOf(b engine.Body) string {
	switch b := b.(type) {
	case engine.Report:
		return b.Finding
	case engine.Reading:
		return at(b.Name, b.Place)
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
	for _, r := range w.k.Reporters {
		known = append(known, r.Name)
	}
	return oneOf("reporter", name, known)
}

// report makes a report of a finding that the unit has.
func (w *work) report(name string, s engine.State, by string) (engine.Report, error) {
	r := engine.Report{Finding: name, State: s, By: by}
	one := engine.CaseFile{Unit: w.m.Unit.ID, Reports: []engine.Report{r}}
	// For its names only: a reporter is looked up by itself.
	if len(w.k.Reporters) > 0 {
		one.Reports[0].By = w.k.Reporters[0].Name
	}
	for _, d := range rules.ResolveCase(w.k, &one) {
		if d.Severity == engine.Error {
			d.Detail = w.findingHint(name, d.Detail)
			if code, ok := strings.CutPrefix(name, "code_"); ok {
				d.Summary, d.Detail = fmt.Sprintf("no rule knows the code %s for this unit", code), fmt.Sprintf("keep it as text: slipcase note --text %q", code)
			}
			return r, &Failure{Rules: w.k.Hash, Usage: true, Diagnostics: []engine.Diagnostic{d}}
		}
	}
	r.Finding = one.Reports[0].Finding
	if i, ok := w.m.Lookup(r.Finding); r.By == "" && ok {
		n := w.m.Nodes[i]
		switch {
		case n.Finding != nil && n.Finding.Reporter != "":
			r.By = n.Finding.Reporter
		case n.Code != nil:
			r.By = "scan_tool"
		default:
			r.By = "driver"
		}
	}
	return r, nil
}

// findingHint names the places of a finding that was named without one, codes
// near a code, and what was measured for a reading.
func (w *work) findingHint(name, otherwise string) string {
	f := engine.ParseFindingName(name)
	if f.Place == "" {
		var same []string
		for _, n := range w.m.FindingNames() {
			if engine.ParseFindingName(n).Name == f.Name {
				same = append(same, n)
			}
		}
		if len(same) > 0 {
			return "say where: " + strings.Join(same, ", ")
		}
	}
	if near := Nearest(name, w.readingNames()); near != "" && otherwise == "" {
		return near
	}
	return otherwise
}

// NoteWords lists what a note can hold, for completion.
func (d *Desk) NoteWords(ref CaseRef) []Word {
	w, err := d.open(ref)
	if err != nil {
		return nil
	}
	var out []Word
	for _, name := range w.m.FindingNames() {
		if i, ok := w.m.Lookup(name); ok {
			out = append(out, Word{strings.TrimPrefix(name, "code_"), w.m.Nodes[i].Title})
		}
	}
	for _, name := range w.readingNames() {
		r, place, _ := strings.Cut(name, "@")
		if b, ok := w.bounds(r, place); ok {
			out = append(out, Word{name, "measured; limit " + b.words(unitOf(b))})
		}
	}
	sort.Slice(out, func(i, j int) bool { return out[i].Name < out[j].Name })
	return slices.CompactFunc(out, func(a, b Word) bool { return a.Name == b.Name })
}

func unitOf(b bounds) string {
	for _, q := range []*quantity.Quantity{b.low, b.high} {
		if q != nil {
			return q.Unit
		}
	}
	return ""
}
