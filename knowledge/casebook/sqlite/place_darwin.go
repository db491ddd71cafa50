package sqlite

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"golang.org/x/sys/unix"
)

// networkShare names the file system when path lies on a network share, else
// "". The file need not exist, its folder must.
func networkShare(path string) (string, error) {
	real, err := filepath.EvalSymlinks(path)
	if errors.Is(err, fs.ErrNotExist) {
		real, err = filepath.EvalSymlinks(filepath.Dir(path))
	}
	if err != nil {
		return "", err
	}
	var st unix.Statfs_t
	if err := unix.Statfs(real, &st); err != nil {
		return "", &os.PathError{Op: "statfs", Path: real, Err: err}
	}
	name := unix.ByteSliceToString(st.Fstypename[:])
	if isNetwork(name) || st.Flags&unix.MNT_LOCAL == 0 {
		return name, nil
	}
	return "", nil
}
