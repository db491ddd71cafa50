package advise

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"

	"slipcase/engine"
	"slipcase/engine/diagnose"
)

// asking makes a tiny unit whose checks are questions to the driver.
func asking(t *testing.T, seed uint64) *Adviser {
	t.Helper()
	k, u := tiny(rand.New(rand.NewPCG(17, seed)))
	k.Checks = nil
	for f := range 5 {
		k.Checks = append(k.Checks, engine.Check{
			Name: fmt.Sprintf("ask%d", f), Stage: engine.StageInterview, Minutes: num(1), Reporter: "driver",
			Yields: []string{fmt.Sprintf("f%d", f), fmt.Sprintf("f%d", (f+1)%5)}, Asks: fmt.Sprintf("What about %d?", f),
		})
	}
	k.Checks = append(k.Checks, engine.Check{Name: "weather", Stage: engine.StageInterview, Minutes: num(1), Reporter: "driver", Yields: []string{"weather"}, Asks: "How is the weather?"})
	m, err := diagnose.Build(k, u)
	if err != nil {
		t.Fatal(err)
	}
	a, err := New(m)
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
		iv := a.Interview(&engine.CaseFile{}, State{}, Options{})
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
				// A skipped question says nothing: another one may ask.
				said[o.Finding] = n%3 != 2
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
		if err != nil || stop == nil || stop.Reason == "" || !iv.State().Over {
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
	iv := a.Interview(&engine.CaseFile{}, State{}, Options{})
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
		again := next(t, a.Interview(&engine.CaseFile{}, s, Options{}))
		if again == nil || again.Check.Name != q.Check.Name {
			t.Fatalf("after JSON: asks %v, stood at %s", again, q.Check.Name)
		}
		booked := Resume(book, nil)
		again = next(t, a.Interview(&engine.CaseFile{}, booked, Options{}))
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
	iv := a.Interview(&engine.CaseFile{}, State{}, Options{})
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
	if len(bodies) != 1+len(q.Options) {
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
	if q := next(t, a.Interview(c, State{}, Options{})); q != nil {
		t.Errorf("asks %s though everything was said", q.Check.Name)
	}
	asked := 0
	for seed := range uint64(6) {
		iv := asking(t, seed).Interview(&engine.CaseFile{}, State{}, Options{})
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
