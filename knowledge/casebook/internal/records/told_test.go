package records

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"slipcase/engine"
	"slipcase/engine/quantity"
)

// memory is a store in memory.
type memory struct {
	cases   map[string]*Held
	derived []string
	fails   string // the name of the call that fails
}

var errDisk = errors.New("the disk is gone")

func (m *memory) fail(what string) error {
	if m.fails == what {
		return errDisk
	}
	return nil
}

func (m *memory) Known(id string) (bool, error) { return m.cases[id] != nil, m.fail("known") }
func (m *memory) Load(id string) (*Held, error) { return m.cases[id], m.fail("load") }
func (m *memory) OpenedWith(key string) (string, error) {
	for id, h := range m.cases {
		if h.Rec.Opening.Key == key {
			return id, m.fail("opened with")
		}
	}
	return "", m.fail("opened with")
}
func (m *memory) Insert(id string, o engine.Opening) (*Held, error) {
	h := &Held{Rec: engine.CaseRecord{ID: id, Opening: o}}
	m.cases[id] = h
	return h, m.fail("insert")
}
func (m *memory) Add(h *Held, e engine.Entry) error {
	if n, ok := e.Body.(engine.Note); ok && n.Text == "too much" {
		return &FieldError{"body.text", "it is too much"}
	}
	h.Rec.Entries = append(h.Rec.Entries, e)
	return m.fail("add")
}
func (m *memory) Derive(h *Held) error {
	m.derived = append(m.derived, h.Rec.ID)
	return m.fail("derive")
}

func head(cases, entries int) string {
	return fmt.Sprintf(`{"kind":"casebook","format":1,"cases":%d,"entries":%d}`, cases, entries)
}

const (
	one   = `{"kind":"case","id":"26-0001","unit":"u"}`
	two   = `{"kind":"case","id":"26-0002","unit":"u"}`
	note1 = `{"kind":"note","case":"26-0001","seq":1,"body":{"text":"x"}}`
	note2 = `{"kind":"note","case":"26-0001","seq":2,"body":{"text":"y"}}`
)

// Whatever is wrong with an export is told at its line and column, with what is
// wrong; what is right is taken.
func TestWhatAnImportSays(t *testing.T) {
	deep := func(n int) string { return strings.Repeat("[", n) + strings.Repeat("]", n) }
	for _, c := range []struct {
		name, text string
		at         string // line:column of the first, "" for none
		says       string
		cases      int
	}{
		{"sound", head(1, 2) + "\n" + one + "\n" + note1 + "\n" + note2 + "\n", "", "", 1},
		{"without the last line end", head(1, 1) + "\n" + one + "\n" + note1, "", "", 1},
		{"blank lines, a byte order mark, carriage returns", "\ufeff" + head(1, 1) + "\r\n\r\n \n" + one + "\r\n" + note1 + "\r\n", "", "", 1},
		{"nothing", "", "1:1", "the file is empty", 0},
		{"blank", "\n\n", "2:1", "the file is empty", 0},
		{"no head", one + "\n" + note1, "1:1", "this is no export", 0},
		{"head twice", head(1, 1) + "\n" + head(1, 1), "2:9", "appears twice", 0},
		{"format", `{"kind":"casebook","format":2,"more":3}`, "1:29", "format 2, this program reads 1", 0},
		{"format is no number", `{"kind":"casebook","format":"2"}`, "1:29", "must be a whole number", 0},
		{"cut short", head(1, 2) + "\n" + one + "\n" + note1, "1:39", "1 cases with 2 entries, there are 1 with 1", 1},
		{"more than said", head(0, 0) + "\n" + one, "1:39", "0 cases with 0 entries, there are 1 with 0", 1},
		{"an entry before any case", head(1, 1) + "\n" + note1, "2:23", "before any case", 0},
		{"of another case", head(2, 1) + "\n" + one + "\n" + two + "\n" + note1, "4:23", "among those of 26-0002", 0},
		{"a gap", head(1, 1) + "\n" + one + "\n" + note2, "3:39", "without gaps: 1 was expected, not 2", 0},
		{"no kind", head(1, 1) + "\n" + one + "\n" + `{"case":"26-0001","seq":1}`, "3:1", "the line has no kind", 0},
		{"unknown kind", head(1, 1) + "\n" + one + "\n" + `{"kind":"song","case":"26-0001"}`, "3:9", `no entry of kind "song"`, 0},
		{"no body", head(1, 1) + "\n" + one + "\n" + `{"kind":"note","case":"26-0001","seq":1}`, "3:1", "no body", 0},
		{"unknown field", head(1, 1) + "\n" + one + "\n" + `{"kind":"note","case":"26-0001","seq":1,"body":{"text":"x","color":"red"}}`, "3:60", `no field "color"`, 0},
		{"unknown field outside", head(1, 0) + "\n" + `{"kind":"case","id":"26-0001","unit":"u","color":"red"}`, "2:42", `no field "color"`, 0},
		{"wrong type", head(1, 1) + "\n" + one + "\n" + `{"kind":"note","case":"26-0001","seq":1,"body":{"text":5}}`, "3:56", "body.text must be a string, not number", 0},
		{"wrong type of number", head(1, 1) + "\n" + one + "\n" + `{"kind":"note","case":"26-0001","seq":"1","body":{"text":"x"}}`, "3:39", "seq must be a whole number that fits, not string", 0},
		{"no truth", head(1, 1) + "\n" + one + "\n" + `{"kind":"settled_cause","case":"26-0001","seq":1,"body":{"cause":"c","present":"yes"}}`, "3:80", "body.present must be true or false, not string", 0},
		{"empty text", head(1, 1) + "\n" + one + "\n" + `{"kind":"note","case":"26-0001","seq":1,"body":{"text":" "}}`, "3:56", "must not be empty", 0},
		{"NUL", head(1, 1) + "\n" + one + "\n" + `{"kind":"note","case":"26-0001","seq":1,"body":{"text":"a\u0000"}}`, "3:56", "NUL", 0},
		{"null", head(1, 1) + "\n" + one + "\n" + `{"kind":"note","case":"26-0001","seq":1,"by":null,"body":{"text":"a"}}`, "3:46", "null is not allowed", 0},
		{"null behind spaces", head(1, 1) + "\n" + one + "\n" + `{ "kind" :"note",	"by" : null}`, "3:26", "null is not allowed", 0},
		{"name twice", head(1, 1) + "\n" + one + "\n" + `{"kind":"note","case":"26-0001","seq":1,"seq":2}`, "3:41", `"seq" appears twice`, 0},
		{"name in capitals", head(1, 1) + "\n" + one + "\n" + `{"Kind":"note"}`, "3:2", `"Kind" is not a field`, 0},
		{"name of nothing", head(1, 1) + "\n" + one + "\n" + `{"":"note"}`, "3:2", `"" is not a field`, 0},
		{"broken off", head(1, 1) + "\n" + one + "\n" + `{"kind":"note","case"`, "3:22", "ends too soon", 0},
		{"no JSON", head(1, 1) + "\n" + one + "\n" + `{"kind":note}`, "3:10", "not JSON", 0},
		{"more behind it", head(1, 1) + "\n" + one + "\n" + note1 + " {}", "3:62", "not JSON", 0},
		{"not UTF-8", head(1, 1) + "\n" + "{\"kind\":\"é\xff\"}", "2:11", "not valid UTF-8", 0},
		{"the sign for it is text", head(1, 1) + "\n" + one + "\n" + `{"kind":"note","case":"26-0001","seq":1,"body":{"text":"a \ufffd"}}`, "", "", 1},
		{"half a character", head(1, 1) + "\n" + one + "\n" + `{"kind":"note","case":"26-0001","seq":1,"body":{"text":"a \ud800 \ufffd"}}`, "3:56", "half a character", 0},
		{"half a character in a name", head(1, 1) + "\n" + one + "\n" + `{"\ud800":1}`, "3:2", "half a character", 0},
		{"columns are characters", head(1, 1) + "\n" + `{"kind":"case","id":"26-0001","title":"e\u0301 é 熱","unit":5}`, "2:60", "unit must be a string", 0},
		{"too deep", head(1, 1) + "\n" + deep(9), "2:9", "nested too deep", 0},
		{"deep", head(1, 1) + "\n" + deep(8), "2:1", "must be an object", 0},
		{"no id", head(1, 0) + "\n" + `{"kind":"case","id":"26-1","unit":"u"}`, "2:21", `"26-1" is not a case id`, 0},
		{"no unit", head(1, 0) + "\n" + `{"kind":"case","id":"26-0001","unit":""}`, "2:38", "must not be empty", 0},
		{"a time of no time", head(1, 0) + "\n" + `{"kind":"case","id":"26-0001","unit":"u","at":"0001-01-01T00:00:00Z"}`, "2:47", "stands for no time at all", 0},
		{"no time", head(1, 0) + "\n" + `{"kind":"case","id":"26-0001","unit":"u","at":"noon"}`, "2:47", `"noon" is not a time`, 0},
		{"out of order", head(2, 0) + "\n" + two + "\n" + one, "3:21", "26-0001 comes after 26-0002", 0},
		{"twice", head(2, 0) + "\n" + one + "\n" + one, "3:21", "26-0001 comes after 26-0001", 0},
		{"takes itself back", head(1, 1) + "\n" + one + "\n" + `{"kind":"retraction","case":"26-0001","seq":1,"body":{"of":1}}`, "3:60", "cannot retract entry 1", 0},
		{"takes nothing back", head(1, 2) + "\n" + one + "\n" + note1 + "\n" + `{"kind":"retraction","case":"26-0001","seq":2,"body":{"of":0}}`, "4:60", "cannot retract entry 0", 0},
		{"takes one back", head(1, 2) + "\n" + one + "\n" + note1 + "\n" + `{"kind":"retraction","case":"26-0001","seq":2,"body":{"of":1}}`, "", "", 1},
		{"key twice", head(1, 2) + "\n" + one + "\n" + `{"kind":"note","case":"26-0001","seq":1,"key":"k","body":{"text":"x"}}` + "\n" + `{"kind":"note","case":"26-0001","seq":2,"key":"k","body":{"text":"x"}}`, "4:47", `key "k" appears twice`, 0},
		{"what the store refuses", head(1, 2) + "\n" + one + "\n" + note1 + "\n" + `{"kind":"note","case":"26-0001","seq":2,"body":{"text":"too much"}}`, "4:56", "body.text: it is too much", 1},
		{"key of another case", head(1, 0) + "\n" + `{"kind":"case","id":"26-0009","unit":"u","key":"old"}`, "2:48", "case 26-0007 was opened with the key \"old\" already", 0},
		{"here already, the same", head(1, 0) + "\n" + `{"kind":"case","id":"26-0007","unit":"u","key":"old"}`, "", "", 0},
		{"here already, another", head(1, 0) + "\n" + `{"kind":"case","id":"26-0007","unit":"v","key":"old"}`, "2:1", "26-0007 is already in the casebook, with different content", 0},
		{"here already, with more", head(1, 1) + "\n" + `{"kind":"case","id":"26-0007","unit":"u","key":"old"}` + "\n" + strings.ReplaceAll(note1, "0001", "0007"), "3:1", "they differ from this line on", 0},
		{"back of nothing", head(1, 1) + "\n" + one + "\n" + `{"kind":"come_back","case":"26-0001","seq":1,"body":{"earlier":"25-0100"}}`, "3:64", `there is no case "25-0100"`, 1},
		{"back of itself", head(1, 1) + "\n" + one + "\n" + `{"kind":"come_back","case":"26-0001","seq":1,"body":{"earlier":"26-0001"}}`, "3:64", "comeback of itself", 0},
		{"back of a later one", head(2, 1) + "\n" + one + "\n" + `{"kind":"come_back","case":"26-0001","seq":1,"body":{"earlier":"26-0002"}}` + "\n" + two, "", "", 2},
		{"too long", head(1, 1) + "\n" + one + "\n" + `{"kind":"note","case":"26-0001","seq":1,"body":{"text":"` + strings.Repeat("x", MaxLine) + `"}}` + "\n" + note1, fmt.Sprintf("3:%d", MaxLine+1), "too long", 0},
		{"as long as it may be", head(1, 0) + "\n" + one + strings.Repeat(" ", MaxLine-len(one)-1) + "\n", "", "", 1},
	} {
		m := &memory{cases: map[string]*Held{"26-0007": {Rec: engine.CaseRecord{ID: "26-0007", Opening: engine.Opening{Unit: "u", Key: "old"}}}}}
		res, err := ReadExport(t.Context(), "f.jsonl", strings.NewReader(c.text), m)
		var refused *engine.ImportError
		switch {
		case c.at == "" && err != nil:
			t.Errorf("%s: %v", c.name, err)
		case c.at != "" && !errors.As(err, &refused):
			t.Errorf("%s: %v, want one at %s", c.name, err, c.at)
		case c.at != "":
			d := refused.Diagnostics[0]
			if at := fmt.Sprintf("%d:%d", d.Subject.Line, d.Subject.Column); at != c.at || d.Subject.File != "f.jsonl" || !strings.Contains(d.Summary+": "+d.Detail, c.says) {
				t.Errorf("%s: at %s, %s: %s; want %s, %q", c.name, at, d.Summary, d.Detail, c.at, c.says)
			}
		}
		if c.at == "" && (res.Cases != c.cases || len(m.derived) != c.cases) {
			t.Errorf("%s: %d cases were taken, %d derived, want %d", c.name, res.Cases, len(m.derived), c.cases)
		}
	}
}

// All that is wrong is told, each fault once, but no more than the most; a case
// with a fault is not judged on.
func TestAnImportSaysAll(t *testing.T) {
	text := head(3, 0) + "\n" + `{"kind":"case","id":"26-1","unit":"u"}` + "\n" + note1 + "\n" + note1 + "\n" + two + "\n" + `{"kind":"song"}` + "\n" + note2 + "\n" + `{"kind":"case","id":"26-0003","unit":""}`
	_, err := ReadExport(t.Context(), "f", strings.NewReader(text), &memory{cases: map[string]*Held{}})
	var refused *engine.ImportError
	if !errors.As(err, &refused) || len(refused.Diagnostics) != 3 {
		t.Errorf("%v", err)
	}
	var many strings.Builder
	many.WriteString(head(1, 1) + "\n")
	for range 3 * MaxDiagnostics {
		many.WriteString("{}\n")
	}
	m := &memory{cases: map[string]*Held{}}
	if _, err = ReadExport(t.Context(), "f", strings.NewReader(many.String()), m); !errors.As(err, &refused) || len(refused.Diagnostics) != MaxDiagnostics {
		t.Errorf("%v", err)
	}
	if len(m.cases) != 0 {
		t.Error("something was written")
	}
}

// Faults of the disk, of the reader, and the asker who gives up are no
// diagnostics.
func TestAnImportThatFails(t *testing.T) {
	text := head(3, 1) + "\n" + one + "\n" + `{"kind":"come_back","case":"26-0001","seq":1,"body":{"earlier":"26-0007"}}` + "\n" + `{"kind":"case","id":"26-0007","unit":"u"}` + "\n" + `{"kind":"case","id":"26-0008","unit":"u","key":"new"}`
	for _, what := range []string{"", "known", "load", "opened with", "insert", "add", "derive"} {
		m := &memory{fails: what, cases: map[string]*Held{"26-0007": {Rec: engine.CaseRecord{ID: "26-0007", Opening: engine.Opening{Unit: "u"}}}}}
		res, err := ReadExport(t.Context(), "f", strings.NewReader(text), m)
		if want := what != ""; errors.Is(err, errDisk) != want {
			t.Errorf("%s fails: %v", what, err)
		}
		if what == "" && (res.Cases != 2 || res.Entries != 1 || res.Skipped != 1) {
			t.Errorf("%+v", res)
		}
	}
	ended, end := context.WithCancel(t.Context())
	end()
	if _, err := ReadExport(ended, "f", strings.NewReader(text), &memory{cases: map[string]*Held{}}); !errors.Is(err, context.Canceled) {
		t.Errorf("given up: %v", err)
	}
	if _, err := ReadExport(t.Context(), "f", &broken{text: head(1, 1) + "\n"}, &memory{cases: map[string]*Held{}}); err == nil || !errors.Is(err, errDisk) || !strings.Contains(err.Error(), "reading f") {
		t.Errorf("a reader that fails: %v", err)
	}
}

type broken struct{ text string }

func (b *broken) Read(p []byte) (int, error) {
	if b.text == "" {
		return 0, errDisk
	}
	n := copy(p, b.text)
	b.text = b.text[n:]
	return n, nil
}

// Ids, their numbers and their order.
func TestIDs(t *testing.T) {
	for id, want := range map[string]int64{"26-0001": 1, "26-0042": 42, "99-12345": 12345, "26-123456789": 123456789, "26-1234567890": -1, "26-0000": -1, "26-042": -1, "26-00042": -1, "6-0042": -1, "26-004x": -1, "": -1} {
		if n, ok := CaseNumber(id); ok != (want > 0) || ok && n != want {
			t.Errorf("%q: %d, %v", id, n, ok)
		}
	}
	got, err := InOrder([]string{"26-0010", "25-0010", "26-0009", "26-0010", "27-10000"})
	if err != nil || !slices.Equal(got, []string{"26-0009", "25-0010", "26-0010", "27-10000"}) {
		t.Errorf("%v, %v", got, err)
	}
	if _, err := InOrder([]string{"26-0001", "x"}); !errors.Is(err, engine.ErrNoCase) {
		t.Errorf("an id that is none: %v", err)
	}
	if CompareIDs("26-0001", "26-0001") != 0 || CompareIDs("26-0001", "26-0002") >= 0 || CompareIDs("26-0010", "26-0009") <= 0 || CompareIDs("25-0001", "26-0001") >= 0 {
		t.Error("the order of ids")
	}
	if id := NewID(time.Date(2026, 1, 2, 0, 0, 0, 0, time.UTC), 7); id != "26-0007" {
		t.Error(id)
	}
}

// Times come back as they were; one that RFC 3339 cannot write is told.
func TestTimesComeBack(t *testing.T) {
	odd := time.Date(1883, 11, 18, 12, 0, 0, 123456789, time.FixedZone("", -(4*3600+56*60+2)))
	for _, x := range []time.Time{{}, time.Date(2026, 3, 2, 8, 15, 0, 1, time.UTC), time.Date(2026, 3, 2, 8, 15, 0, 0, time.FixedZone("", 19800)), odd} {
		text, err := TimeText(x)
		if err != nil {
			t.Fatal(err)
		}
		if back, err := ParseTime(text); err != nil || !back.Equal(x) || x.IsZero() != (text == "") {
			t.Errorf("%v: %q, %v, %v", x, text, back, err)
		}
	}
	var f *FieldError
	if _, err := TimeText(time.Date(10001, 1, 1, 0, 0, 0, 0, time.UTC)); !errors.As(err, &f) || f.Field != "at" {
		t.Errorf("the year 10001: %v", err)
	}
	if Seconds(time.Time{}) != nil || Seconds(time.Unix(77, 5)) != int64(77) {
		t.Error("seconds")
	}
}

// What cannot be kept is refused by its field.
func TestEntriesThatCannotBeKept(t *testing.T) {
	psi := quantity.Quantity{Base: 1, Dim: quantity.Pressure, Unit: "psi", Text: "62 psi"}
	odd := psi
	odd.Base = math.Inf(1)
	none := psi
	none.Dim = "taste"
	mute := psi
	mute.Text = ""
	long := strings.Repeat("x", MaxText)
	for _, c := range []struct {
		e     engine.Entry
		field string
	}{
		{engine.Entry{Body: engine.Note{Text: long}}, ""},
		{engine.Entry{Body: engine.Note{Text: long + "x"}}, "body.text"},
		{engine.Entry{Body: engine.Note{Text: "\xff"}}, "body.text"},
		{engine.Entry{By: "a\x00", Body: engine.Note{Text: "x"}}, "by"},
		{engine.Entry{Key: long + "x", Body: engine.Note{Text: "x"}}, "key"},
		{engine.Entry{}, "body"},
		{engine.Entry{Body: engine.Report{Finding: "f", State: engine.Present}}, ""},
		{engine.Entry{Body: engine.Report{Finding: "f", State: "maybe"}}, "body.state"},
		{engine.Entry{Body: engine.Report{State: engine.Present}}, "body.finding"},
		{engine.Entry{Body: engine.Report{Finding: "f", State: engine.Present, Note: long + "x"}}, "body.note"},
		{engine.Entry{Body: engine.Reading{Name: "n", Value: psi}}, ""},
		{engine.Entry{Body: engine.Reading{Name: "n", Value: odd}}, "body.value.base"},
		{engine.Entry{Body: engine.Reading{Name: "n", Value: none}}, "body.value.dim"},
		{engine.Entry{Body: engine.Reading{Name: "n", Value: mute}}, "body.value.text"},
		{engine.Entry{Body: engine.Reading{Value: psi}}, "body.name"},
		{engine.Entry{Body: engine.Reading{Name: "n", Value: psi, Place: "\xff"}}, "body.place"},
		{engine.Entry{Body: engine.Seen{Component: "c", Mode: "m"}}, ""},
		{engine.Entry{Body: engine.Seen{Component: "c", Cleared: true}}, ""},
		{engine.Entry{Body: engine.Seen{Component: "c", Mode: "m", Cleared: true}}, "body.mode"},
		{engine.Entry{Body: engine.Seen{Component: "c"}}, "body.mode"},
		{engine.Entry{Body: engine.Seen{Mode: "m"}}, "body.component"},
		{engine.Entry{Body: engine.SettledCause{}}, "body.cause"},
		{engine.Entry{Body: engine.StepDone{Step: "s", Readings: []engine.Reading{{Name: "n", Value: psi}, {Name: "n", Value: none}}}}, "body.readings[1].value.dim"},
		{engine.Entry{Body: engine.StepDone{Step: "s", Readings: []engine.Reading{{Value: psi}, {Name: "n", Value: none}}}}, "body.readings[0].name"},
		{engine.Entry{Body: engine.StepDone{Step: "s", Readings: []engine.Reading{{Name: "n", Value: psi, By: "\xff"}}}}, "body.readings[0].by"},
		{engine.Entry{Body: engine.StepDone{}}, "body.step"},
		{engine.Entry{Body: engine.Note{}}, "body.text"},
		{engine.Entry{Body: engine.InterviewMark{Skipped: true}}, "body.question"},
		{engine.Entry{Body: engine.InterviewMark{}}, ""},
		{engine.Entry{Body: engine.InterviewMark{Question: "q", Skipped: true}}, ""},
		{engine.Entry{Body: engine.InterviewMark{Question: "\xff"}}, "body.question"},
		{engine.Entry{Body: engine.Retraction{Of: 1, Reason: "\xff"}}, "body.reason"},
		{engine.Entry{Body: engine.Reopening{Reason: "\xff"}}, "body.reason"},
		{engine.Entry{Body: engine.ComeBack{}}, "body.earlier"},
		{engine.Entry{Body: engine.Closing{Outcome: engine.CaseFixed}}, ""},
		{engine.Entry{Body: engine.Closing{Outcome: "sold"}}, "body.outcome"},
		{engine.Entry{Body: engine.Closing{Outcome: engine.CaseFixed, Earlier: "26-0001"}}, "body.earlier"},
		{engine.Entry{Body: engine.Closing{Outcome: engine.CaseComeBack}}, "body.earlier"},
		{engine.Entry{Body: engine.Closing{Outcome: engine.CaseFixed, Drive: []engine.DriveResult{{Place: "D/1"}, {Note: "x"}}}}, "body.drive[1].place"},
		{engine.Entry{Body: engine.Closing{Outcome: engine.CaseFixed, Drive: []engine.DriveResult{{Place: "D/1", Note: "\xff"}}}}, "body.drive[0].note"},
	} {
		err := CheckEntry(c.e)
		var f *FieldError
		if errors.As(err, &f); (err == nil) != (c.field == "") || f != nil && f.Field != c.field {
			t.Errorf("%+.60v: %v, want a fault of %q", c.e, err, c.field)
		}
		if list := CheckEntries("26-0001", []engine.Entry{{Body: engine.Note{Text: "x"}}, c.e}); (list == nil) != (err == nil) || list != nil && (!errors.Is(list, engine.ErrBadEntry) || !strings.Contains(list.Error(), "entry 2 of those given")) {
			t.Errorf("among others: %v", list)
		}
	}
	var f *FieldError
	if err := CheckOpening(engine.Opening{}); !errors.As(err, &f) || f.Field != "unit" {
		t.Errorf("an opening without a unit: %v", err)
	}
	if err := CheckOpening(engine.Opening{Unit: "u", Words: "\xff"}); !errors.As(err, &f) || f.Field != "words" {
		t.Errorf("words that are none: %v", err)
	}
}

// What is sent again is not written again; under a known key nothing else may come.
func TestGrow(t *testing.T) {
	clock := func() time.Time { return time.Unix(1000, 0).UTC() }
	known := func(id string) (bool, error) { return id == "26-0002", nil }
	add := func(h *Held, e engine.Entry) error { h.Rec.Entries = append(h.Rec.Entries, e); return nil }
	start := &Held{Rec: engine.CaseRecord{ID: "26-0001", Entries: []engine.Entry{{Seq: 1, Key: "k", By: "Mia", Body: engine.Note{Text: "a"}}}}}
	note := func(key, by, text string) engine.Entry {
		return engine.Entry{Key: key, By: by, Body: engine.Note{Text: text}}
	}
	after, seqs, err := Grow(t.Context(), start, []engine.Entry{note("k", "Mia", "a"), note("", "Mia", "a"), note("n", "Mia", "b"), note("n", "Mia", "b")}, clock, known, add)
	if err != nil || !slices.Equal(seqs, []int64{1, 2, 3, 3}) || len(after.Rec.Entries) != 3 || len(start.Rec.Entries) != 1 {
		t.Fatalf("%v, %v, %+v", seqs, err, after)
	}
	if e := after.Rec.Entries[2]; e.Seq != 3 || !e.At.Equal(clock()) {
		t.Errorf("%+v", e)
	}
	own := time.Unix(5, 0)
	if after, _, err = Grow(t.Context(), start, []engine.Entry{{At: own, Body: engine.Note{Text: "x"}}}, clock, known, add); err != nil || !after.Rec.Entries[1].At.Equal(own) {
		t.Errorf("its own time: %+v, %v", after, err)
	}
	for what, c := range map[string]struct {
		entries []engine.Entry
		is      error
		says    string
	}{
		"another person":  {[]engine.Entry{note("k", "Bo", "a")}, engine.ErrKeyReused, "entry 1 of those given"},
		"another text":    {[]engine.Entry{note("x", "", "a"), note("k", "Mia", "b")}, engine.ErrKeyReused, "entry 2 of those given"},
		"another kind":    {[]engine.Entry{{Key: "k", By: "Mia", Body: engine.SettledCause{Cause: "a"}}}, engine.ErrKeyReused, ""},
		"takes back more": {[]engine.Entry{{Body: engine.Retraction{Of: 2}}}, engine.ErrBadEntry, "its last is 1"},
		"takes back none": {[]engine.Entry{{Body: engine.Retraction{}}}, engine.ErrBadEntry, "no entry 0"},
		"back of itself":  {[]engine.Entry{{Body: engine.ComeBack{Earlier: "26-0001"}}}, engine.ErrBadEntry, "itself"},
		"back of nothing": {[]engine.Entry{{Body: engine.ComeBack{Earlier: "26-0003"}}}, engine.ErrBadEntry, "no case"},
	} {
		if _, _, err := Grow(t.Context(), start, c.entries, clock, known, add); !errors.Is(err, c.is) || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v", what, err)
		}
	}
	for _, e := range []engine.Entry{{Body: engine.Retraction{Of: 1}}, {Body: engine.ComeBack{Earlier: "26-0002"}}} {
		if _, _, err := Grow(t.Context(), start, []engine.Entry{e}, clock, known, add); err != nil {
			t.Errorf("%+v: %v", e, err)
		}
	}
	lost := func(string) (bool, error) { return false, errDisk }
	if _, _, err := Grow(t.Context(), start, []engine.Entry{{Body: engine.ComeBack{Earlier: "26-0002"}}}, clock, lost, add); !errors.Is(err, errDisk) || errors.Is(err, engine.ErrBadEntry) {
		t.Errorf("a disk that fails: %v", err)
	}
	full := func(*Held, engine.Entry) error { return errDisk }
	if _, _, err := Grow(t.Context(), start, []engine.Entry{note("", "", "x")}, clock, known, full); !errors.Is(err, errDisk) {
		t.Errorf("a disk that is full: %v", err)
	}
	ended, end := context.WithCancel(t.Context())
	end()
	if _, _, err := Grow(ended, start, []engine.Entry{note("", "", "x"), note("", "", "y")}, clock, known, add); !errors.Is(err, context.Canceled) {
		t.Errorf("given up: %v", err)
	}
}

// Every field of a row changes its checksum, and so does the one before it.
func TestChecksums(t *testing.T) {
	seen := map[string]string{}
	sum := func(what string, b []byte) {
		t.Helper()
		if other, ok := seen[string(b)]; ok || len(b) != 8 {
			t.Errorf("%s has the checksum of %s", what, other)
		}
		seen[string(b)] = what
	}
	e := engine.Entry{Seq: 1, By: "b", Key: "k"}
	r := Row{Kind: "note", At: "a", Body: "x"}
	sum("a row", r.Checksum(nil, e))
	sum("after another", r.Checksum([]byte("12345678"), e))
	for what, c := range map[string]struct {
		r Row
		e engine.Entry
	}{
		"kind": {Row{"report", "a", "x", nil}, e}, "time": {Row{"note", "b", "x", nil}, e}, "body": {Row{"note", "a", "y", nil}, e},
		"number": {r, engine.Entry{Seq: 2, By: "b", Key: "k"}}, "person": {r, engine.Entry{Seq: 1, By: "c", Key: "k"}}, "key": {r, engine.Entry{Seq: 1, By: "b", Key: "l"}},
		"moved border": {Row{"note", "a", "x", nil}, engine.Entry{Seq: 1, By: "", Key: "kb"}},
	} {
		sum(what, c.r.Checksum(nil, c.e))
	}
	o := engine.Opening{Unit: "u", Title: "t", Vehicle: "v", Words: "w", RulesHash: "r", By: "b", Key: "k"}
	sum("an opening", OpeningSum("26-0001", o, "a"))
	sum("its id", OpeningSum("26-0002", o, "a"))
	sum("its time", OpeningSum("26-0001", o, "b"))
	for _, change := range []func(*engine.Opening){
		func(o *engine.Opening) { o.Unit = "x" }, func(o *engine.Opening) { o.Title = "x" }, func(o *engine.Opening) { o.Vehicle = "x" }, func(o *engine.Opening) { o.Words = "x" },
		func(o *engine.Opening) { o.RulesHash = "x" }, func(o *engine.Opening) { o.By = "x" }, func(o *engine.Opening) { o.Key = "x" },
	} {
		p := o
		change(&p)
		sum(fmt.Sprintf("%+v", p), OpeningSum("26-0001", p, "a"))
	}
	if _, err := RowOf(&Held{}, engine.Entry{Seq: 1, Body: engine.StepDone{Step: "s", Note: strings.Repeat("\x01", MaxBody)}}); err == nil {
		t.Error("a body over the most is taken")
	}
	if _, err := RowOf(&Held{}, engine.Entry{Seq: 1, At: time.Date(10001, 1, 1, 0, 0, 0, 0, time.UTC), Body: engine.Note{Text: "x"}}); err == nil {
		t.Error("a time that cannot be written is taken")
	}
	row, err := RowOf(&Held{LastSum: []byte("before")}, engine.Entry{Seq: 3, By: "b", At: time.Unix(9, 0).UTC(), Body: engine.Note{Text: "<x>"}})
	if err != nil || row.Kind != "note" || row.Body != `{"text":"<x>"}` || row.At != "1970-01-01T00:00:09Z" || !bytes.Equal(row.Sum, row.Checksum([]byte("before"), engine.Entry{Seq: 3, By: "b"})) {
		t.Errorf("%+v, %v", row, err)
	}
}

// What lists know of a case: what is there and in force, each once, sorted.
func TestDerived(t *testing.T) {
	report := func(name string, s engine.State, by string) engine.Body {
		return engine.Report{Finding: name, State: s, By: by, Note: "note of " + name}
	}
	h := &Held{Number: 1, LastSum: []byte("sum"), Rec: engine.CaseRecord{ID: "26-0001", Opening: engine.Opening{Unit: "u", Title: "title", Vehicle: "van", Words: "words"}}}
	for i, b := range []engine.Body{
		report("z", engine.Present, "driver"), report("a", engine.Present, "driver"), report("a", engine.Present, "gauge"), report("n", engine.Absent, "driver"),
		engine.Seen{Component: "pump", Mode: "worn", Note: "noted"}, engine.Seen{Component: "band", Mode: "burnt"}, engine.Seen{Component: "drum", Cleared: true},
		engine.StepDone{Step: "s", Note: "at the step"}, engine.Note{Text: "hums"}, engine.Closing{Outcome: engine.CaseFixed, Note: "closed"},
	} {
		h.Rec.Entries = append(h.Rec.Entries, engine.Entry{Seq: int64(i + 1), At: time.Unix(int64(i), 0).UTC(), Body: b})
	}
	d, err := DerivedOf(h)
	if err != nil {
		t.Fatal(err)
	}
	if d.Status != engine.CaseFixed || d.LastSeq != 10 || d.LastAt != "1970-01-01T00:00:09Z" || d.Culprits != `["pump/worn","band/burnt"]` {
		t.Errorf("%+v", d)
	}
	if got := fmt.Sprint(d.Present, d.Failed); got != "[a z] [[band burnt] [pump worn]]" {
		t.Errorf("%s", got)
	}
	for _, text := range []string{"26-0001", "title", "van", "words", "hums", "note of z", "noted", "at the step", "closed"} {
		if !slices.Contains(strings.Split(d.Text, "\n"), text) {
			t.Errorf("%q is not searched: %q", text, d.Text)
		}
	}
	empty, err := DerivedOf(&Held{Rec: engine.CaseRecord{ID: "26-0002"}})
	if err != nil || empty.Culprits != "[]" || empty.LastAt != "" || empty.Status != engine.CaseOpen {
		t.Errorf("%+v, %v", empty, err)
	}
	sums := map[string]bool{string(d.Sum(h)): true}
	for _, change := range []func(*Derived){func(d *Derived) { d.Status = engine.CaseOpen }, func(d *Derived) { d.Earlier = "x" }, func(d *Derived) { d.LastSeq++ }, func(d *Derived) { d.LastAt = "" }, func(d *Derived) { d.Culprits = "[]" }, func(d *Derived) { d.LastSum = nil }} {
		x := *d
		change(&x)
		if s := string(x.Sum(h)); sums[s] {
			t.Errorf("a change without another checksum: %+v", x)
		} else {
			sums[s] = true
		}
	}
}

// What was saved is written in order; a case ends before what refers to a lost one.
func TestWhatIsSaved(t *testing.T) {
	back := engine.Entry{Seq: 2, Body: engine.ComeBack{Earlier: "26-0009"}}
	saved := []engine.CaseRecord{
		{ID: "26-0003", Opening: engine.Opening{Unit: "u"}, Entries: []engine.Entry{{Seq: 1, Body: engine.Note{Text: "a"}}, back, {Seq: 3, Body: engine.Note{Text: "b"}}}},
		{ID: "26-0001", Opening: engine.Opening{Unit: "u"}, Entries: []engine.Entry{{Seq: 1, Body: engine.ComeBack{Earlier: "26-0003"}}}},
	}
	got, lost := WithEarlier(saved, nil)
	if len(got[0].Entries) != 1 || len(got[1].Entries) != 1 || len(lost) != 1 || lost[0].ID != "26-0003" || lost[0].After != 1 || !strings.Contains(lost[0].Why, "26-0009") {
		t.Errorf("%+v, %+v", got, lost)
	}
	var b bytes.Buffer
	cases, entries, err := WriteCases(&b, got)
	lines := strings.Split(strings.TrimSpace(b.String()), "\n")
	if err != nil || cases != 2 || entries != 2 || len(lines) != 5 || lines[0] != head(2, 2) || !strings.Contains(lines[1], "26-0001") || !strings.Contains(lines[3], "26-0003") {
		t.Errorf("%d, %d, %v, %q", cases, entries, err, lines)
	}
	m := &memory{cases: map[string]*Held{}}
	if res, err := ReadExport(t.Context(), "f", &b, m); err != nil || res.Cases != 2 {
		t.Errorf("read back: %+v, %v", res, err)
	}
	out := bufio.NewWriter(&b)
	if err := WriteCase(out, engine.CaseRecord{ID: "26-0001", Opening: engine.Opening{At: time.Date(10001, 1, 1, 0, 0, 0, 0, time.UTC)}}); err == nil {
		t.Error("a time that cannot be written is written")
	}
	if err := WriteCase(out, engine.CaseRecord{ID: "26-0001", Entries: []engine.Entry{{Seq: 1, At: time.Date(10001, 1, 1, 0, 0, 0, 0, time.UTC), Body: engine.Note{Text: "x"}}}}); err == nil {
		t.Error("a time that cannot be written is written in an entry")
	}
}
