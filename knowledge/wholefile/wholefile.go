// Package wholefile writes files so that at every moment the old one or the new
// one is there whole, also after a crash or a full disk.
package wholefile

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// Options say how a file is written. The zero value writes a file for its owner
// alone (0600) and replaces what has the name, a link as well.
type Options struct {
	New        bool        // what has the name already stays: the error is fs.ErrExist
	Follow     bool        // replace the file that a link leads to, not the link
	KeepMode   bool        // the file replaced keeps its permissions
	Mode       fs.FileMode // permissions otherwise; 0 is 0600
	MakeFolder bool        // make the folder where there is none (0755)
}

// InPlace is for files that people keep and edit: rules, units, settings.
var InPlace = Options{Follow: true, KeepMode: true, Mode: 0o644, MakeFolder: true}

// Write writes a file beside the one it replaces, puts it on the disk and gives
// it the name. An error of write is returned as it is.
func Write(name string, o Options, write func(io.Writer) error) (err error) {
	if o.New {
		if _, err := os.Lstat(name); err == nil {
			return &fs.PathError{Op: "write", Path: name, Err: fs.ErrExist}
		}
	}
	if o.Follow {
		if real, err := filepath.EvalSymlinks(name); err == nil {
			name = real
		}
	}
	mode := o.Mode
	if mode == 0 {
		mode = 0o600
	}
	if info, err := os.Stat(name); err == nil && o.KeepMode {
		mode = info.Mode().Perm()
	}
	folder := filepath.Dir(name)
	if o.MakeFolder {
		if err := os.MkdirAll(folder, 0o755); err != nil {
			return err
		}
	}
	f, err := os.CreateTemp(folder, ".slipcase-*.tmp")
	if err != nil {
		return err
	}
	defer os.Remove(f.Name()) // gone already when all went well
	defer f.Close()
	if err := write(f); err != nil {
		return err
	}
	if err := f.Chmod(mode); err != nil {
		return err
	}
	if err := f.Sync(); err != nil {
		return err
	}
	if err := f.Close(); err != nil {
		return err
	}
	if o.New {
		err = Place(f.Name(), name)
	} else {
		err = os.Rename(f.Name(), name)
	}
	if err != nil {
		return err
	}
	// Some systems cannot sync a folder; the file has its name.
	if d, err := os.Open(folder); err == nil {
		d.Sync()
		d.Close()
	}
	return nil
}

// Bytes writes a file from memory.
func Bytes(name string, o Options, text []byte) error {
	return Write(name, o, func(w io.Writer) error {
		_, err := w.Write(text)
		return err
	})
}

// Place gives a whole file its final name in the same folder and replaces
// nothing, not even what came there a moment ago: the error is then
// fs.ErrExist. The name it had may stay; whoever calls removes it.
func Place(whole, name string) error {
	err := os.Link(whole, name)
	if err == nil || errors.Is(err, fs.ErrExist) {
		return err
	}
	// Not every file system has links.
	if _, err := os.Lstat(name); err == nil {
		return &fs.PathError{Op: "place", Path: name, Err: fs.ErrExist}
	}
	return os.Rename(whole, name)
}
