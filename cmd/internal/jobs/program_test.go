package jobs

import (
	"context"
	"maps"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"slipcase/cmd/internal/desk"
	"slipcase/cmd/internal/desk/asking"
	"slipcase/cmd/internal/desk/casework"
	"slipcase/cmd/internal/desk/opened"
	"slipcase/cmd/internal/desk/talk"
	"slipcase/cmd/internal/notation"
	"slipcase/engine"
)

// program is the one place that knows how the program is spoken to: its use
// cases, in the order in which a shop calls them.
type program struct {
	ctx context.Context
	d   *desk.Desk
	id  string
	iv  *talk.Interview
}

// suspect is a line of the ranking.
type suspect struct {
	component, mode string // the likeliest way of failing
	p               float64
}

// question is a question to the driver: the findings that it covers.
type question struct {
	name     string
	findings []string
	put      *talk.Question
}

// meaning is an offered meaning of the complaint: one finding, or the places
// to choose from.
type meaning struct {
	findings []string
	state    engine.State
}

// look is a check that the program orders.
type look struct {
	name, stage, by string
	findings        []string
}

// step is a teardown step that the program orders.
type step struct {
	name  string
	parts []string
}

// shop is a desk with an empty casebook. The jobs of a test share one, which
// reads the rules of each unit once.
func shop(t *testing.T) *desk.Desk {
	t.Helper()
	home := t.TempDir()
	return desk.New(desk.Options{Home: home, Book: filepath.Join(home, "book.db")})
}

// open starts a job with the driver's words and the unit, and nothing else.
func open(t *testing.T, d *desk.Desk, unit, words string) *program {
	t.Helper()
	p := &program{ctx: t.Context(), d: d}
	a, err := p.d.OpenCase(p.ctx, casework.OpenInput{Unit: unit, Title: "came in", Words: words})
	if err != nil {
		t.Fatal(err)
	}
	p.id = a.Data.ID
	return p
}

// meanings begins the interview with the driver's words.
func (p *program) meanings(words string) (out []meaning, err error) {
	if p.iv, err = p.d.Interview(p.ctx, asking.CaseRef{In: p.id}, ""); err != nil {
		return nil, err
	}
	for _, o := range p.iv.Complaint(words) {
		m := meaning{state: o.State}
		if o.Finding != "" {
			m.findings = []string{o.Finding}
		}
		for _, x := range o.Places {
			m.findings = append(m.findings, x.Finding)
		}
		out = append(out, m)
	}
	return out, nil
}

// confirm takes over what was meant.
func (p *program) confirm(words string, said map[string]engine.State) error {
	present, absent, _ := split(said)
	return p.iv.Confirm(words, present, absent)
}

// ask is the next question, nil when the program has none worth its minute.
func (p *program) ask() (*question, error) {
	q, _, err := p.iv.Next()
	if q == nil || err != nil {
		return nil, err
	}
	out := &question{name: q.Check, put: q}
	for _, o := range q.Options {
		out.findings = append(out.findings, o.Finding)
	}
	return out, nil
}

// answer answers the question that stands open, as says tells of each finding.
func (p *program) answer(q *question, says func(finding string) engine.State) error {
	said := map[string]engine.State{}
	for _, f := range q.findings {
		said[f] = says(f)
	}
	present, absent, unknown := split(said)
	switch {
	case q.put.Several:
		return p.iv.Choose(p.wrong(q.put, says)...)
	case len(q.put.Choices) > 0:
		return p.iv.Choose(fits(q.put, says)...)
	case q.put.Counts != "":
		switch {
		case len(unknown) > 0 || len(present) > 0 && len(absent) > 0:
			return p.iv.Skip()
		case q.put.Counts == "shifts" && len(present) > 0:
			return p.iv.Count("shifts", "none")
		case len(present) > 0:
			return p.iv.Count(q.put.Counts, "180,000")
		case q.put.Counts == "shifts":
			return p.iv.Count("shifts", "9")
		}
		return p.iv.Count(q.put.Counts, "1")
	case len(present)+len(absent) == 0:
		return p.iv.DontKnow()
	}
	return p.iv.Answer(talk.Said{Present: present, Absent: absent, Unknown: unknown})
}

// fits is the choice that says what the driver says; none where he cannot tell.
func fits(q *talk.Question, says func(string) engine.State) []string {
	for _, c := range q.Choices {
		ok := len(c.Present) > 0
		for _, f := range c.Present {
			ok = ok && says(f) == engine.Present
		}
		for _, f := range c.Absent {
			ok = ok && says(f) == engine.Absent
		}
		if ok {
			return []string{c.Name}
		}
	}
	return nil
}

// what are the findings that a driver has in mind when he names what is wrong.
var what = map[string][]string{
	"no_drive": {"no_drive"}, "slips": {"slips"}, "engages": {"late_engagement", "harsh_engagement"},
	"shifts": {"no_shift", "limp_mode"}, "feel": {"harsh_shift", "soft_shift", "flare", "late_shift", "early_shift"},
	"binds": {"bind_shift", "ties_up", "creeps"}, "shakes": {"shudder", "engine_stalls_at_stop"},
	"weak":  {"weak_launch", "poor_top_speed"},
	"noise": {"whine", "whine_in_neutral", "noise_with_road_speed", "grinding", "rattle_at_idle"},
	"leak":  {"history_oil_spots", "runs_hot"}, "light": {"light_on"},
}

// wrong lists the choices of what is wrong that the driver would take.
func (p *program) wrong(q *talk.Question, says func(string) engine.State) (out []string) {
	for _, c := range q.Choices {
		hit := false
		for _, f := range p.findings() {
			hit = hit || slices.Contains(what[c.Name], engine.ParseFindingName(f).Name) && says(f) == engine.Present
		}
		if hit {
			out = append(out, c.Name)
		}
	}
	return out
}

// leave ends the interview.
func (p *program) leave() error {
	defer p.iv.Close()
	return p.iv.Leave()
}

// suspects is the ranking as it stands, with its first sentence.
func (p *program) suspects() ([]suspect, string, error) {
	a, err := p.d.Suspects(p.ctx, asking.CaseRef{In: p.id}, 8)
	if err != nil {
		return nil, "", err
	}
	s := a.Data
	var out []suspect
	for _, x := range s.Suspects {
		one := suspect{component: x.Component, p: float64(x.Probability)}
		if len(x.Modes) > 0 {
			one.mode = x.Modes[0].Mode
		}
		out = append(out, one)
	}
	return out, s.Sentence, nil
}

// next is the check to do now, nil when none is worth its minutes.
func (p *program) next() (*look, error) {
	a, err := p.d.Next(p.ctx, asking.CaseRef{In: p.id}, 1, nil)
	if err != nil {
		return nil, err
	}
	if a.Data.Now.Kind == "repaired" {
		return nil, nil
	}
	for _, c := range a.Data.Checks {
		if !c.Worth {
			continue
		}
		out := &look{name: c.Check, stage: c.Stage}
		for _, f := range c.Findings {
			out.findings = append(out.findings, f.Finding)
			out.by = f.By
		}
		return out, nil
	}
	return nil, nil
}

// note gives the program what a look showed.
func (p *program) note(by string, said map[string]engine.State) error {
	var words []string
	for f, s := range said {
		words = append(words, strings.TrimPrefix(f, "code_")+"="+string(s))
	}
	slices.Sort(words)
	_, err := p.d.Note(p.ctx, opened.Ref{In: p.id}, casework.NoteInput{Items: notation.Notes(words, func(string) bool { return false }), By: by})
	return err
}

// step is the first teardown step of the plan, nil when none is left.
func (p *program) step() (*step, error) {
	a, err := p.d.Plan(p.ctx, asking.CaseRef{In: p.id}, asking.PlanInput{Full: true})
	if err != nil {
		return nil, err
	}
	plan := a.Data
	if len(plan.Steps) == 0 || plan.Now.Kind == "verify" || plan.Now.Kind == "repaired" {
		return nil, nil
	}
	out := &step{name: plan.Steps[0].Step}
	for _, v := range plan.Steps[0].Parts {
		out.parts = append(out.parts, v.Component)
	}
	return out, nil
}

// did ticks off a step whose parts were all good.
func (p *program) did(s *step) error {
	if _, err := p.d.Done(p.ctx, opened.Ref{In: p.id}, casework.DoneInput{Steps: []string{s.name}}); err != nil {
		return err
	}
	if len(s.parts) == 0 {
		return nil
	}
	_, err := p.d.Clear(p.ctx, opened.Ref{In: p.id}, s.parts, "")
	return err
}

// clash tells whether err says that what was told contradicts itself.
func clash(err error) bool { return talk.Clash(err) }

// split sorts findings by what was said of them.
func split(said map[string]engine.State) (present, absent, unknown []string) {
	for _, f := range slices.Sorted(maps.Keys(said)) {
		switch said[f] {
		case engine.Present:
			present = append(present, f)
		case engine.Absent:
			absent = append(absent, f)
		default:
			unknown = append(unknown, f)
		}
	}
	return present, absent, unknown
}

// findings are all that can be reported of the unit.
func (p *program) findings() (out []string) {
	for _, w := range p.d.FindingWords(p.ctx, asking.CaseRef{In: p.id}) {
		out = append(out, w.Name)
	}
	return out
}
