// Package complaint turns what a driver says into proposals of findings. It
// never reports anything: a proposal is to be shown and confirmed.
//
// A complaint is cut into words, and these into parts that say one thing each.
// Words that say the same ("bangs", "slams") stand for one idea, slips of the
// pen are forgiven, and a word under a "not" is marked. A part means a finding
// where all ideas of one of its phrases are found, the phrases being those
// that stand beside the findings in the rules; the phrase that explains more
// of the part wins. A phrase of which a word is denied gives the absence of
// its finding. Gears, ranges, shifts and conditions give place and condition.
// A part without a finding of its own speaks of the one before it: "third is
// fine", "worse when cold", "not in second".
package complaint

import (
	"math"
	"sort"

	"slipcase/engine"
	"slipcase/engine/model"
)

// Proposal is a finding that the words may mean.
type Proposal struct {
	// Finding is a name of the unit, name[@place][:condition]; name@*[:condition]
	// when the words name no place, to be narrowed by Places; good@ROW for a row
	// that is good, which stands for the absence of everything in Denies.
	Finding string
	State   engine.State // present, or absent for what the words deny
	Phrase  string       // the phrase of the rules that matched
	Words   string       // the driver's words that it was read from
	Score   float64      // 0..1: how much of what was said there it explains
	Places  []string     // findings to choose from when the place is open
	Denies  []string     // findings that are absent, for good@ROW
}

// most is the number of findings that one part of a complaint may mean.
const most = 4

// Matcher matches complaints against one unit's findings. It is safe for many at
// once.
type Matcher struct {
	m       *model.Model
	phrases []phrase
	by      map[string][]int   // idea -> phrases that have it
	weight  map[string]float64 // idea -> how much it tells
	words   map[string]bool    // every word that is understood
	stems   map[string]bool    // their stems
	known   []string           // the words, sorted
}

type phrase struct {
	finding *engine.Finding
	text    string
	ideas   []idea
}

type idea struct {
	name string
	neg  bool
}

// New gives the matcher of a model's findings: made once for a model, since reading
// the phrases of the rules takes longer than reading a complaint.
func New(m *model.Model) *Matcher { return model.Kept(m, prepare) }

// prepare reads the phrases.
func prepare(m *model.Model) *Matcher {
	x := &Matcher{m: m, by: map[string][]int{}, weight: map[string]float64{}, words: map[string]bool{}, stems: map[string]bool{}}
	x.learnWords()
	in := map[string]int{}
	for i := range m.Knowledge.Findings {
		f := &m.Knowledge.Findings[i]
		texts := append([]string(nil), f.Phrases...)
		if len(texts) > 0 {
			texts = append(texts, engine.Spaced(f.Name))
		}
		for _, text := range texts {
			p := phrase{finding: f, text: text, ideas: x.ideasOf(text, f.Per == engine.PerUnit || hasSign(f, "drives_in_neutral"))}
			if len(p.ideas) == 0 {
				continue
			}
			for _, d := range p.ideas {
				in[d.name]++
			}
			x.by[p.ideas[0].name] = append(x.by[p.ideas[0].name], len(x.phrases))
			x.phrases = append(x.phrases, p)
		}
	}
	for s, n := range in {
		x.weight[s] = math.Log(2 + float64(len(x.phrases))/float64(n))
	}
	return x
}

// learnWords gathers the words that are understood, for the forgiving of
// misspellings.
func (x *Matcher) learnWords() {
	note := func(w string) {
		if w != "" && w[0] != '_' {
			x.words[w] = true
		}
	}
	for w := range groups {
		note(w)
	}
	for w := range idle {
		note(w)
	}
	for w := range ordinals {
		note(w)
	}
	common := wordSet(commonList)
	for w := range common {
		note(w)
	}
	for w := range placeWords {
		note(w)
	}
	for w := range conditionWords {
		note(w)
	}
	for w := range goodWords {
		note(w)
	}
	for w := range turnWords {
		note(w)
	}
	for w := range foreign {
		note(w)
	}
	for w := range negations {
		note(w)
	}
	for _, w := range []string{"drive", "park", "low", "high", "manual"} {
		note(w)
	}
	for _, list := range sayings {
		for _, s := range list {
			for _, w := range s.words {
				note(w)
			}
		}
	}
	for i := range x.m.Knowledge.Findings {
		f := &x.m.Knowledge.Findings[i]
		for _, text := range f.Phrases {
			for _, t := range x.raw(text) {
				note(t.word)
			}
		}
	}
	for w := range x.words {
		x.stems[stemOf(w)] = true
		x.known = append(x.known, w)
	}
	// Words that mean something come first where a misspelling may be either.
	sort.Slice(x.known, func(i, j int) bool {
		if a, b := idle[x.known[i]] || common[x.known[i]], idle[x.known[j]] || common[x.known[j]]; a != b {
			return b
		}
		return x.known[i] < x.known[j]
	})
}

// ideasOf reads a phrase of the rules. The places that it names stand for any
// place of their kind, or for themselves where the finding has no place.
func (x *Matcher) ideasOf(text string, exact bool) []idea {
	var out []idea
	have := map[idea]bool{}
	for _, t := range x.lex(text) {
		d := idea{t.idea, t.neg}
		if t.place != nil {
			d = idea{t.place.class(), false}
			if exact && t.place.name != "" {
				d.name = "@" + t.place.name
			}
		}
		if d.name != "" && !have[d] {
			have[d] = true
			out = append(out, d)
		}
	}
	// A word comes before a place: it is by words that phrases are found.
	sort.SliceStable(out, func(i, j int) bool { return out[i].name[0] != '@' && out[j].name[0] == '@' })
	return out
}

// part is one thing that is said.
type part struct {
	from, to int // its tokens
	sentence int
	after    string // the word that it begins with, when that turned the thought
}

// hit is a finding that a part may mean.
type hit struct {
	finding  *engine.Finding
	phrase   *phrase
	used     map[int]bool
	content  int // tokens used but for places
	weight   float64
	absent   bool
	shifting bool // the phrase speaks of shifting
	weakly   bool // absent because the words say the opposite
	starts   bool // the phrase speaks of setting off in a gear
}

// Match lists what a complaint may mean, in the order in which it was said,
// the best match of a part first. The same text gives the same list.
func (x *Matcher) Match(text string) []Proposal {
	list := x.lex(text)
	for i := range list {
		if x.weight[list[i].idea] == 0 {
			list[i].idea = "" // no phrase knows it
		}
	}
	r := &reading{x: x, list: list, have: map[string]int{}}
	parts := partsOf(list)
	for i := 0; i < len(parts); {
		j := i
		for j < len(parts) && parts[j].sentence == parts[i].sentence {
			j++
		}
		r.sentence(parts[i:j])
		i = j
	}
	return placed(r.out)
}

// placed leaves out what is open where the same was said with its place before.
func placed(list []Proposal) []Proposal {
	said := map[string]bool{}
	var out []Proposal
	for _, p := range list {
		f := engine.ParseFindingName(p.Finding)
		if len(p.Places) > 0 && p.State == engine.Present && said[f.Name+":"+string(f.Condition)] {
			continue
		}
		if len(p.Places) == 0 && p.State == engine.Present && f.Place != "" {
			said[f.Name+":"+string(f.Condition)] = true
		}
		out = append(out, p)
	}
	return out
}

// partsOf cuts tokens into parts: at stops, at words that turn the thought, and
// at "and" where something is said on both sides of it. A list of places is one
// part with what is said of them.
func partsOf(list []token) []part {
	says := func(from, to int) bool {
		for _, t := range list[from:to] {
			if t.idea != "" && t.place == nil || t.praise != noPraise {
				return true
			}
		}
		return false
	}
	var out []part
	from, sentence, after := 0, 0, ""
	cut := func(to, next int, turned string) {
		if to > from {
			out = append(out, part{from, to, sentence, after})
		}
		from, after = next, turned
	}
	for i, t := range list {
		if ceases(list, i) && says(from, i) {
			to := i
			for to > from && linking[list[to-1].word] {
				to--
			}
			cut(to, i, "")
			list[i].idea, list[i].praise = "", weak
		}
		switch {
		case t.stop == '.':
			cut(i, i+1, "")
			sentence++
		case t.stop == ',':
			cut(i, i+1, "")
		case t.turn:
			cut(i, i+1, t.word)
		case t.joining:
			end := i + 1
			for end < len(list) && list[end].stop == 0 && !list[end].turn && !list[end].joining && !ceases(list, end) {
				end++
			}
			if says(from, i) && says(i+1, end) {
				cut(i, i+1, "and")
			}
		}
	}
	cut(len(list), len(list), "")
	for i := 1; i < len(out); i++ {
		// "every gear but reverse"
		if a, b := out[i-1], &out[i]; b.after == "but" && onlyPlaces(list[b.from:b.to]) && endsWithAll(list[a.from:a.to]) {
			b.after = "except"
		}
	}
	// Places alone belong to what is said beside them.
	var joined []part
	for i := 0; i < len(out); i++ {
		p := out[i]
		if onlyPlaces(list[p.from:p.to]) && p.after == "" {
			if n := len(joined); n > 0 && joined[n-1].sentence == p.sentence && lastPlace(list[joined[n-1].from:joined[n-1].to]) && says(joined[n-1].from, joined[n-1].to) {
				joined[n-1].to = p.to
				continue
			}
			if i+1 < len(out) && out[i+1].sentence == p.sentence && (out[i+1].after == "" || out[i+1].after == "and") {
				out[i+1].from, out[i+1].after = p.from, p.after
				continue
			}
		}
		joined = append(joined, p)
	}
	return joined
}

// ceases tells whether a word begins what says where or when the trouble is
// gone: "a whine that goes away in third". Where "gone" names a gear that is not
// there, the gear stands before it.
func ceases(list []token, i int) bool {
	if !ceasing[list[i].word] || list[i].neg {
		return false
	}
	for _, t := range list[i+1:] {
		switch {
		case t.place != nil:
			return t.place.kind != takeoff
		case t.when != "":
			return !t.neg
		case !leading[t.word]:
			return false
		}
	}
	return false
}

var (
	ceasing = wordSet("_goesaway stops quits gone ends")
	linking = wordSet("that which is it")
	leading = wordSet("in into at on to the once when if it gets goes is going shifts shift and you i hits after _into")
)

func onlyPlaces(list []token) bool {
	some := false
	for _, t := range list {
		switch {
		case t.place != nil:
			some = true
		case t.idea != "" || comparing[t.word] || t.praise != noPraise || t.when != "" || t.neg || negations[t.word]:
			return false
		}
	}
	return some
}

func endsWithAll(list []token) bool {
	p := list[len(list)-1].place
	return p != nil && p.kind == all
}

func lastPlace(list []token) bool {
	for i := len(list) - 1; i >= 0; i-- {
		if list[i].place != nil {
			return true
		}
		if list[i].idea != "" {
			return false
		}
	}
	return false
}

// beats orders the phrases of one finding.
func (h hit) beats(b hit) bool {
	if h.weight != b.weight {
		return h.weight > b.weight
	}
	if h.absent != b.absent {
		return !h.absent
	}
	return h.phrase.text < b.phrase.text
}

// hits lists the findings whose phrases are found between two tokens, best
// first. What another finding explains better is left out.
//
// Places of the scene, told before, count as said.
func (x *Matcher) hits(list []token, from, to int, scene []int) []hit {
	at := map[string][]int{}
	here := make([]int, 0, to-from+len(scene))
	for i := from; i < to; i++ {
		here = append(here, i)
	}
	for _, i := range append(here, scene...) {
		t := list[i]
		switch {
		case t.place != nil && t.stop == 0:
			at[t.place.class()] = append(at[t.place.class()], i)
			at["@"+t.place.name] = append(at["@"+t.place.name], i)
			if t.place.kind == all {
				if t.place.name == "" {
					at["@gear"] = append(at["@gear"], i)
				} else {
					at["shift"] = append(at["shift"], i)
				}
			}
		case t.idea != "":
			at[t.idea] = append(at[t.idea], i)
		}
	}
	best := map[*engine.Finding]hit{}
	for name := range at {
		for _, n := range x.by[name] {
			h, ok := x.try(&x.phrases[n], list, at)
			if !ok {
				continue
			}
			if b, had := best[h.finding]; !had || h.beats(b) {
				best[h.finding] = h
			}
		}
	}
	var all []hit
	for _, h := range best {
		all = append(all, h)
	}
	sort.Slice(all, func(i, j int) bool {
		if all[i].weight != all[j].weight {
			return all[i].weight > all[j].weight
		}
		if all[i].absent != all[j].absent {
			return !all[i].absent
		}
		return all[i].finding.Name < all[j].finding.Name
	})
	var out []hit
	for _, h := range all {
		if !beaten(list, h, out) && len(out) < most {
			out = append(out, h)
		}
	}
	return out
}

// beaten tells whether a better hit explains the words of this one.
func beaten(list []token, h hit, better []hit) bool {
	for _, b := range better {
		shared, own := 0, 0
		for i := range h.used {
			switch {
			case b.used[i] && list[i].place == nil:
				shared++
			case !b.used[i] && list[i].place == nil:
				own++
			}
		}
		if shared > 0 && (own == 0 && (len(h.used) < len(b.used) || h.absent && !b.absent) || h.weight < 0.8*b.weight) || h.weakly && !b.absent {
			return true
		}
	}
	return false
}

// try looks for all ideas of a phrase.
func (x *Matcher) try(p *phrase, list []token, at map[string][]int) (hit, bool) {
	h := hit{finding: p.finding, phrase: p, used: map[int]bool{}}
	for _, d := range p.ideas {
		found := -1
		for _, i := range at[d.name] {
			if h.used[i] && list[i].place == nil {
				continue
			}
			if found < 0 || list[found].neg != d.neg && list[i].neg == d.neg {
				found = i
			}
		}
		if found < 0 {
			return h, false
		}
		h.used[found] = true
		h.weight += x.weight[d.name]
		if d.name[0] == '@' {
			continue
		}
		h.content++
		switch {
		case list[found].place != nil:
		case d.neg && !list[found].neg:
			if p.finding.Per != engine.PerUnit {
				return h, false // "it moves" is not "does not move"
			}
			h.absent, h.weakly = true, true // "park holds"
		case !d.neg && list[found].neg:
			h.absent = true
		}
	}
	for _, d := range p.ideas {
		h.starts = h.starts || d.name == "takeoff"
		h.shifting = h.shifting || d.name == "shift"
	}
	return h, h.content > 0
}
