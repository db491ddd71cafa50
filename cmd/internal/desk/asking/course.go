package asking

import (
	"errors"
	"slices"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/shown"
	"slipcase/cmd/internal/fault"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
	"slipcase/engine/advise"
	"slipcase/engine/diagnose"
	"slipcase/engine/model"
	"slipcase/engine/network"
	"slipcase/engine/teardown"
)

// Move is the one thing to do now: the same for whoever asks what is next or for
// the plan.
type Move struct {
	Kind    string     `json:"kind"` // "check", "step", "repair" (of what was found), "verify" (the complaint: no known fault is likely), "repaired" (the complaint is gone after a trial repair: close the case) or "none"
	Name    string     `json:"name"` // of the check or step
	Title   string     `json:"title"`
	Minutes answer.Num `json:"minutes"`
}

// PlanCheck is a check that comes before the steps.
type PlanCheck struct {
	Check   string     `json:"check"`
	Title   string     `json:"title"`
	Stage   string     `json:"stage"`
	Asks    string     `json:"asks"` // the question to the driver, "" when it is none
	Minutes answer.Num `json:"minutes"`
	Saves   answer.Num `json:"saves"` // minutes, at least
}

// course is what is decided for a case: the steps left in their order, and the
// checks, priced against them.
type course struct {
	read   *diagnose.Result
	plan   *teardown.Plan
	advice *advise.Advice // nil where the case is too much to price
}

// course works out both. Bad names and reports that contradict each other are
// failures; so is a case that is too much to price, unless anyway.
func (w *Work) course(opt advise.Options, anyway bool) (*course, error) {
	r, diags, err := diagnose.Read(w.Model, w.Case)
	var clash *model.ClashError
	switch {
	case errors.As(err, &clash):
		return nil, w.clash(clash)
	case err == nil && r == nil:
		return nil, &answer.Failure{Code: answer.Rules, Rules: w.Knowledge.Hash, Messages: answer.Messages(wording.Problems(diags))}
	}
	c := &course{read: r}
	if err == nil {
		w.Diags = slices.Concat(w.Diags, wording.Problems(diags))
		c.plan, err = teardown.Make(w.Model, w.Case, r)
	}
	if err != nil {
		return nil, fault.Under(w.Knowledge, err)
	}
	opt.Read, opt.Course = r, []string{}
	for i := range c.plan.Steps {
		opt.Course = append(opt.Course, c.plan.Steps[i].Step.Name)
	}
	c.advice, err = advise.Price(w.Model, w.Case, opt)
	if err != nil && !(anyway && errors.Is(err, network.ErrWide)) {
		return nil, w.PriceFailure(err)
	}
	return c, nil
}

// move is what comes first.
func (c *course) move() Move {
	if x := c.plan.Pull.Mended; x != nil {
		return Move{Kind: "repaired", Name: x.Name, Title: wording.Title(x.Title, x.Name)}
	}
	if x := wording.FirstCheck(c.advice); x != nil {
		return Move{"check", x.Check.Name, wording.Title(x.Check.Title, x.Check.Name), answer.Num(x.Minutes)}
	}
	return c.step()
}

// step is what comes first where no check does.
func (c *course) step() Move {
	switch {
	case c.plan.Pull.Enough:
		f := c.plan.Pull.Found[0].Component
		return Move{"repair", f.Name, wording.Title(f.Title, f.Name), answer.Num(c.plan.Pull.Repair)}
	case c.plan.Pull.Unlikely:
		return Move{Kind: "verify"}
	case len(c.plan.Steps) > 0:
		s := &c.plan.Steps[0]
		return Move{"step", s.Step.Name, wording.Title(s.Step.Title, s.Step.Name), answer.Num(s.Minutes)}
	}
	return Move{Kind: "none"}
}

// first lists the checks that come before the steps, best first.
func (c *course) first() []PlanCheck {
	out := []PlanCheck{}
	if c.advice == nil || c.plan.Pull.Mended != nil {
		return out
	}
	for i := range c.advice.Checks {
		x := &c.advice.Checks[i]
		if x.Worth && len(out) < shown.FirstChecks {
			out = append(out, PlanCheck{x.Check.Name, wording.Title(x.Check.Title, x.Check.Name), wording.Stage(x.Check.Stage), x.Check.Asks, answer.Num(x.Minutes), answer.Num(x.Saves)})
		}
	}
	return out
}

// Question tells a question to the driver from what the shop does itself.
func (p PlanCheck) Question() bool { return p.Stage == wording.Stage(engine.StageInterview) }
