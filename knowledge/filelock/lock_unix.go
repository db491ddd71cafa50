//go:build unix

// Package filelock is a lock between processes that the system takes away with
// the process, however that ends.
package filelock

import (
	"errors"
	"os"

	"golang.org/x/sys/unix"
)

// Lock is a lock between processes that the system takes away with the
// process, however that ends. flock belongs to the open file, so two books in
// one process are as separate as two processes.
type Lock struct{ file *os.File }

// Open opens the file that the lock lives in, and makes it where there is none.
func Open(path string) (*Lock, error) {
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o666)
	if err != nil {
		return nil, err
	}
	return &Lock{f}, nil
}

// Try takes the lock, alone or shared, or turns the one held into the other.
// False means that another process is in the way.
func (l *Lock) Try(alone bool) (bool, error) {
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

// Close gives the lock up.
func (l *Lock) Close() error { return l.file.Close() }

// Stat is that of the open file.
func (l *Lock) Stat() (os.FileInfo, error) { return l.file.Stat() }
