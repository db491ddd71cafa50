package jobs

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"slipcase/cmd/internal/desk"
	"slipcase/engine"
)

// job is a script: what the driver says first, what he and the shop answer,
// and what would be right.
type job struct {
	ID         string   `json:"id"`
	Unit       string   `json:"unit"`
	Words      string   `json:"words"`
	Acceptable []string `json:"acceptable"` // names of parts, as acceptable.json reads them
	ShouldPull struct {
		Answer string `json:"answer"`
	} `json:"should_pull"`
	AtOddsWith string `json:"at_odds_with"` // a rule of thumb that this job breaks
	Facts      Facts  `json:"facts"`

	accept []string // patterns of component[/mode]
}

// limits of a sane session.
const (
	mostQuestions = 40
	mostLooks     = 15
	mostSteps     = 12
)

// record is how a job went.
type record struct {
	meanings  int // offered meanings that the driver confirmed
	refused   int // offered meanings that he did not mean
	questions []string
	looks     []string
	talk      []suspect // after the interview
	before    []suspect // before the first teardown step
	sentence  string
	pull      bool
	found     string // the right part, seen in the vehicle
	ended     string // the look that was ordered last and not taken, "" when none was
	pipe      string // why it ended early, "" when it did not
}

// load reads the given jobs with their facts, and the scripts.
func load(t testing.TB) []*job {
	t.Helper()
	read := func(name string, into any) {
		b, err := os.ReadFile(filepath.Join("..", "..", "..", "testdata", "jobs", name))
		if err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(b, into); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
	}
	var given struct {
		Scenarios []*job `json:"scenarios"`
	}
	var facts struct {
		Jobs map[string]Facts `json:"jobs"`
	}
	var more struct {
		Scripts []*job `json:"scripts"`
	}
	var names struct {
		Names map[string][]string `json:"names"`
	}
	read("jobs.json", &given)
	read("jobs-facts.json", &facts)
	read("scripts.json", &more)
	read("acceptable.json", &names)
	for _, j := range given.Scenarios {
		f, ok := facts.Jobs[j.ID]
		if !ok {
			t.Fatalf("no facts of %s", j.ID)
		}
		j.Facts = f
	}
	all := append(given.Scenarios, more.Scripts...)
	for _, j := range all {
		for _, n := range j.Acceptable {
			p, ok := names.Names[n]
			if !ok {
				t.Errorf("%s: acceptable.json does not say what %q is", j.ID, n)
			}
			j.accept = append(j.accept, p...)
		}
	}
	return all
}

// right tells whether a suspect is one that counts as right.
func (j *job) right(s suspect) bool {
	for _, p := range j.accept {
		if glob(p, s.component) || glob(p, s.component+"/"+s.mode) {
			return true
		}
	}
	return false
}

// part tells whether a component can be the right one.
func (j *job) part(component string) bool {
	for _, p := range j.accept {
		c, _, _ := strings.Cut(p, "/")
		if glob(c, component) {
			return true
		}
	}
	return false
}

// play drives the program through a job.
func play(t *testing.T, d *desk.Desk, j *job) *record {
	t.Helper()
	p, r := open(t, d, j.Unit, j.Words), &record{}
	stop := func(err error) bool {
		if err == nil {
			return false
		}
		if r.pipe = err.Error(); !clash(err) {
			t.Errorf("%s: %v", j.ID, err)
		}
		return true
	}
	offered, err := p.meanings(j.Words)
	if stop(err) {
		return r
	}
	meant := map[string]engine.State{}
	for _, m := range offered {
		hit := false
		for _, f := range m.findings {
			if s := j.Facts.Driver(f); s == m.state {
				meant[f], hit = s, true
			}
		}
		if hit {
			r.meanings++
		} else {
			r.refused++
		}
	}
	if stop(p.confirm(j.Words, meant)) {
		return r
	}
	for len(r.questions) < mostQuestions {
		q, err := p.ask()
		if stop(err) {
			return r
		}
		if q == nil {
			break
		}
		r.questions = append(r.questions, q.name)
		// The level and look of the fluid he is asked to see for himself.
		says := j.Facts.Driver
		if q.name == "ask_fluid" {
			says = j.Facts.Shop
		}
		if stop(p.answer(q, says)) {
			return r
		}
	}
	if stop(p.leave()) {
		return r
	}
	if r.talk, r.sentence, err = p.suspects(); stop(err) {
		return r
	}
	seen := map[string]bool{}
	steps := 0
	for len(r.looks) < mostLooks {
		l, err := p.next()
		if stop(err) {
			return r
		}
		if l == nil || seen[l.name] || l.stage == "pulled" || l.stage == "teardown" {
			if l != nil {
				r.ended = l.name
				if seen[l.name] {
					r.ended += " again"
				}
			}
			break
		}
		seen[l.name] = true
		said := map[string]engine.State{}
		for _, f := range l.findings {
			if l.by == "driver" {
				said[f] = j.Facts.Driver(f)
			} else {
				said[f] = j.Facts.Shop(f)
			}
		}
		r.looks = append(r.looks, l.name)
		if stop(p.note(l.by, said)) {
			return r
		}
	}
	if r.before, r.sentence, err = p.suspects(); stop(err) {
		return r
	}
	for ; steps < mostSteps; steps++ {
		s, err := p.step()
		if stop(err) || s == nil {
			return r
		}
		if s.name == "pull_unit" || s.name == "pull" {
			r.pull = true
			return r
		}
		for _, c := range s.parts {
			if j.part(c) {
				r.found = c
				return r
			}
		}
		r.looks = append(r.looks, "step:"+s.name)
		if stop(p.did(s)) {
			return r
		}
	}
	return r
}
