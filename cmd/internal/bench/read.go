package bench

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"time"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/archive"
	"slipcase/cmd/internal/desk/asking"
	"slipcase/cmd/internal/desk/casework"
	"slipcase/cmd/internal/desk/library"
	"slipcase/cmd/internal/desk/opened"
	"slipcase/engine"
)

// howMany suspects and checks a page shows.
const howMany, howManyChecks = 8, 3

// fewWrote entries that were written just now are told in words.
const fewWrote = 3

// workTime is how long an answer may take that others may be waiting for too.
const workTime = 90 * time.Second

type homeData struct {
	Cases, Closed []archive.CaseLine
	Units         []library.Unit
	Find          string
	More          bool
	Any           bool // a case is there to be found
}

// home lists the cases and opens one.
func (s *Server) home(r *http.Request) (view, error) {
	v := view{Page: "home", Title: "Cases"}
	units, err := s.units(r)
	if err != nil {
		return v, err
	}
	d := homeData{Units: units, Find: r.FormValue("find")}
	// For a second at most: the first page is what all tablets look at.
	name := fmt.Sprintf("cases %s%d %q", s.desk.BookPrint(r.Context()), time.Now().Unix(), d.Find)
	list, err := remember(&s.kept, name, func() (archive.Cases, error) {
		ans, err := s.desk.Cases(context.WithoutCancel(r.Context()), archive.CasesInput{Text: d.Find, Limit: 60})
		if err != nil && answer.AsFailure(err).Code == answer.NotFound {
			err = nil // no casebook yet
		}
		return ans.Data, err
	})
	if err != nil {
		return v, err
	}
	for _, c := range list.Cases {
		if c.Status == "open" {
			d.Cases = append(d.Cases, c)
		} else {
			d.Closed = append(d.Closed, c)
		}
	}
	d.More, d.Any = list.Next != "", list.Total > 0
	v.Data = d
	return v, nil
}

// units lists the units that a case or a drill can be of.
func (s *Server) units(r *http.Request) ([]library.Unit, error) {
	rules, err := s.desk.ShopPrint()
	if err != nil {
		return nil, err
	}
	return remember(&s.kept, "units "+rules, func() ([]library.Unit, error) {
		ans, err := s.desk.Units(context.WithoutCancel(r.Context()))
		return ans.Data, err
	})
}

// head is the part of a view that every page of a case has, with the newest
// entry that its answers take into account.
func (s *Server) head(r *http.Request, page, title string) (view, archive.History, error) {
	id := r.PathValue("id")
	v := view{Page: page, Tab: page, ID: id}
	var err error
	if v.rules, err = s.desk.ShopPrint(); err != nil {
		return v, archive.History{}, err
	}
	ans, err := s.desk.CaseHistory(r.Context(), id)
	if err != nil {
		return v, archive.History{}, err
	}
	h := ans.Data
	v.Last = int64(len(h.Entries))
	v.Title = title + ", case " + id
	v.facts = factsOf(h)
	v.Earlier, v.CameBack = h.EarlierJob, h.CameBack
	v.Case = asking.CaseHead{ID: id, Title: h.Title, Unit: h.Unit, UnitTitle: h.UnitTitle, Vehicle: h.Vehicle, Status: h.Status}
	from, _ := strconv.ParseInt(r.FormValue("from"), 10, 64)
	if to, _ := strconv.ParseInt(r.FormValue("to"), 10, 64); from > 0 {
		for _, e := range h.Entries {
			if e.Seq >= from && e.Seq <= to && e.InForce && !placeOnly(e) {
				v.Wrote = append(v.Wrote, line{e.Seq, wordsOf(e)})
				if len(v.Wrote) > fewWrote {
					v.MoreWrote++
				}
			}
		}
	}
	return v, h, nil
}

// factsOf names what answers to a case are worked out from: how it was opened,
// and the entries that count. Notes, photos, the marks of the interview and
// what was taken back change none.
func factsOf(h archive.History) string {
	of := sha256.New()
	fmt.Fprintf(of, "%q %q %s %s %s", h.Title, h.Vehicle, h.Unit, h.Opened, h.Status)
	for _, e := range h.Entries {
		switch engine.EntryKind(e.Kind) {
		case engine.EntryNote, engine.EntryInterview, engine.EntryRetraction:
		default:
			if e.InForce {
				fmt.Fprintf(of, " %d", e.Seq)
			}
		}
	}
	return hex.EncodeToString(of.Sum(nil))
}

// known remembers an answer to a case as its facts stand.
func known[T any](s *Server, r *http.Request, v *view, what string, make func(context.Context, asking.CaseRef) (answer.Answer[T], error)) (T, error) {
	ans, err := remember(&s.kept, fmt.Sprintf("%s %s %s %s", v.ID, v.facts, v.rules, what), func() (answer.Answer[T], error) {
		ctx, cancel := context.WithTimeout(context.WithoutCancel(r.Context()), workTime)
		defer cancel()
		return make(ctx, asking.CaseRef{In: v.ID})
	})
	for _, m := range ans.Warnings {
		list := &v.Warnings
		if m.First { // it limits what stands below
			list = &v.Limits
		}
		if w := s.message(m); !slices.Contains(*list, w) {
			*list = append(*list, w)
		}
	}
	return ans.Data, err
}

// list makes an answer of a plain list.
func list[T any](f func(context.Context, asking.CaseRef) (T, error)) func(context.Context, asking.CaseRef) (answer.Answer[T], error) {
	return func(ctx context.Context, ref asking.CaseRef) (answer.Answer[T], error) {
		x, err := f(ctx, ref)
		return answer.Answer[T]{Data: x}, err
	}
}

type nowData struct {
	Suspects asking.Suspects
	Next     asking.Next
	First    *asking.NextCheck // the check to make now, nil where none is worth it
	By       string            // who reports what it shows
	Telling  []asking.NextFinding
	Others   []asking.NextFinding
}

// now is the page of a case: what to do now, and who is suspected.
func (s *Server) now(r *http.Request) (view, error) {
	v, _, err := s.head(r, "case", "Now")
	if err != nil {
		return v, err
	}
	var d nowData
	next := func(ctx context.Context, ref asking.CaseRef) (answer.Answer[asking.Next], error) {
		return s.desk.Next(ctx, ref, howManyChecks, nil)
	}
	ahead := make(chan struct{})
	if v.Case.Status == "open" {
		// Both take their time, and neither needs the other.
		aside := v
		go func() {
			defer close(ahead)
			defer func() { recover() }() // it fails below once more
			known(s, r, &aside, "next", next)
		}()
	} else {
		close(ahead)
	}
	d.Suspects, err = known(s, r, &v, "suspects", func(ctx context.Context, ref asking.CaseRef) (answer.Answer[asking.Suspects], error) {
		return s.desk.Ranking(ctx, ref, howMany)
	})
	<-ahead
	if err != nil {
		return v, err
	}
	if v.Case.Status == "open" {
		if d.Next, err = known(s, r, &v, "next", next); err != nil {
			return v, err
		}
		if len(d.Next.Checks) > 0 && d.Next.Checks[0].Worth {
			d.First = &d.Next.Checks[0]
			if d.First.Stage == "road" {
				d.By = "road_test"
			}
			for _, f := range d.First.Findings {
				if f.Telling {
					d.Telling = append(d.Telling, f)
				} else {
					d.Others = append(d.Others, f)
				}
			}
			if len(d.Telling) == 0 {
				d.Telling, d.Others = d.Others, nil
			}
		}
	}
	v.Data = d
	return v, nil
}

// why is what speaks for and against one suspect.
func (s *Server) why(r *http.Request) (view, error) {
	v, h, err := s.head(r, "why", "Why")
	if err != nil {
		return v, err
	}
	v.Tab = "case"
	part := r.FormValue("part")
	w, err := known(s, r, &v, "why "+part, func(ctx context.Context, ref asking.CaseRef) (answer.Answer[asking.Why], error) {
		return s.desk.Why(ctx, ref, part)
	})
	d := whyData{Why: w}
	for _, e := range h.Entries {
		if name, _, _ := strings.Cut(e.Name, "/"); e.InForce && e.Kind == string(engine.EntrySeen) && name == w.Component {
			d.Seen = append(d.Seen, e.Words)
		}
	}
	for _, row := range w.Rows {
		if sign := (asking.Word{Name: row.Row, Title: row.Words}); !slices.Contains(d.Signs, sign) {
			d.Signs = append(d.Signs, sign)
		}
	}
	for _, c := range w.Checks {
		for _, text := range c.Cautions {
			if !slices.Contains(d.Cautions, text) {
				d.Cautions = append(d.Cautions, text)
			}
		}
	}
	v.Data = d
	return v, err
}

// whyData says each sign of the chart and each caution once.
type whyData struct {
	asking.Why
	Signs    []asking.Word // row and what it does there
	Cautions []string      // of all the checks
	Seen     []string      // what was found or cleared of the part itself
}

type planData struct {
	Plan   asking.Plan
	First  *asking.PlanStep
	Rest   []asking.PlanStep
	Parts  []casework.PartWays
	Causes []asking.Word
	Can    map[string]bool // causes that can be settled
	Part   string          // chosen to be judged
	Ways   *casework.PartWays
}

// plan is the teardown: the step to do now, what to measure, what is in view.
func (s *Server) plan(r *http.Request) (view, error) {
	v, _, err := s.head(r, "plan", "Plan")
	if err != nil {
		return v, err
	}
	var d planData
	if d.Plan, err = known(s, r, &v, "plan", func(ctx context.Context, ref asking.CaseRef) (answer.Answer[asking.Plan], error) {
		return s.desk.Plan(ctx, ref, asking.PlanInput{})
	}); err != nil {
		return v, err
	}
	if d.Parts, err = known(s, r, &v, "parts", list(s.desk.Parts)); err != nil {
		return v, err
	}
	if d.Causes, err = known(s, r, &v, "causes", list(s.desk.Causes)); err != nil {
		return v, err
	}
	d.Can = map[string]bool{}
	for _, c := range d.Causes {
		d.Can[c.Name] = v.Case.Status == "open"
	}
	if steps := d.Plan.Steps; len(steps) > 0 {
		d.First, d.Rest = &steps[0], steps[1:]
	}
	d.Part = r.FormValue("part")
	for i := range d.Parts {
		if d.Parts[i].Component == d.Part {
			d.Ways = &d.Parts[i]
		}
	}
	v.Data = d
	return v, nil
}

type noteData struct {
	Find     string
	Findings []asking.Word
	More     int
	Measure  []casework.Measurable
}

// mostFound is how many findings a search shows.
const mostFound = 40

// notePage takes readings, findings, trouble codes and notes.
func (s *Server) notePage(r *http.Request) (view, error) {
	v, _, err := s.head(r, "note", "Note")
	if err != nil {
		return v, err
	}
	var d noteData
	if d.Measure, err = known(s, r, &v, "measure", list(s.desk.Measurables)); err != nil {
		return v, err
	}
	all, err := known(s, r, &v, "findings", list(func(ctx context.Context, ref asking.CaseRef) ([]asking.Word, error) {
		return s.desk.FindingWords(ctx, ref), nil
	}))
	if err != nil {
		return v, err
	}
	d.Find = strings.TrimSpace(r.FormValue("find"))
	if words := strings.Fields(strings.ToLower(d.Find)); len(words) > 0 {
		for _, f := range all {
			text := strings.ToLower(f.Name + " " + f.Title)
			if slices.ContainsFunc(words, func(w string) bool { return !strings.Contains(text, w) }) {
				continue
			}
			if len(d.Findings) == mostFound {
				d.More++
				continue
			}
			d.Findings = append(d.Findings, f)
		}
	}
	v.Data = d
	return v, nil
}

type chartData struct {
	Chart  library.Chart
	Row    string // drawn, "" for none
	Flow   string // address of the drawing of that row
	Speeds string // address of the drawing of all speeds
	Faults []fault
	Rows   []chartRow
}

type fault struct {
	Name, Title string
	States      []choice
}

type choice struct {
	Value, Title string
	Taken        bool
}

type chartRow struct {
	Row, Drive, Ratio, Change string
	Braking                   bool
	Cells                     []string // state of each element, "" for released
}

// switched are the faults that a form switches in: e.NAME = dead, on, seized,
// reversed or broken.
func switched(r *http.Request) (flags library.FaultFlags, taken map[string]string) {
	taken = map[string]string{}
	for _, p := range []struct {
		state string
		list  *[]string
	}{{"dead", &flags.Dead}, {"on", &flags.On}, {"seized", &flags.Seized}, {"reversed", &flags.Reversed}, {"broken", &flags.Broken}} {
		for name, values := range r.Form {
			if e, ok := strings.CutPrefix(name, "e."); ok && len(values) > 0 && values[0] == p.state {
				*p.list = append(*p.list, e)
				taken[e] = p.state
			}
		}
		slices.Sort(*p.list)
	}
	return flags, taken
}

// chart is the apply chart with any element switched dead or stuck.
func (s *Server) chart(r *http.Request) (view, error) {
	v, _, err := s.head(r, "chart", "Chart")
	if err != nil {
		return v, err
	}
	flags, taken := switched(r)
	ans, err := s.desk.Chart(r.Context(), v.Case.Unit, flags)
	if err != nil {
		return v, err
	}
	d := chartOf(ans.Data)
	with := url.Values{}
	for e, state := range taken {
		with.Set("e."+e, state)
	}
	d.Speeds = to(v.ID, "drawing", with)
	for _, row := range ans.Data.Rows {
		if d.Row == "" && row.Change != nil || row.Row == r.FormValue("row") {
			d.Row = row.Row
		}
	}
	if d.Row != "" {
		with.Set("row", d.Row)
		d.Flow = to(v.ID, "drawing", with)
	}
	for _, e := range slices.Concat(ans.Data.Elements, ans.Data.Joints) {
		f := fault{Name: e.Name, Title: e.Title, States: []choice{{"", "normal", taken[e.Name] == ""}}}
		add := func(value, title string) { f.States = append(f.States, choice{value, title, taken[e.Name] == value}) }
		switch e.Kind {
		case "joint":
			add("broken", "broken")
		case "one_way":
			add("dead", "slips")
			add("seized", "seized")
			add("reversed", "installed backward")
		default:
			add("dead", "dead")
			add("on", "stays on")
		}
		d.Faults = append(d.Faults, f)
	}
	v.Data = d
	return v, nil
}

// chartOf is the table of a chart.
func chartOf(x library.Chart) chartData {
	d := chartData{Chart: x}
	for _, row := range x.Rows {
		c := chartRow{Row: row.Row, Drive: row.Drive, Braking: row.Braking}
		if row.Ratio != nil {
			c.Ratio = fmt.Sprintf("%.2f", float64(row.Ratio.Value))
		}
		if row.Change != nil {
			c.Change = row.Change.Words
		}
		for _, e := range x.Elements {
			c.Cells = append(c.Cells, row.States[e.Name])
		}
		d.Rows = append(d.Rows, c)
	}
	return d
}

// history is every entry of a case but those that only keep the interview's
// place, newest first.
func (s *Server) history(r *http.Request) (view, error) {
	v, h, err := s.head(r, "log", "Log")
	list := []opened.EntryLine{}
	for _, e := range slices.Backward(h.Entries) {
		if placeOnly(e) {
			continue
		}
		e.Words = wordsOf(e)
		list = append(list, e)
	}
	v.Data = struct {
		Words   string
		Entries []opened.EntryLine
	}{h.Words, list}
	return v, err
}

// placeOnly tells an entry that keeps the place of the interview and says
// nothing of the vehicle.
func placeOnly(e opened.EntryLine) bool {
	return e.Kind == string(engine.EntryInterview) && e.State == ""
}

// wordsOf are the words of an entry as they are read beside a unit: without the
// name of a file.
func wordsOf(e opened.EntryLine) string {
	if e.Photo != "" {
		return e.PhotoOf
	}
	return e.Words
}

type closeData struct {
	Drive []asking.Word
	Found bool
}

// closePage ends a case, or takes it up again.
func (s *Server) closePage(r *http.Request) (view, error) {
	v, h, err := s.head(r, "close", "Close")
	if err != nil {
		return v, err
	}
	var d closeData
	for _, e := range h.Entries {
		d.Found = d.Found || e.InForce && e.Kind == "seen" && e.State == "failed"
	}
	d.Drive, err = known(s, r, &v, "drive", list(s.desk.MustDrive))
	v.Data = d
	return v, err
}

// to is a page of a case.
func to(id, page string, with url.Values) string {
	p := "/case/" + url.PathEscape(id)
	if page != "" {
		p += "/" + page
	}
	if len(with) > 0 {
		p += "?" + with.Encode()
	}
	return p
}
