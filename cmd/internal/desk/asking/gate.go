package asking

import (
	"slices"
	"strings"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/shown"
	"slipcase/cmd/internal/fault"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
)

// mostToNote are the findings named for a look that was not taken.
const mostToNote = 2

// Gate stops a step that takes the unit out of the vehicle while looks that it
// makes impossible were not taken: one message for each, none when all were.
// A look counts as taken when anything that it can show was reported or read.
// Other steps are not stopped: what they destroy is told by the plan.
func (w *Work) Gate(steps []*engine.Step, c *engine.CaseFile) []answer.Message {
	seen := map[string]bool{}
	for _, r := range c.Reports {
		seen[r.Finding] = true
	}
	for _, r := range c.Readings {
		if b, ok := w.Model.Unit.Bounds(r.Name, r.Place); ok && b.Limit != nil {
			seen["check "+b.Limit.Check] = true
		}
	}
	// What is read counts as the findings that it stands for.
	if pieces, _ := w.Model.Evidence(c); pieces != nil {
		for _, p := range pieces {
			seen[p.Label] = true
		}
	}
	var out []answer.Message
	for _, s := range steps {
		if !s.Pulls || slices.Contains(c.Done, s.Name) {
			continue
		}
		for i := range w.Knowledge.Checks {
			check := &w.Knowledge.Checks[i]
			if !slices.Contains(check.Before, s.Name) || seen["check "+check.Name] {
				continue
			}
			var names []string
			for _, y := range check.Yields {
				names = append(names, w.Model.Match(y)...)
			}
			if len(names) == 0 || slices.ContainsFunc(names, func(n string) bool { return seen[n] }) {
				continue
			}
			for i, n := range names {
				names[i] = strings.TrimPrefix(n, "code_")
			}
			note, more := shown.First(names, mostToNote)
			out = append(out, fault.Error(wording.NotLookedAt(s, check, note, more > 0)))
		}
	}
	return out
}
