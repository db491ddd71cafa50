package asking

import (
	"context"
	"sort"

	"slipcase/cmd/internal/desk/library"
	"slipcase/cmd/internal/wording"
	"slipcase/rules"
)

// Word is something that can stand in a command line, with what it means.
type Word struct{ Name, Title string }

// The lists below are for completion: what cannot be loaded gives none.

// UnitWords lists the units.
func (d *Asker) UnitWords(ctx context.Context) []Word {
	layers, err := d.load.Layers()
	if err != nil {
		return nil
	}
	var out []Word
	for _, id := range rules.Units(layers) {
		out = append(out, Word{Name: id})
	}
	return out
}

// DemoWords lists the demo cases.
func (d *Asker) DemoWords(ctx context.Context) []Word {
	ans, err := d.Demos(ctx)
	if err != nil {
		return nil
	}
	var out []Word
	for _, x := range ans.Data {
		out = append(out, Word{x.Name, x.Title})
	}
	return out
}

// LinkWords lists the elements or joints of a unit that a fault flag of the
// chart takes: dead, on, seized, reversed or broken.
func (d *Asker) LinkWords(ctx context.Context, unit, flag string) []Word {
	_, u, err := d.load.Unit(ctx, unit)
	if err != nil {
		return nil
	}
	elements, oneWays, joints := library.ElementNames(u)
	names := map[string][]string{"dead": append(elements, oneWays...), "on": elements, "seized": oneWays, "reversed": oneWays, "broken": joints}[flag]
	var out []Word
	for _, n := range names {
		out = append(out, Word{n, wording.LinkTitle(u, n)})
	}
	return out
}

// SuspectWords lists the components of a case's unit, or component/mode.
func (d *Asker) SuspectWords(ctx context.Context, ref CaseRef, modes bool) []Word {
	w, err := d.Open(ctx, ref)
	if err != nil {
		return nil
	}
	var out []Word
	for _, c := range w.Model.Unit.Components {
		nodes := w.Model.ModesOf(c.Name)
		if !modes && len(nodes) > 0 {
			out = append(out, Word{c.Name, wording.Title(c.Title, c.Name)})
		}
		for _, n := range nodes {
			if modes {
				out = append(out, Word{w.Model.Nodes[n].Name, wording.Node(&w.Model.Nodes[n])})
			}
		}
	}
	return out
}

// FindingWords lists what can be reported about a unit.
func (d *Asker) FindingWords(ctx context.Context, ref CaseRef) []Word {
	w, err := d.Open(ctx, ref)
	if err != nil {
		return nil
	}
	var out []Word
	for _, name := range w.Model.FindingNames() {
		if i, ok := w.Model.Lookup(name); ok {
			out = append(out, Word{name, wording.Node(&w.Model.Nodes[i])})
		}
	}
	sort.Slice(out, func(i, j int) bool { return out[i].Name < out[j].Name })
	return out
}
