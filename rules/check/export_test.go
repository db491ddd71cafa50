package check

// Names lists what is looked for.
func Names() []string {
	out := make([]string, len(lints))
	for i, l := range lints {
		out[i] = l.name
	}
	return out
}
