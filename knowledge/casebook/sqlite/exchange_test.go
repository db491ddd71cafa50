package sqlite

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"slipcase/engine"
	"slipcase/internal/size"
	"slipcase/knowledge/casebook/contract"
	"slipcase/knowledge/casebook/internal/records"
)

var update = flag.Bool("update", false, "write golden files anew")

const folder = "../../../testdata/casebook"

func importText(b *Book, text string) (engine.ImportResult, error) {
	return b.Import(bg, "cases.jsonl", strings.NewReader(text))
}

// shop fills a casebook with invented cases of every kind of entry.
func shop(t testing.TB, b *Book) {
	one := openCase(t, b, engine.Opening{Title: "slips in third", Vehicle: "delivery van 7", Words: "it just revs", RulesHash: "0011aabb", By: "front desk", Key: "desk-1"})
	for i, body := range everyBody() {
		if _, err := b.Append(bg, one, engine.Entry{By: "bench 1", Key: fmt.Sprint("e-", i), Body: body}); err != nil {
			t.Fatal(err)
		}
	}
	openCase(t, b, engine.Opening{Unit: "southbay-6", At: time.Date(2026, 3, 3, 23, 59, 59, 999999999, time.UTC)})
	three := openCase(t, b, engine.Opening{Title: "slips again"})
	add(t, b, three, engine.Closing{Outcome: engine.CaseComeBack, Earlier: one})
}

func TestRoundTrip(t *testing.T) {
	b := newBook(t)
	shop(t, b)
	text := export(t, b)
	golden := filepath.Join(folder, "shop.jsonl")
	if *update {
		if os.Getenv("CI") != "" {
			t.Fatal("golden files are not written in CI")
		}
		if err := os.WriteFile(golden, text, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	// The form of a file that lies in a shop must not change unnoticed.
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(text, want) {
		t.Errorf("the export differs from %s:\n%s", golden, text)
	}
	c := newBook(t)
	res, err := c.Import(bg, "cases.jsonl", bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	if res != (engine.ImportResult{Cases: 3, Entries: 13}) {
		t.Errorf("result %+v", res)
	}
	if again := export(t, c); !bytes.Equal(again, text) {
		t.Errorf("exported again:\n%s", again)
	}
	if err := c.Check(bg); err != nil {
		t.Error(err)
	}
	// Twice is harmless, also with CRLF, a BOM and blank lines.
	odd := "\ufeff" + strings.ReplaceAll(string(text), "\n", "\r\n") + "\r\n\n"
	if res, err := importText(c, odd); err != nil || res != (engine.ImportResult{Skipped: 3}) {
		t.Errorf("second time %+v, %v", res, err)
	}
	// Numbers go on after the highest imported.
	if id := openCase(t, c, engine.Opening{}); id != "26-0004" {
		t.Errorf("next id %s", id)
	}
	// An empty casebook too.
	if res, err := newBook(t).Import(bg, "", bytes.NewReader(export(t, newBook(t)))); err != nil || res != (engine.ImportResult{}) {
		t.Errorf("empty: %+v, %v", res, err)
	}
}

func TestExportOfSome(t *testing.T) {
	b := newBook(t)
	shop(t, b)
	text := export(t, b, "26-0003", "26-0001", "26-0003")
	if got := strings.Count(string(text), `{"kind":"case"`); got != 2 || !strings.HasPrefix(string(text), `{"kind":"casebook","format":1,"cases":2,"entries":13}`) {
		t.Errorf("%d cases in\n%s", got, text)
	}
	if res, err := newBook(t).Import(bg, "", bytes.NewReader(text)); err != nil || res.Cases != 2 {
		t.Errorf("%+v, %v", res, err)
	}
	// A comeback without its earlier case.
	_, err := newBook(t).Import(bg, "some", bytes.NewReader(export(t, b, "26-0003")))
	if err == nil || !strings.Contains(err.Error(), `some:3:`) || !strings.Contains(err.Error(), `no case "26-0001"`) {
		t.Errorf("error %v", err)
	}
	for _, id := range []string{"26-0009", "nonsense"} {
		if err := b.Export(bg, new(bytes.Buffer), id); !errors.Is(err, engine.ErrNoCase) {
			t.Errorf("%s: %v", id, err)
		}
	}
}

// Any text and time that a client may send survives.
func TestRoundTripOfAnything(t *testing.T) {
	dir := t.TempDir()
	n := 0
	rapid.Check(t, func(rt *rapid.T) {
		n++
		if n > size.Of(6, 15, 15) { // each takes two files that are synced to the disk
			return
		}
		b := openBook(t, filepath.Join(dir, fmt.Sprint(n, "a.db")), Options{})
		c := openBook(t, filepath.Join(dir, fmt.Sprint(n, "b.db")), Options{})
		text := rapid.StringOf(rapid.Rune().Filter(func(r rune) bool { return r != 0 }))
		at := rapid.Custom(func(t *rapid.T) time.Time {
			return time.Unix(rapid.Int64Range(-6e10, 2e11).Draw(t, "s"), rapid.Int64Range(0, 999999999).Draw(t, "ns")).
				In(time.FixedZone("", rapid.IntRange(-50000, 50000).Draw(t, "offset")))
		})
		for i := range rapid.IntRange(1, 2).Draw(rt, "cases") {
			id, err := b.OpenCase(bg, engine.Opening{Unit: "u", Title: text.Draw(rt, "title"), Words: text.Draw(rt, "words"), At: at.Draw(rt, "at")})
			if err != nil {
				rt.Fatal(err)
			}
			for range rapid.IntRange(0, 3).Draw(rt, "entries") {
				q := contract.Kilopascal(rapid.Float64().Draw(rt, "value"), "x", text.Draw(rt, "unit"))
				_, err := b.Append(bg, id, engine.Entry{By: text.Draw(rt, "by"), At: at.Draw(rt, "entered"),
					Body: engine.Reading{Name: "n" + text.Draw(rt, "name"), Value: q, At: at.Draw(rt, "taken")}})
				if err != nil {
					rt.Fatal(i, err)
				}
			}
		}
		text1 := export(t, b)
		if _, err := c.Import(bg, "", bytes.NewReader(text1)); err != nil {
			rt.Fatalf("%v\n%s", err, text1)
		}
		if text2 := export(t, c); !bytes.Equal(text1, text2) {
			rt.Fatalf("first\n%s\nsecond\n%s", text1, text2)
		}
		b.Close()
		c.Close()
	})
}

const (
	head1 = `{"kind":"casebook","format":1,"cases":1,"entries":1}` + "\n"
	case1 = `{"kind":"case","id":"26-0001","unit":"u"}` + "\n"
	note1 = `{"kind":"note","case":"26-0001","seq":1,"body":{"text":"x"}}` + "\n"
)

func TestImportRefuses(t *testing.T) {
	b := newBook(t) // each leaves it empty
	for _, tc := range []struct{ name, text, at, want string }{
		{"empty", "", "1:1", "empty"},
		{"no export", "hello\n", "1:1", "not JSON"},
		{"JSON of another kind", `{"a":1}` + "\n", "1:1", "no export"},
		{"no head", case1 + note1, "1:1", "no export"},
		{"a list", "[1]\n", "1:1", "must be an object"},
		{"broken off", head1 + case1 + note1[:40], "3:41", "ends too soon"},
		{"cut at a line", head1 + case1, "1:39", "1 cases with 1 entries, there are 1 with 0"},
		{"newer format", `{"kind":"casebook","format":2,"cases":0,"entries":0,"new":1}`, "1:29", "format 2"},
		{"two heads", head1 + head1, "2:9", "twice"},
		{"two values", head1 + case1 + strings.TrimSpace(note1) + "{}\n", "3:61", "not JSON"},
		{"comma", head1 + case1 + `{"kind":"note",}` + "\n", "3:16", "not JSON"},
		{"unknown kind", head1 + case1 + strings.Replace(note1, `"note"`, `"song"`, 1), "3:9", `"song"`},
		{"no kind", head1 + case1 + `{"seq":1}`, "3:1", "no kind"},
		{"unknown field", head1 + case1 + strings.Replace(note1, `"text":"x"`, `"text":"x","loud":true`, 1), "3:60", `"loud"`},
		{"unknown field of an opening", head1 + strings.Replace(case1, `"unit"`, `"colour":"red","unit"`, 1) + note1, "2:31", `"colour"`},
		{"capital letter", head1 + case1 + strings.Replace(note1, `"seq"`, `"Seq"`, 1), "3:33", "lowercase"},
		{"field twice", head1 + case1 + strings.Replace(note1, `"seq":1`, `"seq":1,"seq":1`, 1), "3:41", "twice"},
		{"null", head1 + case1 + strings.Replace(note1, `"x"`, `null`, 1), "3:56", "null"},
		{"wrong type", head1 + case1 + strings.Replace(note1, `"seq":1`, `"seq":"1"`, 1), "3:39", "whole number"},
		{"wrong type in the body", head1 + case1 + strings.Replace(note1, `"x"`, `[1]`, 1), "3:56", "a string"},
		{"fraction", head1 + case1 + strings.Replace(note1, `"seq":1`, `"seq":1.5`, 1), "3:39", "whole number"},
		{"gap", head1 + case1 + strings.Replace(note1, `"seq":1`, `"seq":2`, 1), "3:39", "1 was expected"},
		{"other case", head1 + case1 + strings.Replace(note1, `26-0001`, `26-0002`, 1), "3:23", "among those of"},
		{"no case", head1 + note1, "2:23", "before any case"},
		{"bad id", head1 + strings.Replace(case1, `26-0001`, `26-1`, 1), "2:21", "not a case id"},
		{"zeros in the id", head1 + strings.Replace(case1, `26-0001`, `26-00001`, 1), "2:21", "not a case id"},
		{"case twice", head1 + case1 + note1 + case1, "4:21", "comes after"},
		{"no unit", head1 + `{"kind":"case","id":"26-0001"}` + "\n", "2:1", "unit"},
		{"bad time", head1 + case1 + strings.Replace(note1, `"seq":1`, `"seq":1,"at":"yesterday"`, 1), "3:46", "not a time"},
		{"time of nothing", head1 + case1 + strings.Replace(note1, `"seq":1`, `"seq":1,"at":"0001-01-01T00:00:00Z"`, 1), "3:46", "no time at all"},
		{"bad time in the body", head1 + case1 + `{"kind":"report","case":"26-0001","seq":1,"body":{"finding":"f","state":"present","at":"noon"}}`, "3:88", "not a time"},
		{"empty note", head1 + case1 + strings.Replace(note1, `"x"`, `""`, 1), "3:56", "empty"},
		{"no body", head1 + case1 + `{"kind":"note","case":"26-0001","seq":1}`, "3:1", "no body"},
		{"retraction of a later entry", head1 + case1 + `{"kind":"retraction","case":"26-0001","seq":1,"body":{"of":1}}`, "3:60", "not an earlier"},
		{"unknown earlier case", head1 + case1 + `{"kind":"close","case":"26-0001","seq":1,"body":{"outcome":"come_back","earlier":"25-0001"}}`, "3:82", "no case"},
		{"key twice", `{"kind":"casebook","format":1,"cases":1,"entries":2}` + "\n" + case1 +
			`{"kind":"note","case":"26-0001","seq":1,"key":"k","body":{"text":"x"}}` + "\n" + `{"kind":"note","case":"26-0001","seq":2,"key":"k","body":{"text":"x"}}`, "4:47", "twice"},
		{"drive", head1 + case1 + `{"kind":"close","case":"26-0001","seq":1,"body":{"outcome":"fixed","drive":[{"place":"D/1","ok":true},{"place":"","ok":true}]}}`, "3:112", "empty"},
		{"not UTF-8", head1 + case1 + strings.Replace(note1, `"x"`, "\"a\xff\"", 1), "3:58", "UTF-8"},
		{"half a character", head1 + case1 + strings.Replace(note1, `"x"`, `"\ud83d"`, 1), "3:56", "half a character"},
		{"NUL", head1 + case1 + strings.Replace(note1, `"x"`, `"\u0000"`, 1), "3:56", "NUL"},
		{"columns count characters", head1 + case1 + strings.Replace(note1, `"x"`, `"e\u0301 ë 👩‍🔧","x":1`, 1), "3:70", `"x"`},
		{"nested deep", head1 + case1 + strings.Replace(note1, `"x"`, strings.Repeat("[", 5000)+strings.Repeat("]", 5000), 1), "3:62", "too deep"},
		{"line too long", head1 + case1 + strings.Replace(note1, `"x"`, `"`+strings.Repeat("x", records.MaxLine)+`"`, 1), fmt.Sprint("3:", records.MaxLine+1), "too long"},
		{"huge number", head1 + case1 + strings.Replace(note1, `"seq":1`, `"seq":1e999`, 1), "3:39", "whole number"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			_, err := importText(b, tc.text)
			var refused *engine.ImportError
			if !errors.As(err, &refused) {
				t.Fatalf("error %v", err)
			}
			d := refused.Diagnostics[0]
			if got := d.Subject.String(); got != "cases.jsonl:"+tc.at || !strings.Contains(d.Error(), tc.want) {
				t.Errorf("got  %s: %v\nwant %s with %q", got, d, tc.at, tc.want)
			}
			if l, err := b.List(bg, engine.CaseFilter{}, engine.CasePage{}); err != nil || l.Total != 0 {
				t.Errorf("%d cases afterwards, %v", l.Total, err)
			}
		})
	}
}

func TestImportOfWhatIsHere(t *testing.T) {
	b := newBook(t)
	if _, err := importText(b, head1+case1+note1); err != nil {
		t.Fatal(err)
	}
	before := export(t, b)
	other := strings.ReplaceAll(strings.ReplaceAll(case1+note1, "26-0001", "26-0002"), `"x"`, `"y"`)
	two := strings.Replace(strings.Replace(head1, `"cases":1`, `"cases":2`, 1), `"entries":1`, `"entries":2`, 1)
	for _, tc := range []struct{ name, text, at, want string }{
		{"another entry", two + case1 + strings.Replace(note1, `"x"`, `"z"`, 1) + other, "3:1", "different content"},
		{"another opening", two + strings.Replace(case1, `"u"`, `"v"`, 1) + note1 + other, "2:1", "different content"},
		{"more entries", strings.Replace(two, `"cases":2`, `"cases":1`, 1) + case1 + note1 + strings.Replace(note1, `"seq":1`, `"seq":2`, 1), "4:1", "different content"},
		{"fewer entries", strings.Replace(head1, `"entries":1`, `"entries":0`, 1) + case1, "2:21", "more entries"},
	} {
		_, err := importText(b, tc.text)
		if err == nil || !strings.Contains(err.Error(), "cases.jsonl:"+tc.at+":") || !strings.Contains(err.Error(), tc.want) {
			t.Errorf("%s: error %v, want one at %s", tc.name, err, tc.at)
		}
		if after := export(t, b); !bytes.Equal(before, after) {
			t.Errorf("%s: the refused import left\n%s", tc.name, after)
		}
	}
	if res, err := importText(b, two+case1+note1+other); err != nil || res != (engine.ImportResult{Cases: 1, Entries: 1, Skipped: 1}) {
		t.Errorf("result %+v, %v", res, err)
	}
	// The same key under another id is the same case twice.
	keyed := strings.Replace(case1, `"u"`, `"u","key":"k"`, 1)
	empty := strings.Replace(head1, `"entries":1`, `"entries":0`, 1)
	if _, err := importText(b, empty+strings.Replace(keyed, "0001", "0003", 1)); err != nil {
		t.Fatal(err)
	}
	if _, err := importText(b, empty+strings.Replace(keyed, "0001", "0004", 1)); err == nil || !strings.Contains(err.Error(), "cases.jsonl:2:48: the key was used before") {
		t.Errorf("error %v", err)
	}
}

// All that is wrong is said in one run, up to a bound.
func TestImportSaysAll(t *testing.T) {
	b := newBook(t)
	file := head1 + strings.Replace(case1, `"u"`, `""`, 1) + note1 + strings.ReplaceAll(case1, "0001", "0002") +
		strings.Replace(strings.ReplaceAll(note1, "0001", "0002"), `"x"`, `7`, 1) + "junk\n"
	_, err := importText(b, file)
	var refused *engine.ImportError
	if !errors.As(err, &refused) {
		t.Fatal(err)
	}
	var at []string
	for _, d := range refused.Diagnostics {
		at = append(at, strings.TrimPrefix(d.Subject.String(), "cases.jsonl:"))
	}
	if got := strings.Join(at, " "); got != "2:38 5:56 6:1" {
		t.Errorf("places %s: %v", got, refused.Diagnostics)
	}
	_, err = importText(b, head1+strings.Repeat("junk\n", 5000))
	if !errors.As(err, &refused) || len(refused.Diagnostics) != records.MaxDiagnostics {
		t.Errorf("%d diagnostics, want %d", len(refused.Diagnostics), records.MaxDiagnostics)
	}
}

// FuzzImport: whatever comes in, it is imported whole and comes out again, or
// refused with a place, and nothing of it stays. Run it with -fuzzminimizetime
// 1x: the paths through SQLite vary, so making inputs small never ends.
func FuzzImport(f *testing.F) {
	f.Add([]byte(head1 + case1 + note1))
	f.Add([]byte(head1 + case1 + strings.Repeat("[", 60000)))
	f.Add([]byte(`{"kind":"casebook","format":1,"cases":0,"entries":0}`))
	if text, err := os.ReadFile(filepath.Join(folder, "shop.jsonl")); err == nil {
		f.Add(text)
	}
	dir := f.TempDir()
	n := 0
	f.Fuzz(func(t *testing.T, text []byte) {
		n++
		path := filepath.Join(dir, fmt.Sprint(n, ".db"))
		b := openBook(t, path, Options{})
		defer os.Remove(path)
		defer b.Close()
		res, err := b.Import(bg, "fuzz", bytes.NewReader(text))
		if err != nil {
			var refused *engine.ImportError
			if !errors.As(err, &refused) || refused.Diagnostics[0].Subject.Line < 1 || refused.Diagnostics[0].Subject.Column < 1 {
				t.Fatalf("refused without a place: %v", err)
			}
			if l, err := b.List(bg, engine.CaseFilter{}, engine.CasePage{}); err != nil || l.Total != 0 {
				t.Fatalf("%d cases after a refusal, %v", l.Total, err)
			}
			return
		}
		if err := b.Check(bg); err != nil {
			t.Fatal(err)
		}
		text1 := export(t, b)
		again := openBook(t, path+"2", Options{})
		defer os.Remove(path + "2")
		defer again.Close()
		if res2, err := again.Import(bg, "again", bytes.NewReader(text1)); err != nil || res2 != res {
			t.Fatalf("%+v then %+v, %v", res, res2, err)
		}
		if text2 := export(t, again); !bytes.Equal(text1, text2) {
			t.Fatalf("first\n%s\nsecond\n%s", text1, text2)
		}
	})
}
