package asking

import (
	"context"
	"errors"
	"slices"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/load"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
	"slipcase/engine/model"
	"slipcase/engine/teardown"
	"slipcase/rules"
	"slipcase/rules/diag"
)

// Work is an opened case with its model.
type Work struct {
	Knowledge *engine.Knowledge
	Model     *model.Model
	Case      *engine.CaseFile
	Status    engine.CaseStatus // "" where the case is not from the casebook
	Unheard   string            // a complaint that is only written down, nothing being noted when the case was read; "" for none
	Diags     []engine.Diagnostic
	Warn      []answer.Message // about the case: always told
}

// Open reads a case, loads its unit and the rules, and makes the model. Fails
// with NotFound for a demo or case that is not there, with Unavailable for a file
// that cannot be read, with Rules for errors in it or in the rules.
func (d *Asker) Open(ctx context.Context, ref CaseRef) (*Work, error) {
	if ref.InBook() {
		return d.booked(ctx, ref.In)
	}
	c, diags, err := d.readCase(ref)
	if err != nil {
		return nil, err
	}
	x, err := d.loadFor(ctx, c)
	if err != nil {
		return nil, err
	}
	diags = slices.Concat(diags, x.Diagnostics, rules.ResolveCase(x.Knowledge, c))
	if diag.HasErrors(diags) {
		return nil, &answer.Failure{Code: answer.Rules, Rules: x.Knowledge.Hash, Messages: answer.Messages(diags)}
	}
	m, err := x.Model(c.Unit)
	if err != nil {
		return nil, err
	}
	d.log.Debug("the model is built", "unit", c.Unit, "nodes", len(m.Nodes), "suspects", len(m.Modes()))
	w := &Work{Knowledge: x.Knowledge, Model: m.WithContext(ctx), Case: c, Diags: diags}
	if _, said := m.Evidence(c); !model.Refused(said) {
		c.Reports = m.Spell(c.Reports)
	}
	w.Reach()
	return w, nil
}

// loadFor loads the unit of a case; a unit that is not known is an error of
// the case file, at its place.
func (d *Asker) loadFor(ctx context.Context, c *engine.CaseFile) (*load.Loaded, error) {
	x, err := d.load.Load(ctx, c.Unit)
	if f := (*answer.Failure)(nil); errors.As(err, &f) && f.Code == answer.NotFound {
		f.Code = answer.Rules
		f.Messages[0].Subject = c.UnitAt
	}
	return x, err
}

// readCase reads a case file or a demo.
func (d *Asker) readCase(ref CaseRef) (*engine.CaseFile, []engine.Diagnostic, error) {
	name := ref.File
	var src []byte
	var err error
	if ref.Demo != "" {
		name, src, err = load.Demo(ref.Demo)
	} else {
		src, err = d.load.File(ref.File)
	}
	if err != nil {
		return nil, nil, err
	}
	c, diags := rules.LoadCase(name, src)
	if diag.HasErrors(diags) || c == nil {
		return nil, nil, &answer.Failure{Code: answer.Rules, Messages: answer.Messages(diags)}
	}
	return c, diags, nil
}

// Demo is a built-in case to try things on.
type Demo struct {
	Name  string `json:"name"`
	Title string `json:"title"`
	Unit  string `json:"unit"`
}

// Demos lists the built-in cases. Fails with Rules.
func (d *Asker) Demos(ctx context.Context) (answer.Answer[[]Demo], error) {
	list := []Demo{}
	var diags []engine.Diagnostic
	for _, name := range load.Demos() {
		c, found, err := d.readCase(CaseRef{Demo: name})
		if err != nil {
			return answer.Answer[[]Demo]{}, err
		}
		diags = append(diags, found...)
		list = append(list, Demo{name, c.Title, c.Unit})
	}
	return answer.Answer[[]Demo]{Data: list, Diagnostics: answer.Messages(diags)}, nil
}

// Refused is a failure of several messages, all the asker's.
func (w *Work) Refused(list []answer.Message) *answer.Failure {
	return &answer.Failure{Code: answer.WrongUse, Rules: w.Knowledge.Hash, Messages: list}
}

// Reach counts as done what must have been done for a part that was found failed
// to be in the hand: whoever holds a clutch plate has the unit out, ticked or
// not.
func (w *Work) Reach() {
	if more := teardown.Implied(w.Model.Unit, w.Case); len(more) > 0 {
		c := *w.Case
		c.Done = slices.Concat(c.Done, more)
		w.Case = &c
	}
}

// Amiss lists what the rules do not know of a case, or find wrong with it: its
// names first, which become those of today, then what it says of the unit.
func Amiss(k *engine.Knowledge, m *model.Model, c *engine.CaseFile) []engine.Diagnostic {
	said := rules.ResolveCase(k, c)
	_, more := m.Evidence(c)
	return append(said, wording.Problems(more)...)
}

// LeaveOut drops what today's rules do not know, one warning for each.
func (w *Work) LeaveOut() []answer.Message {
	var out []answer.Message
	known := func(seq int64, one engine.CaseFile) bool {
		one.Unit = w.Case.Unit
		for _, d := range Amiss(w.Knowledge, w.Model, &one) {
			if d.Severity == engine.Error {
				d.Severity = engine.Warning
				d.Summary = wording.EntryLeftOut(seq, d.Summary)
				d.Subject, d.Context = engine.Range{}, engine.Range{}
				out = append(out, answer.Message{Diagnostic: d})
				return false
			}
		}
		return true
	}
	c := *w.Case
	c.Reports = keep(c.Reports, func(x engine.Report) bool { return known(x.Seq, engine.CaseFile{Reports: []engine.Report{x}}) })
	c.Readings = keep(c.Readings, func(x engine.Reading) bool { return known(x.Seq, engine.CaseFile{Readings: []engine.Reading{x}}) })
	c.Seen = keep(c.Seen, func(x engine.Seen) bool { return known(x.Seq, engine.CaseFile{Seen: []engine.Seen{x}}) })
	c.Settled = keep(c.Settled, func(x engine.SettledCause) bool {
		return known(x.Seq, engine.CaseFile{Settled: []engine.SettledCause{x}})
	})
	c.Done = keep(c.Done, func(x string) bool { return w.Model.Step(x) != nil })
	w.Case = &c
	return out
}

// keep is a new list of what passes.
func keep[T any](list []T, passes func(T) bool) []T {
	var out []T
	for _, x := range list {
		if passes(x) {
			out = append(out, x)
		}
	}
	return out
}
