package engine

import "slipcase/engine/quantity"

// Family is a set of transmissions that look alike and are told apart by
// features: the variants of a unit.
type Family struct {
	Name, Title string
	Features    []Feature
	Variants    []Variant
	Fits        []Fit
	At          Range
	Basis       *Basis
}

// Family is the family with this name, or nil.
func (k *Knowledge) Family(name string) *Family {
	for i := range k.Families {
		if k.Families[i].Name == name {
			return &k.Families[i]
		}
	}
	return nil
}

// FeatureKind is what an answer about a feature looks like.
type FeatureKind string

// The kinds of features.
const (
	FeatureSize  FeatureKind = "size"  // a measurement
	FeatureThere FeatureKind = "there" // there or not
	FeatureText  FeatureKind = "text"  // a tag, a casting mark
	FeatureYear  FeatureKind = "year"  // a model year
)

// FeatureKinds lists them all.
var FeatureKinds = []FeatureKind{FeatureSize, FeatureThere, FeatureText, FeatureYear}

// Feature is something in which variants differ.
type Feature struct {
	Name, Title string
	Kind        FeatureKind
	Asks        string // the question; "" where the title does
	Minutes     Number // to look or measure; zero when not said
	Cautions    []string
	At          Range
}

// Variant is one of the transmissions of a family.
type Variant struct {
	Name, Title string
	Unit        string   // id of the unit that it is; several variants may share one
	Share       Number   // how common it is against the others of the family; all alike when none says
	Notes       []string // what follows for parts and the build, in plain sentences
	Has         []Has
	At          Range
}

// Value is what a variant has for a feature, or nil where it is not said.
func (v *Variant) Value(feature string) *Has {
	for i := range v.Has {
		if v.Has[i].Feature == feature {
			return &v.Has[i]
		}
	}
	return nil
}

// Has is what a variant has for one feature; which fields count is the
// feature's kind.
type Has struct {
	Feature         string
	Size, Tolerance *quantity.Quantity // size ± tolerance
	There           bool
	Patterns        []string // * stands for any text, ? for one character
	From, To        int      // model years, both included
	At              Range
}

// Fit is a bore with the shaft that runs in it, both features that are sizes.
type Fit struct {
	Name, Title string
	Bore, Shaft string
	Limit       string // the unit's limit that says how far it may wear; "" when none does
	At          Range
}
