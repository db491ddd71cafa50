// Package filelock is a lock between processes that the system takes away with
// the process, however that ends.
package filelock

import (
	"errors"
	"os"

	"golang.org/x/sys/windows"
)

// Lock is a lock between processes that the system takes away with the
// process, however that ends.
type Lock struct {
	file *os.File
	held bool
}

// Open opens the file that the lock lives in, and makes it where there is none.
func Open(path string) (*Lock, error) {
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o666)
	if err != nil {
		return nil, err
	}
	return &Lock{file: f}, nil
}

// Try takes the lock, alone or shared, or turns the one held into the other.
// False means that another process is in the way.
func (l *Lock) Try(alone bool) (bool, error) {
	h := windows.Handle(l.file.Fd())
	if l.held {
		if err := windows.UnlockFileEx(h, 0, 1, 0, new(windows.Overlapped)); err != nil {
			return false, &os.PathError{Op: "unlock", Path: l.file.Name(), Err: err}
		}
		l.held = false
	}
	how := uint32(windows.LOCKFILE_FAIL_IMMEDIATELY)
	if alone {
		how |= windows.LOCKFILE_EXCLUSIVE_LOCK
	}
	err := windows.LockFileEx(h, how, 0, 1, 0, new(windows.Overlapped))
	switch {
	case err == nil:
		l.held = true
		return true, nil
	case errors.Is(err, windows.ERROR_LOCK_VIOLATION), errors.Is(err, windows.ERROR_IO_PENDING):
		return false, nil
	}
	return false, &os.PathError{Op: "lock", Path: l.file.Name(), Err: err}
}

// Close gives the lock up.
func (l *Lock) Close() error { return l.file.Close() }

// Stat is that of the open file.
func (l *Lock) Stat() (os.FileInfo, error) { return l.file.Stat() }
