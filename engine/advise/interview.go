package advise

import (
	"fmt"
	"sort"

	"slipcase/engine"
)

// State is where an interview stands. It is plain data: kept as JSON, or as
// entries of the casebook (see Entries and Resume), it lets the next start go
// on at the same question.
type State struct {
	Turns []Turn `json:"turns,omitempty"`
	At    string `json:"at,omitempty"`   // check whose question stands open; "" before the first
	Over  bool   `json:"over,omitempty"` // nothing was worth asking any more, or the user ended it
}

// Turn is one question that was put.
type Turn struct {
	Check   string          `json:"check"`
	Skipped bool            `json:"skipped,omitempty"`
	Reports []engine.Report `json:"reports,omitempty"`
}

// Interview puts questions one at a time, the most valuable next. A full-screen
// form, plain questions on a pipe and a page drive the same one. It is not
// safe for concurrent use.
//
// Every method that changes something returns the entries to append to the
// casebook; a later report by the same reporter replaces the earlier, so that
// a changed answer needs no retraction.
type Interview struct {
	a     *Adviser
	c     engine.CaseFile // the case without what the turns say
	state State
	opt   Options
}

// Question is one question with its options: the findings that can tell
// something as things stand, not every one that the check could report.
type Question struct {
	Check   *engine.Check
	Asks    string
	Options []Option
	// Single is true when there is one option: yes, no or don't know.
	Single bool
	// Given is true when the question was answered before and is now changed.
	Given bool
	// Number counts questions from 1.
	Number int
	// Price is zero for a question that is gone back to.
	Price Priced
}

// Option is one finding that the question covers.
type Option struct {
	Finding, Title, Reporter string
	State                    engine.State // what was said before; "" when nothing was
	// Telling marks the options that the price of the question rests on.
	Telling bool
}

// Stop says why the interview is at its end and what going on would cost.
type Stop struct {
	Reason string
	// Next is the best question left; nil when none is left. Going on costs
	// NextMinutes and saves NextSaves, in minutes.
	Next                   *engine.Check
	NextMinutes, NextSaves float64
	// Questions left, and the minutes to put all of them.
	Questions  int
	AllMinutes float64
}

// Reply is what was said to a question. A finding that is in none of the
// lists is absent: "in which gears?" is answered by naming them.
type Reply struct {
	Present []string
	Absent  []string // only needed with Partial
	Unknown []string
	// Partial leaves findings that are not named unanswered.
	Partial bool
}

// Interview starts, or goes on with, the interview of a case. c is the case
// with all that is known of it, earlier answers included or not: the turns of
// the state are laid over it. Answers about what today's rules do not know are
// left out.
func (a *Adviser) Interview(c *engine.CaseFile, s State, opt Options) *Interview {
	iv := &Interview{a: a, c: *c, state: s, opt: opt.filled()}
	iv.state.Turns = append([]Turn(nil), s.Turns...)
	for i := range iv.state.Turns {
		t := &iv.state.Turns[i]
		var known []engine.Report
		for _, r := range t.Reports {
			if _, _, _, ok := a.sign(r.Finding, r.By); ok {
				known = append(known, r)
			}
		}
		t.Reports = known
	}
	iv.opt.Stages = nil
	iv.opt.Only = func(k *engine.Check) bool { return k.Asks != "" && k.Stage == engine.StageInterview }
	return iv
}

// State is where the interview stands.
func (iv *Interview) State() State { return iv.state }

// Case is the case with all answers so far.
func (iv *Interview) Case() *engine.CaseFile {
	c := iv.c
	c.Reports = append([]engine.Report(nil), iv.c.Reports...)
	for _, t := range iv.state.Turns {
		for _, r := range t.Reports {
			c.Reports = put(c.Reports, r)
		}
	}
	return &c
}

// put replaces the earlier report of the same finding by the same reporter.
func put(list []engine.Report, r engine.Report) []engine.Report {
	kept := list[:0]
	for _, x := range list {
		if !sameReport(x, r) {
			kept = append(kept, x)
		}
	}
	return append(kept, r)
}

// sameReport tells whether both are about one finding by one reporter.
func sameReport(x, y engine.Report) bool {
	return x.By == y.By && engine.ParseFindingName(x.Finding) == engine.ParseFindingName(y.Finding)
}

// Confirm takes over findings that were proposed for a complaint and that the
// user confirmed as meant; the others say nothing. by is who complains, usually
// "driver".
func (iv *Interview) Confirm(findings []string, by string) ([]engine.Body, error) {
	var out []engine.Body
	for _, f := range findings {
		if !iv.a.Model.HasFinding(f) {
			return nil, fmt.Errorf("advise: this unit has no finding %q", f)
		}
		r := engine.Report{Finding: f, State: engine.Present, By: by}
		iv.c.Reports = put(append([]engine.Report(nil), iv.c.Reports...), r)
		out = append(out, r)
	}
	iv.state.Over = false
	return out, nil
}

// Next is the question to put: the one that stands open, or the most valuable
// that is left; or the reason to stop. A Question or a Stop is nil, never both.
func (iv *Interview) Next() (*Question, *Stop, error) {
	if iv.state.At != "" {
		if q := iv.gone(iv.state.At); q != nil {
			return q, nil, nil
		}
		if q, err := iv.open(iv.state.At); q != nil || err != nil {
			return q, nil, err
		}
		iv.state.At = "" // answered from elsewhere in the meantime
	}
	return iv.choose(false)
}

// GoOn is Next past the end: the best question left even when it is not worth
// its minute.
func (iv *Interview) GoOn() (*Question, *Stop, error) {
	iv.state.Over, iv.state.At = false, ""
	return iv.choose(true)
}

func (iv *Interview) choose(anyway bool) (*Question, *Stop, error) {
	opt := iv.opt
	passed := map[string]bool{}
	for _, t := range iv.state.Turns {
		passed[t.Check] = true
	}
	only := opt.Only
	opt.Only = func(c *engine.Check) bool { return only(c) && !passed[c.Name] }
	var ad *Advice
	for {
		var err error
		if ad, err = iv.a.Price(iv.Case(), opt); err != nil {
			return nil, nil, err
		}
		for _, p := range ad.Checks {
			if p.Worth || anyway {
				iv.state.At, iv.state.Over = p.Check.Name, false
				return iv.question(p), nil, nil
			}
		}
		if ad.Unpriced == 0 {
			break
		}
		// The end is proven, and what is left counted, with all of them.
		opt.Best = 0
	}
	iv.state.Over = true
	stop := &Stop{Reason: "nothing is left to ask", Questions: len(ad.Checks)}
	for _, p := range ad.Checks {
		stop.AllMinutes += p.Minutes
	}
	if len(ad.Checks) > 0 {
		p := ad.Checks[0]
		stop.Next, stop.NextMinutes, stop.NextSaves = p.Check, p.Minutes, p.Saves
		stop.Reason = fmt.Sprintf("no question is worth its minute any more: the best one left costs %.0f min and saves %.1f", p.Minutes, p.Saves)
	}
	return nil, stop, nil
}

// mostOptions is the most options of one question.
const mostOptions = 8

func (iv *Interview) question(p Priced) *Question {
	q := &Question{Check: p.Check, Asks: p.Check.Asks, Price: p, Number: len(iv.state.Turns) + 1}
	for _, f := range Ask(p.Findings, mostOptions) {
		q.Options = append(q.Options, Option{Finding: f.Name, Title: f.Title, Reporter: f.Reporter, Telling: f.Telling})
	}
	q.Single = len(q.Options) == 1
	return q
}

// open prices the question that stands open, nil when nothing of it is left.
func (iv *Interview) open(name string) (*Question, error) {
	opt := iv.opt
	opt.Best = 0
	opt.Only = func(c *engine.Check) bool { return c.Name == name }
	ad, err := iv.a.Price(iv.Case(), opt)
	if err != nil || len(ad.Checks) == 0 {
		return nil, err
	}
	return iv.question(ad.Checks[0]), nil
}

// gone is a question that was put before, with what was said.
func (iv *Interview) gone(name string) *Question {
	for i, t := range iv.state.Turns {
		if t.Check != name {
			continue
		}
		for k := range iv.a.checks {
			c := &iv.a.checks[k]
			if c.Name != name {
				continue
			}
			q := &Question{Check: c.Check, Asks: c.Asks, Given: true, Number: i + 1}
			said := map[string]engine.State{}
			for _, r := range t.Reports {
				said[r.Finding] = r.State
			}
			for _, it := range c.items {
				if _, ok := said[it.name]; ok || len(said) == 0 {
					q.Options = append(q.Options, Option{Finding: it.name, Title: it.title, Reporter: it.by, State: said[it.name], Telling: true})
				}
			}
			q.Single = len(q.Options) == 1
			return q
		}
	}
	return nil
}

// current is the question that an answer belongs to.
func (iv *Interview) current() (*Question, error) {
	if iv.state.At == "" {
		return nil, fmt.Errorf("advise: no question stands open")
	}
	if q := iv.gone(iv.state.At); q != nil {
		return q, nil
	}
	q, err := iv.open(iv.state.At)
	if err == nil && q == nil {
		err = fmt.Errorf("advise: nothing is left to answer in %s", iv.state.At)
	}
	return q, err
}

// Answer takes the answer to the open question.
func (iv *Interview) Answer(ans Reply) ([]engine.Body, error) {
	q, err := iv.current()
	if err != nil {
		return nil, err
	}
	said := map[string]engine.State{}
	for _, l := range []struct {
		names []string
		state engine.State
	}{{ans.Present, engine.Present}, {ans.Absent, engine.Absent}, {ans.Unknown, engine.Unknown}} {
		for _, f := range l.names {
			said[f] = l.state
		}
	}
	var reports []engine.Report
	for _, o := range q.Options {
		s, ok := said[o.Finding]
		delete(said, o.Finding)
		switch {
		case ok:
		case ans.Partial && o.State == "":
			continue
		case ans.Partial:
			s = o.State
		default:
			s = engine.Absent
		}
		reports = append(reports, engine.Report{Finding: o.Finding, State: s, By: o.Reporter})
	}
	if len(said) > 0 {
		var odd []string
		for f := range said {
			odd = append(odd, f)
		}
		sort.Strings(odd)
		return nil, fmt.Errorf("advise: the question %s does not cover %q", q.Check.Name, odd[0])
	}
	return iv.turn(q, Turn{Check: q.Check.Name, Reports: reports, Skipped: len(reports) == 0}), nil
}

// DontKnow answers every option of the open question with "don't know".
func (iv *Interview) DontKnow() ([]engine.Body, error) {
	q, err := iv.current()
	if err != nil {
		return nil, err
	}
	t := Turn{Check: q.Check.Name}
	for _, o := range q.Options {
		t.Reports = append(t.Reports, engine.Report{Finding: o.Finding, State: engine.Unknown, By: o.Reporter})
	}
	return iv.turn(q, t), nil
}

// Skip passes over the open question. It does not come again by itself; Change
// takes it up. What was said to it before is taken back.
func (iv *Interview) Skip() ([]engine.Body, error) {
	q, err := iv.current()
	if err != nil {
		return nil, err
	}
	t := Turn{Check: q.Check.Name, Skipped: true}
	if q.Given {
		for _, o := range q.Options {
			if o.State != "" {
				t.Reports = append(t.Reports, engine.Report{Finding: o.Finding, State: engine.Unknown, By: o.Reporter})
			}
		}
	}
	return iv.turn(q, t), nil
}

// turn files what was said, in the place of an earlier turn of the same check.
func (iv *Interview) turn(q *Question, t Turn) []engine.Body {
	out := []engine.Body{engine.InterviewMark{Question: t.Check}}
	for _, r := range t.Reports {
		out = append(out, r)
	}
	if t.Skipped {
		out = append(out, engine.InterviewMark{Question: t.Check, Skipped: true})
	}
	iv.state.At = ""
	for _, r := range t.Reports {
		iv.state.replace(r, "")
	}
	*iv.state.turn(t.Check) = t
	return out
}

// Back goes to the question before the one that stands open; nil when there is
// none. Its answers are kept until it is answered again.
func (iv *Interview) Back() *Question {
	n := len(iv.state.Turns)
	for i, t := range iv.state.Turns {
		if t.Check == iv.state.At {
			n = i
		}
	}
	if n == 0 {
		return nil
	}
	iv.state.At = iv.state.Turns[n-1].Check
	return iv.gone(iv.state.At)
}

// Change goes to a question that was put before, by the name of its check.
func (iv *Interview) Change(name string) (*Question, error) {
	q := iv.gone(name)
	if q == nil {
		return nil, fmt.Errorf("advise: the question %q was not put", name)
	}
	iv.state.At = name
	return q, nil
}

// Leave is the entry that keeps the place: the open question, or that the
// interview is over.
func (iv *Interview) Leave() []engine.Body {
	return []engine.Body{engine.InterviewMark{Question: iv.state.At}}
}

// Resume reads the state back from the entries of a case: a mark names the
// question, the reports that were written together with it are its answer, a
// skipped mark passes it over. A report written otherwise answers no question,
// but the order of the entries decides: it replaces what was answered before.
// inForce tells which entries count; nil for all.
func Resume(entries []engine.Entry, inForce []bool) State {
	var s State
	last, batch := "", ""
	fresh := false // the next report starts a new answer to last
	for i, e := range entries {
		if inForce != nil && !inForce[i] {
			continue
		}
		switch b := e.Body.(type) {
		case engine.InterviewMark:
			if b.Skipped {
				s.turn(b.Question).Skipped = true
				last, s.At = "", ""
				continue
			}
			last, s.At, s.Over = b.Question, b.Question, b.Question == ""
			fresh, batch = true, e.Batch()
		case engine.Report:
			mine := last != "" && e.Batch() == batch
			if mine && fresh {
				t := s.turn(last)
				t.Reports, t.Skipped, fresh = nil, false, false
			}
			replaced := s.replace(b, last)
			if mine {
				if t := s.turn(last); !replaced {
					t.Reports = append(t.Reports, b)
				}
				s.At = ""
			}
		default:
			last = ""
		}
	}
	return s
}

// turn is the turn of a check, a new one when it was not put yet.
func (s *State) turn(name string) *Turn {
	for i := range s.Turns {
		if s.Turns[i].Check == name {
			return &s.Turns[i]
		}
	}
	s.Turns = append(s.Turns, Turn{Check: name})
	return &s.Turns[len(s.Turns)-1]
}

// replace sets every report of the same finding by the same reporter to what
// is said now, in whichever turn it was said. True when one is in the turn of
// the check named.
func (s *State) replace(r engine.Report, check string) (there bool) {
	for i := range s.Turns {
		t := &s.Turns[i]
		for k, o := range t.Reports {
			if sameReport(o, r) {
				t.Reports[k] = r
				t.Reports[k].Finding = o.Finding // as the question spells it
				there = there || t.Check == check
			}
		}
	}
	return there
}
