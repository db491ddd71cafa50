package library

import (
	"context"
	"io"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/outfile"
	"slipcase/cmd/internal/drawing"
	"slipcase/cmd/internal/fault"
	"slipcase/cmd/internal/wording"
	"slipcase/engine/geartrain"
)

// Drawn is a picture that was written.
type Drawn struct {
	Unit  string   `json:"unit"`
	Title string   `json:"title"`
	Row   string   `json:"row"` // "" for the speeds of all rows
	Fault []string `json:"faults"`
	File  string   `json:"file"`
	Bytes int64    `json:"bytes"`
}

// Draw makes a picture of a unit under faults: the power flow of a row; or the
// speeds of all rows, with one of them marked, or for "" without. Fails as Chart does, and with NotFound for a row
// that the unit does not have.
func (d *Library) Draw(ctx context.Context, unit, row string, speeds bool, flags FaultFlags) (svg []byte, title string, err error) {
	x, u, err := d.load.Unit(ctx, unit)
	if err != nil {
		return nil, "", err
	}
	m, err := geartrain.New(u)
	if err != nil {
		return nil, "", machineFailure(x.Knowledge.Hash, u, err)
	}
	faults, err := flags.faults(u, m)
	if err != nil {
		return nil, "", err
	}
	if row != "" && m.RowIndex(row) < 0 {
		var names []string
		for i := range m.Rows() {
			names = append(names, m.RowName(i))
		}
		return nil, "", fault.Fail(answer.NotFound, wording.NoRow(u.ID, row, names))
	}
	sketch := drawing.New(u, m)
	draw := sketch.PowerFlow
	if speeds || row == "" {
		draw = sketch.Nomogram
	}
	text, err := draw(row, faults...)
	if err != nil {
		return nil, "", answer.Fail(answer.Internal, err.Error(), "")
	}
	return []byte(text), u.Title, nil
}

// DrawFile writes the picture to a file. Fails with Conflict for one that is there
// and is not to be replaced, Unavailable where it cannot be written, else as Draw does.
func (d *Library) DrawFile(ctx context.Context, unit, row string, speeds bool, flags FaultFlags, name string, replace bool) (answer.Answer[Drawn], error) {
	svg, title, err := d.Draw(ctx, unit, row, speeds, flags)
	if err != nil {
		return answer.Answer[Drawn]{}, err
	}
	count, err := outfile.Write(name, replace, func(w io.Writer) error {
		_, err := w.Write(svg)
		return err
	})
	if err != nil {
		return answer.Answer[Drawn]{}, err
	}
	faults := []string{}
	for name, list := range flags.options() {
		faults = append(faults, name+" "+list)
	}
	return answer.Answer[Drawn]{Data: Drawn{Unit: unit, Title: title, Row: row, Fault: faults, File: name, Bytes: count.Bytes}}, nil
}
