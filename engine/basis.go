package engine

// BasisKind says where a number comes from.
type BasisKind string

// The kinds of basis, from the firmest to the weakest.
const (
	Published      BasisKind = "published"
	ShopRecord     BasisKind = "shop record"
	CommonPractice BasisKind = "common practice"
	Recalled       BasisKind = "recalled"
	Invented       BasisKind = "invented"
)

// BasisKinds lists every kind, firmest first.
var BasisKinds = []BasisKind{Published, ShopRecord, CommonPractice, Recalled, Invented}

// SampleSize is the equivalent sample size of a prior with this basis, in
// cases (design, section 10). A shop record states its own; this is its least.
func (k BasisKind) SampleSize() float64 {
	switch k {
	case Published:
		return 50
	case ShopRecord, CommonPractice:
		return 20
	case Recalled:
		return 10
	case Invented:
		return 4
	}
	return 0
}

// Basis says where the numbers of a block come from.
type Basis struct {
	Kind  BasisKind
	Note  string
	Cite  string  // required when published
	Cases float64 // shop record: equivalent sample size, in cases; 0 when not said
	At    Range
}

// Number is a number of a rule with its source text, basis and place. Text is
// as written ("2.80", "probable"), so that printed digits and words survive.
type Number struct {
	Value float64 // in the unit of its argument: a probability, minutes, a count
	Text  string
	Basis *Basis // nil only in data made by code
	At    Range
}

// Words for probabilities, after Renooij and Witteman 1999, "Talking
// probabilities" (recalled).
var Words = []struct {
	Word  string
	Value float64
}{
	{"certain", 1}, {"probable", 0.85}, {"expected", 0.75}, {"fifty_fifty", 0.50},
	{"uncertain", 0.25}, {"improbable", 0.15}, {"impossible", 0},
}
