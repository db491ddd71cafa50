//go:build unix

package casebook

import (
	"errors"
	"os"

	"golang.org/x/sys/unix"
)

// fileLock is a lock between processes that the system takes away with the
// process, however that ends. flock belongs to the open file, so two books in
// one process are as separate as two processes.
type fileLock struct{ file *os.File }

func openLock(path string) (*fileLock, error) {
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o666)
	if err != nil {
		return nil, err
	}
	return &fileLock{f}, nil
}

// try takes the lock, alone or shared, or turns the one held into the other.
// False means that another process is in the way.
func (l *fileLock) try(alone bool) (bool, error) {
	how := unix.LOCK_SH
	if alone {
		how = unix.LOCK_EX
	}
	for {
		err := unix.Flock(int(l.file.Fd()), how|unix.LOCK_NB)
		switch {
		case err == nil:
			return true, nil
		case errors.Is(err, unix.EINTR):
		case errors.Is(err, unix.EWOULDBLOCK):
			return false, nil
		default:
			return false, &os.PathError{Op: "lock", Path: l.file.Name(), Err: err}
		}
	}
}

func (l *fileLock) close() error { return l.file.Close() }
