package sqlite

import (
	"bytes"
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"slipcase/engine"
	"slipcase/knowledge/casebook/contract"
)

var bg = context.Background()

// What the contract's tests use as well.
var (
	steady    = contract.Steady
	everyBody = contract.EveryBody
	idsOf     = contract.IDs
)

func openCase(t testing.TB, b *Book, o engine.Opening) string { return contract.OpenCase(t, b, o) }

func add(t testing.TB, b *Book, id string, bodies ...engine.Body) []int64 {
	return contract.Append(t, b, id, bodies...)
}

func get(t testing.TB, b *Book, id string) engine.CaseRecord { return contract.Get(t, b, id) }

func TestContract(t *testing.T) {
	contract.Run(t, func(t testing.TB, clock func() time.Time) engine.Casebook {
		return openBook(t, filepath.Join(t.TempDir(), "cases.db"), Options{Clock: clock})
	})
}

// A case is the same after closing and opening again.
func TestOpenedAgain(t *testing.T) {
	b := newBook(t)
	id := openCase(t, b, engine.Opening{Title: "slips in third", Key: "k1"})
	add(t, b, id, everyBody()...)
	rec := get(t, b, id)
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
		"nfs4": true, "smb": true, "smb3": true, "afs": true, "afpfs": true, "ceph": true, "coda": true, "davfs": true, "webdav": true, "ftp": true, "gfs2": true, "gpfs": true,
		"glusterfs": true, "lustre": true, "ncpfs": true, "ocfs2": true, "beegfs": true, "vboxsf": true, "vmhgfs": true, "prl_fs": true, "osxfuse": true, "macfuse": true,
		"fuse.ntfs-3g": false, "fuse.exfat": false, "fuse.ext4": false, "fuse.encfs": false, "fuse.bindfs": false, "fuse.mergerfs": false, "xfs": false, "btrfs": false, "ntfs": false,
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
