// Package interview puts questions to the driver, one at a time: first what is
// wrong, then what follows from it, then whatever is worth most. It is a state
// machine over the prices of package advise; a full-screen form, plain lines
// and a page drive the same one.
//
// # What is not said is not known
//
// A question says nothing of a finding that was not named in its answer. What
// is ruled out is said: "the others are fine" (Reply.Rest), or a choice, which
// says of every finding of its question whether it is there. A question that
// is passed over leaves the case as it was.
//
// # The order
//
//  1. While nothing is reported present, the questions that open (Check.Opens).
//  2. The questions that a choice of such a question leads to (Choice.Asks).
//  3. The questions that follow what is reported (Check.Follows): the first two
//     whatever the price, the others as far as they are worth their minute.
//  4. The question of the best price.
//
// Errors are bad cases and answers that the open question does not cover.
package interview

import (
	"fmt"
	"slices"
	"sort"
	"strings"

	"slipcase/engine"
	"slipcase/engine/advise"
)

// NotTried is the note of a report "unknown" about a range that the driver
// never uses. Nothing else is asked of that range.
const NotTried = "not tried"

// Interview puts questions one at a time, the most valuable next. It is not
// safe for concurrent use.
//
// Every method that changes something returns the entries to append to the
// casebook; a later report by the same reporter replaces the earlier, so that
// a changed answer needs no retraction.
type Interview struct {
	a     *advise.Adviser
	c     engine.CaseFile // the case without what the turns say
	state State
	opt   advise.Options
}

// Question is one question with what can be answered.
type Question struct {
	Check   *engine.Check
	Options []Option // what it asks about; with Choices, what they speak of
	Choices []Choice // of which one is taken; nil when each option is answered
	// Several tells that more than one choice may be taken.
	Several bool
	// Counts is the number that is asked for; nil for none.
	Counts *engine.Counts
	// Said is the number that was given before.
	Said string
	// Ranges are the selector positions that the options lie in, where there
	// is more than one: the driver may never use some of them.
	Ranges []string
	// Single is true when there is one option: yes or no.
	Single bool
	// Given is true when the question was put before and is now changed.
	Given bool
	// Number counts questions from 1.
	Number int
	// Price is zero for a question that opens or is gone back to.
	Price advise.Priced
}

// Option is one finding that the question covers.
type Option struct {
	Finding, Reporter string
	State             engine.State // what was said before; "" when nothing was
	// Telling marks the options that the price of the question rests on.
	Telling bool
}

// Choice is one answer of a question of which one is taken.
type Choice struct {
	Name, Title string
	Taken       bool            // it was the answer before
	Reports     []engine.Report // what it says
}

// Stop says what going on past the end would cost.
type Stop struct {
	// Next is the best question left; nil when none is left. Going on costs
	// NextMinutes and saves NextSaves, in minutes.
	Next                   *engine.Check
	NextMinutes, NextSaves float64 // minutes
	// Questions left, and the minutes to put all of them.
	Questions  int
	AllMinutes float64
}

// Reply is what was said to a question that is answered finding by finding.
// What is in none of the lists was not spoken of.
type Reply struct {
	Present, Absent, Unknown []string
	// Rest is what was said of all the others: Absent when they are fine,
	// Unknown when the driver does not know, "" when they were not spoken of.
	Rest engine.State
	// NotTried are ranges that the driver never uses.
	NotTried []string
}

// New starts, or goes on with, the interview of a case. c is the case with all
// that is known of it, earlier answers included or not: the turns of the state
// are laid over it. Answers about what today's rules do not know are left out.
func New(a *advise.Adviser, c *engine.CaseFile, s State, opt advise.Options) *Interview {
	iv := &Interview{a: a, c: *c, state: s, opt: opt}
	iv.state.Turns = append([]Turn(nil), s.Turns...)
	for i := range iv.state.Turns {
		t := &iv.state.Turns[i]
		var known []engine.Report
		for _, r := range t.Reports {
			if _, ok := a.Reporter(r.Finding, r.By); ok {
				known = append(known, r)
			}
		}
		t.Reports = known
	}
	iv.opt.Stages = nil
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
			return nil, fmt.Errorf("interview: this unit has no finding %q", f)
		}
		r := engine.Report{Finding: f, State: engine.Present, By: by}
		iv.c.Reports = put(append([]engine.Report(nil), iv.c.Reports...), r)
		out = append(out, r)
	}
	iv.state.Over = false
	return out, nil
}

// Next is the question to put: the one that stands open, or the next in the
// order; or the end. A Question or a Stop is nil, never both.
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

// check is the check of this name when it is a question, or nil.
func (iv *Interview) check(name string) *engine.Check {
	list := iv.a.Model.Knowledge.Checks
	for i := range list {
		if list[i].Name == name && isQuestion(&list[i]) {
			return &list[i]
		}
	}
	return nil
}

func isQuestion(c *engine.Check) bool {
	return c.Asks != "" && c.Stage == engine.StageInterview
}

func (iv *Interview) choose(anyway bool) (*Question, *Stop, error) {
	left := func(c *engine.Check) bool { return isQuestion(c) && !iv.passed(c.Name) && !iv.numberKnown(c) }
	list := iv.a.Model.Knowledge.Checks
	if !iv.complained() {
		for i := range list {
			if c := &list[i]; c.Opens && left(c) {
				if q, err := iv.plainly(c); q != nil || err != nil {
					return q, nil, err
				}
			}
		}
	}
	// A choice says what is wrong, not yet where: its questions are put
	// whatever the price, which knows nothing of it.
	for _, name := range iv.led() {
		if c := iv.check(name); c != nil && left(c) {
			if q, err := iv.plainly(c); q != nil || err != nil {
				return q, nil, err
			}
		}
	}
	follows := map[string]bool{}
	put := 0
	for i := range list {
		switch c := &list[i]; {
		case !iv.follows(c):
		case left(c):
			follows[c.Name] = true
		case isQuestion(c):
			put++
		}
	}
	if len(follows) > 0 {
		opt := iv.options(func(c *engine.Check) bool { return follows[c.Name] })
		opt.Best = 0
		ad, err := iv.a.Price(iv.Case(), opt)
		if err != nil {
			return nil, nil, err
		}
		for i := range list { // in the order of the rules
			for _, p := range ad.Checks {
				if p.Check.Name == list[i].Name && (p.Worth || put < leastFollowed) {
					return iv.stand(iv.question(p)), nil, nil
				}
			}
		}
	}
	opt := iv.options(left)
	var ad *advise.Advice
	for {
		var err error
		if ad, err = iv.a.Price(iv.Case(), opt); err != nil {
			return nil, nil, err
		}
		for _, p := range ad.Checks {
			if p.Worth || anyway {
				return iv.stand(iv.question(p)), nil, nil
			}
		}
		if ad.Unpriced == 0 {
			break
		}
		// The end is proven, and what is left counted, with all of them.
		opt.Best = 0
	}
	iv.state.Over = true
	stop := &Stop{Questions: len(ad.Checks)}
	for _, p := range ad.Checks {
		stop.AllMinutes += p.Minutes
	}
	if len(ad.Checks) > 0 {
		p := ad.Checks[0]
		stop.Next, stop.NextMinutes, stop.NextSaves = p.Check, p.Minutes, p.Saves
	}
	return nil, stop, nil
}

// leastFollowed is how many questions that follow the complaint are put whatever
// their price: a complaint that nothing known explains is where a price is
// blindest, and where a builder asks on.
const leastFollowed = 2

// stand notes that a question stands open.
func (iv *Interview) stand(q *Question) *Question {
	iv.state.At, iv.state.Over = q.Check.Name, false
	return q
}

func (iv *Interview) options(only func(*engine.Check) bool) advise.Options {
	opt := iv.opt
	opt.Only = only
	opt.Closed = iv.closed()
	return opt
}

func (iv *Interview) passed(check string) bool {
	for _, t := range iv.state.Turns {
		if t.Check == check {
			return true
		}
	}
	return false
}

// complained tells whether anything is reported present.
func (iv *Interview) complained() bool {
	for _, r := range iv.Case().Reports {
		if r.State == engine.Present {
			return true
		}
	}
	return false
}

// led lists the checks that the choices taken lead to, in order.
func (iv *Interview) led() []string {
	var out []string
	for _, t := range iv.state.Turns {
		c := iv.check(t.Check)
		if c == nil {
			continue
		}
		for _, ch := range c.Choices {
			if slices.Contains(strings.Fields(t.Answer), ch.Name) {
				out = append(out, ch.Asks...)
			}
		}
	}
	return out
}

// follows tells whether a finding that the check follows is reported present.
func (iv *Interview) follows(c *engine.Check) bool {
	for _, r := range iv.Case().Reports {
		if r.State != engine.Present {
			continue
		}
		f := engine.ParseFindingName(r.Finding)
		for _, name := range c.Follows {
			g := engine.ParseFindingName(name)
			if f.Name == g.Name && (g.Place == "*" || g.Place == "" || g.Place == f.Place) {
				return true
			}
		}
	}
	return false
}

// closed tells what is not to be asked: places in ranges that are not tried.
func (iv *Interview) closed() func(finding string) bool {
	never := map[string]bool{}
	for _, r := range iv.Case().Reports {
		if r.State == engine.Unknown && r.Note == NotTried {
			if rng := iv.rangeOf(r.Finding); rng != "" {
				never[rng] = true
			}
		}
	}
	if len(never) == 0 {
		return nil
	}
	return func(finding string) bool { return never[iv.rangeOf(finding)] }
}

// rangeOf is the range that a finding lies in: D of slips@D/3 or
// late_engagement@D; "" when it has none.
func (iv *Interview) rangeOf(finding string) string {
	rng, _, _ := strings.Cut(engine.ParseFindingName(finding).Place, "/")
	rows := iv.a.Model.Unit.Rows
	for i := range rows {
		if rows[i].Range == rng {
			return rng
		}
	}
	return ""
}

// mostOptions is the most options of one question, wholeOptions of one that
// asks what is wrong.
const (
	mostOptions  = 8
	wholeOptions = 16
)

// question is a question with the options that tell something.
func (iv *Interview) question(p advise.Priced) *Question {
	q := &Question{Check: p.Check, Price: p, Number: len(iv.state.Turns) + 1}
	list := p.Findings
	if p.Check.Choices == nil && p.Check.Counts == nil {
		list = advise.Ask(list, mostOptions)
	}
	for _, f := range list {
		q.Options = append(q.Options, Option{Finding: f.Name, Reporter: f.Reporter, Telling: f.Telling})
	}
	return iv.complete(q)
}

// plainly is a question whatever its price, with all its options; nil when
// nothing of it is left to ask.
func (iv *Interview) plainly(c *engine.Check) (*Question, error) {
	q := &Question{Check: c, Number: len(iv.state.Turns) + 1}
	if len(c.Yields) > 0 {
		left, err := iv.a.Left(iv.Case(), c.Name, iv.closed())
		if err != nil || len(left) == 0 {
			return nil, err
		}
		for _, f := range left[:min(len(left), wholeOptions)] {
			q.Options = append(q.Options, Option{Finding: f.Name, Reporter: f.Reporter, Telling: true})
		}
	}
	return iv.stand(iv.complete(q)), nil
}

// complete adds what a question offers beside its options.
func (iv *Interview) complete(q *Question) *Question {
	c := q.Check
	q.Counts = c.Counts
	q.Several = len(c.Yields) == 0
	for i := range c.Choices {
		ch := &c.Choices[i]
		q.Choices = append(q.Choices, Choice{Name: ch.Name, Title: ch.Title, Reports: iv.reports(c, ch)})
	}
	q.Single = q.Choices == nil && q.Counts == nil && len(q.Options) == 1
	if q.Choices == nil && q.Counts == nil {
		seen := map[string]bool{}
		for _, o := range q.Options {
			if r := iv.rangeOf(o.Finding); r != "" && !seen[r] {
				seen[r] = true
				q.Ranges = append(q.Ranges, r)
			}
		}
		if len(q.Ranges) < 2 {
			q.Ranges = nil
		}
	}
	return q
}

// open is the question that stands open, nil when nothing of it is left.
func (iv *Interview) open(name string) (*Question, error) {
	c := iv.check(name)
	if c == nil {
		return nil, nil
	}
	if len(c.Yields) == 0 || slices.Contains(iv.led(), name) || c.Opens && !iv.complained() {
		return iv.plainly(c)
	}
	opt := iv.options(func(c *engine.Check) bool { return c.Name == name })
	opt.Best = 0
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
		c := iv.check(name)
		if c == nil {
			return nil
		}
		q := &Question{Check: c, Given: true, Number: i + 1}
		said := map[string]engine.State{}
		for _, r := range t.Reports {
			said[r.Finding] = r.State
		}
		for _, f := range iv.a.Findings(name) {
			if c.Choices != nil && !iv.there(f.Name) {
				continue
			}
			q.Options = append(q.Options, Option{Finding: f.Name, Reporter: f.Reporter, State: said[f.Name], Telling: true})
		}
		iv.complete(q)
		for k := range q.Choices {
			q.Choices[k].Taken = slices.Contains(strings.Fields(t.Answer), q.Choices[k].Name)
		}
		if q.Counts != nil {
			q.Said = t.Answer
		}
		return q
	}
	return nil
}

// current is the question that an answer belongs to.
func (iv *Interview) current() (*Question, error) {
	if iv.state.At == "" {
		return nil, fmt.Errorf("interview: no question is open")
	}
	if q := iv.gone(iv.state.At); q != nil {
		return q, nil
	}
	q, err := iv.open(iv.state.At)
	if err == nil && q == nil {
		err = fmt.Errorf("interview: nothing is left to answer in %s", iv.state.At)
	}
	return q, err
}

// Answer takes the answer to the open question, finding by finding. One that
// says nothing passes the question over.
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
		r := engine.Report{Finding: o.Finding, State: said[o.Finding], By: o.Reporter}
		delete(said, o.Finding)
		switch {
		case r.State != "":
		case slices.Contains(ans.NotTried, iv.rangeOf(o.Finding)):
			r.State, r.Note = engine.Unknown, NotTried
		case ans.Rest != "":
			r.State = ans.Rest
		case o.State != "":
			r.State = engine.Unknown // what was said before is taken back
		default:
			continue
		}
		reports = append(reports, r)
	}
	if len(said) > 0 {
		var odd []string
		for f := range said {
			odd = append(odd, f)
		}
		sort.Strings(odd)
		return nil, fmt.Errorf("interview: the question %s does not cover %q", q.Check.Name, odd[0])
	}
	return iv.turn(Turn{Check: q.Check.Name, Reports: reports, Skipped: len(reports) == 0}), nil
}

// Choose answers the open question by a choice, or by several where it takes
// several.
func (iv *Interview) Choose(names ...string) ([]engine.Body, error) {
	q, err := iv.current()
	if err != nil {
		return nil, err
	}
	if len(names) == 0 {
		return iv.Skip()
	}
	if len(names) > 1 && !q.Several {
		return nil, fmt.Errorf("interview: the question %s takes one choice", q.Check.Name)
	}
	t := Turn{Check: q.Check.Name, Answer: strings.Join(names, " ")}
	for _, name := range names {
		var c *engine.Choice
		for i := range q.Check.Choices {
			if q.Check.Choices[i].Name == name {
				c = &q.Check.Choices[i]
			}
		}
		if c == nil {
			return nil, fmt.Errorf("interview: the question %s has no choice %q", q.Check.Name, name)
		}
		t.Reports = append(t.Reports, iv.reports(q.Check, c)...)
	}
	return iv.turn(t), nil
}

// reports is what a choice says: of each place where the finding is reported
// present, in which conditions it is there and in which it is not.
func (iv *Interview) reports(k *engine.Check, c *engine.Choice) []engine.Report {
	var out []engine.Report
	for _, l := range []struct {
		names []string
		state engine.State
	}{{c.Present, engine.Present}, {c.Absent, engine.Absent}, {c.Unknown, engine.Unknown}} {
		for _, pattern := range l.names {
			for _, f := range iv.speaksOf(pattern) {
				if by, ok := iv.a.Reporter(f, k.Reporter); ok {
					out = append(out, engine.Report{Finding: f, State: l.state, By: by})
				}
			}
		}
	}
	return out
}

// speaksOf lists the findings that a pattern of a choice stands for. With a
// condition and every place, these are the places where it is there at all.
func (iv *Interview) speaksOf(pattern string) []string {
	f := engine.ParseFindingName(pattern)
	if f.Condition == "" {
		return iv.a.Model.Match(pattern)
	}
	var out []string
	for _, name := range iv.a.Model.Match(pattern) {
		if iv.there(name) {
			out = append(out, name)
		}
	}
	return out
}

// Count answers the open question by a number, given as it was said.
func (iv *Interview) Count(n float64, text string) ([]engine.Body, error) {
	q, err := iv.current()
	if err != nil {
		return nil, err
	}
	if q.Counts == nil {
		return nil, fmt.Errorf("interview: the question %s asks for no number", q.Check.Name)
	}
	state := engine.Absent
	switch full := float64(iv.upshifts()); {
	case q.Counts.Shifts && n == 0:
		state = engine.Present
	case q.Counts.Shifts && n < full:
		state = "" // some are missing; which is another question
	case !q.Counts.Shifts && n >= q.Counts.From.Value:
		state = engine.Present
	}
	t := Turn{Check: q.Check.Name, Answer: text}
	for _, o := range q.Options {
		if state != "" {
			t.Reports = append(t.Reports, engine.Report{Finding: o.Finding, State: state, By: o.Reporter})
		} else if o.State != "" {
			t.Reports = append(t.Reports, engine.Report{Finding: o.Finding, State: engine.Unknown, By: o.Reporter})
		}
	}
	return iv.turn(t), nil
}

// there tells whether a finding is reported present, in whatever condition.
func (iv *Interview) there(finding string) bool {
	base := engine.ParseFindingName(finding).Base()
	for _, r := range iv.Case().Reports {
		if r.State == engine.Present && engine.ParseFindingName(r.Finding).Base() == base {
			return true
		}
	}
	return false
}

// upshifts is the number of upshifts in D, with that of the converter clutch,
// which drivers count too.
func (iv *Interview) upshifts() int {
	n, lockup := -1, 0
	rows := iv.a.Model.Unit.Rows
	for i := range rows {
		if rows[i].Range != "D" {
			continue
		}
		n++
		if rows[i].Lockup {
			lockup = 1
		}
	}
	return max(n+lockup, 0)
}

// DontKnow answers the whole of the open question with "don't know".
func (iv *Interview) DontKnow() ([]engine.Body, error) {
	q, err := iv.current()
	if err != nil {
		return nil, err
	}
	t := Turn{Check: q.Check.Name}
	for _, o := range q.Options {
		t.Reports = append(t.Reports, engine.Report{Finding: o.Finding, State: engine.Unknown, By: o.Reporter})
	}
	t.Skipped = len(t.Reports) == 0
	return iv.turn(t), nil
}

// Skip passes over the open question. It does not come again by itself; Change
// takes it up. What was said to it before is taken back.
func (iv *Interview) Skip() ([]engine.Body, error) {
	q, err := iv.current()
	if err != nil {
		return nil, err
	}
	t := Turn{Check: q.Check.Name, Skipped: true}
	for _, o := range q.Options {
		if o.State != "" {
			t.Reports = append(t.Reports, engine.Report{Finding: o.Finding, State: engine.Unknown, By: o.Reporter})
		}
	}
	return iv.turn(t), nil
}

// turn files what was said, in the place of an earlier turn of the same check.
func (iv *Interview) turn(t Turn) []engine.Body {
	out := []engine.Body{engine.InterviewMark{Question: t.Check, Answer: t.Answer}}
	for _, r := range t.Reports {
		out = append(out, r)
	}
	if t.Skipped || len(t.Reports) == 0 { // no report ends the answer
		out = append(out, engine.InterviewMark{Question: t.Check, Skipped: true, Answer: t.Answer})
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
		return nil, fmt.Errorf("interview: the question %q was not put", name)
	}
	iv.state.At = name
	return q, nil
}

// Leave is the entry that keeps the place: the open question, or that the
// interview is over.
func (iv *Interview) Leave() []engine.Body {
	return []engine.Body{engine.InterviewMark{Question: iv.state.At}}
}
