package bench

import (
	"context"
	"fmt"
	"net/http"
	"slices"
	"strings"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/asking"
	"slipcase/cmd/internal/desk/casework"
	"slipcase/cmd/internal/desk/opened"
	"slipcase/cmd/internal/desk/talk"
	"slipcase/cmd/internal/notation"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
)

type askData struct {
	Words     string // the complaint
	Begun     bool
	Listened  bool // Proposals say what the words may mean
	Proposals []talk.Proposal
	Noted     []talk.Proposal // what the words say of which the case has it already
	Question  *talk.Question
	Stop      *talk.Stop
	Leading   string
	Answered  int
}

// ask is the interview: the complaint first, then one question at a time.
func (s *Server) ask(r *http.Request) (view, error) {
	v, _, err := s.head(r, "ask", "Ask the driver")
	if err != nil || v.Case.Status != "open" {
		v.Data = askData{}
		return v, err
	}
	x, err := s.desk.Interview(r.Context(), asking.CaseRef{In: v.ID}, "")
	if err != nil {
		return v, err
	}
	defer x.Close()
	d := askData{Begun: x.Begun(), Words: x.Words(), Answered: x.Answered()}
	if w, ok := r.Form["words"]; ok {
		d.Words, d.Listened = strings.TrimSpace(w[0]), true
		d.Proposals, d.Noted = x.Heard(d.Words)
	} else if d.Begun {
		switch {
		case r.FormValue("back") != "":
			d.Question = x.Back()
		case r.FormValue("on") != "":
			d.Question, d.Stop, err = x.GoOn()
		}
		if d.Question == nil && d.Stop == nil && err == nil {
			d.Question, d.Stop, err = x.Next()
		}
		if err != nil {
			return v, err
		}
		if _, sentence, err := x.Leading(); err == nil && x.Case().Reports > 0 {
			d.Leading = sentence
		}
	}
	v.Data = d
	return v, nil
}

// tell takes over what was confirmed of the complaint.
func (s *Server) tell(r *http.Request, ref opened.Ref) (string, error) {
	x, err := s.desk.InterviewUnder(context.WithoutCancel(r.Context()), ref)
	if err != nil {
		return "", err
	}
	defer x.Close()
	var present, absent []string
	for _, f := range r.PostForm["present"] {
		if f != "" {
			present = append(present, f)
		}
	}
	for _, f := range r.PostForm["absent"] {
		if f != "" {
			absent = append(absent, f)
		}
	}
	return "ask", x.Confirm(r.PostFormValue("words"), present, absent)
}

// answer takes the answer to the question that a form shows. Where another
// tablet has answered it in the meantime, this answer replaces that one: the
// later word of the driver counts, and both stay in the log.
func (s *Server) answer(r *http.Request, ref opened.Ref) (string, error) {
	x, err := s.desk.InterviewUnder(context.WithoutCancel(r.Context()), ref)
	if err != nil {
		return "", err
	}
	defer x.Close()
	check := r.PostFormValue("check")
	q, _, err := x.Next()
	if err != nil {
		return "", err
	}
	if q == nil || q.Check != check {
		if q, _, err = x.GoOn(); err != nil {
			return "", err
		}
	}
	for q == nil || q.Check != check {
		if q = x.Back(); q == nil {
			return s.late(r, ref)
		}
	}
	said := talk.Said{NotTried: r.PostForm["not_tried"]}
	for _, i := range findings(r) {
		switch i.Report.State {
		case engine.Present:
			said.Present = append(said.Present, i.Report.Finding)
		case engine.Absent:
			said.Absent = append(said.Absent, i.Report.Finding)
		default:
			said.Unknown = append(said.Unknown, i.Report.Finding)
		}
	}
	switch how := r.PostFormValue("how"); {
	case how == "skip":
		err = x.Skip()
	case how == "unknown":
		err = x.DontKnow()
	case (how == "yes" || how == "no") && q.Single && len(q.Options) > 0:
		one := talk.Said{Present: []string{q.Options[0].Finding}}
		if how == "no" {
			one = talk.Said{Absent: []string{q.Options[0].Finding}}
		}
		err = x.Answer(one)
	case q.Counts != "":
		err = x.Count(q.Counts, r.PostFormValue("count"))
	case len(q.Choices) > 0:
		if len(r.PostForm["choice"]) == 0 {
			return "", answer.Fail(answer.WrongUse, "nothing is chosen", "choose an answer, or skip the question")
		}
		if q.Given && slices.Equal(taken(q), r.PostForm["choice"]) {
			break // as it was answered before: nothing new is said
		}
		err = x.Choose(r.PostForm["choice"]...)
	default:
		if how == "none" {
			said.Rest = engine.Absent
		}
		if len(said.Present)+len(said.Absent)+len(said.Unknown)+len(said.NotTried) == 0 && said.Rest == "" {
			return "", answer.Fail(answer.WrongUse, "nothing is marked", "mark what the driver says, or skip the question")
		}
		err = x.Answer(said)
	}
	return "ask", err
}

// taken are the choices that were taken before, in the order of the page.
func taken(q *talk.Question) (out []string) {
	for _, c := range q.Choices {
		if c.Taken {
			out = append(out, c.Name)
		}
	}
	return out
}

// mostAsked are the characters of a question that are kept with a late answer.
const mostAsked = 300

// late keeps an answer to a question that is not asked any more as what the
// driver said.
func (s *Server) late(r *http.Request, ref opened.Ref) (string, error) {
	in := casework.NoteInput{Items: findings(r), By: engine.Driver}
	state := map[string]engine.State{"yes": engine.Present, "no": engine.Absent}[r.PostFormValue("how")]
	if f := r.PostFormValue("finding"); f != "" && state != "" {
		in.Items = append(in.Items, notation.Item{Report: &engine.Report{Finding: f, State: state}})
	}
	if len(in.Items) == 0 {
		said := append(slices.Clone(r.PostForm["choice"]), r.PostFormValue("count"))
		how := r.PostFormValue("how")
		if words, ok := map[string]string{"skip": "skipped", "unknown": "the driver does not know", "count": "", "choice": "", "some": "", "none": "none of it"}[how]; ok {
			how = words
		}
		said = slices.DeleteFunc(append(said, how), func(x string) bool { return x == "" })
		for i := range said {
			said[i] = wording.Name(said[i])
		}
		asked := []rune(strings.TrimSpace(r.PostFormValue("asked")))
		if len(asked) == 0 {
			asked = []rune(wording.Name(r.PostFormValue("check")))
		}
		in.By, in.Text = "", fmt.Sprintf("Answer to “%s”, which is no longer asked: %s", string(asked[:min(len(asked), mostAsked)]), strings.Join(said, ", "))
	}
	_, err := s.desk.Note(r.Context(), ref, in)
	return "ask", err
}
