package bench

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"testing"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"slipcase/cmd/internal/desk/casework"
	"slipcase/cmd/internal/desk/opened"
	"slipcase/cmd/internal/notation"
	"slipcase/engine"
)

// readme is where the pictures of the README are.
const readme = "../../../testdata/pictures"

// mostPicture bounds the bytes of each.
const mostPicture = 150 << 10

// The pictures of the README are there and small. SLIPCASE_README=1 makes them
// anew, of the demo's job: the page, the sheet, a drawing.
func TestReadmePictures(t *testing.T) {
	text, err := os.ReadFile("../../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	names := []string{"page", "sheet", "drawing"}
	if os.Getenv("SLIPCASE_README") != "" {
		drawReadme(t)
	}
	for _, name := range names {
		file := filepath.Join(readme, name+".png")
		st, err := os.Stat(file)
		if err != nil {
			t.Error(err)
			continue
		}
		if st.Size() > mostPicture {
			t.Errorf("%s has %d bytes", file, st.Size())
		}
		if want := "testdata/pictures/" + name + ".png"; !bytes.Contains(text, []byte(want)) {
			t.Errorf("the README does not show %s", want)
		}
	}
}

func drawReadme(t *testing.T) {
	srv, d, _ := at(t, nil)
	ctx := context.Background()
	ans, err := d.OpenCase(ctx, casework.OpenInput{Unit: "northfork-4", Title: "Slips in fourth on the highway", Vehicle: "delivery van, 138,000 miles", Words: "slips in fourth on the highway, worse after an hour"})
	if err != nil {
		t.Fatal(err)
	}
	id := ans.Data.ID
	for by, said := range map[string]map[string]engine.State{
		"driver":    {"slips@D/4": engine.Present, "history_high_mileage": engine.Present, "slips@D/1": engine.Absent, "slips@D/2": engine.Absent, "slips@D/3": engine.Absent, "no_drive@R/R": engine.Absent, "limp_mode": engine.Absent},
		"road_test": {"slips@D/4:hot": engine.Present, "no_engine_braking@2/2": engine.Present, "slips@D/3": engine.Absent, "slips@R/R": engine.Absent, "creeps@N/N": engine.Absent},
		"eye":       {"lining_in_pan": engine.Absent, "fluid_burnt_smell": engine.Absent, "fluid_low": engine.Absent},
	} {
		in := casework.NoteInput{By: by}
		for finding, state := range said {
			in.Items = append(in.Items, notation.Item{Report: &engine.Report{Finding: finding, State: state}})
		}
		if _, err := d.Note(ctx, opened.Ref{In: id}, in); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.MkdirAll(readme, 0o755); err != nil {
		t.Fatal(err)
	}
	for _, p := range []struct {
		name, path    string
		width, height int64
	}{{"page", "/case/" + id, 1000, 760}, {"sheet", "/case/" + id + "/sheet", 840, 1060}, {"drawing", "/case/" + id + "/drawing?row=D/2", 900, 0}} {
		x := tablet(t, p.width)
		run(t, x, p.name, chromedp.Navigate(srv.URL+p.path))
		var shot []byte
		if p.height == 0 {
			shot = ask(t, x, p.name, chromedp.Screenshot(chromedp.CSS("svg")))
		} else {
			shot = ask(t, x, p.name, chromedp.Action[[]byte](func(ctx context.Context, _ *chromedp.Target) ([]byte, error) {
				got, err := chromedp.Call(ctx, page.CaptureScreenshot, page.CaptureScreenshotParams{Clip: &page.Viewport{Width: float64(p.width), Height: float64(p.height), Scale: 1}, CaptureBeyondViewport: new(true)})
				return got.Data, err
			}))
		}
		if err := os.WriteFile(filepath.Join(readme, p.name+".png"), shot, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}
