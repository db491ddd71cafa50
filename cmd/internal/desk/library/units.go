package library

import (
	"context"
	"sort"

	"slipcase/cmd/internal/answer"
	"slipcase/engine"
)

// Unit is one line of the list of units.
type Unit struct {
	ID         string   `json:"id"`
	Title      string   `json:"title"`
	Drive      string   `json:"drive"`
	Controls   string   `json:"controls"`
	Gears      []string `json:"gears"` // forward gears and R, in the chart's order
	Elements   int      `json:"elements"`
	Components int      `json:"components"`
	Steps      int      `json:"steps"`
	Made       Made     `json:"made"`
	Layer      string   `json:"file"` // where it is written
}

// Units lists the units that are known. Fails with Rules.
func (d *Library) Units(ctx context.Context) (answer.Answer[[]Unit], error) {
	x, err := d.load.Load(ctx, "")
	if err != nil {
		return answer.Answer[[]Unit]{}, err
	}
	list := []Unit{}
	for _, u := range x.Knowledge.Units {
		list = append(list, Unit{
			ID: u.ID, Title: u.Title, Drive: u.Drive, Controls: u.Controls, Gears: gears(u),
			Elements: len(u.Elements), Components: len(u.Components), Steps: len(u.Steps), Made: MadeOf(u), Layer: u.At.File,
		})
	}
	sort.Slice(list, func(i, j int) bool { return list[i].ID < list[j].ID })
	return answer.Answer[[]Unit]{Rules: x.Knowledge.Hash, Data: list, Diagnostics: answer.Messages(x.Diagnostics)}, nil
}

// gears are the labels of the rows that drive, each once.
func gears(u *engine.Unit) []string {
	out := []string{}
	seen := map[string]bool{}
	for _, r := range u.Rows {
		if r.Gear == "N" || r.Gear == "P" || seen[r.Gear] {
			continue
		}
		seen[r.Gear] = true
		out = append(out, r.Gear)
	}
	return out
}
