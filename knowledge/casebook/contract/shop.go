package contract

import (
	"testing"
	"time"

	"slipcase/engine"
	"slipcase/engine/quantity"
)

// Steady is a clock that always shows the same invented moment.
func Steady() time.Time { return time.Date(2026, 3, 2, 8, 15, 0, 0, time.FixedZone("", 3600)) }

// OpenCase opens a case, of unit northfork-4 where none is named.
func OpenCase(t testing.TB, b engine.Casebook, o engine.Opening) string {
	t.Helper()
	if o.Unit == "" {
		o.Unit = "northfork-4"
	}
	id, err := b.OpenCase(bg, o)
	if err != nil {
		t.Fatal(err)
	}
	return id
}

// Append adds entries by "bench 1" to a case.
func Append(t testing.TB, b engine.Casebook, id string, bodies ...engine.Body) []int64 {
	t.Helper()
	var entries []engine.Entry
	for _, body := range bodies {
		entries = append(entries, engine.Entry{By: "bench 1", Body: body})
	}
	seqs, err := b.Append(bg, id, entries...)
	if err != nil {
		t.Fatal(err)
	}
	return seqs
}

// Get reads a case.
func Get(t testing.TB, b engine.Casebook, id string) engine.CaseRecord {
	t.Helper()
	rec, err := b.Get(bg, id)
	if err != nil {
		t.Fatal(err)
	}
	return rec
}

// IDs are the ids of a list, in its order.
func IDs(l engine.CaseList) []string {
	ids := []string{}
	for _, c := range l.Cases {
		ids = append(ids, c.ID)
	}
	return ids
}

// Kilopascal is a pressure of base kPa, as text in unit.
func Kilopascal(base float64, text, unit string) quantity.Quantity {
	return quantity.Quantity{Base: base, Dim: quantity.Pressure, Unit: unit, Text: text}
}

// EveryBody is one invented entry of every kind that refers to no other case,
// with every field set.
func EveryBody() []engine.Body {
	at := Steady().Add(time.Hour + 123456789)
	return []engine.Body{
		engine.Report{Finding: "slips@D/3:hot", State: engine.Present, By: "driver", Note: "only <after> the \"hill\" & \u2028 é", At: at},
		engine.Reading{Name: "line_pressure", Place: "idle/R", Value: Kilopascal(427.47495, "62 psi", "psi"), By: "gauge", At: at},
		engine.Seen{Component: "direct_frictions", Mode: "burnt_friction", Cause: "low_fluid", Note: "black", Photo: "pictures/0042 a.jpg"},
		engine.Seen{Component: "pump", Cleared: true},
		engine.SettledCause{Cause: "low_fluid", Present: true},
		engine.StepDone{Step: "oil_pump", Note: "came out stiff", Readings: []engine.Reading{
			{Name: "input_end_play", Value: quantity.Quantity{Base: 0.1 + 0.2, Dim: quantity.Length, Unit: "mm", Text: "0.3 mm"}}, {Name: "pump_clearance", Value: quantity.Quantity{Base: 1e-7, Dim: quantity.Length, Unit: "mm", Text: "0.0000001 mm"}}}},
		engine.Note{Text: "waits for parts\nsince Monday"},
		engine.InterviewMark{Question: "ask_engagement", Skipped: true},
		engine.InterviewMark{Question: "ask_noise"},
		engine.Retraction{Of: 4, Reason: "looked again"},
		engine.Closing{Outcome: engine.CaseFixed, Drive: []engine.DriveResult{{Place: "D/3", OK: true}, {Place: "D/2-3", Note: "a little firm"}}, Note: "done"},
		engine.Reopening{Reason: "customer called"},
	}
}
