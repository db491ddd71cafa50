package check

import (
	"fmt"
	"slices"
	"strings"

	"slipcase/engine"
)

// choices demands of a question of which one answer is taken that every answer
// says of every finding whether it is there, and no two say the same: what a
// choice leaves out would be neither asked nor ruled out.
func choices(r *run) {
	for i := range r.k.Checks {
		c := &r.k.Checks[i]
		if c.Counts != nil && !c.Counts.Shifts && c.Counts.From.Text == "" {
			r.error(c.Counts.At, fmt.Sprintf("the number of %q says nothing", c.Name), "Say from which number on the findings are there: from = 2")
		}
		if len(c.Choices) == 1 {
			r.error(c.Choices[0].At, fmt.Sprintf("%q leaves no choice", c.Name), "One choice is not a question. Add the others.")
		}
		if len(c.Choices) > 0 && c.Counts != nil {
			r.error(c.Counts.At, fmt.Sprintf("%q asks for a choice and a number", c.Name), "Ask two questions.")
		}
		same := map[string]string{}
		for k := range c.Choices {
			x := &c.Choices[k]
			r.choice(c, x)
			if len(c.Yields) == 0 {
				continue
			}
			key := strings.Join(sortedList(x.Present), " ") + "|" + strings.Join(sortedList(x.Absent), " ")
			if first, ok := same[key]; ok {
				r.error(x.At, fmt.Sprintf("choices %q and %q of %q say the same", first, x.Name, c.Name), "Leave one out, or say in which they differ.")
			}
			same[key] = x.Name
		}
	}
}

func (r *run) choice(c *engine.Check, x *engine.Choice) {
	said := map[string]int{}
	for _, list := range [][]string{x.Present, x.Absent, x.Unknown} {
		for _, f := range list {
			said[f]++
		}
	}
	var left, twice []string
	for _, y := range c.Yields {
		switch said[y] {
		case 0:
			left = append(left, y)
		case 1:
		default:
			twice = append(twice, y)
		}
		delete(said, y)
	}
	if len(left) > 0 {
		r.error(x.At, fmt.Sprintf("choice %q of %q says nothing about %s", x.Name, c.Name, names(left)), "Every choice says of every finding that the check yields whether it is present, absent or unknown.")
	}
	if len(twice) > 0 {
		r.error(x.At, fmt.Sprintf("choice %q of %q says two things about %s", x.Name, c.Name, names(twice)), "A finding is present, absent or unknown.")
	}
	if odd := sorted(said); len(odd) > 0 {
		r.error(x.At, fmt.Sprintf("check %q does not yield %s", c.Name, names(odd)), "Add it to the check's yields, or take it out of the choice.")
	}
	if len(c.Yields) == 0 && len(x.Asks) == 0 {
		r.error(x.At, fmt.Sprintf("choice %q of %q leads nowhere", x.Name, c.Name), "Say which questions come next: asks = [\"ask_…\"]")
	}
}

func sortedList(list []string) []string {
	out := slices.Clone(list)
	slices.Sort(out)
	return out
}
