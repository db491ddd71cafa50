package edit

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"slipcase/knowledge/filelock"
)

// lockFile is the file of the shop's folder that programs which change it
// lock, from reading it to the journal's last word.
const lockFile = ".slipcase-lock"

// lockWait is how long one waits for another to be done.
const lockWait = 10 * time.Second

// lock takes the lock of a shop's folder, which it makes where there is none,
// and gives what releases it. made says that the folder was not there; one that
// holds nothing else in the end is taken away again.
func lock(shop string) (release func(), made bool, err error) {
	name := filepath.Join(shop, lockFile)
	for end := time.Now().Add(lockWait); ; time.Sleep(20 * time.Millisecond) {
		// The one who made it before may have taken it away again.
		if _, err := os.Stat(shop); errors.Is(err, fs.ErrNotExist) {
			made = true
		}
		if err := os.MkdirAll(shop, 0o755); err != nil {
			// A folder that is taken away while it is made anew is there for one
			// call and gone for the next.
			passing := errors.Is(err, fs.ErrExist) || errors.Is(err, fs.ErrNotExist)
			if info, bad := os.Stat(shop); passing && (bad != nil || info.IsDir()) && time.Now().Before(end) {
				continue
			}
			return nil, made, err
		}
		l, err := filelock.Open(name)
		if errors.Is(err, fs.ErrNotExist) && time.Now().Before(end) {
			continue // the folder went in between
		}
		if err != nil {
			return nil, made, err
		}
		ok, err := l.Try(true)
		if err != nil {
			l.Close()
			return nil, made, err
		}
		// The one who held it may have taken the file away with its folder.
		held, err1 := l.Stat()
		there, err2 := os.Stat(name)
		if ok && err1 == nil && err2 == nil && os.SameFile(held, there) {
			return func() {
				if made {
					if entries, err := os.ReadDir(shop); err == nil && len(entries) == 1 {
						os.Remove(name)
						os.Remove(shop)
					}
				}
				l.Close()
			}, made, nil
		}
		l.Close()
		if time.Now().After(end) {
			return nil, made, fmt.Errorf("edit: another program is changing %s; try again when it is done", shop)
		}
	}
}

// onlyOurs tells whether a folder holds nothing but the lock file and a
// journal that remembers nothing.
func onlyOurs(entries []fs.DirEntry, last *lastApply) bool {
	for _, e := range entries {
		if e.Name() != lockFile && !(e.Name() == Journal && len(last.Origins) == 0) {
			return false
		}
	}
	return true
}
