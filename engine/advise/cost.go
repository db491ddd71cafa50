package advise

import (
	"math"

	"slipcase/engine"
	"slipcase/engine/teardown"
	"slipcase/engine/teardown/order"
)

// costs is J of one case: what is left to do, and what root causes cost.
type costs struct {
	jobs  []order.Job
	index []int // job -> step, -1 for a look outside the steps
	job   []int // part -> job, -1 when it is in view already
	reach []float64
	risk  float64      // minutes lost by leaving a root cause that is there
	right float64      // minutes to put one right
	plan  []int        // today's best order of the jobs
	again *order.Again // the same jobs with other weights
	wt    []float64    // weights for it
	done  []float64
	ideal int
}

// newCosts lists the steps left after those done.
func (s *scope) newCosts(c *engine.CaseFile, v Values) *costs {
	k := &costs{right: v.PutRight}
	u := s.a.Model.Unit
	gone := map[string]bool{}
	for _, d := range c.Done {
		gone[d] = true
	}
	at := map[string]int{}
	var left []*engine.Step
	for i := range u.Steps {
		if !gone[u.Steps[i].Name] {
			at[u.Steps[i].Name] = len(left)
			k.index = append(k.index, i)
			left = append(left, &u.Steps[i])
		}
	}
	k.jobs = teardown.Jobs(left, func(string) float64 { return 0 }) // weights are set for each answer
	for _, p := range s.parts {
		job := -1
		if p.step >= 0 {
			if j, ok := at[u.Steps[p.step].Name]; ok {
				job = j
			}
		} else {
			job = len(k.jobs)
			k.jobs = append(k.jobs, order.Job{Name: "look at " + p.component.Name, Minutes: v.Look})
			k.index = append(k.index, -1)
		}
		k.job = append(k.job, job)
	}
	reach := make([]float64, len(k.jobs))
	for j := range reach {
		reach[j] = -1
	}
	for i, p := range s.parts {
		if k.job[i] < 0 {
			k.reach = append(k.reach, 0)
			continue
		}
		j := k.job[i]
		if reach[j] < 0 {
			reach[j] = v.Look
			if p.step >= 0 {
				reach[j] = s.a.Model.MinutesTo(u.Steps[p.step].Name, c.Done)
			}
		}
		k.reach = append(k.reach, reach[j])
	}
	again := v.ComeBack
	if again == 0 {
		again = comeBack(u)
	}
	k.risk = v.Risk * again
	k.ideal = 1 << 12
	k.wt = make([]float64, len(k.jobs))
	return k
}

// comeBack is the minutes of taking the unit out and apart, and of putting it
// together and back: twice the steps on the bench.
func comeBack(u *engine.Unit) float64 {
	var t float64
	for i := range u.Steps {
		if s := &u.Steps[i]; s.Stage != engine.StageInVehicle || s.Pulls {
			t += s.Minutes.Value
		}
	}
	return 2 * t
}

// belief is w and q of one posterior.
type belief struct {
	parts  []float64 // P(component failed), along scope.parts
	causes []float64 // P(root cause), along Adviser.causes
}

// value is J with its proven lower end: J of the best order found and of the
// bound (equal but for orders too large to prove), and what would be left with
// perfect knowledge.
type value struct {
	j, low  float64 // least minutes: found, proven
	perfect float64 // minutes with the culprit and the causes known
	causes  float64 // the share L of j
	bits    float64 // Σ H of the components
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
func (k *costs) least(b belief) (found, low float64, err error) {
	k.weigh(b)
	if c, ok := k.again.Least(k.wt, k.plan); ok {
		return c, c, nil
	}
	r, err := k.order(b)
	return r.Cost, r.Bound, err
}

// fork is a copy for another goroutine.
func (k *costs) fork() (*costs, error) {
	c := *k
	c.jobs = append([]order.Job(nil), k.jobs...)
	c.wt = make([]float64, len(k.wt))
	var err error
	c.again, err = order.NewAgain(c.jobs)
	return &c, err
}

// start fixes today's plan, against which later orders are measured.
func (k *costs) start(b belief) error {
	r, err := k.order(b)
	if err != nil {
		return err
	}
	k.plan = r.Order
	if k.again, err = order.NewAgain(k.jobs); err != nil {
		return err
	}
	k.done = make([]float64, len(k.jobs))
	var t float64
	for _, j := range r.Order {
		t += k.jobs[j].Minutes
		k.done[j] = t
	}
	return nil
}

func (k *costs) value(b belief) (value, error) {
	found, low, err := k.least(b)
	if err != nil {
		return value{}, err
	}
	v := value{j: found, low: low}
	var today float64
	for i, j := range k.job {
		if j >= 0 {
			today += b.parts[i] * k.done[j]
		}
		v.perfect += b.parts[i] * k.reach[i]
		v.bits += entropy(b.parts[i])
	}
	// Where the order is not proven best, today's plan may still be better.
	if today < v.j {
		v.j = today
	}
	if v.low > v.j {
		v.low = v.j
	}
	for _, q := range b.causes {
		l := math.Min(q*k.risk, k.right)
		v.causes += l
		v.j += l
		v.low += l
		v.perfect += q * math.Min(k.risk, k.right)
	}
	if v.perfect > v.low {
		v.perfect = v.low
	}
	return v, nil
}

// entropy of a two-state variable, in bits.
func entropy(p float64) float64 {
	if p <= 0 || p >= 1 {
		return 0
	}
	return -(p*math.Log(p) + (1-p)*math.Log1p(-p)) / math.Ln2
}
