package desk

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"

	"slipcase/rules"
)

// Formatted is a file in the usual layout.
type Formatted struct {
	Name    string
	Text    []byte
	Changed bool
}

// Format lays a text out in the usual way; a text that cannot be read is a
// Failure. Name stands in messages.
func (d *Desk) Format(name string, src []byte) (Formatted, error) {
	d.texts[name] = src
	out, err := rules.Format(name, src)
	var bad *rules.SyntaxError
	if errors.As(err, &bad) {
		return Formatted{}, &Failure{Diagnostics: bad.Diagnostics, Err: err}
	}
	if err != nil {
		return Formatted{}, AsFailure(err)
	}
	return Formatted{name, out, !bytes.Equal(src, out)}, nil
}

// FormatFile reads a file and lays it out; with write it replaces the file,
// whole or not at all.
func (d *Desk) FormatFile(name string, write bool) (Formatted, error) {
	src, err := d.readFile(name)
	if err != nil {
		return Formatted{}, err
	}
	f, err := d.Format(name, src)
	if err != nil || !write || !f.Changed {
		return f, err
	}
	return f, replaceFile(name, f.Text)
}

// replaceFile writes beside the file and renames, so that a reader sees the
// old text or the new one.
func replaceFile(name string, text []byte) (err error) {
	// A link keeps being one: what it points to is replaced.
	if target, e := filepath.EvalSymlinks(name); e == nil {
		name = target
	}
	st, err := os.Stat(name)
	if err != nil {
		return err
	}
	tmp, err := os.CreateTemp(filepath.Dir(name), "."+filepath.Base(name)+".*")
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			tmp.Close()
			os.Remove(tmp.Name())
		}
	}()
	if _, err = tmp.Write(text); err != nil {
		return err
	}
	if err = tmp.Chmod(st.Mode().Perm()); err != nil {
		return err
	}
	if err = tmp.Sync(); err != nil {
		return err
	}
	if err = tmp.Close(); err != nil {
		return err
	}
	return os.Rename(tmp.Name(), name)
}
