// Package outfile writes the files that a use case is asked for.
package outfile

import (
	"bytes"
	"errors"
	"io"
	"io/fs"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/fault"
	"slipcase/cmd/internal/wording"
	"slipcase/knowledge/wholefile"
)

// Write writes a file whole or not at all. Fails with Conflict for one that is there
// and is not to be replaced, Unavailable where it cannot be written, and with the
// error of write.
func Write(name string, replace bool, write func(io.Writer) error) (*Count, error) {
	var count *Count
	var failed error // of what writes
	err := wholefile.Write(name, wholefile.Options{New: !replace}, func(w io.Writer) error {
		count = &Count{w: w}
		failed = write(count)
		return failed
	})
	switch {
	case failed != nil:
		return nil, failed
	case errors.Is(err, fs.ErrExist):
		return nil, fault.Conflict(wording.FileThere(name), answer.Do(answer.ReplaceFile))
	case err != nil && count == nil:
		return nil, fault.Fail(answer.Unavailable, wording.FileNotMade(name, err))
	case err != nil:
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

// Write passes on and counts; it fails as what it passes on to does.
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
