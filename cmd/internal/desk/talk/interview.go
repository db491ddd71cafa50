package talk

import (
	"context"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/asking"
	"slipcase/cmd/internal/desk/books"
	"slipcase/cmd/internal/desk/opened"
	"slipcase/cmd/internal/fault"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
	"slipcase/engine/advise"
	"slipcase/engine/complaint"
	"slipcase/engine/diagnose"
	"slipcase/engine/fold"
	"slipcase/engine/interview"
	"slipcase/engine/model"
)

// Interview is one session of questions to the driver. A full-screen form,
// plain lines and a page put the same questions through it. Every answer to a
// case of the casebook is on the disk before the next question is worked out;
// of any other case nothing is written, and Reports gives the answers. Not
// safe for concurrent use; Close it.
type Interview struct {
	d    *Talk
	w    *asking.Work
	j    *opened.Job // nil: nothing is written
	last int64
	a    *advise.Adviser
	iv   *interview.Interview
	told string          // words that were kept in this session
	said []engine.Report // in this session
	kept bool            // something was written in this session
}

// Question is one question to the driver, with what can be answered.
type Question struct {
	Check   string     `json:"check"`
	Number  int        `json:"number"` // from 1
	Asks    string     `json:"asks"`
	Why     string     `json:"why"`
	Minutes answer.Num `json:"minutes"`
	Saves   answer.Num `json:"saves"`
	Options []Reply    `json:"options"`
	// Choices are the answers of which one is taken, or several where Several
	// says so; empty when each option is answered by itself.
	Choices []Choice `json:"choices"`
	Several bool     `json:"several"`
	Counts  string   `json:"counts"` // unit of the number that is asked for, "" for none
	Said    string   `json:"said"`   // the number that was given before
	Ranges  []string `json:"ranges"` // selector positions asked about, where there are several
	Single  bool     `json:"single"` // one option: yes or no
	Given   bool     `json:"given"`  // it was answered before and is now changed
}

// Choice is one answer of a question of which one is taken.
type Choice struct {
	Name  string `json:"name"`
	Title string `json:"title"`
	Taken bool   `json:"taken"` // it was the answer before
	// Present and Absent are the findings that it reports.
	Present []string `json:"present"`
	Absent  []string `json:"absent"`
}

// Said is what was said to a question that is answered finding by finding.
// What is not named was not spoken of.
type Said struct {
	Present, Absent, Unknown []string
	Rest                     engine.State // of all the others: absent or unknown; "" when not spoken of
	NotTried                 []string     // selector positions that the driver never uses
}

// Reply is a finding that a question covers.
type Reply struct {
	Finding string       `json:"finding"`
	Title   string       `json:"title"`
	State   engine.State `json:"state"` // what was said before, "" when nothing was
}

// Stop is the end of the questions, and what going on would cost.
type Stop struct {
	Reason string     `json:"reason"`
	Title  string     `json:"title"` // of the best question left, "" when none is left
	Cost   answer.Num `json:"cost"`  // minutes that it takes
	Saves  answer.Num `json:"saves"` // minutes that it saves
}

// Proposal is what the words of a complaint may mean. It is to be confirmed.
type Proposal struct {
	Finding string       `json:"finding"` // "" while the place is open
	Title   string       `json:"title"`
	State   engine.State `json:"state"`
	Words   string       `json:"words"`  // what the driver said
	Places  []Reply      `json:"places"` // the findings to choose from while the place is open
	Noted   []string     `json:"noted"`  // titles of those who have said so of the case already
}

// Interview begins or resumes the questions of a case; ctx holds for the whole
// session. Fails as Suspects does, and with Conflict for a closed case.
func (d *Talk) Interview(ctx context.Context, ref asking.CaseRef, who string) (*Interview, error) {
	return d.interview(ctx, ref, opened.Ref{In: ref.In, Who: who})
}

// InterviewUnder is Interview of a case of the casebook for a client that may
// send its answer twice: all of the session is written under the key of ref.
// Fails as Interview does.
func (d *Talk) InterviewUnder(ctx context.Context, ref opened.Ref) (*Interview, error) {
	return d.interview(ctx, asking.CaseRef{In: ref.In}, ref)
}

func (d *Talk) interview(ctx context.Context, ref asking.CaseRef, write opened.Ref) (*Interview, error) {
	x := &Interview{d: d}
	var err error
	if ref.InBook() {
		if x.j, err = d.keeper.ForWriting(ctx, write); err != nil {
			return nil, err
		}
		x.w = x.j.Work
	} else if x.w, err = d.asker.Open(ctx, ref); err != nil {
		return nil, err
	}
	if x.a, err = advise.New(x.w.Model); err == nil {
		err = x.resume()
	}
	if err != nil {
		x.Close()
		return nil, err
	}
	return x, nil
}

// Close ends the session. Nothing is lost without it.
func (x *Interview) Close() {
	if x.j != nil {
		x.j.Close()
		x.j = nil
	}
}

// options price as far as the best question needs it.
var interviewOptions = advise.Options{Best: 1}

// resume goes on where the entries of the case stand.
func (x *Interview) resume() error {
	var s interview.State
	if x.j != nil {
		x.w = x.j.Work
		force, err := fold.InForce(x.j.Rec.Entries)
		if err != nil {
			return books.Unreadable(err)
		}
		s = interview.Resume(x.j.Rec.Entries, force)
		x.last = x.j.Case.LastSeq
	}
	x.iv = interview.New(x.a, x.w.Case, s, interviewOptions)
	return nil
}

// Begun tells whether questions were put before.
func (x *Interview) Begun() bool { return x.j != nil && x.j.Case.Interviewed }

// Words are the complaint as it was written down: the customer's own words, or
// what was typed in an earlier session, and the title where it says what is
// wrong.
func (x *Interview) Words() string {
	if x.j == nil {
		return ""
	}
	words, _ := opened.Complaint(x.w.Model, x.j.Case.Words, x.j.Case.Title, x.j.Case.Notes)
	return words
}

// Tell keeps the driver's words, whatever becomes of them. Fails as Note does.
func (x *Interview) Tell(words string) error {
	words = strings.TrimSpace(words)
	if words == "" || words == x.told || words == x.Words() {
		return nil
	}
	x.told = words
	if err := x.keep([]engine.Body{engine.Note{Text: wording.DriverSays + words}}); err != nil || x.j == nil {
		return err
	}
	return x.reread()
}

// Case says which case is asked about.
func (x *Interview) Case() asking.CaseHead {
	h := x.w.HeadOnly()
	h.Reports = len(x.iv.Case().Reports) + len(x.w.Case.Readings)
	return h
}

// Kept tells whether answers are written to the casebook.
func (x *Interview) Kept() bool { return x.j != nil }

// Rules is the fingerprint of the rules that are asked by.
func (x *Interview) Rules() string { return x.w.Knowledge.Hash }

// Warnings are about the case.
func (x *Interview) Warnings() []answer.Message { return x.w.Warn }

// Complaint says what the driver's words may mean. What the driver has said of the
// case already is left out; Heard gives it.
func (x *Interview) Complaint(text string) []Proposal {
	out, _ := x.Heard(text)
	return out
}

// Heard says what the driver's words may mean: what is new of it, to be confirmed,
// and what the driver has said of the case already, as it stands there, which is not
// to be said twice. What others noted is new of the driver, and says who they are.
func (x *Interview) Heard(text string) (fresh, before []Proposal) {
	said := map[string]engine.State{} // by the driver
	others := map[string][]string{}
	for _, r := range x.iv.Case().Reports {
		switch {
		case r.By == engine.Driver:
			said[r.Finding] = r.State
		case r.State != engine.Unknown:
			others[r.Finding+" "+string(r.State)] = append(others[r.Finding+" "+string(r.State)], x.reporter(r.By))
		}
	}
	fresh, before = []Proposal{}, []Proposal{}
	told := func(p Proposal) {
		if !slices.ContainsFunc(before, func(o Proposal) bool { return o.Finding == p.Finding }) {
			before = append(before, p)
		}
	}
	for _, p := range complaint.New(x.w.Model).Match(text) {
		q := Proposal{Finding: p.Finding, Title: wording.Proposed(x.w.Model, p), State: p.State, Words: p.Words, Places: []Reply{}, Noted: []string{}}
		if state, ok := said[p.Finding]; ok {
			q.State = state
			told(q)
			continue
		}
		if denied := len(p.Denies) > 0; denied && !slices.ContainsFunc(p.Denies, func(f string) bool { return said[f] != engine.Absent }) {
			told(q)
			continue
		}
		for _, name := range p.Places {
			one := Reply{Finding: name, Title: wording.FindingOf(x.w.Model, name), State: said[name]}
			if one.State == "" {
				q.Places = append(q.Places, one)
			} else {
				told(Proposal{Finding: name, Title: one.Title, State: one.State, Words: p.Words, Places: []Reply{}, Noted: []string{}})
			}
		}
		if len(p.Places) > 0 {
			q.Finding = ""
			if len(q.Places) == 0 {
				continue
			}
		}
		q.Noted = append(q.Noted, others[p.Finding+" "+string(p.State)]...)
		fresh = append(fresh, q)
	}
	return fresh, before
}

// reporter is the title of a reporter.
func (x *Interview) reporter(name string) string {
	for _, r := range x.w.Knowledge.Reporters {
		if r.Name == name {
			return wording.Title(r.Title, name)
		}
	}
	return wording.Name(name)
}

// Confirm takes over what was confirmed of a complaint, and keeps its words. What
// the driver has said of the case in just that way is not entered again. It
// may be called with nothing confirmed. Fails as Note does.
func (x *Interview) Confirm(words string, present, absent []string) error {
	if err := x.Tell(words); err != nil {
		return err
	}
	said := map[string]engine.State{}
	for _, r := range x.iv.Case().Reports {
		if r.By == engine.Driver {
			said[r.Finding] = r.State
		}
	}
	var bodies []engine.Body
	var reports []engine.Report
	for _, l := range []struct {
		names []string
		state engine.State
	}{{present, engine.Present}, {absent, engine.Absent}} {
		for _, f := range l.names {
			names, state := []string{f}, l.state
			if denied := x.w.Model.GoodRow(f, engine.Driver); len(denied) > 0 {
				names, state = denied, engine.Absent
			}
			for _, name := range names {
				if said[name] == state {
					continue
				}
				r := engine.Report{Finding: name, State: state, By: engine.Driver}
				reports, bodies = append(reports, r), append(bodies, r)
			}
		}
	}
	if x.j != nil {
		// The mark keeps the next start from asking for the complaint again.
		// Reports before a mark are no answers to its question.
		bodies = append(bodies, engine.InterviewMark{})
		if err := x.keep(bodies); err != nil {
			return err
		}
		if err := x.reread(); err != nil {
			return err
		}
	}
	x.note(reports)
	if x.j == nil {
		c := *x.w.Case
		c.Reports = append(slices.Clone(c.Reports), reports...)
		x.w.Case = &c
		return x.resume()
	}
	return nil
}

// keep writes entries to the casebook, all or none.
func (x *Interview) keep(bodies []engine.Body) error {
	for _, b := range bodies {
		if r, ok := b.(engine.Report); ok {
			x.note([]engine.Report{r})
		}
	}
	if x.j == nil || len(bodies) == 0 {
		return nil
	}
	seqs, err := x.j.Append(bodies...)
	if err != nil {
		return err
	}
	x.kept = true
	if len(seqs) > 0 && seqs[0] == x.last+1 {
		x.last = seqs[len(seqs)-1]
	}
	return nil
}

// note remembers what was said in this session, the latest of each finding.
func (x *Interview) note(reports []engine.Report) {
	for _, r := range reports {
		x.said = slices.DeleteFunc(x.said, func(o engine.Report) bool { return o.Finding == r.Finding && o.By == r.By })
		x.said = append(x.said, r)
	}
}

// reread takes up what the casebook holds now.
func (x *Interview) reread() error {
	if err := x.j.Read(x.j.Rec.ID); err != nil {
		return err
	}
	x.j.Take()
	return x.resume()
}

// Next is the question to put now, or the reason to stop. What another bench
// wrote in the meantime is taken into account. Fails as Next of a case does.
func (x *Interview) Next() (*Question, *Stop, error) {
	if x.j != nil {
		last, err := x.j.Book.Last(x.j.Ctx, x.j.Rec.ID)
		if err != nil {
			return nil, nil, x.d.keeper.Books.Failure(err)
		}
		if last != x.last {
			if err := x.reread(); err != nil {
				return nil, nil, err
			}
		}
	}
	return x.put(x.iv.Next())
}

// GoOn is the best question left, worth its minutes or not. Fails as Next of a
// case does.
func (x *Interview) GoOn() (*Question, *Stop, error) { return x.put(x.iv.GoOn()) }

func (x *Interview) put(q *interview.Question, s *interview.Stop, err error) (*Question, *Stop, error) {
	switch {
	case err != nil:
		return nil, nil, x.w.PriceFailure(err)
	case q != nil:
		return x.question(q), nil, nil
	}
	out := &Stop{Reason: wording.NothingToAsk(), Cost: answer.Num(s.NextMinutes), Saves: answer.Num(s.NextSaves)}
	if s.Next != nil {
		out.Title = wording.Title(s.Next.Title, s.Next.Name)
		out.Reason = wording.NotWorthAsking(s.NextMinutes, s.NextSaves)
	}
	return nil, out, nil
}

func (x *Interview) question(q *interview.Question) *Question {
	out := &Question{Check: q.Check.Name, Number: q.Number, Asks: q.Check.Asks, Why: q.Check.Why, Single: q.Single, Given: q.Given,
		Minutes: answer.Num(q.Check.Minutes.Value), Saves: answer.Num(q.Price.Saves), Options: []Reply{}, Choices: []Choice{},
		Several: q.Several, Said: q.Said, Ranges: append([]string{}, q.Ranges...)}
	if q.Counts != nil {
		out.Counts = q.Counts.Unit
	}
	for _, o := range q.Options {
		out.Options = append(out.Options, Reply{o.Finding, wording.FindingOf(x.w.Model, o.Finding), o.State})
	}
	for _, c := range q.Choices {
		one := Choice{Name: c.Name, Title: c.Title, Taken: c.Taken, Present: []string{}, Absent: []string{}}
		for _, r := range c.Reports {
			switch r.State {
			case engine.Present:
				one.Present = append(one.Present, r.Finding)
			case engine.Absent:
				one.Absent = append(one.Absent, r.Finding)
			}
		}
		out.Choices = append(out.Choices, one)
	}
	return out
}

// Answer takes the answer to the question that stands open. One that says nothing
// passes the question over. Fails as Note does.
func (x *Interview) Answer(s Said) error { return x.take(x.iv.Answer(interview.Reply(s))) }

// Choose takes the choices by their names; none passes the question over. Fails
// as Note does.
func (x *Interview) Choose(names ...string) error { return x.take(x.iv.Choose(names...)) }

// Count takes the number that the question asks for, as it was said: "about 3",
// "96,000", "96k". Fails as Note does.
func (x *Interview) Count(unit, text string) error {
	n, ok := numberSaid(unit, text)
	if !ok {
		return fault.WrongUse(wording.NotNumberOf(text, unit))
	}
	return x.take(x.iv.Count(n, strings.TrimSpace(text)))
}

var saidNumber = regexp.MustCompile(`(?i)^[^\d-]*(\d[\d,]*(?:\.\d+)?)\s*(k\b|thousand\b)?\s*(km\b)?`)

// numberSaid reads a number as people say it. Miles are the unit of distance;
// what is said in km is converted (1 mile is 1.609 km).
func numberSaid(unit, text string) (float64, bool) {
	if strings.EqualFold(strings.TrimSpace(text), "none") {
		return 0, true
	}
	m := saidNumber.FindStringSubmatch(text)
	if m == nil {
		return 0, false
	}
	n, err := strconv.ParseFloat(strings.ReplaceAll(m[1], ",", ""), 64)
	if err != nil {
		return 0, false
	}
	if m[2] != "" {
		n *= 1000
	}
	if m[3] != "" && unit == "miles" {
		n /= 1.609344
	}
	return n, true
}

// DontKnow answers the whole question with "don't know". Fails as Note does.
func (x *Interview) DontKnow() error { return x.take(x.iv.DontKnow()) }

// Skip passes over the question. Fails as Note does.
func (x *Interview) Skip() error { return x.take(x.iv.Skip()) }

func (x *Interview) take(bodies []engine.Body, err error) error {
	if err != nil {
		return answer.Fail(answer.WrongUse, err.Error(), "")
	}
	return x.keep(bodies)
}

// Back goes to the question before; nil when this is the first.
func (x *Interview) Back() *Question {
	q := x.iv.Back()
	if q == nil {
		return nil
	}
	return x.question(q)
}

// Leave keeps the place at which the interview stands. Fails as Note does.
func (x *Interview) Leave() error {
	if x.j == nil || !x.Begun() && len(x.iv.State().Turns) == 0 {
		return nil
	}
	if !x.kept && x.iv.State().At == x.j.Case.Question {
		return nil // the casebook says so already
	}
	return x.keep(x.iv.Leave())
}

// Over tells whether the questions have come to their end.
func (x *Interview) Over() bool { return x.iv.State().Over }

// Answered is how many questions were put so far, earlier sessions included.
func (x *Interview) Answered() int { return len(x.iv.State().Turns) }

// Leading is what leads with all answers so far, and how sure: "oil pump 42%,
// fluid 20%". Reports that contradict each other are a Failure.
func (x *Interview) Leading() (short, sentence string, err error) {
	w := *x.w
	w.Case, w.Diags = x.iv.Case(), nil
	r, err := w.Diagnose(diagnose.Options{Top: 2})
	if err != nil {
		return "", "", err
	}
	var parts []string
	for i := 0; i < len(r.Suspects) && i < 2; i++ {
		c := r.Suspects[i].Component
		parts = append(parts, fmt.Sprintf("%s %s", wording.Title(c.Title, c.Name), wording.Percent(r.Suspects[i].P)))
	}
	return strings.Join(parts, ", "), wording.Gist(r.Gist), nil
}

// Clash tells whether err says that reports contradict each other: going back
// to one of them can mend it.
func Clash(err error) bool {
	var c *model.ClashError
	return errors.As(err, &c)
}

// ReportsHCL are the answers of this session as blocks for a case file, ""
// when nothing was answered.
func (x *Interview) ReportsHCL() string {
	var who []string
	for _, r := range x.said {
		if !slices.Contains(who, r.By) {
			who = append(who, r.By)
		}
	}
	var b strings.Builder
	for _, by := range who {
		fmt.Fprintf(&b, "reports %q {\n", by)
		for _, s := range []engine.State{engine.Present, engine.Absent, engine.Unknown} {
			var names []string
			for _, r := range x.said {
				if r.By == by && r.State == s {
					names = append(names, fmt.Sprintf("    %q,\n", r.Finding))
				}
			}
			if len(names) > 0 {
				fmt.Fprintf(&b, "  %-7s = [\n%s  ]\n", s, strings.Join(names, ""))
			}
		}
		b.WriteString("}\n")
	}
	return b.String()
}
