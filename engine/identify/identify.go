// Package identify tells the variants of a unit apart by their features: which
// of them fit what was seen and measured, which answers contradict each other,
// and which feature tells most next. It never forces a match: a transmission
// that fits no variant is said to fit none.
package identify

import (
	"math"
	"slices"
	"strings"

	"slipcase/engine"
	"slipcase/engine/quantity"
)

// Answer is what was seen of one feature; which field counts is the feature's
// kind.
type Answer struct {
	Feature string
	Unknown bool // it was looked for and could not be told
	Size    quantity.Quantity
	There   bool
	Text    string
	Year    int
}

// Verdict is what an answer says of a variant.
type Verdict int

// The verdicts.
const (
	Silent  Verdict = iota // the variant says nothing of that feature
	For                    // it fits
	Against                // it does not
)

// Judge compares an answer with what a variant has; a size of another
// dimension is against it.
func Judge(f *engine.Feature, v *engine.Variant, a Answer) Verdict {
	h := v.Value(f.Name)
	if h == nil || a.Unknown {
		return Silent
	}
	fits := false
	switch f.Kind {
	case engine.FeatureSize:
		fits = a.Size.Dim == h.Size.Dim && math.Abs(a.Size.Base-h.Size.Base) <= h.Tolerance.Base+rounding
	case engine.FeatureThere:
		fits = a.There == h.There
	case engine.FeatureText:
		fits = slices.ContainsFunc(h.Patterns, func(p string) bool { return Matches(p, a.Text) })
	case engine.FeatureYear:
		fits = h.From <= a.Year && a.Year <= h.To
	}
	if fits {
		return For
	}
	return Against
}

// Candidate is a variant with what the answers say of it.
type Candidate struct {
	Variant *engine.Variant
	// Share is how likely it is among those that still fit; 0 for the others.
	Share        float64
	For, Against []string // features
}

// Fits says that no answer is against it.
func (c Candidate) Fits() bool { return len(c.Against) == 0 }

// Question is a feature that is worth a look.
type Question struct {
	Feature *engine.Feature
	// Bits is what the answer tells on average, in bits; Rate is that by the
	// minute, a feature that states no minutes counting as one.
	Bits, Rate float64
}

// Result is where the answers lead.
type Result struct {
	Family *engine.Family
	Given  []Answer // those that were weighed, the last about each feature
	// Candidates are all variants: those that fit by their share, then the
	// others, fewest answers against them first.
	Candidates []Candidate
	// Settled is the one variant that fits, where something speaks for it; nil
	// as long as several fit, none does, or nothing speaks for the last one.
	Settled *engine.Variant
	// Strange are features whose answer fits no variant at all.
	Strange []string
	// Clashes are the smallest sets of answers that no variant fits together,
	// each of which alone fits one; only where no variant fits.
	Clashes [][]string
	// Next are the open features worth a look, most telling by the minute
	// first; empty when nothing more can be told apart. Where nothing speaks for
	// the last variant yet, they are what could.
	Next []Question
	Fits []Clearance
}

// Left counts the variants that fit.
func (r *Result) Left() int {
	n := 0
	for _, c := range r.Candidates {
		if c.Fits() {
			n++
		}
	}
	return n
}

// Closest are the variants with the fewest answers against them, where none
// fits.
func (r *Result) Closest() []Candidate {
	if r.Left() > 0 {
		return nil
	}
	n := 0
	for n < len(r.Candidates) && len(r.Candidates[n].Against) == len(r.Candidates[0].Against) {
		n++
	}
	return r.Candidates[:n]
}

// Run weighs the answers; of two about one feature the later counts. Answers
// about features that the family does not have are left out.
func Run(f *engine.Family, answers []Answer) *Result {
	r := &Result{Family: f}
	given := map[string]Answer{}
	var order []string
	for _, a := range answers {
		if feature(f, a.Feature) == nil {
			continue
		}
		if _, ok := given[a.Feature]; !ok {
			order = append(order, a.Feature)
		}
		given[a.Feature] = a
	}
	for _, name := range order {
		r.Given = append(r.Given, given[name])
	}
	fits := map[string]bool{} // some variant has it so
	said := map[string]bool{} // some variant says something of it
	total := 0.0
	shares := shares(f)
	for i := range f.Variants {
		c := Candidate{Variant: &f.Variants[i]}
		for _, name := range order {
			switch Judge(feature(f, name), c.Variant, given[name]) {
			case For:
				c.For = append(c.For, name)
				fits[name], said[name] = true, true
			case Against:
				c.Against = append(c.Against, name)
				said[name] = true
			}
		}
		if c.Fits() {
			c.Share = shares[i]
			total += c.Share
		}
		r.Candidates = append(r.Candidates, c)
	}
	for i := range r.Candidates {
		if total > 0 {
			r.Candidates[i].Share /= total
		}
	}
	slices.SortStableFunc(r.Candidates, func(a, b Candidate) int {
		if d := len(a.Against) - len(b.Against); d != 0 {
			return d
		}
		switch {
		case a.Share > b.Share:
			return -1
		case a.Share < b.Share:
			return 1
		}
		return 0
	})
	var sound []string
	for _, name := range order {
		switch {
		case said[name] && !fits[name]:
			r.Strange = append(r.Strange, name)
		case fits[name]:
			sound = append(sound, name)
		}
	}
	if r.Left() == 0 {
		r.Clashes = r.clashes(sound)
	}
	if r.Left() == 1 && len(r.Candidates[0].For) > 0 {
		r.Settled = r.Candidates[0].Variant
	}
	r.Next = r.questions(given)
	r.Fits = clearances(f, given)
	return r
}

func feature(f *engine.Family, name string) *engine.Feature {
	for i := range f.Features {
		if f.Features[i].Name == name {
			return &f.Features[i]
		}
	}
	return nil
}

// shares are how common the variants are, in their order; one that does not
// say counts as the mean of those that do.
func shares(f *engine.Family) []float64 {
	sum, n := 0.0, 0
	for i := range f.Variants {
		if s := f.Variants[i].Share; s.Text != "" {
			sum, n = sum+s.Value, n+1
		}
	}
	mean := 1.0
	if n > 0 && sum > 0 {
		mean = sum / float64(n)
	}
	out := make([]float64, len(f.Variants))
	for i := range f.Variants {
		out[i] = mean
		if s := f.Variants[i].Share; s.Text != "" && sum > 0 {
			out[i] = s.Value
		}
	}
	return out
}

// clashes finds the smallest sets of answers that together leave no variant.
func (r *Result) clashes(names []string) [][]string {
	const most = 12 // answers; beyond that the sets are too many to read anyhow
	names = names[:min(len(names), most)]
	var out [][]string
	for size := 2; size <= len(names) && len(out) == 0; size++ {
		subsets(names, size, func(set []string) {
			for _, c := range r.Candidates {
				if !slices.ContainsFunc(set, func(n string) bool { return slices.Contains(c.Against, n) }) {
					return
				}
			}
			out = append(out, slices.Clone(set))
		})
	}
	return out
}

func subsets(list []string, size int, yield func([]string)) {
	var set []string
	var pick func(from int)
	pick = func(from int) {
		if len(set) == size {
			yield(set)
			return
		}
		for i := from; i < len(list); i++ {
			set = append(set, list[i])
			pick(i + 1)
			set = set[:len(set)-1]
		}
	}
	pick(0)
}

// Matches tells whether a text is what a pattern describes. Capitals, spaces,
// hyphens and dots do not count: a worn tag is read as it can be. A star stands
// for any text, a question mark for one character.
func Matches(pattern, text string) bool {
	return glob(plain(pattern), plain(text))
}

func plain(s string) string {
	return strings.Map(func(c rune) rune {
		if strings.ContainsRune(" -._/", c) {
			return -1
		}
		return c
	}, strings.ToUpper(s))
}

// glob keeps one place to go back to, the last star: linear in the text for
// each part between stars.
func glob(pattern, text string) bool {
	p, t := []rune(pattern), []rune(text)
	i, j, star, back := 0, 0, -1, 0
	for j < len(t) {
		switch {
		case i < len(p) && p[i] == '*':
			star, back = i, j
			i++
		case i < len(p) && (p[i] == '?' || p[i] == t[j]):
			i, j = i+1, j+1
		case star >= 0:
			back++
			i, j = star+1, back
		default:
			return false
		}
	}
	for i < len(p) && p[i] == '*' {
		i++
	}
	return i == len(p)
}
