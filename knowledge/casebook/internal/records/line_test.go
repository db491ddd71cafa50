package records

import (
	"bytes"
	"os"
	"strings"
	"testing"

	"slipcase/engine"
)

// FuzzLine: whatever a line holds, what is wrong has a place in it, and what is
// taken comes back the same.
func FuzzLine(f *testing.F) {
	const (
		head    = `{"kind":"casebook","format":1,"cases":1,"entries":1}` + "\n"
		opening = `{"kind":"case","id":"26-0001","unit":"u"}` + "\n"
		note    = `{"kind":"note","case":"26-0001","seq":1,"body":{"text":"x"}}` + "\n"
	)
	for _, line := range []string{head, opening, note, note[:40], strings.Repeat("[", 60000), `{"kind":"note","seq":1e999,"body":{"text":"\ud800"}}`} {
		f.Add([]byte(line))
	}
	if text, err := os.ReadFile("../../../../testdata/casebook/shop.jsonl"); err != nil {
		f.Error(err)
	} else {
		for line := range bytes.Lines(text) {
			f.Add(line)
		}
	}
	f.Fuzz(func(t *testing.T, line []byte) {
		where, err := values(line)
		if err != nil {
			if p := fieldFault(err, "", where); p.offset < 0 || p.offset > len(line) || p.what == "" {
				t.Fatalf("placed at %d of %d: %q", p.offset, len(line), p.what)
			}
			return
		}
		in := &importer{line: line}
		var l entryLine
		if err := in.strict(&l); err != nil {
			if p := fieldFault(err, "", where); p.offset < 0 || p.offset >= len(line) {
				t.Fatalf("placed at %d of %d: %q", p.offset, len(line), p.what)
			}
			return
		}
		body, err := DecodeBody(engine.EntryKind(l.Kind), l.Body)
		if err != nil || CheckEntry(engine.Entry{Body: body}) != nil {
			return
		}
		text, err := EncodeBody(body)
		if err != nil {
			t.Fatalf("%+v was read, but: %v", body, err)
		}
		again, err := DecodeBody(body.EntryKind(), text)
		if err != nil || !SameBody(body, again) {
			t.Fatalf("%+v came back as %+v, %v", body, again, err)
		}
		if _, err := values(text); err != nil {
			t.Fatalf("what was written is refused: %v\n%s", err, text)
		}
	})
}
