package advise

import (
	"math"
	"slices"

	"slipcase/engine"
	"slipcase/engine/teardown"
	"slipcase/engine/teardown/order"
)

// costs is J of one case: what is left to do, and what root causes cost.
type costs struct {
	jobs  []order.Job
	steps []*engine.Step // along jobs; nil for a look outside the steps
	job   []int          // part -> job, -1 when it is in view already
	mend  []float64      // part -> minutes to repair it where it is
	risk  float64        // minutes lost by leaving a root cause that is there
	right float64        // minutes to put one right
	share float64        // of V: one over how many culprits are to be expected, where more than one
	plan  []int          // today's best order of the jobs
	again *order.Again   // the same jobs with other weights
	idle  []bool         // jobs that no part waits for
	wt    []float64      // weights for it
	done  []float64
	ideal int
}

// newCosts lists the steps left after those done.
func (s *scope) newCosts(c *engine.CaseFile, v Values) (*costs, error) {
	k := &costs{right: v.PutRight}
	u := s.a.Model.Unit
	left, err := teardown.Remaining(s.a.Model, c)
	if err != nil {
		return nil, err
	}
	k.jobs = left.Jobs
	at := map[string]int{}
	for j, step := range left.Steps {
		at[step.Name] = j
		k.steps = append(k.steps, step)
	}
	for _, p := range s.parts {
		job := -1
		if p.step >= 0 {
			if j, ok := at[u.Steps[p.step].Name]; ok {
				job = j
			}
		} else {
			job = len(k.jobs)
			k.jobs = append(k.jobs, order.Job{Name: "look at " + p.component.Name, Minutes: v.Look})
			k.steps = append(k.steps, nil)
		}
		k.job = append(k.job, job)
		mend := 0.0
		if p.step >= 0 {
			mend = u.Steps[p.step].Repair.Value
		}
		k.mend = append(k.mend, mend)
	}
	again := v.ComeBack
	if again == 0 {
		again = comeBack(u)
	}
	k.risk = v.Risk * again
	k.ideal = 1 << 12
	k.wt = make([]float64, len(k.jobs))
	k.idle = make([]bool, len(k.jobs))
	for j := range k.idle {
		k.idle[j] = !slices.Contains(k.job, j)
	}
	return k, nil
}

// comeBack is the minutes of taking the unit out and apart, and of putting it
// together and back.
func comeBack(u *engine.Unit) float64 {
	var t float64
	for i := range u.Steps {
		if s := &u.Steps[i]; s.Stage != engine.StageInVehicle || s.Pulls {
			t += s.Minutes.Value + s.Refit.Value
		}
	}
	return t
}

// belief is w and q of one posterior.
type belief struct {
	parts  []float64 // P(component failed), along scope.parts
	causes []float64 // P(root cause), along Adviser.causes
}

// bits is Σ H of the components.
func (b belief) bits() float64 {
	var h float64
	for _, p := range b.parts {
		h += entropy(p)
	}
	return h
}

// value is J with its proven lower end: J of the best order found and of the
// bound (equal but for orders too large to prove).
type value struct {
	j, low float64 // least minutes: found, proven
	causes float64 // the share L of j
	bits   float64 // Σ H of the components
}

// weigh fills in the weights of a belief.
func (k *costs) weigh(b belief) {
	clear(k.wt)
	for i, j := range k.job {
		if j >= 0 {
			k.wt[j] += b.parts[i]
		}
	}
}

// order works out the best order for a belief.
func (k *costs) order(b belief) (order.Result, error) {
	k.weigh(b)
	for j := range k.jobs {
		k.jobs[j].Weight = k.wt[j]
	}
	return order.Optimal(k.jobs, order.Options{MaxIdeals: k.ideal})
}

// least is the cost of the best order for a belief, found and proven: from
// today's plan where that leads to it, else by the full search.
func (k *costs) least(b belief) (found, low float64) {
	k.weigh(b)
	if c, ok := k.again.Least(k.wt, k.plan); ok {
		return c, c
	}
	return k.again.Full(k.wt, k.ideal)
}

// fork is a copy for another goroutine.
func (k *costs) fork() (*costs, error) {
	c := *k
	c.jobs = append([]order.Job(nil), k.jobs...)
	c.wt = make([]float64, len(k.wt))
	var err error
	c.again, err = order.NewAgain(c.jobs, c.idle)
	return &c, err
}

// without is the same where some steps take no minutes any more.
func (k *costs) without(steps []string) (*costs, error) {
	c, err := k.fork()
	if err != nil {
		return nil, err
	}
	for j, s := range c.steps {
		if s != nil && slices.Contains(steps, s.Name) {
			c.jobs[j].Minutes = 0
		}
	}
	c.finished()
	c.again, err = order.NewAgain(c.jobs, c.idle)
	return c, err
}

// finished works out when each job of today's plan is done.
func (k *costs) finished() {
	k.done = make([]float64, len(k.jobs))
	var t float64
	for _, j := range k.plan {
		t += k.jobs[j].Minutes
		k.done[j] = t
	}
}

// start fixes today's plan, against which later orders are measured, and how many
// culprits are to be expected.
func (k *costs) start(b belief) error {
	culprits := 0.0
	for i, j := range k.job {
		if j >= 0 {
			culprits += b.parts[i]
		}
	}
	k.share = 1 / math.Max(1, culprits)
	r, err := k.order(b)
	if err != nil {
		return err
	}
	k.plan = r.Order
	if k.again, err = order.NewAgain(k.jobs, k.idle); err != nil {
		return err
	}
	k.finished()
	return nil
}

func (k *costs) value(b belief) value {
	found, low := k.least(b)
	v := value{j: found, low: low}
	var today, mend float64
	for i, j := range k.job {
		if j >= 0 {
			today += b.parts[i] * k.done[j]
		}
		mend += b.parts[i] * k.mend[i]
	}
	v.bits = b.bits()
	// Where the order is not proven best, today's plan may still be better.
	if today < v.j {
		v.j = today
	}
	if v.low > v.j {
		v.low = v.j
	}
	v.j = (v.j + mend) * k.share
	v.low = (v.low + mend) * k.share
	for _, q := range b.causes {
		l := math.Min(q*k.risk, k.right)
		v.causes += l
		v.j += l
		v.low += l
	}
	return v
}

// entropy of a two-state variable, in bits.
func entropy(p float64) float64 {
	if p <= 0 || p >= 1 {
		return 0
	}
	return -(p*math.Log(p) + (1-p)*math.Log1p(-p)) / math.Ln2
}
