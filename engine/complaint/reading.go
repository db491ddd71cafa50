package complaint

import (
	"slices"
	"strings"

	"slipcase/engine"
)

// reading is a complaint as it is being read.
type reading struct {
	x    *Matcher
	list []token
	out  []Proposal
	have map[string]int // finding -> its place in out

	// What was said last: its finding, and where.
	last    *hit
	lastAt  where
	lastOut []int // its proposals
	// Praise that came before there was anything to deny.
	pending []praised
	scene   []int // tokens of the places that an earlier part of the sentence set
}

type praised struct {
	at    where
	words string
}

// sentence reads the parts of one sentence. A part in which nothing is said
// sets the scene for those after it ("when I put it in reverse, ...").
func (r *reading) sentence(parts []part) {
	r.pending, r.scene = nil, nil
	var scene where
	praised, worked := false, false // the scene was praised: what follows is not said of it
	for i := 0; i < len(parts); i++ {
		p := parts[i]
		tokens := r.list[p.from:p.to]
		hits := r.hits(p)
		// What takes two parts to say: "count to four, then it bangs".
		if i+1 < len(parts) {
			q := parts[i+1]
			next := r.hits(q)
			fine := praiseOf(tokens) != noPraise && whereOf(tokens, nil).placed()
			if wide := r.across(p, q, hits, next); len(wide) > 0 && !fine {
				r.take(wide, p.from, q.to, scene, praised)
				i++
				continue
			}
		}
		here := whereOf(tokens, nil)
		if p.after == "until" {
			here = where{}
		}
		if len(hits) > 0 {
			r.take(hits, p.from, p.to, scene, praised)
			continue
		}
		if r.about(tokens) {
			continue // a thing that is no part of the drive
		}
		good := praiseOf(tokens)
		switch {
		case good != noPraise:
			if !here.placed() && len(here.when) == 0 {
				here = scene
			}
			r.praise(good, here, p)
		case worked && r.last == nil && here.placed() && r.denies(p):
			r.drives(here, r.words(p.from, p.to), engine.Present) // "second works, drive does not"
		case r.last != nil && onlyOthers(here) && !says(tokens):
			r.praise(strong, here, p) // "everything else does"
		case r.last != nil && (here.placed() || len(here.when)+len(here.never) > 0) && !says(tokens):
			r.refine(here, p)
		}
		if here.placed() && good == noPraise {
			r.scene = nil
			for k := p.from; k < p.to; k++ {
				if r.list[k].place != nil {
					r.scene = append(r.scene, k)
				}
			}
		}
		if here.placed() || len(here.when) > 0 {
			if len(here.when) == 0 {
				here.when = scene.when
			}
			if !here.placed() {
				here.places = scene.places
			}
			if good == noPraise || !here.placed() {
				scene = here
			} else {
				scene = where{places: here.places}
			}
			praised, worked = good == strong, good != noPraise
		}
	}
}

// hits are what a part may mean, unless it speaks of something else.
func (r *reading) hits(p part) []hit {
	hits := r.x.hits(r.list, p.from, p.to, r.scene)
	if !r.about(r.list[p.from:p.to]) {
		return hits
	}
	var out []hit
	for _, h := range hits {
		for i := range h.used {
			if foreign[r.list[i].word] {
				out = append(out, h)
				break
			}
		}
	}
	return out
}

// about tells whether a part speaks of something that is no part of the drive.
func (r *reading) about(tokens []token) bool {
	for _, t := range tokens {
		if foreign[t.word] {
			return true
		}
	}
	return false
}

// across lists hits that need words of two parts and explain more than either
// says alone.
func (r *reading) across(p, q part, first, second []hit) []hit {
	var out []hit
	for _, h := range r.x.hits(r.list, p.from, q.to, r.scene) {
		in, beyond := 0, 0
		for i := range h.used {
			if r.list[i].place != nil {
				continue
			}
			if i < p.to {
				in++
			} else {
				beyond++
			}
		}
		if in == 0 || beyond == 0 {
			continue
		}
		// Two parts that each say something need a phrase of three ideas.
		if len(first) > 0 && len(second) > 0 && h.content < 3 {
			continue
		}
		out = append(out, h)
	}
	if len(out) == 0 {
		return nil
	}
	// What else the two parts say stays.
	for _, h := range append(first, second...) {
		if !beaten(r.list, h, out) {
			same := false
			for _, o := range out {
				same = same || o.finding == h.finding
			}
			if !same {
				out = append(out, h)
			}
		}
	}
	return out
}

// denies tells whether a part holds a negation.
func (r *reading) denies(p part) bool {
	for _, t := range r.list[p.from:p.to] {
		if negations[t.word] {
			return true
		}
	}
	return false
}

func onlyOthers(at where) bool {
	for _, p := range at.places {
		if p.kind != others {
			return false
		}
	}
	return len(at.places) > 0 && len(at.when) == 0
}

// says tells whether tokens hold anything but places, conditions and words
// that tell nothing or compare.
func says(tokens []token) bool {
	for _, t := range tokens {
		if t.place == nil && t.idea != "" && !restating[t.idea] && !comparing[t.word] {
			return true
		}
	}
	return false
}

var comparing = wordSet("worse worst mostly mainly especially")

// restating are ideas that add nothing to a place: "in third gear only".
var restating = wordSet("only gear shift move")

func praiseOf(tokens []token) praise {
	best := noPraise
	for _, t := range tokens {
		if t.praise != noPraise && !t.neg && (best == noPraise || t.praise == strong) {
			best = t.praise
		}
	}
	return best
}

func (r *reading) words(from, to int) string {
	var out []string
	for _, t := range r.list[from:to] {
		if t.said != "" {
			out = append(out, t.said)
		}
	}
	return strings.Join(out, " ")
}

// take proposes what some hits name at the places that the words name.
func (r *reading) take(hits []hit, from, to int, scene where, praised bool) {
	tokens := r.list[from:to]
	r.lastOut = nil
	for k := range hits {
		h := &hits[k]
		used := map[int]bool{}
		if h.finding.Per == engine.PerUnit {
			for i := range h.used {
				if i >= from && i < to {
					used[i-from] = true
				}
			}
		}
		at := whereOf(tokens, used)
		if !at.placed() && (!praised || len(at.when) > 0) {
			at.places = scene.places
		}
		if len(at.when) == 0 && len(at.never) == 0 {
			at.when = scene.when
		}
		if h.finding.Per == engine.PerRowGear && slipsThere(hits) {
			continue // "slips taking off in second"
		}
		made := r.propose(h, at, h.absent, r.words(from, to))
		if len(made) == 0 {
			continue
		}
		if k == 0 || len(r.lastOut) == 0 || r.last == nil {
			r.last, r.lastAt = h, at
		}
		r.lastOut = append(r.lastOut, made...)
		for _, c := range at.never {
			r.propose(h, where{places: at.places, when: []engine.Condition{c}}, true, r.words(from, to))
		}
		for _, g := range r.pending {
			place := g.at
			if !place.placed() {
				place.places = at.places
			}
			r.propose(h, place, true, g.words)
		}
	}
	r.pending = nil
}

// slipsThere tells whether something is said of the gear besides that it starts
// off in it.
func slipsThere(hits []hit) bool {
	for _, h := range hits {
		if h.finding.Per != engine.PerUnit && !h.starts {
			return true
		}
	}
	return false
}

// propose puts a finding forward at some places and conditions, and gives the
// numbers of the proposals.
func (r *reading) propose(h *hit, at where, absent bool, words string) []int {
	x, f := r.x, h.finding
	state := engine.Present
	if absent {
		state = engine.Absent
	}
	conditions := at.when
	if len(conditions) == 0 {
		conditions = []engine.Condition{""}
	}
	var made []int
	names, open := x.places(f, at.places, h.starts, h.shifting, r.lastAt.places)
	for _, c := range conditions {
		with := func(name string) string {
			full := name + ":" + string(c)
			if c == "" || f.Per == engine.PerUnit && !x.m.Tells(full) {
				return name
			}
			return full
		}
		p := Proposal{State: state, Phrase: h.phrase.text, Words: words, Score: h.score()}
		if open {
			p.Finding = with(f.Name + "@*")
			set := "@*"
			if f.Per == engine.PerShift && x.isUp(f) {
				set = "@up"
			}
			for _, name := range x.m.Match(f.Name + set) {
				p.Places = append(p.Places, with(name))
			}
			if len(p.Places) > 0 {
				made = append(made, r.add(p))
			}
			continue
		}
		for _, name := range names {
			p.Finding = with(name)
			if x.m.HasFinding(p.Finding) {
				made = append(made, r.add(p))
			}
		}
	}
	return made
}

// add keeps a proposal; what was proposed first stays.
func (r *reading) add(p Proposal) int {
	if n, ok := r.have[p.Finding]; ok {
		return n
	}
	r.have[p.Finding] = len(r.out)
	r.out = append(r.out, p)
	return len(r.out) - 1
}

// praise reads "third is fine": the row is good, and what was said last is not
// there. "Smooth" and "quiet" only deny what was said last.
func (r *reading) praise(good praise, at where, p part) {
	words := r.words(p.from, p.to)
	if good == strong && len(at.when) == 0 && at.placed() {
		for _, row := range r.x.rows(at.places, r.lastAt.places) {
			if denies := r.x.m.Good(row, engine.Driver); len(denies) > 0 {
				r.add(Proposal{Finding: engine.GoodPrefix + row, State: engine.Present, Words: words, Score: 1, Denies: denies})
			}
		}
	}
	switch {
	case !at.placed() && len(at.when) == 0:
	case r.last != nil && r.last.absent:
	case r.last != nil:
		if !at.placed() {
			at.places = r.lastAt.places
		}
		names, open := r.x.places(r.last.finding, at.places, false, true, r.lastAt.places)
		if !open || len(at.when) > 0 {
			r.deny(names, open, at, words)
		}
	case good == works && at.placed():
		r.drives(at, words, engine.Absent)
	default:
		r.pending = append(r.pending, praised{at, words})
	}
}

// deny proposes the absence of what was said last, where no good row says it.
func (r *reading) deny(names []string, open bool, at where, words string) {
	if !open && len(at.when) == 0 {
		left := at
		left.places = nil
		for _, p := range at.places {
			names, _ := r.x.places(r.last.finding, []place{p}, false, true, r.lastAt.places)
			said := len(names) > 0
			for _, n := range names {
				said = said && r.denied(n)
			}
			if !said {
				left.places = append(left.places, p)
			}
		}
		if len(left.places) == 0 {
			return
		}
		at = left
	}
	made := r.propose(r.last, at, true, words)
	// Where the place is still to be asked, these are no answers.
	for _, i := range r.lastOut {
		for _, n := range made {
			r.out[i].Places = slices.DeleteFunc(r.out[i].Places, func(name string) bool { return name == r.out[n].Finding })
		}
	}
}

func (r *reading) denied(name string) bool {
	for _, p := range r.out {
		for _, d := range p.Denies {
			if d == name {
				return true
			}
		}
	}
	return false
}

// drives reads "works in low": the loss of drive is not there.
func (r *reading) drives(at where, words string, state engine.State) {
	for i := range r.x.m.Knowledge.Findings {
		f := &r.x.m.Knowledge.Findings[i]
		if f.Per == engine.PerRow && lossOfDrive(f) {
			r.propose(&hit{finding: f, phrase: &phrase{finding: f}}, at, state == engine.Absent, words)
		}
	}
}

// refine reads "worst in third", "only when cold", "not in second": it speaks
// of what was said last.
func (r *reading) refine(at where, p part) {
	words := r.words(p.from, p.to)
	negated := p.after == "except" || p.after == "excepting" || p.after == "besides"
	for _, t := range r.list[p.from:p.to] {
		negated = negated || (t.place != nil || t.when != "") && t.neg
		if t.idea == "only" && at.placed() && len(r.lastAt.places) > 0 {
			negated = true // "no forward, reverse only"
		}
	}
	if !at.placed() {
		at.places = r.lastAt.places
	}
	if negated {
		if len(at.when) == 0 {
			at.when = at.never
		}
		if p.after == "except" {
			r.drop(at)
		}
		r.propose(r.last, at, true, words)
		return
	}
	if len(at.when) == 0 {
		at.when = r.lastAt.when
	}
	// What was open is placed; what held in any condition holds in this one.
	open := len(r.lastAt.places) == 0
	if open || len(r.lastAt.when) == 0 && len(at.when) > 0 {
		if names, still := r.x.places(r.last.finding, at.places, false, true, nil); len(names) > 0 || still {
			r.remove(r.lastOut, r.last)
		}
	}
	r.lastOut = r.propose(r.last, at, r.last.absent, words)
	r.lastAt = at
}

// drop takes back proposals of the last finding at some places.
func (r *reading) drop(at where) {
	names, open := r.x.places(r.last.finding, at.places, false, true, r.lastAt.places)
	if open {
		return
	}
	gone := map[string]bool{}
	for _, n := range names {
		gone[n] = true
	}
	var out []int
	for _, i := range r.lastOut {
		if gone[engine.ParseFindingName(r.out[i].Finding).Base()] {
			out = append(out, i)
		}
	}
	r.remove(out, r.last)
}

// remove takes proposals of a finding back.
func (r *reading) remove(numbers []int, of *hit) {
	gone := map[int]bool{}
	for _, n := range numbers {
		gone[n] = engine.ParseFindingName(r.out[n].Finding).Name == of.finding.Name
	}
	var out []Proposal
	r.have = map[string]int{}
	for i, p := range r.out {
		if !gone[i] {
			r.have[p.Finding] = len(out)
			out = append(out, p)
		}
	}
	r.out, r.lastOut = out, nil
}

func (h *hit) score() float64 {
	if h.phrase == nil || h.content == 0 {
		return 0.5
	}
	return 1 - 0.5/float64(h.content+1)
}
