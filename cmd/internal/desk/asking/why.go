package asking

import (
	"context"
	"math"
	"slices"
	"sort"
	"strings"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/shown"
	"slipcase/cmd/internal/fault"
	"slipcase/cmd/internal/load"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
	"slipcase/engine/diagnose"
	"slipcase/engine/model"
	"slipcase/engine/tie"
)

// Why is what speaks for and against one suspect, and where to see it.
type Why struct {
	Case        CaseHead    `json:"case"`
	Component   string      `json:"component"`
	Mode        string      `json:"mode"`
	Title       string      `json:"title"` // "forward clutch plates: lining burnt"
	Rank        int         `json:"rank"`  // of the component
	Of          int         `json:"of"`
	Probability answer.Num  `json:"probability"` // of this mode, with all reports
	Prior       answer.Num  `json:"prior"`       // before any report
	Outside     bool        `json:"outside"`
	Modes       []Mode      `json:"modes"` // every way the component can fail
	For         []Weight    `json:"for"`
	Against     []Weight    `json:"against"`
	Neutral     []Weight    `json:"neutral"` // reports that say next to nothing about it
	Without     string      `json:"without"` // what would lead without one of them; "" where nothing changes the leader
	Rows        []ChartSign `json:"rows"`
	Look        string      `json:"look"` // what it looks like in the hand
	Bench       string      `json:"bench"`
	Step        string      `json:"step"`
	StepTitle   string      `json:"step_title"`
	StepLook    []string    `json:"step_look"`
	Minutes     *answer.Num `json:"minutes"`
	Checks      []CheckRef  `json:"checks"`
	MoreChecks  int         `json:"more_checks"` // that show it less often
	Causes      []LeadsTo   `json:"causes"`
	MoreCauses  int         `json:"more_causes"` // less likely ones
	Numbers     []NumberRef `json:"numbers"`
	Duty        *Duty       `json:"duty"` // nil where the rate does not go by duty
}

// Duty is what driving makes of the rate of a fault that is wear.
type Duty struct {
	Factor  answer.Num `json:"factor"`  // on the rate of its kind, 1 in the mean of the unit
	Rate    answer.Num `json:"rate"`    // with the factor
	Applied answer.Num `json:"applied"` // share of driving in which its element is on
	Held    answer.Num `json:"held"`    // and by how hard each row works it: 1 is its hardest row all the time
	Shifts  answer.Num `json:"shifts"`  // in which it slips, for each time up through the gears
	Words   string     `json:"words"`
}

// Weight is what reports that say the same weigh for or against, in decibans: 10
// makes the odds ten times better, -10 ten times worse.
type Weight struct {
	Finding  string     `json:"finding"` // of the first of them
	Title    string     `json:"title"`
	State    string     `json:"state"`
	By       string     `json:"by"` // who says it, with commas between
	Decibans answer.Num `json:"decibans"`
	Reports  int        `json:"reports"`
	After    answer.Num `json:"after"` // probability once these and all before them had come in
	Place    int        `json:"place"` // in the order of arrival, from 1
}

// ChartSign is what the fault does to a row of the chart.
type ChartSign struct {
	Row    string     `json:"row"`
	Effect string     `json:"effect"`
	Words  string     `json:"words"`
	Share  answer.Num `json:"share"` // 0..1: how strongly, by the element's demand in the row
}

// CheckRef is a check that can show the fault.
type CheckRef struct {
	Check    string     `json:"check"`
	Title    string     `json:"title"`
	Stage    string     `json:"stage"`
	Minutes  answer.Num `json:"minutes"`
	Shows    string     `json:"shows"`    // the finding that shows it best
	Strength answer.Num `json:"strength"` // how often the fault brings that finding about
	Cautions []string   `json:"cautions"` // full texts
}

// LeadsTo is what can bring the fault about: a root cause, or another fault.
type LeadsTo struct {
	Name        string     `json:"name"`
	Title       string     `json:"title"`
	Layer       string     `json:"layer"` // cause or mode
	Via         string     `json:"via"`   // the stress in between, "" when none
	Probability answer.Num `json:"probability"`
}

// NumberRef is a number behind the suspect.
type NumberRef struct {
	What  string       `json:"what"`
	Text  string       `json:"text"` // as written
	Value answer.Num   `json:"value"`
	Basis string       `json:"basis"`
	Note  string       `json:"note"` // the basis's note or citation
	At    engine.Range `json:"at"`
}

// Why explains one suspect of a case, "component" or "component/mode". Fails as
// Suspects does, and with NotFound for a component or mode that is not there.
func (d *Asker) Why(ctx context.Context, ref CaseRef, suspect string) (answer.Answer[Why], error) {
	w, err := d.Open(ctx, ref)
	if err != nil {
		return answer.Answer[Why]{}, err
	}
	return w.Why(suspect)
}

// Why is what speaks for and against a suspect. Fails as the use case does.
func (w *Work) Why(suspect string) (answer.Answer[Why], error) {
	node, err := w.Find(suspect)
	if err != nil {
		return answer.Answer[Why]{}, err
	}
	r, err := w.Diagnose(diagnose.Options{Top: 1})
	if err != nil {
		return answer.Answer[Why]{}, err
	}
	var s *diagnose.Suspect
	rank := 0
	name, _, _ := strings.Cut(suspect, "/")
	for i := range r.Suspects {
		if r.Suspects[i].Component.Name == name {
			s, rank = &r.Suspects[i], i+1
		}
	}
	if node < 0 {
		node = s.Modes[0].Node
	}
	n := w.Model.Nodes[node]
	out := Why{
		Case: w.Head(r), Component: name, Mode: n.Mode.Name, Title: wording.Node(&n), Rank: rank, Of: len(r.Suspects),
		Probability: answer.Num(r.Posterior[node]), Outside: s.Outside, Look: n.Mode.Look, Bench: w.bench(s.Component),
		For: []Weight{}, Against: []Weight{}, Neutral: []Weight{}, StepLook: []string{},
	}
	out.Prior = answer.Num(r.Prior[node])
	view := w.Suspect(rank-1, s)
	out.Modes, out.Step, out.StepTitle, out.Minutes = view.Modes, view.Step, view.StepTitle, view.Minutes
	if s.Step != nil {
		out.StepLook = append(out.StepLook, s.Step.Look...)
	}
	if err := w.weigh(&out, r, node); err != nil {
		return answer.Answer[Why]{}, err
	}
	out.Rows = w.rows(node)
	out.Checks, out.MoreChecks = shown.First(w.checks(node), shown.MostChecks)
	out.Causes, out.MoreCauses = shown.First(w.leads(node, r), shown.MostLeads)
	out.Numbers = w.numbers(node)
	if d, ok := w.Model.DutyOf(node); ok {
		f, rate := w.Model.Duties[node], w.Model.Net.Nodes[node].Leak
		out.Duty = &Duty{answer.Num(f), answer.Num(rate), answer.Num(d.Applied), answer.Num(d.Held), answer.Num(d.Shifts), wording.Duty(f, rate, d)}
	}
	return Answered(w, r, out, map[string]string{"suspect": suspect}), nil
}

// Find resolves component[/mode]; node is -1 when no mode is named. Fails with
// NotFound for a component or mode that the unit does not have.
func (w *Work) Find(suspect string) (node int, err error) {
	name, mode, named := strings.Cut(suspect, "/")
	nodes := w.Model.ModesOf(name)
	if len(nodes) == 0 {
		var known []string
		for _, c := range w.Model.Unit.Components {
			known = append(known, c.Name)
		}
		return 0, load.Unknown(wording.NoSuspect(w.Model.Unit.ID, name), name, known, answer.Do(answer.ListSuspects)).Under(w.Knowledge.Hash)
	}
	if !named {
		return -1, nil
	}
	var modes []string
	for _, n := range nodes {
		if w.Model.Nodes[n].Mode.Name == mode {
			return n, nil
		}
		modes = append(modes, w.Model.Nodes[n].Mode.Name)
	}
	return 0, fault.Fail(answer.NotFound, wording.NoMode(name, mode, modes))
}

// weigh sorts the reports, those that say the same together, into those for,
// those against and the rest.
func (w *Work) weigh(out *Why, r *diagnose.Result, node int) error {
	heard, err := diagnose.Hear(w.Model, r, node, true)
	if err != nil {
		return err
	}
	for i, h := range heard {
		x := Weight{
			Finding: h.Pieces[0].Label, Title: wording.Together(h.Pieces), State: string(h.Pieces[0].State), By: wording.Reporters(h.Pieces),
			Decibans: answer.Num(h.Decibans), Reports: len(h.Pieces), After: answer.Num(h.After), Place: i + 1,
		}
		switch {
		case x.Decibans >= shown.LeastWeight:
			out.For = append(out.For, x)
		case x.Decibans <= -shown.LeastWeight:
			out.Against = append(out.Against, x)
		default:
			out.Neutral = append(out.Neutral, x)
		}
	}
	for _, list := range [][]Weight{out.For, out.Against, out.Neutral} {
		slices.SortStableFunc(list, func(a, b Weight) int {
			return -tie.Compare(math.Abs(float64(a.Decibans)), math.Abs(float64(b.Decibans)))
		})
	}
	out.Without = wording.Without(r, heard, out.Rank-1)
	return nil
}

// rows says what the fault does to the chart.
func (w *Work) rows(node int) []ChartSign {
	out := []ChartSign{}
	for _, r := range w.Model.RowsOf(node) {
		out = append(out, ChartSign{Row: r.Row, Effect: r.Effect, Words: wording.Outcome(r.Outcome, r.ActsAs), Share: answer.Num(r.Factor)})
	}
	return out
}

// shown are the findings that a fault brings about, each with how often, along
// its strongest way through effects (not through other faults).
func (w *Work) shown(node int) map[int]float64 {
	reach := map[int]float64{node: 1}
	out := map[int]float64{}
	// Parents stand before children in the net.
	for i := node + 1; i < len(w.Model.Net.Nodes); i++ {
		layer := w.Model.Nodes[i].Layer
		if layer != model.EffectLayer && layer != model.PartLayer && layer != model.FindingLayer {
			continue
		}
		for _, l := range w.Model.Net.Nodes[i].Links {
			if p, ok := reach[l.Parent]; ok && p*l.Strength > reach[i] {
				reach[i] = p * l.Strength
			}
		}
		if layer == model.FindingLayer && reach[i] > 0 {
			out[i] = reach[i]
		}
	}
	return out
}

// checks lists the checks that show the fault at least one time in five by a
// finding that nobody has reported yet: the surest first, then the quickest.
func (w *Work) checks(node int) []CheckRef {
	reported := map[string]bool{}
	for _, r := range w.Case.Reports {
		reported[engine.ParseFindingName(r.Finding).Base()] = true
	}
	comes := w.shown(node)
	out := []CheckRef{}
	for _, c := range w.Knowledge.Checks {
		x := CheckRef{Check: c.Name, Title: wording.Title(c.Title, c.Name), Stage: wording.Stage(c.Stage), Minutes: answer.Num(c.Minutes.Value), Cautions: []string{}}
		for _, y := range c.Yields {
			for _, name := range w.Model.Match(y) {
				i, ok := w.Model.Lookup(name)
				if !ok {
					continue
				}
				if p := comes[i]; answer.Num(p) > x.Strength && !reported[engine.ParseFindingName(name).Base()] {
					x.Strength, x.Shows = answer.Num(p), wording.Node(&w.Model.Nodes[i])
				}
			}
		}
		if x.Strength < shown.LeastShown {
			continue
		}
		for _, name := range c.Cautions {
			x.Cautions = append(x.Cautions, w.Caution(name))
		}
		out = append(out, x)
	}
	sort.SliceStable(out, func(i, j int) bool {
		if d := tie.Compare(float64(out[i].Strength), float64(out[j].Strength)); d != 0 {
			return d > 0
		}
		return out[i].Minutes < out[j].Minutes
	})
	return out
}

// Caution is the text of a caution by its name.
func (w *Work) Caution(name string) string {
	for _, c := range w.Knowledge.Cautions {
		if c.Name == name {
			return c.Text
		}
	}
	return wording.Name(name)
}

// leads lists what can bring the fault about: root causes, directly or
// through a stress, and other faults.
func (w *Work) leads(node int, r *diagnose.Result) []LeadsTo {
	out := []LeadsTo{}
	seen := map[int]bool{}
	add := func(i int, via string) {
		n := w.Model.Nodes[i]
		if seen[i] || r.Posterior[i] < 0 {
			return
		}
		seen[i] = true
		layer := "mode"
		if n.Layer == model.CauseLayer {
			layer = "cause"
		}
		out = append(out, LeadsTo{n.Name, wording.Node(&n), layer, via, answer.Num(r.Posterior[i])})
	}
	for _, l := range w.Model.Net.Nodes[node].Links {
		n := w.Model.Nodes[l.Parent]
		if n.Layer != model.StressLayer {
			add(l.Parent, "")
			continue
		}
		for _, up := range w.Model.Net.Nodes[l.Parent].Links {
			add(up.Parent, wording.Node(&n))
		}
	}
	sort.SliceStable(out, func(i, j int) bool {
		if d := tie.Compare(float64(out[i].Probability), float64(out[j].Probability)); d != 0 {
			return d > 0
		}
		return out[i].Name < out[j].Name
	})
	return out
}

// numbers lists the numbers of the rules behind the fault: its rate, what
// brings it about, and what it does.
func (w *Work) numbers(node int) []NumberRef {
	out := []NumberRef{}
	seen := map[string]bool{}
	add := func(what string, n engine.Number) {
		if n.Basis == nil && n.Text == "" || seen[what] {
			return
		}
		seen[what] = true
		x := NumberRef{What: what, Text: n.Text, Value: answer.Num(n.Value), At: n.At}
		if n.Basis != nil {
			x.Basis, x.Note = string(n.Basis.Kind), n.Basis.Note
			if n.Basis.Cite != "" {
				x.Note = n.Basis.Cite
			}
		}
		out = append(out, x)
	}
	add(wording.Rate(), w.Model.Leaks[node])
	for j, l := range w.Model.Net.Nodes[node].Links {
		add(wording.Because(wording.Node(&w.Model.Nodes[l.Parent])), w.Model.Sources[node][j].Number)
	}
	for i := range w.Model.Net.Nodes {
		for j, l := range w.Model.Net.Nodes[i].Links {
			if l.Parent == node && w.Model.Nodes[i].Layer != model.ModeLayer {
				add(wording.Makes(wording.Node(&w.Model.Nodes[i])), w.Model.Sources[i][j].Number)
			}
		}
	}
	return out
}
