// Package outfile writes the files that a use case is asked for.
package outfile

import (
	"bytes"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/fault"
	"slipcase/cmd/internal/wording"
)

// Write writes a file whole or not at all. A file that is there is kept
// unless it is to be replaced: Conflict.
func Write(name string, replace bool, write func(io.Writer) error) (*Count, error) {
	if !replace {
		if _, err := os.Lstat(name); err == nil {
			return nil, fault.Conflict(wording.FileThere(name), answer.Do(answer.ReplaceFile))
		}
	}
	f, err := os.CreateTemp(filepath.Dir(name), "."+filepath.Base(name)+".*")
	if err != nil {
		return nil, fault.Fail(answer.Unavailable, wording.FileNotMade(name, err))
	}
	defer os.Remove(f.Name()) // gone already when all went well
	defer f.Close()
	count := &Count{w: f}
	if err := write(count); err != nil {
		return nil, err
	}
	err = f.Sync()
	if closed := f.Close(); err == nil {
		err = closed
	}
	if err == nil && !replace {
		// Link refuses to replace what has come there meanwhile; not every file
		// system has links.
		if err = os.Link(f.Name(), name); err != nil && !errors.Is(err, fs.ErrExist) {
			err = os.Rename(f.Name(), name)
		}
	} else if err == nil {
		err = os.Rename(f.Name(), name)
	}
	if err != nil {
		return nil, fault.Fail(answer.Unavailable, wording.FileNotWritten(name, err))
	}
	return count, nil
}

// Count counts bytes and the lines that open a case.
type Count struct {
	w     io.Writer
	Bytes int64
	Cases int
	begun []byte // of a line that a write cut
}

// Write passes on and counts.
func (c *Count) Write(p []byte) (int, error) {
	n, err := c.w.Write(p)
	c.Bytes += int64(n)
	c.begun = append(c.begun, p[:n]...)
	for {
		line, rest, whole := bytes.Cut(c.begun, []byte("\n"))
		if !whole {
			break
		}
		if bytes.HasPrefix(line, []byte(`{"kind":"case"`)) {
			c.Cases++
		}
		c.begun = rest
	}
	return n, err
}
