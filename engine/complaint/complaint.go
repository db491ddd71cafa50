// Package complaint turns what a driver says into proposals of findings. It
// never reports anything: a proposal is to be shown and confirmed.
//
// A complaint is cut into clauses. Each clause is compared with the phrases
// that stand beside the findings in the rule files, word stem by word stem
// (Porter's stemmer for English), rare words weighing more than common ones
// and small slips of the pen forgiven. Gears, shifts and conditions named in a
// clause give the place and condition; a clause without a place takes that of
// the clause before it. "Second is fine" proposes the absence of what was said
// last.
package complaint

import (
	"math"
	"sort"
	"strings"
	"unicode"

	"github.com/agext/levenshtein"
	"github.com/kljensen/snowball"

	"slipcase/engine"
	"slipcase/engine/model"
)

// Proposal is a finding that the words may mean.
type Proposal struct {
	// Finding is a name of the unit, name[@place][:condition]; or name@* when
	// the words name no place, to be narrowed by Places.
	Finding string
	Title   string
	State   engine.State // present, or absent for "second is fine"
	Phrase  string       // the phrase of the rules that matched
	Words   string       // the driver's clause
	Score   float64      // 0..1: the share of the phrase's weight that was found
	Places  []string     // findings to choose from when the place is open
}

// least is the share of a phrase's weight that must be found.
const least = 0.6

// Matcher matches complaints against one unit's findings.
type Matcher struct {
	m       *model.Model
	phrases []phrase
	weight  map[string]float64 // stem -> how much it tells
	known   []string           // all stems, sorted
}

type phrase struct {
	finding *engine.Finding
	text    string
	stems   []string
	gears   []string // gears that the phrase itself names: the clause must, too
}

// New prepares the phrases of a model's findings.
func New(m *model.Model) *Matcher {
	x := &Matcher{m: m, weight: map[string]float64{}}
	in := map[string]int{}
	for i := range m.Knowledge.Findings {
		f := &m.Knowledge.Findings[i]
		for _, text := range append(append([]string(nil), f.Phrases...), strings.ReplaceAll(f.Name, "_", " ")) {
			p := phrase{finding: f, text: text, stems: stems(text), gears: placeOf(text).gears}
			if len(p.stems) == 0 {
				continue
			}
			x.phrases = append(x.phrases, p)
			for _, s := range unique(p.stems) {
				in[s]++
			}
		}
	}
	for s, n := range in {
		x.weight[s] = math.Log(1 + float64(len(x.phrases))/float64(n))
		x.known = append(x.known, s)
	}
	sort.Strings(x.known)
	return x
}

func unique(list []string) []string {
	seen := map[string]bool{}
	var out []string
	for _, s := range list {
		if !seen[s] {
			seen[s] = true
			out = append(out, s)
		}
	}
	return out
}

// Match lists what a complaint may mean, in the order in which it was said,
// the best match of a clause first. The same text gives the same list.
func (x *Matcher) Match(text string) []Proposal {
	var out []Proposal
	var last *engine.Finding
	var at place
	have := map[string]bool{}
	add := func(p Proposal) {
		if !have[p.Finding] {
			have[p.Finding] = true
			out = append(out, p)
		}
	}
	for _, clause := range x.clauses(text) {
		here := placeOf(clause)
		if here.empty() {
			here.gears, here.shifts = at.gears, at.shifts
		}
		if len(here.conditions) == 0 && here.empty() {
			here.conditions = at.conditions
		}
		hits := x.best(clause)
		if praise(clause) && last != nil && !placeOf(clause).empty() {
			hits = nil // "reverse is good" speaks of what was said before
		}
		if len(hits) == 0 && last != nil && !placeOf(clause).empty() {
			state := engine.Present // "and in third too"
			if praise(clause) {
				state = engine.Absent
			}
			for _, p := range x.proposals(hit{finding: last, score: least}, clause, here) {
				p.State = state
				add(p)
			}
		}
		for _, h := range hits {
			for _, p := range x.proposals(h, clause, here) {
				if praise(clause) {
					p.State = engine.Absent
				}
				add(p)
			}
			last = h.finding
		}
		at = here
	}
	return out
}

type hit struct {
	finding *engine.Finding
	phrase  string
	score   float64
}

// best lists the findings whose phrases a clause holds, best first; findings
// with less than three quarters of the best score are left out.
func (x *Matcher) best(clause string) []hit {
	said := map[string]bool{}
	for _, s := range stems(clause) {
		said[x.mend(s)] = true
	}
	best := map[*engine.Finding]hit{}
	at := placeOf(clause).gears
	for _, p := range x.phrases {
		if !covers(at, p.gears) {
			continue
		}
		var found, all float64
		for _, s := range unique(p.stems) {
			all += x.weight[s]
			if said[s] {
				found += x.weight[s]
			}
		}
		score := found / all
		// Longer phrases say more: break ties by what was found.
		score *= 1 - 0.1/(1+found)
		if score >= least && score > best[p.finding].score {
			best[p.finding] = hit{p.finding, p.text, score}
		}
	}
	var out []hit
	for _, h := range best {
		out = append(out, h)
	}
	sort.Slice(out, func(i, j int) bool {
		if out[i].score != out[j].score {
			return out[i].score > out[j].score
		}
		return out[i].finding.Name < out[j].finding.Name
	})
	for i, h := range out {
		if h.score < 0.75*out[0].score || i >= 3 {
			return out[:i]
		}
	}
	return out
}

func covers(list, want []string) bool {
	for _, w := range want {
		if len(add(list, w)) != len(list) {
			return false
		}
	}
	return true
}

// mend forgives one slip of the pen in words of four letters and more, where
// just one known stem is near.
func (x *Matcher) mend(stem string) string {
	if _, ok := x.weight[stem]; ok || len(stem) < 4 {
		return stem
	}
	found := ""
	for _, k := range x.known {
		if len(k) >= 4 && levenshtein.Distance(stem, k, nil) == 1 {
			if found != "" {
				return stem
			}
			found = k
		}
	}
	if found != "" {
		return found
	}
	return stem
}

// proposals names a hit's finding at the places that the clause names.
func (x *Matcher) proposals(h hit, clause string, at place) []Proposal {
	f := h.finding
	var names []string
	u := x.m.Unit
	switch f.Per {
	case engine.PerUnit:
		names = []string{f.Name}
	case engine.PerRow, engine.PerRowGear:
		for _, g := range at.gears {
			if row := rowOf(u, g); row != "" {
				names = append(names, x.m.Match(f.Name+"@"+row)...)
			}
		}
	case engine.PerShift:
		for _, s := range at.shifts {
			for _, name := range x.m.Match(f.Name + "@*") {
				if strings.HasSuffix(name, "/"+s) {
					names = append(names, name)
				}
			}
		}
		// "bangs into third": the shift that ends there.
		for _, g := range at.gears {
			for _, name := range x.m.Match(f.Name + "@*") {
				if len(at.shifts) == 0 && strings.HasSuffix(name, "-"+g) {
					names = append(names, name)
				}
			}
		}
	case engine.PerEngagement:
		for _, g := range at.gears {
			switch g {
			case "R":
				names = append(names, f.Name+"@R")
			case "D", "1":
				names = append(names, f.Name+"@D")
			}
		}
	}
	if len(names) == 0 {
		open := x.m.Match(f.Name + "@*")
		if len(open) == 0 {
			return nil
		}
		return []Proposal{{Finding: f.Name + "@*", Title: strings.TrimSpace(strings.ReplaceAll(f.Title, "{place}", "")), State: engine.Present,
			Phrase: h.phrase, Words: clause, Score: h.score, Places: open}}
	}
	var out []Proposal
	for _, name := range names {
		conditions := at.conditions
		if len(conditions) == 0 {
			conditions = []engine.Condition{""}
		}
		for _, c := range conditions {
			full := name
			if c != "" {
				full += ":" + string(c)
			}
			if !x.m.HasFinding(full) {
				continue
			}
			out = append(out, Proposal{Finding: full, Title: x.title(full), State: engine.Present, Phrase: h.phrase, Words: clause, Score: h.score})
		}
	}
	return out
}

func (x *Matcher) title(name string) string {
	if i, ok := x.m.Lookup(name); ok {
		return x.m.Nodes[i].Title
	}
	return name
}

// rowOf is the row that a driver means by a gear: that of the first range that
// has it; the highest gear for overdrive ("top").
func rowOf(u *engine.Unit, gear string) string {
	if gear == "top" {
		for i := len(u.Rows) - 1; i >= 0; i-- {
			r := u.Rows[i]
			best := ""
			for _, o := range u.Rows {
				if o.Range == "D" && o.Gear > best && o.Gear <= "9" {
					best = o.Gear
				}
			}
			if r.Range == "D" && r.Gear == best {
				return r.Name()
			}
		}
	}
	if gear == "D" {
		gear = "1" // "in drive": where it sets off
	}
	for _, r := range u.Rows {
		if r.Gear == gear {
			if r.Range == "D" || r.Range == gear {
				return r.Name()
			}
		}
	}
	return ""
}

// stems cuts a text into word stems without the words that tell nothing.
func stems(text string) []string {
	var out []string
	for _, w := range words(text) {
		if idle[w] || gearWords[w] != "" || conditionWords[w] != "" {
			continue
		}
		s, err := snowball.Stem(w, "english", false)
		if err != nil {
			s = w
		}
		out = append(out, s)
	}
	return out
}

func words(text string) []string {
	text = strings.ReplaceAll(strings.ToLower(text), "n't", " not")
	text = strings.ReplaceAll(text, "'", "")
	return strings.FieldsFunc(text, func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r)
	})
}

// clauses cuts a complaint at stops, and at words that turn the thought where
// a part says something by itself ("the engine races but the car does not go
// faster" is one thought).
func (x *Matcher) clauses(text string) []string {
	text = strings.ReplaceAll(text, "’", "'")
	var out []string
	for _, sentence := range strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(".;,!?\n", r) }) {
		whole := strings.TrimSpace(sentence)
		for _, turn := range []string{" but ", " although ", " then ", " while ", " and "} {
			sentence = strings.ReplaceAll(sentence, turn, "\n")
		}
		var parts []string
		says := false
		for _, c := range strings.Split(sentence, "\n") {
			if c = strings.TrimSpace(c); c != "" {
				parts = append(parts, c)
				says = says || len(x.best(c)) > 0
			}
		}
		if !says && len(parts) > 1 && len(x.best(whole)) > 0 {
			parts = []string{whole}
		}
		out = append(out, parts...)
	}
	return out
}

// praise tells whether a clause says that something is good.
func praise(clause string) bool {
	good, not := false, false
	for _, w := range words(clause) {
		switch w {
		case "fine", "good", "ok", "okay", "normal", "normally", "perfect", "perfectly", "right":
			good = true
		case "not", "no", "never":
			not = true
		}
	}
	return good && !not
}
