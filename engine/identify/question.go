package identify

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"slipcase/engine"
	"slipcase/engine/quantity"
)

// least is what a look costs at least, in minutes: a glance.
const least = 0.5

// questions are the open features by what their answer tells by the minute.
// leastBits is what an answer must tell to be asked for: above the rounding of a
// sum over variants, below anything that tells two of them apart.
const leastBits = 1e-9

func (r *Result) questions(given map[string]Answer) []Question {
	var left []Candidate
	for _, c := range r.Candidates {
		if c.Fits() {
			left = append(left, c)
		}
	}
	confirm := len(left) == 1 && len(left[0].For) == 0
	if len(left) < 2 && !confirm {
		return nil
	}
	var out []Question
	for i := range r.Family.Features {
		f := &r.Family.Features[i]
		if _, done := given[f.Name]; done {
			continue
		}
		bits := information(f, left)
		if bits < leastBits && !(confirm && left[0].Variant.Value(f.Name) != nil) {
			continue
		}
		minutes := 1.0
		if f.Minutes.Text != "" {
			minutes = max(f.Minutes.Value, least)
		}
		out = append(out, Question{f, bits, bits / minutes})
	}
	slices.SortStableFunc(out, func(a, b Question) int {
		if confirm {
			return cmp.Compare(a.Feature.Minutes.Value, b.Feature.Minutes.Value)
		}
		return cmp.Compare(b.Rate, a.Rate)
	})
	return out
}

// information is the mutual information, in bits, between the variant and which
// variants the answer will fit. Within its tolerance every size is as likely,
// and every model year of a variant. A variant that says nothing of the feature
// answers as the others do together.
func information(f *engine.Feature, left []Candidate) float64 {
	// of[v][o] is the probability of outcome o for variant v.
	of := make([]map[string]float64, len(left))
	total := map[string]float64{}
	told := 0.0
	for i, c := range left {
		h := c.Variant.Value(f.Name)
		if h == nil {
			continue
		}
		of[i] = map[string]float64{}
		for _, a := range samples(f, h, left) {
			key := ""
			for _, o := range left {
				if Judge(f, o.Variant, a.Answer) != Against {
					key += o.Variant.Name + "\x00"
				}
			}
			of[i][key] += a.weight
			total[key] += a.weight * c.Share
		}
		told += c.Share
	}
	if told == 0 {
		return 0
	}
	bits := 0.0
	for i, c := range left {
		if of[i] == nil {
			continue // adds nothing: it answers as all do
		}
		for key, p := range of[i] {
			if p > 0 {
				bits += c.Share * p * math.Log2(p/(total[key]/told))
			}
		}
	}
	return max(bits, 0)
}

type sample struct {
	Answer
	weight float64
}

// samples are answers that stand for all that a variant may give: one for each
// stretch between the bounds of any variant, one for each pattern.
func samples(f *engine.Feature, h *engine.Has, left []Candidate) []sample {
	switch f.Kind {
	case engine.FeatureThere:
		return []sample{{Answer{Feature: f.Name, There: h.There}, 1}}
	case engine.FeatureText:
		var out []sample
		for _, p := range h.Patterns {
			text := strings.NewReplacer("*", "", "?", "0").Replace(p)
			out = append(out, sample{Answer{Feature: f.Name, Text: text}, 1 / float64(len(h.Patterns))})
		}
		return out
	case engine.FeatureYear:
		n := h.To - h.From + 1
		var out []sample
		for y := h.From; y <= h.To; y++ {
			out = append(out, sample{Answer{Feature: f.Name, Year: y}, 1 / float64(n)})
		}
		return out
	}
	low, high := h.Size.Base-h.Tolerance.Base, h.Size.Base+h.Tolerance.Base
	cuts := []float64{low, high}
	for _, c := range left {
		if o := c.Variant.Value(f.Name); o != nil {
			for _, x := range []float64{o.Size.Base - o.Tolerance.Base, o.Size.Base + o.Tolerance.Base} {
				if low < x && x < high {
					cuts = append(cuts, x)
				}
			}
		}
	}
	slices.Sort(cuts)
	var out []sample
	for i := 1; i < len(cuts); i++ {
		if w := cuts[i] - cuts[i-1]; w > 0 {
			q := quantity.Quantity{Base: (cuts[i] + cuts[i-1]) / 2, Dim: h.Size.Dim}
			out = append(out, sample{Answer{Feature: f.Name, Size: q}, w / (high - low)})
		}
	}
	return out
}

// Dimension is what a feature of kind size measures, "" where no variant says.
func Dimension(f *engine.Family, name string) quantity.Dimension {
	for i := range f.Variants {
		if h := f.Variants[i].Value(name); h != nil && h.Size != nil {
			return h.Size.Dim
		}
	}
	return ""
}
