package notation

import (
	"strings"

	"slipcase/cmd/internal/fault"
	"slipcase/cmd/internal/wording"
)

// FeatureAnswer is what was seen of a feature, as it was typed.
type FeatureAnswer struct{ Feature, Text string }

// Features reads FEATURE=WHAT: tag=NF4-1, yoke="1.600 in", plug=yes. What
// follows without a feature of its own belongs to the one before it, so that
// yoke=1.600 in needs no quotes. Fails with WrongUse for a word before any feature.
func Features(words []string) ([]FeatureAnswer, error) {
	var out []FeatureAnswer
	for _, w := range words {
		name, text, given := strings.Cut(w, "=")
		switch {
		case given && name != "":
			out = append(out, FeatureAnswer{name, text})
		case len(out) > 0 && !given:
			out[len(out)-1].Text += " " + w
		default:
			return nil, fault.WrongUse(wording.NoFeatureNamed(w))
		}
	}
	return out, nil
}
