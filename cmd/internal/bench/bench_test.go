package bench

import (
	"bytes"
	"context"
	"html"
	"html/template"
	"image"
	"image/png"
	"io"
	"log/slog"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"slipcase/cmd/internal/desk"
	"slipcase/cmd/internal/desk/archive"
	"slipcase/cmd/internal/desk/asking"
	"slipcase/cmd/internal/desk/casework"
	"slipcase/cmd/internal/desk/opened"
	"slipcase/cmd/internal/sheet"
)

// at serves a new casebook.
func at(t testing.TB, gate *Gate) (*httptest.Server, *desk.Desk, string) {
	t.Helper()
	home := t.TempDir()
	d := desk.New(desk.Options{Home: home})
	s := New(Options{Desk: d, Gate: gate, Hosts: []string{"127.0.0.1"}})
	srv := httptest.NewServer(s.Handler())
	t.Cleanup(srv.Close)
	return srv, d, home
}

// openCase gives a case on that server.
func openCase(t testing.TB, d *desk.Desk) string {
	t.Helper()
	ans, err := d.OpenCase(context.Background(), casework.OpenInput{Unit: "harrow-3", Title: "a <b>job</b>"})
	if err != nil {
		t.Fatal(err)
	}
	return ans.Data.ID
}

func send(t testing.TB, srv *httptest.Server, path string, form url.Values, change func(*http.Request)) (int, string) {
	t.Helper()
	r, err := http.NewRequest(http.MethodPost, srv.URL+path, strings.NewReader(form.Encode()))
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	r.Header.Set("Origin", srv.URL)
	if change != nil {
		change(r)
	}
	return do(t, r)
}

func do(t testing.TB, r *http.Request) (int, string) {
	t.Helper()
	res, err := http.DefaultTransport.RoundTrip(r)
	if err != nil {
		t.Fatal(err)
	}
	defer res.Body.Close()
	b, err := io.ReadAll(res.Body)
	if err != nil {
		t.Fatal(err)
	}
	return res.StatusCode, string(b)
}

func get(t testing.TB, srv *httptest.Server, path string, change func(*http.Request)) (int, string) {
	t.Helper()
	r, err := http.NewRequest(http.MethodGet, srv.URL+path, nil)
	if err != nil {
		t.Fatal(err)
	}
	if change != nil {
		change(r)
	}
	return do(t, r)
}

func entries(t testing.TB, d *desk.Desk, id string) []opened.EntryLine {
	t.Helper()
	h, err := d.CaseHistory(context.Background(), id)
	if err != nil {
		t.Fatal(err)
	}
	return h.Data.Entries
}

// Every page of a case opens, says nothing of the machine, and runs nothing
// that was typed.
func TestPages(t *testing.T) {
	srv, d, home := at(t, nil)
	id := openCase(t, d)
	for _, p := range []string{"", "/ask", "/ask?words=slips", "/note", "/note?find=slips", "/plan", "/chart", "/chart?e.front_clutch=dead", "/drawing", "/drawing?row=D/2", "/sheet", "/parts", "/log", "/close", "/why?part=fluid", "/why?part=rear_band", "/why?part=nothing"} {
		code, body := get(t, srv, "/case/"+id+p, nil)
		if code != http.StatusOK && p != "/why?part=nothing" {
			t.Errorf("%s: status %d: %s", p, code, body)
		}
		if strings.Contains(body, home) || strings.Contains(body, "<b>job</b>") {
			t.Errorf("%s shows a path of the machine or markup that was typed", p)
		}
	}
	if code, body := get(t, srv, "/case/26-9999", nil); code != http.StatusNotFound || strings.Contains(body, home) {
		t.Errorf("an unknown case: status %d, %s", code, body)
	}
}

// A page that was looked at shows what was entered since, by another program,
// and what a changed rule says; each tablet's form has a key of its own.
func TestPagesAreNotStale(t *testing.T) {
	srv, d, home := at(t, nil)
	id := openCase(t, d)
	key := func(body string) string {
		m := regexp.MustCompile(`name="key" value="([0-9a-f]{24})[-"]`).FindStringSubmatch(body)
		if m == nil {
			t.Fatalf("no key in %s", body)
		}
		return m[1]
	}
	_, before := get(t, srv, "/case/"+id+"/note", nil)
	_, again := get(t, srv, "/case/"+id+"/note", nil)
	if a, b := key(before), key(again); a == b || strings.ReplaceAll(before, a, "") != strings.ReplaceAll(again, b, "") {
		t.Error("the same page twice: the keys are the same, or the rest is not")
	}
	other := desk.New(desk.Options{Home: home})
	if _, err := other.Note(t.Context(), opened.Ref{In: id}, casework.NoteInput{Text: "from the command line"}); err != nil {
		t.Fatal(err)
	}
	if _, body := get(t, srv, "/case/"+id+"/log", nil); !strings.Contains(body, "from the command line") {
		t.Error("the log does not show what another program wrote")
	}
	get(t, srv, "/case/"+id+"/note", nil)
	rule := "language = 1\noverride {\n}\nfinding \"whistles_oddly\" {\n  title = \"whistles oddly\"\n}\n"
	if err := os.MkdirAll(filepath.Join(home, "rules", "rules"), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(home, "rules", "rules", "own.hcl"), []byte(rule), 0o600); err != nil {
		t.Fatal(err)
	}
	if code, _ := get(t, srv, "/case/"+id+"/note", nil); code != http.StatusUnprocessableEntity {
		t.Errorf("status %d with a broken rule of the shop", code)
	}
	if err := os.RemoveAll(filepath.Join(home, "casebook.db")); err != nil {
		t.Fatal(err)
	}
	if code, _ := get(t, srv, "/case/"+id+"/log", nil); code != http.StatusNotFound {
		t.Errorf("status %d with the casebook gone", code)
	}
}

// The drawings on the chart page have the faults that the chart has.
func TestDrawingHasTheFaults(t *testing.T) {
	srv, d, _ := at(t, nil)
	id := openCase(t, d)
	drawn := func(page string) string {
		t.Helper()
		_, body := get(t, srv, "/case/"+id+page, nil)
		m := regexp.MustCompile(`<img class="drawing" src="([^"]*row=[^"]*)"`).FindStringSubmatch(body)
		if m == nil {
			t.Fatalf("no power flow on %s", page)
		}
		code, svg := get(t, srv, html.UnescapeString(m[1]), nil)
		if code != http.StatusOK {
			t.Fatalf("status %d: %s", code, svg)
		}
		return svg
	}
	if sound, dead := drawn("/chart?row=R/R"), drawn("/chart?row=R/R&e.front_clutch=dead"); sound == dead || !strings.Contains(dead, "no drive") {
		t.Error("the drawing does not show the fault of the chart")
	}
}

// A page that fails says so in plain words, with a reference under which the
// log tells why; of what went wrong inside, and of the page half made, nothing
// is shown. An entry is written all the same, or not at all.
func TestMistake(t *testing.T) {
	home := t.TempDir()
	d := desk.New(desk.Options{Home: home})
	var log bytes.Buffer
	s := New(Options{Desk: d, Hosts: []string{"127.0.0.1"}, Log: slog.New(slog.NewTextHandler(&log, nil))})
	bad := template.Must(template.Must(template.New("base.html").Parse(`half a page {{template "page" .}}`)).Parse(`{{define "page"}}{{.Data.NoSuchField}}{{end}}`))
	s.pages["note"], s.pages["home"] = bad, bad
	h := s.Handler()
	srv := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.URL.Path == "/drill" {
			s.guard(http.HandlerFunc(func(http.ResponseWriter, *http.Request) { panic("inner words") })).ServeHTTP(w, r)
			return
		}
		h.ServeHTTP(w, r)
	}))
	t.Cleanup(srv.Close)
	id := openCase(t, d)
	for _, p := range []string{"/case/" + id + "/note", "/", "/drill"} {
		log.Reset()
		code, body := get(t, srv, p, nil)
		m := regexp.MustCompile(`under the reference ([0-9a-f]{8})\.`).FindStringSubmatch(body)
		if code != http.StatusInternalServerError || m == nil {
			t.Fatalf("%s: status %d: %s", p, code, body)
		}
		for _, inner := range []string{"half a page", "NoSuchField", "template", "inner words", home} {
			if strings.Contains(body, inner) {
				t.Errorf("%s shows %q: %s", p, inner, body)
			}
		}
		if told := log.String(); !strings.Contains(told, "reference="+m[1]) || !strings.Contains(told, "NoSuchField") && !strings.Contains(told, "inner words") {
			t.Errorf("%s: the log says %q", p, told)
		}
		if !strings.Contains(body, "</html>") {
			t.Errorf("%s is half a page: %s", p, body)
		}
	}
	form := url.Values{"key": {"0123456789abcdef"}, "text": {"smells burnt"}, "then": {"note"}}
	for range 2 {
		if code, body := send(t, srv, "/case/"+id+"/note", form, nil); code != http.StatusSeeOther {
			t.Errorf("status %d: %s", code, body)
		}
	}
	if list := entries(t, d, id); len(list) != 1 {
		t.Errorf("%d entries: %v", len(list), list)
	}
	s.pages["fault"] = bad
	if code, body := get(t, srv, "/case/"+id+"/note", nil); code != http.StatusInternalServerError || strings.Contains(body, "NoSuchField") || strings.Contains(body, "half a page") {
		t.Errorf("with the page of mistakes failing too: status %d: %s", code, body)
	}
}

// What is likely but hardly behind the complaint stands below what can be, and
// the page says where the one ends and the other begins: once, and not where
// nothing is complained of.
func TestRankSaysWhatExplains(t *testing.T) {
	srv, d, _ := at(t, nil)
	open, err := d.OpenCase(t.Context(), casework.OpenInput{Unit: "northfork-4", Title: "slips in fourth"})
	if err != nil {
		t.Fatal(err)
	}
	id := open.Data.ID
	const rest = "not likely the cause of this complaint"
	if _, body := get(t, srv, "/case/"+id, nil); strings.Contains(body, rest) {
		t.Error("without a complaint")
	}
	send(t, srv, "/case/"+id+"/note", url.Values{"key": {"finding-001"}, "by": {"road_test"}, "f.slips@D/4:hot": {"present"}, "f.no_engine_braking@2/2": {"present"}, "f.slips@D/3": {"absent"}, "f.slips@R/R": {"absent"}, "f.creeps@N/N": {"absent"}}, nil)
	_, body := get(t, srv, "/case/"+id, nil)
	ans, err := d.Ranking(t.Context(), asking.CaseRef{In: id}, howMany)
	if err != nil {
		t.Fatal(err)
	}
	above := 0
	for _, s := range ans.Data.Suspects {
		if s.Explains {
			above++
		}
	}
	before, _, found := strings.Cut(body, rest)
	if !found || strings.Count(body, rest) != 1 || strings.Count(before, `class="name"`) != above || above == 0 || above == howMany {
		t.Errorf("%d of %d can be behind it; the page says it %d times, after %d", above, howMany, strings.Count(body, rest), strings.Count(before, `class="name"`))
	}
}

// Answers to a case are worked out anew when its facts change, and only then: a
// note, a photo, a question passed over leave them, and taking an entry back
// finds those of before.
func TestKeptByFacts(t *testing.T) {
	home := t.TempDir()
	d := desk.New(desk.Options{Home: home})
	s := New(Options{Desk: d, Hosts: []string{"127.0.0.1"}})
	srv := httptest.NewServer(s.Handler())
	t.Cleanup(srv.Close)
	id := openCase(t, d)
	worked := func() (n int) {
		s.kept.mu.Lock()
		defer s.kept.mu.Unlock()
		for name := range s.kept.of {
			if strings.HasSuffix(name, " suspects") {
				n++
			}
		}
		return n
	}
	look := func(what string, want int) {
		t.Helper()
		if code, body := get(t, srv, "/case/"+id, nil); code != http.StatusOK {
			t.Fatalf("%s: status %d: %s", what, code, body)
		}
		if n := worked(); n != want {
			t.Errorf("%s: suspects were worked out %d times, want %d", what, n, want)
		}
	}
	sent := func(to, key string, form url.Values) {
		t.Helper()
		form.Set("key", key)
		if code, body := send(t, srv, "/case/"+id+"/"+to, form, nil); code != http.StatusSeeOther {
			t.Fatalf("%s: status %d: %s", to, code, body)
		}
	}
	look("at first", 1)
	sent("note", "a-note-0001", url.Values{"text": {"smells burnt"}})
	look("after a note", 1)
	sent("note", "finding-001", url.Values{"f.slips@D/3": {"present"}})
	look("after a finding", 2)
	before := worked()
	sent("undo", "take-back-1", url.Values{"entry": {"2"}})
	look("after it was taken back", before)
	sent("undo", "take-back-2", url.Values{"entry": {"3"}})
	look("after that was taken back too", before)
	sent("done", "step-000001", url.Values{"step": {"pan_off"}})
	look("after a step", before+1)
	sent("close", "closing-001", url.Values{"outcome": {"abandoned"}, "text": {"sold"}})
	look("after closing", before+2)
}

// What is sent twice under one key is there once, also at the same moment.
func TestSentTwiceIsThereOnce(t *testing.T) {
	srv, d, _ := at(t, nil)
	id := openCase(t, d)
	form := url.Values{"key": {"0123456789abcdef"}, "text": {"smells burnt"}}
	var all sync.WaitGroup
	for range 4 {
		all.Go(func() {
			if code, body := send(t, srv, "/case/"+id+"/note", form, nil); code != http.StatusSeeOther {
				t.Errorf("status %d: %s", code, body)
			}
		})
	}
	all.Wait()
	if list := entries(t, d, id); len(list) != 1 {
		t.Errorf("%d entries: %v", len(list), list)
	}
	open := url.Values{"key": {"fedcba9876543210"}, "unit": {"harrow-3"}, "title": {"x"}}
	for range 4 {
		all.Go(func() {
			if code, body := send(t, srv, "/open", open, nil); code != http.StatusSeeOther {
				t.Errorf("opening: status %d: %s", code, body)
			}
		})
	}
	all.Wait()
	if list, err := d.Cases(context.Background(), archive.CasesInput{}); err != nil || list.Data.Total != 2 {
		t.Errorf("%d cases, %v; want 2", list.Data.Total, err)
	}
}

// Two tablets answer the same question: neither answer is lost.
func TestTwoTabletsLoseNothing(t *testing.T) {
	srv, d, _ := at(t, nil)
	id := openCase(t, d)
	send(t, srv, "/case/"+id+"/tell", url.Values{"key": {"complaint-000001"}, "words": {"slips"}}, nil)
	var all sync.WaitGroup
	for _, who := range []string{"first", "second"} {
		all.Go(func() {
			for i := range 5 {
				code, body := send(t, srv, "/case/"+id+"/note", url.Values{"key": {who + "tablet" + string(rune('0'+i))}, "text": {who + string(rune('0'+i))}}, nil)
				if code != http.StatusSeeOther {
					t.Errorf("%s %d: status %d: %s", who, i, code, body)
				}
			}
		})
	}
	all.Wait()
	seen := map[string]bool{}
	for _, e := range entries(t, d, id) {
		seen[e.Words] = true
	}
	for _, who := range []string{"first", "second"} {
		for i := range 5 {
			if w := "note: " + who + string(rune('0'+i)); !seen[w] {
				t.Errorf("%q is lost", w)
			}
		}
	}
}

// An entry is told to every page of its case within a second.
func TestNewsWithinASecond(t *testing.T) {
	srv, d, _ := at(t, nil)
	id := openCase(t, d)
	ctx, cancel := context.WithTimeout(t.Context(), 20*time.Second)
	defer cancel()
	r, _ := http.NewRequestWithContext(ctx, http.MethodGet, srv.URL+"/case/"+id+"/live", nil)
	res, err := http.DefaultTransport.RoundTrip(r)
	if err != nil {
		t.Fatal(err)
	}
	defer res.Body.Close()
	b := make([]byte, 64)
	if n, err := res.Body.Read(b); err != nil || string(b[:n]) != "retry: 500\ndata: 0\n\n" {
		t.Fatalf("%q, %v", b[:n], err)
	}
	if _, err := d.Note(ctx, opened.Ref{In: id}, casework.NoteInput{Text: "from the command line"}); err != nil {
		t.Fatal(err)
	}
	from := time.Now()
	if n, err := res.Body.Read(b); err != nil || string(b[:n]) != "data: 1\n\n" {
		t.Fatalf("%q, %v", b[:n], err)
	}
	if took := time.Since(from); took > 2*time.Second {
		t.Errorf("told after %v", took)
	}
}

// A stranger gets nothing: no case, no entry, no other page's form.
func TestStrangers(t *testing.T) {
	gate := NewGate()
	srv, d, _ := at(t, gate)
	id := openCase(t, d)
	note := url.Values{"key": {"0123456789abcdef"}, "text": {"x"}}
	let := func(r *http.Request) { r.AddCookie(&http.Cookie{Name: cookie, Value: gate.pass}) }
	for name, c := range map[string]struct {
		want   int
		change func(*http.Request)
	}{
		"no cookie":      {http.StatusForbidden, func(*http.Request) {}},
		"wrong cookie":   {http.StatusForbidden, func(r *http.Request) { r.AddCookie(&http.Cookie{Name: cookie, Value: "x"}) }},
		"another host":   {http.StatusMisdirectedRequest, func(r *http.Request) { let(r); r.Host = "elsewhere.example" }},
		"another page":   {http.StatusForbidden, func(r *http.Request) { let(r); r.Header.Set("Origin", "http://elsewhere.example") }},
		"no origin":      {http.StatusForbidden, func(r *http.Request) { let(r); r.Header.Del("Origin") }},
		"across sites":   {http.StatusForbidden, func(r *http.Request) { let(r); r.Header.Set("Sec-Fetch-Site", "cross-site") }},
		"another method": {http.StatusMethodNotAllowed, func(r *http.Request) { let(r); r.Method = http.MethodDelete }},
		"far too much": {http.StatusBadRequest, func(r *http.Request) {
			let(r)
			r.Body = io.NopCloser(io.LimitReader(strings.NewReader("text="+strings.Repeat("x", 1<<20)), 1<<20))
			r.ContentLength = -1
		}},
		"let in, in turn": {http.StatusSeeOther, let},
	} {
		if code, _ := send(t, srv, "/case/"+id+"/note", note, c.change); code != c.want {
			t.Errorf("%s: status %d, want %d", name, code, c.want)
		}
	}
	// What whoever has no cookie gets, page by page; entries are refused alike.
	for p, want := range map[string]int{
		"/": 403, "/nothing": 403, "/drill": 403, "/drill/0123456789abcdef": 403, "/case/" + id: 403, "/case/99-0001": 403,
		"/case/" + id + "/ask": 403, "/case/" + id + "/note": 403, "/case/" + id + "/plan": 403, "/case/" + id + "/chart": 403, "/case/" + id + "/why": 403,
		"/case/" + id + "/log": 403, "/case/" + id + "/close": 403, "/case/" + id + "/parts": 403, "/case/" + id + "/live": 403,
		"/case/" + id + "/drawing": 403, "/case/" + id + "/sheet": 403, "/case/" + id + "/photo/x": 403,
		"/web/bench.css": 200, "/web/bench.js": 200, "/web/base.html": 404, "/web/..%2fserver.go": 404, "/in/wrong": 403, "/in/": 404,
	} {
		if code, body := get(t, srv, p, nil); code != want || strings.Contains(body, "job") && want != 200 {
			t.Errorf("%s: status %d for a stranger, want %d", p, code, want)
		}
	}
	for _, p := range []string{"/open", "/who", "/drill", "/drill/0123456789abcdef", "/case/" + id + "/ask", "/case/" + id + "/tell", "/case/" + id + "/done", "/case/" + id + "/part",
		"/case/" + id + "/cause", "/case/" + id + "/undo", "/case/" + id + "/close", "/case/" + id + "/reopen", "/case/" + id + "/photo"} {
		if code, _ := send(t, srv, p, note, nil); code != http.StatusForbidden {
			t.Errorf("POST %s: status %d for a stranger", p, code)
		}
	}
	if list := entries(t, d, id); len(list) != 1 {
		t.Errorf("%d entries, want the one of the tablet that is in", len(list))
	}
}

// The sheet of a case has a code that takes a tablet of the shop back to it,
// where tablets come over the network; the code holds no token.
func TestSheetHasTheCode(t *testing.T) {
	gate := NewGate()
	srv, d, _ := at(t, gate)
	id := openCase(t, d)
	code, body := get(t, srv, "/case/"+id+"/sheet", func(r *http.Request) { r.AddCookie(&http.Cookie{Name: cookie, Value: gate.pass}) })
	address := srv.URL + "/case/" + id
	if code != http.StatusOK || !strings.Contains(body, string(sheet.Code(address))) || !strings.Contains(body, address) || strings.Contains(body, gate.Token()) {
		t.Errorf("status %d; the sheet has no code of %s", code, address)
	}
	open, d2, _ := at(t, nil)
	if _, body := get(t, open, "/case/"+openCase(t, d2)+"/sheet", nil); strings.Contains(body, "code of this case") {
		t.Error("a code for a page that no tablet reaches")
	}
}

// The right token lets in, a wrong one does not, many wrong ones close the
// door for a minute, and a new token puts everybody out.
func TestToken(t *testing.T) {
	gate := NewGate()
	now := time.Now()
	gate.now = func() time.Time { return now }
	srv, _, _ := at(t, gate)
	old := gate.pass
	enter := func() int { code, _ := get(t, srv, "/in/"+gate.Token(), nil); return code }
	if code := enter(); code != http.StatusOK {
		t.Errorf("the right token: status %d", code)
	}
	for range mostWrong {
		if code, _ := get(t, srv, "/in/wrong", nil); code != http.StatusForbidden {
			t.Errorf("a wrong token: status %d", code)
		}
	}
	if code := enter(); code != http.StatusTooManyRequests {
		t.Errorf("after many wrong ones: status %d", code)
	}
	now = now.Add(wrongTime + time.Second)
	if code := enter(); code != http.StatusOK {
		t.Errorf("a minute later: status %d", code)
	}
	gate.Rotate()
	if code, _ := get(t, srv, "/", func(r *http.Request) { r.AddCookie(&http.Cookie{Name: cookie, Value: old}) }); code != http.StatusForbidden {
		t.Errorf("with the cookie of the old token: status %d", code)
	}
}

// The log names no question, choice or file as the program calls them, and
// leaves out what only keeps the interview's place.
func TestLogSpeaksPlainly(t *testing.T) {
	srv, d, _ := at(t, nil)
	id := openCase(t, d)
	c := "/case/" + id
	var picture bytes.Buffer
	if err := png.Encode(&picture, image.NewGray(image.Rect(0, 0, 8, 8))); err != nil {
		t.Fatal(err)
	}
	sent := func(to, key string, form url.Values) {
		t.Helper()
		form.Set("key", key)
		if code, body := send(t, srv, c+"/"+to, form, nil); code != http.StatusSeeOther {
			t.Fatalf("%s: status %d: %s", to, code, body)
		}
	}
	sent("tell", "complaint-01", url.Values{"words": {"slips in third"}, "present": {"slips@D/3"}})
	asked := regexp.MustCompile(`name="check" value="([a-z_]+)"`)
	_, body := get(t, srv, c+"/ask", nil)
	m := asked.FindStringSubmatch(body)
	if m == nil {
		t.Fatalf("no question: %s", body)
	}
	sent("ask", "passed-over1", url.Values{"check": {m[1]}, "how": {"skip"}})
	sent("ask", "late-answer1", url.Values{"check": {"ask_gone"}, "asked": {"When was it flushed?"}, "choice": {"long_ago"}, "how": {"choice"}})
	if _, err := d.AddPhoto(t.Context(), opened.Ref{In: id, Key: "a-photo-of-a-part"}, "fluid", picture.Bytes()); err != nil {
		t.Fatal(err)
	}
	_, body = get(t, srv, c+"/log", nil)
	text := html.UnescapeString(regexp.MustCompile(`<[^>]*>`).ReplaceAllString(body, ""))
	for _, inner := range []string{"ask_", "--", "long_ago", "Interview at", "choice"} {
		if strings.Contains(text, inner) {
			t.Errorf("the log says %q: %s", inner, text)
		}
	}
	for _, want := range []string{"Question skipped: ", "Answer to “When was it flushed?”, which is no longer asked: long ago", "Photo of fluid", "Show the photo"} {
		if !strings.Contains(text, want) {
			t.Errorf("the log lacks %q: %s", want, text)
		}
	}
}

// A picture is told by its content, kept for its owner alone, and noted.
func TestPhoto(t *testing.T) {
	srv, d, home := at(t, nil)
	id := openCase(t, d)
	parts, err := d.Parts(context.Background(), asking.CaseRef{In: id})
	if err != nil {
		t.Fatal(err)
	}
	upload := func(key, part string, data []byte) int {
		var b bytes.Buffer
		m := multipart.NewWriter(&b)
		m.WriteField("key", key)
		m.WriteField("part", part)
		f, _ := m.CreateFormFile("photo", "../../x.png")
		f.Write(data)
		m.Close()
		r, _ := http.NewRequest(http.MethodPost, srv.URL+"/case/"+id+"/photo", &b)
		r.Header.Set("Content-Type", m.FormDataContentType())
		r.Header.Set("Origin", srv.URL)
		code, _ := do(t, r)
		return code
	}
	var picture bytes.Buffer
	if err := png.Encode(&picture, image.NewGray(image.Rect(0, 0, 8, 8))); err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		part string
		data []byte
		want int
	}{
		"markup":       {parts[0].Component, []byte("<script>alert(1)</script>"), http.StatusBadRequest},
		"no component": {"../x", picture.Bytes(), http.StatusNotFound},
	} {
		if code := upload("photo-of-nothing1", c.part, c.data); code != c.want {
			t.Errorf("%s: status %d, want %d", name, code, c.want)
		}
	}
	for range 2 {
		if code := upload("photo-of-a-part1", parts[0].Component, picture.Bytes()); code != http.StatusSeeOther {
			t.Errorf("status %d", code)
		}
	}
	files, err := filepath.Glob(filepath.Join(home, "casebook.db.photos", id, "*"))
	if err != nil || len(files) != 1 {
		t.Fatalf("%v, %v", files, err)
	}
	if info, err := os.Stat(files[0]); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("%v, %v", info.Mode(), err)
	}
	if code, body := get(t, srv, "/case/"+id+"/photo/"+filepath.Base(files[0]), nil); code != http.StatusOK || body != picture.String() {
		t.Errorf("status %d, %d bytes", code, len(body))
	}
	if code, _ := get(t, srv, "/case/"+id+"/photo/..%2f..%2fcasebook.db", nil); code != http.StatusNotFound {
		t.Errorf("another file: status %d", code)
	}
	if list := entries(t, d, id); len(list) != 1 || !strings.Contains(list[0].Words, filepath.Base(files[0])) {
		t.Errorf("%v", list)
	}
}
