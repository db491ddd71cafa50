//go:build unix && (amd64 || arm64)

package sqlite

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/fstest"
	"unsafe"

	"modernc.org/libc"
	lib "modernc.org/sqlite/lib"

	"slipcase/engine"
	"slipcase/internal/size"
)

// deed is one thing that SQLite did to a file.
type deed struct {
	file string // without its folder
	what string // "write", "truncate", "sync", "delete", or "folder" synced
	at   int64  // of a write; the size that a file is cut to
	data []byte
}

// folderSynced makes last that files are there or gone.
var folderSynced = deed{file: ".", what: "folder"}

// Where things stand in sqlite3_vfs and sqlite3_io_methods where pointers have 64
// bits (sqlite3.h); the first word of an open file points to its methods.
const (
	vfsBytes, vfsName, vfsOpen, vfsDelete                     = 168, 24, 40, 48
	methodBytes, ioClose, ioWrite, ioTruncate, ioSync uintptr = 152, 8, 24, 32, 40
)

// between lies between SQLite and the system's files and writes down what is done
// to those of a folder. Functions of the driver's C are Go's; a table of them holds
// what a variable of a function type holds.
var between struct {
	sync.Mutex
	tls       *libc.TLS
	vfs, real uintptr
	folder    string
	deeds     []deed
	ours      map[uintptr]uintptr // methods of the system -> with ours in their places
	theirs    map[uintptr]uintptr // back
	files     map[uintptr]string  // open files of the folder
	fresh     map[uintptr]bool    // logs and journals: the first sync is of the folder too (unixSync)
}

type (
	openFunc   = func(*libc.TLS, uintptr, uintptr, uintptr, int32, uintptr) int32
	deleteFunc = func(*libc.TLS, uintptr, uintptr, int32) int32
	writeFunc  = func(*libc.TLS, uintptr, uintptr, int32, int64) int32
	sizeFunc   = func(*libc.TLS, uintptr, int64) int32
	syncFunc   = func(*libc.TLS, uintptr, int32) int32
	closeFunc  = func(*libc.TLS, uintptr) int32
)

// at is a place in memory of the driver's C, which no collector moves.
func at[T any](p uintptr) *T { return *(**T)(unsafe.Pointer(&p)) }

// record lets SQLite's work on the files of a folder be written down until the
// test ends.
func record(t *testing.T, folder string) {
	t.Helper()
	b := &between
	if b.tls == nil {
		b.tls = libc.NewTLS()
		b.real = lib.Xsqlite3_vfs_find(b.tls, 0)
		b.vfs = libc.Xmalloc(b.tls, vfsBytes)
		libc.Xmemcpy(b.tls, b.vfs, b.real, vfsBytes)
		name, err := libc.CString("between")
		if err != nil {
			t.Fatal(err)
		}
		*at[uintptr](b.vfs + vfsName) = name
		*at[openFunc](b.vfs + vfsOpen) = openBetween
		*at[deleteFunc](b.vfs + vfsDelete) = deleteBetween
		b.ours, b.theirs = map[uintptr]uintptr{}, map[uintptr]uintptr{}
	}
	b.folder, b.deeds, b.files, b.fresh = folder+string(filepath.Separator), nil, map[uintptr]string{}, map[uintptr]bool{}
	if code := lib.Xsqlite3_vfs_register(b.tls, b.vfs, 1); code != lib.SQLITE_OK {
		t.Fatalf("code %d", code)
	}
	t.Cleanup(func() { lib.Xsqlite3_vfs_unregister(b.tls, b.vfs) })
}

// did writes a deed down.
func did(file uintptr, d deed) {
	b := &between
	b.Lock()
	defer b.Unlock()
	if d.file == "" {
		d.file = b.files[file]
	}
	if d.file != "" {
		b.deeds = append(b.deeds, d)
	}
}

// done is how many deeds there are.
func done() int {
	between.Lock()
	defer between.Unlock()
	return len(between.deeds)
}

func openBetween(tls *libc.TLS, _, name, file uintptr, flags int32, out uintptr) int32 {
	b := &between
	code := (*at[openFunc](b.real + vfsOpen))(tls, b.real, name, file, flags, out)
	methods := *at[uintptr](file)
	if code != lib.SQLITE_OK || methods == 0 || name == 0 {
		return code
	}
	b.Lock()
	defer b.Unlock()
	own, ok := strings.CutPrefix(libc.GoString(name), b.folder)
	if !ok {
		return code
	}
	b.files[file] = own
	b.fresh[file] = flags&lib.SQLITE_OPEN_CREATE != 0 && flags&(lib.SQLITE_OPEN_MAIN_JOURNAL|lib.SQLITE_OPEN_SUPER_JOURNAL|lib.SQLITE_OPEN_WAL) != 0
	ours := b.ours[methods]
	if ours == 0 {
		ours = libc.Xmalloc(tls, libc.Tsize_t(methodBytes))
		libc.Xmemcpy(tls, ours, methods, libc.Tsize_t(methodBytes))
		*at[writeFunc](ours + ioWrite) = writeBetween
		*at[sizeFunc](ours + ioTruncate) = truncateBetween
		*at[syncFunc](ours + ioSync) = syncBetween
		*at[closeFunc](ours + ioClose) = closeBetween
		b.ours[methods], b.theirs[ours] = ours, methods
	}
	*at[uintptr](file) = ours
	return code
}

// method is the place of the system's own.
func method(file, which uintptr) uintptr {
	between.Lock()
	defer between.Unlock()
	return between.theirs[*at[uintptr](file)] + which
}

func writeBetween(tls *libc.TLS, file, data uintptr, n int32, to int64) int32 {
	did(file, deed{what: "write", at: to, data: slices.Clone(unsafe.Slice(at[byte](data), n))})
	return (*at[writeFunc](method(file, ioWrite)))(tls, file, data, n, to)
}

func truncateBetween(tls *libc.TLS, file uintptr, size int64) int32 {
	did(file, deed{what: "truncate", at: size})
	return (*at[sizeFunc](method(file, ioTruncate)))(tls, file, size)
}

func syncBetween(tls *libc.TLS, file uintptr, flags int32) int32 {
	code := (*at[syncFunc](method(file, ioSync)))(tls, file, flags)
	did(file, deed{what: "sync"})
	between.Lock()
	fresh := between.fresh[file]
	between.fresh[file] = false
	between.Unlock()
	if fresh {
		did(file, folderSynced)
	}
	return code
}

func closeBetween(tls *libc.TLS, file uintptr) int32 {
	theirs := method(file, ioClose)
	between.Lock()
	delete(between.files, file)
	between.Unlock()
	return (*at[closeFunc](theirs))(tls, file)
}

func deleteBetween(tls *libc.TLS, _, name uintptr, dir int32) int32 {
	code := (*at[deleteFunc](between.real + vfsDelete))(tls, between.real, name, dir)
	if own, ok := strings.CutPrefix(libc.GoString(name), between.folder); ok {
		did(0, deed{file: own, what: "delete"})
		if dir != 0 {
			did(0, folderSynced)
		}
	}
	return code
}

// image are files with their content.
type image map[string][]byte

func (m image) do(d deed) {
	f := m[d.file]
	switch d.what {
	case "write":
		if end := d.at + int64(len(d.data)); int64(len(f)) < end {
			f = append(f, make([]byte, end-int64(len(f)))...)
		}
		copy(f[d.at:], d.data)
	case "truncate":
		if int64(len(f)) > d.at {
			f = f[:d.at]
		}
	case "delete":
		delete(m, d.file)
		return
	default:
		return
	}
	m[d.file] = f
}

// killed is what is there after the first n deeds and a part of the next, as when
// the process dies.
func killed(deeds []deed, n int, r *rand.Rand) image {
	m := image{}
	for _, d := range deeds[:n] {
		m.do(d)
	}
	if n < len(deeds) && deeds[n].what == "write" {
		d := deeds[n]
		d.data = d.data[:r.IntN(len(d.data)+1)]
		m.do(d)
	}
	return m
}

// powerless is what a disk may hold when the power goes after n deeds: all that was
// synced, and of what came after in each file some writes, in parts of 512 bytes,
// whatever their order was. That a file is gone or shorter may last or not.
func powerless(deeds []deed, n int, r *rand.Rand) image {
	last, names := map[string]int{}, -1
	for i, d := range deeds[:n] {
		switch d.what {
		case "sync":
			last[d.file] = i
		case "folder":
			names = i
		}
	}
	m := image{}
	for i, d := range deeds[:n] {
		at, ok := last[d.file]
		if ok = ok && i <= at; d.what == "delete" {
			ok = i <= names
		}
		if ok || d.what != "write" && r.IntN(2) == 0 {
			m.do(d)
		}
		if ok || d.what != "write" {
			continue
		}
		for from := 0; from < len(d.data); from += 512 {
			if r.IntN(3) > 0 {
				m.do(deed{file: d.file, what: "write", at: d.at + int64(from), data: d.data[from:min(from+512, len(d.data))]})
			}
		}
	}
	return m
}

// written is what was acknowledged at a moment of a job.
type written struct {
	deeds int
	notes int    // of the first case
	cases int    // opened
	form  int    // version that the casebook has at least
	while string // what comes next
}

// job works in a new casebook: makes it, writes, closes it and opens it again, and
// brings it to a newer form, twice. It says what was acknowledged when.
func job(t *testing.T, path string, forms []fstest.MapFS) (acknowledged []written) {
	t.Helper()
	now := written{}
	tell := func(while string) {
		now.deeds, now.while = done(), while
		acknowledged = append(acknowledged, now)
	}
	tell("making it")
	for i, form := range forms {
		b, err := Open(bg, path, Options{Clock: steady, migrations: form})
		if err != nil {
			t.Fatal(err)
		}
		now.form = i + 1
		for range 2 {
			tell("opening a case")
			if _, err := b.OpenCase(bg, engine.Opening{Unit: "northfork-4", Title: strings.Repeat("slips ", 200)}); err != nil {
				t.Fatal(err)
			}
			now.cases++
			for range 3 {
				tell("writing a pair of notes")
				pair := []engine.Entry{{Body: engine.Note{Text: fmt.Sprint(now.notes + 1)}}, {Body: engine.Note{Text: fmt.Sprint(now.notes + 2)}}}
				if _, err := b.Append(bg, "26-0001", pair...); err != nil {
					t.Fatal(err)
				}
				now.notes += 2
			}
		}
		tell("closing it")
		if err := b.Close(); err != nil {
			t.Fatal(err)
		}
		tell("bringing it to the next form")
	}
	return acknowledged
}

// newerForms are the forms of a casebook from the first to an invented third.
func newerForms() []fstest.MapFS {
	second := twoSteps("CREATE TABLE more (x); INSERT INTO more SELECT row FROM cases")
	third := twoSteps("CREATE TABLE more (x); INSERT INTO more SELECT row FROM cases")
	third["0003_most.sql"] = &fstest.MapFile{Data: []byte("ALTER TABLE more ADD COLUMN y TEXT DEFAULT ''; CREATE INDEX more_y ON more (y, x)")}
	first := fstest.MapFS{"0001_casebook.sql": second["0001_casebook.sql"]}
	return []fstest.MapFS{first, second, third}
}

// holdsAll opens what an image left in a folder, and wants all of it that was
// acknowledged, nothing by halves, and a sound file.
func holdsAll(m image, folder string, form fstest.MapFS, want written) error {
	for name, text := range m {
		if err := os.WriteFile(filepath.Join(folder, name), text, 0o600); err != nil {
			return err
		}
	}
	b, err := Open(bg, filepath.Join(folder, "cases.db"), Options{Clock: steady, migrations: form, Check: true})
	if err != nil {
		return err
	}
	defer b.Close()
	list, err := b.List(bg, engine.CaseFilter{}, engine.CasePage{})
	if err != nil {
		return err
	}
	if list.Total < want.cases || list.Total > want.cases+1 {
		return fmt.Errorf("%d cases, acknowledged were %d", list.Total, want.cases)
	}
	if list.Total == 0 {
		return nil
	}
	rec, err := b.Get(bg, "26-0001")
	if err != nil {
		return err
	}
	n := len(rec.Entries)
	if n < want.notes || n > want.notes+2 || n%2 != 0 {
		return fmt.Errorf("%d notes, acknowledged were %d", n, want.notes)
	}
	for i, e := range rec.Entries {
		if e.Body != (engine.Note{Text: fmt.Sprint(i + 1)}) {
			return fmt.Errorf("entry %d is %v", i+1, e.Body)
		}
	}
	return b.Check(bg)
}

// The process dies, or the power goes, at every write to the disk: while the
// casebook is made, while it is written to, while its log is emptied, and while it
// is brought to a newer form. All that was acknowledged is there, nothing by
// halves, and the program of the newest form opens it by itself.
func TestCutAtEveryWrite(t *testing.T) {
	every := size.Of(45, 9, 1)
	folder := t.TempDir()
	record(t, folder)
	forms := newerForms()
	acknowledged := job(t, filepath.Join(folder, "cases.db"), forms)
	lib.Xsqlite3_vfs_unregister(between.tls, between.vfs)
	deeds := slices.DeleteFunc(slices.Clone(between.deeds), func(d deed) bool { return strings.Contains(d.file, "backup") })
	before := func(n int) int { // of all deeds, where those of the casebook itself stand
		return len(slices.DeleteFunc(slices.Clone(between.deeds[:n]), func(d deed) bool { return strings.Contains(d.file, "backup") }))
	}
	for i := range acknowledged {
		acknowledged[i].deeds = before(acknowledged[i].deeds)
	}
	r := rand.New(rand.NewPCG(10, 27))
	tried, at := 0, map[string]int{}
	for n := r.IntN(every); n <= len(deeds); n += 1 + r.IntN(2*every-1) {
		var want written
		for _, a := range acknowledged {
			if a.deeds <= n {
				want = a
			}
		}
		for what, m := range map[string]image{"killed": killed(deeds, n, r), "without power": powerless(deeds, n, r)} {
			// By the program that was at work, and by the newest.
			form := forms[len(forms)-1]
			if r.IntN(2) == 0 {
				form = forms[min(max(want.form, 1)+map[bool]int{true: 1}[want.while == "bringing it to the next form"], len(forms))-1]
			}
			if err := holdsAll(m, t.TempDir(), form, want); err != nil {
				t.Errorf("%s after %d of %d writes, while %s: %v", what, n, len(deeds), want.while, err)
			}
			tried++
			at[want.while]++
		}
	}
	t.Logf("%d images of %d writes: %v", tried, len(deeds), at)
	if len(deeds) < 150 || len(at) < 4 {
		t.Error("this shows too little")
	}
}

// The log is cut off at each frame and within it, or a byte of it is wrong, as no
// loss of power does: the casebook opens as it was before that, whole. That
// something was behind it nothing tells.
func TestDamagedLog(t *testing.T) {
	every := size.Of(20, 5, 1)
	folder := t.TempDir()
	path := filepath.Join(folder, "cases.db")
	b := openBook(t, path, Options{Clock: steady})
	id := openCase(t, b, engine.Opening{})
	b.Close() // all of it is in the file
	b = openBook(t, path, Options{Clock: steady})
	file := readFile(t, path)
	for i := range 10 {
		if _, err := b.Append(bg, id, engine.Entry{Body: engine.Note{Text: fmt.Sprint(2*i + 1)}}, engine.Entry{Body: engine.Note{Text: fmt.Sprint(2*i + 2)}}); err != nil {
			t.Fatal(err)
		}
	}
	log := readFile(t, path+"-wal")
	const head, frame = 32, 24 + 4096 // of the log, and of each page in it
	if len(log) < head+20*frame || (len(log)-head)%frame != 0 {
		t.Fatalf("a log of %d bytes", len(log))
	}
	r := rand.New(rand.NewPCG(11, 27))
	least, most := 20, 0
	for at := r.IntN(every); at*frame+head <= len(log); at += 1 + r.IntN(2*every-1) {
		cut := head + at*frame
		wrong := slices.Clone(log)
		if cut < len(log) {
			wrong[cut+r.IntN(frame)] ^= 1 << r.IntN(8)
		}
		for what, text := range map[string][]byte{"cut": log[:cut], "cut within": log[:min(cut+1+r.IntN(frame-1), len(log))], "wrong byte": wrong} {
			other := t.TempDir()
			for end, text := range map[string][]byte{"": file, "-wal": text} {
				if err := os.WriteFile(filepath.Join(other, "cases.db"+end), text, 0o600); err != nil {
					t.Fatal(err)
				}
			}
			b, err := Open(bg, filepath.Join(other, "cases.db"), Options{Clock: steady})
			if err != nil {
				t.Errorf("%s at frame %d: %v", what, at, err)
				continue
			}
			n := len(get(t, b, id).Entries)
			least, most = min(least, n), max(most, n)
			if n%2 != 0 {
				t.Errorf("%s at frame %d: %d entries, half of a pair", what, at, n)
			}
			if err := b.Check(bg); err != nil {
				t.Errorf("%s at frame %d: %v", what, at, err)
			}
			if _, err := b.Append(bg, id, engine.Entry{Body: engine.Note{Text: "goes on"}}); err != nil {
				t.Errorf("%s at frame %d: %v", what, at, err)
			}
			b.Close()
		}
	}
	if least > 4 || most < 16 {
		t.Errorf("%d to %d of 20 entries: this shows too little", least, most)
	}
}
