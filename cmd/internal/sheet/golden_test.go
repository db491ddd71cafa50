package sheet_test

import (
	"bytes"
	"flag"
	"os"
	"testing"

	"github.com/google/go-cmp/cmp"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/asking"
	"slipcase/cmd/internal/desk/paper"
	"slipcase/cmd/internal/sheet"
)

var update = flag.Bool("update", false, "rewrite the golden page; refused when CI is set")

// filled is a sheet with something in every section; all of it is invented.
func filled() paper.Sheet {
	minutes := answer.Num(12)
	return paper.Sheet{
		Made: "2026-05-04 10:00", Rules: "0123abcd", Words: "slips on the hill", Opened: "2026-05-03 09:30", Who: "Mia", TakenBack: 1,
		Case:     asking.CaseHead{ID: "26-0001", Title: "Slips in third", Unit: "small-3", UnitTitle: "Three speeds", Vehicle: "van", Reports: 2, Status: "open"},
		Entries:  []paper.SheetEntry{{When: "2026-05-03 09:31", Who: "Mia", Words: "slips in D/3: yes, says driver"}},
		Sentence: "Slips in D/3: high clutch.", LeftOut: []string{"a report was left out. why"},
		Suspects: []paper.SheetSuspect{{Suspect: asking.Suspect{Rank: 1, Title: "high clutch", Outside: true}, Percent: "62%", Mode: "lining burnt", For: []string{"slips in D/3"}, Against: []string{"no lining in the pan"}, Look: "black plates", Reach: "drums out, in view after 3 h"}},
		More:     4, Unexplain: "1.0%", Doubt: "The leader is firm.", Bases: []string{"recalled", "invented"},
		Chart: paper.SheetChart{Heads: []string{"high clutch", "low band"}, Rows: []paper.SheetRow{
			{Row: "D/1", Ratio: "2.45", Cells: []string{"", "X"}, Braking: "yes"}, {Row: "D/3", Ratio: "1.00", Cells: []string{"X", ""}, Braking: "yes", Marks: []string{"1: slips"}}}},
		Drawings: []paper.SheetDrawing{{Title: "D/3, normal", Why: "Suspect 1 shows here.", SVG: `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 1 1"></svg>`}},
		Plan: asking.Plan{Sentence: "pull it.", Pull: asking.PlanPull{Words: "Pull it now."}, Done: []string{"pan off"}, More: 3, Invented: true,
			After: &asking.PlanAfter{Found: []asking.PlanFound{{Title: "low band", Mode: "worn"}}, Also: []asking.PlanRelated{{Title: "servo", Reason: "it applies the band", Step: "servo out"}}},
			Steps: []asking.PlanStep{{Step: "pull_unit", Title: "pull the unit", Minutes: 150, Sum: 150, InView: 0.5, Cautions: []string{"The unit is heavy."}, Look: []string{"cracks?"},
				LookFor: []asking.PlanLook{{Part: "converter", Mode: "hub worn", Probability: 0.1, Look: "a groove"}},
				Before:  []asking.PlanMeasure{{Text: "end play", Minutes: &minutes, Limit: "0.1 to 0.5 mm", Needs: []string{"pan off"}}},
				At:      []asking.PlanMeasure{{Text: "mark the flexplate"}}, Limits: []asking.PlanMeasure{{Text: "runout", Limit: "at most 0.3 mm", Value: "0.4 mm", Outside: "above", Taken: true}}}}},
		Pressures: []paper.SheetMeasure{{What: "line pressure, idle, D", Limit: "55 to 75 psi"}}, PressureCautions: []string{"Wheels chocked."},
		Places: []paper.SheetPlace{{Place: "tray 1", Parts: []string{"high clutch (step 1)"}}},
		Order:  []paper.SheetOrder{{Part: "pan", What: "gasket", Why: "it is crushed once", When: "open now"}},
		Causes: []paper.SheetCause{{Title: "cooler blocked", Percent: "20%", Advice: "flush it", SettledBy: []string{"cooler flow"}}, {Title: "high mileage", Settled: "confirmed"}}, Warning: "It is not settled why.",
		Owner: paper.SheetOwner{Complaint: "slips on the hill", Found: []string{"Low band: worn. This part has failed."}, Likely: []string{"High clutch: likely."}, Unknown: []string{"Whether another part has failed."}, Pull: "It has to come out.", Minutes: "About five hours."},
	}
}

// The page of a sheet with something in every section is what was looked at
// last; -update rewrites it.
func TestGolden(t *testing.T) {
	var b bytes.Buffer
	if err := sheet.Write(&b, filled(), `<svg data-code="1"></svg>`, "http://bench.test/case/26-0001"); err != nil {
		t.Fatal(err)
	}
	read(t, b.String())
	const file = "testdata/filled.html"
	if *update {
		if os.Getenv("CI") != "" {
			t.Fatal("golden files are not rewritten in CI")
		}
		if err := os.MkdirAll("testdata", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), b.String()); diff != "" {
		t.Error(diff)
	}
}
