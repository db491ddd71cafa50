package check

import (
	"fmt"
	"strings"

	"slipcase/engine"
)

// hazards are words for work that can hurt someone, beside the stages whose
// work always can. A plural s is taken along.
var hazards = []string{"spring", "accumulator", "servo", "air", "stall", "battery", "solvent", "compressor", "heavy", "lift", "jack"}

// hazard is the first word of the texts that means danger, or "".
func hazard(texts ...string) string {
	for _, t := range texts {
		words := strings.FieldsFunc(strings.ToLower(t), func(c rune) bool { return (c < 'a' || c > 'z') && c < 0x80 })
		for _, w := range words {
			for _, h := range hazards {
				if w == h || w == h+"s" {
					return h
				}
			}
		}
	}
	return ""
}

// dangerous are the stages whose work always needs a caution: a vehicle that
// moves, runs or stands on a lift, or a unit that hangs.
func dangerous(s engine.Stage) bool {
	switch s {
	case engine.StageRoad, engine.StageGauges, engine.StageInVehicle, engine.StagePulled:
		return true
	}
	return false
}

func checkCautions(r *run) {
	for i := range r.k.Checks {
		c := &r.k.Checks[i]
		if len(c.Cautions) > 0 {
			continue
		}
		if dangerous(c.Stage) {
			r.error(c.At, fmt.Sprintf("check %q without caution", c.Name), fmt.Sprintf("Work of stage %s can hurt someone. Add its cautions: cautions = [\"…\"]", c.Stage))
		} else if w := hazard(c.Name, c.Title); w != "" && c.Stage != engine.StageInterview {
			r.error(c.At, fmt.Sprintf("check %q without caution", c.Name), fmt.Sprintf("It has to do with %q, which can hurt someone. Add its cautions: cautions = [\"…\"]", w))
		}
	}
}

func stepCautions(r *run) {
	for _, u := range r.k.Units {
		for i := range u.Steps {
			s := &u.Steps[i]
			if len(s.Cautions) > 0 {
				continue
			}
			texts := append([]string{s.Name, s.Title}, s.Exposes...)
			switch w := hazard(texts...); {
			case s.Pulls:
				r.error(s.At, fmt.Sprintf("step %q without caution", s.Name), "Taking the unit out can hurt someone. Add its cautions: cautions = [\"…\"]")
			case dangerous(s.Stage):
				r.error(s.At, fmt.Sprintf("step %q without caution", s.Name), fmt.Sprintf("Work of stage %s can hurt someone. Add its cautions: cautions = [\"…\"]", s.Stage))
			case w != "":
				r.error(s.At, fmt.Sprintf("step %q without caution", s.Name), fmt.Sprintf("It has to do with %q, which can hurt someone. Add its cautions: cautions = [\"…\"]", w))
			}
		}
	}
}

// checkMinutes demands minutes and something to learn.
func checkMinutes(r *run) {
	for i := range r.k.Checks {
		c := &r.k.Checks[i]
		if c.Minutes.Value <= 0 {
			r.error(c.At, fmt.Sprintf("check %q without minutes", c.Name), "What a check is worth is weighed against the minutes it takes. Add: minutes = 10")
		}
		if len(c.Yields) == 0 && len(c.Choices) == 0 {
			r.error(c.At, fmt.Sprintf("check %q yields nothing", c.Name), "Say which findings it tells: yields = [\"…\"]")
		}
		if c.Stage == engine.StageInterview && c.Asks == "" {
			r.warn(c.At, fmt.Sprintf("question %q without words", c.Name), "A check of the interview is put to the driver. Add: asks = \"…?\"")
		}
	}
}

func stepMinutes(r *run) {
	for _, u := range r.k.Units {
		for i := range u.Steps {
			if s := &u.Steps[i]; s.Minutes.Text == "" {
				r.error(s.At, fmt.Sprintf("step %q without minutes", s.Name), "The plan needs its minutes. Add: minutes = 10")
			}
		}
	}
}
