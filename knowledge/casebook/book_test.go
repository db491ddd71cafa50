package casebook

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"slipcase/engine"
	"slipcase/engine/fold"
	"slipcase/engine/quantity"
)

var bg = context.Background()

// steady is a clock that always shows the same invented moment.
func steady() time.Time { return time.Date(2026, 3, 2, 8, 15, 0, 0, time.FixedZone("", 3600)) }

func openBook(t testing.TB, path string, opt Options) *Book {
	t.Helper()
	if opt.Clock == nil {
		opt.Clock = steady
	}
	b, err := Open(bg, path, opt)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { b.Close() })
	return b
}

func newBook(t testing.TB) *Book {
	return openBook(t, filepath.Join(t.TempDir(), "cases.db"), Options{})
}

func openCase(t testing.TB, b *Book, o engine.Opening) string {
	t.Helper()
	if o.Unit == "" {
		o.Unit = "northfork-4"
	}
	id, err := b.OpenCase(bg, o)
	if err != nil {
		t.Fatal(err)
	}
	return id
}

func add(t testing.TB, b *Book, id string, bodies ...engine.Body) []int64 {
	t.Helper()
	var entries []engine.Entry
	for _, body := range bodies {
		entries = append(entries, engine.Entry{By: "bench 1", Body: body})
	}
	seqs, err := b.Append(bg, id, entries...)
	if err != nil {
		t.Fatal(err)
	}
	return seqs
}

func get(t testing.TB, b *Book, id string) engine.CaseRecord {
	t.Helper()
	rec, err := b.Get(bg, id)
	if err != nil {
		t.Fatal(err)
	}
	return rec
}

func kpa(base float64, text, unit string) quantity.Quantity {
	return quantity.Quantity{Base: base, Dim: quantity.Pressure, Unit: unit, Text: text}
}

// everyBody is one invented entry of every kind, with every field set.
func everyBody() []engine.Body {
	at := steady().Add(time.Hour + 123456789)
	return []engine.Body{
		engine.Report{Finding: "slips@D/3:hot", State: engine.Present, By: "driver", Note: "only <after> the \"hill\" & \u2028 é", At: at},
		engine.Reading{Name: "line_pressure", Place: "idle/R", Value: kpa(427.47495, "62 psi", "psi"), By: "gauge", At: at},
		engine.Seen{Component: "direct_frictions", Mode: "burnt_friction", Cause: "low_fluid", Note: "black", Photo: "pictures/0042 a.jpg"},
		engine.Seen{Component: "pump", Cleared: true},
		engine.SettledCause{Cause: "low_fluid", Present: true},
		engine.StepDone{Step: "oil_pump", Note: "came out stiff", Readings: []engine.Reading{
			{Name: "input_end_play", Value: quantity.Quantity{Base: 0.1 + 0.2, Dim: quantity.Length, Unit: "mm", Text: "0.3 mm"}}, {Name: "pump_clearance", Value: quantity.Quantity{Base: 1e-7, Dim: quantity.Length, Unit: "mm", Text: "0.0000001 mm"}}}},
		engine.Note{Text: "waits for parts\nsince Monday"},
		engine.InterviewMark{Question: "ask_engagement", Skipped: true},
		engine.InterviewMark{Question: "ask_noise"},
		engine.Retraction{Of: 4, Reason: "looked again"},
		engine.Closing{Outcome: engine.CaseFixed, Drive: []engine.DriveResult{{Place: "D/3", OK: true}, {Place: "D/2-3", Note: "a little firm"}}, Note: "done"},
		engine.Reopening{Reason: "customer called"},
	}
}

func TestEveryKindComesBack(t *testing.T) {
	b := newBook(t)
	o := engine.Opening{Unit: "northfork-4", Title: "slips in third", Vehicle: "delivery van 7", Words: "it revs up", RulesHash: "ab12", By: "front desk", At: steady(), Key: "k1"}
	id, err := b.OpenCase(bg, o)
	if err != nil {
		t.Fatal(err)
	}
	if id != "26-0001" {
		t.Errorf("id %s, want 26-0001", id)
	}
	kinds := map[engine.EntryKind]bool{}
	var want []engine.Entry
	for i, body := range everyBody() {
		kinds[body.EntryKind()] = true
		want = append(want, engine.Entry{Seq: int64(i + 1), By: "bench 1", At: steady(), Key: fmt.Sprint("e", i), Body: body})
	}
	for _, k := range engine.EntryKinds {
		if !kinds[k] {
			t.Errorf("no entry of kind %s is tried", k)
		}
	}
	seqs, err := b.Append(bg, id, want...)
	if err != nil {
		t.Fatal(err)
	}
	if len(seqs) != len(want) || seqs[len(seqs)-1] != int64(len(want)) {
		t.Errorf("numbers %v", seqs)
	}
	same := cmp.Comparer(func(a, b time.Time) bool { return a.Equal(b) })
	rec := get(t, b, id)
	if d := cmp.Diff(engine.CaseRecord{ID: id, Opening: o, Entries: want}, rec, same); d != "" {
		t.Error(d)
	}
	if last, err := b.Last(bg, id); err != nil || last != int64(len(want)) {
		t.Errorf("last %d, %v", last, err)
	}
	// The same after closing and opening again.
	if err := b.Close(); err != nil {
		t.Fatal(err)
	}
	b = openBook(t, b.Path(), Options{Check: true})
	if b.Recovered() {
		t.Error("a clean exit was taken for an unclean one")
	}
	if d := cmp.Diff(rec, get(t, b, id)); d != "" {
		t.Error(d)
	}
}

func TestRefusedEntries(t *testing.T) {
	b := newBook(t)
	id := openCase(t, b, engine.Opening{})
	add(t, b, id, engine.Note{Text: "first"})
	for _, tc := range []struct {
		name string
		body engine.Body
		want string
	}{
		{"no body", nil, "says nothing"},
		{"no finding", engine.Report{State: engine.Present}, "body.finding"},
		{"no state", engine.Report{Finding: "whine"}, "body.state"},
		{"no quantity", engine.Reading{Name: "line_pressure"}, "body.value.text"},
		{"dimension", engine.Reading{Name: "line_pressure", Value: quantity.Quantity{Text: "3 apples", Dim: "apples"}}, "body.value.dim"},
		{"failed without mode", engine.Seen{Component: "pump"}, "body.mode"},
		{"cleared with mode", engine.Seen{Component: "pump", Mode: "worn", Cleared: true}, "body.mode"},
		{"reading of a step", engine.StepDone{Step: "pan", Readings: []engine.Reading{{}}}, "body.readings[0].name"},
		{"empty note", engine.Note{Text: " "}, "body.text"},
		{"not UTF-8", engine.Note{Text: "a\xffb"}, "UTF-8"},
		{"NUL", engine.Note{Text: "a\x00b"}, "NUL"},
		{"endless", engine.Note{Text: strings.Repeat("a", maxText+1)}, "the most is"},
		{"retraction of nothing", engine.Retraction{Of: 9}, "no entry 9"},
		{"retraction of the opening", engine.Retraction{}, "no entry 0"},
		{"outcome", engine.Closing{Outcome: engine.CaseOpen}, "body.outcome"},
		{"come-back of nothing", engine.Closing{Outcome: engine.CaseComeBack}, "body.earlier"},
		{"fixed with an earlier case", engine.Closing{Outcome: engine.CaseFixed, Earlier: "25-0001"}, "body.earlier"},
		{"come-back of itself", engine.Closing{Outcome: engine.CaseComeBack, Earlier: id}, "of itself"},
		{"come-back of an unknown case", engine.Closing{Outcome: engine.CaseComeBack, Earlier: "25-0777"}, "no case"},
		{"drive without place", engine.Closing{Outcome: engine.CaseFixed, Drive: []engine.DriveResult{{OK: true}}}, "body.drive[0].place"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			_, err := b.Append(bg, id, engine.Entry{Body: engine.Note{Text: "goes with it"}}, engine.Entry{Body: tc.body})
			if !errors.Is(err, engine.ErrBadEntry) || !strings.Contains(err.Error(), tc.want) {
				t.Errorf("error %v, want one with %q", err, tc.want)
			}
		})
	}
	if rec := get(t, b, id); len(rec.Entries) != 1 {
		t.Errorf("refused entries left %d entries, want 1", len(rec.Entries))
	}
	if _, err := b.Append(bg, "26-0099", engine.Entry{Body: engine.Note{Text: "x"}}); !errors.Is(err, engine.ErrNoCase) {
		t.Errorf("error %v, want no such case", err)
	}
	if _, err := b.OpenCase(bg, engine.Opening{}); !errors.Is(err, engine.ErrBadEntry) {
		t.Errorf("error %v, want a refusal without unit", err)
	}
}

func TestKeysMakeRetriesHarmless(t *testing.T) {
	b := newBook(t)
	o := engine.Opening{Unit: "northfork-4", Title: "a", Key: "tablet-1"}
	first := openCase(t, b, o)
	o.At = steady().Add(time.Minute) // a retry has another time
	if again := openCase(t, b, o); again != first {
		t.Errorf("opened %s and %s with one key", first, again)
	}
	o.Title = "b"
	if _, err := b.OpenCase(bg, o); !errors.Is(err, engine.ErrKeyReused) {
		t.Errorf("error %v, want key reused", err)
	}
	e := engine.Entry{Key: "n1", Body: engine.Note{Text: "once"}}
	for range 3 {
		e.At = e.At.Add(time.Minute)
		if seqs, err := b.Append(bg, first, e); err != nil || !slices.Equal(seqs, []int64{1}) {
			t.Errorf("numbers %v, %v", seqs, err)
		}
	}
	// Twice in one call, and beside a new one.
	seqs, err := b.Append(bg, first, e, engine.Entry{Key: "n2", Body: engine.Note{Text: "new"}}, e)
	if err != nil || !slices.Equal(seqs, []int64{1, 2, 1}) {
		t.Errorf("numbers %v, %v", seqs, err)
	}
	e.Body = engine.Note{Text: "twice"}
	if _, err := b.Append(bg, first, e); !errors.Is(err, engine.ErrKeyReused) {
		t.Errorf("error %v, want key reused", err)
	}
	// Another case may use the same key.
	if seqs, err := b.Append(bg, openCase(t, b, engine.Opening{}), e); err != nil || seqs[0] != 1 {
		t.Errorf("numbers %v, %v", seqs, err)
	}
}

// Numbers go by sequence: a clock set back changes the year in the id only.
func TestClockSetBack(t *testing.T) {
	now := time.Date(2026, 11, 3, 9, 0, 0, 0, time.UTC)
	b := openBook(t, filepath.Join(t.TempDir(), "cases.db"), Options{Clock: func() time.Time { return now }})
	ids := []string{openCase(t, b, engine.Opening{Title: "a"})}
	add(t, b, ids[0], engine.Note{Text: "one"})
	now = time.Date(1999, 1, 1, 0, 0, 0, 0, time.UTC)
	ids = append(ids, openCase(t, b, engine.Opening{Title: "b"}))
	add(t, b, ids[0], engine.Note{Text: "two"})
	now = time.Date(2026, 11, 3, 9, 5, 0, 0, time.UTC)
	ids = append(ids, openCase(t, b, engine.Opening{Title: "c"}))
	if want := []string{"26-0001", "99-0002", "26-0003"}; !slices.Equal(ids, want) {
		t.Errorf("ids %v, want %v", ids, want)
	}
	c, err := fold.Fold(get(t, b, ids[0]))
	if err != nil {
		t.Fatal(err)
	}
	if want := []engine.Note{{Text: "one"}, {Text: "two"}}; !slices.Equal(c.Notes, want) {
		t.Errorf("notes %v, want %v", c.Notes, want)
	}
	list, err := b.List(bg, engine.CaseFilter{}, engine.CasePage{})
	if err != nil {
		t.Fatal(err)
	}
	if got := idsOf(list); !slices.Equal(got, []string{"26-0003", "99-0002", "26-0001"}) {
		t.Errorf("list %v", got)
	}
}

func idsOf(l engine.CaseList) []string {
	ids := []string{}
	for _, c := range l.Cases {
		ids = append(ids, c.ID)
	}
	return ids
}

func TestAppendOnly(t *testing.T) {
	b := newBook(t)
	id := openCase(t, b, engine.Opening{})
	add(t, b, id, engine.Note{Text: "stays"})
	for _, sql := range []string{
		"UPDATE entries SET body = '{}'", "DELETE FROM entries", "UPDATE cases SET title = 'x'", "DELETE FROM cases",
	} {
		if _, err := b.writer.Exec(sql); err == nil || !strings.Contains(err.Error(), "append-only") {
			t.Errorf("%s: error %v, want a refusal", sql, err)
		}
	}
}

func TestOddPaths(t *testing.T) {
	dir := t.TempDir()
	names := []string{"what?.db", "bay #2.db", "100%.db", "50%25.db", "a b.db", "mode=memory&x.db", "x?mode=memory", "quote'\".db", "ü–é.db", ":memory:", "file:x.db", "plus+.db", "semi;colon.db", "new\nline.db"}
	for _, name := range names {
		path := filepath.Join(dir, name)
		b := openBook(t, path, Options{})
		openCase(t, b, engine.Opening{Title: name})
		if _, err := b.Backup(bg); err != nil {
			t.Errorf("%q: backup: %v", name, err)
		}
		if err := b.Close(); err != nil {
			t.Fatal(err)
		}
		b = openBook(t, path, Options{MustExist: true})
		if got := get(t, b, "26-0001").Opening.Title; got != name {
			t.Errorf("%q opened the file of %q", name, got)
		}
		b.Close()
	}
	files, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	// The casebook, its lock and its backup, and nothing under another name.
	if len(files) != 3*len(names) {
		t.Errorf("%d files for %d casebooks: %v", len(files), len(names), files)
	}
}

func TestPlaces(t *testing.T) {
	dir := t.TempDir()
	if _, err := Open(bg, filepath.Join(dir, "no", "cases.db"), Options{}); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("missing folder: %v", err)
	}
	if _, err := Open(bg, filepath.Join(dir, "cases.db"), Options{MustExist: true}); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("missing file: %v", err)
	}
	if _, err := Open(bg, dir, Options{}); !errors.Is(err, engine.ErrForeign) {
		t.Errorf("a folder: %v", err)
	}
	if files, _ := os.ReadDir(dir); len(files) != 0 {
		t.Errorf("refusals left %v", files)
	}
	share := func(string) (string, error) { return "nfs", nil }
	_, err := Open(bg, filepath.Join(dir, "cases.db"), Options{place: share})
	if !errors.Is(err, engine.ErrNetworkShare) || !strings.Contains(err.Error(), "nfs") {
		t.Errorf("network share: %v", err)
	}
	if files, _ := os.ReadDir(dir); len(files) != 0 {
		t.Errorf("a refused network share got %v", files)
	}
	openBook(t, filepath.Join(dir, "cases.db"), Options{place: share, NetworkShare: true})
	// A relative path, and a link to the file.
	t.Chdir(dir)
	os.Mkdir("real", 0o777)
	b := openBook(t, "real/cases.db", Options{})
	id := openCase(t, b, engine.Opening{Title: "through a link"})
	b.Close()
	if err := os.Symlink("real/cases.db", "link.db"); err != nil {
		t.Skipf("this system makes no links: %v", err)
	}
	if got := get(t, openBook(t, "link.db", Options{}), id).Opening.Title; got != "through a link" {
		t.Errorf("title %q", got)
	}
}

func TestNetworkTypes(t *testing.T) {
	for name, want := range map[string]bool{
		"nfs": true, "cifs": true, "smb2": true, "9p": true, "fuse.sshfs": true, "fuse.rclone": true, "fuse": true, "SMBFS": true,
		"": false, "ext4": false, "apfs": false, "tmpfs": false, "fuseblk": false, "fuse.gocryptfs": false,
	} {
		if got := isNetwork(name); got != want {
			t.Errorf("isNetwork(%q) = %v", name, got)
		}
	}
	for path, want := range map[string]bool{
		`\\server\share\cases.db`: true, `//server/share/cases.db`: true, `\\?\UNC\server\share\x`: true, `\\?\unc\server\share\x`: true,
		`C:\shop\cases.db`: false, `\\?\C:\shop\cases.db`: false, `\\.\C:\x`: false, `\shop\cases.db`: false, ``: false,
	} {
		if got := isUNC(path); got != want {
			t.Errorf("isUNC(%q) = %v", path, got)
		}
	}
}

func TestBackup(t *testing.T) {
	b := newBook(t)
	id := openCase(t, b, engine.Opening{Title: "kept"})
	var paths []string
	for range 2 {
		p, err := b.Backup(bg)
		if err != nil {
			t.Fatal(err)
		}
		paths = append(paths, strings.TrimPrefix(p, b.Path()))
		add(t, b, id, engine.Note{Text: "later"})
	}
	if want := []string{".0001.backup", ".0002.backup"}; !slices.Equal(paths, want) {
		t.Errorf("backups %v, want %v", paths, want)
	}
	if got := len(get(t, openBook(t, b.Path()+".0002.backup", Options{Check: true}), id).Entries); got != 1 {
		t.Errorf("the second backup has %d entries, want 1", got)
	}
}

func export(t testing.TB, b *Book, ids ...string) []byte {
	t.Helper()
	var buf bytes.Buffer
	if err := b.Export(bg, &buf, ids...); err != nil {
		t.Fatal(err)
	}
	return buf.Bytes()
}

func newCancelled() (context.Context, context.CancelFunc) {
	ctx, cancel := context.WithCancel(bg)
	cancel()
	return ctx, cancel
}
