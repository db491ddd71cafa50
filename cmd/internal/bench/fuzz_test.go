package bench

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/png"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"
	"time"

	"slipcase/cmd/internal/desk"
)

// fuzzed is a server that is asked without a network, with a case in it.
type fuzzed struct {
	h        http.Handler
	gated    http.Handler
	desk     *desk.Desk
	home, id string
	drill    string // path of one that is played
	n, asked int
}

func newFuzzed(f *testing.F) *fuzzed {
	f.Helper()
	x := &fuzzed{home: f.TempDir()}
	x.desk = desk.New(desk.Options{Home: x.home})
	x.h = New(Options{Desk: x.desk, Hosts: []string{"127.0.0.1"}}).Handler()
	x.gated = New(Options{Desk: x.desk, Gate: NewGate(), Hosts: []string{"127.0.0.1"}}).Handler()
	x.id = openCase(f, x.desk)
	x.begin()
	return x
}

// key is one that was not used.
func (x *fuzzed) key() string { x.n++; return fmt.Sprintf("fuzz-%08d", x.n) }

// fresh begins another case from time to time, so that none grows long.
func (x *fuzzed) fresh(t *testing.T) {
	if x.asked++; x.asked%150 == 0 {
		x.id = openCase(t, x.desk)
		x.begin()
	}
}

// begin brings in a vehicle to practice on.
func (x *fuzzed) begin() {
	key := x.key()
	r := httptest.NewRequest(http.MethodPost, "http://127.0.0.1/drill", strings.NewReader(url.Values{"key": {key}, "unit": {"harrow-3"}, "level": {"one"}, "seed": {"4"}}.Encode()))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	r.Header.Set("Origin", "http://127.0.0.1")
	x.h.ServeHTTP(httptest.NewRecorder(), r)
	x.drill = "/drill/" + key
}

// ask sends a request and looks at what must hold of every answer.
func (x *fuzzed) ask(t *testing.T, r *http.Request) *httptest.ResponseRecorder {
	t.Helper()
	w := httptest.NewRecorder()
	x.h.ServeHTTP(w, r)
	page := w.Body.String()
	if w.Code >= 500 && w.Code != http.StatusServiceUnavailable {
		t.Errorf("status %d: %s", w.Code, page)
	}
	if strings.Contains(page, x.home) {
		t.Errorf("the page shows a path of the machine: %s", page)
	}
	if w.Header().Get("Content-Security-Policy") == "" || w.Header().Get("X-Content-Type-Options") != "nosniff" {
		t.Errorf("status %d without a policy: %v", w.Code, w.Header())
	}
	if strings.HasPrefix(w.Header().Get("Content-Type"), "text/html") && strings.Contains(page, "<script>") {
		t.Errorf("what was sent became markup: %s", page)
	}
	if to := w.Header().Get("Location"); to != "" && (!strings.HasPrefix(to, "/") || strings.HasPrefix(to, "//") || strings.HasPrefix(to, "/\\")) {
		t.Errorf("sent elsewhere: %q", to)
	}
	return w
}

var fuzzPages = []string{"/", "/?find=x", "/in/x", "/web/bench.js", "/web/..%2f..%2fgo.mod", "/drill", "/drill?unit=harrow-3&seed=2", "/drill/0123456789abcdef",
	"/case/{id}", "/case/{id}?from=1&to=99", "/case/{id}/why?part=pump", "/case/{id}/ask", "/case/{id}/ask?words=slips+in+third", "/case/{id}/ask?back=1", "/case/{id}/ask?on=1",
	"/case/{id}/plan?part=pump", "/case/{id}/note?find=slips", "/case/{id}/chart?e.front_clutch=dead&e.rear_band=on&row=D/2", "/case/{id}/log", "/case/{id}/close", "/case/{id}/parts?part=pump",
	"/case/{id}/photo/x--12345678.png", "/case/{id}/drawing?row=D/2", "/case/{id}/sheet", "/case/99-9999", "/case/%00", "/case/{id}/../../x"}

// No request makes a page fail, whatever its method, path and headers; and none
// without the token gets anything of a case.
func FuzzRequests(f *testing.F) {
	x := newFuzzed(f)
	for _, p := range fuzzPages {
		f.Add("GET", p, "127.0.0.1:8461", "", "", "")
		f.Add("POST", p, "127.0.0.1", "http://127.0.0.1", "", "key=0123456789abcdef")
	}
	f.Add("HEAD", "/", "[::1]:1", "null", "slipcase_bench=x; slipcase_who=%ff", "")
	f.Add("GET", "/case/{id}/live", "127.0.0.1", "", "", "")
	f.Add("GET", "/case/{id}/live?since=-9e99&last=%00", "127.0.0.1", "", "slipcase_who=%0a", "")
	f.Add("PUT", "/case/{id}/note", "", "http://127.0.0.1", "slipcase_who=<script>", "a=b&&=;%")
	f.Fuzz(func(t *testing.T, method, path, host, origin, cookie, body string) {
		x.fresh(t)
		path = strings.ReplaceAll(path, "{id}", x.id)
		make := func() *http.Request {
			r, err := http.NewRequest(method, "http://127.0.0.1/", strings.NewReader(body))
			if err != nil {
				t.Skip("no server takes that method")
			}
			if r.URL, err = url.ParseRequestURI(path); err != nil {
				t.Skip("no server takes that path")
			}
			if strings.Contains(r.URL.Path, "/live") { // goes on for as long as it is listened to
				ctx, cancel := context.WithTimeout(t.Context(), 20*time.Millisecond)
				t.Cleanup(cancel)
				r = r.WithContext(ctx)
			}
			r.Host, r.RequestURI = host, path
			r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
			r.Header.Set("Origin", origin)
			r.Header.Set("Cookie", cookie)
			return r
		}
		x.ask(t, make())
		w := httptest.NewRecorder()
		r := make()
		x.gated.ServeHTTP(w, r)
		if open := strings.HasPrefix(r.URL.Path, "/web/") || strings.HasPrefix(r.URL.Path, "/in/"); w.Code < 300 && !open {
			t.Errorf("status %d for a stranger: %s", w.Code, w.Body)
		}
		if strings.Contains(w.Body.String(), "job&lt;/b&gt;") {
			t.Errorf("a stranger is shown the case: %s", w.Body)
		}
	})
}

// No form makes a page fail, whatever it holds, and the case can be read after
// each.
func FuzzForms(f *testing.F) {
	x := newFuzzed(f)
	for _, what := range []string{"ask", "tell", "note", "done", "part", "cause", "undo", "close", "reopen", "photo"} {
		f.Add(what, "f.slips@D/3=present&m.end_play=1&u.end_play=mm&step=x&entry=1&part=pump&mode=x&outcome=fixed&d.D/3=good&how=yes&check=x&choice=y")
		f.Add(what, "f.=present&m.=1&entry=99999999999999999999&cause=%00&is=yes&words=%ff")
	}
	f.Add("note", "codes=P0741,+P0700&text=<script>&by=driver&m.line_pressure@idle/R=1e999&u.line_pressure@idle/R=psi")
	f.Add("part", "part=front_band&mode=&cause=high_mileage&then=//elsewhere.example")
	f.Add("/open", "unit=harrow-3&title=<script>&words=%00")
	f.Add("/drill", "unit=harrow-3&level=one&seed=18446744073709551615&student=<script>")
	f.Add("/drill/it", "do=ask_fluid")
	f.Add("/drill/it", "do=pan_off&end=")
	f.Add("/drill/it", "do=%00&end=1")
	f.Add("/who", "who=%0d%0aSet-Cookie:+x")
	f.Fuzz(func(t *testing.T, what, body string) {
		x.fresh(t)
		form, err := url.ParseQuery(body)
		if err != nil || strings.ContainsAny(what, "?#%. ") || what == "live" {
			t.Skip()
		}
		if form.Get("level") != "" && form.Get("level") != "one" {
			t.Skip("drawn for long")
		}
		form.Set("key", x.key())
		path := "/case/" + x.id + "/" + what
		if strings.HasPrefix(what, "/") {
			path = what
		}
		if path == "/drill/it" {
			path = x.drill
		}
		u, err := url.ParseRequestURI(path)
		if err != nil {
			t.Skip()
		}
		r := httptest.NewRequest(http.MethodPost, "/", strings.NewReader(form.Encode()))
		r.URL, r.Host = u, "127.0.0.1"
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		r.Header.Set("Origin", "http://127.0.0.1")
		x.ask(t, r)
		r = httptest.NewRequest(http.MethodGet, "http://127.0.0.1/case/"+x.id+"/log", nil)
		if w := x.ask(t, r); w.Code != http.StatusOK {
			t.Errorf("the log: status %d: %s", w.Code, w.Body)
		}
		if path == x.drill {
			r = httptest.NewRequest(http.MethodGet, "http://127.0.0.1"+path, nil)
			if w := x.ask(t, r); w.Code != http.StatusOK {
				t.Errorf("the drill: status %d: %s", w.Code, w.Body)
			}
		}
	})
}

// No upload makes a page fail: what is kept is a picture.
func FuzzUploads(f *testing.F) {
	x := newFuzzed(f)
	var picture bytes.Buffer
	if err := png.Encode(&picture, image.NewGray(image.Rect(0, 0, 8, 8))); err != nil {
		f.Fatal(err)
	}
	f.Add("fluid", "x.png", picture.Bytes(), false)
	f.Add("fluid", "../../x.jpg", picture.Bytes()[:20], false)
	f.Add("../x", "x\x00", []byte("\xff\xd8\xff\xe0"), false)
	f.Add("fluid", "x", []byte("--x\r\nContent-Disposition: form-data; name=\"photo\"; filename=\"\"\r\n\r\n"), true)
	f.Fuzz(func(t *testing.T, part, name string, data []byte, raw bool) {
		x.fresh(t)
		var b bytes.Buffer
		kind := "multipart/form-data; boundary=x"
		if raw {
			b.Write(data)
		} else {
			m := multipart.NewWriter(&b)
			m.WriteField("key", x.key())
			m.WriteField("part", part)
			if w, err := m.CreateFormFile("photo", name); err == nil {
				w.Write(data)
			}
			m.Close()
			kind = m.FormDataContentType()
		}
		r := httptest.NewRequest(http.MethodPost, "http://127.0.0.1/case/"+x.id+"/photo", &b)
		r.Header.Set("Content-Type", kind)
		r.Header.Set("Origin", "http://127.0.0.1")
		w := x.ask(t, r)
		if _, _, err := image.DecodeConfig(bytes.NewReader(data)); err != nil && w.Code == http.StatusSeeOther {
			t.Error("kept, though it is no picture")
		}
	})
}
