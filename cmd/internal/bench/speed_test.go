package bench

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/jpeg"
	"math/rand/v2"
	"net/http"
	"net/http/httptest"
	"testing"

	"slipcase/cmd/internal/desk"
	"slipcase/cmd/internal/desk/asking"
	"slipcase/cmd/internal/desk/casework"
	"slipcase/cmd/internal/desk/opened"
)

// long opens a case of 500 entries: driver's words, readings, steps, notes.
func long(t testing.TB, d *desk.Desk, unit string, n int) string {
	t.Helper()
	ctx := context.Background()
	ans, err := d.OpenCase(ctx, casework.OpenInput{Unit: unit, Title: "a long job", Words: "slips in fourth"})
	if err != nil {
		t.Fatal(err)
	}
	id := ans.Data.ID
	for i := range n {
		if _, err := d.Note(ctx, opened.Ref{In: id}, casework.NoteInput{Text: fmt.Sprintf("note %d: the pan was looked at again", i)}); err != nil {
			t.Fatal(err)
		}
	}
	return id
}

// ask1 asks without a network.
func ask1(b testing.TB, h http.Handler, path string) int {
	b.Helper()
	w := httptest.NewRecorder()
	r := httptest.NewRequest(http.MethodGet, "http://127.0.0.1"+path, nil)
	h.ServeHTTP(w, r)
	if w.Code != http.StatusOK {
		b.Fatalf("%s: %d %s", path, w.Code, w.Body)
	}
	return w.Body.Len()
}

// noise is a photo that does not compress well, as those of a camera.
func noise(t testing.TB, w, h int) []byte {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, w, h))
	r := rand.New(rand.NewPCG(1, 1))
	for i := range img.Pix {
		img.Pix[i] = byte(r.Uint32())
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// Pages of a case of 500 entries, and of one just opened.
func BenchmarkPages(b *testing.B) {
	home := b.TempDir()
	d := desk.New(desk.Options{Home: home})
	h := New(Options{Desk: d, Hosts: []string{"127.0.0.1"}}).Handler()
	for _, n := range []int{5, 500} {
		id := long(b, d, "four-gearset-8", n)
		for _, p := range []string{"", "/ask", "/note", "/plan", "/chart", "/drawing", "/parts", "/log", "/close", "/sheet", "/why?part=fluid"} {
			b.Run(fmt.Sprintf("%d%s", n, p), func(b *testing.B) {
				size := ask1(b, h, "/case/"+id+p)
				b.ReportMetric(float64(size), "bytes")
				for b.Loop() {
					ask1(b, h, "/case/"+id+p)
				}
			})
			b.Run(fmt.Sprintf("%d%s/afresh", n, p), func(b *testing.B) {
				for b.Loop() {
					h := New(Options{Desk: d, Hosts: []string{"127.0.0.1"}}).Handler()
					ask1(b, h, "/case/"+id+p)
				}
			})
		}
	}
	id := long(b, d, "four-gearset-8", 1)
	parts, err := d.Parts(context.Background(), asking.CaseRef{In: id})
	if err != nil {
		b.Fatal(err)
	}
	photo := noise(b, 2400, 1600)
	if _, err := d.AddPhoto(context.Background(), opened.Ref{In: id, Key: "a-photo-of-a-part"}, parts[0].Component, photo); err != nil {
		b.Fatal(err)
	}
	b.Run("photo", func(b *testing.B) {
		b.ReportMetric(float64(len(photo)), "bytes")
		for b.Loop() {
			ask1(b, h, "/case/"+id+"/photo/"+parts[0].Component+"--a-photo-of-a-part.jpg")
		}
	})
	b.Run("home", func(b *testing.B) {
		for b.Loop() {
			ask1(b, h, "/")
		}
	})
}
