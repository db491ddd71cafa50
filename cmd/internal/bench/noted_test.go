package bench

import (
	"context"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"slipcase/cmd/internal/desk/casework"
	"slipcase/cmd/internal/desk/opened"
	"slipcase/cmd/internal/notation"
	"slipcase/engine"
)

// What the case has from the driver is told as noted, and not entered again by a page
// that was read before; what another has noted is for the builder to tick.
func TestWordsAlreadyNoted(t *testing.T) {
	srv, d, _ := at(t, nil)
	id := openCase(t, d)
	note := func(by, finding string) {
		t.Helper()
		_, err := d.Note(context.Background(), opened.Ref{In: id}, casework.NoteInput{By: by,
			Items: []notation.Item{{Report: &engine.Report{Finding: finding, State: engine.Present}}}})
		if err != nil {
			t.Fatal(err)
		}
	}
	note(engine.Driver, "slips@D/3")
	note("road_test", "whine_in_neutral")
	words := "It slips in third. It whines in park and neutral. The fluid smells burnt."
	code, page := get(t, srv, "/case/"+id+"/ask?words="+url.QueryEscape(words), nil)
	if code != http.StatusOK {
		t.Fatalf("status %d: %s", code, page)
	}
	box := func(finding string) string {
		_, rest, ok := strings.Cut(page, `value="`+finding+`"`)
		if !ok {
			return ""
		}
		tag, _, _ := strings.Cut(rest, "</label>")
		return tag
	}
	if b := box("slips@D/3"); b != "" {
		t.Errorf("what the driver said already has a box: %s", b)
	}
	if _, rest, _ := strings.Cut(page, "Already noted</h2>"); !strings.Contains(strings.ToLower(rest), "slips in d/3") {
		t.Errorf("it is not told as noted: %s", page)
	}
	if b := box("whine_in_neutral"); b == "" || strings.Contains(b, "checked") || !strings.Contains(b, "already noted: ") {
		t.Errorf("what a road test noted: %q", b)
	}
	if b := box("fluid_burnt_smell"); !strings.Contains(b, " checked") || strings.Contains(b, "already noted") {
		t.Errorf("what nobody noted: %q", b)
	}

	// A page that was read before another tablet noted the same.
	note(engine.Driver, "fluid_burnt_smell")
	before := len(entries(t, d, id))
	form := url.Values{"key": {"0123456789abcdef"}, "words": {words}, "present": {"fluid_burnt_smell", "slips@D/3"}}
	if code, body := send(t, srv, "/case/"+id+"/tell", form, nil); code != http.StatusSeeOther {
		t.Fatalf("status %d: %s", code, body)
	}
	for _, e := range entries(t, d, id)[before:] {
		if e.Kind == string(engine.EntryReport) {
			t.Errorf("entered once more: %s", e.Words)
		}
	}
}

// Going back to a question and entering what is ticked there from before writes
// nothing; another answer does.
func TestAnsweredAsBefore(t *testing.T) {
	srv, d, _ := at(t, nil)
	id := openCase(t, d)
	if code, body := send(t, srv, "/case/"+id+"/tell", url.Values{"key": {"0123456789abcdef"}}, nil); code != http.StatusSeeOther {
		t.Fatalf("status %d: %s", code, body)
	}
	field := func(page, before string) string {
		_, rest, ok := strings.Cut(page, before)
		if !ok {
			t.Fatalf("no %s in %s", before, page)
		}
		value, _, _ := strings.Cut(rest, `"`)
		return value
	}
	_, page := get(t, srv, "/case/"+id+"/ask", nil)
	check := field(page, `name="check" value="`)
	choice := field(page, `type="checkbox" name="choice" value="`)
	answer := func(key string, choices ...string) int {
		t.Helper()
		form := url.Values{"key": {key}, "check": {check}, "how": {"choice"}, "choice": choices}
		if code, body := send(t, srv, "/case/"+id+"/ask", form, nil); code != http.StatusSeeOther {
			t.Fatalf("status %d: %s", code, body)
		}
		return len(entries(t, d, id))
	}
	once := answer("aaaaaaaaaaaaaaaa", choice)
	_, page = get(t, srv, "/case/"+id+"/ask?back=1", nil)
	if at := field(page, `name="check" value="`); at != check {
		t.Fatalf("back at %s, not at %s", at, check)
	}
	if _, box, _ := strings.Cut(page, `value="`+choice+`"`); !strings.HasPrefix(box, " checked") || !strings.Contains(box[:200], "answered before") {
		t.Errorf("the box: %.200s", box)
	}
	if n := answer("bbbbbbbbbbbbbbbb", choice); n != once {
		t.Errorf("%d entries after the same answer, %d before", n, once)
	}
	_, rest, _ := strings.Cut(page, `value="`+choice+`"`)
	if n := answer("cccccccccccccccc", field(rest, `name="choice" value="`)); n == once {
		t.Error("another answer was not entered")
	}
}

// What limits an answer stands above it on the page, too: here that the complaint is
// only written down.
func TestLimitsStandAboveTheAnswer(t *testing.T) {
	srv, d, _ := at(t, nil)
	ans, err := d.OpenCase(context.Background(), casework.OpenInput{Unit: "harrow-3", Title: "Job 5", Words: "it slips in third"})
	if err != nil {
		t.Fatal(err)
	}
	code, page := get(t, srv, "/case/"+ans.Data.ID, nil)
	limit, answer := strings.Index(page, "The complaint is only written down"), strings.Index(page, "Nothing is reported present yet")
	if code != http.StatusOK || limit < 0 || answer < limit || !strings.Contains(page, "The page Ask asks what the words mean") {
		t.Errorf("status %d, limit at %d, answer at %d: %s", code, limit, answer, page)
	}
}
