package teardown

import (
	"slices"

	"slipcase/engine"
	"slipcase/engine/model"
	"slipcase/engine/teardown/order"
	"slipcase/engine/tie"
)

// Decision says whether to take the unit out now, and what to look at in the
// vehicle before.
//
// # The looks
//
// Candidates are the first k looks of the vehicle, in the order that shows a
// culprit soonest; after them the pull, after it everything else at the unit,
// and what is left at the vehicle when the unit is back. The k is taken whose
// best order makes Σ weight × minutes until in view least: looks and pull stand
// in the same sum.
//
// # Whether pulling is justified
//
// Two ways to the end of the job are then compared in minutes: those looks
// first, and pulling at once. Along a way with the looks v₁ … v_k
//
//   - a look that shows a culprit is followed by its repair where it is; that
//     ends the job, unless something failed that only the bench shows;
//   - the unit comes out when no look found anything, or when something failed
//     that only the bench shows: the looks were a wasted visit then;
//   - on the bench the search goes on until the first such part is in view,
//     or, when there is none, the first culprit of any kind;
//   - every step that is reached costs its minutes, and its refit.
//
// With F(X) = P(at least one culprit in X failed | reports), A all that steps
// show, B what only the bench shows, U what the vehicle shows but belongs to
// the unit (so that the bench shows it too), O what belongs to the vehicle,
// V_j the first j looks, and rest(X) = F(A) − F(X), the probability that a
// culprit is somewhere but not in X:
//
//	P(look j is reached)        = rest(V_{j−1})
//	P(the unit comes out)       = F(B) + rest(V_k ∪ B)
//	P(bench step s is reached)  = F(B) − F(B before s) + rest(V_k ∪ B ∪ U before s)
//	P(late look o is reached)   = rest(V_k ∪ B ∪ U ∪ O before o)
//
// A step's repair is charged with the fall of its probability to the next. The
// sum over steps, divided by F(A), is the expected minutes given that some
// step shows what failed, exact for any number of faults at once.
//
// Where pulling at once costs no more, it is justified: then what the bench
// shows as well waits for the bench, and only looks at the vehicle itself are
// candidates for what comes before the pull (a look at the fluid, say).
//
// # Whether there is anything to find
//
// Where P(at least one culprit | reports) is under leastSome the reports are more
// likely wrong, or about something that no rule knows: the unit stays in and the
// complaint is verified first.
//
// # Whether a find is enough
//
// With the unit still in the vehicle and something found failed, the job may
// end there: repair it where it is and drive. Stopping costs, with the
// probability that another culprit is there, what was taken off once more
// (minutes and refit of the steps done); going on costs, with the probability
// that none is, a pull and a refit for nothing. The cheaper is advised. Worn
// parts that have nothing to do with the reports are in many units; so what
// counts is how far the reports raise the probability of another culprit over
// what it is with the finds alone.
type Decision struct {
	Pulled    bool           // it is out already, or the unit has no such step
	Justified bool           // pulling now is no longer to the end of the repair than the looks of Instead first
	PullNow   float64        // minutes to the end of the repair when the unit comes out at once
	InVehicle float64        // minutes when the looks of Instead come first
	Looks     []*engine.Step // what the plan does in the vehicle before the pull
	LookTime  float64        // minutes of Looks, all of them done
	Instead   []*engine.Step // the looks that pulling now was weighed against
	OnlyBench float64        // P(something failed that only the bench shows | reports)
	InReach   float64        // P(something failed that Instead shows, and nothing that only the bench shows)
	Mended    *engine.Check  // the trial repair after which the complaint is gone; nil for none
	Unlikely  bool           // it is not likely that anything is there to find: the complaint is to be verified first
	Some      float64        // P(at least one culprit is there | reports)
	Enough    bool           // what was found is to be repaired in the vehicle and tested before anything else
	Another   float64        // how likely the reports need another culprit, one that was not looked at
	Repair    float64        // with Enough: minutes to repair what was found and to refit what was taken off
	Found     []Confirmed    // what was found failed so far
	Pull      *engine.Step   // nil when the unit has no such step
}

// way is what the decision is worked out from.
type way struct {
	k      *culprits
	pull   *engine.Step
	looks  []*engine.Step // in the vehicle, in order
	bench  []*engine.Step // on the bench, in order, the looks that belong to the unit among them
	onUnit map[string]bool
}

// decide weighs pulling against looking first; the result is the best order of
// the steps left that keeps to the decision.
func decide(m *model.Model, c *engine.CaseFile, k *culprits, weight map[string]float64, jobs []order.Job, left []*engine.Step) (Decision, order.Result, error) {
	var d Decision
	for i := range m.Unit.Steps {
		if s := &m.Unit.Steps[i]; s.Pulls {
			d.Pull = s
		}
	}
	if d.Pull == nil || slices.Contains(c.Done, d.Pull.Name) {
		d.Pulled = true
		r, err := order.Optimal(keep(m, jobs, left, d.Pull, nil), order.Options{})
		return d, r, err
	}
	w, err := newWay(m, k, d.Pull, weight, left)
	if err != nil {
		return d, order.Result{}, err
	}
	looks, best, err := w.soonest(m, jobs, left, w.looks)
	if err != nil {
		return d, best, err
	}
	d.Looks, d.Instead = looks, looks
	if len(looks) == 0 { // weigh it against the best single look
		d.Instead = w.looks[:min(1, len(w.looks))]
	}
	minutes, err := w.minutes(nil, d.Instead)
	if err != nil {
		return d, best, err
	}
	d.PullNow, d.InVehicle = minutes[0], minutes[1]
	if d.Justified = len(looks) == 0 || d.PullNow <= d.InVehicle; d.Justified && len(looks) > 0 {
		if d.Looks, best, err = w.soonest(m, jobs, left, w.vehicle()); err != nil {
			return d, best, err
		}
	}
	for _, s := range d.Looks {
		d.LookTime += s.Minutes.Value
	}
	only := w.only()
	d.OnlyBench = k.any(only)
	reach := join(k.of(exposed(d.Instead)), only)
	if err := k.work([][]int{reach}); err != nil {
		return d, best, err
	}
	d.InReach = k.any(reach) - d.OnlyBench
	if d.Another, err = k.another(join(k.of(exposed(w.looks)), only)); err != nil {
		return d, best, err
	}
	if d.Some, err = k.some(); err != nil {
		return d, best, err
	}
	d.Mended = mended(m, c)
	if d.enough(m, c); d.Some < leastSome && len(d.Found) == 0 {
		d.Unlikely, d.Justified = true, false
	}
	return d, best, nil
}

// leastSome is the probability of any culprit under which nothing is taken apart for
// what was reported. Basis: invented.
const leastSome = 0.25

// mended is the trial repair that a case says has cured the complaint, the last
// one in the order of the rules; nil for none.
func mended(m *model.Model, c *engine.CaseFile) *engine.Check {
	gone := map[string]bool{}
	for _, r := range c.Reports {
		gone[r.Finding] = r.State == engine.Present
	}
	var out *engine.Check
	for i := range m.Knowledge.Checks {
		if x := &m.Knowledge.Checks[i]; x.Repairs && slices.ContainsFunc(x.Yields, func(f string) bool { return gone[f] }) {
			out = x
		}
	}
	return out
}

// vehicle lists the looks at the vehicle itself that need no step at the unit.
func (w *way) vehicle() []*engine.Step {
	var out []*engine.Step
	unit := map[string]bool{}
	for _, s := range w.looks {
		open := w.onUnit[s.Name]
		for _, a := range s.After {
			open = open || unit[a]
		}
		if unit[s.Name] = open; !open {
			out = append(out, s)
		}
	}
	return out
}

// soonest finds how many of the looks come before the pull so that culprits
// are in view soonest, and the best order of all steps then.
func (w *way) soonest(m *model.Model, jobs []order.Job, left, looks []*engine.Step) ([]*engine.Step, order.Result, error) {
	var best order.Result
	first := 0
	for n := 0; n <= len(looks); n++ {
		r, err := order.Optimal(keep(m, jobs, left, w.pull, looks[:n]), order.Options{})
		if err != nil {
			return nil, best, err
		}
		if n == 0 || r.Cost < best.Cost-tie.Grain {
			best, first = r, n
		}
	}
	return looks[:first], best, nil
}

// newWay sorts the steps left into looks in the vehicle and steps on the
// bench, each in its best order. What pulling needs is done either way and is
// in neither.
func newWay(m *model.Model, k *culprits, pull *engine.Step, weight map[string]float64, left []*engine.Step) (*way, error) {
	w := &way{k: k, pull: pull, onUnit: map[string]bool{}}
	needed := required(m.Unit, pull.Name)
	wait := waiting(m, left)
	var looks, bench []*engine.Step
	for _, s := range left {
		if s.Pulls || needed[s.Name] {
			continue
		}
		w.onUnit[s.Name] = !wait[s]
		if s.Stage == engine.StageInVehicle {
			looks = append(looks, s)
		}
		if s.Stage != engine.StageInVehicle || w.onUnit[s.Name] {
			bench = append(bench, s)
		}
	}
	looks, err := arrange(looks, weight)
	if err != nil {
		return nil, err
	}
	if bench, err = arrange(bench, weight); err != nil {
		return nil, err
	}
	w.looks, w.bench = trim(looks, weight), trim(bench, weight)
	return w, nil
}

// only lists the culprits that nothing but the bench shows.
func (w *way) only() []int {
	var out []int
	for _, s := range w.bench {
		if s.Stage != engine.StageInVehicle {
			out = append(out, w.k.of(s.Exposes)...)
		}
	}
	return out
}

// minutes is the expected minutes to the end of the job with each list of
// looks before the pull.
func (w *way) minutes(looks ...[]*engine.Step) ([]float64, error) {
	out := make([]float64, len(looks))
	// Twice over: first to gather what has to be known, then to add up.
	for _, sum := range []bool{false, true} {
		var lists [][]int
		f := func(nodes []int) float64 {
			if sum {
				return w.k.any(nodes)
			}
			lists = append(lists, append([]int(nil), nodes...))
			return 0
		}
		for i := range looks {
			out[i] = w.cost(looks[i], f)
		}
		if !sum {
			if err := w.k.work(lists); err != nil {
				return nil, err
			}
		}
	}
	return out, nil
}

// cost is the expected minutes with the looks first; f is F of the doc comment.
func (w *way) cost(looks []*engine.Step, f func([]int) float64) float64 {
	only := w.only()
	all := join(w.k.of(exposed(w.looks)), only)
	whole := f(all)
	rest := func(nodes []int) float64 { return whole - f(nodes) }
	var total float64
	charge := func(s *engine.Step, reached, next float64) {
		total += reached*(s.Minutes.Value+s.Refit.Value) + (reached-next)*s.Repair.Value
	}
	var seen []int
	first := map[string]bool{}
	for _, s := range looks {
		first[s.Name] = true
		before := rest(seen)
		seen = join(seen, w.k.of(s.Exposes))
		charge(s, before, rest(seen))
	}
	onlyAll := f(only)
	seen = join(seen, only)
	total += (onlyAll + rest(seen)) * (w.pull.Minutes.Value + w.pull.Refit.Value)
	var benchSeen []int
	for _, s := range w.bench {
		if first[s.Name] {
			continue
		}
		reached := onlyAll - f(benchSeen) + rest(seen)
		if s.Stage == engine.StageInVehicle {
			seen = join(seen, w.k.of(s.Exposes))
		} else {
			benchSeen = join(benchSeen, w.k.of(s.Exposes))
		}
		charge(s, reached, onlyAll-f(benchSeen)+rest(seen))
	}
	for _, s := range w.looks {
		if !w.onUnit[s.Name] && !first[s.Name] {
			reached := rest(seen)
			seen = join(seen, w.k.of(s.Exposes))
			charge(s, reached, rest(seen))
		}
	}
	if whole > 0 {
		total /= whole
	}
	return total
}

func join(a, b []int) []int { return append(append([]int(nil), a...), b...) }

// belongsToUnit tells a look at the unit from one at the vehicle around it.
func belongsToUnit(m *model.Model, s *engine.Step) bool {
	for _, name := range s.Exposes {
		if c := find(m.Unit, name); c != nil && !m.Outside(c) {
			return true
		}
	}
	return len(s.Exposes) == 0
}

// arrange puts steps in the order that shows a culprit soonest, as far as they
// need each other.
func arrange(steps []*engine.Step, weight map[string]float64) ([]*engine.Step, error) {
	best, err := order.Optimal(jobsOf(steps, func(c string) float64 { return weight[c] }), order.Options{})
	if err != nil {
		return nil, err
	}
	out := make([]*engine.Step, len(steps))
	for i, j := range best.Order {
		out[i] = steps[j]
	}
	return out, nil
}

// trim leaves out what shows no culprit at the end.
func trim(steps []*engine.Step, weight map[string]float64) []*engine.Step {
	for n := len(steps); n > 0; n-- {
		for _, e := range steps[n-1].Exposes {
			if weight[e] > 0 {
				return steps[:n]
			}
		}
	}
	return nil
}

// exposed joins what steps bring into view.
func exposed(steps []*engine.Step) []string {
	var out []string
	for _, s := range steps {
		out = append(out, s.Exposes...)
	}
	return out
}

// enough decides whether to repair what was found and test.
func (d *Decision) enough(m *model.Model, c *engine.CaseFile) {
	var repair, refit, again float64
	repaired := map[string]bool{}
	done := append([]string(nil), c.Done...)
	d.Found = Found(m, c)
	for _, f := range d.Found {
		if s := showing(m.Unit, f.Component.Name); s != nil && !repaired[s.Name] {
			repaired[s.Name] = true
			repair += s.Repair.Value
			if !slices.Contains(done, s.Name) {
				done = append(done, s.Name)
			}
		}
	}
	for _, name := range done {
		if s := m.Step(name); s != nil {
			refit += s.Refit.Value
			again += s.Minutes.Value + s.Refit.Value
		}
	}
	vain := d.Pull.Minutes.Value + d.Pull.Refit.Value
	if len(d.Found) > 0 && d.Another*again <= (1-d.Another)*vain {
		d.Enough, d.Justified, d.Repair = true, false, repair+refit
	}
}

// Implied are the steps that must have been done, besides those that a case says
// were done, for what was found failed to be in the hand: that which shows it and
// all before it. In the unit's order.
func Implied(u *engine.Unit, c *engine.CaseFile) []string {
	must := map[string]bool{}
	for _, seen := range c.Seen {
		if s := showing(u, seen.Component); s != nil && !seen.Cleared {
			must[s.Name] = true
			for name := range required(u, s.Name) {
				must[name] = true
			}
		}
	}
	var out []string
	for _, s := range u.Steps {
		if must[s.Name] && !slices.Contains(c.Done, s.Name) {
			out = append(out, s.Name)
		}
	}
	return out
}

// required lists the steps that must come before one.
func required(u *engine.Unit, step string) map[string]bool {
	out := map[string]bool{}
	var visit func(string)
	visit = func(name string) {
		for _, s := range u.Steps {
			if s.Name == name {
				for _, a := range s.After {
					if !out[a] {
						out[a] = true
						visit(a)
					}
				}
			}
		}
	}
	visit(step)
	return out
}
