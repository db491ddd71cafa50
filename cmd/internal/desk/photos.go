package desk

import (
	"bytes"
	"context"
	"fmt"
	"image"
	_ "image/jpeg" // the kinds of pictures that tablets take
	_ "image/png"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"slipcase/cmd/internal/answer"
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
	c, kind, err := image.DecodeConfig(bytes.NewReader(data))
	switch {
	case err != nil || kind != "jpeg" && kind != "png":
		return Answer[Written]{}, wrongUse("that is no picture that can be kept", "JPEG and PNG can be")
	case c.Width <= 0 || c.Height <= 0 || c.Width > mostPixels/c.Height:
		return Answer[Written]{}, wrongUse(fmt.Sprintf("the picture is too large: %d by %d points", c.Width, c.Height), "take it with fewer")
	}
	key := ref.Key
	if key == "" {
		key = newKey()
	}
	name := component + "--" + key + map[string]string{"jpeg": ".jpg", "png": ".png"}[kind]
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
