package casework

import (
	"bytes"
	"context"
	"errors"
	"image"
	_ "image/jpeg" // the kinds of pictures that tablets take
	_ "image/png"
	"io"
	"io/fs"
	"os"
	"regexp"
	"slices"
	"strings"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/asking"
	"slipcase/cmd/internal/desk/books"
	"slipcase/cmd/internal/fault"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
)

// mostPixels is as many as a picture may have: what is shown is shown by a
// tablet.
const mostPixels = 60_000_000

// Photo is a picture of a component.
type Photo struct {
	Name      string // of its file: component, two hyphens, the key it was sent under
	Component string
	Title     string // of the component
	Type      string // image/jpeg or image/png
}

var photoName = regexp.MustCompile(`^([a-z][a-z0-9_]*)--[\w-]{8,96}\.(jpg|png)$`)

var caseID = regexp.MustCompile(`^\d\d-\d{4,}$`)

// AddPhoto keeps a picture of a component with the casebook and notes in the case that it is there. JPEG and PNG are told by their
// content. Fails with WrongUse for what is no picture or too large, with
// NotFound for a component that is not there, and as Note does.
func (d *Casework) AddPhoto(ctx context.Context, ref JobRef, component string, data []byte) (answer.Answer[Written], error) {
	j, err := d.forWriting(ctx, ref)
	if err != nil {
		return answer.Answer[Written]{}, err
	}
	defer j.close()
	var known []string
	for _, c := range j.w.Model.Unit.Components {
		known = append(known, c.Name)
	}
	if err := fault.OneOf(component, known, wording.NoComponent); err != nil {
		return answer.Answer[Written]{}, err
	}
	kind, err := pictureKind(data)
	if err != nil {
		return answer.Answer[Written]{}, err
	}
	key := ref.Key
	if key == "" {
		key = books.NewKey()
	}
	name := component + "--" + key + "." + kind
	if !photoName.MatchString(name) || !caseID.MatchString(j.rec.ID) {
		return answer.Answer[Written]{}, fault.WrongUse(wording.BadPictureName())
	}
	album, err := d.books.Album(ctx)
	if err == nil {
		err = album.PutPhoto(ctx, j.rec.ID, name, data)
	}
	if err != nil {
		return answer.Answer[Written]{}, d.books.PhotoFailure(wording.PictureNotKept, err)
	}
	return j.write(Written{}, engine.Note{Text: wording.PhotoNote(j.w.Model, component, name)})
}

// photoOf is the file that the note of a photo ends with, "" for any other note.
func photoOf(note string) string {
	if name := note[strings.LastIndexByte(note, ' ')+1:]; photoName.MatchString(name) {
		return name
	}
	return ""
}

// pictureKind tells by its content what may be kept: jpg or png. Fails with
// WrongUse for everything else.
func pictureKind(data []byte) (string, error) {
	c, kind, err := image.DecodeConfig(bytes.NewReader(data))
	switch {
	case err != nil || kind != "jpeg" && kind != "png":
		return "", fault.WrongUse(wording.NotPicture())
	case c.Width <= 0 || c.Height <= 0 || c.Width > mostPixels/c.Height:
		return "", fault.WrongUse(wording.PictureTooLarge(c.Width, c.Height))
	}
	return map[string]string{"jpeg": "jpg", "png": "png"}[kind], nil
}

// mostPhotoBytes bounds a picture that comes with an export.
const mostPhotoBytes = 12 << 20

// carriedPhotos is the folder of the pictures that go with an export.
func carriedPhotos(export string) string { return export + ".photos" }

// carryPhotos copies the pictures of cases into the folder beside an export:
// those of all for no ids. One that is there already is left as it is.
func (d *Casework) carryPhotos(ctx context.Context, export string, ids []string) (int, error) {
	from, err := d.books.Album(ctx)
	if err != nil {
		return 0, err
	}
	if len(ids) == 0 {
		if ids, err = from.PhotoCases(ctx); err != nil {
			return 0, d.books.PhotoFailure(wording.PhotosNotListed, err)
		}
	}
	to := books.FolderAlbum(carriedPhotos(export))
	n := 0
	for _, id := range ids {
		copied, err := copyPhotos(ctx, from, to, id, id)
		if n += copied; err != nil {
			return n, fault.Fail(answer.Unavailable, wording.PhotosNotExported(err)).Because(err)
		}
	}
	return n, nil
}

// takeAlong copies the pictures of a case to the one that it goes on as; those of
// the old one stay, for its notes name them.
func (d *Casework) takeAlong(ctx context.Context, id, now string) (int, error) {
	album, err := d.books.Album(ctx)
	if err != nil {
		return 0, err
	}
	n, err := copyPhotos(ctx, album, album, id, now)
	if err != nil {
		return n, d.books.PhotoFailure(wording.PhotosNotTaken(id, now), err)
	}
	return n, nil
}

// copyPhotos copies the pictures of a case that are named as ours are, under the
// id that the case has there.
func copyPhotos(ctx context.Context, from, to books.Album, id, there string) (n int, err error) {
	if !caseID.MatchString(id) {
		return 0, nil
	}
	names, err := from.Photos(ctx, id)
	if err != nil {
		return 0, err
	}
	for _, name := range names {
		if !photoName.MatchString(name) {
			continue
		}
		data, err := from.Photo(ctx, id, name)
		if err == nil {
			err = to.PutPhoto(ctx, there, name, data)
		}
		if err != nil {
			return n, err
		}
		n++
	}
	return n, nil
}

// fetchPhotos takes the pictures that lie beside an export: those that are
// pictures, and that an entry of their case names. What else lies there is left
// there; nothing that is here is replaced.
func (d *Casework) fetchPhotos(ctx context.Context, book books.Book, export string) (int, error) {
	root, err := os.OpenRoot(carriedPhotos(export)) // links do not lead out of it
	if err != nil {
		return 0, nil // none came with it
	}
	defer root.Close()
	cases, err := fs.ReadDir(root.FS(), ".")
	if err != nil {
		return 0, nil
	}
	album, err := d.books.Album(ctx)
	if err != nil {
		return 0, err
	}
	n := 0
	for _, c := range cases {
		if !caseID.MatchString(c.Name()) {
			continue
		}
		rec, err := book.Get(ctx, c.Name())
		if err != nil {
			continue
		}
		for _, e := range rec.Entries {
			note, ok := e.Body.(engine.Note)
			name := note.Text[strings.LastIndex(note.Text, " ")+1:]
			if !ok || !photoName.MatchString(name) {
				continue
			}
			data, err := readSome(root, c.Name()+"/"+name)
			if err != nil {
				continue
			}
			if kind, err := pictureKind(data); err != nil || !strings.HasSuffix(name, "."+kind) {
				continue
			}
			if err := album.PutPhoto(ctx, c.Name(), name, data); err != nil {
				return n, d.books.PhotoFailure(wording.PhotosNotImported, err)
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

// Photos lists the pictures of a case, by component. Fails as Suspects does,
// but for clashing reports.
func (d *Casework) Photos(ctx context.Context, ref asking.CaseRef) ([]Photo, error) {
	w, err := d.open(ctx, ref)
	if err != nil {
		return nil, err
	}
	if !caseID.MatchString(w.Case.ID) {
		return []Photo{}, nil
	}
	album, err := d.books.Album(ctx)
	if err != nil {
		return nil, err
	}
	names, err := album.Photos(ctx, w.Case.ID)
	if err != nil {
		return nil, d.books.PhotoFailure(wording.PicturesNotRead, err)
	}
	out := []Photo{}
	for _, name := range names {
		if m := photoName.FindStringSubmatch(name); m != nil {
			out = append(out, Photo{name, m[1], wording.ComponentOf(w.Model, m[1]), photoType(name)})
		}
	}
	slices.SortStableFunc(out, func(a, b Photo) int { return strings.Compare(a.Title, b.Title) })
	return out, nil
}

func photoType(name string) string {
	if strings.HasSuffix(name, ".png") {
		return "image/png"
	}
	return "image/jpeg"
}

// ReadPhoto gives a picture of a case with its type. Fails with NotFound.
func (d *Casework) ReadPhoto(ctx context.Context, id, name string) (data []byte, kind string, err error) {
	none := fault.Fail(answer.NotFound, wording.NoPicture())
	if !caseID.MatchString(id) || !photoName.MatchString(name) {
		return nil, "", none
	}
	album, err := d.books.Album(ctx)
	if err != nil {
		return nil, "", err
	}
	data, err = album.Photo(ctx, id, name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, "", none.Because(err)
	case err != nil:
		return nil, "", d.books.PhotoFailure(wording.PictureNotRead, err)
	}
	return data, photoType(name), nil
}
