package refine

import (
	"cmp"
	"context"
	"errors"
	"math"
	"slices"
	"strconv"

	"gonum.org/v1/gonum/stat/distuv"

	"slipcase/engine"
	"slipcase/engine/model"
	"slipcase/engine/refine/rulepath"
)

// Options steer the learning; the zero value is the usual.
type Options struct {
	// Origins are what numbers learned earlier were before that, by the
	// String of their path (rules/edit keeps them).
	Origins map[string]Origin
	// Tolerance is the distance from the optimum at which an estimate has
	// converged: of the number that is farthest, in its own standard
	// deviations, by forecast; 0 means 0.03.
	Tolerance float64
	// MaxIterations bounds each estimate; 0 means 100.
	MaxIterations int
	// MinGain is the share of the information on a number that must come from
	// the cases for it to be moved; 0 means 0.05.
	MinGain float64
	// Found is the probability that a failed mode is found and noted before a
	// case is closed, Settled that a root cause is, where the case is not
	// followed by a comeback, before any case has been seen; 0 means 0.8 and
	// 0.5 (invented), below 0 that silence says nothing.
	Found, Settled float64
	// HeardOnly leaves a number where it is when next to nothing but silence
	// speaks of it and it stays within the 90% interval of its own prior.
	HeardOnly bool
	// Eager also moves numbers whose interval holds the old value: each is more
	// likely nearer the truth than not, but a shop that is as the rules say
	// would have hundreds moved by chance.
	Eager bool
	// AnyVehicle takes the cases for vehicles picked whether or not they had a
	// complaint.
	AnyVehicle bool
	// Workers is the number of goroutines; 0 means two. It changes no digit
	// of the result.
	Workers int
	// NoHeldOut leaves out the comparison on held-out cases.
	NoHeldOut bool
	// Work bounds the work of learning, in table entries of passes; 0 means enough for
	// any shop and any real unit. Past it Propose fails with ErrWork.
	Work float64
	// Progress, when set, is called often, from one goroutine at a time.
	Progress func(Progress)
}

// filled has the usual values for what is not set.
func (opt Options) filled() Options {
	if opt.Tolerance <= 0 {
		opt.Tolerance = 0.03
	}
	if opt.MaxIterations <= 0 {
		opt.MaxIterations = 100
	}
	if opt.MinGain <= 0 {
		opt.MinGain = 0.05
	}
	if opt.Found == 0 {
		opt.Found = 0.8
	}
	if opt.Settled == 0 {
		opt.Settled = 0.5
	}
	opt.Found, opt.Settled = within(opt.Found, 0.99), within(opt.Settled, 0.99)
	return opt
}

// margin is the change in log-odds below which a number counts as confirmed:
// two percent of a small rate.
const margin = 0.02

// Level is the probability that an interval is meant to hold.
const Level = 0.90

// Change is one number that the cases move.
type Change struct {
	Path  rulepath.Path
	Old   engine.Number // as the rules have it
	New   float64       // rounded as in Text
	Text  string        // New as it is to be written
	Low   float64       // the 90% interval
	High  float64       // as Low, probability
	Cases float64       // the cases behind it: effective number of fully observed cases
	// Prior is the number before anything was learned, with its basis: what
	// the cases were weighed against.
	Prior Origin
}

// unmoved is the difference below which a number is where it was: rounding, where
// the least that is written is three digits.
const unmoved = 1e-12

// Why tells why a number was not moved.
type Why string

// The reasons.
const (
	NoCase          Why = "no_case"          // no case speaks of it
	TooFew          Why = "too_few"          // the trials weigh little beside the prior
	Unseen          Why = "unseen"           // the trials are guessed from other reports
	NotIdentifiable Why = "not_identifiable" // the cases cannot tell it from Rival
	Confirmed       Why = "confirmed"        // the cases agree with it
	Allowed         Why = "allowed"          // it lies within the 90% interval that the cases leave
	OneSided        Why = "one_sided"        // hardly anything but what is there was noted of what shows
	Chance          Why = "chance"           // it lies outside, as some of so many numbers do by chance
)

// Kept is one number that is left as it is.
type Kept struct {
	Path   rulepath.Path
	Number engine.Number
	Why    Why
	Rival  *rulepath.Path // NotIdentifiable: the number that it cannot be told from
	Cases  float64        // as in Change
	Trials float64        // expected trials, seen or not
	Prior  float64        // TooFew: the trials that the prior stands for
	Silent bool           // Confirmed: by nothing but silence
}

// Proposal is what the cases say about the rules.
type Proposal struct {
	Changes    []Change // in order of the rules
	Kept       []Kept   // in order of the rules
	Cases      int      // cases learned from
	Skipped    []Skipped
	Iterations []Iteration // of the estimate, over all cases
	HeldOut    *HeldOut    // nil when not asked for, or too few cases
	// Cut says that an estimate ended at Options.MaxIterations: its numbers still
	// moved, and would go on.
	Cut bool
	// Found and Settled are the Options of that name as the cases have them; 0
	// where silence was to say nothing.
	Found, Settled float64
}

// Propose learns from confirmed cases: closed as fixed or comeback, with
// something found or cleared. The models must come from the same rules; cases
// of other units, and cases that cannot be used, are listed. Only the context,
// broken models, units too wide to ask about vehicles without a complaint (network.ErrWide)
// and ErrWork make errors.
func Propose(ctx context.Context, models []*model.Model, cases []Case, opt Options) (*Proposal, error) {
	l, err := newLearner(ctx, models, opt)
	if err != nil {
		return nil, err
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	p := &Proposal{}
	items, skipped := l.choose(cases)
	p.Skipped = skipped
	origin := l.originValues()
	if l.work.most = opt.Work; opt.Work <= 0 {
		l.work.most = baseWork + caseWork*float64(len(items))
	}
	// What no case can change is asked first, before minutes go into the cases.
	l.set(origin)
	if err := l.unseen(ctx, items, origin, l.newCounts()); err != nil {
		return nil, err
	}
	first := origin
	if len(items) <= l.large.many {
		if items, first, err = l.usable(ctx, items, first, p, MaxTree); err != nil {
			return nil, err
		}
	} else if items, first, err = l.begin(ctx, items, origin, p); err != nil {
		return nil, err
	}
	p.Cases = len(items)
	current := l.values(func(p *param) float64 { return inside(p.number.Value * p.scale) })
	e, err := l.study(ctx, items, first, current, l.tolerance(len(items)), [3]string{"estimate", "settle", "intervals"})
	if err != nil {
		return nil, err
	}
	p.Iterations, p.Cut = e.trace, e.cut
	for i := range l.params {
		if why := e.kept[i]; why != nil {
			if !l.lone(i) { // that part is told by the rate of its kind, which is listed
				p.Kept = append(p.Kept, *why)
			}
			continue
		}
		if l.habitual(i) {
			continue
		}
		p.Changes = append(p.Changes, l.change(i, e.inf, e.theta[i]))
	}
	p.Found, p.Settled = l.detections[found].noted(e.theta), l.detections[settled].noted(e.theta)
	if !opt.NoHeldOut && len(items) > 1 {
		if p.HeldOut, err = l.heldOut(ctx, items); err != nil {
			return nil, err
		}
	}
	return p, nil
}

// coarse times the tolerance is enough for a large casebook, where the deviations are
// smaller.
const coarse = 4

// begin learns from some of very many cases, and counts all where these end, or, where
// there are far more, where a sample ends. It returns the usable cases and those numbers.
func (l *learner) begin(ctx context.Context, items []*item, origin []float64, p *Proposal) ([]*item, []float64, error) {
	some := spread(items, l.large.few)
	few, near, err := l.usable(ctx, some, origin, &Proposal{}, l.large.wide)
	if err == nil && 2*len(few) < len(some) { // a unit whose trees are all wide
		few, near, err = l.usable(ctx, some, origin, &Proposal{}, MaxTree)
	}
	if err != nil {
		return nil, nil, err
	}
	// The few lie off by the root of the scale in any case.
	tolerance := 7 * math.Sqrt(float64(len(items))/float64(len(few))) * l.opt.Tolerance
	theta, _, err := l.fit(ctx, "estimate", few, near, nil, 1, tolerance)
	if err != nil {
		return nil, nil, err
	}
	draw(items, l.large.sample)
	l.grouped = true
	var sample []*item
	for _, it := range items {
		it.kept = nil // each is asked about once from here on, or three times
		if it.sampled {
			sample = append(sample, it)
		}
	}
	if len(items) > 2*l.large.sample { // from where the few end to where all do is too far for one step
		in, counted, told, err := l.read(ctx, sample, theta, &Proposal{})
		if err != nil {
			return nil, nil, err
		}
		if err := l.anchored(ctx, in, few, theta, counted.total(l, 0, inSample, inTest, inSample+inTest), told); err != nil {
			return nil, nil, err
		}
		if theta, _, err = l.fit(ctx, "estimate", in, theta, nil, 1, l.tolerance(len(items))); err != nil {
			return nil, nil, err
		}
		l.anchor = nil
	}
	all, counted, told, err := l.read(ctx, items, theta, p)
	if err != nil {
		return nil, nil, err
	}
	l.first = counted
	return all, theta, l.anchored(ctx, all, few, theta, counted.total(l, 0, inSample, inTest, inSample+inTest), told)
}

func (l *learner) tolerance(cases int) float64 {
	if cases > l.large.many {
		return coarse * l.opt.Tolerance
	}
	return l.opt.Tolerance
}

// estimate is what some cases say about the numbers.
type estimate struct {
	theta  []float64
	kept   []*Kept // by number; nil: it moves
	inf    *information
	tested [3]int      // numbers of each sort that the cases tell something of
	trace  []Iteration // of the first fit, in which everything moves
	cut    bool        // a fit ended at Options.MaxIterations
}

// mostRounds bounds how often numbers are put back and the rest estimated
// again.
const mostRounds = 4

// study learns from cases. First everything moves. What turns out not to be
// identified is put back and the rest estimated again; then what the cases
// allow to stay, until every number that moves has to, or for mostRounds. It
// begins at first; what stays is held at base. The phases name the first fit,
// the later ones and the intervals.
func (l *learner) study(ctx context.Context, items []*item, first, base []float64, tolerance float64, phases [3]string) (*estimate, error) {
	l.joined()
	theta, err := l.start(ctx, phases[0], items, nil, first)
	if err != nil {
		return nil, err
	}
	e := &estimate{}
	if theta, e.trace, err = l.fit(ctx, phases[0], items, theta, nil, 1, tolerance); err != nil {
		return nil, err
	}
	e.cut = l.cut
	apart := l.singles(base) > 0
	if apart {
		theta, base = l.wider(theta), l.wider(base)
	}
	if l.anchor.holds(items) {
		l.set(theta)
		if err = l.again(ctx, phases[1], items, theta); err != nil {
			return nil, err
		}
	}
	if apart || l.anchor.holds(items) {
		if theta, _, err = l.fit(ctx, phases[1], items, theta, nil, 1, tolerance); err != nil {
			return nil, err
		}
		e.cut = e.cut || l.cut
	}
	l.settled = slices.Clone(theta)
	return e, l.decide(ctx, items, e, theta, base, tolerance, [2]string(phases[1:]))
}

// decide puts back what need not move of an estimate in which everything does, and
// estimates the rest again.
func (l *learner) decide(ctx context.Context, items []*item, e *estimate, theta, base []float64, tolerance float64, phases [2]string) (err error) {
	l.set(theta)
	if e.inf, err = l.inform(ctx, phases[0], items, theta); err != nil {
		return err
	}
	e.kept = make([]*Kept, len(l.params))
	held := make([]bool, len(l.params))
	hold := func(i int, why *Kept) {
		e.kept[i], held[i], theta[i] = why, true, base[i]
		if l.lone(i) {
			l.rejoin(i)
		}
	}
	for i, why := range l.stay(e, theta, base, true) {
		hold(i, why)
	}
	for round := 1; ; round++ {
		if theta, _, err = l.fit(ctx, phases[0], items, theta, held, 1, tolerance); err != nil {
			return err
		}
		e.cut = e.cut || l.cut
		l.set(theta)
		if e.inf, err = l.inform(ctx, phases[1], items, theta); err != nil {
			return err
		}
		back := l.stay(e, theta, base, false)
		for i, why := range back {
			hold(i, why)
		}
		if len(back) == 0 || round == mostRounds {
			l.set(theta)
			e.theta = theta
			return nil
		}
	}
}

// stay are the numbers that still move and need not, with the reason; at first
// also those that the cases cannot tell.
func (l *learner) stay(e *estimate, theta, base []float64, atFirst bool) map[int]*Kept {
	out := map[int]*Kept{}
	var open [3][]doubt
	for i := range e.kept {
		if e.kept[i] != nil || l.habitual(i) {
			continue
		}
		if atFirst {
			if why := l.keep(i, e.inf, theta[i], base[i], theta); why != nil {
				out[i] = why
				continue
			}
			e.tested[l.sort(i)]++
		}
		c := l.change(i, e.inf, theta[i])
		x := &l.params[i]
		k := &Kept{Path: c.Path, Number: c.Old, Why: Allowed, Cases: c.Cases, Trials: e.inf.trials[i]}
		switch {
		case math.Abs(c.New-base[i]/x.scale) < unmoved:
			k.Why = Confirmed
			out[i] = k
		case l.opt.Eager:
		case c.Low*x.scale <= base[i] && base[i] <= c.High*x.scale:
			out[i] = k
		default:
			k.Why = Chance
			open[l.sort(i)] = append(open[l.sort(i)], doubt{i, x.beyond(base[i], theta[i], c.Cases), k})
		}
	}
	for s, list := range open {
		for _, d := range byChance(list, e.tested[s]) {
			out[d.param] = d.kept
		}
	}
	return out
}

// Sorts of numbers that are tested together: there are many of the rules, few of
// reporters, and the parts were chosen.
const (
	ofRules = iota
	ofReporters
	ofParts
)

func (l *learner) sort(i int) int {
	switch {
	case l.lone(i):
		return ofParts
	case l.params[i].path.Blocks[0].Type == "reporter":
		return ofReporters
	}
	return ofRules
}

// doubt is a number outside its interval, with the probability that it is so far
// outside.
type doubt struct {
	param int
	p     float64
	kept  *Kept
}

// byChance are those of the numbers outside their interval that some of so many
// would be by chance: the others are so far outside that one in ten of them at
// most is there by chance (Benjamini and Hochberg 1995).
func byChance(list []doubt, tested int) []doubt {
	slices.SortFunc(list, func(a, b doubt) int { return cmp.Or(cmp.Compare(a.p, b.p), cmp.Compare(a.param, b.param)) })
	sure := 0
	for k, d := range list {
		if d.p*float64(tested) <= (1-Level)*float64(k+1) {
			sure = k + 1
		}
	}
	return list[sure:]
}

// beyond is the probability, on both sides, that cases come out as far from old
// as they did where old is true: of so many fully observed, without the prior.
func (p *param) beyond(old, now, cases float64) float64 {
	hits := within(now*(p.prior.Size()+cases)-p.prior.A, cases)
	tail := distuv.Beta{Alpha: hits, Beta: cases - hits + 1}.CDF // of as many hits or more
	if now < old {
		tail = distuv.Beta{Alpha: hits + 1, Beta: cases - hits}.Survival
	}
	if hits == 0 && now > old || hits == cases && now < old {
		return 1
	}
	return math.Min(1, 2*tail(old))
}

// usable drops cases that inference cannot do, and chooses those whose trees
// are kept. On the way it makes a first step from theta.
func (l *learner) usable(ctx context.Context, items []*item, theta []float64, p *Proposal, most float64) ([]*item, []float64, error) {
	if err := keepTrees(items, most); err != nil {
		return nil, nil, err
	}
	out, counted, _, err := l.read(ctx, items, theta, p)
	if err != nil {
		return nil, nil, err
	}
	total := counted.total(l, 0)
	if err == nil {
		err = l.unseen(ctx, out, theta, total)
	}
	if err != nil {
		return nil, nil, err
	}
	return out, l.update(theta, total, 1, nil), nil
}

// read drops cases that inference cannot do, and counts the others at theta; of those that
// are sampled it tells what every two numbers have in common.
func (l *learner) read(ctx context.Context, items []*item, theta []float64, p *Proposal) ([]*item, *census, *scores, error) {
	l.set(theta)
	var out []*item
	report := Progress{Phase: "reading", Iteration: 1, Total: len(items), LogPosterior: math.NaN()}
	type usable struct {
		census
		bad     []error
		signals [][]signal
	}
	var told *scores
	if l.grouped {
		told = l.newScores(0)
	}
	total := &census{at: theta}
	err := l.inChunks(ctx, len(items), func(from, to int) (any, error) {
		x := &usable{}
		p := l.passing(ctx)
		for _, it := range items[from:to] {
			fam, logL, err := it.families(p)
			if ctx.Err() != nil { // no fault of the case
				return nil, ctx.Err()
			}
			if errors.Is(err, ErrWork) {
				return nil, err
			}
			x.bad = append(x.bad, err)
			if err == nil {
				c := l.tell(&x.census, it)
				l.take(c, it, fam, theta)
				c.logL += logL
				c.cases++
				if told != nil && it.sampled {
					x.signals = append(x.signals, l.signals(it, fam, theta))
				}
			}
		}
		return x, nil
	}, func(a any) {
		x := a.(*usable)
		total.add(l, &x.census)
		for _, list := range x.signals {
			told.add(list)
			told.summed++
		}
		for _, err := range x.bad {
			it := items[report.Done]
			report.Done++
			if err == nil {
				out = append(out, it)
				continue
			}
			p.Skipped = append(p.Skipped, trouble(it.id, err))
		}
		l.progress(report)
	})
	return out, total, told, err
}

// keep tells why a number is not to be moved, nil if it is.
func (l *learner) keep(i int, inf *information, now, old float64, theta []float64) *Kept {
	x := &l.params[i]
	unit := theta[i] * (1 - theta[i])
	k := &Kept{Path: x.path, Number: x.number, Cases: inf.net[i] / unit, Trials: inf.trials[i]}
	prior := l.priorInformation(i, theta)
	enough := func(info float64) bool { return info >= l.opt.MinGain*(info+prior) }
	switch {
	case x.chosen:
		k.Why = OneSided
	case inf.trials[i] < 0.5:
		k.Why = NoCase
	case !enough(inf.complete[i]):
		k.Why, k.Prior = TooFew, x.prior.Size()
	case !enough(inf.own[i]) && (inf.hits[i] < 1 || inf.rival[i] < 0):
		k.Why = Unseen // what was found and noted was seen: there something else is behind it
	case !enough(inf.alone[i]):
		rival := l.params[inf.rival[i]].path
		k.Why, k.Rival = NotIdentifiable, &rival
	case math.Abs(logit(now)-logit(old)) < margin:
		k.Why = Confirmed
	case l.opt.HeardOnly && inf.heard[i] <= little*inf.trials[i] && inf.hits[i] <= little*x.prior.A && x.allows(now) && x.allows(old):
		k.Why, k.Silent = Confirmed, true
	default:
		return nil
	}
	return k
}

// little is the share of trials in which more than silence was heard, and of
// the successes that the prior stands for, up to which silence alone speaks.
const little = 0.1

// allows says whether a value lies in the prior's own 90% interval.
func (p *param) allows(v float64) bool {
	low, high := interval(p.prior.Mean(), p.prior.Size(), (1-Level)/2, (1+Level)/2)
	return low <= v && v <= high
}

func (l *learner) change(i int, inf *information, v float64) Change {
	x := &l.params[i]
	cases := inf.net[i] / (v * (1 - v))
	c := Change{Path: x.path, Old: x.number, Cases: cases, Prior: x.origin, Text: text(v / x.scale)}
	c.New, _ = strconv.ParseFloat(c.Text, 64)
	c.Low, c.High = interval(v, x.prior.Size()+cases, (1-Level)/2, (1+Level)/2)
	c.Low, c.High = c.Low/x.scale, c.High/x.scale
	return c
}

// text writes a probability with three significant digits of itself or of
// what it lacks to one, whichever is smaller; never 0 or 1.
func text(p float64) string {
	small := math.Min(p, 1-p)
	digits := 2 - int(math.Floor(math.Log10(small)))
	s := strconv.FormatFloat(p, 'f', min(max(digits, 3), 12), 64)
	for len(s) > 3 && s[len(s)-1] == '0' {
		s = s[:len(s)-1]
	}
	return s
}
