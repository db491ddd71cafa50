package desk

import (
	"bytes"
	"context"
	"fmt"
	"image"
	_ "image/jpeg" // the kinds of pictures that tablets take
	_ "image/png"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
	"slipcase/knowledge/casebook/sqlite"
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

// photoFolder is where the pictures of a case are: beside the casebook.
func (d *Desk) photoFolder(id string) string { return filepath.Join(d.book+".photos", id) }

// AddPhoto keeps a picture of a component beside the casebook, for its owner
// alone, and notes in the case that it is there. JPEG and PNG are told by their
// content. Fails with WrongUse for what is no picture or too large, with
// NotFound for a component that is not there, and as Note does.
func (d *Desk) AddPhoto(ctx context.Context, ref JobRef, component string, data []byte) (Answer[Written], error) {
	j, err := d.forWriting(ctx, ref)
	if err != nil {
		return Answer[Written]{}, err
	}
	defer j.close()
	var known []string
	for _, c := range j.w.m.Unit.Components {
		known = append(known, c.Name)
	}
	if err := oneOf("component", component, known); err != nil {
		return Answer[Written]{}, err
	}
	kind, err := pictureKind(data)
	if err != nil {
		return Answer[Written]{}, err
	}
	key := ref.Key
	if key == "" {
		key = newKey()
	}
	name := component + "--" + key + "." + kind
	if !photoName.MatchString(name) || !caseID.MatchString(j.rec.ID) {
		return Answer[Written]{}, wrongUse("a picture cannot be kept under that name", "")
	}
	folder := d.photoFolder(j.rec.ID)
	if err = os.MkdirAll(folder, 0o700); err == nil {
		err = writeOnce(filepath.Join(folder, name), data)
	}
	if err != nil {
		return Answer[Written]{}, answer.Fail(answer.Unavailable, "the picture cannot be kept: "+err.Error(), "make the folder beside the casebook writable").Because(err)
	}
	return j.write(Written{}, engine.Note{Text: fmt.Sprintf("photo of %s: %s", wording.ComponentOf(j.w.m, component), name)})
}

// pictureKind tells by its content what may be kept: jpg or png. Fails with
// WrongUse for everything else.
func pictureKind(data []byte) (string, error) {
	c, kind, err := image.DecodeConfig(bytes.NewReader(data))
	switch {
	case err != nil || kind != "jpeg" && kind != "png":
		return "", wrongUse("that is no picture that can be kept", "JPEG and PNG can be")
	case c.Width <= 0 || c.Height <= 0 || c.Width > mostPixels/c.Height:
		return "", wrongUse(fmt.Sprintf("the picture is too large: %d by %d points", c.Width, c.Height), "take it with fewer")
	}
	return map[string]string{"jpeg": "jpg", "png": "png"}[kind], nil
}

// mostPhotoBytes bounds a picture that comes with an export.
const mostPhotoBytes = 12 << 20

// carriedPhotos is the folder of the pictures that go with an export.
func carriedPhotos(export string) string { return export + ".photos" }

// carryPhotos copies the pictures of cases into the folder beside an export:
// those of all for no ids. One that is there already is left as it is.
func (d *Desk) carryPhotos(export string, ids []string) (int, error) {
	from := d.book + ".photos"
	files, err := filepath.Glob(filepath.Join(from, "*", "*"))
	if err != nil {
		return 0, err
	}
	n := 0
	for _, file := range files {
		id, name := filepath.Base(filepath.Dir(file)), filepath.Base(file)
		if !caseID.MatchString(id) || !photoName.MatchString(name) || len(ids) > 0 && !slices.Contains(ids, id) {
			continue
		}
		data, err := os.ReadFile(file)
		if err == nil {
			err = putPhoto(filepath.Join(carriedPhotos(export), id), name, data)
		}
		if err != nil {
			return n, answer.Fail(answer.Unavailable, "the photos cannot be written beside the export: "+err.Error(), "the cases are written; copy the folder of photos yourself").Because(err)
		}
		n++
	}
	return n, nil
}

func putPhoto(folder, name string, data []byte) error {
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return err
	}
	if _, err := os.Lstat(filepath.Join(folder, name)); err == nil {
		return nil
	}
	return writeOnce(filepath.Join(folder, name), data)
}

// fetchPhotos takes the pictures that lie beside an export: those that are
// pictures, and that an entry of their case names. What else lies there is left
// there; nothing that is here is replaced.
func (d *Desk) fetchPhotos(ctx context.Context, book *sqlite.Book, export string) (int, error) {
	root, err := os.OpenRoot(carriedPhotos(export)) // links do not lead out of it
	if err != nil {
		return 0, nil // none came with it
	}
	defer root.Close()
	cases, err := fs.ReadDir(root.FS(), ".")
	if err != nil {
		return 0, nil
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
			if err := putPhoto(d.photoFolder(c.Name()), name, data); err != nil {
				return n, answer.Fail(answer.Unavailable, "the photos cannot be kept: "+err.Error(), "the cases are imported; make the folder beside the casebook writable and import again").Because(err)
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

// writeOnce writes a file for its owner alone, whole or not at all.
func writeOnce(path string, data []byte) error {
	f, err := os.CreateTemp(filepath.Dir(path), ".photo-*") // 0600
	if err != nil {
		return err
	}
	defer os.Remove(f.Name())
	_, err = f.Write(data)
	if err == nil {
		err = f.Sync()
	}
	if e := f.Close(); err == nil {
		err = e
	}
	if err != nil {
		return err
	}
	return os.Rename(f.Name(), path)
}

// Photos lists the pictures of a case, by component. Fails as Suspects does,
// but for clashing reports.
func (d *Desk) Photos(ctx context.Context, ref CaseRef) ([]Photo, error) {
	w, err := d.open(ctx, ref)
	if err != nil {
		return nil, err
	}
	files, err := os.ReadDir(d.photoFolder(w.c.ID))
	if err != nil && !os.IsNotExist(err) {
		return nil, answer.Fail(answer.Unavailable, "the pictures cannot be read: "+err.Error(), "").Because(err)
	}
	out := []Photo{}
	for _, f := range files {
		if m := photoName.FindStringSubmatch(f.Name()); m != nil {
			out = append(out, Photo{f.Name(), m[1], wording.ComponentOf(w.m, m[1]), photoType(f.Name())})
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
func (d *Desk) ReadPhoto(id, name string) (data []byte, kind string, err error) {
	none := answer.Fail(answer.NotFound, "there is no such picture", "")
	if !caseID.MatchString(id) || !photoName.MatchString(name) {
		return nil, "", none
	}
	data, err = fs.ReadFile(os.DirFS(d.photoFolder(id)), name)
	if err != nil {
		return nil, "", none.Because(err)
	}
	return data, photoType(name), nil
}
