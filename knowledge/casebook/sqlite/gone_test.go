package sqlite

import (
	"bytes"
	"context"
	"database/sql"
	"errors"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"slipcase/engine"
)

// filters are one of each kind, and some together.
var filters = []engine.CaseFilter{
	{}, {Unit: "northfork-4"}, {Text: "slips"}, {Finding: "slips"}, {Finding: "slips@D/3"}, {Culprit: "pump"}, {Culprit: "pump/worn"}, {Status: engine.CaseOpen}, {Closed: true},
	{Earlier: "26-0001"}, {Since: time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC)}, {Text: "hot", Status: engine.CaseOpen},
	{Unit: "northfork-4", Text: "slips"}, {Unit: "northfork-4", Finding: "slips"}, {Since: time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC), Culprit: "pump", Text: "slips"},
}

// questions are what can be asked of a casebook, each with what comes out.
func questions(b *Book, id string) map[string]func(ctx context.Context) (any, error) {
	out := map[string]func(ctx context.Context) (any, error){
		"get":   func(ctx context.Context) (any, error) { return b.Get(ctx, id) },
		"last":  func(ctx context.Context) (any, error) { return b.Last(ctx, id) },
		"check": func(ctx context.Context) (any, error) { return nil, b.Check(ctx) },
		"export": func(ctx context.Context) (any, error) {
			var w bytes.Buffer
			err := b.Export(ctx, &w)
			return w.String(), err
		},
		"export of one": func(ctx context.Context) (any, error) {
			var w bytes.Buffer
			err := b.Export(ctx, &w, id)
			return w.String(), err
		},
		"rescue": func(ctx context.Context) (any, error) {
			var w bytes.Buffer
			res, err := b.Rescue(ctx, &w)
			return []any{res.Cases, res.Entries, w.String()}, err
		},
	}
	for i, f := range filters {
		out["list "+string(rune('a'+i))] = func(ctx context.Context) (any, error) { return b.List(ctx, f, engine.CasePage{Limit: 5}) }
		out["page "+string(rune('a'+i))] = func(ctx context.Context) (any, error) {
			return b.List(ctx, f, engine.CasePage{Limit: 2, After: id})
		}
	}
	return out
}

// Whatever table is gone, an answer is the one that it was, or an error: never a
// part of it, and what says that it was written has been.
func TestNoAnswerWithoutItsTables(t *testing.T) {
	path, _, list := closedShop(t, 6)
	id := list.Cases[3].ID
	whole := openBook(t, path, Options{Clock: steady})
	want := map[string]any{}
	for what, ask := range questions(whole, id) {
		x, err := ask(bg)
		if err != nil {
			t.Fatalf("%s: %v", what, err)
		}
		want[what] = x
	}
	var tables []string
	rows, err := whole.reader.Query(`SELECT name FROM sqlite_schema WHERE type IN ('table', 'index') AND name NOT LIKE 'sqlite_%' AND name NOT LIKE 'words\_%' ESCAPE '\'`)
	if err != nil {
		t.Fatal(err)
	}
	for rows.Next() {
		var name string
		if err := rows.Scan(&name); err != nil {
			t.Fatal(err)
		}
		tables = append(tables, name)
	}
	rows.Close()
	if len(tables) < 5 {
		t.Fatalf("only %v", tables)
	}
	whole.Close()
	failed := map[string]int{}
	for _, table := range tables {
		broken := filepath.Join(t.TempDir(), "cases.db")
		writeFile(t, broken, readFile(t, path))
		b := openBook(t, broken, Options{Clock: steady})
		raw, err := sql.Open("sqlite", broken)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := raw.Exec("DROP TABLE " + table); err != nil {
			if _, err := raw.Exec("DROP INDEX " + table); err != nil {
				t.Fatalf("%s: %v", table, err)
			}
		}
		raw.Close()
		for what, ask := range questions(b, id) {
			got, err := ask(bg)
			if err != nil {
				failed[what]++
				continue
			}
			if what == "check" && !strings.Contains(table, "_") && table != "about" {
				t.Errorf("%s is gone, and the check finds nothing", table)
			}
			if what == "rescue" {
				continue // it says what is lost
			}
			if d := cmp.Diff(want[what], got, cmpopts.EquateEmpty()); d != "" {
				t.Errorf("%s is gone: %s differs: %s", table, what, d)
			}
		}
		for what, write := range map[string]func() error{
			"append": func() error {
				_, err := b.Append(bg, id, engine.Entry{Body: engine.Report{Finding: "slips@D/3", State: engine.Present, By: "driver"}}, engine.Entry{Body: engine.Seen{Component: "pump", Mode: "worn"}})
				return err
			},
			"open": func() error { _, err := b.OpenCase(bg, engine.Opening{Unit: "u", Words: "hums"}); return err },
		} {
			if err := write(); err != nil {
				failed[what]++
			} else if needs := map[string][]string{"append": {"cases", "entries", "state", "present", "failed", "words"}, "open": {"cases", "state", "words"}}[what]; slices.Contains(needs, table) {
				t.Errorf("%s is gone, and %s says that it wrote", table, what)
			}
		}
		b.Close()
	}
	for _, what := range []string{"get", "last", "check", "export", "append", "open", "list a", "list c", "list d", "list f"} {
		if failed[what] == 0 {
			t.Errorf("%s never failed, whatever was gone: %v", what, failed)
		}
	}
}

// An asker who gives up is told so, by every question and every write, and
// nothing was written.
func TestEveryQuestionCanBeGivenUp(t *testing.T) {
	path, _, list := closedShop(t, 4)
	b := openBook(t, path, Options{Clock: steady})
	id := list.Cases[1].ID
	ended, end := context.WithCancel(bg)
	end()
	for what, ask := range questions(b, id) {
		if _, err := ask(ended); err == nil {
			t.Errorf("%s is answered", what)
		}
	}
	before := get(t, b, id)
	if _, err := b.Append(ended, id, engine.Entry{Body: engine.Note{Text: "x"}}); err == nil {
		t.Error("an entry is written")
	}
	if _, err := b.OpenCase(ended, engine.Opening{Unit: "u"}); err == nil {
		t.Error("a case is opened")
	}
	if _, err := b.Import(ended, "f", strings.NewReader("")); err == nil {
		t.Error("nothing is imported")
	}
	if _, err := b.Backup(ended); err == nil {
		t.Error("a backup is written")
	}
	if d := cmp.Diff(before, get(t, b, id), cmpopts.EquateEmpty()); d != "" {
		t.Errorf("something was written: %s", d)
	}
	if now, err := b.List(bg, engine.CaseFilter{}, engine.CasePage{}); err != nil || now.Total != list.Total {
		t.Errorf("%d cases, %v; they were %d", now.Total, err, list.Total)
	}
}

// Pages put together are the whole list, whatever their size, and the same totals
// stand on each.
func TestPagesAreTheList(t *testing.T) {
	path, _, _ := closedShop(t, 9)
	b := openBook(t, path, Options{Clock: steady})
	for i, f := range filters {
		whole, err := b.List(bg, f, engine.CasePage{Limit: maxPage})
		if err != nil {
			t.Fatal(err)
		}
		for size := 1; size <= 10; size++ {
			var got []engine.CaseSummary
			after := ""
			for n := 0; n < 20; n++ {
				page, err := b.List(bg, f, engine.CasePage{Limit: size, After: after})
				if err != nil {
					t.Fatal(err)
				}
				if page.Total != whole.Total || page.Counts != whole.Counts {
					t.Errorf("filter %d, pages of %d: %d cases %v, of all %d %v", i, size, page.Total, page.Counts, whole.Total, whole.Counts)
				}
				got = append(got, page.Cases...)
				if len(page.Cases) < size {
					break
				}
				after = page.Cases[len(page.Cases)-1].ID
			}
			if d := cmp.Diff(whole.Cases, got, cmpopts.EquateEmpty()); d != "" {
				t.Errorf("filter %d, pages of %d: %s", i, size, d)
			}
		}
	}
}

// One byte of one row that is changed behind the program's back, in the first case
// or in the last, is told by the check and by an export, with the case.
func TestAChangedRowIsTold(t *testing.T) {
	path, _, list := closedShop(t, 5)
	for _, change := range []struct {
		what, do string
		check    bool // only the check compares what is derived
	}{
		{"a body", `UPDATE entries SET body = replace(body, '"', ' "') WHERE "case" = (SELECT rowid FROM cases WHERE id = ?) AND seq = 1`, false},
		{"a title", "UPDATE cases SET title = title || '!' WHERE id = ?", false},
		{"the number of entries", `UPDATE state SET last_seq = last_seq + 1 WHERE id = ?`, false},
		{"the last checksum", `UPDATE state SET last_sum = x'0011223344556677' WHERE id = ?`, false},
		{"the state", `UPDATE state SET status = 'abandoned' WHERE id = ?`, true},
		{"a finding", `UPDATE present SET name = 'hums' WHERE "case" = (SELECT rowid FROM cases WHERE id = ?)`, true},
		{"a culprit", `UPDATE failed SET mode = 'hums' WHERE "case" = (SELECT rowid FROM cases WHERE id = ?)`, true},
	} {
		for _, id := range []string{list.Cases[0].ID, list.Cases[len(list.Cases)-1].ID} {
			broken := filepath.Join(t.TempDir(), "cases.db")
			writeFile(t, broken, readFile(t, path))
			b := openBook(t, broken, Options{Clock: steady})
			raw, err := sql.Open("sqlite", broken)
			if err != nil {
				t.Fatal(err)
			}
			for _, drop := range []string{"cases_keep", "entries_keep"} {
				if _, err := raw.Exec("DROP TRIGGER " + drop); err != nil {
					t.Fatal(err)
				}
			}
			res, err := raw.Exec(change.do, id)
			raw.Close()
			if err != nil {
				t.Fatalf("%s: %v", change.what, err)
			}
			if n, _ := res.RowsAffected(); n == 0 {
				continue // the case has none
			}
			if err := b.Check(bg); !errors.Is(err, engine.ErrDamaged) || !strings.Contains(err.Error(), id) {
				t.Errorf("%s of %s changed: the check says %v", change.what, id, err)
			}
			var w bytes.Buffer
			if err := b.Export(bg, &w); !change.check && (!errors.Is(err, engine.ErrDamaged) || !strings.Contains(err.Error(), id)) {
				t.Errorf("%s of %s changed: the export says %v", change.what, id, err)
			}
			b.Close()
		}
	}
}

// A folder or file that is not there cannot be made to last.
func TestSyncOfNothing(t *testing.T) {
	nowhere := filepath.Join(t.TempDir(), "no")
	if syncFile(nowhere) == nil || runtime.GOOS != "windows" && syncFolder(nowhere) == nil {
		t.Error("nothing was made to last")
	}
}

// A value that is not of its column's type is damage; who gave up, or a casebook
// in use, is no damage.
func TestFaultsOfRows(t *testing.T) {
	b := newBook(t)
	for err, damage := range map[error]bool{
		errors.New(`sql: Scan error on column index 2, name "seq": converting driver.Value type string`): true,
		context.Canceled:         false,
		context.DeadlineExceeded: false,
		sql.ErrNoRows:            false,
	} {
		if got := b.rowFault("case 26-0001", err); errors.Is(got, engine.ErrDamaged) != damage || damage && !strings.Contains(got.Error(), "26-0001") || !damage && got != err {
			t.Errorf("%v: %v", err, got)
		}
	}
}

// A case that is opened again under its key is read first: one that was changed is
// damage, not a case that is there.
func TestOpenedAgainUnderItsKey(t *testing.T) {
	path := filepath.Join(t.TempDir(), "cases.db")
	b := openBook(t, path, Options{Clock: steady})
	o := engine.Opening{Unit: "u", Title: "slips", Key: "k"}
	id, err := b.OpenCase(bg, o)
	if err != nil {
		t.Fatal(err)
	}
	if again, err := b.OpenCase(bg, o); err != nil || again != id {
		t.Errorf("opened again: %s, %v", again, err)
	}
	raw, err := sql.Open("sqlite", path)
	if err != nil {
		t.Fatal(err)
	}
	for _, do := range []string{"DROP TRIGGER cases_keep", "UPDATE cases SET vehicle = 'van'"} {
		if _, err := raw.Exec(do); err != nil {
			t.Fatal(err)
		}
	}
	raw.Close()
	if again, err := b.OpenCase(bg, o); !errors.Is(err, engine.ErrDamaged) {
		t.Errorf("opened again over a changed row: %s, %v", again, err)
	}
}
