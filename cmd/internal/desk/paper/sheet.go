package paper

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/asking"
	"slipcase/cmd/internal/desk/library"
	"slipcase/cmd/internal/desk/opened"
	"slipcase/cmd/internal/desk/shown"
	"slipcase/cmd/internal/drawing"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
	"slipcase/engine/geartrain"
)

// Sheet is all that a job sheet shows: the answers of Suspects, Why, Chart and
// Plan, gathered, and an owner's page.
type Sheet struct {
	Made             string             `json:"made"` // date and time
	Rules            string             `json:"rules"`
	Case             asking.CaseHead    `json:"case"`
	Words            string             `json:"words"` // the complaint in the customer's own words; "" when not kept
	Opened           string             `json:"opened"`
	Who              string             `json:"who"`
	Entries          []SheetEntry       `json:"entries"`    // what was reported, seen and done, in order
	Present          []string           `json:"present"`    // findings that are reported to be there, each once, the latest first
	TakenBack        int                `json:"taken_back"` // entries that do not count any more
	Earlier          *opened.EarlierJob `json:"earlier"`    // of a comeback: the job that came back
	CameBack         []string           `json:"came_back"`  // cases that are comebacks of this one
	Sentence         string             `json:"sentence"`
	Suspects         []SheetSuspect     `json:"suspects"`
	More             int                `json:"more"`
	Unexplain        string             `json:"unexplain"` // probability that nothing known explains it
	Doubt            string             `json:"doubt"`
	Bases            []string           `json:"bases"`
	Chart            SheetChart         `json:"chart"`
	Drawings         []SheetDrawing     `json:"drawings"`
	Plan             asking.Plan        `json:"plan"`
	Pressures        []SheetMeasure     `json:"pressures"`
	PressureCautions []string           `json:"pressure_cautions"`
	Places           []SheetPlace       `json:"places"`
	Order            []SheetOrder       `json:"order"`
	Causes           []SheetCause       `json:"causes"`
	Warning          string             `json:"warning"` // about causes that are not settled
	Owner            SheetOwner         `json:"owner"`
	LeftOut          []string           `json:"left_out"` // warnings about the case
	unexplained      answer.Num         `json:"-"`
}

// SheetEntry is one line of the history.
type SheetEntry struct {
	When  string `json:"when"`
	Who   string `json:"who"`
	Words string `json:"words"`
}

// SheetSuspect is a suspect with its evidence in words.
type SheetSuspect struct {
	asking.Suspect
	Percent string   `json:"percent"`
	Mode    string   `json:"mode"`
	For     []string `json:"for"`
	Against []string `json:"against"`
	Look    string   `json:"look"`
	Reach   string   `json:"reach"` // minutes to its view
}

// SheetChart is the apply chart with the rows marked that the suspects change.
type SheetChart struct {
	Heads []string   `json:"heads"`
	Rows  []SheetRow `json:"rows"`
}

// SheetRow is one row of it; Marks say which suspects show there, and how.
type SheetRow struct {
	Row     string   `json:"row"`
	Ratio   string   `json:"ratio"`
	Cells   []string `json:"cells"`
	Braking string   `json:"braking"`
	Marks   []string `json:"marks"`
}

// SheetDrawing is a picture of a row that matters.
type SheetDrawing struct {
	Title string `json:"title"`
	Why   string `json:"why"`
	SVG   string `json:"svg"`
}

// SheetMeasure is a field for a reading.
type SheetMeasure struct {
	What  string `json:"what"`
	Limit string `json:"limit"`
	Value string `json:"value"`
}

// SheetPlace is a place on the parts bench with what is laid there.
type SheetPlace struct {
	Place string   `json:"place"`
	Parts []string `json:"parts"`
}

// SheetOrder is something to order.
type SheetOrder struct {
	Part string `json:"part"`
	What string `json:"what"`
	Why  string `json:"why"`
	When string `json:"when"`
}

// SheetCause is a root cause to settle before the build.
type SheetCause struct {
	Title     string   `json:"title"`
	Percent   string   `json:"percent"`
	Advice    string   `json:"advice"`
	SettledBy []string `json:"settled_by"`
	Settled   string   `json:"settled"` // "confirmed", "ruled out", "" while open
}

// SheetOwner is the page for the vehicle's owner.
type SheetOwner struct {
	Complaint string   `json:"complaint"`
	Found     []string `json:"found"`
	Likely    []string `json:"likely"`
	Unknown   []string `json:"unknown"`
	Pull      string   `json:"pull"`
	Minutes   string   `json:"minutes"`
}

const (
	sheetSuspects = 5 // as many as are worked out in full
	sheetEvidence = 3 // of these the evidence is told
)

// Sheet gathers the job sheet of a case. The case is read once: what is entered
// meanwhile is on none of its pages. Fails as Suspects does.
func (d *Paper) Sheet(ctx context.Context, ref asking.CaseRef) (answer.Answer[Sheet], error) {
	w, k, err := d.openOnce(ctx, ref)
	if err != nil {
		return answer.Answer[Sheet]{}, err
	}
	sus, err := w.Suspects(sheetSuspects, false, false)
	if err != nil {
		return answer.Answer[Sheet]{}, err
	}
	plan, err := w.Planned(asking.PlanInput{})
	if err != nil {
		return answer.Answer[Sheet]{}, err
	}
	now := time.Now
	if d.now != nil {
		now = d.now
	}
	x := sus.Data
	out := Sheet{
		Made: now().Format(onPaper), Rules: opened.Short(w.Knowledge.Hash), Case: x.Case, Sentence: x.Sentence, More: x.More,
		Unexplain: wording.Percent(float64(x.Unexplained)), unexplained: x.Unexplained, Doubt: x.Doubt, Bases: x.Bases, Plan: plan.Data,
	}
	w.sheetHistory(k, &out)
	for _, r := range slices.Backward(w.Case.Reports) {
		if title := wording.FindingOf(w.Model, r.Finding); r.State == engine.Present && !slices.Contains(out.Present, title) {
			out.Present = append(out.Present, title)
		}
	}
	signs := make([][]asking.ChartSign, 0, sheetEvidence)
	for i, s := range x.Suspects {
		e := SheetSuspect{Suspect: s, Percent: wording.Percent(float64(s.Probability))}
		if len(s.Modes) > 0 {
			e.Mode = s.Modes[0].Title
		}
		if s.Minutes != nil && s.StepTitle != "" {
			e.Reach = wording.InViewAfter(s.StepTitle, float64(*s.Minutes))
		}
		if i < sheetEvidence && len(s.Modes) > 0 {
			why, err := w.Why(s.Component + "/" + s.Modes[0].Mode)
			if err != nil {
				return answer.Answer[Sheet]{}, err
			}
			e.For, e.Against, e.Look = weightWords(why.Data.For), weightWords(why.Data.Against), why.Data.Look
			signs = append(signs, why.Data.Rows)
		}
		out.Suspects = append(out.Suspects, e)
	}
	out.Chart = w.sheetChart(signs)
	if out.Drawings, err = w.sheetDrawings(x.Suspects, signs); err != nil {
		return answer.Answer[Sheet]{}, answer.Fail(answer.Internal, err.Error(), "")
	}
	w.sheetBench(&out)
	w.sheetCauses(&out, x.Causes)
	out.Owner = w.sheetOwner(&out)
	for _, m := range sus.Warnings {
		out.LeftOut = append(out.LeftOut, strings.TrimSuffix(m.Summary, ".")+". "+m.Detail)
	}
	return answer.Answer[Sheet]{Rules: w.Knowledge.Hash, Method: sus.Method, Data: out, Input: w.Input(nil), Diagnostics: sus.Diagnostics, Warnings: sus.Warnings}, nil
}

// kept is what the casebook alone knows of a case.
type kept struct {
	opening engine.Opening
	lines   []opened.EntryLine
	earlier *opened.EarlierJob // of a comeback
	back    []string           // comebacks of this one
}

// openOnce opens a case, and gives what the casebook knows of it, nil where it is
// not from there.
func (d *Paper) openOnce(ctx context.Context, ref asking.CaseRef) (*work, *kept, error) {
	if !ref.InBook() {
		w, err := d.asker.Open(ctx, ref)
		return &work{w}, nil, err
	}
	j, err := d.keeper.Job(ctx, opened.Ref{In: ref.In})
	if err != nil {
		return nil, nil, err
	}
	defer j.Close()
	if err = j.Model(); err != nil {
		return nil, nil, err
	}
	x := &kept{opening: j.Rec.Opening, lines: j.Lines(), earlier: j.Earlier(j.Work.Model)} // while the casebook is open
	x.back, err = j.CameBack()
	return &work{j.Work}, x, err
}

// sheetHistory fills in what was reported, by whom and when: from the casebook
// its entries in force, from a case file what stands in it.
func (w *work) sheetHistory(k *kept, out *Sheet) {
	if k == nil {
		note := ""
		for _, r := range w.Case.Reports {
			words := wording.FindingOf(w.Model, r.Finding) + ": " + wording.State(r.State)
			// A case file has one note for all that a reporter says at once.
			if r.Note != "" && r.Note != note {
				words += " (" + r.Note + ")"
			}
			note = r.Note
			out.Entries = append(out.Entries, SheetEntry{sheetTime(opened.Stamp(r.At)), wording.Name(r.By), words})
		}
		for _, r := range w.Case.Readings {
			by := r.By
			if by == "" {
				by = w.ReadingReporter(r.Name)
			}
			out.Entries = append(out.Entries, SheetEntry{sheetTime(opened.Stamp(r.At)), wording.Name(by), wording.ReadingOf(w.Model, r)})
		}
		for _, s := range w.Case.Seen {
			out.Entries = append(out.Entries, SheetEntry{"", "", wording.SeenOf(w.Model, s)})
		}
		for _, s := range w.Case.Done {
			out.Entries = append(out.Entries, SheetEntry{"", "", wording.DoneOf(w.Model, s)})
		}
		return
	}
	o := k.opening
	out.Earlier, out.CameBack = k.earlier, k.back
	out.Words, out.Opened, out.Who = o.Words, sheetTime(opened.Stamp(o.At)), o.By
	for _, e := range k.lines {
		switch {
		case !e.InForce:
			out.TakenBack++
		case e.Kind == string(engine.EntryInterview), e.Kind == string(engine.EntryRetraction):
		default:
			out.Entries = append(out.Entries, SheetEntry{sheetTime(e.At), e.Who, e.Words})
		}
	}
}

// onPaper is how a time is read on paper.
const onPaper = "2006-01-02 15:04"

// sheetTime is a stamp as it is read on paper.
func sheetTime(stamp string) string {
	t, err := time.Parse(time.RFC3339, stamp)
	if err != nil {
		return stamp
	}
	return t.Format(onPaper)
}

func weightWords(list []asking.Weight) []string {
	var out []string
	for _, x := range list {
		out = append(out, wording.Weighed(x.Title, engine.State(x.State), x.By, float64(x.Decibans)))
	}
	return out
}

// sheetChart is the sound chart; signs are the rows that the first suspects
// change.
func (w *work) sheetChart(signs [][]asking.ChartSign) SheetChart {
	c := library.ChartOf(w.Model.Unit, w.Model.Machine, nil)
	marks := map[string]string{"applied": "X", "holds": "holds", "overruns": "free"}
	var out SheetChart
	for _, e := range c.Elements {
		out.Heads = append(out.Heads, e.Title)
	}
	for _, r := range c.Rows {
		row := SheetRow{Row: r.Row, Ratio: "–"}
		if r.Ratio != nil {
			row.Ratio, row.Braking = fmt.Sprintf("%.2f", float64(r.Ratio.Value)), wording.YesNo(r.Braking)
		}
		for _, e := range c.Elements {
			row.Cells = append(row.Cells, marks[r.States[e.Name]])
		}
		for i, list := range signs {
			var words []string
			for _, s := range list {
				if s.Row == r.Row && !slices.Contains(words, s.Words) {
					words = append(words, s.Words)
				}
			}
			if len(words) > 0 {
				row.Marks = append(row.Marks, fmt.Sprintf("%d: %s", i+1, strings.Join(words, ", ")))
			}
		}
		out.Rows = append(out.Rows, row)
	}
	return out
}

// sheetDrawings are the row in which the likeliest suspect that changes the
// chart shows best: as it should be, and with what it serves failed.
func (w *work) sheetDrawings(suspects []asking.Suspect, signs [][]asking.ChartSign) ([]SheetDrawing, error) {
	sketch := drawing.New(w.Model.Unit, w.Model.Machine)
	for i, list := range signs {
		sign, ok := w.telling(list)
		if !ok {
			continue
		}
		sound, err := sketch.PowerFlow(sign.Row)
		if err != nil {
			return nil, err
		}
		out := []SheetDrawing{{wording.RowNormal(sign.Row), wording.ShowsInRow(i+1, suspects[i].Title, sign.Words), sound}}
		if faults := w.faultBehind(sign); len(faults) > 0 {
			failed, err := sketch.PowerFlow(sign.Row, faults...)
			if err != nil {
				return nil, err
			}
			var words []string
			for _, f := range faults {
				words = append(words, wording.LinkTitle(w.Model.Unit, f.Name)+" "+wording.LinkFault(f.Kind))
			}
			out = append(out, SheetDrawing{wording.RowAtWorst(sign.Row), wording.Capital(wording.List(words)) + ".", failed})
		}
		return out, nil
	}
	return nil, nil
}

// telling is the sign of a fault to draw: the one reported first, or else the
// strongest.
func (w *work) telling(list []asking.ChartSign) (best asking.ChartSign, ok bool) {
	reported := map[string]int{} // row -> place among the reports, from the end
	for i, r := range w.Case.Reports {
		if place := engine.ParseFindingName(r.Finding).Place; r.State == engine.Present && reported[place] == 0 {
			reported[place] = len(w.Case.Reports) - i
		}
	}
	for _, s := range list {
		if w.Model.Machine.RowIndex(s.Row) < 0 {
			continue
		}
		if a, b := reported[s.Row], reported[best.Row]; !ok || a > b || a == b && s.Share > best.Share+1e-9 {
			best, ok = s, true
		}
	}
	return best, ok
}

// faultBehind are the faults of the train that an effect comes to at its worst
// in a row: of a circuit, that what it feeds there is dead.
func (w *work) faultBehind(sign asking.ChartSign) []geartrain.Fault {
	name, word, _ := strings.Cut(sign.Effect, ".")
	kind, ok := map[string]geartrain.FaultKind{
		"slips": geartrain.Dead, "dead": geartrain.Dead, "applies_late": geartrain.Dead, "stays_on": geartrain.StaysOn, "drags": geartrain.StaysOn,
		"releases_late": geartrain.StaysOn, "seized": geartrain.Seized, "reversed": geartrain.Reversed, "broken": geartrain.Broken,
	}[word]
	if f := (geartrain.Fault{Name: name, Kind: kind}); ok && w.Model.Machine.Check(f) == nil {
		return []geartrain.Fault{f}
	}
	var out []geartrain.Fault
	row := w.Model.Unit.Rows[w.Model.Machine.RowIndex(sign.Row)]
	for _, c := range w.Model.Unit.Circuits {
		if c.Name != name || c.Main || word == "high" {
			continue
		}
		for _, e := range c.Feeds {
			if f := (geartrain.Fault{Name: e, Kind: geartrain.Dead}); slices.Contains(row.Apply, e) && w.Model.Machine.Check(f) == nil {
				out = append(out, f)
			}
		}
	}
	return out
}

// sheetBench fills in what is laid where, what to order and what to measure.
func (w *work) sheetBench(out *Sheet) {
	for _, p := range w.Model.Unit.Pressures {
		x := SheetMeasure{What: wording.PressureIn(p.State, p.Range), Limit: wording.AsWritten(p.Low, p.High)}
		for _, r := range w.Case.Readings {
			if r.Name == "line_pressure" && r.Place == p.Place() {
				x.Value = r.Value.Text
			}
		}
		out.Pressures = append(out.Pressures, x)
	}
	for _, c := range w.Knowledge.Checks {
		if !slices.ContainsFunc(c.Yields, func(y string) bool { return strings.HasPrefix(y, "line_pressure") }) {
			continue
		}
		for _, name := range c.Cautions {
			if text := w.Caution(name); !slices.Contains(out.PressureCautions, text) {
				out.PressureCautions = append(out.PressureCautions, text)
			}
		}
	}
	for i, s := range out.Plan.Steps {
		for _, v := range s.Parts {
			if v.Bench == "" {
				continue
			}
			k := slices.IndexFunc(out.Places, func(p SheetPlace) bool { return p.Place == v.Bench })
			if k < 0 {
				out.Places, k = append(out.Places, SheetPlace{Place: v.Bench}), len(out.Places)
			}
			out.Places[k].Parts = append(out.Places[k].Parts, wording.PartAtStep(v.Title, i+1))
		}
	}
	for _, s := range w.Case.Seen {
		if !s.Cleared {
			out.Order = append(out.Order, SheetOrder{wording.ComponentOf(w.Model, s.Component), wording.ThePart, wording.FoundFailed(w.Model, s), wording.WhenFound})
		}
	}
	opened := func(components []string, when string) {
		for _, name := range components {
			c := w.component(name)
			if c == nil {
				continue
			}
			if k := w.Model.KindOf(c); k != nil && k.Renew != "" {
				what, why, _ := strings.Cut(k.Renew, ": ")
				out.Order = append(out.Order, SheetOrder{wording.Title(c.Title, c.Name), what, why, when})
			}
		}
	}
	for _, name := range w.Case.Done {
		if s := w.Model.Step(name); s != nil {
			opened(s.Exposes, wording.OpenNow)
		}
	}
	for i, p := range out.Plan.Steps {
		if s := w.Model.Step(p.Step); s != nil {
			opened(s.Exposes, wording.WhenAtStep(i+1))
		}
	}
}

// sheetCauses lists the root causes: those likely, and those settled.
func (w *work) sheetCauses(out *Sheet, likely []asking.Cause) {
	add := func(name, title, percent, advice string, by []string) {
		x := SheetCause{Title: title, Percent: percent, Advice: advice, SettledBy: by}
		for _, s := range w.Case.Settled {
			if s.Cause == name {
				x.Settled = wording.SettledAs(s.Present)
			}
		}
		out.Causes = append(out.Causes, x)
	}
	listed := map[string]bool{}
	if a := out.Plan.After; a != nil {
		out.Warning = a.Warning
		for _, c := range a.Causes {
			listed[c.Name] = true
			add(c.Name, c.Title, wording.Percent(float64(c.Probability)), c.Advice, c.SettledBy)
		}
	}
	for _, c := range likely {
		if !listed[c.Cause] {
			listed[c.Cause] = true
			add(c.Cause, c.Title, wording.Percent(float64(c.Probability)), c.Advice, c.SettledBy)
		}
	}
	for _, s := range w.Case.Settled {
		if !listed[s.Cause] {
			listed[s.Cause] = true
			add(s.Cause, wording.CauseOf(w.Model, s.Cause), "", "", nil)
		}
	}
}

// sheetOwner words the case for the vehicle's owner.
func (w *work) sheetOwner(s *Sheet) SheetOwner {
	out := SheetOwner{Complaint: s.Words, Pull: s.Plan.Pull.Owner}
	if out.Complaint == "" {
		out.Complaint = s.Case.Title
	}
	found := map[string]bool{}
	for _, x := range w.Case.Seen {
		out.Found = append(out.Found, wording.OwnerSeen(w.Model, x))
		if !x.Cleared {
			found[x.Component] = true
		}
	}
	for i, x := range s.Suspects {
		if found[x.Component] || i >= sheetEvidence || x.Probability < shown.LeastOwner {
			continue
		}
		out.Likely = append(out.Likely, wording.OwnerLikely(x.Title, x.Mode, float64(x.Probability), x.Outside))
	}
	out.Unknown = append(out.Unknown, wording.OwnerUnexplained(float64(s.unexplained)))
	var open []string
	for _, c := range s.Causes {
		if c.Settled == "" {
			open = append(open, c.Title)
		}
	}
	if len(open) > 0 {
		out.Unknown = append(out.Unknown, wording.OwnerCauses(open))
	}
	if len(found) == 0 {
		out.Unknown = append(out.Unknown, wording.OwnerNothingSeen)
	} else {
		out.Unknown = append(out.Unknown, wording.OwnerSecondFault)
	}
	if m := s.Plan.Minutes; m > 0 && len(s.Plan.Steps) > 0 && len(found) == 0 {
		out.Minutes = wording.OwnerMinutes(float64(m))
	}
	return out
}

// component is a component of the unit by its name, or nil.
func (w *work) component(name string) *engine.Component {
	for i := range w.Model.Unit.Components {
		if w.Model.Unit.Components[i].Name == name {
			return &w.Model.Unit.Components[i]
		}
	}
	return nil
}
