package sqlite

import (
	"errors"
	"fmt"
	"io/fs"
	"syscall"

	"modernc.org/sqlite"
	lib "modernc.org/sqlite/lib"

	"slipcase/engine"
)

// fault turns what went wrong below into an error that says what it means and
// what to do. Errors of this package pass unchanged.
func (b *Book) fault(doing string, err error) error {
	if err == nil {
		return nil
	}
	for _, known := range []error{engine.ErrNoCase, engine.ErrBadEntry, engine.ErrKeyReused, engine.ErrDamaged} {
		if errors.Is(err, known) {
			return err
		}
	}
	var refused *engine.ImportError
	if errors.As(err, &refused) {
		return err
	}
	const unwritten = "nothing was written"
	switch kind := faultKind(err); kind {
	case engine.ErrDamaged:
		return b.damaged(err.Error())
	case engine.ErrFull:
		return fmt.Errorf("casebook %s: cannot %s: %w; %s: free some space and try again (%w)", b.path, doing, kind, unwritten, err)
	case engine.ErrReadOnly:
		return fmt.Errorf("casebook %s: cannot %s: %w; %s: the file and its folder must be writable (%w)", b.path, doing, kind, unwritten, err)
	case engine.ErrBusy:
		return fmt.Errorf("casebook %s: cannot %s: %w; %s: another program has been writing for over %v, try again (%w)",
			b.path, doing, kind, unwritten, b.opt.Wait, err)
	}
	return fmt.Errorf("casebook %s: cannot %s: %w", b.path, doing, err)
}

// faultKind is the engine's error for one of SQLite or the system, or nil.
func faultKind(err error) error {
	var s *sqlite.Error
	if errors.As(err, &s) {
		switch s.Code() {
		case lib.SQLITE_IOERR_CORRUPTFS, lib.SQLITE_IOERR_DATA:
			return engine.ErrDamaged
		case lib.SQLITE_IOERR_WRITE, lib.SQLITE_IOERR_SHMSIZE, lib.SQLITE_IOERR_TRUNCATE:
			// A file-size limit or a quota: the disk is full for this user.
			return engine.ErrFull
		}
		switch s.Code() & 0xff {
		case lib.SQLITE_CORRUPT, lib.SQLITE_NOTADB:
			return engine.ErrDamaged
		case lib.SQLITE_FULL:
			return engine.ErrFull
		case lib.SQLITE_READONLY, lib.SQLITE_CANTOPEN, lib.SQLITE_PERM:
			return engine.ErrReadOnly
		case lib.SQLITE_BUSY, lib.SQLITE_LOCKED:
			return engine.ErrBusy
		}
		return nil
	}
	switch {
	case errors.Is(err, syscall.ENOSPC), errors.Is(err, syscall.EDQUOT), errors.Is(err, syscall.EFBIG):
		return engine.ErrFull
	case errors.Is(err, syscall.EROFS), errors.Is(err, fs.ErrPermission):
		return engine.ErrReadOnly
	}
	return nil
}

// damaged is the error for a file that cannot be trusted. It names the newest
// backup that is sound.
func (b *Book) damaged(what string) error {
	// Looked for once: to see whether a backup is sound, all of it is read.
	b.lookForBackup.Do(func() { b.soundest, b.lookFault = b.soundBackup() })
	backup, err := b.soundest, b.lookFault
	var advice string
	switch {
	case err != nil:
		advice = fmt.Sprintf("backups could not be looked for: %v", err)
	case backup != "":
		advice = fmt.Sprintf("move the file and its -wal away (keep them) and copy the backup %s to its place", backup)
	default:
		advice = "there is no sound backup beside it: keep the file, begin a new casebook and import your last export"
	}
	return &damage{path: b.path, what: what, advice: advice, Backup: backup}
}

// damage is the error for a damaged casebook.
type damage struct {
	path, what, advice string
	Backup             string // path of the newest sound backup, "" for none
}

func (d *damage) Error() string {
	return fmt.Sprintf("casebook %s: %v: %s; %s", d.path, engine.ErrDamaged, d.what, d.advice)
}

func (d *damage) Unwrap() error { return engine.ErrDamaged }
