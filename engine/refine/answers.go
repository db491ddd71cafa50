package refine

import (
	"math"
	"slices"
	"sort"

	"slipcase/engine"
	"slipcase/engine/geartrain"
	"slipcase/engine/network"
	"slipcase/engine/refine/rulepath"
)

// A reporter errs oftener about one thing than about another, and how often about
// each is more than a few hundred cases tell. What they tell is whether it errs
// oftener than the rules say: its rates go up and down in proportion. The number
// that is learned is the largest of them, of which the others are shares, so that
// each answer is a trial of it with a known thinning, as a link's is (see the
// package's comment); what is told is the reporter's rate in general.

// byDuty tells whether the number is a rate that the duty of each part scales: of a
// mode, in general or in one unit. A part's own rate is its own.
func byDuty(k *engine.Knowledge, p rulepath.Path) bool {
	last := p.Blocks[len(p.Blocks)-1]
	if len(p.Blocks) > 2 || p.Argument == "strength" || last.Type != "mode" && last.Type != "frequency" {
		return false
	}
	return slices.ContainsFunc(k.Modes, func(m engine.Mode) bool { return m.Duty && m.Name == last.Labels[0] })
}

// most is by how much what is learned is above the number: the largest rate of a
// reporter above its general one, the most that duty makes of a rate; 1 for all other
// numbers.
func most(k *engine.Knowledge, p rulepath.Path) float64 {
	if byDuty(k, p) {
		return geartrain.MostDuty
	}
	if p.Blocks[0].Type != "reporter" {
		return 1
	}
	for i := range k.Reporters {
		r := &k.Reporters[i]
		if r.Name != p.Blocks[0].Labels[0] {
			continue
		}
		alarm, miss := r.Errs(nil)
		at := 1.0
		for j := range r.On {
			a, m := r.Errs(&r.On[j])
			if p.Blocks[1].Labels[0] == rulepath.Miss {
				at = math.Max(at, m/miss)
			} else {
				at = math.Max(at, a/alarm)
			}
		}
		return at
	}
	return 1
}

// errs is the number behind a rate of a reporter, in general and of one finding,
// and the share that the latter is of it; -1 and the rate itself where it is not
// learned.
func (b *binding) errs(general engine.Number, rate float64) (param int, share float64) {
	i := b.find(general)
	if i < 0 {
		return -1, rate
	}
	return i, within(rate/(general.Value*b.scale(i)), 1)
}

// mostAbsent is the share of a reporter's answers that has to be of what is not
// there: most of what is asked about is not (five in six in the drawn cases of the
// tests). Where less is noted, what is noted was chosen by the answer, and says
// nothing of how often the reporter errs.
const mostAbsent = 2.0 / 3

// heed leaves the reporters as the rules have them of whom hardly anything but
// what is there was noted; and where that is so of all of them, what shows by what
// and without it, which would seem to show oftener, and how often there is a cause
// that is asked about by what it shows: who notes the mileage of old vehicles alone
// sees none but old ones.
func (l *learner) heed(items []*item) {
	answers, absent := make([]float64, len(l.params)), make([]float64, len(l.params))
	each := func(f func(param *int, share *float64, present bool)) {
		for _, it := range items {
			for i := range it.answers {
				a := &it.answers[i]
				f(&a.falseAlarm, &a.oftenFalse, a.present)
				f(&a.miss, &a.oftenMissed, a.present)
			}
		}
	}
	each(func(p *int, _ *float64, present bool) {
		if *p >= 0 {
			answers[*p]++
			if !present {
				absent[*p]++
			}
		}
	})
	all, not := 0.0, 0.0
	for i := range answers {
		l.params[i].chosen = answers[i] > 0 && absent[i] < mostAbsent*answers[i]
		all, not = all+answers[i], not+absent[i]
	}
	for i := range l.params[:l.rules] {
		p := &l.params[i].path
		switch last := p.Blocks[len(p.Blocks)-1].Type; {
		case all == 0 || not >= mostAbsent*all:
		case p.Argument == "frequency" && last == "cause":
			l.params[i].chosen = l.shows(p.Blocks[0].Labels[0])
		case p.Argument == "leak", last == "effect", last == "shows", last == "sign":
			l.params[i].chosen = true
		}
	}
	each(func(p *int, share *float64, _ bool) {
		if i := *p; i >= 0 && l.params[i].chosen {
			*share *= l.params[i].number.Value * l.params[i].scale
			*p = -1
		}
	})
}

// shows tells whether a root cause has a sign of its own.
func (l *learner) shows(cause string) bool {
	for _, b := range l.models {
		for i := range b.m.Knowledge.Causes {
			if c := &b.m.Knowledge.Causes[i]; c.Name == cause {
				return len(c.Shows) > 0
			}
		}
	}
	return false
}

// rates are P(says present | absent) and P(misses it | present) of an answer.
func (a *answered) rates(theta []float64) (falseAlarm, miss float64) {
	falseAlarm, miss = a.oftenFalse, a.oftenMissed
	if a.falseAlarm >= 0 {
		falseAlarm *= theta[a.falseAlarm]
	}
	if a.miss >= 0 {
		miss *= theta[a.miss]
	}
	return falseAlarm, miss
}

// said appends the first n pieces of the case's evidence, answers with the
// numbers given.
func (it *item) said(dst []network.Likelihood, n int, theta []float64) []network.Likelihood {
	from := len(dst)
	dst = append(dst, it.all[:n]...)
	for i := range it.answers {
		a := &it.answers[i]
		falseAlarm, miss := a.rates(theta)
		on, off := (1-miss)*a.left, falseAlarm
		if !a.present {
			on, off = 1-on, 1-off
		}
		dst[from+a.at].On, dst[from+a.at].Off = on, off
	}
	return dst
}

// answerTrials reads what reporters answered as trials of how often they err: an
// answer about what is there is one of missing it, any other one of a false alarm.
// What is said not to be there, and had been taken away since it was, may have
// been missed or not.
func (it *item) answerTrials(fam []network.Family, theta []float64, f func(trial)) {
	for i := range it.answers {
		a := &it.answers[i]
		k := sort.Search(len(fam), func(k int) bool { return fam[k].Node >= a.node })
		if k == len(fam) || fam[k].Node != a.node {
			continue
		}
		on := within(fam[k].On, 1)
		falseAlarm, miss := a.rates(theta)
		wrong, missed := 0.0, 0.0
		if a.present {
			wrong = 1 - on
		} else {
			missed = on * miss / (miss + (1-miss)*(1-a.left))
		}
		if a.falseAlarm >= 0 && on < 1 {
			f(trial{a.falseAlarm, a.node, 1 - on, thinned(wrong, 1-on, theta[a.falseAlarm], falseAlarm), false, false})
		}
		if a.miss >= 0 && on > 0 {
			f(trial{a.miss, a.node, on, thinned(missed, on, theta[a.miss], miss), false, false})
		}
	}
}

// thinned is the expectation that a trial of probability t succeeded which is
// seen to with probability rate: what was not seen may have failed at the
// thinning alone.
func thinned(seen, occurs, t, rate float64) float64 {
	return seen + (occurs-seen)*(t-rate)/(1-rate)
}
