package complaint

import (
	"strings"
	"unicode"

	"github.com/agext/levenshtein"
	"github.com/kljensen/snowball"

	"slipcase/engine"
)

// token is one word of a complaint, or a few that belong together.
type token struct {
	said    string // the words as they were said
	word    string // in lower case, written out
	idea    string // what it stands for: a group of words, a stem; "" for a word that tells nothing
	place   *place // the gear, range or shift that it names
	when    engine.Condition
	neg     bool // under a "not", "never", "without"
	praise  praise
	stop    byte // '.' or ',' where a sentence or a part of one ends
	turn    bool // "but", "then", "while": a new thought
	joining bool // "and": perhaps a new thought
}

// praise says that something is good.
type praise int

const (
	noPraise praise = iota
	weak            // "smooth", "quiet": the trouble just told is not there
	strong          // "fine": nothing is wrong there
	works           // "pulls", "works": it drives there
)

// longest is the length in bytes of the longest word that is looked at.
const longest = 40

// lex cuts a text into tokens. Known words that were misspelled are read as
// known.
func (x *Matcher) lex(text string) []token {
	out := x.raw(text)
	out = together(out)
	x.spell(out)
	findPlaces(out)
	for i := range out {
		x.mean(&out[i])
	}
	negate(out)
	return out
}

// raw cuts a text into words and stops.
func (x *Matcher) raw(text string) []token {
	text = strings.ToLower(strings.ReplaceAll(text, "’", "'"))
	var out []token
	word := strings.Builder{}
	flush := func() {
		if word.Len() == 0 {
			return
		}
		w := word.String()
		word.Reset()
		if len(w) > longest {
			w = w[:longest]
		}
		for k, part := range strings.Fields(expand(w)) {
			t := token{word: part}
			if k == 0 {
				t.said = w
			}
			out = append(out, t)
		}
	}
	runes := []rune(text)
	for i, r := range runes {
		switch {
		case unicode.IsLetter(r) || unicode.IsDigit(r) || r == '\'':
			word.WriteRune(r)
		case r == '.' && i > 0 && i+1 < len(runes) && unicode.IsDigit(runes[i-1]) && unicode.IsDigit(runes[i+1]):
			word.WriteRune('_')
		case strings.ContainsRune(".;!?\n:", r):
			flush()
			out = append(out, token{stop: '.'})
		case r == ',' || r == '(' || r == ')':
			flush()
			out = append(out, token{stop: ','})
		default:
			flush()
		}
	}
	flush()
	return out
}

// expand writes contractions out.
func expand(w string) string {
	if long, ok := contractions[w]; ok {
		return long
	}
	if s, ok := strings.CutSuffix(w, "n't"); ok {
		return s + " not"
	}
	for _, end := range []string{"'s", "'re", "'d", "'ll", "'ve", "'m"} {
		if s, ok := strings.CutSuffix(w, end); ok {
			return s
		}
	}
	return strings.ReplaceAll(w, "'", "")
}

// together joins words that mean something only side by side.
func together(in []token) []token {
	var out []token
	for i := 0; i < len(in); {
		n, with := 0, ""
		if in[i].word == "until" && i+1 < len(in) && (tens[in[i+1].word] || in[i+1].word != "" && in[i+1].word[0] >= '0' && in[i+1].word[0] <= '9') {
			n, with = 1, "_lateuntil" // "not until forty": late
		}
		for _, s := range sayings[in[i].word] {
			if len(s.words) <= n || i+len(s.words) > len(in) {
				continue
			}
			same := true
			for k, w := range s.words {
				if in[i+k].word != w {
					same = false
					break
				}
			}
			if same {
				n, with = len(s.words), s.means
			}
		}
		if n == 0 {
			out = append(out, in[i])
			i++
			continue
		}
		var said []string
		for k := range n {
			if w := in[i+k].said; w != "" {
				said = append(said, w)
			}
		}
		out = append(out, token{word: with, said: strings.Join(said, " ")})
		i += n
	}
	return out
}

// spell forgives slips of the pen: one letter wrong, missing or too many, or
// two letters in each other's place, in words of four letters and more.
func (x *Matcher) spell(list []token) {
	for i := range list {
		w := list[i].word
		if len(w) < 4 || x.words[w] || w[0] == '_' {
			continue
		}
		if stem := stemOf(w); x.stems[stem] {
			continue
		}
		list[i].word = x.mend(w)
	}
}

func (x *Matcher) mend(w string) string {
	found, best := w, 3 // twice the number of slips; letters that changed places are the smallest
	for _, k := range x.known {
		if len(k) < 4 || len(k) > len(w)+1 || len(w) > len(k)+1 || k[0] != w[0] && k[len(k)-1] != w[len(w)-1] {
			continue
		}
		d := 2 * levenshtein.Distance(w, k, nil)
		if d == 4 && swapped(w, k) {
			d = 1
		}
		if d < best {
			found, best = k, d
		}
	}
	return found
}

// swapped tells whether two neighboring letters changed places.
func swapped(a, b string) bool {
	if len(a) != len(b) {
		return false
	}
	i := 0
	for i < len(a) && a[i] == b[i] {
		i++
	}
	return i+1 < len(a) && a[i] == b[i+1] && a[i+1] == b[i] && a[i+2:] == b[i+2:]
}

func stemOf(w string) string {
	s, err := snowball.Stem(w, "english", false)
	if err != nil {
		return w
	}
	return s
}

// mean gives a token its meaning.
func (x *Matcher) mean(t *token) {
	if t.word == "" || t.place != nil {
		return
	}
	if c, ok := conditionWords[t.word]; ok {
		t.when = c
		return
	}
	switch {
	case goodWords[t.word] != noPraise:
		t.praise = goodWords[t.word]
	case turnWords[t.word]:
		t.turn = true
		return
	case t.word == "and":
		t.joining = true
		return
	}
	if g, ok := groups[t.word]; ok {
		t.idea = g
		return
	}
	if idle[t.word] || negations[t.word] || endsNegation[t.word] || t.word[0] >= '0' && t.word[0] <= '9' {
		return
	}
	s := stemOf(t.word)
	if g, ok := groups[s]; ok {
		t.idea = g
		return
	}
	t.idea = s
}

// negate marks what stands under a negation: from the word to the end of the
// thought.
func negate(list []token) {
	for i, t := range list {
		if t.word != "_nodiff" {
			continue
		}
		// "Touching the brake makes no difference" denies what stands before.
		for j := i - 1; j >= 0 && list[j].stop == 0; j-- {
			list[j].neg = true
		}
	}
	on, before := false, 0 // before: the words that a negation has gone over
	for i := range list {
		t := &list[i]
		if t.idea != "" || t.place != nil {
			before++
		}
		switch {
		case t.stop != 0 || t.turn:
			on = false
		case negations[t.word]:
			if lacks(list, i) {
				t.idea, t.neg, on = "gone", false, false
				continue
			}
			on, before = true, 0
		case t.when != "":
			// "Not cold", but not "does not move cold" and "nothing until it is warm".
			t.neg = on && before == 0 && !until(*t)
		case endsNegation[t.word]:
			on = false
		case before > 1 && strings.HasSuffix(t.word, "ing"):
			// "does not hold back going downhill"
		default:
			t.neg = t.neg || on
		}
	}
}

// until tells a condition that lasts until something ends it.
func until(t token) bool {
	first, _, _ := strings.Cut(t.said, " ")
	return first == "until" || first == "till" || first == "til" || first == "before"
}

// lacks tells whether a negation speaks of a place that is not there: "no
// reverse", "does not have third", "will not reverse"; "but not third" only
// excepts it.
func lacks(list []token, i int) bool {
	has := list[i].word == "no" || list[i].word == "without" || i > 0 && helping[list[i-1].word]
	for _, t := range list[i+1:] {
		switch {
		case t.place != nil:
			return has && t.place.kind != all && t.place.kind != others
		case t.word == "have" || t.word == "got" || t.word == "has" || t.word == "had" || t.word == "get":
			has = true
		case t.word == "no" || t.word == "a" || t.word == "any" || t.word == "the" || t.word == "more" || t.word == "my":
		default:
			return false
		}
	}
	return false
}

var helping = wordSet("will can do does did would could")
