package bench

import (
	"bytes"
	"context"
	"crypto/rand"
	"embed"
	"encoding/hex"
	"errors"
	"fmt"
	"hash/fnv"
	"html/template"
	"log/slog"
	"net/http"
	"regexp"
	"strings"
	"sync"
	"time"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk"
	"slipcase/cmd/internal/desk/asking"
	"slipcase/cmd/internal/desk/opened"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
)

//go:embed web
var web embed.FS

// Options make a server.
type Options struct {
	Desk  *desk.Desk
	Gate  *Gate    // nil: whoever reaches it is let in
	Hosts []string // names and addresses that it answers under, without port
	Log   *slog.Logger
}

// Server answers the pages. It is safe for many requests at once.
type Server struct {
	desk   *desk.Desk
	gate   *Gate
	hosts  []string
	log    *slog.Logger
	pages  map[string]*template.Template
	kept   kept
	hole   string // stands in a page that is kept where each tablet has a key of its own
	write  locks
	drills drills
	done   <-chan struct{} // closed when the server goes down
}

// New makes a server.
func New(o Options) *Server {
	s := &Server{desk: o.Desk, gate: o.Gate, hosts: o.Hosts, log: o.Log, pages: map[string]*template.Template{}, hole: newKey()}
	if s.log == nil {
		s.log = discard
	}
	base := template.Must(template.New("base.html").Funcs(template.FuncMap{
		"percent": func(n answer.Num) string { return wording.Percent(float64(n)) },
		"minutes": func(n answer.Num) string { return wording.Minutes(float64(n)) },
		"capital": wording.Capital, "fault": func(f string) string { return wording.Name(strings.ReplaceAll(f, ".", " ")) }, "status": statusWords, "names": wording.Name, "list": wording.List,
		"count": wording.Count, "when": when, "cause": causeOf,
		"per100": func(n answer.Num) string { return fmt.Sprintf("%.1f", 100*float64(n)) },
		"add":    func(i int) int { return i + 1 }, "min": func(n answer.Num) string { return fmt.Sprintf("%.0f", float64(n)) },
		"mins": func(n float64) string { return wording.Minutes(n) }, "stage": func(s engine.Stage) string { return wording.Capital(wording.Name(string(s))) },
		"few": func(list []line) []line { return list[:min(len(list), fewWrote)] },
	}).ParseFS(web, "web/base.html", "web/parts.html"))
	for _, page := range []string{"home", "case", "why", "ask", "plan", "note", "chart", "log", "close", "photos", "drill", "play", "fault", "entered"} {
		s.pages[page] = template.Must(template.Must(base.Clone()).ParseFS(web, "web/"+page+".html"))
	}
	return s
}

// when is a stamp as it is read.
func when(stamp string) string {
	t, err := time.Parse(time.RFC3339, stamp)
	if err != nil {
		return stamp
	}
	return t.Local().Format("2006-01-02 15:04")
}

// settling is a root cause to settle from a page of a case.
type settling struct{ ID, Key, Name, Title, Then string }

func causeOf(v view, name, title string) settling {
	then := ""
	if v.Tab == "plan" {
		then = "plan"
	}
	return settling{v.ID, v.Key, name, title, then}
}

// Handler is the whole of the server.
func (s *Server) Handler() http.Handler {
	m := http.NewServeMux()
	m.Handle("GET /web/{file}", http.HandlerFunc(s.file))
	m.HandleFunc("GET /in/{token}", s.enterPage)
	for pattern, f := range map[string]func(*http.Request) (view, error){
		"GET /{$}":             s.home,
		"GET /case/{id}":       s.now,
		"GET /case/{id}/why":   s.why,
		"GET /case/{id}/ask":   s.ask,
		"GET /case/{id}/plan":  s.plan,
		"GET /case/{id}/note":  s.notePage,
		"GET /case/{id}/chart": s.chart,
		"GET /case/{id}/log":   s.history,
		"GET /case/{id}/close": s.closePage,
		"GET /case/{id}/parts": s.photos,
		"GET /drill":           s.drillPage,
		"GET /drill/{drill}":   s.playPage,
	} {
		m.HandleFunc(pattern, s.page(f))
	}
	m.HandleFunc("POST /who", s.who)
	m.HandleFunc("POST /open", s.open)
	m.HandleFunc("POST /drill", s.beginDrill)
	m.HandleFunc("POST /drill/{drill}", s.playMove)
	for what, f := range map[string]entry{
		"ask": s.answer, "tell": s.tell, "note": s.note, "done": s.tick, "part": s.part,
		"cause": s.settle, "undo": s.undo, "close": s.close, "reopen": s.reopen, "photo": s.addPhoto,
	} {
		m.HandleFunc("POST /case/{id}/"+what, s.entry(f))
	}
	m.HandleFunc("GET /case/{id}/live", s.live)
	m.HandleFunc("GET /case/{id}/photo/{name}", s.photo)
	m.HandleFunc("GET /case/{id}/drawing", s.drawing)
	m.HandleFunc("GET /case/{id}/sheet", s.paper)
	m.HandleFunc("GET /", func(w http.ResponseWriter, r *http.Request) {
		s.plain(w, r, http.StatusNotFound, "There is no such page.")
	})
	return s.guard(m)
}

// Serve answers on a listener until ctx ends, and then lets what is begun come
// to its end.
func (s *Server) Serve(ctx context.Context, srv *http.Server, serve func() error) error {
	s.done = ctx.Done()
	srv.Handler = s.Handler()
	srv.ReadHeaderTimeout, srv.ReadTimeout, srv.WriteTimeout, srv.IdleTimeout = 5*time.Second, time.Minute, 2*time.Minute, 2*time.Minute
	srv.MaxHeaderBytes = 16 << 10
	srv.ErrorLog = slog.NewLogLogger(s.log.Handler(), slog.LevelDebug)
	ended := make(chan error, 1)
	go func() { ended <- serve() }()
	select {
	case err := <-ended:
		return err
	case <-ctx.Done():
	}
	last, cancel := context.WithTimeout(context.WithoutCancel(ctx), 10*time.Second)
	defer cancel()
	return errors.Join(srv.Shutdown(last), s.desk.Close())
}

// view is what a page shows.
type view struct {
	Page, Title, Tab string
	ID               string // of the case, "" for none
	Case             asking.CaseHead
	Key              string // under which a form of this page is stored
	Who              string
	Last             int64    // newest entry that the page shows
	Wrote            []line   // what was written just now
	MoreWrote        int      // entries of Wrote that are not told in words
	Faults           []string // what could not be done
	Limits           []string // of the answers below, which they stand above
	Warnings         []string
	Data             any
	Earlier          *opened.EarlierJob // of a comeback: the job that came back
	CameBack         []string           // comebacks of this case

	rules string // fingerprint of the shop's rules that it is made with
	facts string // name of what answers to the case are worked out from
}

type line struct {
	Seq   int64
	Words string
}

// page serves what f gives. A page of a case is made once for each state of the
// case and of the shop's rules, and kept.
func (s *Server) page(f func(*http.Request) (view, error)) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		if r.PathValue("id") == "" {
			v, err := f(r)
			if err != nil {
				s.failed(w, r, err)
				return
			}
			s.show(w, r, http.StatusOK, v)
			return
		}
		b, err := s.standing(r, "", func(r *http.Request) ([]byte, error) {
			v, err := f(r)
			if err != nil {
				return nil, err
			}
			v.Key = s.hole
			return s.html(v)
		})
		if err != nil {
			s.failed(w, r, err)
			return
		}
		deliver(w, http.StatusOK, bytes.ReplaceAll(b, []byte(s.hole), []byte(newKey())))
	}
}

// standing gives what make makes of a request about a case, made once as long
// as neither the case nor the shop's rules change. more is what it depends on
// besides.
func (s *Server) standing(r *http.Request, more string, make func(*http.Request) ([]byte, error)) ([]byte, error) {
	rev, err := s.desk.Revision(r.Context(), r.PathValue("id"))
	if err != nil {
		return nil, err
	}
	name := fmt.Sprintf("%d %d %s %s?%s %s", rev.Last, rev.Comebacks, rev.Rules, r.URL.Path, r.URL.Query().Encode(), more)
	return remember(&s.kept, name, func() ([]byte, error) {
		// Others may wait for the same: it is not given up with this request.
		ctx, cancel := context.WithTimeout(context.WithoutCancel(r.Context()), workTime)
		defer cancel()
		return make(r.WithContext(ctx))
	})
}

// newKey is a key for what a form will send.
func newKey() string {
	b := make([]byte, 12)
	rand.Read(b) // never fails
	return hex.EncodeToString(b)
}

func (s *Server) show(w http.ResponseWriter, r *http.Request, code int, v view) {
	v.Key, v.Who = newKey(), whoIs(r)
	s.render(w, r, code, v)
}

// failed shows why something could not be done.
func (s *Server) failed(w http.ResponseWriter, r *http.Request, err error) {
	f := answer.AsFailure(err)
	if f.Code == answer.Internal {
		s.mistake(w, r, err)
		return
	}
	v := view{Page: "fault", Title: "Not done"}
	if id := r.PathValue("id"); id != "" {
		// With the way back to its case, where there is one.
		if of, _, err := s.head(r, "fault", "Not done"); err == nil {
			v = of
			v.Tab, v.Wrote = "", nil
		}
	}
	for _, m := range f.Messages {
		v.Faults = append(v.Faults, s.message(m))
	}
	s.show(w, r, status(f.Code), v)
}

// mistake tells that the program failed, by a reference under which the log
// says why: what went wrong inside is nothing to a tablet.
func (s *Server) mistake(w http.ResponseWriter, r *http.Request, why any) {
	ref := newKey()[:8]
	s.log.Error("a page failed", "reference", ref, "page", r.URL.Path, "why", why)
	s.plain(w, r, http.StatusInternalServerError, "The program failed on this page. That is a bug in the program; no entry is left half written. The terminal where slipcase bench runs says more, under the reference "+ref+".")
}

// message is a message in the words of this face.
func (s *Server) message(m answer.Message) string {
	text := wording.Capital(m.Summary)
	if m.Detail != "" {
		text += ". " + wording.Capital(m.Detail)
	}
	for _, h := range m.Hints {
		if words := hint(h); words != "" {
			text += ". " + words
		}
	}
	return s.desk.WithoutPaths(text)
}

func (s *Server) messages(list []answer.Message) []string {
	var out []string
	for _, m := range list {
		out = append(out, s.message(m))
	}
	return out
}

// status is the status of a page for a failure.
func status(c answer.Code) int {
	switch c {
	case answer.NotFound:
		return http.StatusNotFound
	case answer.WrongUse:
		return http.StatusBadRequest
	case answer.Conflict, answer.Clash:
		return http.StatusConflict
	case answer.Rules, answer.TooWide:
		return http.StatusUnprocessableEntity
	case answer.Unavailable, answer.Canceled:
		return http.StatusServiceUnavailable
	}
	return http.StatusInternalServerError
}

func (s *Server) render(w http.ResponseWriter, r *http.Request, code int, v view) {
	b, err := s.html(v)
	if err != nil && v.Page != "fault" {
		s.mistake(w, r, err)
		return
	} else if err != nil { // the page of mistakes itself
		s.log.Error("a page failed", "page", r.URL.Path, "why", err)
		http.Error(w, "The program failed on this page. The terminal where slipcase bench runs says more.", http.StatusInternalServerError)
		return
	}
	deliver(w, code, b)
}

// html is a page as a whole, or an error and nothing of it.
func (s *Server) html(v view) ([]byte, error) {
	var b bytes.Buffer
	if err := s.pages[v.Page].ExecuteTemplate(&b, "base.html", v); err != nil {
		return nil, err
	}
	return percents.ReplaceAll(b.Bytes(), []byte("$1\u00a0%")), nil
}

// percents keeps a number and its sign on one line.
var percents = regexp.MustCompile(`(\d) %`)

func deliver(w http.ResponseWriter, code int, b []byte) {
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(code)
	w.Write(b)
}

// file serves the script and the styles.
func (s *Server) file(w http.ResponseWriter, r *http.Request) {
	types := map[string]string{"bench.css": "text/css; charset=utf-8", "bench.js": "text/javascript; charset=utf-8"}
	name := r.PathValue("file")
	b, err := web.ReadFile("web/" + name)
	if err != nil || types[name] == "" {
		s.plain(w, r, http.StatusNotFound, "There is no such file.")
		return
	}
	w.Header().Set("Content-Type", types[name])
	w.Header().Set("Cache-Control", "no-cache")
	w.Write(b)
}

// live tells a page the newest entry of its case, within a quarter of a second of its
// being written by whomever.
func (s *Server) live(w http.ResponseWriter, r *http.Request) {
	out := http.NewResponseController(w)
	if _, err := s.desk.Last(r.Context(), r.PathValue("id")); err != nil {
		s.failed(w, r, err)
		return
	}
	ctx, cancel := context.WithCancel(r.Context())
	defer cancel()
	go func() {
		select {
		case <-s.done:
			cancel()
		case <-ctx.Done():
		}
	}()
	w.Header().Set("Content-Type", "text/event-stream")
	again := "retry: 500\n" // ms after which a tablet that was cut off asks again
	err := s.desk.Watch(ctx, r.PathValue("id"), 250*time.Millisecond, func(last int64) error {
		if err := out.SetWriteDeadline(time.Time{}); err != nil {
			return err
		}
		fmt.Fprintf(w, "%sdata: %d\n\n", again, last)
		again = ""
		return out.Flush()
	})
	if ctx.Err() == nil && err != nil {
		s.log.Debug("a page no longer hears of new entries", "why", err)
	}
}

// locks are a lock for each name (two names may share one): what two tablets
// write to one case at the same moment is written one after the other, and what
// was sent twice is seen to be there.
type locks [64]sync.Mutex

func (l *locks) hold(id string) func() {
	h := fnv.New32a()
	h.Write([]byte(id))
	m := &l[h.Sum32()%uint32(len(l))]
	m.Lock()
	return m.Unlock
}
