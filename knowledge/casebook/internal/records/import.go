package records

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"

	"slipcase/engine"
)

// MaxLine bounds one line of an import, in bytes; MaxDiagnostics what is said
// about one file.
const (
	MaxLine        = 1 << 20
	MaxDiagnostics = 100
)

// Target is the transaction of a store that an import writes to.
type Target interface {
	// Known tells whether there is a case with this id.
	Known(id string) (bool, error)
	// Load reads a case that is known.
	Load(id string) (*Held, error)
	// OpenedWith is the id of the case opened with a key, "" for none.
	OpenedWith(key string) (string, error)
	// Insert writes the opening of a case whose id is free.
	Insert(id string, o engine.Opening) (*Held, error)
	// Add writes an entry with its number at the end of a case.
	Add(h *Held, e engine.Entry) error
	// Derive writes what follows from a new case.
	Derive(h *Held) error
}

// ReadExport takes an export into a store: all of it, or an
// engine.ImportError and then the transaction must be given up. Name stands
// for the file in messages.
func ReadExport(ctx context.Context, name string, r io.Reader, to Target) (engine.ImportResult, error) {
	in := &importer{to: to, ctx: ctx, file: name}
	err := in.run(r)
	return in.result, err
}

// importer reads one file. Once something is wrong it goes on reading, to say
// all that is wrong, but writes nothing more.
type importer struct {
	to     Target
	ctx    context.Context
	file   string
	result engine.ImportResult
	diags  []engine.Diagnostic

	number int    // of the line
	line   []byte // in work
	head   *HeadLine
	headAt engine.Range
	cases  int64 // read, also those skipped
	lines  int64 // entries read
	before string
	open   *incoming
	links  []link // comebacks, to be checked when all cases are there
}

// incoming is the case being read.
type incoming struct {
	rec    engine.CaseRecord
	at     engine.Range // of its id
	places []place      // of every line: the opening, then the entries
	broken bool         // a line was refused; the rest is not judged
}

type place struct {
	number int
	line   []byte // kept only for its columns
	where  map[string]int
}

type link struct {
	earlier string
	at      engine.Range
}

func (in *importer) run(r io.Reader) error {
	lines := bufio.NewReaderSize(r, 1<<16)
	for len(in.diags) < MaxDiagnostics {
		line, err := readLine(lines)
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil && !errors.Is(err, errLong) {
			return fmt.Errorf("reading %s: %w", in.file, err)
		}
		if in.ctx.Err() != nil {
			return in.ctx.Err()
		}
		in.number++
		if in.number == 1 {
			line = bytes.TrimPrefix(line, []byte("\ufeff"))
		}
		in.line = line
		if err != nil {
			in.say(MaxLine, "the line is too long", fmt.Sprintf("the most is %d bytes", MaxLine))
			in.spoil()
			continue
		}
		if len(bytes.TrimSpace(line)) == 0 {
			continue
		}
		if err := in.take(); err != nil {
			return err
		}
	}
	if err := in.finish(); err != nil {
		return err
	}
	in.count()
	if err := in.checkLinks(); err != nil {
		return err
	}
	if len(in.diags) > 0 {
		return &engine.ImportError{Diagnostics: in.diags}
	}
	return nil
}

// errLong is a line over MaxLine; what is over is skipped.
var errLong = errors.New("line too long")

func readLine(r *bufio.Reader) ([]byte, error) {
	var line []byte
	long := false
	for {
		part, err := r.ReadSlice('\n')
		if len(line)+len(part) > MaxLine {
			part, long = part[:MaxLine-len(line)], true
		}
		line = append(line, part...)
		switch {
		case errors.Is(err, bufio.ErrBufferFull):
			continue
		case err != nil && (!errors.Is(err, io.EOF) || len(line) == 0):
			return nil, err
		case long:
			return line, errLong
		}
		return bytes.TrimRight(line, "\r\n"), nil
	}
}

// say notes something wrong at a byte of the line in work.
func (in *importer) say(offset int, summary, detail string) {
	in.sayAt(rangeAt(in.file, in.number, in.line, offset), summary, detail)
}

func (in *importer) sayAt(at engine.Range, summary, detail string) {
	if len(in.diags) < MaxDiagnostics {
		in.diags = append(in.diags, engine.Diagnostic{Severity: engine.Error, Summary: summary, Detail: detail, Subject: at})
	}
}

// spoil gives up judging the case in work.
func (in *importer) spoil() {
	if in.open != nil {
		in.open.broken = true
	}
}

// take reads one line. Its error is of the disk; what is wrong with the line
// is a diagnostic.
func (in *importer) take() error {
	where, err := values(in.line)
	if err == nil {
		var kind struct {
			Kind string `json:"kind"`
		}
		if err = json.Unmarshal(in.line, &kind); err == nil {
			switch kind.Kind {
			case ExportKind:
				err = in.takeHead(where)
			case openingKind:
				if fault := in.finish(); fault != nil {
					return fault
				}
				err = in.takeOpening(where)
			default:
				err = in.takeEntry(kind.Kind, where)
			}
		}
	}
	if err != nil {
		p := fieldFault(err, "", where)
		in.say(p.offset, "the line cannot be imported", p.what)
		in.spoil()
	}
	return nil
}

// strict decodes the line in work and knows every field.
func (in *importer) strict(v any) error {
	d := json.NewDecoder(bytes.NewReader(in.line))
	d.DisallowUnknownFields()
	return d.Decode(v)
}

func (in *importer) takeHead(where map[string]int) error {
	if in.head != nil {
		return &FieldError{"kind", "the head of the file appears twice"}
	}
	var h HeadLine
	// The format first: a newer one may have other fields.
	var format struct {
		Format int `json:"format"`
	}
	if err := json.Unmarshal(in.line, &format); err != nil {
		return err
	}
	in.head, in.headAt = &h, rangeAt(in.file, in.number, in.line, nearest("cases", where))
	if format.Format != ExportFormat {
		return &FieldError{"format", fmt.Sprintf("the file has format %d, this program reads %d", format.Format, ExportFormat)}
	}
	return in.strict(&h)
}

// needHead says once that the file does not begin as an export.
func (in *importer) needHead() {
	if in.head == nil {
		in.say(0, "this is no export of a casebook", fmt.Sprintf(`the first line must be its head: {"kind":%q,"format":%d,"cases":...,"entries":...}`, ExportKind, ExportFormat))
		in.head = &HeadLine{Cases: -1}
	}
}

func (in *importer) takeOpening(where map[string]int) error {
	in.needHead()
	in.cases++
	c := &incoming{at: rangeAt(in.file, in.number, in.line, nearest("id", where)), broken: true}
	in.open = c
	var l openingLine
	if err := in.strict(&l); err != nil {
		return err
	}
	c.rec.ID = l.ID
	if _, ok := CaseNumber(l.ID); !ok {
		return &FieldError{"id", fmt.Sprintf("%q is not a case id such as 26-0042", l.ID)}
	}
	if in.before != "" && CompareIDs(in.before, l.ID) >= 0 {
		return &FieldError{"id", fmt.Sprintf("cases must come in order of their numbers, each once: %s comes after %s", l.ID, in.before)}
	}
	in.before = l.ID
	at, err := ParseTime(l.At)
	if err != nil {
		return atField(err)
	}
	c.rec.Opening = engine.Opening{Unit: l.Unit, Title: l.Title, Vehicle: l.Vehicle, Words: l.Words, RulesHash: l.Rules, By: l.By, At: at, Key: l.Key}
	if err := CheckOpening(c.rec.Opening); err != nil {
		return err
	}
	c.places = append(c.places, place{in.number, slices.Clone(in.line), where})
	c.broken = false
	return nil
}

func (in *importer) takeEntry(kind string, where map[string]int) error {
	in.needHead()
	in.lines++
	if !slices.Contains(engine.EntryKinds, engine.EntryKind(kind)) {
		if kind == "" {
			return &FieldError{"kind", "the line has no kind"}
		}
		return &FieldError{"kind", fmt.Sprintf("there is no entry of kind %q", kind)}
	}
	var l entryLine
	if err := in.strict(&l); err != nil {
		return err
	}
	c := in.open
	switch {
	case c == nil:
		return &FieldError{"case", "the entry comes before any case"}
	case c.broken:
		return nil
	case l.Case != c.rec.ID:
		return &FieldError{"case", fmt.Sprintf("the entry of case %q is among those of %s", l.Case, c.rec.ID)}
	case l.Seq != int64(len(c.rec.Entries))+1:
		return &FieldError{"seq", fmt.Sprintf("entries count from 1 without gaps: %d was expected, not %d", len(c.rec.Entries)+1, l.Seq)}
	case l.Body == nil:
		return &FieldError{"body", "the entry has no body"}
	}
	at, err := ParseTime(l.At)
	if err != nil {
		return atField(err)
	}
	body, err := DecodeBody(engine.EntryKind(kind), l.Body)
	if err != nil {
		return fieldFault(err, "body", where)
	}
	e := engine.Entry{Seq: l.Seq, By: l.By, At: at, Key: l.Key, Body: body}
	if err := CheckEntry(e); err != nil {
		return err
	}
	if old, err := FindKey(c.rec.Entries, e); old > 0 || err != nil {
		return &FieldError{"key", fmt.Sprintf("the key %q appears twice in case %s", e.Key, c.rec.ID)}
	}
	if r, ok := body.(engine.Retraction); ok && (r.Of < 1 || r.Of >= e.Seq) {
		return &FieldError{"body.of", fmt.Sprintf("entry %d cannot retract entry %d, which is not an earlier one", e.Seq, r.Of)}
	}
	if earlier := earlierOf(body); earlier != "" {
		if earlier == c.rec.ID {
			return &FieldError{"body.earlier", "a case cannot be the comeback of itself"}
		}
		in.links = append(in.links, link{earlier, rangeAt(in.file, in.number, in.line, nearest("body.earlier", where))})
	}
	c.rec.Entries = append(c.rec.Entries, e)
	c.places = append(c.places, place{number: in.number, line: slices.Clone(in.line), where: where})
	return nil
}

// finish writes the case in work, or finds that it is here already.
func (in *importer) finish() error {
	c := in.open
	in.open = nil
	if c == nil || c.broken || len(in.diags) > 0 {
		return nil
	}
	known, err := in.to.Known(c.rec.ID)
	if err != nil {
		return err
	}
	if known {
		old, err := in.to.Load(c.rec.ID)
		if err != nil {
			return err
		}
		return in.compare(c, old)
	}
	if key := c.rec.Opening.Key; key != "" {
		other, err := in.to.OpenedWith(key)
		if err != nil {
			return err
		}
		if other != "" {
			p := c.places[0]
			in.sayAt(rangeAt(in.file, p.number, p.line, nearest("key", p.where)), "the key was used before",
				fmt.Sprintf("case %s was opened with the key %q already: this is the same case under another id", other, key))
			return nil
		}
	}
	h, err := in.to.Insert(c.rec.ID, c.rec.Opening)
	if err != nil {
		return err
	}
	for i, e := range c.rec.Entries {
		err := in.to.Add(h, e)
		var f *FieldError
		if errors.As(err, &f) {
			p := c.places[i+1]
			in.sayAt(rangeAt(in.file, p.number, p.line, nearest(f.Field, p.where)), "the line cannot be imported", f.Error())
			return nil
		}
		if err != nil {
			return err
		}
	}
	in.result.Cases++
	in.result.Entries += len(c.rec.Entries)
	return in.to.Derive(h)
}

// compare skips a case that is here, identical, and refuses one that differs.
func (in *importer) compare(c *incoming, old *Held) error {
	ours, err := ExportCase(old.Rec)
	if err != nil {
		return err
	}
	theirs, err := ExportCase(c.rec)
	if err != nil {
		return err
	}
	for i := range max(len(ours), len(theirs)) {
		if i < len(ours) && i < len(theirs) && bytes.Equal(ours[i], theirs[i]) {
			continue
		}
		at, what := c.at, "the case here has more entries than the one in the file"
		if i < len(theirs) {
			p := c.places[i]
			at, what = rangeAt(in.file, p.number, p.line, 0), "they differ from this line on"
		}
		in.sayAt(at, fmt.Sprintf("case %s is already in the casebook, with different content", c.rec.ID),
			what+": take the case out of the file, or import into a new casebook")
		return nil
	}
	in.result.Skipped++
	return nil
}

// count compares what was read with what the head promised: a file that was
// cut short at the end of a line looks whole otherwise.
func (in *importer) count() {
	switch h := in.head; {
	case h == nil:
		in.number, in.line = max(in.number, 1), nil
		in.say(0, "the file is empty", "an export begins with its head, also that of an empty casebook")
	case len(in.diags) > 0 || h.Cases < 0:
	case h.Cases != in.cases || h.Entries != in.lines:
		in.sayAt(in.headAt, "the file is incomplete", fmt.Sprintf("its head says %d cases with %d entries, there are %d with %d: export it again",
			h.Cases, h.Entries, in.cases, in.lines))
	}
}

// checkLinks looks for the earlier cases of comebacks, now that all are there.
func (in *importer) checkLinks() error {
	if len(in.diags) > 0 {
		return nil
	}
	for _, l := range in.links {
		known, err := in.to.Known(l.earlier)
		if err != nil {
			return err
		}
		if !known {
			in.sayAt(l.at, fmt.Sprintf("there is no case %q", l.earlier), "the earlier case of a comeback must be in the casebook or in the same file: export both together")
		}
	}
	return nil
}
