package archive

import (
	"context"
	"io"
	"io/fs"
	"os"
	"strings"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/books"
	"slipcase/cmd/internal/fault"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
)

// mostPhotoBytes bounds a picture that comes with an export.
const mostPhotoBytes = 12 << 20

// carriedPhotos is the folder of the pictures that go with an export.
func carriedPhotos(export string) string { return export + ".photos" }

// carryPhotos copies the pictures of cases into the folder beside an export:
// those of all for no ids. One that is there already is left as it is.
func (d *Archive) carryPhotos(ctx context.Context, export string, ids []string) (int, error) {
	from, err := d.keeper.Books.Album(ctx)
	if err != nil {
		return 0, err
	}
	if len(ids) == 0 {
		if ids, err = from.PhotoCases(ctx); err != nil {
			return 0, d.keeper.Books.PhotoFailure(wording.PhotosNotListed, err)
		}
	}
	to := books.FolderAlbum(carriedPhotos(export))
	n := 0
	for _, id := range ids {
		copied, err := books.CopyPhotos(ctx, from, to, id, id)
		if n += copied; err != nil {
			return n, fault.Fail(answer.Unavailable, wording.PhotosNotExported(err)).Because(err)
		}
	}
	return n, nil
}

// fetchPhotos takes the pictures that lie beside an export: those that are
// pictures, and that an entry of their case names. What else lies there is left
// there; nothing that is here is replaced.
func (d *Archive) fetchPhotos(ctx context.Context, book books.Book, export string) (int, error) {
	root, err := os.OpenRoot(carriedPhotos(export)) // links do not lead out of it
	if err != nil {
		return 0, nil // none came with it
	}
	defer root.Close()
	cases, err := fs.ReadDir(root.FS(), ".")
	if err != nil {
		return 0, nil
	}
	album, err := d.keeper.Books.Album(ctx)
	if err != nil {
		return 0, err
	}
	n := 0
	for _, c := range cases {
		if !books.IsCase(c.Name()) {
			continue
		}
		rec, err := book.Get(ctx, c.Name())
		if err != nil {
			continue
		}
		for _, e := range rec.Entries {
			note, ok := e.Body.(engine.Note)
			name := note.Text[strings.LastIndex(note.Text, " ")+1:]
			if !ok || !books.IsPhoto(name) {
				continue
			}
			data, err := readSome(root, c.Name()+"/"+name)
			if err != nil {
				continue
			}
			if kind, err := books.PictureKind(data); err != nil || !strings.HasSuffix(name, "."+kind) {
				continue
			}
			if err := album.PutPhoto(ctx, c.Name(), name, data); err != nil {
				return n, d.keeper.Books.PhotoFailure(wording.PhotosNotImported, err)
			}
			n++
		}
	}
	return n, nil
}

// readSome reads an ordinary file that is not too large for a picture.
func readSome(root *os.Root, name string) ([]byte, error) {
	f, err := root.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	if st, err := f.Stat(); err != nil || !st.Mode().IsRegular() || st.Size() > mostPhotoBytes {
		return nil, fs.ErrInvalid
	}
	return io.ReadAll(io.LimitReader(f, mostPhotoBytes))
}
