package sqlite

import (
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"slipcase/engine"
	"slipcase/internal/size"
)

// closedShop is a casebook, closed cleanly, with some cases and a backup.
func closedShop(t *testing.T, cases int) (path string, truth map[string]engine.CaseRecord, list engine.CaseList) {
	b := newBook(t)
	shop(t, b)
	for i := 3; i < cases; i++ {
		id := openCase(t, b, engine.Opening{Title: fmt.Sprint("case ", i), Words: strings.Repeat("it slips when hot ", 5)})
		add(t, b, id, everyBody()...)
	}
	truth = map[string]engine.CaseRecord{}
	list, err := b.List(bg, engine.CaseFilter{}, engine.CasePage{Limit: maxPage})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range list.Cases {
		truth[c.ID] = get(t, b, c.ID)
	}
	if _, err := b.Backup(bg); err != nil {
		t.Fatal(err)
	}
	if err := b.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Path(), truth, list
}

func readFile(t *testing.T, path string) []byte {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func writeFile(t *testing.T, path string, data []byte) {
	t.Helper()
	if err := os.WriteFile(path, data, 0o666); err != nil {
		t.Fatal(err)
	}
}

// Whatever bytes are flipped: what is read is what was written, or the error
// says that the casebook is damaged. What Check passes is whole.
func TestFlippedBytes(t *testing.T) {
	path, truth, list := closedShop(t, 24)
	good := readFile(t, path)
	r := rand.New(rand.NewPCG(26, 42))
	trials, found, silent := size.Of(25, 100, 3000), 0, 0
	if raceDetector && !size.Long() { // it makes SQLite ten times slower, and looks for something else
		trials = 30
	}
	for trial := range trials {
		bad := append([]byte(nil), good...)
		at := r.IntN(len(bad))
		switch n := 1 + r.IntN(4); trial % 3 {
		case 0: // single bits
			for range n {
				bad[r.IntN(len(bad))] ^= 1 << r.IntN(8)
			}
		case 1: // a run of rubbish
			for i := at; i < min(at+n*16, len(bad)); i++ {
				bad[i] = byte(r.Uint32())
			}
		case 2: // a page of zeros
			at -= at % 4096
			clear(bad[at:min(at+4096, len(bad))])
		}
		broken := filepath.Join(t.TempDir(), "cases.db")
		writeFile(t, broken, bad)
		if !damagedOrTrue(t, trial, broken, truth, list) {
			found++
		} else {
			silent++
		}
	}
	t.Logf("%d of %d damages noticed, %d hit unused bytes or nothing that is read", found, trials, silent)
	if found < trials/2 {
		t.Error("too few damages were noticed for this test to mean anything")
	}
}

// damagedOrTrue says whether all could be read; it fails when something was
// read that is not true.
func damagedOrTrue(t *testing.T, trial int, path string, truth map[string]engine.CaseRecord, list engine.CaseList) bool {
	b, err := Open(bg, path, Options{Clock: steady})
	if err != nil {
		isDamage(t, trial, "open", err)
		return false
	}
	defer b.Close()
	checked := b.Check(bg)
	if checked != nil {
		isDamage(t, trial, "check", checked)
	}
	whole := checked == nil
	for id, want := range truth {
		got, err := b.Get(bg, id)
		if err != nil {
			isDamage(t, trial, "get "+id, err)
		} else if d := cmp.Diff(want, got); d != "" {
			t.Errorf("trial %d: case %s came back wrong:\n%s", trial, id, d)
		}
		if whole && err != nil {
			t.Errorf("trial %d: the check passed, but: %v", trial, err)
		}
	}
	got, err := b.List(bg, engine.CaseFilter{}, engine.CasePage{Limit: maxPage})
	if err != nil {
		isDamage(t, trial, "list", err)
		return false
	}
	// A line that an index has lost cannot be seen from the list alone; the
	// check sees it.
	if d := cmp.Diff(list, got); d != "" && whole {
		t.Errorf("trial %d: the check passed, but the list is wrong:\n%s", trial, d)
	}
	return whole
}

func isDamage(t *testing.T, trial int, what string, err error) {
	t.Helper()
	if !errors.Is(err, engine.ErrDamaged) && !errors.Is(err, engine.ErrForeign) && !errors.Is(err, engine.ErrNewer) {
		t.Errorf("trial %d: %s: %v: not told as damage", trial, what, err)
	}
}

func TestDamageNamesTheBackup(t *testing.T) {
	path, _, _ := closedShop(t, 6)
	good := readFile(t, path)
	// An older backup that is sound and a newer one that is not.
	writeFile(t, path+".0002.backup", good[:len(good)/2])
	sound := path + ".0001.backup"
	for name, bad := range map[string][]byte{
		"first page": append(make([]byte, 512), good[512:]...),
		// A trigger that would no longer refuse, though every row is right; the text
		// may also stand in unused bytes.
		"schema":    []byte(strings.Replace(string(good), "BEFORE DELETE ON entries", "BEFORE INSERT ON entries", -1)),
		"cut short": good[:len(good)/2/4096*4096],
		"half gone": append(append([]byte(nil), good[:8192]...), make([]byte, len(good)-8192)...),
	} {
		os.Remove(path + "-wal")
		writeFile(t, path, bad)
		b, err := Open(bg, path, Options{Check: true})
		if err == nil {
			b.Close()
		}
		if !errors.Is(err, engine.ErrDamaged) || !strings.Contains(err.Error(), sound) {
			t.Errorf("%s: error %v, want damage with %s", name, err, sound)
		}
	}
	// What the message says works.
	writeFile(t, path, readFile(t, sound))
	b := openBook(t, path, Options{Check: true})
	add(t, b, "26-0001", engine.Note{Text: "goes on"})
	b.Close()
	os.Remove(sound)
	writeFile(t, path, good[:8192])
	if _, err := Open(bg, path, Options{Check: true}); err == nil || !strings.Contains(err.Error(), "no sound backup") {
		t.Errorf("error %v", err)
	}
}

func TestForeignAndNewerFiles(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "x.db")
	exec := func(sql string) {
		db := openSQLite(path, "_x=1")
		defer db.Close()
		if _, err := db.Exec(sql); err != nil {
			t.Fatal(err)
		}
	}
	for _, tc := range []struct {
		name    string
		prepare func()
		want    error
		says    string
	}{
		{"another program's tables", func() { exec("CREATE TABLE stamps (country TEXT)") }, engine.ErrForeign, "another program"},
		{"another application id", func() { exec("PRAGMA application_id = 7; CREATE TABLE t (x)") }, engine.ErrForeign, "0x7"},
		{"another version without id", func() { exec("PRAGMA user_version = 3") }, engine.ErrForeign, "another program"},
		{"text", func() { writeFile(t, path, []byte(strings.Repeat("no database\n", 500))) }, engine.ErrForeign, "not a SQLite file"},
		{"newer", func() { openBook(t, path, Options{}).Close(); exec("PRAGMA user_version = 99") }, engine.ErrNewer, "version 99, this program knows 1"},
		{"version lost", func() { openBook(t, path, Options{}).Close(); exec("PRAGMA user_version = 0") }, engine.ErrDamaged, "version is 0"},
	} {
		os.Remove(path)
		tc.prepare()
		before := readFile(t, path)
		b, err := Open(bg, path, Options{})
		if err == nil {
			b.Close()
		}
		if !errors.Is(err, tc.want) || !strings.Contains(err.Error(), tc.says) {
			t.Errorf("%s: error %v, want %v with %q", tc.name, err, tc.want, tc.says)
		}
		if string(readFile(t, path)) != string(before) {
			t.Errorf("%s: the file was changed", tc.name)
		}
	}
	// An empty file is a new casebook.
	os.Remove(path)
	writeFile(t, path, nil)
	openCase(t, openBook(t, path, Options{}), engine.Opening{})
}

// twoSteps is the embedded migration and an invented second one.
func twoSteps(second string) fstest.MapFS {
	text, err := fs.ReadFile(embedded, "0001_casebook.sql")
	if err != nil {
		panic(err)
	}
	return fstest.MapFS{"0001_casebook.sql": {Data: text}, "0002_more.sql": {Data: []byte(second)}}
}

func TestMigration(t *testing.T) {
	path, truth, _ := closedShop(t, 5)
	os.Remove(path + ".0001.backup")
	// A step that fails leaves everything as it was, and its backup.
	_, err := Open(bg, path, Options{migrations: twoSteps("CREATE TABLE more (x); INSERT INTO nowhere VALUES (1)")})
	if err == nil || !strings.Contains(err.Error(), "from version 1 to 2") {
		t.Fatalf("error %v", err)
	}
	b := openBook(t, path, Options{Check: true})
	if len(get(t, b, "26-0001").Entries) != len(truth["26-0001"].Entries) {
		t.Error("the failed migration changed a case")
	}
	// While this version is at work, the newer program must wait.
	var told []string
	newer := Options{migrations: twoSteps("CREATE TABLE more (x)"), Tell: func(s string) { told = append(told, s) }}
	if _, err := Open(bg, path, newer); !errors.Is(err, engine.ErrBusy) {
		t.Errorf("error %v, want busy", err)
	}
	b.Close()
	b = openBook(t, path, newer)
	if len(told) != 1 || !strings.Contains(told[0], path+".0002.backup") {
		t.Errorf("told %q", told)
	}
	if d := cmp.Diff(truth["26-0001"], get(t, b, "26-0001")); d != "" {
		t.Error(d)
	}
	if err := b.Check(bg); err != nil {
		t.Error(err)
	}
	b.Close()
	if _, err := Open(bg, path, Options{}); !errors.Is(err, engine.ErrNewer) {
		t.Errorf("error %v, want newer", err)
	}
	// Both tries made a backup of version 1.
	for _, n := range []string{"0001", "0002"} {
		old := openBook(t, path+"."+n+".backup", Options{Check: true})
		if d := cmp.Diff(truth["26-0001"], get(t, old, "26-0001")); d != "" {
			t.Error(d)
		}
	}
	for name, steps := range map[string]fstest.MapFS{
		"gap":     {"0002_x.sql": {}},
		"no name": {"first.sql": {}},
	} {
		if _, err := Open(bg, filepath.Join(t.TempDir(), "x.db"), Options{migrations: steps}); err == nil || !strings.Contains(err.Error(), "must begin with 0001_") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// Many at once open a file that is not there yet; one makes it.
func TestOpenedAtOnce(t *testing.T) {
	path := filepath.Join(t.TempDir(), "cases.db")
	var wg sync.WaitGroup
	for i := range 8 {
		wg.Go(func() {
			b, err := Open(bg, path, Options{Clock: steady})
			if err != nil {
				t.Error(err)
				return
			}
			defer b.Close()
			if _, err := b.OpenCase(bg, engine.Opening{Unit: "u", Title: fmt.Sprint(i)}); err != nil {
				t.Error(err)
			}
		})
	}
	wg.Wait()
	b := openBook(t, path, Options{Check: true})
	if l, err := b.List(bg, engine.CaseFilter{}, engine.CasePage{}); err != nil || l.Total != 8 {
		t.Errorf("%d cases, %v", l.Total, err)
	}
}
