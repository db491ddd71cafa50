package wording

import (
	"fmt"
	"slices"
	"strings"

	"slipcase/engine"
	"slipcase/engine/identify"
	"slipcase/engine/quantity"
)

// FeatureTitle is a feature of a family in words.
func FeatureTitle(f *engine.Family, name string) string {
	for _, x := range f.Features {
		if x.Name == name {
			return Title(x.Title, x.Name)
		}
	}
	return Name(name)
}

// FeatureAsks is the question about a feature.
func FeatureAsks(f *engine.Feature) string {
	if f.Asks != "" {
		return f.Asks
	}
	return Capital(Title(f.Title, f.Name)) + "?"
}

// FeatureHow is what an answer looks like.
func FeatureHow(f *engine.Feature) string {
	switch f.Kind {
	case engine.FeatureSize:
		return "a number with its unit, 1.500 in"
	case engine.FeatureThere:
		return "yes or no"
	case engine.FeatureYear:
		return "the year, 1998"
	}
	return "the letters and digits as they are marked"
}

// Seen is an answer in words.
func Seen(f *engine.Family, a identify.Answer) string {
	if a.Unknown {
		return "not known"
	}
	for _, x := range f.Features {
		if x.Name != a.Feature {
			continue
		}
		switch x.Kind {
		case engine.FeatureSize:
			return a.Size.String()
		case engine.FeatureThere:
			return YesNo(a.There)
		case engine.FeatureYear:
			return fmt.Sprint(a.Year)
		}
	}
	return a.Text
}

// Has is what a variant has for a feature, in words.
func Has(kind engine.FeatureKind, h *engine.Has) string {
	switch kind {
	case engine.FeatureSize:
		return fmt.Sprintf("%s ± %s", h.Size, h.Tolerance)
	case engine.FeatureThere:
		return YesNo(h.There)
	case engine.FeatureYear:
		if h.From == h.To {
			return fmt.Sprint(h.From)
		}
		return fmt.Sprintf("%d to %d", h.From, h.To)
	}
	return strings.Join(h.Patterns, " or ")
}

func variantWords(v *engine.Variant) string {
	if v.Title == "" {
		return v.Name
	}
	return v.Name + " (" + v.Title + ")"
}

func variantNames(list []identify.Candidate) string {
	var out []string
	for _, c := range list {
		out = append(out, variantWords(c.Variant))
	}
	return List(out)
}

// Identified says where telling the variants apart stands.
func Identified(r *identify.Result) string {
	n := r.Left()
	left := r.Candidates[:n]
	switch {
	case r.Settled != nil:
		return fmt.Sprintf("It is %s: only that one fits.", variantWords(r.Settled))
	case n == 0:
		text := fmt.Sprintf("It fits none of the %d variants that the rules know.", len(r.Candidates))
		if near := r.Closest(); len(near) < len(r.Candidates) {
			text += fmt.Sprintf(" Closest, but no match: %s.", variantNames(near))
		}
		return text
	case n == 1:
		return fmt.Sprintf("Only %s is left, but nothing confirms it yet.", variantWords(left[0].Variant))
	case len(r.Next) == 0:
		return fmt.Sprintf("%s fit, and the rules know nothing else that tells them apart.", variantNames(left))
	case n == len(r.Candidates):
		return fmt.Sprintf("It may be any of %d variants: %s.", n, variantNames(left))
	}
	return fmt.Sprintf("%d of %d variants fit: %s.", n, len(r.Candidates), variantNames(left))
}

// Conflict says which answers fit no variant, and which cannot hold together.
func Conflict(r *identify.Result) []string {
	out := []string{}
	seen := func(name string) string {
		for _, a := range r.Given {
			if a.Feature == name {
				return fmt.Sprintf("%s %s", FeatureTitle(r.Family, name), Seen(r.Family, a))
			}
		}
		return name
	}
	for _, name := range r.Strange {
		var known []string
		then := "it is another unit, or a part of another"
		for i := range r.Family.Variants {
			v := &r.Family.Variants[i]
			for _, f := range r.Family.Features {
				if h := v.Value(name); f.Name == name && h != nil {
					known = append(known, fmt.Sprintf("%s has %s", v.Name, Has(f.Kind, h)))
					if f.Kind == engine.FeatureSize {
						then = "the part is worn, or another unit's"
					}
				}
			}
		}
		out = append(out, fmt.Sprintf("%s: no variant has that; %s. Check again; if it is right, %s.", Capital(seen(name)), List(known), then))
	}
	for _, set := range r.Clashes {
		var words []string
		for _, name := range set {
			words = append(words, seen(name))
		}
		out = append(out, fmt.Sprintf("%s: no variant has these together. One of them was misread, or the unit was put together from two.", Capital(List(words))))
	}
	return out
}

// Clearance is what a bore leaves over its shaft; it never judges the wear.
func Clearance(c identify.Clearance) string {
	title := Capital(Title(c.Fit.Title, c.Fit.Name))
	text := fmt.Sprintf("%s: %s over %s leaves %s", title, c.Bore, c.Shaft, c.Left)
	if c.Left.Base < 0 {
		text = fmt.Sprintf("%s: %s does not go over %s", title, c.Bore, c.Shaft)
	}
	if c.Nominal {
		return text + " of nominal sizes. That is not a wear limit."
	}
	if c.Fit.Limit != "" {
		return text + fmt.Sprintf(". How far it may wear is the unit's limit %s.", c.Fit.Limit)
	}
	return text + ". The unit states no wear limit for it."
}

// Differences tells, for each change between two units, what it was and is.
func Differences(from, to *engine.Unit, list []identify.Change) []string {
	var out []string
	for _, c := range list {
		before, after := describe(from, to, c), describe(to, from, c)
		name := c.Name
		if c.Of == identify.OfFailsafe {
			name = "without power in " + c.Name
		}
		what := map[identify.Subject]string{identify.OfGearset: "gearset ", identify.OfRow: "row ", identify.OfPressure: "line pressure ", identify.OfSolenoid: "solenoid ", identify.OfStep: "step: ", identify.OfDimension: "limit: ", identify.OfPart: "part: "}[c.Of]
		switch c.Kind {
		case identify.Added:
			out = append(out, fmt.Sprintf("%s%s, which the other does not have", what, both(label(to, c, name), after)))
		case identify.Dropped:
			out = append(out, fmt.Sprintf("%s%s is not there", what, label(from, c, name)))
		default:
			out = append(out, fmt.Sprintf("%s%s: %s, not %s", what, label(to, c, name), after, before))
		}
	}
	return out
}

func both(name, text string) string {
	if text == "" {
		return name
	}
	return name + " (" + text + ")"
}

// label is the title of what changed, or its name.
func label(u *engine.Unit, c identify.Change, name string) string {
	switch c.Of {
	case identify.OfPart:
		for _, x := range u.Components {
			if x.Name == c.Name {
				return Title(x.Title, x.Name)
			}
		}
	case identify.OfDimension:
		for _, x := range u.Limits {
			if x.Name == c.Name {
				return Title(x.Title, x.Name)
			}
		}
	case identify.OfStep:
		for _, x := range u.Steps {
			if x.Name == c.Name {
				return Title(x.Title, x.Name)
			}
		}
	}
	return name
}

// describe is what a unit has for the subject of a change, of a row only where
// the other unit's differs; "" where the name says it all.
func describe(u, other *engine.Unit, c identify.Change) string {
	switch c.Of {
	case identify.OfGearset:
		for _, g := range u.Train.Gearsets {
			if g.Name == c.Name {
				return fmt.Sprintf("%s, %d and %d teeth", g.Kind, g.SunTeeth, g.RingTeeth)
			}
		}
	case identify.OfElement:
		for _, e := range u.Elements {
			if e.Name == c.Name {
				return engine.Spaced(fmt.Sprintf("%s between %s and %s", e.Kind, e.A, e.B))
			}
		}
	case identify.OfRow:
		for _, r := range u.Rows {
			if r.Name() == c.Name {
				return chartRow(r, other.Rows)
			}
		}
	case identify.OfFailsafe:
		if g := u.Failsafe[c.Name].Gear; g != "" {
			return "gear " + g
		}
	case identify.OfSolenoid:
		for _, s := range u.Solenoids {
			if s.Name == c.Name {
				return s.Kind
			}
		}
	case identify.OfPart:
		for _, x := range u.Components {
			if x.Name == c.Name {
				return Name(x.Kind)
			}
		}
	case identify.OfPressure:
		for _, p := range u.Pressures {
			if p.Place() == c.Name {
				return between(p.Low, p.High)
			}
		}
	case identify.OfDimension:
		for _, l := range u.Limits {
			if l.Name == c.Name {
				return between(l.Low, l.High)
			}
		}
	}
	return ""
}

// chartRow is what a row has that its namesake among the others has not.
func chartRow(r engine.Row, others []engine.Row) string {
	var o engine.Row
	for _, x := range others {
		if x.Name() == r.Name() {
			o = x
		}
	}
	var out []string
	if r.RatioText != o.RatioText && r.RatioText != "" {
		out = append(out, "ratio "+r.RatioText)
	}
	if apply := orNothing(r.Apply); apply != orNothing(o.Apply) {
		out = append(out, "applies "+apply)
	}
	if on := orNothing(r.Solenoids); on != orNothing(o.Solenoids) {
		out = append(out, "solenoids on "+on)
	}
	if r.Lockup != o.Lockup {
		out = append(out, "converter clutch "+map[bool]string{true: "on", false: "off"}[r.Lockup]+" at cruise")
	}
	return strings.Join(out, "; ")
}

func orNothing(list []string) string {
	if len(list) == 0 {
		return "none"
	}
	var out []string
	for _, s := range list {
		out = append(out, Name(s))
	}
	slices.Sort(out)
	return List(out)
}

func between(low, high *quantity.Quantity) string {
	switch {
	case low != nil && high != nil:
		return fmt.Sprintf("%s to %s", low, high)
	case low != nil:
		return fmt.Sprintf("%s or more", low)
	case high != nil:
		return fmt.Sprintf("%s at most", high)
	}
	return "no limits"
}
