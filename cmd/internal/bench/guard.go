package bench

import (
	"errors"
	"log/slog"
	"net"
	"net/http"
	"strings"
)

const (
	mostForm  = 64 << 10 // bytes of a form
	mostPhoto = 12 << 20 // bytes of a picture
)

// policy lets the page load from this server only, and nothing run that stands
// in the page itself.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

// guard is what every request passes: its host, where it comes from, whether
// its tablet is let in, and how much it may send.
func (s *Server) guard(next http.Handler) http.Handler {
	cross := http.NewCrossOriginProtection()
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "same-origin")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Permissions-Policy", "geolocation=(), microphone=(), payment=()")
		h.Set("Cache-Control", "no-store")
		defer func() {
			if p := recover(); p != nil {
				if err, ok := p.(error); ok && errors.Is(err, http.ErrAbortHandler) {
					panic(p)
				}
				s.mistake(w, r, p)
			}
		}()
		switch {
		case !s.ownHost(r.Host):
			// A name that somebody else made point here.
			s.plain(w, r, http.StatusMisdirectedRequest, "This page answers under its own address only.")
			return
		case r.Method != http.MethodGet && r.Method != http.MethodHead && r.Method != http.MethodPost:
			s.plain(w, r, http.StatusMethodNotAllowed, "Only pages and forms are served.")
			return
		case r.Method == http.MethodPost && (cross.Check(r) != nil || r.Header.Get("Origin") == "" && r.Header.Get("Sec-Fetch-Site") == ""):
			s.plain(w, r, http.StatusForbidden, "Entries are taken from this page only.")
			return
		}
		if s.gate != nil && !strings.HasPrefix(r.URL.Path, "/in/") && !strings.HasPrefix(r.URL.Path, "/web/") && !s.gate.admits(r) {
			s.plain(w, r, http.StatusForbidden, "This tablet has no access yet. Scan the code on the terminal where slipcase bench runs.")
			return
		}
		limit := int64(mostForm)
		if strings.HasSuffix(r.URL.Path, "/photo") {
			limit = mostPhoto + mostForm
		}
		r.Body = http.MaxBytesReader(w, r.Body, limit)
		next.ServeHTTP(w, r)
	})
}

// ownHost tells whether a request names one of the addresses that the server
// is told to answer under.
func (s *Server) ownHost(host string) bool {
	name := host
	if h, _, err := net.SplitHostPort(host); err == nil {
		name = h
	}
	name = strings.Trim(strings.ToLower(name), "[]")
	for _, h := range s.hosts {
		if name == h {
			return true
		}
	}
	return false
}

func (s *Server) plain(w http.ResponseWriter, r *http.Request, code int, text string) {
	s.render(w, r, code, view{Page: "fault", Title: "Not done", Faults: []string{text}})
}

var discard = slog.New(slog.DiscardHandler)
