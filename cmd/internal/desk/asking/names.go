package asking

import (
	"context"
	"sort"
	"strings"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/fault"
	"slipcase/cmd/internal/wording"
)

// Named is something that can be said of a unit, with what it means.
type Named struct {
	Name  string `json:"name"`
	Title string `json:"title"`
	More  string `json:"more"` // limit: what is good; part: its ways to fail; else ""
}

// Names are all things of a kind that can be said of a unit.
type Names struct {
	Unit  string  `json:"unit"`
	Kind  string  `json:"kind"`
	Names []Named `json:"names"`
}

// NameKinds are the kinds of things that can be said, in the order of a job.
var NameKinds = []string{"findings", "codes", "limits", "steps", "parts", "causes"}

// Names lists what can be said of a unit, or of the unit of the case that is
// worked on where none is named. Fails with WrongUse for a kind that is not
// there, with NotFound for a unit or case that is not there.
func (d *Asker) Names(ctx context.Context, kind, unit string) (answer.Answer[Names], error) {
	if err := fault.OneOf(kind, NameKinds, wording.NoListOf); err != nil {
		return answer.Answer[Names]{}, err
	}
	w, err := d.ofUnit(ctx, unit)
	if err != nil {
		return answer.Answer[Names]{}, err
	}
	list := w.named(kind)
	sort.SliceStable(list, func(i, j int) bool { return kind != "steps" && list[i].Name < list[j].Name })
	return answer.Answer[Names]{Rules: w.Knowledge.Hash, Data: Names{w.Model.Unit.ID, kind, list}}, nil
}

// ofUnit is the work on a unit without a case, or on the case at hand for "".
func (d *Asker) ofUnit(ctx context.Context, unit string) (*Work, error) {
	if unit == "" {
		return d.Open(ctx, CaseRef{})
	}
	x, u, err := d.load.Unit(ctx, unit)
	if err != nil {
		return nil, err
	}
	m, err := x.Model(u.ID)
	if err != nil {
		return nil, err
	}
	return &Work{Knowledge: x.Knowledge, Model: m}, nil
}

// named lists one kind.
func (w *Work) named(kind string) []Named {
	out := []Named{}
	switch kind {
	case "findings", "codes":
		for _, name := range w.Model.FindingNames() {
			short, code := strings.CutPrefix(name, "code_")
			if i, ok := w.Model.Lookup(name); ok && code == (kind == "codes") {
				out = append(out, Named{Name: short, Title: wording.Node(&w.Model.Nodes[i])})
			}
		}
	case "limits":
		titles := map[string]string{}
		for _, l := range w.Model.Unit.Limits {
			titles[l.Name] = l.Title
		}
		for _, name := range w.ReadingNames() {
			r, place, _ := strings.Cut(name, "@")
			if b, ok := w.Model.Unit.Bounds(r, place); ok {
				out = append(out, Named{name, wording.Title(titles[name], r), wording.Limits(b, "")})
			}
		}
	case "steps":
		for _, s := range w.Model.Unit.Steps {
			out = append(out, Named{Name: s.Name, Title: wording.Title(s.Title, s.Name)})
		}
	case "parts":
		for _, c := range w.Model.Unit.Components {
			var modes []string
			for _, n := range w.Model.ModesOf(c.Name) {
				modes = append(modes, w.Model.Nodes[n].Mode.Name)
			}
			if len(modes) > 0 {
				out = append(out, Named{c.Name, wording.Title(c.Title, c.Name), strings.Join(modes, " ")})
			}
		}
	case "causes":
		for _, c := range w.Knowledge.Causes {
			out = append(out, Named{Name: c.Name, Title: wording.Title(c.Title, c.Name)})
		}
	}
	return out
}
