package refine

import (
	"math"

	"slipcase/engine"
	"slipcase/engine/model"
	"slipcase/engine/network"
)

// detection is a detection model: how a shop notes what is there, failed modes or
// root causes, in a case whose repair held. The probability of noting it is learned with the
// rules' numbers.
type detection struct {
	param   int     // -1: silence says nothing
	sound   float64 // share of what is sound that is noted (cleared, ruled out) all the same
	silence float64 // P(nothing noted | there) over P(nothing noted | not there), as set
	log     float64 // logarithm of the probability of noting what is there, as set
}

// The places in learner.detections.
const (
	found = iota
	settled
)

// noted is the probability of noting what is there, 0 where silence says
// nothing.
func (h *detection) noted(theta []float64) float64 {
	if h.param < 0 {
		return 0
	}
	return theta[h.param]
}

func (h *detection) set(theta []float64) {
	if h.param < 0 {
		return
	}
	// Never quite 1, where what is there is noted as seldom as what is sound:
	// evidence that says nothing is left out of a network, and with it the
	// trials of the model, so that it would not stay there.
	h.silence = min((1-theta[h.param])/(1-h.sound), math.Nextafter(1, 0))
	h.log = math.Log(theta[h.param])
}

// detectionOf is the detection model that goes with a node: nil for what is neither a mode
// nor a root cause.
func (l *learner) detectionOf(b *binding, node int) *detection {
	switch b.m.Nodes[node].Layer {
	case model.ModeLayer:
		return &l.detections[found]
	case model.CauseLayer:
		return &l.detections[settled]
	}
	return nil
}

// listen measures how often a shop notes what is sound: nearly every part and
// cause is, so the share that is cleared or ruled out tells. What is there is
// noted no less often.
func (l *learner) listen(cases []*engine.CaseFile) {
	var failed, cleared, parts, there, ruled, causes float64
	for _, f := range cases {
		b := l.byUnit[f.Unit]
		parts += float64(len(b.m.Unit.Components))
		causes += float64(len(b.m.Knowledge.Causes))
		for _, s := range f.Seen {
			if s.Cleared {
				cleared++
			} else {
				failed++
			}
			if s.Cause != "" {
				there++
			}
		}
		for _, s := range f.Settled {
			if s.Present {
				there++
			} else {
				ruled++
			}
		}
	}
	share := func(i int, absent, all float64) {
		h := &l.detections[i]
		if h.param < 0 {
			return
		}
		if all > 0 {
			h.sound = within(absent/all, 0.99)
		}
		p := &l.params[h.param]
		p.least = h.sound
		if p.origin.Value < p.least {
			p.origin.Value = p.least
			p.prior = PriorOf(p.least, engine.Invented, 0)
		}
	}
	share(found, cleared, parts-failed)
	share(settled, ruled, causes-there)
}

// hush adds the evidence of what was not noted, with root causes or without.
// The second result is the logarithm of the probability of having noted what
// was.
func (l *learner) hush(ev []network.Likelihood, it *item, causes bool) ([]network.Likelihood, float64) {
	if !it.scored {
		return ev, 0
	}
	said := 0.0
	for i := range l.detections {
		if n := it.there[i]; n > 0 && (causes || i == found) {
			said += float64(n) * l.detections[i].log
		}
	}
	for i, quiet := range it.silent {
		if !quiet {
			continue
		}
		h := l.detectionOf(it.b, i)
		if h.silence != 1 && (causes || h == &l.detections[found]) {
			ev = append(ev, network.Likelihood{Node: i, On: h.silence, Off: 1, Tag: -1})
		}
	}
	return ev, said
}
