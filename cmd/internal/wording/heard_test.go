package wording

import (
	"testing"

	"slipcase/engine"
	"slipcase/engine/diagnose"
	"slipcase/engine/model"
)

func TestTogether(t *testing.T) {
	piece := func(label, title string) model.Piece {
		return model.Piece{Label: label, About: &model.Node{Title: title}}
	}
	for _, c := range []struct {
		pieces []model.Piece
		want   string
	}{
		{[]model.Piece{piece("slips@D/4:hot", "slips in D/4, hot"), piece("slips@D/4", "slips in D/4")}, "slips in D/4"},
		{[]model.Piece{piece("slips@D/1", "slips in D/1"), piece("slips@R/R", "slips in R/R"), piece("slips@D/1", "slips in D/1")}, "slips in D/1, R/R"},
		{[]model.Piece{piece("fluid_low", "fluid level low")}, "fluid level low"},
		{[]model.Piece{piece("line_low@idle/D", "line pressure low at idle/D (72 psi)"), piece("line_low@idle/R", "line pressure low at idle/R (104 psi)")},
			"line pressure low at idle/D (72 psi); line pressure low at idle/R (104 psi)"},
	} {
		if got := Together(c.pieces); got != c.want {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
	if got := Reporters([]model.Piece{{By: "driver"}, {By: "road_test"}, {By: "driver"}}); got != "driver, road test" {
		t.Errorf("said by %q", got)
	}
}

func TestWithout(t *testing.T) {
	r := &diagnose.Result{Suspects: []diagnose.Suspect{{Component: &engine.Component{Title: "servo"}}, {Component: &engine.Component{Title: "band"}}, {Component: &engine.Component{Title: "pump"}}}}
	group := func(title string, state engine.State, leads int, p float64) diagnose.Heard {
		return diagnose.Heard{Pieces: []model.Piece{{Label: "x", About: &model.Node{Title: title}, State: state}}, Leads: leads, LeadsP: p}
	}
	heard := []diagnose.Heard{
		group("slips", engine.Present, 0, 0.9), group("brakes", engine.Absent, 1, 0.4), group("whines", engine.Present, 1, 0.52), group("leaks", engine.Present, 2, 0.3),
	}
	for place, want := range []string{"Without whines it would be band, at 52%.", "Without whines this would lead, at 52%.", "Without leaks this would lead, at 30%."} {
		if got := Without(r, heard, place); got != want {
			t.Errorf("place %d: got %q, want %q", place, got, want)
		}
	}
	if got := Without(r, heard[:1], 0); got != "" {
		t.Errorf("nothing changes the leader, and yet: %q", got)
	}
	if got := Without(r, heard[1:2], 0); got != `Without "absent: brakes" it would be band, at 40%.` {
		t.Errorf("got %q", got)
	}
}
