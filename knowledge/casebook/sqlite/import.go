package sqlite

import (
	"bufio"
	"bytes"
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"

	"slipcase/engine"
)

// maxLine bounds one line of an import, in bytes; maxDiagnostics what is said
// about one file.
const (
	maxLine        = 1 << 20
	maxDiagnostics = 100
)

// Import implements engine.Casebook. The write lock is held from the first
// line to the last.
func (b *Book) Import(ctx context.Context, name string, r io.Reader) (engine.ImportResult, error) {
	if name == "" {
		name = "import"
	}
	in := &importer{b: b, ctx: ctx, file: name}
	err := b.write(ctx, "import "+name, func(tx *txn) error {
		in.tx = tx
		return in.run(r)
	})
	if err != nil {
		return engine.ImportResult{}, err
	}
	return in.result, nil
}

// importer reads one file. Once something is wrong it goes on reading, to say
// all that is wrong, but writes nothing more.
type importer struct {
	b      *Book
	ctx    context.Context
	tx     *txn
	file   string
	result engine.ImportResult
	diags  []engine.Diagnostic

	number int    // of the line
	line   []byte // in work
	head   *headLine
	headAt engine.Range
	cases  int64 // read, also those skipped
	lines  int64 // entries read
	before string
	open   *incoming
	links  []link // come-backs, to be checked when all cases are there
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
	for len(in.diags) < maxDiagnostics {
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
			in.say(maxLine, "the line is too long", fmt.Sprintf("the most is %d bytes", maxLine))
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

// errLong is a line over maxLine; what is over is skipped.
var errLong = errors.New("line too long")

func readLine(r *bufio.Reader) ([]byte, error) {
	var line []byte
	long := false
	for {
		part, err := r.ReadSlice('\n')
		if len(line)+len(part) > maxLine {
			part, long = part[:maxLine-len(line)], true
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
	if len(in.diags) < maxDiagnostics {
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
			case exportKind:
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
		return &fieldError{"kind", "the head of the file is there twice"}
	}
	var h headLine
	// The format first: a newer one may have other fields.
	var format struct {
		Format int `json:"format"`
	}
	if err := json.Unmarshal(in.line, &format); err != nil {
		return err
	}
	in.head, in.headAt = &h, rangeAt(in.file, in.number, in.line, nearest("cases", where))
	if format.Format != exportFormat {
		return &fieldError{"format", fmt.Sprintf("the file has format %d, this program reads %d", format.Format, exportFormat)}
	}
	return in.strict(&h)
}

// needHead says once that the file does not begin as an export.
func (in *importer) needHead() {
	if in.head == nil {
		in.say(0, "this is no export of a casebook", fmt.Sprintf(`the first line must be its head: {"kind":%q,"format":%d,"cases":...,"entries":...}`, exportKind, exportFormat))
		in.head = &headLine{Cases: -1}
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
	if _, ok := caseNumber(l.ID); !ok {
		return &fieldError{"id", fmt.Sprintf("%q is no id of a case, such as 26-0042", l.ID)}
	}
	if in.before != "" && compareIDs(in.before, l.ID) >= 0 {
		return &fieldError{"id", fmt.Sprintf("cases must come in order of their numbers, each once: %s comes after %s", l.ID, in.before)}
	}
	in.before = l.ID
	at, err := parseTime(l.At)
	if err != nil {
		return atField(err)
	}
	c.rec.Opening = engine.Opening{Unit: l.Unit, Title: l.Title, Vehicle: l.Vehicle, Words: l.Words, RulesHash: l.Rules, By: l.By, At: at, Key: l.Key}
	if err := checkOpening(c.rec.Opening); err != nil {
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
			return &fieldError{"kind", "the line has no kind"}
		}
		return &fieldError{"kind", fmt.Sprintf("there is no entry of kind %q", kind)}
	}
	var l entryLine
	if err := in.strict(&l); err != nil {
		return err
	}
	c := in.open
	switch {
	case c == nil:
		return &fieldError{"case", "the entry stands before any case"}
	case c.broken:
		return nil
	case l.Case != c.rec.ID:
		return &fieldError{"case", fmt.Sprintf("the entry of case %q stands among those of %s", l.Case, c.rec.ID)}
	case l.Seq != int64(len(c.rec.Entries))+1:
		return &fieldError{"seq", fmt.Sprintf("entries count from 1 without gaps: %d was expected, not %d", len(c.rec.Entries)+1, l.Seq)}
	case l.Body == nil:
		return &fieldError{"body", "the entry has no body"}
	}
	at, err := parseTime(l.At)
	if err != nil {
		return atField(err)
	}
	body, err := decodeBody(engine.EntryKind(kind), l.Body)
	if err != nil {
		return fieldFault(err, "body", where)
	}
	e := engine.Entry{Seq: l.Seq, By: l.By, At: at, Key: l.Key, Body: body}
	if err := checkEntry(e); err != nil {
		return err
	}
	if old, err := findKey(c.rec.Entries, e); old > 0 || err != nil {
		return &fieldError{"key", fmt.Sprintf("the key %q is there twice in case %s", e.Key, c.rec.ID)}
	}
	if r, ok := body.(engine.Retraction); ok && (r.Of < 1 || r.Of >= e.Seq) {
		return &fieldError{"body.of", fmt.Sprintf("entry %d cannot retract entry %d, which is not an earlier one", e.Seq, r.Of)}
	}
	if cl, ok := body.(engine.Closing); ok && cl.Earlier != "" {
		if cl.Earlier == c.rec.ID {
			return &fieldError{"body.earlier", "a case cannot be the come-back of itself"}
		}
		in.links = append(in.links, link{cl.Earlier, rangeAt(in.file, in.number, in.line, nearest("body.earlier", where))})
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
	var known int
	if err := in.tx.QueryRowContext(in.ctx, "SELECT count(*) FROM cases WHERE id = ?", c.rec.ID).Scan(&known); err != nil {
		return err
	}
	if known > 0 {
		old, err := in.b.load(in.ctx, in.tx, c.rec.ID)
		if err != nil {
			return err
		}
		return in.compare(c, old)
	}
	if key := c.rec.Opening.Key; key != "" {
		var other string
		err := in.tx.QueryRowContext(in.ctx, `SELECT id FROM cases WHERE "key" = ?`, key).Scan(&other)
		if err == nil {
			p := c.places[0]
			in.sayAt(rangeAt(in.file, p.number, p.line, nearest("key", p.where)), "the key was used before",
				fmt.Sprintf("case %s was opened with the key %q already: this is the same case under another id", other, key))
			return nil
		}
		if !errors.Is(err, sql.ErrNoRows) {
			return err
		}
	}
	h, err := insertOpening(in.ctx, in.tx, c.rec.ID, c.rec.Opening)
	if err != nil {
		return err
	}
	for i, e := range c.rec.Entries {
		err := h.insertEntry(in.ctx, in.tx, e)
		var f *fieldError
		if errors.As(err, &f) {
			p := c.places[i+1]
			in.sayAt(rangeAt(in.file, p.number, p.line, nearest(f.field, p.where)), "the line cannot be imported", f.Error())
			return nil
		}
		if err != nil {
			return err
		}
	}
	in.result.Cases++
	in.result.Entries += len(c.rec.Entries)
	return derive(in.ctx, in.tx, nil, h)
}

// compare skips a case that is here, identical, and refuses one that differs.
func (in *importer) compare(c *incoming, old *held) error {
	ours, err := exportCase(old.rec)
	if err != nil {
		return err
	}
	theirs, err := exportCase(c.rec)
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
		in.sayAt(at, fmt.Sprintf("case %s is in the casebook already, and not the same", c.rec.ID),
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
		in.sayAt(in.headAt, "the file is not whole", fmt.Sprintf("its head says %d cases with %d entries, there are %d with %d: export it again",
			h.Cases, h.Entries, in.cases, in.lines))
	}
}

// checkLinks looks for the earlier cases of come-backs, now that all are there.
func (in *importer) checkLinks() error {
	if len(in.diags) > 0 {
		return nil
	}
	for _, l := range in.links {
		var n int
		if err := in.tx.QueryRowContext(in.ctx, "SELECT count(*) FROM cases WHERE id = ?", l.earlier).Scan(&n); err != nil {
			return err
		}
		if n == 0 {
			in.sayAt(l.at, fmt.Sprintf("there is no case %q", l.earlier), "the earlier case of a come-back must be in the casebook or in the same file: export both together")
		}
	}
	return nil
}
