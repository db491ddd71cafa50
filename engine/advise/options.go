package advise

import (
	"cmp"
	"math"

	"slipcase/engine"
	"slipcase/engine/diagnose"
)

// Options steer how much is priced and with what. The zero value takes every
// default.
type Options struct {
	// Best is how many checks are asked for, best first: what cannot be among
	// them is only worked out approximately; 0 prices every open check exactly.
	Best int
	// Stages restricts the offer; nil for every stage that is open.
	Stages []engine.Stage
	// Only restricts the offer to checks for which it is true; nil for all.
	Only func(*engine.Check) bool
	// Closed tells findings that are not to be asked for; nil for none.
	Closed func(finding string) bool
	// Exact is how many findings of a check are worked out together, all
	// 2^Exact answers of them (default 3, at most 12): the most telling ones.
	Exact int
	// Course is the order of the steps left that the case is worked in, by name:
	// the plan of package teardown. What the next step would destroy is judged by
	// it; nil for the best order of the steps by themselves.
	Course []string
	// Read is the answer of package diagnose to the same case on the same model, nil
	// where it is not known: what it holds is not worked out again.
	Read *diagnose.Result
	// Explain works out, for the checks returned, which suspects they separate.
	Explain bool
	// Workers is how many posteriors are worked out at a time (default 2). The
	// result does not depend on it.
	Workers int
	// Values are the minutes behind the price; see DefaultValues.
	Values Values
}

// Values are the numbers behind a price that neither unit nor rules state.
type Values struct {
	// ComeBack is the minutes of a job done again. 0 takes the unit's own steps: to
	// take the unit out and apart, and to put it together and back.
	ComeBack float64
	// Risk is P(the job comes back | a root cause was there and was left),
	// such that about one job in ten would come back if no cause were looked
	// for.
	// Basis: invented.
	Risk float64
	// PutRight is the minutes to put a root cause right on suspicion: flush or
	// replace the cooler, ream a bore, change a sensor. Basis: invented.
	PutRight float64
	// Look is the minutes to look at a component that no step of the unit
	// exposes. Basis: invented.
	Look float64
	// LeastBits is the gain of information, in bits, that makes a check worth
	// doing whatever it saves (design, section 7); LeastAsked that of a question
	// to the driver, whose patience ends at some eight questions. Basis of the
	// latter: measured on the scripts of drivers, where 0.05 took ten questions
	// in the median and led to the right part no more often than 0.1 did.
	LeastBits, LeastAsked float64
	// MinutesPerBit is how many minutes such a check may lose, beyond those that it
	// saves, for each bit that it tells: no half an hour at the pan for a twentieth of a
	// bit. Where the likeliest part is so likely that the doubt about it is less than
	// Doubt, the minutes shrink in proportion, since what is told then is told of other
	// parts. BenchPerBit takes the place of MinutesPerBit once the unit is out, when
	// everything comes into view in any case. Basis: measured, the most that was spared
	// on drawn vehicles without a leader or a pull lost on the scripts of drivers
	// (contributor guide).
	MinutesPerBit, Doubt, BenchPerBit float64
}

// worth tells whether a check is worth doing, where the likeliest part not yet in
// view is there with probability lead. What saves no minutes but tells something is
// so only until a culprit is known, and not as a trial repair.
func (v *Values) worth(c *engine.Check, net, bits, lead float64) bool {
	switch {
	case net > 0:
		return true
	case lead >= likely:
		return false
	case c.Stage == engine.StageInterview:
		return bits >= v.LeastAsked
	}
	per := v.MinutesPerBit * math.Min(1, (1-lead)/v.Doubt)
	if c.Stage == engine.StagePulled || c.Stage == engine.StageTeardown {
		per = math.Min(per, v.BenchPerBit)
	}
	return !c.Repairs && bits >= v.LeastBits && -net <= per*bits
}

// DefaultValues are used where a field is zero.
var DefaultValues = Values{Risk: 0.15, PutRight: 30, Look: 30, LeastBits: 0.05, LeastAsked: 0.1, MinutesPerBit: 110, Doubt: 0.18, BenchPerBit: 5}

func (o Options) filled() Options {
	if o.Exact == 0 {
		o.Exact = 3
	}
	o.Exact = min(o.Exact, 12)
	if o.Workers == 0 {
		o.Workers = 2
	}
	v, d := &o.Values, DefaultValues
	v.Risk = cmp.Or(v.Risk, d.Risk)
	v.PutRight = cmp.Or(v.PutRight, d.PutRight)
	v.Look = cmp.Or(v.Look, d.Look)
	v.LeastBits = cmp.Or(v.LeastBits, d.LeastBits)
	v.LeastAsked = cmp.Or(v.LeastAsked, d.LeastAsked)
	v.MinutesPerBit = cmp.Or(v.MinutesPerBit, d.MinutesPerBit)
	v.Doubt = cmp.Or(v.Doubt, d.Doubt)
	v.BenchPerBit = cmp.Or(v.BenchPerBit, d.BenchPerBit)
	return o
}
