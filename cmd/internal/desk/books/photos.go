package books

import (
	"bytes"
	"context"
	"image"
	_ "image/jpeg" // the kinds of pictures that tablets take
	_ "image/png"
	"regexp"
	"strings"

	"slipcase/cmd/internal/fault"
	"slipcase/cmd/internal/wording"
)

// photoName is the file of a picture: component, two hyphens, the key it was sent
// under.
var photoName = regexp.MustCompile(`^([a-z][a-z0-9_]*)--[\w-]{8,96}\.(jpg|png)$`)

// caseID is what ids of cases look like: whatever else names a folder is no case.
var caseID = regexp.MustCompile(`^\d\d-\d{4,}$`)

// IsCase tells whether an id is that of a case, and so may name a folder.
func IsCase(id string) bool { return caseID.MatchString(id) }

// IsPhoto tells whether a name is that of a picture, and so may name a file.
func IsPhoto(name string) bool { return photoName.MatchString(name) }

// PhotoComponent is the component that a picture is of; false for a name that is
// none of a picture.
func PhotoComponent(name string) (component string, ok bool) {
	m := photoName.FindStringSubmatch(name)
	if m == nil {
		return "", false
	}
	return m[1], true
}

// PhotoOf is the file that the note of a photo ends with, "" for any other note.
func PhotoOf(note string) string {
	if name := note[strings.LastIndexByte(note, ' ')+1:]; photoName.MatchString(name) {
		return name
	}
	return ""
}

// mostPixels is as many as a picture may have: what is shown is shown by a
// tablet.
const mostPixels = 60_000_000

// PictureKind tells by its content what may be kept: jpg or png. Fails with
// WrongUse for everything else.
func PictureKind(data []byte) (string, error) {
	c, kind, err := image.DecodeConfig(bytes.NewReader(data))
	switch {
	case err != nil || kind != "jpeg" && kind != "png":
		return "", fault.WrongUse(wording.NotPicture())
	case c.Width <= 0 || c.Height <= 0 || c.Width > mostPixels/c.Height:
		return "", fault.WrongUse(wording.PictureTooLarge(c.Width, c.Height))
	}
	return map[string]string{"jpeg": "jpg", "png": "png"}[kind], nil
}

// CopyPhotos copies the pictures of a case that are named as ours are, under the
// id that the case has there. Fails with the error of the album.
func CopyPhotos(ctx context.Context, from, to Album, id, there string) (n int, err error) {
	if !IsCase(id) {
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
