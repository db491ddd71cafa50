package interview

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"slipcase/engine"
	"slipcase/engine/advise"
	"slipcase/engine/fold"
	"slipcase/engine/internal/tiny"
	"slipcase/engine/model"
)

// asking makes a tiny unit whose checks are questions to the driver.
func asking(t *testing.T, seed uint64) *advise.Adviser {
	t.Helper()
	k, u := tiny.Unit(rand.New(rand.NewPCG(17, seed)))
	k.Checks = nil
	for f := range 5 {
		k.Checks = append(k.Checks, engine.Check{
			Name: fmt.Sprintf("ask%d", f), Stage: engine.StageInterview, Minutes: tiny.Num(1), Reporter: "driver",
			Yields: []string{fmt.Sprintf("f%d", f), fmt.Sprintf("f%d", (f+1)%5)}, Asks: fmt.Sprintf("What about %d?", f),
		})
	}
	k.Checks = append(k.Checks, engine.Check{Name: "weather", Stage: engine.StageInterview, Minutes: tiny.Num(1), Reporter: "driver", Yields: []string{"weather"}, Asks: "How is the weather?"})
	m, err := model.Build(k, u)
	if err != nil {
		t.Fatal(err)
	}
	a, err := advise.New(m)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func next(t *testing.T, iv *Interview) *Question {
	t.Helper()
	q, stop, err := iv.Next()
	if err != nil {
		t.Fatal(err)
	}
	if (q == nil) == (stop == nil) {
		t.Fatalf("question %v and stop %v", q, stop)
	}
	return q
}

// An interview never asks what was said, by whatever answer, and comes to an
// end that says what going on would cost.
func TestNeverAskedTwice(t *testing.T) {
	for seed := range uint64(6) {
		a := asking(t, seed)
		iv := New(a, &engine.CaseFile{}, State{}, advise.Options{})
		said := map[string]bool{}
		for n := 0; ; n++ {
			q := next(t, iv)
			if q == nil {
				break
			}
			if n > 6 {
				t.Fatal("seven questions about six findings")
			}
			if q.Check.Name == "weather" {
				t.Errorf("seed %d: asks what tells nothing", seed)
			}
			for _, o := range q.Options {
				if said[o.Finding] {
					t.Errorf("seed %d: asks again about %s", seed, o.Finding)
				}
				// What was not named was not spoken of: another question may ask.
				said[o.Finding] = said[o.Finding] || n%3 == 0 && o == q.Options[0] || n%3 == 1
			}
			var err error
			switch n % 3 {
			case 0:
				_, err = iv.Answer(Reply{Present: []string{q.Options[0].Finding}})
			case 1:
				_, err = iv.DontKnow()
			default:
				_, err = iv.Skip()
			}
			if err != nil {
				t.Fatal(err)
			}
		}
		_, stop, err := iv.Next()
		if err != nil || stop == nil || !iv.State().Over {
			t.Errorf("seed %d: no reason to stop: %v %v", seed, stop, err)
		}
		if stop.Next != nil && stop.NextMinutes == 0 {
			t.Errorf("seed %d: going on costs nothing", seed)
		}
	}
}

// The state survives JSON and the casebook at every point; both go on at the
// same question.
func TestLeaveAndResume(t *testing.T) {
	a := asking(t, 3)
	iv := New(a, &engine.CaseFile{}, State{}, advise.Options{})
	var book []engine.Entry
	file := func(list []engine.Body, err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		for _, b := range list {
			book = append(book, engine.Entry{Seq: int64(len(book) + 1), Body: b})
		}
	}
	for n := 0; n < 4; n++ {
		q := next(t, iv)
		if q == nil {
			break
		}
		file(iv.Leave(), nil)
		text, err := json.Marshal(iv.State())
		if err != nil {
			t.Fatal(err)
		}
		var s State
		if err := json.Unmarshal(text, &s); err != nil {
			t.Fatal(err)
		}
		again := next(t, New(a, &engine.CaseFile{}, s, advise.Options{}))
		if again == nil || again.Check.Name != q.Check.Name {
			t.Fatalf("after JSON: asks %v, stood at %s", again, q.Check.Name)
		}
		booked := Resume(book, nil)
		again = next(t, New(a, &engine.CaseFile{}, booked, advise.Options{}))
		if again == nil || again.Check.Name != q.Check.Name {
			t.Fatalf("from the casebook: asks %v, stood at %s", again, q.Check.Name)
		}
		switch n {
		case 0:
			file(iv.Answer(Reply{Present: []string{q.Options[0].Finding}}))
		case 1:
			file(iv.Skip())
		default:
			file(iv.DontKnow())
		}
		if d := cmp.Diff(iv.State().Turns, Resume(book, nil).Turns); d != "" {
			t.Fatalf("turns of the casebook differ:\n%s", d)
		}
	}
}

// Going back shows what was said; a changed answer replaces it and the other
// answers stay.
func TestBackAndChange(t *testing.T) {
	a := asking(t, 4)
	iv := New(a, &engine.CaseFile{}, State{}, advise.Options{})
	first := next(t, iv)
	if _, err := iv.Answer(Reply{Present: []string{first.Options[0].Finding}}); err != nil {
		t.Fatal(err)
	}
	second := next(t, iv)
	if second == nil {
		t.Fatal("one question was enough; take another seed")
	}
	q := iv.Back()
	if q == nil || q.Check.Name != first.Check.Name || !q.Given || q.Options[0].State != engine.Present {
		t.Fatalf("back shows %+v", q)
	}
	if iv.Back() == nil || iv.State().At != first.Check.Name {
		// At the first question there is nothing before it.
		if iv.State().At != first.Check.Name {
			t.Fatalf("back from the first question stands at %q", iv.State().At)
		}
	}
	bodies, err := iv.Answer(Reply{Unknown: []string{q.Options[0].Finding}})
	if err != nil {
		t.Fatal(err)
	}
	if len(bodies) != 2 {
		t.Errorf("a changed answer makes %d entries", len(bodies))
	}
	for _, r := range iv.Case().Reports {
		if r.Finding == q.Options[0].Finding && r.State != engine.Unknown {
			t.Errorf("the changed answer still says %s", r.State)
		}
	}
	if len(iv.State().Turns) != 1 {
		t.Errorf("%d turns after one answer and its change", len(iv.State().Turns))
	}
	if _, err := iv.Change("nothing of the kind"); err == nil {
		t.Error("a question that was never put can be changed")
	}
	if _, err := iv.Change(first.Check.Name); err != nil {
		t.Error(err)
	}
	if _, err := iv.Answer(Reply{Present: []string{"weather"}}); err == nil {
		t.Error("an answer to another question is taken")
	}
}

// What the case knows already, from whatever source, is not asked.
func TestKnownIsNotAsked(t *testing.T) {
	a := asking(t, 5)
	c := &engine.CaseFile{}
	for f := range 5 {
		c.Reports = append(c.Reports, engine.Report{Finding: fmt.Sprintf("f%d", f), State: engine.Absent, By: "driver"})
	}
	if q := next(t, New(a, c, State{}, advise.Options{})); q != nil {
		t.Errorf("asks %s though everything was said", q.Check.Name)
	}
	asked := 0
	for seed := range uint64(6) {
		iv := New(asking(t, seed), &engine.CaseFile{}, State{}, advise.Options{})
		if _, err := iv.Confirm([]string{"f0"}, "driver"); err != nil {
			t.Fatal(err)
		}
		if _, err := iv.Confirm([]string{"f99"}, "driver"); err == nil {
			t.Error("an unknown finding is confirmed")
		}
		q := next(t, iv)
		if q == nil {
			continue
		}
		asked++
		for _, o := range q.Options {
			if o.Finding == "f0" {
				t.Error("asks for the complaint itself")
			}
		}
	}
	if asked == 0 {
		t.Error("no interview put a question")
	}
}

// book makes entries; those with the same letter were written together.
func book(list ...any) []engine.Entry {
	var out []engine.Entry
	for i := 0; i < len(list); i += 2 {
		e := engine.Entry{Seq: int64(len(out) + 1), Body: list[i+1].(engine.Body)}
		if batch := list[i].(string); batch != "" {
			e.Key = fmt.Sprintf("%s-%d", batch, i)
		}
		out = append(out, e)
	}
	return out
}

// The order of the entries decides, and only what was written together with a
// mark is the answer to its question.
func TestResume(t *testing.T) {
	mark := func(q string) engine.InterviewMark { return engine.InterviewMark{Question: q} }
	skip := func(q string) engine.InterviewMark { return engine.InterviewMark{Question: q, Skipped: true} }
	says := func(by, f string, s engine.State) engine.Report { return engine.Report{Finding: f, State: s, By: by} }
	yes := func(f string) engine.Report { return says("driver", f, engine.Present) }
	no := func(f string) engine.Report { return says("driver", f, engine.Absent) }
	turn := func(check string, r ...engine.Report) Turn { return Turn{Check: check, Reports: r} }
	for _, tc := range []struct {
		name  string
		list  []engine.Entry
		force []bool
		want  State
	}{
		{name: "nothing"},
		{name: "answered", list: book("a", mark("q"), "a", yes("f"), "a", no("g")), want: State{Turns: []Turn{turn("q", yes("f"), no("g"))}}},
		{name: "left at a question", list: book("a", mark("q"), "a", yes("f"), "b", mark("r")),
			want: State{Turns: []Turn{turn("q", yes("f"))}, At: "r"}},
		{name: "noted by hand at the open question", list: book("a", mark("q"), "b", yes("f"), "", yes("g")), want: State{At: "q"}},
		{name: "noted otherwise after the answer", list: book("a", mark("q"), "a", yes("f"), "a", no("g"), "b", no("f")),
			want: State{Turns: []Turn{turn("q", no("f"), no("g"))}}},
		{name: "noted before the answer", list: book("b", no("f"), "a", mark("q"), "a", yes("f")), want: State{Turns: []Turn{turn("q", yes("f"))}}},
		{name: "noted as another says it", list: book("a", mark("q"), "a", yes("f"), "b", says("road_test", "f", engine.Absent)),
			want: State{Turns: []Turn{turn("q", yes("f"))}}},
		{name: "spelled otherwise", list: book("a", mark("q"), "a", yes("f@D/3"), "b", no("f@D/3:")),
			want: State{Turns: []Turn{turn("q", no("f@D/3"))}}},
		{name: "note taken back", list: book("a", mark("q"), "a", yes("f"), "b", no("f")), force: []bool{true, true, false},
			want: State{Turns: []Turn{turn("q", yes("f"))}}},
		{name: "answer taken back", list: book("a", mark("q"), "a", yes("f")), force: []bool{true, false}, want: State{At: "q"}},
		{name: "answered again", list: book("a", mark("q"), "a", yes("f"), "b", mark("r"), "b", yes("g"), "c", mark("q"), "c", no("f")),
			want: State{Turns: []Turn{turn("q", no("f")), turn("r", yes("g"))}}},
		{name: "asked for in two questions", list: book("a", mark("q"), "a", skip("q"), "b", mark("r"), "b", yes("f"), "c", mark("q"), "c", no("f")),
			want: State{Turns: []Turn{turn("q", no("f")), turn("r", no("f"))}}},
		{name: "a complaint, then the end", list: book("a", yes("f"), "a", mark("")), want: State{Over: true}},
		{name: "without keys", list: book("", mark("q"), "", yes("f"), "", no("f"), "", engine.Note{}, "", yes("g")),
			want: State{Turns: []Turn{turn("q", no("f"))}}},
	} {
		t.Run(tc.name, func(t *testing.T) {
			if d := cmp.Diff(tc.want, Resume(tc.list, tc.force)); d != "" {
				t.Error(d)
			}
		})
	}
}

// What today's rules do not know is no answer any more.
func TestOldAnswersAreLeftOut(t *testing.T) {
	a := asking(t, 3)
	s := State{Turns: []Turn{{Check: "ask0", Reports: []engine.Report{
		{Finding: "gone", State: engine.Present, By: "driver"}, {Finding: "f0", State: engine.Absent, By: "driver"}}}}}
	iv := New(a, &engine.CaseFile{}, s, advise.Options{})
	if got := iv.Case().Reports; len(got) != 1 || got[0].Finding != "f0" {
		t.Errorf("reports %+v", got)
	}
	next(t, iv)
	if len(s.Turns[0].Reports) != 2 {
		t.Error("the state given was changed")
	}
}

// What going on would cost counts every question left, and the end is the same
// however few questions are priced on the way.
func TestStopCountsAll(t *testing.T) {
	left := 0
	for seed := range uint64(12) {
		var stops []*Stop
		for _, best := range []int{0, 1} {
			iv := New(asking(t, seed), &engine.CaseFile{}, State{}, advise.Options{Best: best})
			for {
				q, stop, err := iv.Next()
				if err != nil {
					t.Fatal(err)
				}
				if stop != nil {
					stops = append(stops, stop)
					break
				}
				if _, err := iv.Answer(Reply{Present: []string{q.Options[0].Finding}}); err != nil {
					t.Fatal(err)
				}
			}
		}
		if d := cmp.Diff(stops[0], stops[1]); d != "" {
			t.Errorf("seed %d: all priced and the best one priced:\n%s", seed, d)
		}
		if stops[1].Questions > 1 {
			left++
			if stops[1].AllMinutes != float64(stops[1].Questions) { // a minute each
				t.Errorf("seed %d: %d questions in %v min", seed, stops[1].Questions, stops[1].AllMinutes)
			}
		}
	}
	if left == 0 {
		t.Error("no interview left two questions; take other seeds")
	}
}

// However answers, notes and retractions follow one another, the interview
// goes on with the case as its entries leave it.
func TestResumeAgreesWithFold(t *testing.T) {
	a := asking(t, 3)
	rapid.Check(t, func(t *rapid.T) {
		var list []engine.Entry
		question := rapid.SampledFrom([]string{"ask0", "ask1", "ask2"})
		report := rapid.Custom(func(t *rapid.T) engine.Body {
			return engine.Report{Finding: fmt.Sprint("f", rapid.IntRange(0, 3).Draw(t, "finding")), By: "driver",
				State: rapid.SampledFrom([]engine.State{engine.Present, engine.Absent, engine.Unknown}).Draw(t, "state")}
		})
		keyed := rapid.Bool().Draw(t, "keyed")
		for batch := range rapid.IntRange(0, 8).Draw(t, "batches") {
			var bodies []engine.Body
			switch rapid.IntRange(0, 4).Draw(t, "kind") {
			case 0, 1:
				bodies = append(bodies, engine.InterviewMark{Question: question.Draw(t, "question")})
				bodies = append(bodies, rapid.SliceOfN(report, 0, 3).Draw(t, "answers")...)
			case 2:
				bodies = rapid.SliceOfN(report, 1, 3).Draw(t, "notes")
			case 3:
				q := question.Draw(t, "skipped")
				bodies = append(bodies, engine.InterviewMark{Question: q}, engine.InterviewMark{Question: q, Skipped: true})
			case 4:
				if len(list) > 0 {
					bodies = append(bodies, engine.Retraction{Of: rapid.Int64Range(1, int64(len(list))).Draw(t, "of")})
				}
			}
			for i, b := range bodies {
				e := engine.Entry{Seq: int64(len(list) + 1), Body: b}
				if keyed {
					e.Key = fmt.Sprintf("%d-%d", batch, i)
				}
				list = append(list, e)
			}
		}
		c, err := fold.Fold(engine.CaseRecord{Entries: list})
		if err != nil {
			t.Fatal(err)
		}
		force, err := fold.InForce(list)
		if err != nil {
			t.Fatal(err)
		}
		want, got := map[string]engine.State{}, map[string]engine.State{}
		for _, r := range c.Reports {
			want[r.Finding] = r.State
		}
		iv := New(a, &c.CaseFile, Resume(list, force), advise.Options{})
		for _, r := range iv.Case().Reports {
			got[r.Finding] = r.State
		}
		if d := cmp.Diff(want, got); d != "" {
			t.Fatal(d)
		}
	})
}
