package casework

import (
	"context"
	"errors"
	_ "image/jpeg" // the kinds of pictures that tablets take
	_ "image/png"
	"io/fs"
	"slices"
	"strings"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/asking"
	"slipcase/cmd/internal/desk/books"
	"slipcase/cmd/internal/desk/opened"
	"slipcase/cmd/internal/fault"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
)

// Photo is a picture of a component.
type Photo struct {
	Name      string // of its file: component, two hyphens, the key it was sent under
	Component string
	Title     string // of the component
	Type      string // image/jpeg or image/png
}

// AddPhoto keeps a picture of a component with the casebook and notes in the case that it is there. JPEG and PNG are told by their
// content. Fails with WrongUse for what is no picture or too large, with
// NotFound for a component that is not there, and as Note does.
func (d *Casework) AddPhoto(ctx context.Context, ref opened.Ref, component string, data []byte) (answer.Answer[opened.Written], error) {
	j, err := d.forWriting(ctx, ref)
	if err != nil {
		return answer.Answer[opened.Written]{}, err
	}
	defer j.Close()
	var known []string
	for _, c := range j.w.Model.Unit.Components {
		known = append(known, c.Name)
	}
	if err := fault.OneOf(component, known, wording.NoComponent); err != nil {
		return answer.Answer[opened.Written]{}, err
	}
	kind, err := books.PictureKind(data)
	if err != nil {
		return answer.Answer[opened.Written]{}, err
	}
	key := ref.Key
	if key == "" {
		key = books.NewKey()
	}
	name := component + "--" + key + "." + kind
	if !books.IsPhoto(name) || !books.IsCase(j.Rec.ID) {
		return answer.Answer[opened.Written]{}, fault.WrongUse(wording.BadPictureName())
	}
	album, err := d.keeper.Books.Album(ctx)
	if err == nil {
		err = album.PutPhoto(ctx, j.Rec.ID, name, data)
	}
	if err != nil {
		return answer.Answer[opened.Written]{}, d.keeper.Books.PhotoFailure(wording.PictureNotKept, err)
	}
	return j.Write(opened.Written{}, engine.Note{Text: wording.PhotoNote(j.w.Model, component, name)})
}

// takeAlong copies the pictures of a case to the one that it goes on as; those of
// the old one stay, for its notes name them.
func (d *Casework) takeAlong(ctx context.Context, id, now string) (int, error) {
	album, err := d.keeper.Books.Album(ctx)
	if err != nil {
		return 0, err
	}
	n, err := books.CopyPhotos(ctx, album, album, id, now)
	if err != nil {
		return n, d.keeper.Books.PhotoFailure(wording.PhotosNotTaken(id, now), err)
	}
	return n, nil
}

// Photos lists the pictures of a case, by component. Fails as Suspects does,
// but for clashing reports.
func (d *Casework) Photos(ctx context.Context, ref asking.CaseRef) ([]Photo, error) {
	w, err := d.open(ctx, ref)
	if err != nil {
		return nil, err
	}
	if !books.IsCase(w.Case.ID) {
		return []Photo{}, nil
	}
	album, err := d.keeper.Books.Album(ctx)
	if err != nil {
		return nil, err
	}
	names, err := album.Photos(ctx, w.Case.ID)
	if err != nil {
		return nil, d.keeper.Books.PhotoFailure(wording.PicturesNotRead, err)
	}
	out := []Photo{}
	for _, name := range names {
		if component, ok := books.PhotoComponent(name); ok {
			out = append(out, Photo{name, component, wording.ComponentOf(w.Model, component), photoType(name)})
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
	if !books.IsCase(id) || !books.IsPhoto(name) {
		return nil, "", none
	}
	album, err := d.keeper.Books.Album(ctx)
	if err != nil {
		return nil, "", err
	}
	data, err = album.Photo(ctx, id, name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, "", none.Because(err)
	case err != nil:
		return nil, "", d.keeper.Books.PhotoFailure(wording.PictureNotRead, err)
	}
	return data, photoType(name), nil
}
