package advise

import (
	"math"
	"sort"

	"slipcase/engine"
	"slipcase/engine/tie"
)

// Answer is one likely answer to a check and what it would make of the top
// suspects.
type Answer struct {
	Present []string // findings reported present; the others absent
	P       float64  // probability of this answer
	Shifts  []Shift  // the suspects that move most
	Minutes float64  // minutes that this answer saves (may be negative: it can bring bad news)
}

// Shift is how a suspect's probability moves.
type Shift struct {
	Component *engine.Component
	From, To  float64 // probability before and after the answer
}

// Answers and shifts shown.
const (
	likelyAnswers = 3
	shownShifts   = 3
	leastShift    = 1e-6 // of a probability: above what a price may be off by, below what is shown
)

// separates lists the likeliest answers to the telling findings of a check.
func separates(c *candidate, b *base) []Answer {
	leaves := append([]answer(nil), c.answers...)
	sort.SliceStable(leaves, func(i, j int) bool { return leaves[i].p > leaves[j].p+1e-12 })
	if len(leaves) > likelyAnswers {
		leaves = leaves[:likelyAnswers]
	}
	var out []Answer
	for _, x := range leaves {
		ans := Answer{P: x.p, Minutes: b.value.j - x.value.j}
		for i, present := range x.present {
			if present {
				ans.Present = append(ans.Present, c.chosen[i].name)
			}
		}
		var all []Shift
		for i, p := range b.s.parts {
			all = append(all, Shift{p.component, b.belief.parts[i], x.belief.parts[i]})
		}
		sort.SliceStable(all, func(i, j int) bool {
			di, dj := math.Abs(all[i].To-all[i].From), math.Abs(all[j].To-all[j].From)
			if d := tie.Compare(di, dj); d != 0 {
				return d > 0
			}
			return all[i].Component.Name < all[j].Component.Name
		})
		for i := 0; i < len(all) && i < shownShifts; i++ {
			if math.Abs(all[i].To-all[i].From) > leastShift {
				ans.Shifts = append(ans.Shifts, all[i])
			}
		}
		out = append(out, ans)
	}
	return out
}
