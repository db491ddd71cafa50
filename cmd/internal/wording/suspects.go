package wording

import (
	"fmt"

	"slipcase/engine"
	"slipcase/engine/diagnose"
	"slipcase/engine/geartrain"
	"slipcase/engine/model"
	"slipcase/engine/network"
)

// Gist says in a few sentences what a builder would say of a case: the
// strongest complaints, the leader, whether the pan shows it, and what outside
// the transmission it could be.
func Gist(g diagnose.Gist) string {
	if g.Lead.Component == nil {
		return "The unit has no component that the rules can blame."
	}
	s := "Nothing is reported present yet; before any report: "
	if len(g.Complaint) > 0 {
		s = Capital(List(titlesOf(g.Complaint))) + ": "
	}
	s += blame(g.Lead)
	if g.Rival != nil {
		word := "or"
		if g.Both {
			word = "and"
		}
		s += fmt.Sprintf(", %s %s", word, blame(*g.Rival))
	}
	s += "."
	if len(g.Unmet) > 0 {
		s += " Not explained by that: " + List(titlesOf(g.Unmet)) + "."
	}
	if !g.Lead.Outside {
		if g.InPan {
			s += " The pan should show it."
		} else {
			s += " The pan will not show it."
		}
	}
	return s + " " + elsewhere(g)
}

func titlesOf(pieces []model.Piece) []string {
	var out []string
	for _, p := range pieces {
		out = append(out, Piece(p))
	}
	return out
}

// blame is "overdrive servo (82%; servo seal cut)".
func blame(b diagnose.Blame) string {
	return fmt.Sprintf("%s (%s; %s)", Component(b.Component), Percent(b.P), Mode(b.Mode))
}

// fault is "fluid (fluid low 9%)": the figure is that of the fault, and the part
// may have others beside it.
func fault(b diagnose.Blame) string {
	return fmt.Sprintf("%s (%s %s)", Component(b.Component), Mode(b.Mode), Percent(b.P))
}

// elsewhere says what could be outside the transmission, or inside it when
// the leader is outside.
func elsewhere(g diagnose.Gist) string {
	switch {
	case g.Lead.Outside && g.Rival != nil && !g.Rival.Outside:
		return "The first of them is outside the transmission."
	case g.Lead.Outside && g.Elsewhere != nil:
		return "That is outside the transmission; inside it, the likeliest is " + fault(*g.Elsewhere) + "."
	case g.Lead.Outside:
		return "That is outside the transmission."
	case !g.Lead.Outside && g.Rival != nil && g.Rival.Outside:
		return "The second of them is outside the transmission."
	case g.Elsewhere != nil:
		return "Outside the transmission, rule out " + fault(*g.Elsewhere) + "."
	case g.Cause != nil:
		return fmt.Sprintf("No part outside the transmission causes this; of the root causes, settle %s (%s).", engine.TitleOr(g.Cause.Cause.Title, g.Cause.Cause.Name), Percent(g.Cause.P))
	}
	return "Nothing outside the transmission that the rules know causes this."
}

// Firm says whether the order of the first suspects is firm; "" where that was
// not asked.
func Firm(list []diagnose.Suspect, f *diagnose.Firmness) string {
	if f == nil || len(list) == 0 {
		return ""
	}
	if f.Tries == 0 {
		return "Not tested whether the leader is firm: this case ties too many causes together."
	}
	const off = "with every number of the rules off by up to a factor of two"
	worst := fmt.Sprintf("at worst it had %s", Percent(f.Worst))
	if !f.Firm() {
		return fmt.Sprintf("The leader is not firm: in %d tries %s, it stayed first %s; %s.", f.Tries, off, times(f.Stays), worst)
	}
	s := fmt.Sprintf("The leader is firm: in %d tries %s, it stayed first %s; %s.", f.Tries, off, times(f.Stays), worst)
	for i, x := range list[1:] {
		if x.Stands == nil {
			break
		}
		if !*x.Stands {
			return s + fmt.Sprintf(" From place %d on the order may change.", i+2)
		}
	}
	return s
}

func times(n int) string {
	switch n {
	case 0:
		return "never"
	case 1:
		return "once"
	}
	return fmt.Sprintf("%d times", n)
}

// Method says how probabilities were reached; approximately is how many reports are
// weighed approximately.
func Method(m network.Method, approximately int) string {
	how := "exactly"
	if m.Conditioned > 0 {
		how += fmt.Sprintf(", one by one for the states of %d shared causes", m.Conditioned)
	}
	if len(m.Dropped) > 0 {
		how = fmt.Sprintf("as an interval that holds it but for rounding, %d reports left out as too much work", len(m.Dropped))
	}
	how += ", all faults at once"
	rounding := "relative error"
	if approximately > 0 {
		how = SharedOut(approximately)
		rounding = "beside that a relative error"
	}
	return fmt.Sprintf("%s (noisy-OR network, junction tree, %d two-state variables, largest clique %d, %d-bit numbers, %s of some %.0e, estimated)",
		how, m.Variables, m.Width, m.Precision, rounding, max(m.Error, 1e-16))
}

// SharedOut says what figures are worth in which some reports are weighed
// approximately. That was measured; nothing bounds it.
func SharedOut(reports int) string {
	e := model.SharedError
	return fmt.Sprintf("approximately, all faults at once: %s shared out among the faults behind %s, all others counted exactly; the largest error of a probability was %.2f on average and %.2f at worst in the %d cases that were compared with exact answers: measured, no bound",
		Count(reports, "report is", "reports are"), pronoun(reports), e.Mean, e.Worst, e.Cases)
}

var outcomeWords = map[string]string{
	"partial": "slips", "no_drive": "no drive", "lower_gear": "drives like a lower gear", "higher_gear": "drives like a higher gear",
	"reverse": "drives the other way", "no_engine_braking": "no engine braking", "extra_engine_braking": "engine braking where there is none",
	"ties_up": "ties up", "drives_in_neutral": "drives in neutral", "drags": "drags", "noisy": "noisy", "weak": "weak launch",
	"lockup_slips": "converter clutch slips", "lockup_dead": "converter clutch never on", "lockup_on": "converter clutch stays on", "shudders": "shudders",
}

// Outcome is what a fault does to a row of the chart: "slips", "acts as gear 2".
func Outcome(outcome, actsAs string) string {
	if actsAs != "" {
		return "acts as gear " + actsAs
	}
	if words := outcomeWords[outcome]; words != "" {
		return words
	}
	return Name(outcome)
}

// Rate is the number of how often a fault comes by itself.
func Rate() string { return "fails this way, without any known cause" }

// Duty is what the duty of a part makes of the rate of its kind.
func Duty(factor, rate float64, d geartrain.Duty) string {
	return fmt.Sprintf("By its duty it fails this way %.2g times as often as the average such part of this unit, a rate of %.2g: it is on for %.0f%% of driving, works on average at %.0f%% of its hardest row, and slips in %.2g shifts for each run up through the gears. How a vehicle is driven is recalled, not measured.",
		factor, rate, 100*d.Applied, 100*d.Held, d.Shifts)
}

// Because is the strength of what brings a fault about.
func Because(title string) string { return "because of " + title }

// Makes is the strength of what a fault brings about.
func Makes(title string) string { return "makes it: " + title }
