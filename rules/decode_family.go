package rules

import (
	"fmt"
	"slices"

	"slipcase/engine"
	"slipcase/engine/quantity"
	"slipcase/rules/syntax"
)

// hasArgs are the arguments of `has` that a feature of each kind takes.
var hasArgs = map[engine.FeatureKind][]string{
	engine.FeatureSize: {"size", "tolerance"}, engine.FeatureThere: {"there"},
	engine.FeatureText: {"pattern"}, engine.FeatureYear: {"from", "to"},
}

// family fills a family of variants. What its variants have is compared with
// its features here, where both are at hand.
func (d *decoder) family(n *node) {
	f := engine.Family{Name: n.label(0), Title: d.text(n, "title"), At: n.at(), Basis: n.basis}
	for _, c := range n.blocks {
		if c.spec.name != "feature" || c.broken {
			continue
		}
		d.required(c)
		f.Features = append(f.Features, engine.Feature{Name: c.label(0), Title: d.text(c, "title"), Kind: engine.FeatureKind(d.word(c, "kind")),
			Asks: d.text(c, "asks"), Minutes: d.number(c, "minutes"), Cautions: d.look(aCaution, nil, d.names(c, "cautions")), At: c.labelAt(0)})
	}
	told := map[string]bool{}
	for _, c := range n.blocks {
		if c.spec.name == "variant" && !c.broken {
			f.Variants = append(f.Variants, d.variant(&f, c, told))
		}
	}
	for i := range f.Variants {
		v := &f.Variants[i]
		d.refs = append(d.refs, ref{kind: aUnit, at: v.At, to: &v.Unit})
	}
	for _, c := range n.blocks {
		if c.spec.name == "fit" && !c.broken {
			d.fit(&f, c)
		}
	}
	if len(f.Variants) < 2 {
		d.Error(f.At, n.title()+" with fewer than two variants", "There is nothing to tell apart. Each of them is a block: variant \"name\" {")
	}
	for _, x := range f.Features {
		if !told[x.Name] {
			d.Warn(x.At, fmt.Sprintf("no variant says what it has for %q", x.Name), "Asking for it tells nothing. Give it to the variants: has \""+x.Name+"\" {")
		}
	}
	d.k.Families = append(d.k.Families, f)
}

func (d *decoder) variant(f *engine.Family, n *node, told map[string]bool) engine.Variant {
	d.required(n)
	v := engine.Variant{Name: n.label(0), Title: d.text(n, "title"), Unit: d.name(n, "unit"), Share: d.number(n, "share"), Notes: plain(d.texts(n, "notes")), At: n.labelAt(0)}
	if n.attr("unit") != nil {
		v.At = n.attr("unit").at()
	} else {
		v.Unit = v.Name
	}
	for _, c := range n.blocks {
		if c.broken {
			continue
		}
		feature := d.feature(f, c.label(0), c.labelAt(0))
		if feature == nil {
			continue
		}
		told[feature.Name] = true
		if h, ok := d.has(feature, c); ok {
			v.Has = append(v.Has, h)
		}
	}
	return v
}

// feature looks a feature of the family up.
func (d *decoder) feature(f *engine.Family, name string, at engine.Range) *engine.Feature {
	var known []string
	for i := range f.Features {
		if f.Features[i].Name == name {
			return &f.Features[i]
		}
		known = append(known, f.Features[i].Name)
	}
	d.Error(at, fmt.Sprintf("unknown feature %q", syntax.Clip(name)), hint(didYouMean(name, known), "A feature is a block of the family: feature \"name\" {"))
	return nil
}

// has reads what a variant has for a feature; false where it is not of the
// feature's kind.
func (d *decoder) has(f *engine.Feature, n *node) (engine.Has, bool) {
	h := engine.Has{Feature: f.Name, At: n.at()}
	want := hasArgs[f.Kind]
	for i := range n.attrs {
		if a := &n.attrs[i]; !slices.Contains(want, a.Name) && len(want) > 0 {
			d.Error(a.nameAt(), fmt.Sprintf("%s for the feature %q", a.Name, f.Name), fmt.Sprintf("The feature is of kind %s; it takes %s.", f.Kind, orList(want)))
			return h, false
		}
	}
	for _, name := range want {
		if n.attr(name) == nil {
			d.Error(n.at(), fmt.Sprintf("%s without %s", n.title(), name), fmt.Sprintf("A feature of kind %s is told by %s.", f.Kind, orList(want)))
			return h, false
		}
	}
	switch f.Kind {
	case engine.FeatureSize:
		h.Size = d.quantity(n, "size", "")
		if h.Size == nil {
			return h, false
		}
		h.Tolerance = d.quantity(n, "tolerance", h.Size.Dim)
		if h.Tolerance == nil {
			return h, false
		}
		if h.Tolerance.Base <= 0 {
			d.Error(n.attr("tolerance").at(), "tolerance is above 0", "It is how far a sound part may be off its size, with what the measuring tool adds.")
			return h, false
		}
	case engine.FeatureThere:
		h.There, _ = d.truth(n, "there")
	case engine.FeatureText:
		for _, p := range d.texts(n, "pattern") {
			if p.text == "" || p.text == "*" {
				d.Error(p.at, fmt.Sprintf("pattern %q fits everything", p.text), "Write what the tag begins with, and a star for the rest: \"NF4-1*\"")
				continue
			}
			h.Patterns = append(h.Patterns, p.text)
		}
		return h, len(h.Patterns) > 0
	case engine.FeatureYear:
		h.From, h.To = int(d.integer(n, "from")), int(d.integer(n, "to"))
		if h.To < h.From {
			d.Error(n.attr("to").at(), "to before from", "Both are model years: from = 1994, to = 1999")
			return h, false
		}
	}
	return h, f.Kind != ""
}

func (d *decoder) fit(f *engine.Family, n *node) {
	d.required(n)
	t := engine.Fit{Name: n.label(0), Title: d.text(n, "title"), At: n.at()}
	for _, end := range []struct {
		name string
		to   *string
	}{{"bore", &t.Bore}, {"shaft", &t.Shaft}} {
		x := d.nameAt(n, end.name)
		if x.text == "" {
			return
		}
		feature := d.feature(f, x.text, x.at)
		if feature == nil {
			return
		}
		if feature.Kind != engine.FeatureSize {
			d.Error(x.at, fmt.Sprintf("%q is not a size", x.text), "A bore and its shaft are features of kind size.")
			return
		}
		*end.to = x.text
	}
	for i := range f.Variants {
		a, b := f.Variants[i].Value(t.Bore), f.Variants[i].Value(t.Shaft)
		if a != nil && b != nil && (a.Size.Dim != quantity.Length || b.Size.Dim != quantity.Length) {
			d.Error(n.at(), n.title()+": a fit is between two lengths", "Give both sizes in mm or in.")
			return
		}
	}
	t.Limit = d.name(n, "limit")
	f.Fits = append(f.Fits, t)
	i, k := len(f.Fits)-1, len(d.k.Families)
	d.lookOne(aLimit, nil, d.nameAt(n, "limit"), func(s string) { d.k.Families[k].Fits[i].Limit = s })
}
