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
// and those that were kept apart, of which only the score was looked at.
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
	a, b := rate(t, m, tuned, true), rate(t, m, kept, false)
	t.Logf("tuned on: %d of %d right, %d with something wrong, %d right and nothing else offered", a.right, a.all, a.wrong, a.clean)
	t.Logf("held out: %d of %d right, %d with something wrong, %d right and nothing else offered", b.right, b.all, b.wrong, b.clean)
	if a.right*100 < 90*a.all {
		t.Errorf("only %d of %d sentences are understood", a.right, a.all)
	}
	if b.right*100 < 85*b.all {
		t.Errorf("only %d of %d held-out sentences are understood", b.right, b.all)
	}
}
