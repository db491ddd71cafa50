package desk

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
	"slipcase/engine/advise"
	"slipcase/engine/complaint"
	"slipcase/engine/diagnose"
	"slipcase/engine/fold"
	"slipcase/engine/model"
)

// Interview is one sitting of questions to the driver. A full-screen form,
// plain lines and a page put the same questions through it. Every answer to a
// case of the casebook is on the disk before the next question is worked out;
// of any other case nothing is written, and Reports gives the answers. Not
// safe for concurrent use; Close it.
type Interview struct {
	d    *Desk
	w    *work
	j    *job // nil: nothing is written
	last int64
	a    *advise.Adviser
	iv   *advise.Interview
	said []engine.Report // in this sitting
	kept bool            // something was written in this sitting
}

// complainant is who speaks in an interview.
const complainant = "driver"

// Question is one question to the driver, with what can be answered.
type Question struct {
	Check   string  `json:"check"`
	Number  int     `json:"number"` // from 1
	Asks    string  `json:"asks"`
	Why     string  `json:"why"`
	Minutes Num     `json:"minutes"`
	Saves   Num     `json:"saves"`
	Options []Reply `json:"options"`
	Single  bool    `json:"single"` // one option: yes or no
	Given   bool    `json:"given"`  // it was answered before and is now changed
}

// Reply is a finding that a question covers.
type Reply struct {
	Finding string       `json:"finding"`
	Title   string       `json:"title"`
	State   engine.State `json:"state"` // what was said before, "" when nothing was
}

// Stop is the end of the questions, and what going on would cost.
type Stop struct {
	Reason string `json:"reason"`
	Title  string `json:"title"` // of the best question left, "" when none is left
	Cost   Num    `json:"cost"`  // minutes that it takes
	Saves  Num    `json:"saves"` // minutes that it saves
}

// Proposal is what the words of a complaint may mean. It is to be confirmed.
type Proposal struct {
	Finding string       `json:"finding"` // "" while the place is open
	Title   string       `json:"title"`
	State   engine.State `json:"state"`
	Words   string       `json:"words"`  // what the driver said
	Places  []Reply      `json:"places"` // the findings to choose from while the place is open
}

// Interview begins or resumes the questions of a case; ctx holds for the whole
// sitting. Fails as Suspects does, and with Conflict for a closed case.
func (d *Desk) Interview(ctx context.Context, ref CaseRef, who string) (*Interview, error) {
	x := &Interview{d: d}
	var err error
	if ref.inBook() {
		if x.j, err = d.forWriting(ctx, JobRef{In: ref.In, Who: who}); err != nil {
			return nil, err
		}
		x.w = x.j.w
	} else if x.w, err = d.open(ctx, ref); err != nil {
		return nil, err
	}
	if x.a, err = advise.New(x.w.m); err == nil {
		err = x.resume()
	}
	if err != nil {
		x.Close()
		return nil, err
	}
	return x, nil
}

// Close ends the sitting. Nothing is lost without it.
func (x *Interview) Close() {
	if x.j != nil {
		x.j.close()
		x.j = nil
	}
}

// options price as far as the best question needs it.
var interviewOptions = advise.Options{Best: 1}

// resume goes on where the entries of the case stand.
func (x *Interview) resume() error {
	var s advise.State
	if x.j != nil {
		x.w = x.j.w
		force, err := fold.InForce(x.j.rec.Entries)
		if err != nil {
			return unreadable(err)
		}
		s = advise.Resume(x.j.rec.Entries, force)
		x.last = x.j.c.LastSeq
	}
	x.iv = x.a.Interview(x.w.c, s, interviewOptions)
	return nil
}

// Begun tells whether questions were put before; Words are the complaint as it
// was written down when the case was opened.
func (x *Interview) Begun() bool { return x.j != nil && x.j.c.Interviewed }

// Words are the customer's own, as the case was opened with.
func (x *Interview) Words() string {
	if x.j == nil {
		return ""
	}
	return x.j.c.Words
}

// Case says which case is asked about.
func (x *Interview) Case() CaseHead {
	h := x.w.headOnly()
	h.Reports = len(x.iv.Case().Reports) + len(x.w.c.Readings)
	return h
}

// Kept tells whether answers are written to the casebook.
func (x *Interview) Kept() bool { return x.j != nil }

// Rules is the fingerprint of the rules that are asked by.
func (x *Interview) Rules() string { return x.w.k.Hash }

// Warnings are about the case.
func (x *Interview) Warnings() []answer.Message { return x.w.warn }

// Complaint says what the driver's words may mean. What the case holds already
// is left out.
func (x *Interview) Complaint(text string) []Proposal {
	out := []Proposal{}
	known := map[string]bool{}
	for _, r := range x.iv.Case().Reports {
		if r.By == complainant {
			known[r.Finding] = true
		}
	}
	for _, p := range complaint.New(x.w.m).Match(text) {
		if known[p.Finding] {
			continue
		}
		q := Proposal{Finding: p.Finding, Title: p.Title, State: p.State, Words: p.Words, Places: []Reply{}}
		for _, name := range p.Places {
			if !known[name] {
				q.Places = append(q.Places, Reply{Finding: name, Title: x.w.findingTitle(name)})
			}
		}
		if len(p.Places) > 0 {
			q.Finding = ""
			if len(q.Places) == 0 {
				continue
			}
		}
		out = append(out, q)
	}
	return out
}

// Confirm takes over what was confirmed of a complaint, and keeps its words.
// It may be called with nothing confirmed.
func (x *Interview) Confirm(words string, present, absent []string) error {
	var bodies []engine.Body
	var reports []engine.Report
	if words = strings.TrimSpace(words); words != "" && words != x.Words() {
		bodies = append(bodies, engine.Note{Text: "The driver says: " + words})
	}
	for _, l := range []struct {
		names []string
		state engine.State
	}{{present, engine.Present}, {absent, engine.Absent}} {
		for _, f := range l.names {
			r := engine.Report{Finding: f, State: l.state, By: complainant}
			reports, bodies = append(reports, r), append(bodies, r)
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
		c := *x.w.c
		c.Reports = append(slices.Clone(c.Reports), reports...)
		x.w.c = &c
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
	seqs, err := x.j.append(bodies...)
	if err != nil {
		return err
	}
	x.kept = true
	if len(seqs) > 0 && seqs[0] == x.last+1 {
		x.last = seqs[len(seqs)-1]
	}
	return nil
}

// note remembers what was said in this sitting, the latest of each finding.
func (x *Interview) note(reports []engine.Report) {
	for _, r := range reports {
		x.said = slices.DeleteFunc(x.said, func(o engine.Report) bool { return o.Finding == r.Finding && o.By == r.By })
		x.said = append(x.said, r)
	}
}

// reread takes up what the casebook holds now.
func (x *Interview) reread() error {
	if err := x.j.read(x.j.rec.ID); err != nil {
		return err
	}
	x.j.take()
	return x.resume()
}

// Next is the question to put now, or the reason to stop. What another bench
// wrote in the meantime is taken into account.
func (x *Interview) Next() (*Question, *Stop, error) {
	if x.j != nil {
		last, err := x.j.book.Last(x.j.ctx, x.j.rec.ID)
		if err != nil {
			return nil, nil, x.d.bookFailure(err)
		}
		if last != x.last {
			if err := x.reread(); err != nil {
				return nil, nil, err
			}
		}
	}
	return x.put(x.iv.Next())
}

// GoOn is the best question left, worth its minutes or not.
func (x *Interview) GoOn() (*Question, *Stop, error) { return x.put(x.iv.GoOn()) }

func (x *Interview) put(q *advise.Question, s *advise.Stop, err error) (*Question, *Stop, error) {
	switch {
	case err != nil:
		return nil, nil, x.w.priceFailure(err)
	case q != nil:
		return question(q), nil, nil
	}
	out := &Stop{Reason: s.Reason, Cost: Num(s.NextMinutes), Saves: Num(s.NextSaves)}
	if s.Next != nil {
		out.Title = wording.Title(s.Next.Title, s.Next.Name)
	}
	return nil, out, nil
}

func question(q *advise.Question) *Question {
	out := &Question{Check: q.Check.Name, Number: q.Number, Asks: q.Asks, Why: q.Check.Why, Single: q.Single, Given: q.Given,
		Minutes: Num(q.Check.Minutes.Value), Saves: Num(q.Price.Saves), Options: []Reply{}}
	for _, o := range q.Options {
		out.Options = append(out.Options, Reply{o.Finding, o.Title, o.State})
	}
	return out
}

// Answer takes the answer to the question that stands open: what is present
// and what is not known; all else that it covers is absent.
func (x *Interview) Answer(present, unknown []string) error {
	return x.take(x.iv.Answer(advise.Reply{Present: present, Unknown: unknown}))
}

// DontKnow answers the whole question with "don't know".
func (x *Interview) DontKnow() error { return x.take(x.iv.DontKnow()) }

// Skip passes over the question.
func (x *Interview) Skip() error { return x.take(x.iv.Skip()) }

func (x *Interview) take(bodies []engine.Body, err error) error {
	if err != nil {
		return wrongUse(err.Error(), "")
	}
	return x.keep(bodies)
}

// Back goes to the question before; nil when this is the first.
func (x *Interview) Back() *Question {
	q := x.iv.Back()
	if q == nil {
		return nil
	}
	return question(q)
}

// Leave keeps the place at which the interview stands.
func (x *Interview) Leave() error {
	if x.j == nil || !x.Begun() && len(x.iv.State().Turns) == 0 {
		return nil
	}
	if !x.kept && x.iv.State().At == x.j.c.Question {
		return nil // the casebook says so already
	}
	return x.keep(x.iv.Leave())
}

// Over tells whether the questions have come to their end.
func (x *Interview) Over() bool { return x.iv.State().Over }

// Answered is how many questions were put so far, earlier sittings included.
func (x *Interview) Answered() int { return len(x.iv.State().Turns) }

// Leading is what leads with all answers so far, and how sure: "oil pump 42 %,
// fluid 20 %". Reports that contradict each other are a Failure.
func (x *Interview) Leading() (short, sentence string, err error) {
	w := *x.w
	w.c, w.diags = x.iv.Case(), nil
	r, err := w.diagnose(diagnose.Options{Top: 2})
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

// ReportsHCL are the answers of this sitting as blocks for a case file, ""
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
