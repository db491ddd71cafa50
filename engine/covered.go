package engine

import (
	"regexp"
	"strings"
)

// uncovered are words of gear trains that the physics does not compute, by what
// they are refused for.
var uncovered = map[string]string{
	"inputs": TwoInputs, "motor": TwoInputs, "motors": TwoInputs, "generator": TwoInputs, "mg1": TwoInputs, "mg2": TwoInputs,
	"hybrid": TwoInputs, "split": TwoInputs, "emotor": TwoInputs,
	"cvt": VariableRatio, "variator": VariableRatio, "belt": VariableRatio, "pulley": VariableRatio, "pulleys": VariableRatio,
	"toroid": VariableRatio, "toroidal": VariableRatio, "continuously": VariableRatio, "variable": VariableRatio, "stepless": VariableRatio,
}

// What is not covered, by name.
const (
	TwoInputs     = "two inputs: not covered"
	VariableRatio = "continuously variable ratio: not covered"
)

// NotCovered names what a word of a unit file or of a builder says of a gear
// train that the physics does not compute; "" for any other word.
func NotCovered(text string) string {
	for _, w := range strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return (r < 'a' || r > 'z') && (r < '0' || r > '9') }) {
		if why := uncovered[w]; why != "" {
			return why
		}
		if why := uncovered[strings.TrimRight(w, "0123456789")]; why != "" {
			return why
		}
	}
	return ""
}

var spread = regexp.MustCompile(`^-?[0-9.]+ *(-|–|to|\.\.\.?) *-?[0-9.]+$`)

// Varies tells a ratio that is written as a span: "2.6-0.4", "2.6 to 0.4".
func Varies(ratio string) bool { return spread.MatchString(strings.TrimSpace(ratio)) }
