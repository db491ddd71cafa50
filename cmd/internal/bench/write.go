package bench

import (
	"fmt"
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/casework"
	"slipcase/cmd/internal/desk/opened"
	"slipcase/cmd/internal/notation"
	"slipcase/engine"
	"slipcase/engine/quantity"
)

// entry writes to a case; it gives the page to show afterwards, "" for Now.
type entry func(r *http.Request, ref opened.Ref) (page string, err error)

var goodKey = regexp.MustCompile(`^[\w-]{8,96}$`)

// entry serves an entry: what was sent before under its key is not written
// again, and the same page follows.
func (s *Server) entry(f entry) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		id := r.PathValue("id")
		if err := r.ParseMultipartForm(mostForm); err != nil && err != http.ErrNotMultipart {
			s.failed(w, r, answer.Fail(answer.WrongUse, "what was sent cannot be read, or is too large", ""))
			return
		}
		key := r.PostFormValue("key")
		if !goodKey.MatchString(key) || strings.HasSuffix(key, "-") {
			s.failed(w, r, answer.Fail(answer.WrongUse, "the entry has no key", "open the page again"))
			return
		}
		free := s.write.hold(id)
		defer free()
		seqs, err := s.desk.Stored(r.Context(), id, key)
		if err != nil {
			s.failed(w, r, err)
			return
		}
		page := pageAfter(r)
		if len(seqs) == 0 {
			if p, err := f(r, opened.Ref{In: id, Who: whoIs(r), Key: key}); err != nil {
				s.failed(w, r, err)
				return
			} else if p != "" {
				page = p
			}
			if seqs, err = s.desk.Stored(r.Context(), id, key); err != nil {
				s.failed(w, r, err)
				return
			}
		}
		with := url.Values{}
		if len(seqs) > 0 {
			with.Set("from", fmt.Sprint(seqs[0]))
			with.Set("to", fmt.Sprint(seqs[len(seqs)-1]))
		}
		http.Redirect(w, r, to(id, page, with), http.StatusSeeOther)
	}
}

// pageAfter is the page that a form asks for.
func pageAfter(r *http.Request) string {
	if p := r.PostFormValue("then"); slices.Contains([]string{"ask", "plan", "note", "log", "close", "parts"}, p) {
		return p
	}
	return ""
}

const whoCookie = "slipcase_who"

// whoIs is who works with this tablet.
func whoIs(r *http.Request) string {
	c, err := r.Cookie(whoCookie)
	if err != nil {
		return ""
	}
	who, err := url.QueryUnescape(c.Value)
	if err != nil || len(who) > 60 {
		return ""
	}
	return who
}

func (s *Server) who(w http.ResponseWriter, r *http.Request) {
	name := strings.TrimSpace(r.PostFormValue("who"))
	if len(name) > 60 {
		s.failed(w, r, answer.Fail(answer.WrongUse, "the name is too long", ""))
		return
	}
	http.SetCookie(w, &http.Cookie{Name: whoCookie, Value: url.QueryEscape(name), Path: "/", MaxAge: 365 * 24 * 3600, HttpOnly: true, SameSite: http.SameSiteStrictMode})
	http.Redirect(w, r, "/", http.StatusSeeOther)
}

// open opens a case.
func (s *Server) open(w http.ResponseWriter, r *http.Request) {
	key := r.PostFormValue("key")
	if !goodKey.MatchString(key) {
		s.failed(w, r, answer.Fail(answer.WrongUse, "the case has no key", "open the page again"))
		return
	}
	ans, err := s.desk.OpenCase(r.Context(), casework.OpenInput{Unit: r.PostFormValue("unit"), Title: strings.TrimSpace(r.PostFormValue("title")),
		Vehicle: strings.TrimSpace(r.PostFormValue("vehicle")), Words: strings.TrimSpace(r.PostFormValue("words")), Who: whoIs(r), Key: key, Of: strings.TrimSpace(r.PostFormValue("of"))})
	if err != nil {
		s.failed(w, r, err)
		return
	}
	http.Redirect(w, r, to(ans.Data.ID, "ask", nil), http.StatusSeeOther)
}

var states = map[string]engine.State{"present": engine.Present, "absent": engine.Absent, "unknown": engine.Unknown}

// findings are the findings that a form marks: f.NAME = present, absent or
// unknown.
func findings(r *http.Request) (out []notation.Item) {
	for _, f := range fields(r, "f.") {
		if state := states[r.PostFormValue("f."+f)]; state != "" {
			out = append(out, notation.Item{Report: &engine.Report{Finding: f, State: state}})
		}
	}
	return out
}

// fields lists the fields of a form whose names begin with a prefix, without
// it, sorted: a form of a browser has no order of its own here.
func fields(r *http.Request, prefix string) []string {
	var out []string
	for name := range r.PostForm {
		if f, ok := strings.CutPrefix(name, prefix); ok {
			out = append(out, f)
		}
	}
	slices.Sort(out)
	return out
}

// readings are what a form says was measured: m.NAME with the number, u.NAME
// with the unit of measure. A decimal comma is one.
func readings(r *http.Request) (out []notation.Item) {
	for _, m := range fields(r, "m.") {
		value := strings.ReplaceAll(strings.TrimSpace(r.PostFormValue("m."+m)), ",", ".")
		if value == "" {
			continue
		}
		q, err := quantity.Parse(value + " " + r.PostFormValue("u."+m))
		if err != nil {
			out = append(out, notation.Item{Wrong: answer.Fail(answer.WrongUse, fmt.Sprintf("%q is not a reading", value), "give a number")})
			continue
		}
		name, place, _ := strings.Cut(m, "@")
		out = append(out, notation.Item{Reading: &engine.Reading{Name: name, Place: place, Value: q}})
	}
	return out
}

func (s *Server) note(r *http.Request, ref opened.Ref) (string, error) {
	items := append(findings(r), readings(r)...)
	_, err := s.desk.Note(r.Context(), ref, casework.NoteInput{Items: items, By: r.PostFormValue("by"), Text: r.PostFormValue("text"), Codes: r.PostFormValue("codes")})
	return "", err
}

func (s *Server) tick(r *http.Request, ref opened.Ref) (string, error) {
	_, err := s.desk.Done(r.Context(), ref, casework.DoneInput{Steps: r.PostForm["step"], Measures: readings(r), Note: strings.TrimSpace(r.PostFormValue("text"))})
	return "plan", err
}

// part says of a part what it is like.
func (s *Server) part(r *http.Request, ref opened.Ref) (string, error) {
	part := r.PostFormValue("part")
	note := strings.TrimSpace(r.PostFormValue("text"))
	var err error
	// A part can have failed in more than one way at once.
	var found []casework.FoundPart
	for _, m := range r.PostForm["mode"] {
		if m != "" {
			found = append(found, casework.FoundPart{Component: part, Mode: m})
		}
	}
	good := slices.Contains(r.PostForm["mode"], "")
	switch {
	case good && len(found) > 0:
		return "", answer.Fail(answer.WrongUse, "the part is marked good and failed at once", "mark one of the two")
	case !good && len(found) == 0:
		return "", answer.Fail(answer.WrongUse, "nothing is marked", "mark what it is like")
	case good:
		_, err = s.desk.Clear(r.Context(), ref, []string{part}, note)
	default:
		_, err = s.desk.Found(r.Context(), ref, casework.FoundInput{Parts: found, Cause: r.PostFormValue("cause"), Note: note})
	}
	return "plan", err
}

func (s *Server) settle(r *http.Request, ref opened.Ref) (string, error) {
	_, err := s.desk.Settle(r.Context(), ref, []engine.SettledCause{{Cause: r.PostFormValue("cause"), Present: r.PostFormValue("is") == "yes"}})
	return pageAfter(r), err
}

func (s *Server) undo(r *http.Request, ref opened.Ref) (string, error) {
	var seqs []int64
	for _, text := range r.PostForm["entry"] {
		n, err := strconv.ParseInt(text, 10, 64)
		if err != nil {
			return "", answer.Fail(answer.WrongUse, fmt.Sprintf("%q is not the number of an entry", text), "")
		}
		seqs = append(seqs, n)
	}
	if len(seqs) == 0 {
		return "", answer.Fail(answer.WrongUse, "no entry is named", "")
	}
	_, err := s.desk.Undo(r.Context(), ref, seqs, strings.TrimSpace(r.PostFormValue("text")))
	return "", err
}

func (s *Server) close(r *http.Request, ref opened.Ref) (string, error) {
	in := casework.CloseInput{Outcome: engine.CaseStatus(r.PostFormValue("outcome")), Earlier: strings.TrimSpace(r.PostFormValue("earlier")),
		Note: strings.TrimSpace(r.PostFormValue("text")), Undrove: strings.TrimSpace(r.PostFormValue("undriven"))}
	if !slices.Contains(engine.CaseStatuses[1:], in.Outcome) {
		return "", answer.Fail(answer.WrongUse, "how the job ended is missing", "")
	}
	for name := range r.PostForm {
		if place, ok := strings.CutPrefix(name, "d."); ok && r.PostFormValue(name) != "" {
			in.Drove = append(in.Drove, notation.Drive{DriveResult: engine.DriveResult{Place: place, OK: r.PostFormValue(name) == "good"}})
		}
	}
	slices.SortFunc(in.Drove, func(a, b notation.Drive) int { return strings.Compare(a.Place, b.Place) })
	_, err := s.desk.CloseCase(r.Context(), ref, in)
	return "close", err
}

func (s *Server) reopen(r *http.Request, ref opened.Ref) (string, error) {
	_, err := s.desk.TakeUp(r.Context(), ref.In, strings.TrimSpace(r.PostFormValue("text")), ref.Who)
	return "", err
}
