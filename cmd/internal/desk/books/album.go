package books

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/fault"
	"slipcase/cmd/internal/wording"
	"slipcase/knowledge/casebook/postgres"
	"slipcase/knowledge/wholefile"
)

// Album is where the pictures of cases are kept: beside a casebook in a file,
// in the database of one on a server, where every bench sees them.
type Album interface {
	// PutPhoto keeps a picture; one that is there under the name stays.
	PutPhoto(ctx context.Context, id, name string, data []byte) error
	// Photo is a picture; fs.ErrNotExist where there is none.
	Photo(ctx context.Context, id, name string) ([]byte, error)
	// Photos are the names of the pictures of a case, sorted.
	Photos(ctx context.Context, id string) ([]string, error)
	// PhotoCases are the ids of the cases with pictures, sorted.
	PhotoCases(ctx context.Context) ([]string, error)
}

// Album is that of the casebook. Fails as the casebook does.
func (d *Books) Album(ctx context.Context) (Album, error) {
	if d.server == "" {
		return FolderAlbum(d.book + ".photos"), nil
	}
	b, err := d.Standing(ctx)
	if err != nil {
		return nil, err
	}
	return b.(*postgres.Book), nil
}

// PhotoFailure says why pictures cannot be had.
func (d *Books) PhotoFailure(f func(error) wording.Fault, err error) error {
	if d.server != "" {
		return d.Failure(err)
	}
	return fault.Fail(answer.Unavailable, f(err)).Because(err)
}

// FolderAlbum is a folder with one folder for each case in it. Ids and names
// are checked by who calls.
type FolderAlbum string

// PutPhoto keeps a picture for its owner alone; one that is there stays. It fails
// with the error of the file system, as do the others; see PhotoFailure.
func (f FolderAlbum) PutPhoto(_ context.Context, id, name string, data []byte) error {
	folder := filepath.Join(string(f), id)
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return err
	}
	err := wholefile.Bytes(filepath.Join(folder, name), wholefile.Options{New: true}, data)
	if errors.Is(err, fs.ErrExist) {
		return nil
	}
	return err
}

// Photo reads a picture; it fails with fs.ErrNotExist where there is none.
func (f FolderAlbum) Photo(_ context.Context, id, name string) ([]byte, error) {
	return os.ReadFile(filepath.Join(string(f), id, name))
}

// Photos lists those of a case; it fails with the error of the file system.
func (f FolderAlbum) Photos(_ context.Context, id string) ([]string, error) {
	return namesIn(filepath.Join(string(f), id))
}

// PhotoCases lists the cases that have any; it fails with the error of the file
// system.
func (f FolderAlbum) PhotoCases(context.Context) ([]string, error) { return namesIn(string(f)) }

// namesIn lists a folder, which need not be there.
func namesIn(folder string) ([]string, error) {
	files, err := os.ReadDir(folder)
	if err != nil && !os.IsNotExist(err) {
		return nil, err
	}
	var names []string
	for _, f := range files {
		names = append(names, f.Name())
	}
	return names, nil
}
