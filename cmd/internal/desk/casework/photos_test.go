package casework

import (
	"bytes"
	"context"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"slipcase/cmd/internal/desk/asking"
	"slipcase/cmd/internal/desk/opened"
	"slipcase/cmd/internal/notation"
	"slipcase/knowledge/casebook/postgres/throwaway"
)

func TestMain(m *testing.M) {
	code := m.Run()
	throwaway.Done()
	os.Exit(code)
}

// Photos of a casebook on a server are there for every bench, and travel to a
// casebook in a file and back.
func TestPhotosOnServer(t *testing.T) {
	ctx := t.Context()
	var picture bytes.Buffer
	if err := png.Encode(&picture, image.NewGray(image.Rect(0, 0, 8, 8))); err != nil {
		t.Fatal(err)
	}
	s := throwaway.Shared(t)
	desk := func(book string) *shop {
		d := newDesk(options{home: t.TempDir(), book: book})
		t.Cleanup(func() { d.keeper.Books.Close() })
		return d
	}
	shared := s.URL(s.Database(t))
	one, two, file, back := desk(shared), desk(shared), desk(""), desk(s.URL(s.Database(t)))
	ans, err := one.OpenCase(ctx, OpenInput{Unit: "harrow-3", Title: "x"})
	if err != nil {
		t.Fatal(err)
	}
	id := ans.Data.ID
	noted, err := one.AddPhoto(ctx, opened.Ref{In: id, Key: "first-photo-0001"}, "fluid", picture.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	if e := noted.Data.Entries; len(e) != 1 || e[0].Photo != "fluid--first-photo-0001.png" {
		t.Errorf("the entry of the photo: %+v", e)
	}
	if said, err := one.Note(ctx, opened.Ref{In: id}, NoteInput{Text: "see pump.png"}); err != nil || said.Data.Entries[0].Photo != "" {
		t.Errorf("a note is taken for a photo: %+v, %v", said.Data.Entries, err)
	}
	same := func(d *shop) {
		t.Helper()
		list, err := d.Photos(ctx, asking.CaseRef{In: id})
		if err != nil || len(list) != 1 {
			t.Fatalf("%v, %v", list, err)
		}
		if data, kind, err := d.ReadPhoto(ctx, id, list[0].Name); err != nil || kind != "image/png" || !bytes.Equal(data, picture.Bytes()) {
			t.Errorf("%d bytes, %s, %v", len(data), kind, err)
		}
	}
	same(two)
	from := two
	for _, to := range []*shop{file, back} {
		name := filepath.Join(t.TempDir(), "cases.jsonl")
		if out, err := from.ExportFile(ctx, name, nil, false); err != nil || out.Data.Photos != 1 {
			t.Fatalf("%+v, %v", out.Data, err)
		}
		if in, err := to.Import(ctx, name, nil); err != nil || in.Data.Photos != 1 {
			t.Fatalf("%+v, %v", in.Data, err)
		}
		same(to)
		from = to
	}
	before := one.books.Print(ctx)
	if again := one.books.Print(ctx); again != before {
		t.Errorf("nothing was written, %s became %s", before, again)
	}
	if _, err := two.Note(ctx, opened.Ref{In: id}, NoteInput{Text: "hums"}); err != nil {
		t.Fatal(err)
	}
	if one.books.Print(ctx) == before {
		t.Error("another bench wrote, and the casebook looks as before")
	}
}

// Photos go with an export, and come in with it: those that an entry names, and
// that are pictures; nothing else, and not through a link.
func TestPhotosTravel(t *testing.T) {
	ctx := context.Background()
	var picture bytes.Buffer
	if err := png.Encode(&picture, image.NewGray(image.Rect(0, 0, 8, 8))); err != nil {
		t.Fatal(err)
	}
	from, to := newDesk(options{home: t.TempDir()}), newDesk(options{home: t.TempDir()})
	ans, err := from.OpenCase(ctx, OpenInput{Unit: "harrow-3", Title: "x"})
	if err != nil {
		t.Fatal(err)
	}
	id := ans.Data.ID
	for _, key := range []string{"first-photo-0001", "second-photo-001", "third-photo-0001"} {
		if _, err := from.AddPhoto(ctx, opened.Ref{In: id, Key: key}, "fluid", picture.Bytes()); err != nil {
			t.Fatal(err)
		}
	}
	file := filepath.Join(t.TempDir(), "cases.jsonl")
	out, err := from.ExportFile(ctx, file, []string{id}, false)
	if err != nil || out.Data.Photos != 3 {
		t.Fatalf("%+v, %v", out.Data, err)
	}
	beside := filepath.Join(file+".photos", id)
	write := func(name string, data []byte) {
		t.Helper()
		os.Remove(filepath.Join(beside, name))
		if err := os.WriteFile(filepath.Join(beside, name), data, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	write("fluid--second-photo-001.png", []byte("<script>"))
	write("fluid--planted-photo-01.png", picture.Bytes())
	secret := filepath.Join(t.TempDir(), "secret.png")
	if err := os.WriteFile(secret, picture.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	link := filepath.Join(beside, "fluid--third-photo-0001.png")
	os.Remove(link)
	if err := os.Symlink(secret, link); err != nil {
		t.Skip("no links here: ", err)
	}
	in, err := to.Import(ctx, file, nil)
	if err != nil || in.Data.Cases != 1 || in.Data.Photos != 1 {
		t.Fatalf("%+v, %v", in.Data, err)
	}
	list, err := to.Photos(ctx, asking.CaseRef{In: id})
	if err != nil || len(list) != 1 || list[0].Name != "fluid--first-photo-0001.png" {
		t.Errorf("%v, %v", list, err)
	}
	if data, kind, err := to.ReadPhoto(t.Context(), id, list[0].Name); err != nil || kind != "image/png" || !bytes.Equal(data, picture.Bytes()) {
		t.Errorf("%d bytes, %s, %v", len(data), kind, err)
	}
	if again, err := to.Import(ctx, file, nil); err != nil || again.Data.Skipped != 1 {
		t.Errorf("%+v, %v", again.Data, err)
	}
}

// TestVariantTakesPhotosAlong: the pictures of a case that goes on as a case of
// its variant's unit are there too, in a casebook in a file and on a server; the
// old case keeps its own.
func TestVariantTakesPhotosAlong(t *testing.T) {
	ctx := t.Context()
	var picture bytes.Buffer
	if err := png.Encode(&picture, image.NewGray(image.Rect(0, 0, 8, 8))); err != nil {
		t.Fatal(err)
	}
	s := throwaway.Shared(t)
	for kind, book := range map[string]string{"file": "", "server": s.URL(s.Database(t))} {
		t.Run(kind, func(t *testing.T) {
			d := newDesk(options{home: t.TempDir(), book: book})
			t.Cleanup(func() { d.keeper.Books.Close() })
			ans, err := d.OpenCase(ctx, OpenInput{Unit: "northfork-4-late", Title: "x"})
			if err != nil {
				t.Fatal(err)
			}
			id := ans.Data.ID
			for _, key := range []string{"first-photo-0001", "other-photo-0002"} {
				if _, err := d.AddPhoto(ctx, opened.Ref{In: id, Key: key}, "fluid", picture.Bytes()); err != nil {
					t.Fatal(err)
				}
			}
			rec, err := d.RecordVariant(ctx, opened.Ref{In: id}, "", []notation.FeatureAnswer{{Feature: "tag", Text: "NF4-12"}})
			if err != nil || rec.Data.Photos != 2 || rec.Data.Carried != 2 {
				t.Fatalf("%+v, %v", rec.Data, err)
			}
			for _, where := range []string{id, rec.Data.GoesOn} {
				list, err := d.Photos(ctx, asking.CaseRef{In: where})
				if err != nil || len(list) != 2 {
					t.Fatalf("%s: %v, %v", where, list, err)
				}
				if data, _, err := d.ReadPhoto(ctx, where, list[0].Name); err != nil || !bytes.Equal(data, picture.Bytes()) {
					t.Errorf("%s: %d bytes, %v", where, len(data), err)
				}
			}
			// The pictures travel with an export of the new case: its notes name them.
			name := filepath.Join(t.TempDir(), "cases.jsonl")
			if out, err := d.ExportFile(ctx, name, []string{rec.Data.GoesOn}, false); err != nil || out.Data.Photos != 2 {
				t.Errorf("%+v, %v", out.Data, err)
			}
		})
	}
}
