package complaint_test

import (
	"encoding/json"
	"os"
	"strings"
	"testing"

	"slipcase/engine"
	"slipcase/engine/complaint"
)

// said is a sentence with what it means; testdata/complaints says how to read it.
type said struct {
	Says    string   `json:"says"`
	Means   []string `json:"means"`
	Not     []string `json:"not"`
	HeldOut bool     `json:"held_out"`
}

func saidIn(t testing.TB, file string) []said {
	t.Helper()
	text, err := os.ReadFile("../../testdata/complaints/" + file)
	if err != nil {
		t.Fatal(err)
	}
	var all struct {
		Sentences []said `json:"sentences"`
	}
	if err := json.Unmarshal(text, &all); err != nil {
		t.Fatal(err)
	}
	return all.Sentences
}

// offer is one finding that a proposal puts forward.
type offer struct {
	name   string // name, name@place, name@? where the place is open; with :condition
	absent bool
}

func offers(list []complaint.Proposal) []offer {
	var out []offer
	for _, p := range list {
		if len(p.Denies) > 0 {
			out = append(out, offer{name: p.Finding})
			for _, d := range p.Denies {
				out = append(out, offer{d, true})
			}
			continue
		}
		out = append(out, offer{strings.Replace(p.Finding, "@*", "@?", 1), p.State == engine.Absent})
	}
	return out
}

// fits tells whether an offer is what a wanted name says. A sign of the whole
// vehicle may carry a condition besides.
func fits(want string, o offer) bool {
	name, absent := strings.CutPrefix(want, "-")
	if absent != o.absent {
		return false
	}
	if name == o.name {
		return true
	}
	w, g := engine.ParseFindingName(name), engine.ParseFindingName(o.name)
	if w.Place == "" && w.Condition == "" {
		return w.Name == g.Name && g.Place == ""
	}
	return w.Name == "good" && w.Place == "forward" && g.Name == "good" && strings.HasPrefix(g.Place, "D/")
}

// clashes tells whether an offer is what a sentence must not be taken for.
func clashes(not string, o offer) bool {
	n, g := engine.ParseFindingName(not), engine.ParseFindingName(o.name)
	return !o.absent && n.Name == g.Name && (n.Place == "*" || n.Place == g.Place) && (n.Condition == "" || n.Condition == g.Condition)
}

type verdict struct {
	missed []string // of means
	wrong  []offer
	spare  []offer // offered besides, neither meant nor wrong
}

func (v verdict) right() bool { return len(v.missed) == 0 && len(v.wrong) == 0 }

func judge(s said, got []offer) verdict {
	var v verdict
	meant := map[offer]bool{}
	none := false
	for _, w := range s.Means {
		found := false
		for _, one := range strings.Split(w, "|") {
			if one == "none" {
				none, found = true, true
			}
			for _, o := range got {
				if fits(one, o) {
					meant[o], found = true, true
				}
			}
		}
		if !found {
			v.missed = append(v.missed, w)
		}
	}
	for _, o := range got {
		if meant[o] || strings.HasPrefix(o.name, "good@") && o.absent {
			continue
		}
		bad := none && len(s.Means) == 1 && len(s.Not) > 0 && s.Means[0] == "none" && !o.absent
		for _, n := range s.Not {
			bad = bad || clashes(n, o)
		}
		for _, w := range s.Means { // the opposite of what was said
			for _, one := range strings.Split(w, "|") {
				bad = bad || len(strings.Split(w, "|")) == 1 && fits(one, offer{o.name, !o.absent})
			}
		}
		switch {
		case bad:
			v.wrong = append(v.wrong, o)
		case !o.absent:
			v.spare = append(v.spare, o)
		}
	}
	return v
}

type score struct{ all, right, wrong, clean int }

func rate(t testing.TB, m *complaint.Matcher, list []said, tell bool) score {
	var s score
	for _, x := range list {
		got := offers(m.Match(x.Says))
		v := judge(x, got)
		s.all++
		if v.right() {
			s.right++
			if len(v.spare) == 0 {
				s.clean++
			}
		} else if tell {
			t.Logf("%q: missed %v, wrong %v, spare %v", x.Says, v.missed, v.wrong, v.spare)
		}
		if len(v.wrong) > 0 {
			s.wrong++
		}
	}
	return s
}

// What drivers say is understood: the sentences that the matcher was tuned on,
// and those that were kept apart, of which only the score was looked at. The
// outside ninety were written by someone else; nine that were wrong were looked
// at.
func TestDriverSentences(t *testing.T) {
	m := matcher(t)
	var tuned, kept []said
	for _, s := range saidIn(t, "sentences.json") {
		if s.HeldOut {
			kept = append(kept, s)
		} else {
			tuned = append(tuned, s)
		}
	}
	for _, c := range []struct {
		name         string
		list         []said
		tell         bool
		right, wrong int // percent: at least, at most
	}{
		{"tuned on", tuned, true, 95, 1},
		{"held out", kept, false, 85, 6},
		{"outside", saidIn(t, "driver-phrases.json"), false, 70, 8},
	} {
		s := rate(t, m, c.list, c.tell)
		t.Logf("%s: %d of %d right, %d with something wrong, %d right and nothing else offered", c.name, s.right, s.all, s.wrong, s.clean)
		if s.right*100 < c.right*s.all || s.wrong*100 > c.wrong*s.all {
			t.Errorf("%s: %d of %d are understood, %d wrongly", c.name, s.right, s.all, s.wrong)
		}
	}
}

// Every name in the sentences is one of the rules: a finding that was renamed
// would otherwise count as missed, or never as wrong.
func TestSentencesNameFindings(t *testing.T) {
	m := modelOf(t)
	for _, file := range []string{"sentences.json", "driver-phrases.json"} {
		for _, s := range saidIn(t, file) {
			for _, w := range append(append([]string(nil), s.Means...), s.Not...) {
				for _, one := range strings.Split(w, "|") {
					f := engine.ParseFindingName(strings.TrimPrefix(one, "-"))
					switch {
					case f.Name == "none" || f.Name == "good":
					case !m.HasFinding(f.Base()) && len(m.Match(f.Name+"@*")) == 0:
						t.Errorf("%s: %q: no finding %s", file, s.Says, one)
					}
				}
			}
		}
	}
}
