package wording

import (
	"fmt"
	"math"

	"slipcase/engine/teardown"
)

// Weight says how strongly a report speaks for or against a suspect, by its
// decibans (10 make the odds ten times better): "strongly", "clearly",
// "slightly".
func Weight(decibans float64) string {
	switch d := math.Abs(decibans); {
	case d >= 10:
		return "strongly"
	case d >= 5:
		return "clearly"
	}
	return "slightly"
}

// Chance is a probability in everyday words, as an owner is told.
func Chance(p float64) string {
	switch {
	case p >= 0.95:
		return "almost certain"
	case p >= 0.75:
		return "very likely"
	case p >= 0.5:
		return "more likely than not"
	case p >= 0.25:
		return "quite possible"
	case p >= 0.1:
		return "possible"
	}
	return "unlikely"
}

// Hours is a working time as an owner thinks of it: "185 minutes (about 3
// hours)".
func Hours(minutes float64) string {
	s := Minutes(minutes)
	if minutes < 90 {
		return s
	}
	h := math.Round(minutes/30) / 2
	if h == math.Trunc(h) {
		return fmt.Sprintf("%s (about %.0f hours)", s, h)
	}
	return fmt.Sprintf("%s (about %.1f hours)", s, h)
}

// OwnerDecision says whether the transmission should come out, and why, in
// everyday words.
func OwnerDecision(d teardown.Decision) string {
	switch {
	case d.Pull == nil:
		return "It is not known yet whether the transmission must come out."
	case d.Pulled:
		return "The transmission is out of the vehicle."
	case d.Enough:
		return fmt.Sprintf("What was found can be repaired with the transmission in the vehicle, in about %s with refitting. It stays in, and the vehicle is driven again afterward; it is %s that there is another fault as well.", Hours(d.Repair), Chance(d.Another))
	case d.Mended != nil:
		return "The complaint is gone after a repair with the transmission in the vehicle. It stays in."
	case d.Unlikely:
		return fmt.Sprintf("We do not advise taking the transmission out: it is %s that no known fault is behind what was reported. The complaint is to be verified first, with the driver and on the road.", Chance(1-d.Some))
	case len(d.Instead) == 0:
		return fmt.Sprintf("We advise taking the transmission out: nothing that the vehicle does points to a part that can be seen with it in place. We expect the repair to take about %s in all.", Hours(d.PullNow))
	case !d.Justified:
		return fmt.Sprintf("We do not advise taking the transmission out yet. Looking first at what can be reached in the vehicle, the whole repair takes about %s on average; taking it out right away, about %s. It is %s that the fault only shows on the bench.", Hours(d.InVehicle), Hours(d.PullNow), Chance(d.OnlyBench))
	}
	first := ""
	if len(d.Looks) > 0 {
		first = ", after a few quick looks in the vehicle"
	}
	return fmt.Sprintf("We advise taking the transmission out%s. It is %s that the fault only shows on the bench, and looking further in the vehicle would cost more time than it saves: about %s for the whole repair against %s.", first, Chance(d.OnlyBench), Hours(d.PullNow), Hours(d.InVehicle))
}
