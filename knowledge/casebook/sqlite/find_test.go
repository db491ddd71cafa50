package sqlite

import (
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"slipcase/engine"
	"slipcase/engine/fold"
	"slipcase/knowledge/casebook/internal/records"
)

// mixedBook has invented cases of which some came by an import after younger
// ones, so that the order of rows is not that of numbers.
func mixedBook(t *testing.T) *Book {
	b := newBook(t)
	words := []string{"slips", "slipping", "whines", "bangs"}
	lot := func(year, from, n int) string {
		var text strings.Builder
		fmt.Fprintf(&text, `{"kind":"casebook","format":1,"cases":%d,"entries":%d}`+"\n", n, 5*n)
		for i := from; i < from+n; i++ {
			at := time.Date(2000+year, 1, 1, 8, 0, 0, 0, time.UTC).Add(time.Duration(i) * 24 * time.Hour)
			rec := engine.CaseRecord{ID: fmt.Sprintf("%02d-%04d", year, i), Opening: engine.Opening{
				Unit: fmt.Sprint("unit-", i%3), Title: words[i%4], Words: "warm " + words[i/4%4], At: at}}
			if i%11 == 0 {
				rec.Opening.At = time.Time{} // not known
			}
			end := engine.Body(engine.Closing{Outcome: []engine.CaseStatus{engine.CaseFixed, engine.CaseAbandoned}[i%5/4]})
			switch {
			case i%7 == 0:
				end = engine.Note{Text: "in the yard"}
			case i%6 == 1 && i > from+6:
				end = engine.Closing{Outcome: engine.CaseComeBack, Earlier: fmt.Sprintf("%02d-%04d", year, i-i%3-1)}
			}
			for j, body := range []engine.Body{
				engine.Report{Finding: fmt.Sprintf("%s@D/%d", words[i%3], i%4), State: engine.Present, By: "driver"},
				engine.Report{Finding: "slips@D/3:hot", State: []engine.State{engine.Present, engine.Absent}[i%2], By: "road_test"},
				engine.Report{Finding: "whines", State: []engine.State{engine.Absent, engine.Present, engine.Unknown}[i%3], By: "eye"},
				engine.Seen{Component: fmt.Sprint("component_", i%5), Mode: []string{"worn", "burnt"}[i%2]}, end,
			} {
				rec.Entries = append(rec.Entries, engine.Entry{Seq: int64(j + 1), By: "bench 1", At: at, Body: body})
			}
			lines, err := records.ExportCase(rec)
			if err != nil {
				t.Fatal(err)
			}
			for _, line := range lines {
				text.Write(append(line, '\n'))
			}
		}
		return text.String()
	}
	for _, l := range []string{lot(25, 101, 90), lot(24, 11, 60), lot(26, 301, 10)} {
		if _, err := b.Import(bg, "invented", strings.NewReader(l)); err != nil {
			t.Fatal(err)
		}
	}
	return b
}

// fits is the filter as engine.CaseFilter words it, on the fold of a case.
func fits(f engine.CaseFilter, rec engine.CaseRecord, c *fold.Case) bool {
	ok := (f.Unit == "" || f.Unit == c.Unit) && (f.Status == "" || f.Status == c.Status) && (!f.Closed || c.Status != engine.CaseOpen)
	if f.Earlier != "" {
		ok = ok && c.Closing != nil && c.Closing.Earlier == f.Earlier
	}
	if !f.Since.IsZero() {
		ok = ok && !rec.Opening.At.IsZero() && !rec.Opening.At.Before(f.Since)
	}
	if f.Finding != "" {
		want := engine.ParseFindingName(f.Finding)
		ok = ok && slices.ContainsFunc(c.Reports, func(r engine.Report) bool {
			n := engine.ParseFindingName(r.Finding)
			return r.State == engine.Present && n.Name == want.Name && (want.Place == "" || n.Place == want.Place) && (want.Condition == "" || n.Condition == want.Condition)
		})
	}
	if f.Culprit != "" {
		ok = ok && slices.ContainsFunc(c.Seen, func(s engine.Seen) bool {
			return !s.Cleared && (s.Component == f.Culprit || s.Component+"/"+s.Mode == f.Culprit)
		})
	}
	if f.Text != "" {
		text := strings.Fields(records.SearchText(c))
		for _, w := range strings.Fields(f.Text) {
			ok = ok && slices.ContainsFunc(text, func(x string) bool { return strings.HasPrefix(x, w) })
		}
	}
	return ok
}

// Whatever the filter and the page, a list is what a plain scan of all cases
// gives, whether rows are looked up one by one or met on the way.
func TestListIsAPlainScan(t *testing.T) {
	b := mixedBook(t)
	type folded struct {
		rec engine.CaseRecord
		c   *fold.Case
	}
	var all []folded // newest first
	if err := b.read(bg, "scan", func(tx *txn) error {
		return eachID(bg, tx, "", func(id string) error {
			h, err := b.load(bg, tx, id)
			if err != nil {
				return err
			}
			c, err := fold.Fold(h.Rec)
			all = append([]folded{{h.Rec, c}}, all...)
			return err
		})
	}); err != nil {
		t.Fatal(err)
	}
	if len(all) != 160 {
		t.Fatalf("%d cases", len(all))
	}
	books := map[string]*Book{"one by one": b}
	for name, narrow := range map[string]int{"all on the way": -1, "some of both": 20} {
		books[name] = openBook(t, b.Path(), Options{narrow: narrow})
	}
	met := 0
	rapid.Check(t, func(t *rapid.T) {
		one := func(label string, list ...string) string { return rapid.SampledFrom(list).Draw(t, label) }
		f := engine.CaseFilter{
			Unit:    one("unit", "", "", "", "unit-1", "unit-9"),
			Text:    one("text", "", "", "warm", "w", "slip", "slipping warm", "yard", "25-0101", "whines bangs", "none"),
			Finding: one("finding", "", "", "slips", "slips@D/3", "slips@D/3:hot", "slips:hot", "slipping@D/1", "whines", "bangs"),
			Culprit: one("culprit", "", "", "component_1", "component_1/worn", "component_9", "component_2/burnt"),
			Status:  engine.CaseStatus(one("status", "", "", "", "open", "fixed", "come_back", "abandoned")),
			Earlier: one("earlier", "", "", "", "", "", "25-0108", "24-0018"),
			Closed:  rapid.IntRange(0, 3).Draw(t, "closed") == 0,
		}
		if rapid.IntRange(0, 3).Draw(t, "since") == 0 {
			f.Since = time.Date(2025, 5, 1, 0, 0, 0, 0, time.UTC)
		}
		p := engine.CasePage{Limit: rapid.SampledFrom([]int{1, 3, 7, 50}).Draw(t, "limit")}
		first := true
		if rapid.Bool().Draw(t, "behind") {
			p.After = rapid.SampledFrom(all).Draw(t, "after").rec.ID
			first = false
		}
		var want engine.CaseList
		var ids []string
		behind := first
		for _, x := range all {
			if fits(f, x.rec, x.c) {
				want.Total++
				want.Counts[slices.Index(engine.CaseStatuses, x.c.Status)]++
				if behind {
					ids = append(ids, x.rec.ID)
				}
			}
			behind = behind || x.rec.ID == p.After
		}
		if len(ids) > p.Limit {
			ids = ids[:p.Limit]
			want.Next = ids[p.Limit-1]
		}
		met += len(ids)
		for name, b := range books {
			got, err := b.List(bg, f, p)
			if err != nil {
				t.Fatal(err)
			}
			if !slices.Equal(idsOf(got), append([]string{}, ids...)) || got.Total != want.Total || got.Counts != want.Counts || got.Next != want.Next {
				t.Fatalf("%s, %+v, %+v:\ngot  %v of %d %v, next %q\nwant %v of %d %v, next %q", name, f, p, idsOf(got), got.Total, got.Counts, got.Next, ids, want.Total, want.Counts, want.Next)
			}
		}
	})
	if met == 0 {
		t.Error("no filter found a case")
	}
}

func TestRowSet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rows := rapid.SliceOfDistinct(rapid.Int64Range(0, 200), rapid.ID).Draw(t, "rows")
		other := rapid.SliceOfDistinct(rapid.Int64Range(0, 200), rapid.ID).Draw(t, "other")
		make := func(list []int64) rowSet {
			s := make(rowSet, 200/64+1)
			for _, r := range list {
				s.add(r)
			}
			return s
		}
		slices.Sort(rows)
		s := make(rows)
		if !slices.Equal(s.rows(), rows) || s.len() != len(rows) {
			t.Fatalf("%v came back as %v", rows, s.rows())
		}
		both, rest := make(rows), make(rows)
		both.and(make(other))
		rest.without(make(other))
		for r := int64(-1); r < 300; r++ {
			in, out := slices.Contains(rows, r), slices.Contains(other, r)
			if s.has(r) != in || both.has(r) != (in && out) || rest.has(r) != (in && !out) {
				t.Fatalf("row %d of %v and %v", r, rows, other)
			}
		}
	})
}

func TestEachRow(t *testing.T) {
	for _, tc := range []struct {
		list string
		want []int64
		bad  bool
	}{
		{"", nil, false}, {"7", []int64{7}, false}, {"1,20,300", []int64{1, 20, 300}, false},
		{"-1", nil, true}, {"1,x", nil, true}, {"1234567890123456789", nil, true},
	} {
		var got []int64
		err := (&Book{}).eachRow([]byte(tc.list), func(r int64) error { got = append(got, r); return nil })
		if (err != nil) != tc.bad || !tc.bad && !slices.Equal(got, tc.want) {
			t.Errorf("%q: %v, %v", tc.list, got, err)
		}
	}
}

// An index that names a row beyond all cases is damage, not a missing line.
func TestListFromDamagedIndex(t *testing.T) {
	for _, narrow := range []int{0, -1} {
		b := openBook(t, filepath.Join(t.TempDir(), "cases.db"), Options{narrow: narrow})
		id := openCase(t, b, engine.Opening{})
		add(t, b, id, engine.Report{Finding: "whine", State: engine.Present, By: "driver"})
		for _, row := range []int64{99, -5} {
			for _, q := range []string{"PRAGMA foreign_keys = OFF", fmt.Sprintf(`UPDATE present SET "case" = %d`, row)} {
				if _, err := b.writer.ExecContext(bg, q); err != nil {
					t.Fatal(err)
				}
			}
			if _, err := b.List(bg, engine.CaseFilter{Finding: "whine"}, engine.CasePage{}); !errors.Is(err, engine.ErrDamaged) {
				t.Errorf("row %d: %v", row, err)
			}
		}
	}
}
