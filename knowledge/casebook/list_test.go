package casebook

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"slipcase/engine"
	"slipcase/engine/fold"
)

func TestList(t *testing.T) {
	b := newBook(t)
	day := func(d int) time.Time { return time.Date(2026, 3, d, 12, 0, 0, 0, time.UTC) }
	slips := engine.Report{Finding: "slips@D/3:hot", State: engine.Present, By: "driver"}
	whine := engine.Report{Finding: "whine", State: engine.Present, By: "driver"}
	burnt := engine.Seen{Component: "direct", Mode: "burnt"}
	one := openCase(t, b, engine.Opening{Title: "Slips in third", Vehicle: "Van VX-204", Words: "revs up on the hill", At: day(1)})
	two := openCase(t, b, engine.Opening{Title: "Whines", Vehicle: "coupé", Unit: "southbay-6", At: day(2)})
	three := openCase(t, b, engine.Opening{Title: "slipping again", At: day(3)})
	four := openCase(t, b, engine.Opening{Title: `odd "quoted" AND OR NEAR( *`, At: day(4)})
	add(t, b, one, slips, burnt, engine.Closing{Outcome: engine.CaseFixed})
	add(t, b, two, whine, slips, engine.Retraction{Of: 2}, engine.Seen{Component: "direct", Cleared: true}, engine.Note{Text: "Pumpe heult bei Kälte"})
	add(t, b, three, slips, burnt, engine.Seen{Component: "pump", Mode: "worn"}, engine.Closing{Outcome: engine.CaseComeBack, Earlier: one})
	add(t, b, four, engine.Report{Finding: "slips@D/3", State: engine.Absent, By: "driver"}, engine.Closing{Outcome: engine.CaseAbandoned}, engine.Reopening{})

	for _, tc := range []struct {
		name   string
		filter engine.CaseFilter
		want   []string
	}{
		{"all", engine.CaseFilter{}, []string{four, three, two, one}},
		{"unit", engine.CaseFilter{Unit: "southbay-6"}, []string{two}},
		{"open", engine.CaseFilter{Status: engine.CaseOpen}, []string{four, two}},
		{"closed", engine.CaseFilter{Closed: true}, []string{three, one}},
		{"come-back", engine.CaseFilter{Status: engine.CaseComeBack}, []string{three}},
		{"come-backs of one", engine.CaseFilter{Earlier: one}, []string{three}},
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
			if got := idsOf(l); !slices.Equal(got, tc.want) || l.Total != len(tc.want) || l.Next != "" {
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
	if s.Earlier != one || s.Entries != 4 || !slices.Equal(s.Culprits, []string{"direct/burnt", "pump/worn"}) || !s.Opened.Equal(day(3)) || !s.Last.Equal(steady()) {
		t.Errorf("line %+v", s)
	}
	for _, tc := range []struct {
		filter engine.CaseFilter
		page   engine.CasePage
		want   string
	}{
		{engine.CaseFilter{Status: "lost"}, engine.CasePage{}, "none of open, fixed"},
		{engine.CaseFilter{Text: "--- !"}, engine.CasePage{}, "no word"},
		{engine.CaseFilter{}, engine.CasePage{Limit: maxPage + 1}, "ask for"},
		{engine.CaseFilter{}, engine.CasePage{After: "26-0999"}, "no such case"},
	} {
		if _, err := b.List(bg, tc.filter, tc.page); err == nil || !strings.Contains(err.Error(), tc.want) {
			t.Errorf("%+v: error %v, want one with %q", tc.filter, err, tc.want)
		}
	}
}

func TestPages(t *testing.T) {
	b := newBook(t)
	var want []string
	for i := range 23 {
		id := openCase(t, b, engine.Opening{Title: fmt.Sprint("case ", i)})
		if i%3 == 0 {
			add(t, b, id, engine.Closing{Outcome: engine.CaseFixed})
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
		got = append(got, idsOf(l)...)
		// A case opened meanwhile moves no page.
		if pages == 1 {
			id := openCase(t, b, engine.Opening{Title: "meanwhile"})
			add(t, b, id, engine.Closing{Outcome: engine.CaseAbandoned})
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
func TestListAgreesWithFold(t *testing.T) {
	b := newBook(t)
	rapid.Check(t, func(t *rapid.T) {
		id, err := b.OpenCase(bg, engine.Opening{Unit: "northfork-4"})
		if err != nil {
			t.Fatal(err)
		}
		for n := rapid.IntRange(0, 8).Draw(t, "n"); n > 0; n-- {
			bodies := everyBody()
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

func TestCancelled(t *testing.T) {
	b := newBook(t)
	ctx, cancel := newCancelled()
	defer cancel()
	if _, err := b.OpenCase(ctx, engine.Opening{Unit: "x"}); !errors.Is(err, ctx.Err()) {
		t.Errorf("open: %v", err)
	}
	if _, err := b.List(ctx, engine.CaseFilter{}, engine.CasePage{}); !errors.Is(err, ctx.Err()) {
		t.Errorf("list: %v", err)
	}
	if l, err := b.List(bg, engine.CaseFilter{}, engine.CasePage{}); err != nil || l.Total != 0 {
		t.Errorf("afterwards %d cases, %v", l.Total, err)
	}
}
