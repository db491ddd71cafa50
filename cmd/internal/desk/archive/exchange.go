package archive

import (
	"context"
	"errors"
	"io"
	"os"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/outfile"
	"slipcase/cmd/internal/fault"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
)

// Export writes cases as JSON Lines to w: those named, or all. Fails with
// NotFound, Unavailable or Damaged as the casebook is.
func (d *Archive) Export(ctx context.Context, w io.Writer, ids []string) error {
	book, err := d.keeper.Books.Open(ctx, false)
	if err != nil {
		return err
	}
	defer book.Close()
	return d.keeper.Books.Failure(book.Export(ctx, w, ids...))
}

// Exported says what an export to a file wrote.
type Exported struct {
	File   string `json:"file"`
	Bytes  int64  `json:"bytes"`
	Cases  int    `json:"cases"`
	Photos int    `json:"photos"` // in the folder FILE.photos beside it
}

// ExportFile writes cases to a file, whole or not at all, and their photos into
// a folder beside it. Fails with Conflict for a file that is there and is not to be
// replaced, Unavailable where it cannot be written, NotFound for a case that is not
// there, else as the casebook does.
func (d *Archive) ExportFile(ctx context.Context, name string, ids []string, replace bool) (answer.Answer[Exported], error) {
	count, err := outfile.Write(name, replace, func(w io.Writer) error { return d.Export(ctx, w, ids) })
	if err != nil {
		return answer.Answer[Exported]{}, err
	}
	photos, err := d.carryPhotos(ctx, name, ids)
	if err != nil {
		return answer.Answer[Exported]{}, err
	}
	return answer.Answer[Exported]{Data: Exported{File: name, Bytes: count.Bytes, Cases: count.Cases, Photos: photos}}, nil
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
func (d *Archive) Import(ctx context.Context, name string, r io.Reader) (answer.Answer[Imported], error) {
	file := r == nil
	if file {
		f, err := os.Open(name)
		if err != nil {
			return answer.Answer[Imported]{}, fault.Fail(answer.Unavailable, wording.FileNotRead(name, err), answer.Do(answer.NameExport, "stream"))
		}
		defer f.Close()
		if st, err := f.Stat(); err == nil && st.IsDir() {
			return answer.Answer[Imported]{}, fault.Fail(answer.Unavailable, wording.IsFolder(name), answer.Do(answer.NameExport))
		}
		r = f
	}
	book, err := d.keeper.Books.Open(ctx, true)
	if err != nil {
		return answer.Answer[Imported]{}, err
	}
	defer book.Close()
	res, err := book.Import(ctx, name, r)
	if err != nil {
		err = d.keeper.Books.Failure(err)
		var refused *engine.ImportError
		if f := answer.AsFailure(err); errors.As(err, &refused) {
			f.Messages = append(f.Messages, fault.Error(wording.NothingImported()))
			return answer.Answer[Imported]{}, f
		}
		return answer.Answer[Imported]{}, err
	}
	photos := 0
	if file {
		if photos, err = d.fetchPhotos(ctx, book, name); err != nil {
			return answer.Answer[Imported]{}, err
		}
	}
	return answer.Answer[Imported]{Data: Imported{Photos: photos, File: name, Book: book.Path(), Cases: res.Cases, Entries: res.Entries, Skipped: res.Skipped}}, nil
}
