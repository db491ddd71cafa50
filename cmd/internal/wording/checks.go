package wording

import "slipcase/engine/advise"

// Refusal says why a check is not offered.
func Refusal(r advise.Refusal) string {
	switch r.Why {
	case advise.RuledOut:
		return r.Rule
	case advise.Pointless:
		return "no answer would change a suspect or the plan"
	case advise.TooMuch:
		return "too many findings depend on each other to work this out exactly"
	case advise.TooLate:
		return "too late: " + Step(r.Step) + " destroyed the evidence"
	case advise.NeedsStep:
		return "first do: " + Step(r.Step)
	case advise.CannotRun:
		return "the vehicle cannot run: " + Step(r.Step) + " is done"
	case advise.UnitOut:
		return "the unit is out of the vehicle"
	case advise.UnitInside:
		return "the unit is still in the vehicle"
	case advise.Asked:
		return "the driver was asked already"
	}
	return string(r.Why)
}
