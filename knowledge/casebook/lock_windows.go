package casebook

import (
	"errors"
	"os"

	"golang.org/x/sys/windows"
)

// fileLock is a lock between processes that the system takes away with the
// process, however that ends.
type fileLock struct {
	file *os.File
	held bool
}

func openLock(path string) (*fileLock, error) {
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o666)
	if err != nil {
		return nil, err
	}
	return &fileLock{file: f}, nil
}

// try takes the lock, alone or shared, or turns the one held into the other.
// False means that another process is in the way.
func (l *fileLock) try(alone bool) (bool, error) {
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

func (l *fileLock) close() error { return l.file.Close() }
