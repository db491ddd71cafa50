package bench

import (
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"encoding/base64"
	"net/http"
	"sync"
	"time"
)

// Gate lets in who holds the token. It is safe for many requests at once.
type Gate struct {
	now func() time.Time

	mu    sync.Mutex
	token string
	pass  string // what the cookie holds; changes with the token
	wrong []time.Time
}

// Guessing is slow: this many wrong tokens in this time, from anybody, and
// then none is looked at until the time is over. The token has 128 bits, so
// that this keeps the log short more than it keeps anybody out.
const (
	mostWrong = 10
	wrongTime = time.Minute
	cookie    = "slipcase_bench"
)

// NewGate makes a gate with a token of its own.
func NewGate() *Gate {
	g := &Gate{now: time.Now}
	g.Rotate()
	return g
}

// Rotate makes a new token. Tablets that came in with the old one are out.
func (g *Gate) Rotate() string {
	g.mu.Lock()
	defer g.mu.Unlock()
	g.token, g.pass = secret(), secret()
	g.wrong = nil
	return g.token
}

// Token is the token in force.
func (g *Gate) Token() string {
	g.mu.Lock()
	defer g.mu.Unlock()
	return g.token
}

func secret() string {
	b := make([]byte, 16)
	rand.Read(b) // never fails
	return base64.RawURLEncoding.EncodeToString(b)
}

// same compares in a time that tells nothing about where the two differ.
func same(a, b string) bool {
	x, y := sha256.Sum256([]byte(a)), sha256.Sum256([]byte(b))
	return subtle.ConstantTimeCompare(x[:], y[:]) == 1
}

// enter gives what the cookie is to hold to whoever has the token. Busy: too
// many were wrong lately.
func (g *Gate) enter(token string) (pass string, busy bool) {
	g.mu.Lock()
	defer g.mu.Unlock()
	from := g.now().Add(-wrongTime)
	for len(g.wrong) > 0 && g.wrong[0].Before(from) {
		g.wrong = g.wrong[1:]
	}
	if len(g.wrong) >= mostWrong {
		return "", true
	}
	if !same(token, g.token) {
		g.wrong = append(g.wrong, g.now())
		return "", false
	}
	return g.pass, false
}

// admits tells whether a request comes from a tablet that has come in.
func (g *Gate) admits(r *http.Request) bool {
	c, err := r.Cookie(cookie)
	if err != nil {
		return false
	}
	g.mu.Lock()
	defer g.mu.Unlock()
	return same(c.Value, g.pass)
}

// enterPage takes the token of the code on the terminal and lets the tablet in.
func (s *Server) enterPage(w http.ResponseWriter, r *http.Request) {
	if s.gate == nil {
		http.Redirect(w, r, "/", http.StatusSeeOther)
		return
	}
	pass, busy := s.gate.enter(r.PathValue("token"))
	switch {
	case busy:
		w.Header().Set("Retry-After", "60")
		s.plain(w, r, http.StatusTooManyRequests, "Too many wrong codes. Wait a minute, then scan the code on the terminal again.")
	case pass == "":
		s.plain(w, r, http.StatusForbidden, "That code no longer works. Scan the one on the terminal now.")
	default:
		http.SetCookie(w, &http.Cookie{Name: cookie, Value: pass, Path: "/", HttpOnly: true, SameSite: http.SameSiteStrictMode})
		// Not a redirect: a cookie that is strict is not sent along one that
		// began outside, at the tablet's camera.
		s.render(w, r, http.StatusOK, view{Page: "entered", Title: "This tablet is connected"})
	}
}
