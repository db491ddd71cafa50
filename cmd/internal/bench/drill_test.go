package bench

import (
	"html"
	"net/http"
	"net/http/httptest"
	"net/url"
	"regexp"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// begun is the address of a drill that was begun.
func begun(t testing.TB, srv *httptest.Server, key, level string) string {
	t.Helper()
	code, body := send(t, srv, "/drill", url.Values{"key": {key}, "unit": {"harrow-3"}, "level": {level}, "seed": {"4"}, "student": {"Mia <b>"}}, nil)
	if code != http.StatusSeeOther {
		t.Fatalf("status %d: %s", code, body)
	}
	return "/drill/" + key
}

// A drill that is begun twice at the same moment is drawn once, and every asker
// is led to it; another one waits for none of them.
func TestBegunTwiceAtOnce(t *testing.T) {
	var d drills
	var drawn atomic.Int32
	begin, all := make(chan struct{}), sync.WaitGroup{}
	for range 8 {
		all.Go(func() {
			<-begin
			if err := d.add("0123456789abcdef", func() (*drillRun, error) {
				drawn.Add(1)
				time.Sleep(20 * time.Millisecond) // drawing takes its time
				return &drillRun{}, nil
			}); err != nil {
				t.Error(err)
			}
		})
	}
	close(begin)
	all.Wait()
	if n := drawn.Load(); n != 1 || len(d.list) != 1 {
		t.Errorf("%d vehicles drawn, %d kept", n, len(d.list))
	}
	srv, _, _ := at(t, nil)
	for range 4 {
		all.Go(func() { begun(t, srv, "fedcba9876543210", "one") })
	}
	all.Wait()
	if code, body := get(t, srv, "/drill/fedcba9876543210", nil); code != http.StatusOK {
		t.Errorf("status %d: %s", code, body)
	}
}

// The page plays the vehicle that the terminal plays, counts what is sent twice
// once, and ends with both ways side by side.
func TestDrillOnPage(t *testing.T) {
	srv, d, _ := at(t, nil)
	p := begun(t, srv, "0123456789abcdef", "one")
	begun(t, srv, "0123456789abcdef", "one")
	x, err := d.Drill(t.Context(), "harrow-3", "one", 4, "")
	if err != nil {
		t.Fatal(err)
	}
	_, body := get(t, srv, p, nil)
	for _, l := range x.Complaint() {
		if !strings.Contains(html.UnescapeString(body), l) {
			t.Errorf("the page lacks %q", l)
		}
	}
	if strings.Contains(body, "Mia <b>") {
		t.Error("a name became markup")
	}
	checks, err := x.Checks()
	if err != nil {
		t.Fatal(err)
	}
	move := func(key, what string) string {
		t.Helper()
		if code, body := send(t, srv, p, url.Values{"key": {key}, "do": {what}}, nil); code != http.StatusSeeOther {
			t.Fatalf("%s: status %d: %s", what, code, body)
		}
		_, body := get(t, srv, p, nil)
		return html.UnescapeString(body)
	}
	told, err := x.Do(checks[0].Name)
	if err != nil {
		t.Fatal(err)
	}
	body = move("move-000001", checks[0].Name)
	for _, l := range told[0].Lines {
		if !strings.Contains(body, l) {
			t.Errorf("after %s the page lacks %q", checks[0].Name, l)
		}
	}
	if again := move("move-000001", checks[0].Name); strings.Contains(again, `class="fault"`) {
		t.Error("a form that came twice was a move twice")
	}
	if body := move("move-000002", "nonsense"); !strings.Contains(body, `class="fault"`) {
		t.Error("a move that is none is not told")
	}
	for _, s := range x.Steps() {
		body = move("step-"+strings.Repeat("0", 4)+s.Name, s.Name)
	}
	must := []string{"Found in", "Step by step", "What gave it away", "As advised", checks[0].Title[1:]}
	for _, m := range must {
		if !strings.Contains(body, m) {
			t.Errorf("the result lacks %q", m)
		}
	}
}

// What cannot be played is refused: no file of this machine is read for it.
func TestDrillRefused(t *testing.T) {
	srv, _, _ := at(t, nil)
	for name, c := range map[string]struct {
		form url.Values
		want int
	}{
		"a file":     {url.Values{"unit": {"/etc/passwd.hcl"}}, http.StatusNotFound},
		"no unit":    {url.Values{"unit": {"nothing"}, "level": {"one"}}, http.StatusNotFound},
		"no level":   {url.Values{"unit": {"harrow-3"}, "level": {"easy"}}, http.StatusBadRequest},
		"no number":  {url.Values{"unit": {"harrow-3"}, "level": {"one"}, "seed": {"x"}}, http.StatusBadRequest},
		"a long one": {url.Values{"unit": {"harrow-3"}, "level": {"one"}, "student": {strings.Repeat("x", 61)}}, http.StatusBadRequest},
	} {
		c.form.Set("key", "0123456789abcdef")
		if c.form.Get("seed") == "" {
			c.form.Set("seed", "1")
		}
		if code, body := send(t, srv, "/drill", c.form, nil); code != c.want || strings.Contains(body, "root:") {
			t.Errorf("%s: status %d, want %d: %s", name, code, c.want, body)
		}
	}
	for _, p := range []string{"/drill/0123456789abcdef", "/drill/..%2fx"} {
		if code, _ := get(t, srv, p, nil); code != http.StatusNotFound {
			t.Errorf("%s: status %d", p, code)
		}
	}
}

// A drill by touch, from its choice to its result.
func TestDrillByTouch(t *testing.T) {
	srv, _, _ := at(t, nil)
	ctx := tablet(t, 320)
	h := &hand{t: t, ctx: ctx}
	look := func(name string) {
		t.Helper()
		holds(t, ctx, name, `document.readyState === 'complete'`)
		sound(t, ctx, name)
		picture(t, ctx, name+"-320")
	}
	run(t, ctx, "the choice", chromedp.Navigate(srv.URL+"/drill"), chromedp.WaitVisible(chromedp.CSS(`select[name=unit]`)))
	look("drill")
	h.choose("the unit", `select[name=unit]`, "harrow-3", "harrow-3")
	h.press("bring it in", `main form button`)
	holds(t, ctx, "the vehicle is in", `!!document.querySelector('.clock') && document.readyState === 'complete'`)
	look("play")
	h.press("what can be asked", `.moves summary`)
	h.press("the first of it", `.moves li button`)
	holds(t, ctx, "the answer", `!!document.querySelector('.told') && document.readyState === 'complete'`)
	look("told")
	if minutes := ask(t, ctx, "the clock", chromedp.Text(chromedp.CSS(`.clock b`))); !regexp.MustCompile(`^\d+ minutes?$`).MatchString(minutes) {
		t.Errorf("the clock says %q", minutes)
	}
	h.press("end it", `button[name=end]`)
	holds(t, ctx, "the result", `document.body.textContent.includes('Step by step') && document.readyState === 'complete'`)
	look("result")
}
