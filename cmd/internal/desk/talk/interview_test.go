package talk

import (
	"log/slog"
	"testing"

	"slipcase/cmd/internal/desk/asking"
	"slipcase/cmd/internal/desk/books"
	"slipcase/cmd/internal/desk/casework"
	"slipcase/cmd/internal/desk/opened"
	"slipcase/cmd/internal/load"
	"slipcase/engine"
)

// What is noted between two sessions counts, and is not overwritten by what
// was answered before.
func TestInterviewAfterNotes(t *testing.T) {
	home := t.TempDir()
	log := slog.New(slog.DiscardHandler)
	k := &opened.Keeper{Load: load.New(home, false, log), Log: log, Books: books.New(books.Where{Home: home, Log: log})}
	a := asking.New(k.Load, log, k.ForReading)
	d := New(a, k)
	ctx := t.Context()
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	_, err := casework.New(a, k).OpenCase(ctx, casework.OpenInput{Unit: "harrow-3", Title: "slips"})
	must(err)
	x, err := d.Interview(ctx, asking.CaseRef{}, "Mia")
	must(err)
	must(x.Confirm("it slips in third", []string{"slips@D/3"}, nil))
	q, _, err := x.Next()
	must(err)
	first, said := q.Check, q.Options[0].Finding
	must(x.Answer(Said{Present: []string{said}, Rest: engine.Absent}))
	q, _, err = x.Next()
	must(err)
	must(x.Skip())
	skipped := q.Check
	q, _, err = x.Next()
	must(err)
	open := q.Check
	must(x.Leave())
	must(x.Leave())
	x.Close()

	j, err := k.ForWriting(ctx, opened.Ref{})
	must(err)
	_, err = j.Append(engine.Report{Finding: said, State: engine.Absent, By: "driver"})
	must(err)
	_, err = j.Append(engine.Report{Finding: q.Options[0].Finding, State: engine.Present, By: "driver"})
	must(err)
	j.Close()

	x, err = d.Interview(ctx, asking.CaseRef{}, "Mia")
	must(err)
	defer x.Close()
	if !x.Begun() || x.Answered() != 2 {
		t.Errorf("begun %v, answered %d, want 2", x.Begun(), x.Answered())
	}
	for _, r := range x.iv.Case().Reports {
		if r.Finding == said && r.State != engine.Absent {
			t.Errorf("%s is %s again", said, r.State)
		}
	}
	now, _, err := x.Next()
	must(err)
	if now.Check == first || now.Check == skipped {
		t.Errorf("%s was asked again", now.Check)
	}
	for _, o := range now.Options {
		if o.Finding == q.Options[0].Finding {
			t.Errorf("asks for %s, which was noted", o.Finding)
		}
	}
	if len(q.Options) > 1 && now.Check != open {
		t.Errorf("resumed at %s, left at %s", now.Check, open)
	}
	if q := x.Back(); q == nil || q.Check != skipped {
		t.Errorf("back at %+v, not %s", q, skipped)
	}
	if q := x.Back(); q == nil || q.Check != first || q.Options[0].State != engine.Absent {
		t.Errorf("back at %+v, not %s with what was noted", q, first)
	}
}
