package desk

import (
	"context"
	"errors"
	"slices"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/load"
	"slipcase/engine"
	"slipcase/engine/model"
	"slipcase/rules"
	"slipcase/rules/diag"
)

// work is an opened case with its model.
type work struct {
	k      *engine.Knowledge
	m      *model.Model
	c      *engine.CaseFile
	status engine.CaseStatus // "" where the case is not from the casebook
	diags  []engine.Diagnostic
	warn   []answer.Message // about the case: always told
}

// open reads a case, loads its unit and the rules, and makes the model.
func (d *Desk) open(ctx context.Context, ref CaseRef) (*work, error) {
	if ref.inBook() {
		return d.openBooked(ctx, ref.In)
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
	w := &work{k: x.Knowledge, m: m.WithContext(ctx), c: c, diags: diags}
	if _, said := m.Evidence(c); !model.Refused(said) {
		c.Reports = m.Spell(c.Reports)
	}
	w.reach()
	return w, nil
}

// loadFor loads the unit of a case; a unit that is not known is an error of
// the case file, at its place.
func (d *Desk) loadFor(ctx context.Context, c *engine.CaseFile) (*load.Loaded, error) {
	x, err := d.load.Load(ctx, c.Unit)
	if f := (*answer.Failure)(nil); errors.As(err, &f) && f.Code == answer.NotFound {
		f.Code = answer.Rules
		f.Messages[0].Subject = c.UnitAt
	}
	return x, err
}

// readCase reads a case file or a demo.
func (d *Desk) readCase(ref CaseRef) (*engine.CaseFile, []engine.Diagnostic, error) {
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
func (d *Desk) Demos(ctx context.Context) (answer.Answer[[]Demo], error) {
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

// refused is a failure of several messages, all the asker's.
func (w *work) refused(list []answer.Message) *answer.Failure {
	return &answer.Failure{Code: answer.WrongUse, Rules: w.k.Hash, Messages: list}
}
