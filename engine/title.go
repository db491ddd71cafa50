package engine

import "strings"

// Spaced makes a name readable: "low_fluid" is "low fluid".
func Spaced(name string) string { return strings.ReplaceAll(name, "_", " ") }

// TitleOr is a title, or where there is none the name made readable.
func TitleOr(title, name string) string {
	if title != "" {
		return title
	}
	return Spaced(name)
}
