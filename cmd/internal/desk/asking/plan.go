package asking

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/library"
	"slipcase/cmd/internal/desk/shown"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
	"slipcase/engine/advise"
	"slipcase/engine/teardown"
)

// Plan is the rest of the teardown of a case.
type Plan struct {
	Case     CaseHead     `json:"case"`
	Sentence string       `json:"sentence"`
	Now      Move         `json:"now"`   // the one thing to do, the same as that of next
	First    []PlanCheck  `json:"first"` // checks that are worth their minutes before any step, best first
	Pull     PlanPull     `json:"pull"`
	Done     []string     `json:"done"` // titles of the steps done
	Open     []PlanView   `json:"open"` // in view, and neither found failed nor cleared
	Steps    []PlanStep   `json:"steps"`
	More     int          `json:"more"`    // steps behind those shown
	Reaches  answer.Num   `json:"reaches"` // probability that a culprit is in view when all are done
	Minutes  answer.Num   `json:"minutes"` // to a culprit in view and what was taken off back on, on average
	Bench    PlanOther    `json:"bench"`   // the plain bench order
	Likely   PlanOther    `json:"likely"`  // the likeliest culprit first
	Exact    bool         `json:"exact"`   // the order is proven best
	Order    string       `json:"order"`   // how it was found
	Unseen   answer.Num   `json:"unseen"`  // probability that no step shows a fault behind the reports; 0 where it is next to nothing
	After    *PlanAfter   `json:"after"`   // null while nothing is found
	Invented bool         `json:"invented_limits"`
	Made     library.Made `json:"made"`
}

// PlanPull is the decision on taking the unit out.
type PlanPull struct {
	Out       bool       `json:"out"` // it is out, or no step takes it out
	Justified bool       `json:"justified"`
	Now       answer.Num `json:"now_minutes"`     // to the end of the repair when it comes out at once
	Looking   answer.Num `json:"looking_minutes"` // when the looks come first
	Looks     []string   `json:"looks"`           // titles: what the plan does in the vehicle before
	OnlyBench answer.Num `json:"only_bench"`      // probability that something failed that only the bench shows
	InReach   answer.Num `json:"in_reach"`        // that the looks show what failed, and nothing only the bench shows
	Unlikely  bool       `json:"unlikely"`        // no known fault is likely: the complaint is to be verified first
	Some      answer.Num `json:"some"`            // probability that at least one known fault is behind the reports
	Enough    bool       `json:"enough"`          // repair what was found where it is and test before anything else
	Another   answer.Num `json:"another"`         // how likely the reports need another fault beside what was found
	Words     string     `json:"words"`
	Owner     string     `json:"-"` // the same for the vehicle's owner
}

// PlanOther is another order to compare with.
type PlanOther struct {
	Minutes answer.Num `json:"minutes"`      // to a culprit in view and what was taken off back on, on average
	Saved   answer.Num `json:"saved"`        // percent
	Before  answer.Num `json:"saved_before"` // minutes saved before pulling
	After   answer.Num `json:"saved_after"`  // minutes saved from the pull on
	Steps   []string   `json:"steps"`
}

// PlanStep is one step.
type PlanStep struct {
	Step     string        `json:"step"`
	Title    string        `json:"title"`
	Made     bool          `json:"made"` // a usual step, made from the chart
	Minutes  answer.Num    `json:"minutes"`
	Sum      answer.Num    `json:"sum"`     // minutes when it is done
	InView   answer.Num    `json:"in_view"` // probability that a culprit is in view by then
	Late     bool          `json:"late"`    // waits until the unit is back
	Looked   bool          `json:"looked"`  // checks have looked at it: no minutes, say what was found
	Parts    []PlanView    `json:"parts"`
	LookFor  []PlanLook    `json:"look_for"`
	Likely   []PlanLikely  `json:"likely"` // the likeliest parts
	Look     []string      `json:"look"`
	Before   []PlanMeasure `json:"before"` // to take before the step
	At       []PlanMeasure `json:"at"`     // to take as soon as it is done
	Limits   []PlanMeasure `json:"limits"` // of what comes into view
	Cautions []string      `json:"cautions"`
}

// PlanView is a part that comes into view.
type PlanView struct {
	Component   string     `json:"component"`
	Title       string     `json:"title"`
	Probability answer.Num `json:"probability"` // that it is a culprit
	Looked      bool       `json:"looked"`      // found failed or cleared already
	Made        bool       `json:"made"`        // a usual part, made from the chart
	Signs       []PlanSign `json:"signs"`
	Bench       string     `json:"bench"` // where it is laid
}

// PlanLikely is a part that is likely to show something.
type PlanLikely struct {
	Title       string     `json:"title"`
	Mode        string     `json:"mode"` // title of the likeliest way, "" for none
	Probability answer.Num `json:"probability"`
}

// PlanLook is what to look for at a step.
type PlanLook struct {
	Part        string     `json:"part"`
	Mode        string     `json:"mode"`
	Probability answer.Num `json:"probability"`
	Look        string     `json:"look"`
}

// PlanSign is what a fault looks like.
type PlanSign struct {
	Mode        string     `json:"mode"`
	Title       string     `json:"title"`
	Probability answer.Num `json:"probability"`
	Look        string     `json:"look"`
}

// PlanMeasure is something to take or measure.
type PlanMeasure struct {
	Text    string      `json:"text"`
	Minutes *answer.Num `json:"minutes"` // null where none are said
	Limit   string      `json:"limit"`   // "0.25 mm to 0.90 mm", "at most 0.12 mm"; "" where there is none
	Value   string      `json:"value"`   // as measured, "" while it was not
	Outside string      `json:"outside"` // "below" or "above" its limit, "" within
	Taken   bool        `json:"taken"`
	// Needs are the titles of steps that must be done first and that the plan
	// does later.
	Needs []string `json:"needs"`
	// Reading is what Note and Done know it by, "" where nothing is measured.
	Reading string   `json:"-"`
	Units   []string `json:"-"` // units of measure for its value, that of the limit first
}

// PlanAfter is the plan once something is found failed.
type PlanAfter struct {
	Found   []PlanFound   `json:"found"`
	Warning string        `json:"warning"` // "" when it is settled why everything failed
	Causes  []PlanCause   `json:"causes"`
	Also    []PlanRelated `json:"look_also"`
	Second  []PlanSecond  `json:"second"`
}

// PlanFound is a part found failed.
type PlanFound struct {
	Component string   `json:"component"`
	Title     string   `json:"title"`
	Mode      string   `json:"mode"`
	Causes    []string `json:"causes"`
	Open      bool     `json:"open"` // it is not settled why
}

// PlanCause is what may be behind it.
type PlanCause struct {
	Name        string     `json:"name"`
	Title       string     `json:"title"`
	Probability answer.Num `json:"probability"`
	Prior       answer.Num `json:"prior"`
	SettledBy   []string   `json:"settled_by"`
	Step        string     `json:"step"` // where a faulty part is seen
	Advice      string     `json:"advice"`
}

// PlanRelated is a part to look at as well.
type PlanRelated struct {
	Component   string     `json:"component"`
	Title       string     `json:"title"`
	Reason      string     `json:"reason"`
	Probability answer.Num `json:"probability"`
	Step        string     `json:"step"`
	Done        bool       `json:"done"` // in view already
}

// PlanSecond is a fault that may be there beside what was found.
type PlanSecond struct {
	Part PlanView `json:"part"`
	Step string   `json:"step"`
	Done bool     `json:"done"`
}

// PlanInput says how much of a plan is wanted.
type PlanInput struct {
	Steps int  // this many steps; 0 for those that matter
	Full  bool // every step that is left
}

// Plan orders the steps left of a case. Fails as Suspects does.
func (d *Asker) Plan(ctx context.Context, ref CaseRef, in PlanInput) (answer.Answer[Plan], error) {
	w, err := d.Open(ctx, ref)
	if err != nil {
		return answer.Answer[Plan]{}, err
	}
	return w.Planned(in)
}

// Planned is the order of the teardown. Fails as the use case does.
func (w *Work) Planned(in PlanInput) (answer.Answer[Plan], error) {
	// As next prices them: where reports count approximately while checks are chosen,
	// the best are priced again, and how many they are must be the same for both.
	c, err := w.course(advise.Options{Best: shown.NextChecks, Explain: true}, true)
	if err != nil {
		return answer.Answer[Plan]{}, err
	}
	return Answered(w, c.read, w.plan(c, in), map[string]string{"steps": fmt.Sprint(in.Steps), "full": fmt.Sprint(in.Full)}), nil
}

func (w *Work) plan(c *course, in PlanInput) Plan {
	p := c.plan
	out := Plan{
		Case: w.Head(c.read), Now: c.move(), First: c.first(), Made: library.MadeOf(w.Model.Unit), Done: []string{}, Open: []PlanView{}, Steps: []PlanStep{}, Exact: p.Exact, Order: wording.Ordering(p.Method),
		Minutes: per(p.Expected, p.Weight), Bench: other(p.Bench, p.Weight), Likely: other(p.Likely, p.Weight), Unseen: 1,
	}
	d := p.Pull
	out.Pull = PlanPull{Out: d.Pulled, Justified: d.Justified, Now: answer.Num(d.PullNow), Looking: answer.Num(d.InVehicle), Looks: []string{}, OnlyBench: answer.Num(d.OnlyBench), InReach: answer.Num(d.InReach), Unlikely: d.Unlikely, Some: answer.Num(d.Some), Enough: d.Enough, Another: answer.Num(d.Another), Words: wording.Decision(d), Owner: wording.OwnerDecision(d)}
	for _, s := range d.Looks {
		out.Pull.Looks = append(out.Pull.Looks, wording.Title(s.Title, s.Name))
	}
	for _, name := range p.Done {
		if s := w.Model.Step(name); s != nil {
			out.Done = append(out.Done, wording.Title(s.Title, s.Name))
		}
	}
	for _, v := range p.Open {
		if v.P >= shown.LeastOpen {
			out.Open = append(out.Open, w.view(v))
		}
	}
	for i := range p.Steps {
		s := w.planStep(&p.Steps[i])
		s.point()
		for _, x := range p.Steps[i].Measure {
			out.Invented = out.Invented || x.Limit != nil && invented(x.Limit.Limit)
		}
		for _, l := range p.Steps[i].Limits {
			out.Invented = out.Invented || invented(l.Limit)
		}
		out.Steps = append(out.Steps, s)
		out.Unseen = 1 - s.InView
	}
	if p.After != nil {
		out.After = w.planAfter(p.After)
	}
	out.Sentence = wording.Plan(p, c.advice)
	out.Reaches = 1 - out.Unseen
	if out.Unseen < shown.LeastUnseen {
		out.Unseen = 0
	}
	out.Steps, out.More = shown.First(out.Steps, out.shown(in))
	return out
}

// shown is how many steps are shown.
func (p *Plan) shown(in PlanInput) int {
	switch {
	case in.Full:
		return len(p.Steps)
	case in.Steps > 0:
		return in.Steps
	case p.Pull.Enough:
		return shown.FewestSteps
	}
	var all, seen answer.Num
	for i := range p.Steps {
		all += p.Steps[i].weight()
	}
	for i := range p.Steps {
		seen += p.Steps[i].weight()
		if i+1 >= shown.MostSteps || i+1 >= shown.FewestSteps && seen >= shown.EnoughInView*all {
			return i + 1
		}
	}
	return len(p.Steps)
}

// weight is how many culprits a step is expected to show.
func (s *PlanStep) weight() (w answer.Num) {
	for _, v := range s.Parts {
		w += v.Probability
	}
	return w
}

// point picks what a step is about: its likeliest parts, and what to look for.
func (s *PlanStep) point() {
	s.LookFor, s.Likely = []PlanLook{}, []PlanLikely{}
	var parts []PlanLikely
	for _, v := range s.Parts {
		x := PlanLikely{Title: v.Title, Probability: v.Probability}
		if len(v.Signs) > 0 {
			x.Mode = v.Signs[0].Title
		}
		if v.Probability >= shown.LeastPart && !slices.Contains(parts, x) {
			parts = append(parts, x)
		}
		for i, sign := range v.Signs {
			if sign.Look != "" && sign.Probability >= shown.LeastPart && (i == 0 || sign.Probability >= shown.BesideTheFirst*v.Signs[0].Probability) {
				s.LookFor = append(s.LookFor, PlanLook{v.Title, sign.Title, sign.Probability, sign.Look})
			}
		}
	}
	slices.SortStableFunc(parts, func(a, b PlanLikely) int { return cmp.Compare(b.Probability, a.Probability) })
	slices.SortStableFunc(s.LookFor, func(a, b PlanLook) int { return cmp.Compare(b.Probability, a.Probability) })
	few, _ := shown.First(parts, shown.MostParts)
	s.Likely = append(s.Likely, few...)
}

// per is minutes for one culprit, 0 when there is none to expect.
func per(minutes, weight float64) answer.Num {
	if weight <= 0 {
		return 0
	}
	return answer.Num(minutes / weight)
}

func other(b teardown.Baseline, weight float64) PlanOther {
	o := PlanOther{Minutes: per(b.Expected, weight), Saved: answer.Num(b.SavedPercent), Before: per(b.BeforePull, weight), After: per(b.AfterPull, weight), Steps: []string{}}
	o.Steps = append(o.Steps, b.Order...)
	return o
}

func (w *Work) planStep(s *teardown.Step) PlanStep {
	out := PlanStep{
		Step: s.Step.Name, Title: wording.Title(s.Step.Title, s.Step.Name), Made: s.Step.Made, Minutes: answer.Num(s.Minutes), Sum: answer.Num(s.Cumulative), InView: answer.Num(s.InView), Late: s.Late, Looked: s.Looked,
		Parts: []PlanView{}, Look: append([]string{}, s.Step.Look...), Before: []PlanMeasure{}, At: []PlanMeasure{}, Limits: []PlanMeasure{}, Cautions: []string{},
	}
	for _, v := range s.Views {
		out.Parts = append(out.Parts, w.view(v))
	}
	for _, x := range s.Measure {
		if x.When == teardown.AtStep {
			out.At = append(out.At, measureWords(x))
		} else {
			out.Before = append(out.Before, measureWords(x))
		}
	}
	for i := range s.Limits {
		l := &s.Limits[i]
		out.Limits = append(out.Limits, measureWords(teardown.Measure{Text: wording.Title(l.Limit.Title, l.Limit.Name), Limit: l, Taken: l.Value != nil}))
	}
	for _, c := range s.Cautions {
		out.Cautions = append(out.Cautions, c.Text)
	}
	return out
}

func (w *Work) view(v teardown.View) PlanView {
	out := PlanView{Component: v.Component.Name, Title: wording.Title(v.Component.Title, v.Component.Name), Probability: answer.Num(v.P), Looked: v.Looked, Made: v.Component.Made, Signs: []PlanSign{}, Bench: v.Bench}
	for _, s := range v.Signs {
		out.Signs = append(out.Signs, PlanSign{s.Mode.Name, wording.Title(s.Mode.Title, s.Mode.Name), answer.Num(s.P), s.Look})
	}
	return out
}

func measureWords(x teardown.Measure) PlanMeasure {
	out := PlanMeasure{Text: x.Text, Taken: x.Taken, Needs: []string{}}
	for _, s := range x.Needs {
		out.Needs = append(out.Needs, wording.Title(s.Title, s.Name))
	}
	if x.Check != nil {
		n := answer.Num(x.Check.Minutes.Value)
		out.Minutes = &n
	}
	if x.Limit != nil {
		out.Limit, out.Outside = wording.Between(x.Limit.Limit.Low, x.Limit.Limit.High), x.Limit.Outside
		out.Reading, out.Units = x.Limit.Limit.Name, wording.UnitsOf(x.Limit.Limit.Low, x.Limit.Limit.High)
		if x.Limit.Value != nil {
			out.Value = x.Limit.Value.Text
		}
	}
	return out
}

// invented tells whether a limit is no maker's figure.
func invented(l *engine.Limit) bool { return l.Basis != nil && l.Basis.Kind == engine.Invented }

func (w *Work) planAfter(a *teardown.Why) *PlanAfter {
	out := &PlanAfter{Found: []PlanFound{}, Warning: wording.Unsettled(a.Confirmed), Causes: []PlanCause{}, Also: []PlanRelated{}, Second: []PlanSecond{}}
	for _, f := range a.Confirmed {
		out.Found = append(out.Found, PlanFound{f.Component.Name, wording.Title(f.Component.Title, f.Component.Name), wording.Title(f.Mode.Title, f.Mode.Name), append([]string{}, f.Causes...), f.Open()})
	}
	for i, c := range a.Causes {
		if i == shown.MostBehind || c.P < shown.LeastBehind {
			break
		}
		x := PlanCause{Name: c.Name, Title: wording.Title(c.Title, c.Name), Probability: answer.Num(c.P), Prior: answer.Num(c.Prior), SettledBy: []string{}, Step: wording.Step(c.Step), Advice: c.Advice}
		for _, check := range c.SettledBy {
			x.SettledBy = append(x.SettledBy, wording.Title(check.Title, check.Name))
		}
		out.Causes = append(out.Causes, x)
	}
	for i, l := range a.Look {
		if i == shown.MostBehind {
			break
		}
		out.Also = append(out.Also, PlanRelated{l.Component.Name, wording.Title(l.Component.Title, l.Component.Name), wording.Related(l), answer.Num(l.P), wording.Step(l.Step), l.Done})
	}
	for _, s := range a.Second {
		out.Second = append(out.Second, PlanSecond{w.view(s.View), wording.Step(s.Step), s.Done})
	}
	return out
}
