// Package contract tests what engine.Casebook promises. Every store runs it:
// a store that passes can stand in for another.
package contract

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"slipcase/engine"
	"slipcase/engine/fold"
	"slipcase/engine/quantity"
	"slipcase/internal/size"
)

var bg = context.Background()

// Open makes an empty casebook that takes its times from clock; it closes it
// when the test ends.
type Open func(t testing.TB, clock func() time.Time) engine.Casebook

// Run tests a store.
func Run(t *testing.T, open Open) {
	t.Run("EveryKindComesBack", func(t *testing.T) { testEveryKindComesBack(t, open) })
	t.Run("RefusedEntries", func(t *testing.T) { testRefusedEntries(t, open) })
	t.Run("KeysMakeRetriesHarmless", func(t *testing.T) { testKeysMakeRetriesHarmless(t, open) })
	t.Run("GoesOn", func(t *testing.T) { testGoesOn(t, open) })
	t.Run("ClockSetBack", func(t *testing.T) { testClockSetBack(t, open) })
	t.Run("List", func(t *testing.T) { testList(t, open) })
	t.Run("ComeBack", func(t *testing.T) { testComeBack(t, open) })
	t.Run("OpensWithEntries", func(t *testing.T) { testOpensWithEntries(t, open) })
	t.Run("Each", func(t *testing.T) { testEach(t, open) })
	t.Run("Pages", func(t *testing.T) { testPages(t, open) })
	t.Run("ListAgreesWithFold", func(t *testing.T) { testListAgreesWithFold(t, open) })
	t.Run("RescueOfSoundBook", func(t *testing.T) { testRescueOfSoundBook(t, open) })
	t.Run("Canceled", func(t *testing.T) { testCanceled(t, open) })
}

// What is sound is rescued whole: the same bytes as an export.
func testRescueOfSoundBook(t *testing.T, open Open) {
	b := open(t, Steady)
	first := OpenCase(t, b, engine.Opening{Title: "slips in third"})
	Append(t, b, first, EveryBody()...)
	OpenCase(t, b, engine.Opening{Title: "no reverse"})
	var whole, saved bytes.Buffer
	if err := b.Export(bg, &whole); err != nil {
		t.Fatal(err)
	}
	res, err := b.Rescue(bg, &saved)
	if err != nil {
		t.Fatal(err)
	}
	if len(res.Lost) > 0 || res.Cases != 2 || res.Entries != len(EveryBody()) {
		t.Errorf("%+v", res)
	}
	if d := cmp.Diff(whole.String(), saved.String()); d != "" {
		t.Error(d)
	}
	if err := b.Check(bg); err != nil {
		t.Error(err)
	}
}

func testEveryKindComesBack(t *testing.T, open Open) {
	b := open(t, Steady)
	o := engine.Opening{Unit: "northfork-4", Title: "slips in third", Vehicle: "delivery van 7", Words: "it revs up", RulesHash: "ab12", By: "front desk", At: Steady(), Key: "k1"}
	id, err := b.OpenCase(bg, o)
	if err != nil {
		t.Fatal(err)
	}
	if id != "26-0001" {
		t.Errorf("id %s, want 26-0001", id)
	}
	kinds := map[engine.EntryKind]bool{}
	var want []engine.Entry
	for i, body := range EveryBody() {
		kinds[body.EntryKind()] = true
		want = append(want, engine.Entry{Seq: int64(i + 1), By: "bench 1", At: Steady(), Key: fmt.Sprint("e", i), Body: body})
	}
	for _, k := range engine.EntryKinds {
		if !kinds[k] && k != engine.EntryComeBack { // see testComeBack
			t.Errorf("no entry of kind %s is tried", k)
		}
	}
	seqs, err := b.Append(bg, id, want...)
	if err != nil {
		t.Fatal(err)
	}
	if len(seqs) != len(want) || seqs[len(seqs)-1] != int64(len(want)) {
		t.Errorf("numbers %v", seqs)
	}
	same := cmp.Comparer(func(a, b time.Time) bool { return a.Equal(b) })
	rec := Get(t, b, id)
	if d := cmp.Diff(engine.CaseRecord{ID: id, Opening: o, Entries: want}, rec, same); d != "" {
		t.Error(d)
	}
	if last, err := b.Last(bg, id); err != nil || last != int64(len(want)) {
		t.Errorf("last %d, %v", last, err)
	}
}

func testRefusedEntries(t *testing.T, open Open) {
	b := open(t, Steady)
	id := OpenCase(t, b, engine.Opening{})
	Append(t, b, id, engine.Note{Text: "first"})
	for _, tc := range []struct {
		name string
		body engine.Body
		want string
	}{
		{"no body", nil, "says nothing"},
		{"no finding", engine.Report{State: engine.Present}, "body.finding"},
		{"no state", engine.Report{Finding: "whine"}, "body.state"},
		{"no quantity", engine.Reading{Name: "line_pressure"}, "body.value.text"},
		{"dimension", engine.Reading{Name: "line_pressure", Value: quantity.Quantity{Text: "3 apples", Dim: "apples"}}, "body.value.dim"},
		{"failed without mode", engine.Seen{Component: "pump"}, "body.mode"},
		{"cleared with mode", engine.Seen{Component: "pump", Mode: "worn", Cleared: true}, "body.mode"},
		{"reading of a step", engine.StepDone{Step: "pan", Readings: []engine.Reading{{}}}, "body.readings[0].name"},
		{"empty note", engine.Note{Text: " "}, "body.text"},
		{"not UTF-8", engine.Note{Text: "a\xffb"}, "UTF-8"},
		{"NUL", engine.Note{Text: "a\x00b"}, "NUL"},
		{"endless", engine.Note{Text: strings.Repeat("a", 64<<10+1)}, "the most is"},
		{"retraction of nothing", engine.Retraction{Of: 9}, "no entry 9"},
		{"retraction of the opening", engine.Retraction{}, "no entry 0"},
		{"outcome", engine.Closing{Outcome: engine.CaseOpen}, "body.outcome"},
		{"comeback of nothing", engine.Closing{Outcome: engine.CaseComeBack}, "body.earlier"},
		{"fixed with an earlier case", engine.Closing{Outcome: engine.CaseFixed, Earlier: "25-0001"}, "body.earlier"},
		{"comeback of itself", engine.Closing{Outcome: engine.CaseComeBack, Earlier: id}, "of itself"},
		{"comeback of an unknown case", engine.Closing{Outcome: engine.CaseComeBack, Earlier: "25-0777"}, "no case"},
		{"opened as the comeback of nothing", engine.ComeBack{}, "body.earlier"},
		{"opened as the comeback of itself", engine.ComeBack{Earlier: id}, "of itself"},
		{"opened as the comeback of an unknown case", engine.ComeBack{Earlier: "25-0777"}, "no case"},
		{"drive without place", engine.Closing{Outcome: engine.CaseFixed, Drive: []engine.DriveResult{{OK: true}}}, "body.drive[0].place"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			_, err := b.Append(bg, id, engine.Entry{Body: engine.Note{Text: "goes with it"}}, engine.Entry{Body: tc.body})
			if !errors.Is(err, engine.ErrBadEntry) || !strings.Contains(err.Error(), tc.want) {
				t.Errorf("error %v, want one with %q", err, tc.want)
			}
		})
	}
	if rec := Get(t, b, id); len(rec.Entries) != 1 {
		t.Errorf("refused entries left %d entries, want 1", len(rec.Entries))
	}
	if _, err := b.Append(bg, "26-0099", engine.Entry{Body: engine.Note{Text: "x"}}); !errors.Is(err, engine.ErrNoCase) {
		t.Errorf("error %v, want no such case", err)
	}
	if _, err := b.OpenCase(bg, engine.Opening{}); !errors.Is(err, engine.ErrBadEntry) {
		t.Errorf("error %v, want a refusal without unit", err)
	}
}

func testKeysMakeRetriesHarmless(t *testing.T, open Open) {
	b := open(t, Steady)
	o := engine.Opening{Unit: "northfork-4", Title: "a", Key: "tablet-1"}
	first := OpenCase(t, b, o)
	o.At = Steady().Add(time.Minute) // a retry has another time
	if again := OpenCase(t, b, o); again != first {
		t.Errorf("opened %s and %s with one key", first, again)
	}
	o.Title = "b"
	if _, err := b.OpenCase(bg, o); !errors.Is(err, engine.ErrKeyReused) {
		t.Errorf("error %v, want key reused", err)
	}
	e := engine.Entry{Key: "n1", Body: engine.Note{Text: "once"}}
	for range 3 {
		e.At = e.At.Add(time.Minute)
		if seqs, err := b.Append(bg, first, e); err != nil || !slices.Equal(seqs, []int64{1}) {
			t.Errorf("numbers %v, %v", seqs, err)
		}
	}
	// Twice in one call, and beside a new one.
	seqs, err := b.Append(bg, first, e, engine.Entry{Key: "n2", Body: engine.Note{Text: "new"}}, e)
	if err != nil || !slices.Equal(seqs, []int64{1, 2, 1}) {
		t.Errorf("numbers %v, %v", seqs, err)
	}
	e.Body = engine.Note{Text: "twice"}
	if _, err := b.Append(bg, first, e); !errors.Is(err, engine.ErrKeyReused) {
		t.Errorf("error %v, want key reused", err)
	}
	e = engine.Entry{Key: "n1", By: "bench 2", Body: engine.Note{Text: "once"}}
	if _, err := b.Append(bg, first, e); !errors.Is(err, engine.ErrKeyReused) {
		t.Errorf("the key of somebody else: error %v, want key reused", err)
	}
	// Another case may use the same key.
	if seqs, err := b.Append(bg, OpenCase(t, b, engine.Opening{}), e); err != nil || seqs[0] != 1 {
		t.Errorf("numbers %v, %v", seqs, err)
	}
}

// Numbers go by sequence: a clock set back changes the year in the id only.
func testClockSetBack(t *testing.T, open Open) {
	now := time.Date(2026, 11, 3, 9, 0, 0, 0, time.UTC)
	b := open(t, func() time.Time { return now })
	ids := []string{OpenCase(t, b, engine.Opening{Title: "a"})}
	Append(t, b, ids[0], engine.Note{Text: "one"})
	now = time.Date(1999, 1, 1, 0, 0, 0, 0, time.UTC)
	ids = append(ids, OpenCase(t, b, engine.Opening{Title: "b"}))
	Append(t, b, ids[0], engine.Note{Text: "two"})
	now = time.Date(2026, 11, 3, 9, 5, 0, 0, time.UTC)
	ids = append(ids, OpenCase(t, b, engine.Opening{Title: "c"}))
	if want := []string{"26-0001", "99-0002", "26-0003"}; !slices.Equal(ids, want) {
		t.Errorf("ids %v, want %v", ids, want)
	}
	c, err := fold.Fold(Get(t, b, ids[0]))
	if err != nil {
		t.Fatal(err)
	}
	if want := []engine.Note{{Text: "one"}, {Text: "two"}}; !slices.Equal(c.Notes, want) {
		t.Errorf("notes %v, want %v", c.Notes, want)
	}
	list, err := b.List(bg, engine.CaseFilter{}, engine.CasePage{})
	if err != nil {
		t.Fatal(err)
	}
	if got := IDs(list); !slices.Equal(got, []string{"26-0003", "99-0002", "26-0001"}) {
		t.Errorf("list %v", got)
	}
}

func testList(t *testing.T, open Open) {
	b := open(t, Steady)
	day := func(d int) time.Time { return time.Date(2026, 3, d, 12, 0, 0, 0, time.UTC) }
	slips := engine.Report{Finding: "slips@D/3:hot", State: engine.Present, By: "driver"}
	whine := engine.Report{Finding: "whine", State: engine.Present, By: "driver"}
	burnt := engine.Seen{Component: "direct", Mode: "burnt"}
	one := OpenCase(t, b, engine.Opening{Title: "Slips in third", Vehicle: "Van VX-204", Words: "revs up on the hill", At: day(1)})
	two := OpenCase(t, b, engine.Opening{Title: "Whines", Vehicle: "coupé", Unit: "southbay-6", At: day(2)})
	three := OpenCase(t, b, engine.Opening{Title: "slipping again", At: day(3)})
	four := OpenCase(t, b, engine.Opening{Title: `odd "quoted" AND OR NEAR( *`, At: day(4)})
	Append(t, b, one, slips, burnt, engine.Closing{Outcome: engine.CaseFixed})
	Append(t, b, two, whine, slips, engine.Retraction{Of: 2}, engine.Seen{Component: "direct", Cleared: true}, engine.Note{Text: "Pumpe heult bei Kälte"})
	Append(t, b, three, slips, burnt, engine.Seen{Component: "pump", Mode: "worn"}, engine.Closing{Outcome: engine.CaseComeBack, Earlier: one})
	Append(t, b, four, engine.Report{Finding: "slips@D/3", State: engine.Absent, By: "driver"}, engine.Closing{Outcome: engine.CaseAbandoned}, engine.Reopening{})

	for _, tc := range []struct {
		name   string
		filter engine.CaseFilter
		want   []string
	}{
		{"all", engine.CaseFilter{}, []string{four, three, two, one}},
		{"unit", engine.CaseFilter{Unit: "southbay-6"}, []string{two}},
		{"open", engine.CaseFilter{Status: engine.CaseOpen}, []string{four, two}},
		{"closed", engine.CaseFilter{Closed: true}, []string{three, one}},
		{"comeback", engine.CaseFilter{Status: engine.CaseComeBack}, []string{three}},
		{"comebacks of one", engine.CaseFilter{Earlier: one}, []string{three}},
		{"since", engine.CaseFilter{Since: day(3)}, []string{four, three}},
		{"finding anywhere", engine.CaseFilter{Finding: "slips"}, []string{three, one}},
		{"finding at a place", engine.CaseFilter{Finding: "slips@D/3"}, []string{three, one}},
		{"finding in a condition", engine.CaseFilter{Finding: "slips:hot"}, []string{three, one}},
		{"finding elsewhere", engine.CaseFilter{Finding: "slips@D/2"}, []string{}},
		{"culprit", engine.CaseFilter{Culprit: "direct"}, []string{three, one}},
		{"culprit and mode", engine.CaseFilter{Culprit: "pump/worn"}, []string{three}},
		{"culprit, other mode", engine.CaseFilter{Culprit: "pump/scored"}, []string{}},
		{"word of the title, begun", engine.CaseFilter{Text: "SLIP"}, []string{three, one}},
		{"two words, two fields", engine.CaseFilter{Text: "hill van"}, []string{one}},
		{"word with a sign", engine.CaseFilter{Text: "vx-204"}, []string{one}},
		{"accents", engine.CaseFilter{Text: "coupe kalte"}, []string{two}},
		{"case id", engine.CaseFilter{Text: "26-0003"}, []string{three}},
		{"words of the query language", engine.CaseFilter{Text: `"quoted" AND or near( *`}, []string{four}},
		{"all at once", engine.CaseFilter{Unit: "northfork-4", Text: "slip", Finding: "slips", Culprit: "direct", Closed: true, Since: day(2)}, []string{three}},
	} {
		t.Run(tc.name, func(t *testing.T) {
			l, err := b.List(bg, tc.filter, engine.CasePage{})
			if err != nil {
				t.Fatal(err)
			}
			if got := IDs(l); !slices.Equal(got, tc.want) || l.Total != len(tc.want) || l.Next != "" {
				t.Errorf("got %v of %d, next %q; want %v", got, l.Total, l.Next, tc.want)
			}
		})
	}
	l, err := b.List(bg, engine.CaseFilter{}, engine.CasePage{})
	if err != nil {
		t.Fatal(err)
	}
	if want := [4]int{2, 1, 1, 0}; l.Counts != want {
		t.Errorf("counts %v, want %v", l.Counts, want)
	}
	s := l.Cases[1]
	if s.Earlier != one || s.Entries != 4 || !slices.Equal(s.Culprits, []string{"direct/burnt", "pump/worn"}) || !s.Opened.Equal(day(3)) || !s.Last.Equal(Steady()) {
		t.Errorf("line %+v", s)
	}
	for _, tc := range []struct {
		filter engine.CaseFilter
		page   engine.CasePage
		want   string
	}{
		{engine.CaseFilter{Status: "lost"}, engine.CasePage{}, "none of open, fixed"},
		{engine.CaseFilter{Text: "--- !"}, engine.CasePage{}, "no word"},
		{engine.CaseFilter{}, engine.CasePage{Limit: 1001}, "ask for"},
		{engine.CaseFilter{}, engine.CasePage{After: "26-0999"}, "no such case"},
	} {
		if _, err := b.List(bg, tc.filter, tc.page); err == nil || !strings.Contains(err.Error(), tc.want) {
			t.Errorf("%+v: error %v, want one with %q", tc.filter, err, tc.want)
		}
	}
}

// Each gives every case whole, once and in order of number, those of a unit
// alone where one is named, and ends with the error of who asked.
func testEach(t *testing.T, open Open) {
	b := open(t, Steady)
	var want, late []engine.CaseRecord
	for i := range 12 {
		o := engine.Opening{Unit: "northfork-4", Title: fmt.Sprint("case ", i)}
		if i%3 == 1 {
			o.Unit = "northfork-4-late"
		}
		id := OpenCase(t, b, o)
		for j := range i {
			Append(t, b, id, engine.Note{Text: fmt.Sprint("note ", j)})
		}
		rec := Get(t, b, id)
		if want = append(want, rec); i%3 == 1 {
			late = append(late, rec)
		}
	}
	for unit, want := range map[string][]engine.CaseRecord{"": want, "northfork-4-late": late, "harrow-3": nil} {
		var got []engine.CaseRecord
		err := b.Each(bg, unit, func(c engine.CaseRecord, of int) error {
			if of != len(want) {
				t.Errorf("unit %q: of %d cases, want %d", unit, of, len(want))
			}
			got = append(got, c)
			return nil
		})
		if d := cmp.Diff(want, got); err != nil || d != "" {
			t.Errorf("unit %q: %v\n%s", unit, err, d)
		}
	}
	enough, n := errors.New("enough"), 0
	err := b.Each(bg, "", func(engine.CaseRecord, int) error {
		if n++; n == 5 {
			return enough
		}
		return nil
	})
	if err != enough || n != 5 {
		t.Errorf("after %d cases: %v", n, err)
	}
}

// A case is opened with its first entries in one write: it is there with all of
// them or not at all, and a retry changes nothing.
func testOpensWithEntries(t *testing.T, open Open) {
	b := open(t, Steady)
	one := OpenCase(t, b, engine.Opening{Title: "slips in third"})
	o := engine.Opening{Unit: "northfork-4", Title: "slips again", Key: "o-1"}
	note := engine.Entry{Key: "o-1-1", Body: engine.Note{Text: "towed in"}}
	cases := func() int {
		l, err := b.List(bg, engine.CaseFilter{}, engine.CasePage{})
		if err != nil {
			t.Fatal(err)
		}
		return l.Total
	}
	for what, bad := range map[string]engine.Body{
		"an entry that says nothing":       engine.Note{},
		"the comeback of an unknown case":  engine.ComeBack{Earlier: "25-0777"},
		"an entry taken back that is not":  engine.Retraction{Of: 7},
		"the comeback of the case at hand": engine.ComeBack{Earlier: "26-0002"},
	} {
		if _, err := b.OpenCase(bg, o, note, engine.Entry{Key: "o-1-2", Body: bad}); !errors.Is(err, engine.ErrBadEntry) {
			t.Errorf("%s: %v", what, err)
		}
		if n := cases(); n != 1 {
			t.Fatalf("%s: %d cases, want the one from before", what, n)
		}
	}
	link := engine.Entry{Key: "o-1-2", Body: engine.ComeBack{Earlier: one}}
	for range 2 { // the second as after an answer that was lost
		id, err := b.OpenCase(bg, o, note, link)
		if err != nil {
			t.Fatal(err)
		}
		rec := Get(t, b, id)
		if len(rec.Entries) != 2 || rec.Entries[1].Body != link.Body || cases() != 2 {
			t.Errorf("case %s has %+v; %d cases", id, rec.Entries, cases())
		}
	}
	if l, err := b.List(bg, engine.CaseFilter{Earlier: one}, engine.CasePage{}); err != nil || l.Total != 1 {
		t.Errorf("%d comebacks, %v", l.Total, err)
	}
	if err := b.Check(bg); err != nil {
		t.Error(err)
	}
}

// A case that is opened as a comeback is found by the earlier one while it is
// open, after it is closed as fixed, and in a casebook that took its export;
// what is taken back is not.
func testComeBack(t *testing.T, open Open) {
	b := open(t, Steady)
	one := OpenCase(t, b, engine.Opening{Title: "slips in third"})
	Append(t, b, one, engine.Closing{Outcome: engine.CaseFixed})
	two := OpenCase(t, b, engine.Opening{Title: "slips again"})
	body := engine.ComeBack{Earlier: one, Note: "after two weeks"}
	Append(t, b, two, body)
	of := func(b engine.Casebook) []string {
		l, err := b.List(bg, engine.CaseFilter{Earlier: one}, engine.CasePage{})
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range l.Cases {
			if c.Earlier != one {
				t.Errorf("case %s is listed as the comeback of %q, want %s", c.ID, c.Earlier, one)
			}
		}
		return IDs(l)
	}
	if got := of(b); !slices.Equal(got, []string{two}) {
		t.Errorf("comebacks while open: %v", got)
	}
	if got := Get(t, b, two).Entries[0].Body; got != engine.Body(body) {
		t.Errorf("it is kept as %+v", got)
	}
	if l, err := b.List(bg, engine.CaseFilter{Text: "weeks"}, engine.CasePage{}); err != nil || !slices.Equal(IDs(l), []string{two}) {
		t.Errorf("found by its note: %v, %v", IDs(l), err)
	}
	Append(t, b, two, engine.Closing{Outcome: engine.CaseFixed})
	if got := of(b); !slices.Equal(got, []string{two}) {
		t.Errorf("comebacks once it is fixed: %v", got)
	}
	var out, again, saved bytes.Buffer
	if err := b.Export(bg, &out); err != nil {
		t.Fatal(err)
	}
	other := open(t, Steady)
	if _, err := other.Import(bg, "shop.jsonl", bytes.NewReader(out.Bytes())); err != nil {
		t.Fatal(err)
	}
	if got := of(other); !slices.Equal(got, []string{two}) {
		t.Errorf("comebacks after an import: %v", got)
	}
	if err := other.Export(bg, &again); err != nil || again.String() != out.String() {
		t.Errorf("the export of the import differs (%v)", err)
	}
	if res, err := other.Rescue(bg, &saved); err != nil || len(res.Lost) > 0 || saved.String() != out.String() {
		t.Errorf("rescued: %+v, %v", res, err)
	}
	// Without the earlier case no casebook takes it.
	var alone bytes.Buffer
	if err := b.Export(bg, &alone, two); err != nil {
		t.Fatal(err)
	}
	if _, err := open(t, Steady).Import(bg, "shop.jsonl", &alone); err == nil || !strings.Contains(err.Error(), one) {
		t.Errorf("a comeback without the case that it names: error %v", err)
	}
	Append(t, b, two, engine.Retraction{Of: 1})
	if got := of(b); len(got) > 0 {
		t.Errorf("comebacks once that is taken back: %v", got)
	}
}

func testPages(t *testing.T, open Open) {
	b := open(t, Steady)
	var want []string
	for i := range 23 {
		id := OpenCase(t, b, engine.Opening{Title: fmt.Sprint("case ", i)})
		if i%3 == 0 {
			Append(t, b, id, engine.Closing{Outcome: engine.CaseFixed})
		} else {
			want = append([]string{id}, want...)
		}
	}
	var got []string
	p := engine.CasePage{Limit: 4}
	for pages := 0; ; pages++ {
		l, err := b.List(bg, engine.CaseFilter{Status: engine.CaseOpen}, p)
		if err != nil {
			t.Fatal(err)
		}
		if l.Total != len(want) {
			t.Errorf("page %d: total %d, want %d", pages, l.Total, len(want))
		}
		got = append(got, IDs(l)...)
		// A case opened meanwhile moves no page.
		if pages == 1 {
			id := OpenCase(t, b, engine.Opening{Title: "meanwhile"})
			Append(t, b, id, engine.Closing{Outcome: engine.CaseAbandoned})
		}
		if p.After = l.Next; p.After == "" {
			break
		}
	}
	if !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}

// Whatever is appended, the lists agree with a fold of every case.
func testListAgreesWithFold(t *testing.T, open Open) {
	b := open(t, Steady)
	rapid.Check(t, func(t *rapid.T) {
		id, err := b.OpenCase(bg, engine.Opening{Unit: "northfork-4"})
		if err != nil {
			t.Fatal(err)
		}
		for n := rapid.IntRange(0, 8).Draw(t, "n"); n > 0; n-- {
			bodies := EveryBody()
			body := rapid.SampledFrom(bodies).Draw(t, "body")
			if _, retracts := body.(engine.Retraction); retracts {
				last, err := b.Last(bg, id)
				if err != nil || last == 0 {
					continue
				}
				body = engine.Retraction{Of: rapid.Int64Range(1, last).Draw(t, "of")}
			}
			if _, err := b.Append(bg, id, engine.Entry{Body: body}); err != nil {
				t.Fatal(err)
			}
		}
		rec, err := b.Get(bg, id)
		if err != nil {
			t.Fatal(err)
		}
		c, err := fold.Fold(rec)
		if err != nil {
			t.Fatal(err)
		}
		l, err := b.List(bg, engine.CaseFilter{}, engine.CasePage{Limit: 1})
		if err != nil {
			t.Fatal(err)
		}
		if s := l.Cases[0]; s.ID != id || s.Status != c.Status || !slices.Equal(s.Culprits, c.Culprits()) || s.Entries != c.LastSeq {
			t.Fatalf("list says %+v, the fold %+v", s, c)
		}
	})
	if err := b.Check(bg); err != nil {
		t.Error(err)
	}
}

func testCanceled(t *testing.T, open Open) {
	b := open(t, Steady)
	ctx, cancel := context.WithCancel(bg)
	cancel()
	if _, err := b.OpenCase(ctx, engine.Opening{Unit: "x"}); !errors.Is(err, ctx.Err()) {
		t.Errorf("open: %v", err)
	}
	if _, err := b.List(ctx, engine.CaseFilter{}, engine.CasePage{}); !errors.Is(err, ctx.Err()) {
		t.Errorf("list: %v", err)
	}
	if err := b.Each(ctx, "", func(engine.CaseRecord, int) error { return nil }); !errors.Is(err, ctx.Err()) {
		t.Errorf("each: %v", err)
	}
	if l, err := b.List(bg, engine.CaseFilter{}, engine.CasePage{}); err != nil || l.Total != 0 {
		t.Errorf("afterwards %d cases, %v", l.Total, err)
	}
	// In the midst of it, wherever it is looked at: told as what it is, and what
	// was to be written is there whole or not at all.
	id := OpenCase(t, b, engine.Opening{Title: "slips in third"})
	Append(t, b, id, EveryBody()...)
	was := len(Get(t, b, id).Entries)
	for what, do := range map[string]func(context.Context) error{
		"check": b.Check,
		"list": func(ctx context.Context) error {
			_, err := b.List(ctx, engine.CaseFilter{}, engine.CasePage{})
			return err
		},
		"get": func(ctx context.Context) error { _, err := b.Get(ctx, id); return err },
		"each": func(ctx context.Context) error {
			return b.Each(ctx, "", func(engine.CaseRecord, int) error { return nil })
		},
		"export": func(ctx context.Context) error { return b.Export(ctx, io.Discard) },
		"append": func(ctx context.Context) error {
			_, err := b.Append(ctx, id, engine.Entry{Body: engine.Note{Text: "one"}}, engine.Entry{Body: engine.Note{Text: "two"}})
			return err
		},
	} {
		stopped, done := 0, 0
		for looks := int64(0); done < 3 && looks < 2000; looks += 1 + looks/size.Of[int64](12, 1<<40, 1<<40) {
			ctx := EndsAfter(looks)
			err := do(ctx)
			switch {
			case err == nil:
				done++
			case errors.Is(err, context.Canceled):
				stopped++
			default:
				t.Errorf("%s, ended after %d looks: %v", what, looks, err)
			}
			ctx.End()
		}
		if stopped < 3 || done < 3 {
			t.Errorf("%s: ended in the midst of it %d times, done %d times", what, stopped, done)
		}
	}
	if n := len(Get(t, b, id).Entries) - was; n%2 != 0 || n < 6 {
		t.Errorf("%d entries of pairs", n)
	}
	if err := b.Check(bg); err != nil {
		t.Error(err)
	}
}

// A case that goes on as another: both are written, or neither.
func testGoesOn(t *testing.T, open Open) {
	b := open(t, Steady)
	old := OpenCase(t, b, engine.Opening{Title: "slips in third"})
	Append(t, b, old, engine.Note{Text: "smells burnt"})
	o := engine.Opening{Unit: "northfork-4-late", Title: "slips in third", Key: "go-1"}
	entries := []engine.Entry{{Key: "b-1", Body: engine.Note{Text: "smells burnt"}}, {Key: "b-2", Body: engine.StepDone{Step: "pan_off"}}}
	closing := func(id string) []engine.Entry {
		return []engine.Entry{{Key: "b-close", Body: engine.Closing{Outcome: engine.CaseAbandoned, Note: "goes on as " + id}}}
	}
	count := func() int {
		l, err := b.List(bg, engine.CaseFilter{}, engine.CasePage{})
		if err != nil {
			t.Fatal(err)
		}
		return l.Total
	}
	bad := func(id string) []engine.Entry { return []engine.Entry{{Body: engine.Note{Text: " "}}} }
	for _, x := range []struct {
		what    string
		from    string
		entries []engine.Entry
		last    func(string) []engine.Entry
		want    error
	}{
		{"an entry that says nothing", old, []engine.Entry{{Body: engine.Note{}}}, closing, engine.ErrBadEntry},
		{"an end that says nothing", old, entries, bad, engine.ErrBadEntry},
		{"no such case", "26-0099", entries, closing, engine.ErrNoCase},
	} {
		if _, err := b.GoOn(bg, x.from, o, x.entries, x.last); !errors.Is(err, x.want) {
			t.Errorf("%s: %v", x.what, err)
		}
		if n, rec := count(), Get(t, b, old); n != 1 || len(rec.Entries) != 1 {
			t.Fatalf("%s: %d cases, %d entries of the old one", x.what, n, len(rec.Entries))
		}
	}
	id, err := b.GoOn(bg, old, o, entries, closing)
	if err != nil {
		t.Fatal(err)
	}
	// Once more, as after an answer that was lost.
	if again, err := b.GoOn(bg, old, o, entries, closing); err != nil || again != id {
		t.Errorf("again: %s, %v; want %s", again, err, id)
	}
	now, was := Get(t, b, id), Get(t, b, old)
	if now.Opening.Unit != "northfork-4-late" || len(now.Entries) != 2 || now.Entries[1].Body.EntryKind() != engine.EntryStep {
		t.Errorf("goes on as %+v", now)
	}
	if c, ok := was.Entries[len(was.Entries)-1].Body.(engine.Closing); len(was.Entries) != 2 || !ok || c.Note != "goes on as "+id {
		t.Errorf("the old case ends with %+v", was.Entries)
	}
	if count() != 2 {
		t.Errorf("%d cases", count())
	}
	if err := b.Check(bg); err != nil {
		t.Error(err)
	}
}
