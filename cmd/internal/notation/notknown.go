package notation

import (
	"slices"
	"strings"
)

// NotKnown tells whether an answer says that it is not known.
func NotKnown(text string) bool {
	return slices.Contains([]string{"?", "unknown", "don't know", "dont know", "not known"}, strings.ToLower(strings.TrimSpace(text)))
}
