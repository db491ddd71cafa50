package bench

import (
	"context"
	"fmt"
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"slipcase/cmd/internal/desk"
)

// browser starts Chromium. These runs are long, and not yet steady on a busy
// machine: they are behind SLIPCASE_LONG=1.
func browser(t *testing.T) context.Context {
	t.Helper()
	if os.Getenv("SLIPCASE_LONG") == "" {
		t.Skip("SLIPCASE_LONG is not set")
	}
	path := os.Getenv("CHROMIUM")
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if path == "" {
			path, _ = exec.LookPath(name)
		}
	}
	if path == "" {
		t.Fatal("there is no Chromium: install it, or name it in CHROMIUM")
	}
	opts := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.UserDataDir(t.TempDir()), chromedp.WSURLReadTimeout(2*time.Minute))
	ctx, cancel := chromedp.NewExecAllocator(t.Context(), opts...)
	t.Cleanup(cancel)
	ctx, cancel = context.WithTimeout(ctx, 5*time.Minute)
	t.Cleanup(cancel)
	ctx, cancel = chromedp.NewContext(ctx)
	t.Cleanup(cancel)
	if err := chromedp.Do(ctx); err != nil {
		t.Fatal("Chromium does not start: ", err)
	}
	return ctx
}

// tablet is a page of its own with a width.
func tablet(t *testing.T, ctx context.Context, width int64) context.Context {
	t.Helper()
	ctx, cancel := chromedp.NewContext(ctx, chromedp.WithNewBrowserContext())
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
	short, cancel := context.WithTimeout(ctx, 20*time.Second)
	defer cancel()
	if err := chromedp.Do(short, steps...); err != nil {
		t.Logf("%s: %v", what, err)
		short, cancel := context.WithTimeout(ctx, 5*time.Second)
		defer cancel()
		text, _ := chromedp.Run(short, chromedp.Evaluate[string]("document.body.innerText"))
		t.Fatalf("%s: %v\n%s", what, err, text)
	}
}

// ask gives what an action finds.
func ask[T any](t *testing.T, ctx context.Context, what string, a chromedp.Action[T]) T {
	t.Helper()
	ctx, cancel := context.WithTimeout(ctx, time.Minute)
	defer cancel()
	got, err := chromedp.Run(ctx, a)
	if err != nil {
		t.Fatalf("%s: %v", what, err)
	}
	return got
}

// picture keeps what the page looks like, where SLIPCASE_PICTURES names a folder.
func picture(t *testing.T, ctx context.Context, name string) {
	t.Helper()
	dir := os.Getenv("SLIPCASE_PICTURES")
	if dir == "" {
		return
	}
	b := ask(t, ctx, "picture "+name, chromedp.FullScreenshot(100))
	if err := os.WriteFile(filepath.Join(dir, name+".png"), b, 0o644); err != nil {
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

// tap touches what css finds, as a finger does.
func tap(css string) step {
	return chromedp.Steps(chromedp.WaitVisible(chromedp.CSS(css)), chromedp.Tap(chromedp.CSS(css)))
}

// keys goes to what css finds with the tab key alone, and presses a key there.
func keys(css, key string) step {
	return chromedp.Func(func(ctx context.Context, tab *chromedp.Target) error {
		if _, err := chromedp.WaitVisible(chromedp.CSS(css))(ctx, tab); err != nil {
			return err
		}
		for range 300 {
			there, err := chromedp.Evaluate[bool](fmt.Sprintf(`!!document.activeElement && document.activeElement.matches(%q)`, css))(ctx, tab)
			if err != nil {
				return err
			}
			if there {
				_, err = chromedp.KeyEvent(key)(ctx, tab)
				return err
			}
			if _, err := chromedp.KeyEvent(kb.Tab)(ctx, tab); err != nil {
				return err
			}
		}
		return fmt.Errorf("the tab key does not reach %s", css)
	})
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
	for end := time.Now().Add(30 * time.Second); !holds(); time.Sleep(50 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatalf("%s: not within half a minute", what)
		}
	}
}

// The whole job from opening to closing, by touch and by keyboard alone, on a
// small and on a large tablet.
func TestWholeJob(t *testing.T) {
	all := browser(t)
	for _, c := range []struct {
		name  string
		width int64
		press func(css string) step
	}{
		{"touch", 320, tap},
		{"keyboard", 1280, func(css string) step {
			key := kb.Enter
			if strings.Contains(css, "input") {
				key = " "
			}
			return keys(css, key)
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			srv, d, _ := at(t, nil)
			ctx := tablet(t, all, c.width)
			began, presses := time.Now(), 0
			press := func(what, css string) {
				t.Helper()
				presses++
				run(t, ctx, what, c.press(css))
			}
			look := func(name string) {
				t.Helper()
				sound(t, ctx, name)
				picture(t, ctx, fmt.Sprintf("%s-%d", name, c.width))
			}
			case1 := func() []desk.EntryLine { return entries(t, d, "26-0001") }
			run(t, ctx, "the first page", chromedp.Navigate(srv.URL), chromedp.WaitVisible(chromedp.CSS(`select[name=unit]`)))
			look("cases")
			run(t, ctx, "the head of the case",
				chromedp.SetValue(chromedp.CSS(`select[name=unit]`), "harrow-3"),
				chromedp.SendKeys(chromedp.CSS(`input[name=title]`), "No reverse"),
				chromedp.SendKeys(chromedp.CSS(`textarea[name=words]`), "no reverse at all, drives forward fine"))
			press("open", `form[action="/open"] button`)
			run(t, ctx, "the complaint", chromedp.WaitVisible(chromedp.CSS(`form[method=get] textarea[name=words]`)))
			look("complaint")
			press("read it", `main form[method=get] button`)
			run(t, ctx, "what it may mean", chromedp.WaitVisible(chromedp.CSS(`form[action$="/tell"] button`)))
			look("meant")
			press("right", `form[action$="/tell"] button`)
			until(t, "the complaint is kept", func() bool { return len(case1()) > 0 })
			run(t, ctx, "a question", chromedp.WaitVisible(chromedp.CSS(`form.ask, a.button[href="/case/26-0001"]`)))
			look("question")
			n := len(case1())
			press("pass it over", `form.ask button[value=skip]`)
			until(t, "the question is passed over", func() bool { return len(case1()) > n })
			run(t, ctx, "now", chromedp.Navigate(srv.URL+"/case/26-0001"), chromedp.WaitVisible(chromedp.CSS(`.rank`)))
			look("now")
			press("why the leader", `.rank li:first-child summary`)
			run(t, ctx, "the chart", chromedp.Navigate(srv.URL+"/case/26-0001/chart?e.front_clutch=dead"), chromedp.WaitVisible(chromedp.CSS(`img.drawing`)))
			look("chart")
			run(t, ctx, "readings", chromedp.Navigate(srv.URL+"/case/26-0001/note?find=slips"), chromedp.WaitVisible(chromedp.CSS(`input[data-pad]`)))
			press("a field for a number", `input[data-pad]`)
			if c.name == "touch" {
				press("7 on the pad", `.pad button:nth-child(7)`)
				if typed := ask(t, ctx, "what the pad typed", chromedp.Value(chromedp.CSS(`input[data-pad]`))); typed != "7" {
					t.Errorf("the pad typed %q", typed)
				}
			}
			look("note")
			run(t, ctx, "the plan", chromedp.Navigate(srv.URL+"/case/26-0001/plan"), chromedp.WaitVisible(chromedp.CSS(`form[action$="/done"] button`)))
			look("plan")
			n = len(case1())
			press("done", `form[action$="/done"] button`)
			until(t, "the step is ticked off", func() bool { return len(case1()) > n })
			run(t, ctx, "what was written", chromedp.WaitVisible(chromedp.CSS(`.wrote button`)))
			look("written")
			n = len(case1())
			press("take it back", `.wrote button`)
			until(t, "it is taken back", func() bool { return len(case1()) > n })
			run(t, ctx, "a part", chromedp.Navigate(srv.URL+"/case/26-0001/plan?part="+anyPart(t, d)), chromedp.WaitVisible(chromedp.CSS(`form[action$="/part"] button`)))
			look("part")
			n = len(case1())
			press("a way to fail", `form[action$="/part"] label:nth-of-type(2) input`)
			press("found", `form[action$="/part"] button`)
			until(t, "it is found", func() bool { return len(case1()) > n })
			run(t, ctx, "photos", chromedp.Navigate(srv.URL+"/case/26-0001/parts"), chromedp.WaitVisible(chromedp.CSS(`input[type=file]`)))
			look("photos")
			run(t, ctx, "the log", chromedp.Navigate(srv.URL+"/case/26-0001/log"), chromedp.WaitVisible(chromedp.CSS(`.log`)))
			look("log")
			run(t, ctx, "closing", chromedp.Navigate(srv.URL+"/case/26-0001/close"), chromedp.WaitVisible(chromedp.CSS(`form[action$="/close"]`)),
				script(`document.querySelectorAll('input[value=good]').forEach((x) => { x.checked = true; })`))
			look("close")
			press("close", `form[action$="/close"] button`)
			until(t, "the case is closed", func() bool {
				l, err := d.Cases(t.Context(), desk.CasesInput{Closed: true})
				return err == nil && l.Data.Fixed == 1
			})
			t.Logf("%d presses besides what was typed, %v", presses, time.Since(began).Round(time.Second))
		})
	}
}

// anyPart is a component of the unit of the case.
func anyPart(t *testing.T, d *desk.Desk) string {
	t.Helper()
	parts, err := d.Parts(t.Context(), desk.CaseRef{In: "26-0001"})
	if err != nil {
		t.Fatal(err)
	}
	return parts[0].Component
}

// What is entered while the connection is cut is kept, sent when it is back,
// and there once; the other tablet sees it without being touched.
func TestCutAndBack(t *testing.T) {
	all := browser(t)
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
	id := opened(t, d)
	one, two := tablet(t, all, 1280), tablet(t, all, 320)
	for _, x := range []context.Context{one, two} {
		run(t, x, "the page of notes", chromedp.Navigate(srv.URL+"/case/"+id+"/note"), chromedp.WaitVisible(chromedp.CSS(`textarea[name=text]`)))
	}
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
	ask(t, two, "the other tablet", chromedp.Poll[bool](`document.querySelector('.log').textContent.includes('smells burnt')`, chromedp.WithPollingTimeout(30*time.Second)))
	t.Logf("the other tablet shows it after %v", time.Since(from).Round(10*time.Millisecond))
	time.Sleep(2500 * time.Millisecond) // it would be sent again now
	if list := entries(t, d, id); len(list) != 1 {
		t.Errorf("%d entries: %v", len(list), list)
	}
}

// A wrong code does not let a tablet in, the right one does, in the browser's
// own terms: cookie, redirects and all.
func TestCodeInBrowser(t *testing.T) {
	all := browser(t)
	gate := NewGate()
	srv, d, _ := at(t, gate)
	id := opened(t, d)
	x := tablet(t, all, 320)
	for _, c := range []struct{ path, want string }{
		{"/case/" + id, "not let in"}, {"/in/wrong", "no longer works"}, {"/in/" + gate.Token(), "This tablet is connected"}, {"/case/" + id + "/log", "Nothing is entered"},
	} {
		run(t, x, c.path, chromedp.Navigate(srv.URL+c.path))
		if text := ask(t, x, c.path, chromedp.Text(chromedp.CSS("body"))); !strings.Contains(text, c.want) {
			t.Errorf("%s: %s", c.path, text)
		}
	}
}

// No finding of weight of the axe checks of accessibility, light and dark.
// SLIPCASE_AXE names axe.min.js of the package axe-core.
func TestAccessible(t *testing.T) {
	if os.Getenv("SLIPCASE_LONG") == "" {
		t.Skip("SLIPCASE_LONG is not set")
	}
	file := os.Getenv("SLIPCASE_AXE")
	if file == "" {
		t.Fatal("SLIPCASE_AXE does not name axe.min.js")
	}
	axe, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	all := browser(t)
	srv, d, _ := at(t, nil)
	id := opened(t, d)
	x := tablet(t, all, 1280)
	for _, scheme := range []string{"light", "dark"} {
		for _, p := range []string{"/", "/case/" + id, "/case/" + id + "/ask", "/case/" + id + "/ask?words=slips", "/case/" + id + "/note?find=slips", "/case/" + id + "/plan", "/case/" + id + "/chart?e.front_clutch=dead", "/case/" + id + "/parts", "/case/" + id + "/log", "/case/" + id + "/close", "/case/none"} {
			if _, err := chromedp.Call(x, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}}); err != nil {
				t.Fatal(err)
			}
			run(t, x, p, chromedp.Navigate(srv.URL+p), script(string(axe)))
			bad := ask(t, x, p, chromedp.Evaluate[[]string](`axe.run().then((r) => r.violations.filter((v) => ['serious', 'critical'].includes(v.impact)).flatMap((v) => v.nodes.map((n) => v.id + ': ' + n.html.slice(0, 140) + ' ' + n.failureSummary.slice(0, 200))))`, chromedp.EvalAwaitPromise))
			for _, b := range bad {
				t.Errorf("%s, %s: %s", p, scheme, b)
			}
		}
	}
}

// Many requests a second for a minute on the machine itself: for figures, by
// SLIPCASE_LONG, since a busy machine says nothing.
func TestUnderLoad(t *testing.T) {
	if os.Getenv("SLIPCASE_LONG") == "" {
		t.Skip("SLIPCASE_LONG is not set")
	}
	srv, d, _ := at(t, nil)
	id := opened(t, d)
	get(t, srv, "/case/"+id, nil)
	load(t, srv, "/case/"+id, 200, time.Minute)
}

func load(t *testing.T, srv *httptest.Server, path string, perSecond int, span time.Duration) {
	t.Helper()
	client := &http.Client{Transport: &http.Transport{MaxIdleConnsPerHost: 200, DialContext: (&net.Dialer{}).DialContext}}
	type result struct {
		took time.Duration
		bad  string
	}
	n := perSecond * int(span/time.Second)
	out := make(chan result, n)
	tick := time.NewTicker(time.Second / time.Duration(perSecond))
	defer tick.Stop()
	for range n {
		<-tick.C
		go func() {
			from := time.Now()
			res, err := client.Get(srv.URL + path)
			r := result{}
			if err != nil {
				r.bad = err.Error()
			} else {
				res.Body.Close()
				if res.StatusCode != http.StatusOK {
					r.bad = res.Status
				}
			}
			r.took = time.Since(from)
			out <- r
		}()
	}
	var took []time.Duration
	for range n {
		r := <-out
		if r.bad != "" {
			t.Error(r.bad)
		}
		took = append(took, r.took)
	}
	tell(t, n, took)
}

func tell(t *testing.T, n int, took []time.Duration) {
	slices.Sort(took)
	t.Logf("%d requests: median %v, p99 %v, longest %v", n, took[n/2], took[n*99/100], took[n-1])
}
