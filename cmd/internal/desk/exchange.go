package desk

import (
	"bytes"
	"context"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
)

// Export writes cases as JSON Lines to w: those named, or all. Fails with
// NotFound, Unavailable or Damaged as the casebook is.
func (d *Desk) Export(ctx context.Context, w io.Writer, ids []string) error {
	book, err := d.openBook(ctx, false)
	if err != nil {
		return err
	}
	defer book.Close()
	return d.bookFailure(book.Export(ctx, w, ids...))
}

// Exported says what an export to a file wrote.
type Exported struct {
	File   string `json:"file"`
	Bytes  int64  `json:"bytes"`
	Cases  int    `json:"cases"`
	Photos int    `json:"photos"` // in the folder FILE.photos beside it
}

// ExportFile writes cases to a file, whole or not at all, and their photos into
// a folder beside it. A file that is there is kept unless it is to be replaced:
// Conflict.
func (d *Desk) ExportFile(ctx context.Context, name string, ids []string, replace bool) (Answer[Exported], error) {
	count, err := writeNew(name, replace, func(w io.Writer) error { return d.Export(ctx, w, ids) })
	if err != nil {
		return Answer[Exported]{}, err
	}
	photos, err := d.carryPhotos(ctx, name, ids)
	if err != nil {
		return Answer[Exported]{}, err
	}
	return Answer[Exported]{Data: Exported{File: name, Bytes: count.bytes, Cases: count.cases, Photos: photos}}, nil
}

// writeNew writes a file whole or not at all. A file that is there is kept
// unless it is to be replaced: Conflict.
func writeNew(name string, replace bool, write func(io.Writer) error) (*counter, error) {
	if !replace {
		if _, err := os.Lstat(name); err == nil {
			return nil, conflict(wording.FileThere(name), answer.Do(answer.ReplaceFile))
		}
	}
	f, err := os.CreateTemp(filepath.Dir(name), "."+filepath.Base(name)+".*")
	if err != nil {
		return nil, fail(answer.Unavailable, wording.FileNotMade(name, err))
	}
	defer os.Remove(f.Name()) // gone already when all went well
	defer f.Close()
	count := &counter{w: f}
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
		return nil, fail(answer.Unavailable, wording.FileNotWritten(name, err))
	}
	return count, nil
}

// counter counts bytes and the lines that open a case.
type counter struct {
	w     io.Writer
	bytes int64
	cases int
	begun []byte // of a line that a write cut
}

func (c *counter) Write(p []byte) (int, error) {
	n, err := c.w.Write(p)
	c.bytes += int64(n)
	c.begun = append(c.begun, p[:n]...)
	for {
		line, rest, whole := bytes.Cut(c.begun, []byte("\n"))
		if !whole {
			break
		}
		if bytes.HasPrefix(line, []byte(`{"kind":"case"`)) {
			c.cases++
		}
		c.begun = rest
	}
	return n, err
}

// Imported says what an import brought.
type Imported struct {
	File    string `json:"file"`
	Book    string `json:"book"`
	Cases   int    `json:"cases"`
	Entries int    `json:"entries"`
	Skipped int    `json:"skipped"` // here already, identical
	Photos  int    `json:"photos"`  // that came with it
}

// Import reads cases from what Export wrote, all or none; the casebook is made
// if need be. Fails with Rules for lines that are no cases, with Unavailable
// where a file cannot be read or written.
func (d *Desk) Import(ctx context.Context, name string, r io.Reader) (Answer[Imported], error) {
	file := r == nil
	if file {
		f, err := os.Open(name)
		if err != nil {
			return Answer[Imported]{}, fail(answer.Unavailable, wording.FileNotRead(name, err), answer.Do(answer.NameExport, "stream"))
		}
		defer f.Close()
		if st, err := f.Stat(); err == nil && st.IsDir() {
			return Answer[Imported]{}, fail(answer.Unavailable, wording.IsFolder(name), answer.Do(answer.NameExport))
		}
		r = f
	}
	book, err := d.openBook(ctx, true)
	if err != nil {
		return Answer[Imported]{}, err
	}
	defer book.Close()
	res, err := book.Import(ctx, name, r)
	if err != nil {
		err = d.bookFailure(err)
		var refused *engine.ImportError
		if f := answer.AsFailure(err); errors.As(err, &refused) {
			f.Messages = append(f.Messages, failing(wording.NothingImported()))
			return Answer[Imported]{}, f
		}
		return Answer[Imported]{}, err
	}
	photos := 0
	if file {
		if photos, err = d.fetchPhotos(ctx, book, name); err != nil {
			return Answer[Imported]{}, err
		}
	}
	return Answer[Imported]{Data: Imported{Photos: photos, File: name, Book: book.Path(), Cases: res.Cases, Entries: res.Entries, Skipped: res.Skipped}}, nil
}

// FileWritten is a file that a face had written.
type FileWritten struct {
	File  string `json:"file"`
	Bytes int64  `json:"bytes"`
}

// WriteFile writes what a face made to a file; one that is there is kept unless
// it is to be replaced: Conflict. Fails with Unavailable where it cannot.
func (d *Desk) WriteFile(name string, text []byte, replace bool) (Answer[FileWritten], error) {
	count, err := writeNew(name, replace, func(w io.Writer) error {
		_, err := w.Write(text)
		return err
	})
	if err != nil {
		return Answer[FileWritten]{}, err
	}
	return Answer[FileWritten]{Data: FileWritten{name, count.bytes}}, nil
}
