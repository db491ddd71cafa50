package desk

import (
	"fmt"
	"math/big"
	"slices"
	"strings"

	"slipcase/engine"
	"slipcase/engine/near"
)

// title is a title, or a name made readable.
func title(title, name string) string {
	if title != "" {
		return title
	}
	return strings.ReplaceAll(name, "_", " ")
}

// linkTitle is the title of an element or joint.
func linkTitle(u *engine.Unit, name string) string {
	for _, e := range u.Elements {
		if e.Name == name {
			return title(e.Title, name)
		}
	}
	for _, j := range u.Joints {
		if j.Name == name {
			return title(j.Title, name)
		}
	}
	return title("", name)
}

func abs(r *big.Rat) *big.Rat { return new(big.Rat).Abs(r) }

// Nearest is "did you mean X, Y?" for a name that is not known, or "".
func Nearest(name string, known []string) string {
	names := near.Names(name, known, 3)
	if len(names) == 0 {
		return ""
	}
	return "did you mean " + strings.Join(names, ", ") + "?"
}

// nearestOr is Nearest, or what to say when nothing is near.
func nearestOr(name string, known []string, otherwise string) string {
	if hint := Nearest(name, known); hint != "" {
		return hint
	}
	return otherwise
}

// oneOf refuses a name that is not among those known.
func oneOf(what, name string, known []string) error {
	if slices.Contains(known, name) {
		return nil
	}
	return usage(fmt.Sprintf("there is no %s %q", what, name), nearestOr(name, known, "they are "+strings.Join(known, ", ")))
}
