package asking

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/shown"
	"slipcase/cmd/internal/fault"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
	"slipcase/engine/advise"
	"slipcase/engine/diagnose"
	"slipcase/engine/model"
)

// Next is the answer to "what to do next".
type Next struct {
	Case     CaseHead    `json:"case"`
	Sentence string      `json:"sentence"`
	Now      Move        `json:"now"`    // the one thing to do, the same as that of the plan; of the stages asked for
	Checks   []NextCheck `json:"checks"` // best first
	// Proven is how many at the head of Checks no check behind them is better than,
	// by its telling findings: within what approximate prices were measured to be off by.
	Proven    int        `json:"proven"`
	More      int        `json:"more"`     // open checks behind those shown
	Withheld  []Refused  `json:"withheld"` // unsafe now
	Pointless []Refused  `json:"pointless"`
	Closed    []Closed   `json:"closed"`   // stage not open any more, or evidence gone
	Waiting   int        `json:"waiting"`  // checks that come with a teardown step
	Leader    string     `json:"leader"`   // component
	LeaderP   answer.Num `json:"leader_p"` // its probability
	Minutes   answer.Num `json:"minutes"`  // as the plan says: to a culprit in view and what was taken off back on, on average
	Causes    answer.Num `json:"causes"`   // minutes that unsettled root causes cost
	Step      string     `json:"step"`     // first step of today's plan, "" when none is left
	StepTitle string     `json:"step_title"`
	StepTime  answer.Num `json:"step_minutes"`
	// Near are reports that were weighed approximately when the checks were chosen,
	// by title and reporter: exactly they would tie too many causes together. In the
	// figures, too, unless Whole.
	Near  []string `json:"near"`
	Whole bool     `json:"whole"`
	// Granted is the error of a probability that the prices allow, estimated.
	Granted answer.Num `json:"granted"`
}

// NextCheck is an open check with what it is worth.
type NextCheck struct {
	Rank     int           `json:"rank"`
	Check    string        `json:"check"`
	Title    string        `json:"title"`
	Asks     string        `json:"asks"` // the question to the driver, "" when it is none
	Stage    string        `json:"stage"`
	Why      string        `json:"why"`
	Minutes  answer.Num    `json:"minutes"`
	Saves    answer.Num    `json:"saves"`      // minutes, at least
	SavesTop answer.Num    `json:"saves_high"` // minutes, at most
	Causes   answer.Num    `json:"settles_causes"`
	Net      answer.Num    `json:"net"` // saves less minutes
	Bits     answer.Num    `json:"bits"`
	Exact    bool          `json:"exact"` // all its findings were worked out
	Worth    bool          `json:"worth"` // worth its minutes, or tells enough
	Before   string        `json:"before"`
	Urgent   bool          `json:"urgent"` // the next step destroys the evidence
	Findings []NextFinding `json:"findings"`
	Answers  []NextAnswer  `json:"answers"` // likely ones, and what they would change
	Parts    []string      `json:"separates"`
	Cautions []string      `json:"cautions"`
}

// NextFinding is a finding that a check reports on.
type NextFinding struct {
	Finding     string     `json:"finding"`
	Title       string     `json:"title"`
	By          string     `json:"by"`          // who sees it in this check: the reporter to note it by
	Probability answer.Num `json:"probability"` // of its being reported present; an estimate, for showing
	Telling     bool       `json:"telling"`     // it was worked out
}

// NextAnswer is a likely answer.
type NextAnswer struct {
	Present     []string   `json:"present"` // titles of the findings that would be present, the other telling ones absent
	Probability answer.Num `json:"probability"`
	Minutes     answer.Num `json:"minutes"` // saved, negative for bad news
	Shifts      []Shift    `json:"shifts"`
}

// Shift is how a suspect would move.
type Shift struct {
	Component string     `json:"component"`
	Title     string     `json:"title"`
	From      answer.Num `json:"from"`
	To        answer.Num `json:"to"`
}

// Refused is a check that is not offered.
type Refused struct {
	Check  string `json:"check"`
	Title  string `json:"title"`
	Stage  string `json:"stage"`
	Reason string `json:"reason"`
}

// Closed are checks that are not open any more for one reason: by name where
// they are few.
type Closed struct {
	Reason string    `json:"reason"`
	Checks []Refused `json:"checks"`
	More   int       `json:"more"` // not named
}

// Next prices the open checks of a case; the best top are worked out, every
// one for 0. Stages restricts them, where it is not empty. Fails as Suspects
// does, and with NotFound for a stage that is none.
func (d *Asker) Next(ctx context.Context, ref CaseRef, top int, stages []string) (answer.Answer[Next], error) {
	var only []engine.Stage
	for _, s := range stages {
		st, err := stage(s)
		if err != nil {
			return answer.Answer[Next]{}, err
		}
		only = append(only, st)
	}
	w, err := d.Open(ctx, ref)
	if err != nil {
		return answer.Answer[Next]{}, err
	}
	return w.next(top, only)
}

// next is what to do now. Fails as the use case does.
func (w *Work) next(top int, stages []engine.Stage) (answer.Answer[Next], error) {
	opt := advise.Options{Best: top, Stages: stages, Explain: true}
	options := map[string]string{"top": fmt.Sprint(top)}
	if len(stages) > 0 {
		options["stages"] = strings.Join(wording.Stages(stages), ",")
	}
	c, err := w.course(opt, false)
	if err != nil {
		return answer.Answer[Next]{}, err
	}
	a := c.advice
	out := Next{
		Now: c.move(), Case: w.HeadOnly(), Near: []string{}, Whole: a.Whole || len(a.Near) == 0, Proven: a.Proven, Granted: answer.Num(a.Granted), More: a.Unpriced, LeaderP: answer.Num(a.LeaderP), Minutes: per(c.plan.Expected, c.plan.Weight), Causes: answer.Num(a.Causes),
		Checks: []NextCheck{}, Withheld: []Refused{}, Pointless: []Refused{},
	}
	if a.Leader != nil {
		out.Leader = a.Leader.Name
	}
	if len(c.plan.Steps) > 0 {
		s := c.plan.Steps[0].Step
		out.Step, out.StepTitle, out.StepTime = s.Name, wording.Title(s.Title, s.Name), answer.Num(s.Minutes.Value)
	}
	for i := range a.Checks {
		out.Checks = append(out.Checks, w.priced(i, &a.Checks[i]))
	}
	for _, r := range a.Withheld {
		if r.Why == advise.Pointless {
			out.Pointless = append(out.Pointless, refused(r))
		} else {
			out.Withheld = append(out.Withheld, refused(r))
		}
	}
	for _, l := range a.Near {
		out.Near = append(out.Near, wording.Near(l.About, l.Value, l.By))
	}
	out.Closed, out.Waiting = closed(a.Closed)
	out.Sentence = wording.Next(a, c.plan)
	return answer.Answer[Next]{Rules: w.Knowledge.Hash, Method: wording.NextMethod(a), Data: out, Input: w.Input(options), Diagnostics: answer.Messages(w.Diags), Warnings: slices.Concat(leftOut(c.read.Left), w.unheard(), w.Warn)}, nil
}

// stage resolves the name of a stage.
func stage(name string) (engine.Stage, error) {
	var known []string
	for _, s := range engine.Stages {
		if string(s) == strings.ReplaceAll(name, " ", "_") {
			return s, nil
		}
		known = append(known, string(s))
	}
	return "", fault.Fail(answer.NotFound, wording.NoStage(name, known))
}

// StageWords lists the stages of the work, for completion.
func StageWords() []Word {
	var out []Word
	for _, s := range engine.Stages {
		out = append(out, Word{Name: string(s)})
	}
	return out
}

// PriceFailure turns an error of the adviser into a failure.
func (w *Work) PriceFailure(err error) *answer.Failure {
	var clash *model.ClashError
	var bad *advise.BadCase
	switch {
	case errors.As(err, &clash):
		return w.clash(clash)
	case errors.As(err, &bad):
		return &answer.Failure{Code: answer.Rules, Rules: w.Knowledge.Hash, Messages: answer.Messages(wording.Problems(bad.Problems)), Err: err}
	}
	return fault.Under(w.Knowledge, err)
}

// HeadOnly is the head of a case without its answer.
func (w *Work) HeadOnly() CaseHead {
	pieces, _ := w.Model.Evidence(w.Case)
	groups := map[int]bool{}
	for _, p := range pieces {
		groups[p.Group] = true
	}
	return w.Head(&diagnose.Result{Reports: len(groups)})
}

func refused(r advise.Refusal) Refused {
	return Refused{r.Check.Name, wording.Title(r.Check.Title, r.Check.Name), wording.Stage(r.Check.Stage), wording.Refusal(r)}
}

// closed groups checks that are not open by their reason; those that a step
// opens are counted.
func closed(list []advise.Refusal) (out []Closed, waiting int) {
	out = []Closed{}
	for _, r := range list {
		if r.Why == advise.NeedsStep {
			waiting++
			continue
		}
		x := refused(r)
		i := slices.IndexFunc(out, func(c Closed) bool { return c.Reason == x.Reason })
		if i < 0 {
			i = len(out)
			out = append(out, Closed{Reason: x.Reason, Checks: []Refused{}})
		}
		out[i].Checks = append(out[i].Checks, x)
	}
	for i := range out {
		if n := len(out[i].Checks); n > shown.MostClosed {
			out[i].Checks, out[i].More = []Refused{}, n
		}
	}
	return out, waiting
}

// priced describes one open check.
func (w *Work) priced(i int, p *advise.Priced) NextCheck {
	out := NextCheck{
		Rank: i + 1, Check: p.Check.Name, Title: wording.Title(p.Check.Title, p.Check.Name), Asks: p.Check.Asks, Stage: wording.Stage(p.Check.Stage), Why: p.Check.Why,
		Minutes: answer.Num(p.Minutes), Saves: answer.Num(p.Saves), SavesTop: answer.Num(p.SavesHigh), Causes: answer.Num(p.SettlesCauses), Net: answer.Num(p.Net), Bits: answer.Num(p.Bits),
		Exact: p.Exact, Worth: p.Worth, Urgent: p.Urgent, Findings: []NextFinding{}, Answers: []NextAnswer{}, Parts: []string{}, Cautions: []string{},
	}
	if p.Before != nil {
		out.Before = wording.Title(p.Before.Title, p.Before.Name)
	}
	for _, f := range p.Findings {
		out.Findings = append(out.Findings, NextFinding{f.Name, wording.FindingOf(w.Model, f.Name), f.Reporter, answer.Num(f.P), f.Telling})
	}
	for _, a := range p.Separates {
		x := NextAnswer{Probability: answer.Num(a.P), Minutes: answer.Num(a.Minutes), Present: []string{}, Shifts: []Shift{}}
		for _, name := range a.Present {
			x.Present = append(x.Present, wording.FindingOf(w.Model, name))
		}
		for _, s := range a.Shifts {
			x.Shifts = append(x.Shifts, Shift{s.Component.Name, wording.Title(s.Component.Title, s.Component.Name), answer.Num(s.From), answer.Num(s.To)})
		}
		out.Answers = append(out.Answers, x)
	}
	for _, c := range advise.Apart(p.Separates) {
		out.Parts = append(out.Parts, wording.Title(c.Title, c.Name))
	}
	for _, c := range p.Cautions {
		out.Cautions = append(out.Cautions, c.Text)
	}
	return out
}
