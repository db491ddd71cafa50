package asking

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/shown"
	"slipcase/cmd/internal/fault"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
	"slipcase/engine/diagnose"
	"slipcase/engine/model"
	"slipcase/engine/teardown"
	"slipcase/engine/tie"
)

// CaseRef names a case: a file, a built-in demo, or else one of the casebook.
type CaseRef struct {
	File string
	Demo string
	In   string // id in the casebook; "" for the current case
}

// InBook tells whether it is a case of the casebook.
func (r CaseRef) InBook() bool { return r.File == "" && r.Demo == "" }

// CaseHead says which case was answered.
type CaseHead struct {
	ID        string `json:"id"`
	Title     string `json:"title"`
	Unit      string `json:"unit"`
	UnitTitle string `json:"unit_title"`
	Vehicle   string `json:"vehicle"`
	Reports   int    `json:"reports"`          // that counted
	Status    string `json:"status,omitempty"` // of a case of the casebook
}

// Suspects is the answer to a case.
type Suspects struct {
	Case         CaseHead      `json:"case"`
	Sentence     string        `json:"sentence"`
	Suspects     []Suspect     `json:"suspects"`
	More         int           `json:"more"` // components that could have failed and are not shown
	Explanations []Explanation `json:"explanations"`
	Together     *Together     `json:"together"` // an element whose parts together stand out, null where one part does
	Causes       []Cause       `json:"causes"`
	For          []string      `json:"for"`                // what speaks most for the first suspect
	Against      []string      `json:"against"`            // what speaks most against it
	Unexplained  answer.Num    `json:"unexplained"`        // probability that no fault known to show what is reported is there
	Slight       bool          `json:"unexplained_slight"` // that is too little for a first screen
	Doubt        string        `json:"doubt"`              // whether the order stands when all numbers are off by up to two; "" where that was not tried
	Bases        []string      `json:"bases"`              // where the numbers behind the shown suspects come from
}

// Together is an element with all that holds it or feeds it alone.
type Together struct {
	Element     string     `json:"element"`
	Title       string     `json:"title"`
	Probability answer.Num `json:"probability"` // that one of its parts or more is behind what is reported
	Parts       []string   `json:"parts"`       // titles of those that matter, likeliest first
}

// Suspect is a component that may have failed.
type Suspect struct {
	Rank        int         `json:"rank"`
	Component   string      `json:"component"`
	Title       string      `json:"title"`
	Probability answer.Num  `json:"probability"`
	Bounded     bool        `json:"bounded"`    // the probability is an upper bound
	Prior       answer.Num  `json:"prior"`      // before any report
	Outside     bool        `json:"outside"`    // not part of the transmission
	Made        bool        `json:"made"`       // a usual part, made from the chart
	Modes       []Mode      `json:"modes"`      // the likeliest, and those that matter beside it
	MoreModes   int         `json:"more_modes"` // ways that are less likely
	Step        string      `json:"step"`       // where it comes into view, "" when no step shows it
	StepTitle   string      `json:"step_title"`
	Minutes     *answer.Num `json:"minutes"` // to that view, steps done already left out; null when no step shows it
	Bench       string      `json:"bench"`   // where the part is laid
	Bases       []string    `json:"bases"`
	Raised      bool        `json:"raised"` // likelier than before the reports; else it stands there by base rate alone
	Explains    bool        `json:"-"`      // can be behind the complaint; what cannot stands after what can, however likely it is
	Stands      *bool       `json:"stands"` // keeps its place when all numbers are off by up to two; null when not worked out
}

// Mode is one way in which a component may have failed.
type Mode struct {
	Mode        string     `json:"mode"`
	Title       string     `json:"title"`
	Probability answer.Num `json:"probability"`
}

// Explanation is a set of faults that explain the reports together, with none
// of the other likely ones. No faults: something rarer, or a wrong report.
type Explanation struct {
	Faults           []Fault    `json:"faults"`
	Probability      answer.Num `json:"probability"`
	Cause            string     `json:"cause"`
	CauseTitle       string     `json:"cause_title"`
	CauseProbability answer.Num `json:"cause_probability"`
	Slight           bool       `json:"slight"` // too unlikely beside the first for a first screen
}

// Fault is a component with a mode.
type Fault struct {
	Component string `json:"component"`
	Mode      string `json:"mode"`
	Title     string `json:"title"`
}

// Cause is a root cause with its probability.
type Cause struct {
	Cause       string     `json:"cause"`
	Title       string     `json:"title"`
	Probability answer.Num `json:"probability"`
	Prior       answer.Num `json:"prior"`
	SettledBy   []string   `json:"settled_by"` // titles of the checks
	Advice      string     `json:"advice"`
}

// Suspects answers a case; top is how many components are worked out in full.
// Fails with NotFound, Unavailable or Damaged as the case is, with Rules for
// errors in rule or case files, with Clash for reports that contradict each
// other.
func (d *Asker) Suspects(ctx context.Context, ref CaseRef, top int) (answer.Answer[Suspects], error) {
	w, err := d.Open(ctx, ref)
	if err != nil {
		return answer.Answer[Suspects]{}, err
	}
	return w.Suspects(top, false, true)
}

// Ranking is Suspects without what speaks for and against the first, which takes
// as long again where much is reported. Fails as Suspects does.
func (d *Asker) Ranking(ctx context.Context, ref CaseRef, top int) (answer.Answer[Suspects], error) {
	w, err := d.Open(ctx, ref)
	if err != nil {
		return answer.Answer[Suspects]{}, err
	}
	return w.Suspects(top, false, false)
}

// SuspectsTried is Suspects, and tries besides whether their order is firm: half
// a second more where a case is large. Fails as Suspects does.
func (d *Asker) SuspectsTried(ctx context.Context, ref CaseRef, top int) (answer.Answer[Suspects], error) {
	w, err := d.Open(ctx, ref)
	if err != nil {
		return answer.Answer[Suspects]{}, err
	}
	return w.Suspects(top, true, true)
}

// Suspects ranks; firm tries whether the order is, pros tells what speaks for and
// against the first. Fails with Rules, Clash, TooWide and Canceled as Asker.Suspects
// does.
func (w *Work) Suspects(top int, firm, pros bool) (answer.Answer[Suspects], error) {
	opt := diagnose.Options{Top: top, Weights: 1}
	if firm {
		opt.Doubt = 3
	}
	r, err := w.Diagnose(opt)
	if err != nil {
		return answer.Answer[Suspects]{}, err
	}
	out := Suspects{Case: w.Head(r), Sentence: wording.Gist(r.Gist), Unexplained: answer.Num(r.Unexplained), Slight: r.Unexplained < shown.LeastUnexplained}
	out.Suspects = []Suspect{}
	for i := range r.Suspects {
		if i >= top {
			break
		}
		x := w.Suspect(i, &r.Suspects[i])
		all := len(x.Modes)
		if all > 0 {
			x.Modes = shown.AtLeast(x.Modes, shown.BesideTheFirst*x.Modes[0].Probability, func(m *Mode) answer.Num { return m.Probability })
			x.Modes, _ = shown.First(x.Modes, shown.MostModes)
		}
		x.MoreModes = all - len(x.Modes)
		out.Suspects = append(out.Suspects, x)
	}
	out.More = len(r.Suspects) - len(out.Suspects)
	out.Explanations = w.explanations(r)
	if t := r.Together; t != nil {
		out.Together = &Together{Element: t.Element.Name, Title: wording.Title(t.Element.Title, t.Element.Name), Probability: answer.Num(t.P), Parts: []string{}}
		for _, c := range t.Components {
			out.Together.Parts = append(out.Together.Parts, wording.Title(c.Title, c.Name))
		}
	}
	out.Causes = w.causes(r)
	out.For, out.Against = []string{}, []string{}
	if pros && len(r.Suspects) > 0 {
		if out.For, out.Against, err = w.pros(r, r.Suspects[0].Modes[0].Node); err != nil {
			return answer.Answer[Suspects]{}, err
		}
	}
	out.Doubt = wording.Firm(r.Suspects[:len(out.Suspects)], r.Firmness)
	out.Bases = basesOf(out.Suspects)
	return Answered(w, r, out, map[string]string{"top": fmt.Sprint(top), "firm": fmt.Sprint(firm)}), nil
}

// Diagnose answers the case; unknown names and clashing reports are failures.
func (w *Work) Diagnose(opt diagnose.Options) (*diagnose.Result, error) {
	r, diags, err := diagnose.Case(w.Model, w.Case, opt)
	var clash *model.ClashError
	switch {
	case errors.As(err, &clash):
		return nil, w.clash(clash)
	case err != nil:
		return nil, fault.Under(w.Knowledge, err)
	case r == nil:
		return nil, &answer.Failure{Code: answer.Rules, Rules: w.Knowledge.Hash, Messages: answer.Messages(wording.Problems(diags))}
	}
	w.Diags = slices.Concat(w.Diags, wording.Problems(diags))
	return r, nil
}

// clash is the failure for reports that contradict each other, one message for
// each.
func (w *Work) clash(e *model.ClashError) *answer.Failure {
	out := []answer.Message{fault.Error(wording.Clashing())}
	for i, p := range e.Pieces {
		if i == 0 {
			out[0].Subject = p.Where
		}
		m := fault.Error(wording.ClashingReport(p))
		m.Subject = p.Where
		out = append(out, m)
	}
	return &answer.Failure{Code: answer.Clash, Rules: w.Knowledge.Hash, Messages: out, Err: e}
}

// Head is the head of a case with its answer.
func (w *Work) Head(r *diagnose.Result) CaseHead {
	return CaseHead{ID: w.Case.ID, Title: w.Case.Title, Unit: w.Model.Unit.ID, UnitTitle: w.Model.Unit.Title, Vehicle: w.Case.Vehicle, Reports: r.Reports, Status: string(w.Status)}
}

// Suspect is the i-th suspect of an answer, in words.
func (w *Work) Suspect(i int, s *diagnose.Suspect) Suspect {
	out := Suspect{
		Rank: i + 1, Component: s.Component.Name, Title: wording.Title(s.Component.Title, s.Component.Name),
		Probability: answer.Num(s.P), Bounded: s.Bounded, Prior: answer.Num(s.Prior), Outside: s.Outside, Made: s.Component.Made, Raised: s.P >= shown.Raised*s.Prior, Explains: s.Explains,
		Bench: w.bench(s.Component), Stands: s.Stands, Modes: []Mode{}, Bases: []string{},
	}
	for _, b := range s.Modes {
		out.Modes = append(out.Modes, Mode{b.Mode.Name, wording.Title(b.Mode.Title, b.Mode.Name), answer.Num(b.P)})
	}
	for _, b := range s.Bases {
		out.Bases = append(out.Bases, string(b))
	}
	if s.Step != nil {
		n := answer.Num(s.ToReach)
		out.Step, out.StepTitle, out.Minutes = s.Step.Name, wording.Title(s.Step.Title, s.Step.Name), &n
	}
	return out
}

// pros are the heaviest reports for and against a fault, those that say the same
// together, in words.
func (w *Work) pros(r *diagnose.Result, node int) (pro, con []string, err error) {
	heard, err := diagnose.Heaviest(w.Model, r, node, shown.WeighedPros)
	if err != nil {
		return nil, nil, err
	}
	pro, con = []string{}, []string{}
	slices.SortStableFunc(heard, func(a, b diagnose.Heard) int { return tie.Compare(math.Abs(b.Decibans), math.Abs(a.Decibans)) })
	for _, h := range heard {
		into := &pro
		if h.Decibans < 0 {
			into = &con
		}
		if math.Abs(h.Decibans) >= shown.LeastWeight && len(*into) < shown.MostPros {
			*into = append(*into, wording.Heard(h.Pieces))
		}
	}
	return pro, con, nil
}

// bench is where a component is laid: its own place, or its kind's.
func (w *Work) bench(c *engine.Component) string {
	if c.Bench != "" {
		return c.Bench
	}
	if k := w.Model.KindOf(c); k != nil {
		return k.Bench
	}
	return ""
}

func (w *Work) explanations(r *diagnose.Result) []Explanation {
	out := []Explanation{}
	for _, e := range r.Explanations {
		if e.P < shown.LeastExplanation {
			continue
		}
		x := Explanation{Probability: answer.Num(e.P), Faults: []Fault{}, Slight: len(out) > 0 && e.P < shown.LeastBeside}
		for _, n := range e.Modes {
			x.Faults = append(x.Faults, w.fault(n))
		}
		if e.Cause != nil && e.PC >= shown.LeastCauseOfSet {
			x.Cause, x.CauseTitle, x.CauseProbability = e.Cause.Name, wording.Title(e.Cause.Title, e.Cause.Name), answer.Num(e.PC)
		}
		out = append(out, x)
	}
	return out
}

func (w *Work) fault(node int) Fault {
	n := w.Model.Nodes[node]
	return Fault{n.Component.Name, n.Mode.Name, n.Title}
}

func (w *Work) causes(r *diagnose.Result) []Cause {
	out := []Cause{}
	for _, c := range r.Causes {
		out = append(out, w.cause(c))
	}
	out = shown.AtLeast(out, shown.LeastCause, func(c *Cause) answer.Num { return c.Probability })
	out, _ = shown.First(out, shown.MostCauses)
	return out
}

func (w *Work) cause(c diagnose.CauseBelief) Cause {
	x := Cause{Cause: c.Cause.Name, Title: wording.Title(c.Cause.Title, c.Cause.Name), Probability: answer.Num(c.P), Prior: answer.Num(c.Prior), Advice: c.Cause.Advice, SettledBy: []string{}}
	for _, name := range c.Cause.SettledBy {
		if k := w.Knowledge.Check(name); k == nil || teardown.Possible(w.Model, w.Case, k) {
			x.SettledBy = append(x.SettledBy, w.checkTitle(name))
		}
	}
	return x
}

func (w *Work) checkTitle(name string) string {
	for _, c := range w.Knowledge.Checks {
		if c.Name == name {
			return wording.Title(c.Title, name)
		}
	}
	return wording.Name(name)
}

// basesOf lists each basis behind the suspects once, firmest first.
func basesOf(list []Suspect) []string {
	seen := map[string]bool{}
	for _, s := range list {
		for _, b := range s.Bases {
			seen[b] = true
		}
	}
	out := []string{}
	for _, b := range engine.BasisKinds {
		if seen[string(b)] {
			out = append(out, string(b))
		}
	}
	return out
}

// Answered is an answer to a case with what it can be worked out from again.
// That reports do not count, or approximately, is the first of its warnings.
func Answered[T any](w *Work, r *diagnose.Result, data T, options map[string]string) answer.Answer[T] {
	warn := slices.Concat(w.unheard(), w.Warn)
	if len(r.Near) > 0 {
		warn = slices.Concat([]answer.Message{weighedApproximately(r.Near)}, warn)
	}
	warn = slices.Concat(leftOut(r.Left), warn)
	return answer.Answer[T]{Rules: w.Knowledge.Hash, Method: wording.Method(r.Method, len(r.Near)), Data: data, Input: w.Input(options), Diagnostics: answer.Messages(w.Diags), Warnings: warn}
}

// Noted tells whether the case holds anything that counts.
func (w *Work) Noted() bool {
	return len(w.Case.Reports)+len(w.Case.Readings)+len(w.Case.Seen) > 0
}

// unheard says that the complaint is only written down.
func (w *Work) unheard() []answer.Message {
	if w.Unheard == "" || w.Noted() { // noted since the case was read
		return nil
	}
	m := fault.Warning(wording.OnlyWritten(w.Unheard), answer.Do(answer.AskDriver))
	m.First = true
	return []answer.Message{m}
}

// Input is the case and the options.
func (w *Work) Input(options map[string]string) *answer.Input {
	if options == nil {
		options = map[string]string{}
	}
	return &answer.Input{Unit: w.Case.Unit, Case: answer.CaseOf(w.Case, w.Status), Options: options}
}

// leftOut says first which reports do not count, and nothing where all do.
func leftOut(list []model.Piece) []answer.Message {
	if len(list) == 0 {
		return nil
	}
	names := nearNames(list)
	m := fault.Warning(wording.LeftOut(names, model.MostPresent))
	m.First, m.Named = true, names
	return []answer.Message{m}
}

func weighedApproximately(list []model.Piece) answer.Message {
	names := nearNames(list)
	m := fault.Warning(wording.Approximately(names))
	m.First, m.Named = true, names
	return m
}

func nearNames(list []model.Piece) (names []string) {
	for _, p := range list {
		names = append(names, wording.Near(p.About, p.Value, p.By))
	}
	return names
}
