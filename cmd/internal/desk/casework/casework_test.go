package casework

import (
	"bytes"
	"cmp"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"log/slog"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"sync"
	"testing"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/archive"
	"slipcase/cmd/internal/desk/asking"
	"slipcase/cmd/internal/desk/books"
	"slipcase/cmd/internal/desk/opened"
	"slipcase/cmd/internal/load"
	"slipcase/cmd/internal/notation"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
	"slipcase/engine/fold"
)

// shopDesk is a desk with a data place of its own.
// options are what a test says of its shop; the rest is as usual.
type options struct {
	home, shop, book, in string
}

// shop is casework with the rooms that look at what it writes.
type shop struct {
	*Casework
	*archive.Archive
	load  *load.Loader
	books *books.Books
}

func newDesk(o options) *shop {
	log := slog.New(slog.DiscardHandler)
	rules := cmp.Or(o.shop, filepath.Join(o.home, "rules"))
	k := &opened.Keeper{Load: load.New(rules, o.shop != "", log), Log: log, Books: books.New(books.Where{Home: o.home, Book: o.book, Case: o.in, Log: log})}
	a := asking.New(k.Load, log, k.ForReading)
	return &shop{New(a, k), archive.New(k), k.Load, k.Books}
}

func shopDesk(t testing.TB) *shop { return newDesk(options{home: t.TempDir()}) }

// items reads words as they are typed.
func items(words ...string) []notation.Item {
	return notation.Notes(words, func(name string) bool { return name == "line_pressure" })
}

// typed reads a note for the unit of a case.
func typed(w *work, words string) NoteInput {
	return NoteInput{Items: notation.Notes(strings.Fields(words), w.IsReading)}
}

func openCase(t testing.TB, d *shop, unit string) string {
	t.Helper()
	ans, err := d.OpenCase(t.Context(), OpenInput{Unit: unit, Title: "a test"})
	if err != nil {
		t.Fatal(err)
	}
	return ans.Data.ID
}

// standing is the case as it now stands.
func standing(t testing.TB, d *shop, id string) *fold.Case {
	t.Helper()
	j, err := d.job(t.Context(), opened.Ref{In: id})
	if err != nil {
		t.Fatal(err)
	}
	defer j.Close()
	return j.Case
}

func TestNoteWordsAreUnderstood(t *testing.T) {
	d := shopDesk(t)
	openCase(t, d, "northfork-4")
	j, err := d.forWriting(t.Context(), opened.Ref{})
	if err != nil {
		t.Fatal(err)
	}
	defer j.Close()
	for _, c := range []struct{ words, want string }{
		{"slips@D/3", "slips@D/3 present driver"},
		{"slips@D/3 present", "slips@D/3 present driver"},
		{"slips@D/3=yes slips@D/4:hot=no", "slips@D/3 present driver, slips@D/4:hot absent driver"},
		{"slips@D/3 absent slips@D/4", "slips@D/3 absent driver, slips@D/4 present driver"},
		{"slips@D/3 unknown", "slips@D/3 unknown driver"},
		{"p0741 P0750=no", "code_P0741 present scan_tool, code_P0750 absent scan_tool"},
		{"line_pressure idle R 62 psi", "line_pressure@idle/R 62 psi gauge"},
		{"line_pressure R idle 4.3bar slips@D/1", "line_pressure@idle/R 4.3bar gauge, slips@D/1 present driver"},
		{"line_pressure idle/R 62psi", "line_pressure@idle/R 62psi gauge"},
		{"line_pressure@idle/R=62psi", "line_pressure@idle/R 62psi gauge"},
		{"input_end_play 0.95 mm slips@D/1=no", "input_end_play 0.95 mm measuring_tool, slips@D/1 absent driver"},
		{"solenoid_a_resistance 20 ohm at 20 degC", "solenoid_a_resistance 20 ohm at 20 degC measuring_tool"},
	} {
		bodies, err := j.w.notes(typed(j.w, c.words))
		var got []string
		for _, b := range bodies {
			switch b := b.(type) {
			case engine.Report:
				got = append(got, fmt.Sprintf("%s %s %s", b.Finding, b.State, b.By))
			case engine.Reading:
				got = append(got, fmt.Sprintf("%s %s %s", wording.At(b.Name, b.Place), b.Value, b.By))
			}
		}
		if s := strings.Join(got, ", "); err != nil || s != c.want {
			t.Errorf("%s: got %q, %v; want %q", c.words, s, err, c.want)
		}
	}
	for _, words := range []string{"", "slips", "slips@D/9", "slips@D/3:tepid", "slip@D/3", "P9999", "yes slips@D/3", "slips@D/3=", "slips@D/3=maybe",
		"line_pressure", "line_pressure idle 62 psi", "line_pressure idle R", "line_pressure idle R 62", "line_pressure idle R 62 mm", "line_pressure idle R nan psi",
		"slips@D/3 slips@D/3=no", "direct.slips", "pump/worn", "input_end_play 1 mm input_end_play 2 mm", "@", "=", ":", "slips@D/3 nonsense"} {
		bodies, err := j.w.notes(typed(j.w, words))
		if err == nil || answer.AsFailure(err).Code != answer.WrongUse || len(bodies) > 0 {
			t.Errorf("%q must be refused: got %v, %v", words, bodies, err)
		}
	}
}

// Whatever is typed, it is understood or refused; it never panics.
func FuzzNoteWords(f *testing.F) {
	d := shopDesk(f)
	openCase(f, d, "harrow-3")
	j, err := d.forWriting(f.Context(), opened.Ref{})
	if err != nil {
		f.Fatal(err)
	}
	f.Cleanup(j.Close)
	for _, s := range []string{"slips@D/3=no", "line_pressure idle R 62 psi", "input_end_play = 1", "P0741", "a@b:c=d", "line_pressure at at 1"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		words := strings.Fields(s)
		bodies, err := j.w.notes(typed(j.w, s))
		if (err == nil) == (len(bodies) == 0) || len(bodies) > len(words) {
			t.Errorf("%q: %d entries, %v", s, len(bodies), err)
		}
	})
}

// A note with one word that is wrong leaves the casebook as it was.
func TestNothingIsHalfStored(t *testing.T) {
	d := shopDesk(t)
	id := openCase(t, d, "northfork-4")
	before := exported(t, d)
	for _, f := range []func() (answer.Answer[opened.Written], error){
		func() (answer.Answer[opened.Written], error) {
			return d.Note(t.Context(), opened.Ref{}, NoteInput{Items: items("slips@D/3", "slip@D/4")})
		},
		func() (answer.Answer[opened.Written], error) {
			return d.Note(t.Context(), opened.Ref{}, NoteInput{Items: items("slips@D/3"), By: "nobody"})
		},
		func() (answer.Answer[opened.Written], error) {
			return d.Clear(t.Context(), opened.Ref{}, []string{"pump", "pimp"}, "")
		},
		func() (answer.Answer[opened.Written], error) {
			return d.Found(t.Context(), opened.Ref{}, FoundInput{Parts: []FoundPart{{"pump", "rusty"}}})
		},
		func() (answer.Answer[opened.Written], error) {
			return d.Settle(t.Context(), opened.Ref{}, []engine.SettledCause{{Cause: "high_mileage", Present: true}, {Cause: "bad_luck", Present: true}})
		},
		func() (answer.Answer[opened.Written], error) {
			return d.Done(t.Context(), opened.Ref{}, DoneInput{Steps: []string{"pan_off"}, Measures: notation.Measures([]string{"overdrive_servo_travel=1 ohm"})})
		},
		func() (answer.Answer[opened.Written], error) {
			return d.Undo(t.Context(), opened.Ref{}, []int64{1}, "")
		},
		func() (answer.Answer[opened.Written], error) {
			return d.CloseCase(t.Context(), opened.Ref{}, CloseInput{Outcome: engine.CaseComeBack, Earlier: id})
		},
	} {
		_, err := f()
		if err == nil {
			t.Error("must be refused")
		}
		if after := exported(t, d); after != before {
			t.Errorf("%v: but something was written:\n%s", err, after)
		}
	}
}

func exported(t testing.TB, d *shop) string {
	t.Helper()
	var b bytes.Buffer
	if err := d.Export(t.Context(), &b, nil); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestBenchesAtOnce(t *testing.T) {
	d := shopDesk(t)
	id := openCase(t, d, "harrow-3")
	const benches, notes = 6, 4
	var wg sync.WaitGroup
	errs := make([]error, benches)
	for b := range benches {
		wg.Go(func() {
			mine := newDesk(options{home: d.keeper.Books.Home()})
			for n := range notes {
				if _, err := mine.Note(t.Context(), opened.Ref{In: id}, NoteInput{Text: fmt.Sprint(b, n)}); err != nil {
					errs[b] = err
				}
			}
		})
	}
	wg.Wait()
	if err := errors.Join(errs...); err != nil {
		t.Fatal(err)
	}
	c := standing(t, d, id)
	seen := map[string]bool{}
	for _, n := range c.Notes {
		seen[n.Text] = true
	}
	if c.LastSeq != benches*notes || len(seen) != benches*notes {
		t.Errorf("%d entries with %d texts, want %d", c.LastSeq, len(seen), benches*notes)
	}
}

// Taking back what took back gives the case as it stood.
func TestUndoOfUndo(t *testing.T) {
	d := shopDesk(t)
	for _, words := range []string{
		"slips@D/1", "slips@D/1 slips@D/1=no", "slips@D/3=no slips@D/2 slips@D/3=unknown",
		"line_pressure@idle/R=62psi line_pressure@idle/R=100psi", "slips@D/1 line_pressure@idle/R=62psi",
	} {
		id := openCase(t, d, "harrow-3")
		ref := opened.Ref{In: id}
		for _, w := range strings.Fields(words) {
			if _, err := d.Note(t.Context(), ref, NoteInput{Items: items(w)}); err != nil {
				t.Fatal(err)
			}
		}
		before := standing(t, d, id)
		ans, err := d.Undo(t.Context(), ref, nil, "")
		if err != nil {
			t.Fatal(err)
		}
		between := standing(t, d, id)
		if reflect.DeepEqual(before.Reports, between.Reports) && reflect.DeepEqual(before.Readings, between.Readings) {
			t.Errorf("%s: undo has changed nothing", words)
		}
		e := ans.Data.Entries
		if _, err := d.Undo(t.Context(), ref, []int64{e[0].Seq}, ""); err != nil {
			t.Fatal(err)
		}
		after := standing(t, d, id)
		if !reflect.DeepEqual(before.Reports, after.Reports) || !reflect.DeepEqual(before.Readings, after.Readings) {
			t.Errorf("%s: before %+v\nafter %+v", words, before.CaseFile, after.CaseFile)
		}
	}
}

func TestComeBack(t *testing.T) {
	d := shopDesk(t)
	first := openCase(t, d, "harrow-3")
	if _, err := d.Note(t.Context(), opened.Ref{}, NoteInput{Items: items("slips@D/3", "flare@D/2-3", "late_engagement@R")}); err != nil {
		t.Fatal(err)
	}
	second := openCase(t, d, "harrow-3")
	back := CloseInput{Outcome: engine.CaseComeBack, Earlier: first}
	if _, err := d.CloseCase(t.Context(), opened.Ref{}, back); err == nil || !strings.Contains(err.Error(), "still open") {
		t.Errorf("an open case cannot have come back: %v", err)
	}
	// Rows, shifts and engagements: each must be driven again.
	for _, drove := range [][]string{nil, {"D/3=good"}, {"D/3,D/2-3=good"}, {"D/3,D/2-3=good", "R=bad"}} {
		if _, err := d.CloseCase(t.Context(), opened.Ref{In: first}, CloseInput{Outcome: engine.CaseFixed, Drove: notation.Drives(drove)}); err == nil {
			t.Errorf("closed as fixed with %v driven", drove)
		}
	}
	ans, err := d.CloseCase(t.Context(), opened.Ref{In: first}, CloseInput{Outcome: engine.CaseFixed, Drove: notation.Drives([]string{"D/3,D/2-3,R=good"})})
	if err != nil {
		t.Fatal(err)
	}
	if len(ans.Warnings) != 1 || !strings.Contains(ans.Warnings[0].Summary, "no failed part was recorded") {
		t.Errorf("warnings %v", ans.Warnings)
	}
	if _, err := d.CloseCase(t.Context(), opened.Ref{}, back); err != nil {
		t.Fatal(err)
	}
	h, err := d.CaseHistory(t.Context(), first)
	if err != nil || !reflect.DeepEqual(h.Data.CameBack, []string{second}) {
		t.Errorf("%+v, %v", h.Data, err)
	}
	// Taking it up again.
	again, err := d.TakeUp(t.Context(), first, "", "")
	if err != nil || !again.Data.Reopened || standing(t, d, "").ID != first {
		t.Errorf("%+v, %v", again.Data, err)
	}
}

// A case whose rules are gone in part is worked with the rest, and it is said.
func TestCaseOutlivesItsRules(t *testing.T) {
	d := shopDesk(t)
	shop := filepath.Join(t.TempDir(), "shop")
	if err := os.MkdirAll(filepath.Join(shop, "rules"), 0o777); err != nil {
		t.Fatal(err)
	}
	text := "language = 1\nbasis \"invented\" {\n  note = \"a test\"\n}\nreporter \"apprentice\" {\n  hit = 0.7\n  false_alarm = 0.1\n}\n"
	if err := os.WriteFile(filepath.Join(shop, "rules", "own.hcl"), []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	with := newDesk(options{shop: shop, home: d.keeper.Books.Home()})
	openCase(t, with, "harrow-3")
	if _, err := with.Note(t.Context(), opened.Ref{}, NoteInput{Items: items("slips@D/3"), By: "apprentice"}); err != nil {
		t.Fatal(err)
	}
	if _, err := with.Note(t.Context(), opened.Ref{}, NoteInput{Items: items("slips@R/R")}); err != nil {
		t.Fatal(err)
	}
	ans, err := with.Suspects(t.Context(), asking.CaseRef{}, 1)
	if err != nil || len(ans.Warnings) != 0 || ans.Data.Case.Reports != 2 {
		t.Errorf("with the shop's rules: %v, %v", ans.Warnings, err)
	}
	ans, err = d.Suspects(t.Context(), asking.CaseRef{}, 1)
	if err != nil {
		t.Fatal(err)
	}
	var all string
	for _, w := range ans.Warnings {
		all += w.Summary + "\n"
	}
	if len(ans.Warnings) != 2 || !strings.Contains(all, "rules have changed") || !strings.Contains(all, "entry 1 is left out") || ans.Data.Case.Reports != 1 {
		t.Errorf("without: %s", all)
	}
}

func TestBookFailuresSayWhatToDo(t *testing.T) {
	d := shopDesk(t)
	for _, is := range []error{engine.ErrReadOnly, engine.ErrNetworkShare, engine.ErrForeign, engine.ErrNewer, engine.ErrBusy, engine.ErrFull, engine.ErrDamaged, engine.ErrNoCase, fs.ErrPermission, fs.ErrNotExist} {
		f := answer.AsFailure(d.keeper.Books.Failure(fmt.Errorf("casebook x: %w", is)))
		if len(f.Messages) != 1 || f.Messages[0].Summary == "" || f.Messages[0].Detail == "" && len(f.Messages[0].Hints) == 0 || !errors.Is(f, is) || f.Code == answer.Internal {
			t.Errorf("%v: %+v", is, f)
		}
	}
	if d.keeper.Books.Failure(nil) != nil {
		t.Error("no error is no failure")
	}
}

// Real files: newer, damaged, and no casebook at all.
func TestBookThatCannotBeUsed(t *testing.T) {
	d := shopDesk(t)
	openCase(t, d, "harrow-3")
	db, err := sql.Open("sqlite", d.keeper.Books.Name())
	if err != nil {
		t.Fatal(err)
	}
	if _, err := db.Exec("PRAGMA user_version = 9999"); err != nil {
		t.Fatal(err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	_, err = d.Cases(t.Context(), archive.CasesInput{})
	if !errors.Is(err, engine.ErrNewer) || !strings.Contains(err.Error(), d.keeper.Books.Name()) {
		t.Errorf("newer: %v", err)
	}
	src, err := os.ReadFile(d.keeper.Books.Name())
	if err != nil {
		t.Fatal(err)
	}
	for i := 100; i < len(src); i++ {
		src[i] ^= 0x5a
	}
	if err := os.WriteFile(d.keeper.Books.Name(), src, 0o666); err != nil {
		t.Fatal(err)
	}
	if _, err = d.Cases(t.Context(), archive.CasesInput{}); err == nil || !strings.Contains(err.Error(), d.keeper.Books.Name()) {
		t.Errorf("damaged: %v", err)
	}
	none := shopDesk(t)
	_, err = none.Suspects(t.Context(), asking.CaseRef{}, 1)
	if !errors.Is(err, fs.ErrNotExist) || answer.AsFailure(err).Code != answer.NotFound {
		t.Errorf("none: %v", err)
	}
	if _, err := os.Stat(none.books.Name()); err == nil {
		t.Error("reading has made a casebook")
	}
}

func TestCurrentCase(t *testing.T) {
	d := shopDesk(t)
	first := openCase(t, d, "harrow-3")
	second := openCase(t, d, "harrow-3")
	want := func(in, id string) {
		t.Helper()
		if got := standing(t, d, in).ID; got != id {
			t.Errorf("current case %s, want %s", got, id)
		}
	}
	want("", second)
	want(first, first)
	all := d
	d = newDesk(options{home: d.keeper.Books.Home(), in: first}) // as want looks at it
	want("", first)
	want(second, second)
	d = all
	// What is imported never becomes the current case by itself.
	if err := os.Remove(d.keeper.Books.Name() + ".current"); err != nil {
		t.Fatal(err)
	}
	if _, err := d.job(t.Context(), opened.Ref{}); err == nil || !strings.Contains(err.Error(), "which case?") {
		t.Errorf("two are open: %v", err)
	}
	if _, err := d.CloseCase(t.Context(), opened.Ref{In: second}, CloseInput{Outcome: engine.CaseAbandoned}); err != nil {
		t.Fatal(err)
	}
	want("", first)
}

// Whoever has found a plate burnt has the unit out, ticked or not: the plan goes
// on from there, and does not say to leave it in the vehicle; taken back, the
// find takes its steps along.
func TestFoundIsInTheHand(t *testing.T) {
	d := newDesk(options{home: t.TempDir()})
	ctx := t.Context()
	ans, err := d.OpenCase(ctx, OpenInput{Unit: "harrow-3", Title: "slips"})
	if err != nil {
		t.Fatal(err)
	}
	ref := opened.Ref{In: ans.Data.ID}
	planned := func() asking.Plan {
		t.Helper()
		p, err := d.Plan(ctx, asking.CaseRef{In: ref.In}, asking.PlanInput{})
		if err != nil {
			t.Fatal(err)
		}
		return p.Data
	}
	before := planned()
	if _, err := d.Found(ctx, ref, FoundInput{Parts: []FoundPart{{"rear_clutch_plates", "burnt_friction"}}}); err != nil {
		t.Fatal(err)
	}
	p := planned()
	if !p.Pull.Out || p.Pull.Enough || len(p.Done) < 5 {
		t.Errorf("out %v, enough %v, done %v", p.Pull.Out, p.Pull.Enough, p.Done)
	}
	for _, s := range p.Steps {
		if s.Step == "pull_unit" || s.Step == "rear_clutch_out" {
			t.Errorf("the plan still has %s", s.Step)
		}
	}
	if _, err := d.Undo(ctx, ref, []int64{1}, ""); err != nil {
		t.Fatal(err)
	}
	if after := planned(); len(after.Done) != len(before.Done) || after.Pull.Out {
		t.Errorf("after it was taken back: %v", after.Done)
	}
	if h, err := d.CaseHistory(ctx, ref.In); err != nil || len(h.Data.Entries) != 2 {
		t.Errorf("%v, %v: no step is written that nobody ticked", h.Data.Entries, err)
	}
}
