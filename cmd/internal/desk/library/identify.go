package library

import (
	"context"
	"slices"
	"strconv"
	"strings"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/fault"
	"slipcase/cmd/internal/load"
	"slipcase/cmd/internal/notation"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
	"slipcase/engine/identify"
	"slipcase/engine/quantity"
)

// Identified is which variant of a unit it is, as far as the answers say.
type Identified struct {
	Family   string          `json:"family"`
	Title    string          `json:"title"`
	Answers  []FeatureSeen   `json:"answers"`
	Variants []VariantLine   `json:"variants"` // those that fit first
	Settled  *VariantSettled `json:"settled"`  // null as long as it is open
	Verdict  string          `json:"verdict"`  // where it stands, in words
	Conflict []string        `json:"conflict"` // what contradicts what, in words
	Fits     []FitLine       `json:"fits"`
	Next     []FeatureAsked  `json:"next"` // what is worth a look, most telling by the minute first
}

// FeatureSeen is an answer as it was understood.
type FeatureSeen struct {
	Feature string `json:"feature"`
	Title   string `json:"title"`
	Seen    string `json:"seen"`
}

// VariantLine is one variant with the features for and against it.
type VariantLine struct {
	Name    string     `json:"name"`
	Title   string     `json:"title"`
	Unit    string     `json:"unit"`
	Fits    bool       `json:"fits"`
	Share   answer.Num `json:"share"` // among those that fit
	For     []string   `json:"for"`
	Against []string   `json:"against"`
}

// VariantSettled is the variant that it is, and what follows from that.
type VariantSettled struct {
	Name    string   `json:"name"`
	Title   string   `json:"title"`
	Unit    string   `json:"unit"`
	Notes   []string `json:"notes"`
	Against string   `json:"against"` // the variant that the differences are told against, "" where it is that one
	Differs []string `json:"differs"` // for chart, parts, steps and limits, in words
}

// FitLine is a bore over its shaft.
type FitLine struct {
	Name    string `json:"name"`
	Left    string `json:"left"`
	Nominal bool   `json:"nominal"`
	Words   string `json:"words"`
}

// FeatureAsked is a feature worth a look.
type FeatureAsked struct {
	Feature  string     `json:"feature"`
	Asks     string     `json:"asks"`
	How      string     `json:"how"` // what an answer looks like
	Minutes  answer.Num `json:"minutes"`
	Bits     answer.Num `json:"bits"`
	Cautions []string   `json:"cautions"`
}

// FamilyLine is a family of variants.
type FamilyLine struct {
	Name     string   `json:"name"`
	Title    string   `json:"title"`
	Variants []string `json:"variants"`
}

// Families lists what can be told apart. Fails with Rules.
func (d *Library) Families(ctx context.Context) (answer.Answer[[]FamilyLine], error) {
	x, err := d.load.Load(ctx, "")
	if err != nil {
		return answer.Answer[[]FamilyLine]{}, err
	}
	out := []FamilyLine{}
	for i := range x.Knowledge.Families {
		f := &x.Knowledge.Families[i]
		l := FamilyLine{Name: f.Name, Title: f.Title}
		for _, v := range f.Variants {
			l.Variants = append(l.Variants, v.Name)
		}
		out = append(out, l)
	}
	return answer.Answer[[]FamilyLine]{Rules: x.Knowledge.Hash, Data: out, Diagnostics: answer.Messages(x.Diagnostics)}, nil
}

// Identify tells the variants of a unit apart by what was seen. name is a
// family, a variant or a unit. Fails with NotFound for one that has no
// variants, with WrongUse for an answer that cannot be read.
func (d *Library) Identify(ctx context.Context, name string, seen []notation.FeatureAnswer) (answer.Answer[Identified], error) {
	x, err := d.load.Load(ctx, "")
	if err != nil {
		return answer.Answer[Identified]{}, err
	}
	f, err := family(x, name)
	if err != nil {
		return answer.Answer[Identified]{}, err
	}
	given, bad := featureAnswers(f, seen)
	if len(bad) > 0 {
		return answer.Answer[Identified]{}, &answer.Failure{Code: answer.WrongUse, Rules: x.Knowledge.Hash, Messages: bad}
	}
	r := identify.Run(f, given)
	out := Identified{Family: f.Name, Title: f.Title, Answers: []FeatureSeen{}, Verdict: wording.Identified(r), Conflict: wording.Conflict(r), Fits: []FitLine{}, Next: []FeatureAsked{}}
	for _, a := range given {
		out.Answers = append(out.Answers, FeatureSeen{a.Feature, wording.FeatureTitle(f, a.Feature), wording.Seen(f, a)})
	}
	for _, c := range r.Candidates {
		out.Variants = append(out.Variants, VariantLine{Name: c.Variant.Name, Title: c.Variant.Title, Unit: c.Variant.Unit, Fits: c.Fits(), Share: answer.Num(c.Share), For: some(c.For), Against: some(c.Against)})
	}
	for _, c := range r.Fits {
		out.Fits = append(out.Fits, FitLine{c.Fit.Name, c.Left.String(), c.Nominal, wording.Clearance(c)})
	}
	for _, q := range r.Next {
		a := FeatureAsked{Feature: q.Feature.Name, Asks: wording.FeatureAsks(q.Feature), How: wording.FeatureHow(q.Feature), Minutes: answer.Num(q.Feature.Minutes.Value), Bits: answer.Num(q.Bits), Cautions: []string{}}
		for _, name := range q.Feature.Cautions {
			for _, c := range x.Knowledge.Cautions {
				if c.Name == name {
					a.Cautions = append(a.Cautions, c.Text)
				}
			}
		}
		out.Next = append(out.Next, a)
	}
	if v := r.Settled; v != nil {
		s := &VariantSettled{Name: v.Name, Title: v.Title, Unit: v.Unit, Notes: some(v.Notes), Differs: []string{}}
		if first := &f.Variants[0]; v != first {
			s.Against = first.Name
			from, to := x.Knowledge.Unit(first.Unit), x.Knowledge.Unit(v.Unit)
			if from != nil && to != nil {
				s.Differs = some(wording.Differences(from, to, identify.Follow(from, to)))
			}
		}
		out.Settled = s
	}
	return answer.Answer[Identified]{Rules: x.Knowledge.Hash, Data: out, Diagnostics: answer.Messages(x.Diagnostics)}, nil
}

// some is the list, empty instead of missing.
func some(list []string) []string {
	if list == nil {
		return []string{}
	}
	return list
}

// family finds the family of a name: its own, a variant's or a unit's.
func family(x *load.Loaded, name string) (*engine.Family, error) {
	k := x.Knowledge
	if f := k.Family(name); f != nil {
		return f, nil
	}
	var known []string
	for i := range k.Families {
		f := &k.Families[i]
		for _, v := range f.Variants {
			if v.Name == name || v.Unit == name {
				return f, nil
			}
			known = append(known, v.Name)
		}
	}
	if k.Unit(name) != nil {
		return nil, fault.Fail(answer.NotFound, wording.NoVariants(name, known)).Under(k.Hash)
	}
	return nil, load.Unknown(wording.NoUnit(name), name, slices.Concat(known, unitIDs(k)), answer.Do(answer.ListUnits))
}

func unitIDs(k *engine.Knowledge) []string {
	var out []string
	for _, u := range k.Units {
		out = append(out, u.ID)
	}
	return out
}

// featureAnswers reads answers as their features take them.
func featureAnswers(f *engine.Family, seen []notation.FeatureAnswer) (out []identify.Answer, bad []answer.Message) {
	var known []string
	for _, x := range f.Features {
		known = append(known, x.Name)
	}
	for _, s := range seen {
		i := slices.Index(known, s.Feature)
		if i < 0 {
			bad = append(bad, fault.Error(wording.NoFeature(f.Name, s.Feature, known)))
			continue
		}
		a, why := featureAnswer(f, &f.Features[i], s.Text)
		if why != "" {
			bad = append(bad, fault.Error(wording.FeatureNotRead(&f.Features[i], s.Feature, s.Text, why)))
			continue
		}
		out = slices.DeleteFunc(out, func(o identify.Answer) bool { return o.Feature == a.Feature })
		out = append(out, a)
	}
	return out, bad
}

// featureAnswer reads one answer; why says what is wrong with it.
func featureAnswer(in *engine.Family, f *engine.Feature, text string) (a identify.Answer, why string) {
	a.Feature = f.Name
	text = strings.TrimSpace(text)
	if notation.NotKnown(text) {
		a.Unknown = true
		return a, ""
	}
	switch f.Kind {
	case engine.FeatureSize:
		q, err := quantity.Parse(text)
		if err != nil {
			return a, err.Error()
		}
		if dim := identify.Dimension(in, f.Name); dim != "" && q.Dim != dim {
			return a, wording.WrongMeasure(q.Dim, dim)
		}
		a.Size = q
	case engine.FeatureThere:
		switch strings.ToLower(text) {
		case "yes", "y", "present", "true":
			a.There = true
		case "no", "n", "absent", "false":
		default:
			return a, wording.NotYesNo()
		}
	case engine.FeatureYear:
		y, err := strconv.Atoi(text)
		if err != nil || y < 1900 || y > 2200 {
			return a, wording.NotYear()
		}
		a.Year = y
	default:
		if text == "" {
			return a, wording.NotText()
		}
		a.Text = text
	}
	return a, ""
}
