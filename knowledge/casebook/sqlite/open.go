// Package sqlite keeps the shop's cases in one SQLite file, behind
// engine.Casebook.
//
// A case is an opening and entries that are only ever added; triggers refuse
// everything else. Lists and searches read tables that are derived from them in
// the same transaction. Every row carries a checksum, chained through the
// entries of a case, so that what comes back is what was written or
// engine.ErrDamaged.
//
// A file beside the casebook (its name with ".lock") is held shared while the
// casebook is open. Who can hold it alone when opening knows that nobody else
// is at work; if SQLite's write-ahead log is there all the same, the last exit
// was not clean and everything is checked first. A process that died while
// another one stayed is recovered by SQLite without that check.
//
// Migrations are numbered files applied by hand, not by a library: check of
// the version, backup and change happen under one write lock that a library
// with its own transactions cannot hold, and user_version, which SQLite keeps
// inside the transaction, needs no second table of versions with wall times.
package sqlite

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"time"

	_ "modernc.org/sqlite" // the driver "sqlite"

	"slipcase/engine"
	"slipcase/knowledge/filelock"
)

// Options of Open. The zero value is right for a shop.
type Options struct {
	Clock        func() time.Time // stamps openings and entries without a time; time.Now when nil
	MustExist    bool             // do not create the file
	NetworkShare bool             // open the file even if it seems to lie on a network share
	Check        bool             // check everything before use, also after a clean exit
	Damaged      bool             // open it although it may be damaged, to rescue what is readable: no check after an unclean exit
	Wait         time.Duration    // how long opening and a write wait for another process; 10 s when 0
	Tell         func(string)     // is told why opening takes long: a check, a new version; may be nil

	migrations fs.FS                                     // the embedded ones when nil
	narrow     int                                       // see Book.narrow; negative for none at all
	place      func(path string) (share string, e error) // networkShare when nil
}

// Book is an open casebook.
type Book struct {
	path      string
	opt       Options
	lock      *filelock.Lock
	writer    *sql.DB // one connection, immediate transactions
	reader    *sql.DB // query only
	recovered bool

	lookForBackup sync.Once
	soundest      string // path of the newest sound backup, "" for none
	lookFault     error
}

var _ engine.Casebook = (*Book)(nil)

// Open opens the casebook at path and creates it if need be; its folder must
// exist. Errors wrap engine.ErrNetworkShare, ErrForeign, ErrNewer, ErrDamaged,
// ErrReadOnly, ErrFull or ErrBusy; fs.ErrNotExist when the folder, or with
// MustExist the file, is not there.
func Open(ctx context.Context, path string, opt Options) (*Book, error) {
	if opt.Clock == nil {
		opt.Clock = time.Now
	}
	if opt.Wait <= 0 {
		opt.Wait = 10 * time.Second
	}
	if opt.Tell == nil {
		opt.Tell = func(string) {}
	}
	if opt.migrations == nil {
		opt.migrations = embedded
	}
	if opt.place == nil {
		opt.place = networkShare
	}
	abs, err := filepath.Abs(path)
	if err != nil {
		return nil, fmt.Errorf("casebook %s: %w", path, err)
	}
	b := &Book{path: abs, opt: opt}
	if err := b.open(ctx); err != nil {
		b.Close()
		return nil, err
	}
	return b, nil
}

// private makes the file readable by its owner alone, wherever it lies: what
// customers said is nobody else's. The log and its index take the file's
// rights. Another's file that may only be used is left as it is.
func (b *Book) private() error {
	f, err := os.OpenFile(b.path, os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return err
	}
	defer f.Close()
	st, err := f.Stat()
	if err != nil {
		return err
	}
	if st.Mode().Perm()&0o077 != 0 {
		if err := f.Chmod(st.Mode().Perm() &^ 0o077); err != nil && !errors.Is(err, fs.ErrPermission) {
			return err
		}
	}
	return nil
}

func (b *Book) open(ctx context.Context) error {
	if err := b.admissible(); err != nil {
		return err
	}
	lock, err := filelock.Open(b.path + ".lock")
	if err != nil {
		return b.fault("open", err)
	}
	b.lock = lock
	alone, err := lock.Try(true)
	if err == nil && !alone {
		err = b.share(ctx)
	}
	if err != nil {
		return err
	}
	// Only now: the log of a process at work is no sign of an unclean exit.
	log, err := os.Stat(b.path + "-wal")
	unclean := alone && err == nil && log.Size() > 0

	if err := b.private(); err != nil {
		return b.fault("open", err)
	}
	b.writer = b.connect("_txlock=immediate&_pragma=cache_size(-65536)") // an import is one transaction
	b.writer.SetMaxOpenConns(1)
	// Before the first line is written: whose file is it, and from when?
	version, err := b.identify(ctx)
	if err != nil {
		return err
	}
	steps, err := readMigrations(b.opt.migrations)
	if err != nil {
		return err
	}
	if version > len(steps) {
		return fmt.Errorf("casebook %s: %w: it has version %d, this program knows %d: install the newer program, or work with another casebook",
			b.path, engine.ErrNewer, version, len(steps))
	}
	if version > 0 {
		if err := b.checkSchema(ctx); err != nil {
			return err
		}
	}
	if (unclean || b.opt.Check) && !b.opt.Damaged {
		if b.recovered = unclean; unclean {
			b.opt.Tell(fmt.Sprintf("casebook %s was not closed properly; checking all of it", b.path))
		}
		if err := b.check(ctx, version == len(steps)); err != nil {
			return err
		}
	}
	if alone {
		if err := b.keepLog(ctx); err != nil {
			return err
		}
	}
	if version < len(steps) {
		if !alone {
			return fmt.Errorf("casebook %s: %w: it must be brought from version %d to %d, which needs it alone: close the other programs that use it",
				b.path, engine.ErrBusy, version, len(steps))
		}
		if err := b.migrate(ctx, version, steps); err != nil {
			return err
		}
	}
	b.reader = b.connect("_query_only=1")
	b.reader.SetMaxOpenConns(4)
	if alone {
		return b.share(ctx)
	}
	return nil
}

// Path is the absolute path of the file.
func (b *Book) Path() string { return b.path }

// Recovered says that the last exit was not clean and that everything was
// checked, and found sound, when this one was opened.
func (b *Book) Recovered() bool { return b.recovered }

// Close ends all work. The last process to close empties SQLite's log.
func (b *Book) Close() error {
	var errs []error
	// The writer last: a connection for queries only should not be the one
	// that empties the log.
	for _, db := range []*sql.DB{b.reader, b.writer} {
		if db != nil {
			errs = append(errs, db.Close())
		}
	}
	if b.lock != nil {
		errs = append(errs, b.lock.Close())
	}
	b.reader, b.writer, b.lock = nil, nil, nil
	return errors.Join(errs...)
}

// admissible looks at the place of the file, before anything is touched.
func (b *Book) admissible() error {
	folder := filepath.Dir(b.path)
	if info, err := os.Stat(folder); err != nil {
		return fmt.Errorf("casebook %s: its folder: %w", b.path, err)
	} else if !info.IsDir() {
		return fmt.Errorf("casebook %s: %s is not a folder", b.path, folder)
	}
	info, err := os.Stat(b.path)
	switch {
	case err == nil && !info.Mode().IsRegular():
		return fmt.Errorf("casebook %s: %w: it is not an ordinary file", b.path, engine.ErrForeign)
	case errors.Is(err, fs.ErrNotExist) && b.opt.MustExist:
		return fmt.Errorf("casebook %s: %w: open a first case to create it", b.path, fs.ErrNotExist)
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("casebook %s: %w", b.path, err)
	}
	if b.opt.NetworkShare {
		return nil
	}
	share, err := b.opt.place(b.path)
	if err != nil {
		return fmt.Errorf("casebook %s: cannot tell what it is stored on: %w", b.path, err)
	}
	if share != "" {
		return fmt.Errorf("casebook %s: %w (%s), where locks cannot be trusted and cases get lost: keep it on a disk of this computer",
			b.path, engine.ErrNetworkShare, share)
	}
	return nil
}

// share waits until the lock can be held together with others.
func (b *Book) share(ctx context.Context) error {
	ctx, cancel := context.WithTimeout(ctx, b.opt.Wait)
	defer cancel()
	for {
		if ok, err := b.lock.Try(false); ok || err != nil {
			return err
		}
		select {
		case <-ctx.Done():
			return fmt.Errorf("casebook %s: %w: another program is checking it: %w", b.path, engine.ErrBusy, ctx.Err())
		case <-time.After(5 * time.Millisecond):
		}
	}
}

// connect gives a pool of connections that all write through to the disk.
func (b *Book) connect(more string) *sql.DB {
	wait := b.opt.Wait.Milliseconds()
	return openSQLite(b.path, fmt.Sprintf("_busy_timeout=%d&_synchronous=FULL&_foreign_keys=1&_pragma=fullfsync(1)&_pragma=cell_size_check(1)&%s", wait, more))
}

// openSQLite never fails: the driver is linked in, and connects later.
func openSQLite(path, query string) *sql.DB {
	db, err := sql.Open("sqlite", dataSource(path, query))
	if err != nil {
		panic(err)
	}
	return db
}

// dataSource is the file URI of an absolute path; signs that a URI gives a
// meaning of its own are escaped.
func dataSource(path, query string) string {
	p := filepath.ToSlash(path)
	if !strings.HasPrefix(p, "/") { // C:/shop/cases.db
		p = "/" + p
	}
	u := url.URL{Scheme: "file", Path: p, RawQuery: query + "&_defensive=1&_dqs=0&_error_rc=1"}
	return u.String()
}
