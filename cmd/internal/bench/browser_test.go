package bench

import (
	"context"
	"encoding/json"
	"fmt"
	"image"
	"image/png"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"slipcase/cmd/internal/chrome"
	"slipcase/cmd/internal/desk"
	"slipcase/cmd/internal/desk/archive"
	"slipcase/cmd/internal/desk/asking"
	"slipcase/cmd/internal/desk/casework"
	"slipcase/cmd/internal/desk/opened"
	"slipcase/internal/size"
)

// patience is how long a step in the browser may take. It is never waited out:
// each step waits for what it needs, and a busy machine is slow.
const patience = 2 * time.Minute

// browsing is the one Chromium of these tests, with what ends it.
var browsing struct {
	once sync.Once
	ctx  context.Context
	err  error
	end  []func()
}

func TestMain(m *testing.M) {
	code := m.Run()
	for _, f := range slices.Backward(browsing.end) {
		f()
	}
	os.Exit(code)
}

// browser starts Chromium, once for all tests. Where there is none the test is
// skipped, but not in CI.
func browser(t *testing.T) context.Context {
	t.Helper()
	if testing.Short() {
		t.Skip("a browser takes its time")
	}
	path := chrome.Path(t)
	browsing.once.Do(func() {
		dir, err := os.MkdirTemp("", "slipcase-browser-*")
		if err != nil {
			browsing.err = err
			return
		}
		ctx, end, err := chrome.Start(path, dir, patience)
		browsing.ctx, browsing.err, browsing.end = ctx, err, []func(){func() { os.RemoveAll(dir) }, end}
	})
	if browsing.err != nil {
		t.Fatal("Chromium does not start: ", browsing.err)
	}
	return browsing.ctx
}

// tablet is a page of its own, in a browser of its own for what is stored, with
// a width.
func tablet(t *testing.T, width int64) context.Context {
	t.Helper()
	ctx, cancel := chromedp.NewContext(browser(t), chromedp.WithNewBrowserContext())
	t.Cleanup(cancel)
	// Not through run: a page lives as long as the context of its first step.
	if err := chromedp.Do(ctx, chromedp.EmulateViewport(width, 900, chromedp.EmulateTouch)); err != nil {
		t.Fatal(err)
	}
	return ctx
}

type step = chromedp.Action[chromedp.Void]

func run(t *testing.T, ctx context.Context, what string, steps ...step) {
	t.Helper()
	short, cancel := context.WithTimeout(ctx, patience)
	defer cancel()
	if err := chromedp.Do(short, steps...); err != nil {
		short, cancel := context.WithTimeout(ctx, 10*time.Second)
		defer cancel()
		text, _ := chromedp.Run(short, chromedp.Evaluate[string]("location.href + ' ' + document.body.innerText"))
		t.Fatalf("%s: %v\n%s", what, err, text)
	}
}

// ask gives what an action finds.
func ask[T any](t *testing.T, ctx context.Context, what string, a chromedp.Action[T]) T {
	t.Helper()
	short, cancel := context.WithTimeout(ctx, patience)
	defer cancel()
	got, err := chromedp.Run(short, a)
	if err != nil {
		t.Fatalf("%s: %v", what, err)
	}
	return got
}

// holds waits until a condition of the page is true, over a change of pages too.
func holds(t *testing.T, ctx context.Context, what, condition string) {
	t.Helper()
	var last error
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(30 * time.Millisecond) {
		short, cancel := context.WithTimeout(ctx, patience)
		ok, err := chromedp.Run(short, chromedp.Evaluate[bool]("!!("+condition+")"))
		cancel()
		if ok && err == nil {
			return
		}
		last = err // one page goes, the next is not there yet
	}
	text, _ := chromedp.Run(ctx, chromedp.Evaluate[string]("location.href + ' ' + document.body.innerText"))
	t.Fatalf("%s: %s does not come true (%v)\n%s", what, condition, last, text)
}

// picture keeps what the page looks like, where SLIPCASE_PICTURES names a folder.
func picture(t *testing.T, ctx context.Context, name string) {
	t.Helper()
	dir := os.Getenv("SLIPCASE_PICTURES")
	if dir == "" {
		return
	}
	for _, scheme := range []string{"dark", "light"} {
		colors(t, ctx, scheme)
		b := ask(t, ctx, "picture "+name, chromedp.FullScreenshot(100))
		if err := os.WriteFile(filepath.Join(dir, name+"-"+scheme+".png"), b, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// colors sets the colors that the tablet asks for.
func colors(t *testing.T, ctx context.Context, scheme string) {
	t.Helper()
	if _, err := chromedp.Call(ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}}); err != nil {
		t.Fatal(err)
	}
}

// sound fails where a page is wider than the tablet, has a target smaller than
// a wet finger needs, or a field without a label.
func sound(t *testing.T, ctx context.Context, page string) {
	t.Helper()
	bad := ask(t, ctx, "looking at "+page, chromedp.Evaluate[[]string](`(() => {
		const bad = [];
		if (document.documentElement.scrollWidth > innerWidth) bad.push('wider than the tablet: ' + document.documentElement.scrollWidth);
		for (const e of document.querySelectorAll('a[href]:not(.skip), button, summary, select, input:not([type=hidden]), textarea:not(.gone)')) {
			if (!e.checkVisibility()) continue;
			const t = (e.type === 'radio' || e.type === 'checkbox') ? e.closest('label') : e;
			const r = t.getBoundingClientRect();
			if (r.width < 44 || r.height < 44) bad.push('small: ' + t.outerHTML.slice(0, 120) + ' ' + r.width + 'x' + r.height);
			if (/^(INPUT|SELECT|TEXTAREA)$/.test(e.tagName) && !e.labels.length && !e.getAttribute('aria-label')) bad.push('no label: ' + e.outerHTML.slice(0, 120));
		}
		if (document.querySelectorAll('h1').length !== 1) bad.push('headings of the first rank: ' + document.querySelectorAll('h1').length);
		return bad;
	})()`))
	for _, b := range bad {
		t.Errorf("%s: %s", page, b)
	}
}

// hand works a page with fingers, or with the keyboard alone, and counts what
// it does.
type hand struct {
	t       *testing.T
	ctx     context.Context
	keys    bool // the keyboard alone
	presses int  // taps, or keys that do something
	typed   int  // characters typed
	tabs    int  // keys that go from one thing to the next
}

// press presses what css finds.
func (h *hand) press(what, css string) {
	h.t.Helper()
	h.presses++
	if !h.keys {
		run(h.t, h.ctx, what, chromedp.WaitVisible(chromedp.CSS(css)), chromedp.Tap(chromedp.CSS(css)))
		return
	}
	h.reach(what, css)
	key := kb.Enter
	if ask(h.t, h.ctx, what, chromedp.Evaluate[bool](`/^(INPUT|SUMMARY)$/.test(document.activeElement.tagName)`)) {
		key = " "
	}
	run(h.t, h.ctx, what, chromedp.KeyEvent(key))
}

// reach goes to what css finds with the tab key alone.
func (h *hand) reach(what, css string) {
	h.t.Helper()
	run(h.t, h.ctx, what, chromedp.WaitVisible(chromedp.CSS(css)))
	// How far it may be is guessed, so that not every key waits for an answer;
	// that it is reached is not. What stands before is reached backwards.
	far := ask(h.t, h.ctx, what, chromedp.Evaluate[int](fmt.Sprintf(`(() => {
		const to = document.querySelector(%q);
		const here = document.activeElement;
		if (here === to) return 0;
		const all = [...document.querySelectorAll('a[href],button,input:not([type=hidden]),select,textarea,summary,[tabindex="0"]')].filter((e) => e.tabIndex >= 0 && e.checkVisibility() && (e === to || e.type !== 'radio' || e.checked));
		const comes = (e, way) => here === document.body || here.compareDocumentPosition(e) & way;
		const after = all.filter((e) => comes(e, Node.DOCUMENT_POSITION_FOLLOWING)).indexOf(to) + 1;
		return after || -all.filter((e) => comes(e, Node.DOCUMENT_POSITION_PRECEDING)).reverse().indexOf(to) - 1;
	})()`, css)))
	tab := chromedp.KeyEvent(kb.Tab)
	if far < 0 {
		tab, far = chromedp.KeyEvent(kb.Tab, chromedp.KeyModifiers(chromedp.ModifierShift)), -far
	}
	for range far - 1 {
		run(h.t, h.ctx, what, tab)
	}
	h.tabs += max(0, far-1)
	for range 60 {
		if ask(h.t, h.ctx, what, chromedp.Evaluate[bool](fmt.Sprintf(`!!document.activeElement && document.activeElement.matches(%q)`, css))) {
			return
		}
		run(h.t, h.ctx, what, tab)
		h.tabs++
	}
	h.t.Fatalf("%s: the tab key does not reach %s", what, css)
}

// write types into a field.
func (h *hand) write(what, css, text string) {
	h.t.Helper()
	h.typed += len(text)
	if h.keys {
		h.reach(what, css)
		run(h.t, h.ctx, what, chromedp.KeyEvent(text))
		return
	}
	h.press(what, css)
	run(h.t, h.ctx, what, chromedp.SendKeys(chromedp.CSS(css), text))
}

// choose picks an option, by the beginning of what it says.
func (h *hand) choose(what, css, text, value string) {
	h.t.Helper()
	if h.keys {
		h.typed += len(text)
		h.reach(what, css)
		run(h.t, h.ctx, what, chromedp.KeyEvent(text))
	} else {
		h.presses += 2 // the list opens outside the page: it cannot be tapped from here
		run(h.t, h.ctx, what, chromedp.WaitVisible(chromedp.CSS(css)),
			script(fmt.Sprintf(`const s = document.querySelector(%q); s.value = %q; s.dispatchEvent(new Event('change', { bubbles: true }))`, css, value)))
	}
	holds(h.t, h.ctx, what, fmt.Sprintf(`document.querySelector(%q)?.value === %q`, css, value))
}

// mark chooses one of a group of radio buttons.
func (h *hand) mark(what, name, value string) {
	h.t.Helper()
	one := fmt.Sprintf(`input[name=%q][value=%q]`, name, value)
	if !h.keys {
		h.press(what, "label:has(> "+one+")")
	} else if ask(h.t, h.ctx, what, chromedp.Evaluate[bool](fmt.Sprintf(`document.querySelector(%q).type === 'checkbox'`, one))) {
		h.reach(what, one) // each is a stop of its own
		h.presses++
		run(h.t, h.ctx, what, chromedp.KeyEvent(" "))
	} else {
		// The tab key stops once at a group: the arrow keys go on from there.
		first := fmt.Sprintf(`input[name=%q]`, name)
		h.reach(what, first)
		h.presses++
		run(h.t, h.ctx, what, chromedp.KeyEvent(" "))
		for range 30 {
			if ask(h.t, h.ctx, what, chromedp.Evaluate[bool](fmt.Sprintf(`document.querySelector(%q).checked`, one))) {
				break
			}
			h.presses++
			run(h.t, h.ctx, what, chromedp.KeyEvent(kb.ArrowDown))
		}
	}
	holds(h.t, h.ctx, what, fmt.Sprintf(`document.querySelector(%q).checked`, one))
}

// script runs a script in the page.
func script(text string) step {
	return chromedp.Func(func(ctx context.Context, tab *chromedp.Target) error {
		_, err := chromedp.Evaluate[bool]("(() => {"+text+"; return true; })()")(ctx, tab)
		return err
	})
}

func until(t *testing.T, what string, holds func() bool) {
	t.Helper()
	for end := time.Now().Add(patience); !holds(); time.Sleep(30 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatalf("%s: not within %v", what, patience)
		}
	}
}

// photoFile is a photo as a tablet takes it.
func photoFile(t *testing.T) string {
	t.Helper()
	name := filepath.Join(t.TempDir(), "photo.png")
	f, err := os.Create(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, image.NewGray(image.Rect(0, 0, 64, 48))); err != nil {
		t.Fatal(err)
	}
	return name
}

// The whole job from opening to closing, by touch on a small tablet and by
// keyboard alone on a large one; in an ordinary run by keyboard.
func TestWholeJob(t *testing.T) {
	ways := []struct {
		name  string
		width int64
		keys  bool
	}{{"keyboard", 1280, true}, {"touch", 320, false}}
	for _, c := range size.Of(ways[:1], ways, ways) {
		t.Run(c.name, func(t *testing.T) { wholeJob(t, c.width, c.keys) })
	}
}

func wholeJob(t *testing.T, width int64, keys bool) {
	srv, d, _ := at(t, nil)
	ctx := tablet(t, width)
	h := &hand{t: t, ctx: ctx, keys: keys}
	began := time.Now()
	look := func(name string) {
		t.Helper()
		holds(t, ctx, name, `document.readyState === 'complete'`)
		sound(t, ctx, name)
		picture(t, ctx, fmt.Sprintf("%s-%d", name, width))
	}
	written := 0
	// stored waits until the casebook has more entries and the page shows them.
	stored := func(what string) []opened.EntryLine {
		t.Helper()
		var list []opened.EntryLine
		until(t, what, func() bool { list = entries(t, d, "26-0001"); return len(list) > written })
		written = len(list)
		holds(t, ctx, what, fmt.Sprintf(`Number(document.body.dataset.last) >= %d && !JSON.parse(localStorage['slipcase.waiting'] || '[]').length`, written))
		return list
	}
	tab := func(page string) {
		t.Helper()
		h.press("to the page "+page, fmt.Sprintf(`nav a[href="/case/26-0001%s"]`, page))
		holds(t, ctx, page, fmt.Sprintf(`location.pathname === '/case/26-0001%s' && document.readyState === 'complete'`, page))
	}

	run(t, ctx, "the first page", chromedp.Navigate(srv.URL), chromedp.WaitVisible(chromedp.CSS(`select[name=unit]`)))
	look("cases")
	h.choose("the unit", `select[name=unit]`, "harrow-3", "harrow-3")
	h.write("the job", `input[name=title]`, "No reverse")
	h.write("the complaint", `textarea[name=words]`, "no reverse at all, drives forward fine")
	h.press("open", `form[action="/open"] button`)
	run(t, ctx, "the complaint", chromedp.WaitVisible(chromedp.CSS(`form[method=get] textarea[name=words]`)))
	look("complaint")
	h.press("read it", `main form[method=get] button`)
	run(t, ctx, "what it may mean", chromedp.WaitVisible(chromedp.CSS(`form[action$="/tell"] button`)))
	look("meant")
	h.press("right", `form[action$="/tell"] button`)
	stored("the complaint is kept")
	run(t, ctx, "a question", chromedp.WaitVisible(chromedp.CSS(`form.ask`)))
	look("question")
	h.press("pass it over", `form.ask button[value=skip]`)
	stored("the question is passed over")

	tab("")
	look("now")
	h.press("why the leader", `.rank li:first-child summary`)
	holds(t, ctx, "the reason", `document.querySelector('.rank details').open`)
	h.press("for and against", `.rank li:first-child a`)
	holds(t, ctx, "for and against", `location.pathname.endsWith('/why') && document.readyState === 'complete' && document.body.textContent.includes('For it')`)
	look("why")

	tab("/chart")
	h.choose("front clutch dead", `select[name="e.front_clutch"]`, "dead", "dead")
	holds(t, ctx, "the chart changes", `document.querySelectorAll('tr.changed').length > 0 && [...document.images].every((i) => i.complete && i.naturalWidth)`)
	look("chart")

	tab("/note")
	first := `input[data-pad]`
	h.press("a field for a number", first)
	if keys {
		h.write("a reading", first, "15")
	} else {
		h.press("1 on the pad", `.pad button:nth-child(1)`)
		h.press("5 on the pad", `.pad button:nth-child(5)`)
	}
	if typed := strings.TrimSpace(ask(t, ctx, "what was typed", chromedp.Value(chromedp.CSS(first)))); typed != "15" {
		t.Errorf("the field has %q", typed)
	}
	look("note")
	h.press("enter the readings", `form:has(input[data-pad]) button:not([type=button])`)
	if list := stored("the reading is kept"); list[len(list)-1].Kind != "reading" {
		t.Errorf("kept as %+v", list[len(list)-1])
	}

	tab("/plan")
	look("plan")
	h.press("done", `form[action$="/done"] button:not([type=button])`)
	stored("the step is ticked off")
	look("written")
	h.press("take it back", `.wrote button`)
	if list := stored("it is taken back"); list[len(list)-2].InForce {
		t.Errorf("still in force: %+v", list[len(list)-2])
	}
	if ask(t, ctx, "which page", chromedp.Evaluate[bool](`location.pathname !== '/case/26-0001/plan'`)) {
		tab("/plan")
	}
	part := `rear_clutch_plates`
	parts, err := d.Parts(t.Context(), asking.CaseRef{In: "26-0001"})
	if err != nil {
		t.Fatal(err)
	}
	ways := parts[slices.IndexFunc(parts, func(p casework.PartWays) bool { return p.Component == part })]
	h.choose("a part", `main form[method=get] select[name=part]`, ways.Title, part)
	h.press("judge it", `main form[method=get] button`)
	run(t, ctx, "how it is", chromedp.WaitVisible(chromedp.CSS(`form[action$="/part"] button`)))
	look("part")
	h.mark("how it failed", "mode", ways.Ways[0].Name)
	h.press("found", `form[action$="/part"] button`)
	if list := stored("it is found"); list[len(list)-1].State != "failed" {
		t.Errorf("kept as %+v", list[len(list)-1])
	}
	look("found")

	tab("/parts")
	if !keys { // a tablet's camera; the dialog of a keyboard is not the page's
		h.presses += 2
		run(t, ctx, "a photo", chromedp.SetUploadFiles(chromedp.CSS(`input[type=file]`), []string{photoFile(t)}))
		h.press("keep it", `form[enctype] button`)
		stored("the photo is kept")
		holds(t, ctx, "the photo is shown", `document.querySelectorAll('figure img').length === 1`)
	}
	look("photos")
	tab("/log")
	look("log")
	tab("/close")
	look("close")
	drive, err := d.MustDrive(t.Context(), asking.CaseRef{In: "26-0001"})
	if err != nil || len(drive) == 0 {
		t.Fatal(drive, err)
	}
	for _, x := range drive {
		h.mark("driven", "d."+x.Name, "good")
	}
	h.press("close", `form[action$="/close"] button`)
	stored("it is closed")
	look("closed")
	l, err := d.Cases(t.Context(), archive.CasesInput{Closed: true})
	if err != nil || l.Data.Fixed != 1 {
		t.Errorf("%d cases are fixed, %v", l.Data.Fixed, err)
	}
	t.Logf("%d presses, %d characters typed, %d keys to go from one thing to the next, %v", h.presses, h.typed, h.tabs, time.Since(began).Round(100*time.Millisecond))
}

// The unit of measure that a shop reads in stands there the next time, on every
// field that can be read in it; what is typed already keeps the unit it was
// typed in, and the casebook has the reading as it was read.
func TestShopUnits(t *testing.T) {
	srv, d, _ := at(t, nil)
	id := openCase(t, d)
	x := tablet(t, 320)
	h := &hand{t: t, ctx: x}
	idle, load, typed := `select[name="u.line_pressure@idle/D"]`, `select[name="u.line_pressure@load/D"]`, `select[name="u.line_pressure@idle/R"]`
	run(t, x, "the page of notes", chromedp.Navigate(srv.URL+"/case/"+id+"/note"), chromedp.WaitVisible(chromedp.CSS(idle)))
	h.write("a reading in psi", `input[name="m.line_pressure@idle/R"]`, "150")
	h.choose("bar", idle, "bar", "bar")
	holds(t, x, "the others follow", fmt.Sprintf(`document.querySelector(%q).value === 'bar'`, load))
	holds(t, x, "what is typed stays", fmt.Sprintf(`document.querySelector(%q).value === 'psi'`, typed))
	h.write("a reading in bar", `input[name="m.line_pressure@idle/D"]`, "4,2")
	h.press("enter the readings", `form:has(input[data-pad]) button:not([type=button])`)
	until(t, "they are kept", func() bool { return len(entries(t, d, id)) == 2 })
	var words []string
	for _, e := range entries(t, d, id) {
		words = append(words, e.Words)
	}
	if all := strings.Join(words, "\n"); !strings.Contains(all, "4.2 bar") || !strings.Contains(all, "150 psi") {
		t.Errorf("kept as %s", all)
	}
	run(t, x, "the page again", chromedp.Navigate(srv.URL+"/case/"+id+"/note"), chromedp.WaitVisible(chromedp.CSS(idle)))
	holds(t, x, "bar the next time", fmt.Sprintf(`document.querySelector(%q).value === 'bar' && document.querySelector(%q).value === 'bar'`, idle, typed))
	if got := ask(t, x, "a length", chromedp.Evaluate[bool](`[...document.querySelectorAll('select')].some((s) => s.value === 'mm')`)); !got {
		t.Error("a length is not in mm any more")
	}
}

// Two tablets work on one case at the same moment: each shows what the other
// entered, without being touched, and nothing is lost.
func TestTwoBrowsers(t *testing.T) {
	srv, d, _ := at(t, nil)
	id := openCase(t, d)
	tablets := map[string]context.Context{"first": tablet(t, 320), "second": tablet(t, 1280)}
	watch := tablet(t, 1280)
	run(t, watch, "the log", chromedp.Navigate(srv.URL+"/case/"+id+"/log"), chromedp.WaitVisible(chromedp.CSS(`.log`)))
	for name, x := range tablets {
		run(t, x, name, chromedp.Navigate(srv.URL+"/case/"+id+"/note"), chromedp.WaitVisible(chromedp.CSS(`textarea[name=text]`)))
	}
	each := size.Of(1, 3, 3)
	for i := range each {
		for name, x := range tablets {
			run(t, x, name, script(fmt.Sprintf(`const f = document.querySelector('textarea[name=text]'); f.value = '%s %d'; f.form.requestSubmit()`, name, i)))
		}
		from := time.Now()
		for name := range tablets {
			holds(t, watch, "the third sees it", fmt.Sprintf(`document.querySelector('.log').textContent.includes('%s %d')`, name, i))
		}
		t.Logf("both entries are shown on a third tablet after %v", time.Since(from).Round(10*time.Millisecond))
		for name, x := range tablets {
			holds(t, x, name, fmt.Sprintf(`Number(document.body.dataset.last) >= %d && !JSON.parse(localStorage['slipcase.waiting'] || '[]').length`, 2*(i+1)))
		}
	}
	list := entries(t, d, id)
	for name := range tablets {
		for i := range each {
			want := fmt.Sprintf("note: %s %d", name, i)
			if !slices.ContainsFunc(list, func(e opened.EntryLine) bool { return e.Words == want }) {
				t.Errorf("%q is lost", want)
			}
		}
	}
	if len(list) != 2*each {
		t.Errorf("%d entries, want %d", len(list), 2*each)
	}
}

// What is entered while the connection is cut is kept, sent when it is back,
// and there once; the other tablet sees it without being touched. Whoever went
// to another page meanwhile stays there.
func TestCutAndBack(t *testing.T) {
	var cut atomic.Bool
	_, d, home := at(t, nil)
	pages := New(Options{Desk: desk.New(desk.Options{Home: home}), Hosts: []string{"127.0.0.1"}}).Handler()
	srv := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if !cut.Load() {
			pages.ServeHTTP(w, r)
		} else if c, _, err := http.NewResponseController(w).Hijack(); err == nil {
			c.Close()
		}
	}))
	t.Cleanup(srv.Close)
	id := openCase(t, d)
	one, two := tablet(t, 1280), tablet(t, 320)
	run(t, one, "the page of notes", chromedp.Navigate(srv.URL+"/case/"+id+"/note"), chromedp.WaitVisible(chromedp.CSS(`textarea[name=text]`)))
	run(t, two, "the log", chromedp.Navigate(srv.URL+"/case/"+id+"/log"), chromedp.WaitVisible(chromedp.CSS(`.log`)))
	cut.Store(true)
	srv.CloseClientConnections()
	run(t, one, "cut", chromedp.SendKeys(chromedp.CSS(`textarea[name=text]`), "smells burnt"),
		script(`document.querySelector('textarea[name=text]').form.requestSubmit()`), chromedp.WaitVisible(chromedp.CSS(`#live p`)))
	picture(t, one, "cut-1280")
	if said := ask(t, one, "what it says", chromedp.Text(chromedp.CSS(`#live`))); !strings.Contains(said, "1 entry is kept on this tablet") {
		t.Errorf("it says %q", said)
	}
	if n := len(entries(t, d, id)); n != 0 {
		t.Fatalf("%d entries while it is cut", n)
	}
	cut.Store(false)
	until(t, "it is sent", func() bool { return len(entries(t, d, id)) > 0 })
	from := time.Now()
	holds(t, two, "the other tablet", `document.querySelector('.log').textContent.includes('smells burnt')`)
	t.Logf("the other tablet shows it after %v", time.Since(from).Round(10*time.Millisecond))
	holds(t, one, "the page goes on", `Number(document.body.dataset.last) >= 1 && !document.querySelector('#live p')`)

	// The answer to an entry is lost on its way: the tablet, turned on again at
	// another page, sends it once more, and it is there once.
	item, err := json.Marshal([]map[string]string{{"url": srv.URL + "/case/" + id + "/note", "key": "0123456789abcdef01234567", "page": "/case/" + id + "/note", "words": "x", "body": "key=0123456789abcdef01234567&text=leaks+at+the+pan"}})
	if err != nil {
		t.Fatal(err)
	}
	if code, body := send(t, srv, "/case/"+id+"/note", map[string][]string{"key": {"0123456789abcdef01234567"}, "text": {"leaks at the pan"}}, nil); code != http.StatusSeeOther {
		t.Fatal(code, body)
	}
	run(t, one, "another page", script(fmt.Sprintf(`localStorage['slipcase.waiting'] = %q`, item)), chromedp.Navigate(srv.URL+"/case/"+id+"/log"))
	holds(t, one, "it is sent again", `!JSON.parse(localStorage['slipcase.waiting']).length`)
	holds(t, one, "the page is whole", `document.querySelectorAll('.log li').length === 2`)
	if there := ask(t, one, "where it is", chromedp.Location()); there != srv.URL+"/case/"+id+"/log" {
		t.Errorf("thrown to %s", there)
	}
	if list := entries(t, d, id); len(list) != 2 {
		t.Errorf("%d entries: %v", len(list), list)
	}
}

// A wrong code does not let a tablet in, the right one does, in the browser's
// own terms: cookie, redirects and all.
func TestCodeInBrowser(t *testing.T) {
	gate := NewGate()
	srv, d, _ := at(t, gate)
	id := openCase(t, d)
	x := tablet(t, 320)
	for _, c := range []struct{ path, want string }{
		{"/case/" + id, "no access yet"}, {"/in/wrong", "no longer works"}, {"/in/" + gate.Token(), "This tablet is connected"}, {"/case/" + id + "/log", "Nothing is entered"},
	} {
		run(t, x, c.path, chromedp.Navigate(srv.URL+c.path))
		if text := ask(t, x, c.path, chromedp.Text(chromedp.CSS("body"))); !strings.Contains(text, c.want) {
			t.Errorf("%s: %s", c.path, text)
		}
	}
}

// No finding of weight of the axe checks of accessibility: all of them in
// light, contrast in dark as well. SLIPCASE_AXE names axe.min.js of the package
// axe-core.
func TestAccessible(t *testing.T) {
	file := os.Getenv("SLIPCASE_AXE")
	if file == "" {
		if os.Getenv("CI") == "" {
			t.Skip("SLIPCASE_AXE does not name axe.min.js")
		}
		t.Fatal("SLIPCASE_AXE does not name axe.min.js")
	}
	axe, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	srv, d, _ := at(t, nil)
	x := tablet(t, 1280)
	for _, p := range everyPage(t, srv, d) {
		if code, body := get(t, srv, p, nil); (code < 400) == refusedPages[p] {
			t.Errorf("%s: status %d: %s", p, code, body)
		}
		run(t, x, p, chromedp.Navigate(srv.URL+p), script(string(axe)))
		for scheme, options := range map[string]string{"light": "{}", "dark": "{ runOnly: ['color-contrast'] }"} {
			colors(t, x, scheme)
			bad := ask(t, x, p, chromedp.Evaluate[[]string](`axe.run(`+options+`).then((r) => r.violations.filter((v) => ['serious', 'critical'].includes(v.impact)).flatMap((v) => v.nodes.map((n) => v.id + ': ' + n.html.slice(0, 140) + ' ' + n.failureSummary.slice(0, 200))))`, chromedp.EvalAwaitPromise))
			for _, b := range bad {
				t.Errorf("%s, %s: %s", p, scheme, b)
			}
		}
	}
}

// Whoever asks for less motion gets none.
func TestReducedMotion(t *testing.T) {
	srv, _, _ := at(t, nil)
	x := tablet(t, 320)
	run(t, x, "the first page", chromedp.Navigate(srv.URL), chromedp.WaitVisible(chromedp.CSS("main button")))
	for want, moves := range map[string]bool{"no-preference": true, "reduce": false} {
		if _, err := chromedp.Call(x, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-reduced-motion", Value: want}}}); err != nil {
			t.Fatal(err)
		}
		if got := ask(t, x, want, chromedp.Evaluate[bool](`[...document.querySelectorAll('*')].some((e) => { const s = getComputedStyle(e); return s.transitionDuration !== '0s' || s.animationName !== 'none'; })`)); got != moves {
			t.Errorf("%s: something moves is %v", want, got)
		}
	}
}

// refusedPages are those of everyPage that answer that something is not there.
var refusedPages = map[string]bool{"/case/none": true, "/nothing": true, "/drill/nosuchdrill00000": true, "/case/26-0001/why?part=nosuch": true}

// everyPage lists a page of each kind and state: of an open case with something
// in it, of a case just opened, of a closed one, of drills, and of what is not
// there.
func everyPage(t *testing.T, srv *httptest.Server, d *desk.Desk) []string {
	t.Helper()
	id := openCase(t, d)
	c := "/case/" + id
	played := begun(t, srv, "0123456789abcdef", "cause")
	ended := begun(t, srv, "fedcba9876543210", "one")
	moved := begun(t, srv, "0123456789fedcba", "two")
	for i, what := range []string{"ask_fluid", "nonsense"} {
		send(t, srv, moved, url.Values{"key": {fmt.Sprint("moved-0000", i)}, "do": {what}}, nil)
	}
	send(t, srv, ended, url.Values{"key": {"move-00001"}, "do": {"pan_off"}}, nil)
	send(t, srv, ended, url.Values{"key": {"move-00002"}, "end": {"1"}}, nil)
	must := func(path string, form url.Values) {
		t.Helper()
		if code, body := send(t, srv, path, form, nil); code != http.StatusSeeOther {
			t.Fatalf("%s: status %d: %s", path, code, body)
		}
	}
	must(c+"/tell", url.Values{"key": {"complaint-01"}, "words": {"slips in third"}, "present": {"slips@D/3"}})
	must(c+"/ask", url.Values{"key": {"question-01"}, "check": {"ask_fluid"}, "how": {"skip"}})
	must(c+"/note", url.Values{"key": {"a-note-0001"}, "text": {"smells burnt"}})
	must(c+"/note", url.Values{"key": {"readings-01"}, "m.line_pressure@idle/D": {"40"}, "u.line_pressure@idle/D": {"psi"}})
	must(c+"/done", url.Values{"key": {"a-step-0001"}, "step": {"pan_off"}})
	must(c+"/part", url.Values{"key": {"a-part-0001"}, "part": {"rear_clutch_plates"}, "mode": {"burnt_friction"}})
	over, fresh := openCase(t, d), "/case/"+openCase(t, d)
	o := "/case/" + over
	must(o+"/close", url.Values{"key": {"closing-001"}, "outcome": {"abandoned"}, "text": {"sold"}})
	return []string{"/", "/?find=nosuchjob", "/drill", "/nothing", "/drill/nosuchdrill00000", "/case/none", "/in/x", played, moved, ended,
		fresh, fresh + "/ask", fresh + "/ask?words=slips+in+third", fresh + "/plan", fresh + "/chart", fresh + "/parts", fresh + "/log", fresh + "/close", fresh + "/note?find=nosuchfinding",
		c + "?from=1&to=9", c + "/ask", c + "/ask?back=1", c + "/why?part=rear_clutch_plates", c + "/why?part=nosuch", c + "/note?find=slips", c + "/plan", c + "/plan?part=rear_clutch_plates",
		c + "/chart?e.front_clutch=dead", c + "/parts", c + "/log", c + "/close", c + "/sheet", c + "/sheet?short=1", o, o + "/ask", o + "/plan", o + "/close"}
}

// Every page fits a small tablet and a large one, its targets are large enough
// for a wet finger, and whoever goes through it with the tab key sees where it
// stands; in an ordinary run the small one.
func TestEveryPageFits(t *testing.T) {
	browser(t) // before seconds go into pages that nobody looks at
	srv, d, _ := at(t, nil)
	list := everyPage(t, srv, d)
	widths := []int64{320, 1280}
	for _, width := range size.Of(widths[:1], widths, widths) {
		x := tablet(t, width)
		for i, p := range list {
			if i%size.Of(3, 1, 1) != 0 {
				continue
			}
			run(t, x, p, chromedp.Navigate(srv.URL+p))
			holds(t, x, p, `document.readyState === 'complete'`)
			if code := ask(t, x, p, chromedp.Evaluate[int](`performance.getEntriesByType('navigation')[0].responseStatus`)); code == 0 || (code < 400) == refusedPages[p] {
				t.Errorf("%s: status %d", p, code)
			}
			if !strings.Contains(p, "/sheet") {
				sound(t, x, p)
				for range size.Of(2, 4, 4) {
					run(t, x, p, chromedp.KeyEvent(kb.Tab))
					if seen := ask(t, x, p, chromedp.Evaluate[string](`(() => {
						const e = document.activeElement, s = getComputedStyle(e), r = e.getBoundingClientRect();
						if (e === document.body) return '';
						const fine = s.outlineStyle !== 'none' && parseFloat(s.outlineWidth) >= 2 && r.width > 0 && r.left >= 0 && r.top < innerHeight - 8 && r.bottom > 8 && (r.top >= 0 || r.height > innerHeight / 4);
						return fine ? '' : e.outerHTML.slice(0, 120) + ' ' + s.outlineStyle + ' ' + s.outlineWidth + ' at ' + r.left + ',' + r.top;
					})()`)); seen != "" {
						t.Errorf("%s, %d px: focus is not seen on %s", p, width, seen)
					}
				}
				run(t, x, p, script(`document.activeElement.blur()`))
			}
			picture(t, x, fmt.Sprintf("every-%02d%s-%d", i, strings.Map(func(r rune) rune {
				if strings.ContainsRune("/?&=.+", r) {
					return '_'
				}
				return r
			}, p), width))
		}
	}
}

// The markup of every page is valid. SLIPCASE_HTML_VALIDATE names the program
// html-validate of the package of that name.
func TestValidMarkup(t *testing.T) {
	program := os.Getenv("SLIPCASE_HTML_VALIDATE")
	if program == "" {
		if os.Getenv("CI") == "" {
			t.Skip("SLIPCASE_HTML_VALIDATE does not name html-validate")
		}
		t.Fatal("SLIPCASE_HTML_VALIDATE does not name html-validate")
	}
	srv, d, _ := at(t, nil)
	dir := t.TempDir()
	config := `{ "root": true, "extends": ["html-validate:standard"] }`
	if err := os.WriteFile(filepath.Join(dir, ".htmlvalidate.json"), []byte(config), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, p := range everyPage(t, srv, d) {
		code, body := get(t, srv, p, nil)
		if code == http.StatusSeeOther {
			continue
		}
		name := strings.Map(func(r rune) rune {
			if strings.ContainsRune("/?&=.+", r) {
				return '_'
			}
			return r
		}, p) + ".html"
		if err := os.WriteFile(filepath.Join(dir, name), []byte(body), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	x := exec.Command(program, "--formatter", "text", dir)
	x.Dir = dir
	if said, err := x.CombinedOutput(); err != nil {
		t.Errorf("%v\n%s", err, strings.ReplaceAll(string(said), dir+"/", ""))
	}
}
