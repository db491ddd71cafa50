package advise

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"slipcase/engine"
	"slipcase/engine/internal/tiny"
	"slipcase/engine/internal/worlds"
	"slipcase/engine/model"
	"slipcase/internal/size"
)

// oracle prices a check by enumerating every state of every node, every
// pattern of reports and every order of the steps.
type oracle struct {
	m      *model.Model
	c      *engine.CaseFile
	counts map[int]bool // modes that count as culprits
	risk   float64
	right  float64
	share  float64 // of the minutes to all culprits that are counted
}

// expect sets the share by how many culprits the case has.
func (o *oracle) expect() {
	p, parts, _ := o.joint(o.c)
	sum := 0.0
	for _, s := range o.m.Unit.Steps {
		for _, x := range s.Exposes {
			sum += parts[x] / p
		}
	}
	o.share = 1 / math.Max(1, sum)
}

func (o *oracle) joint(c *engine.CaseFile) (total float64, parts map[string]float64, causes map[int]float64) {
	// What is reported counts as it does in any case; what a check would yet
	// show is asked of the finding itself.
	told, _ := o.m.Evidence(o.c)
	all, _ := o.m.Evidence(c)
	evidence := append(o.m.Likelihoods(told), model.Plain(all[len(told):])...)
	parts, causes = map[string]float64{}, map[int]float64{}
	worlds.Each(o.m.Net, nil, func(on []bool, p float64) {
		p *= worlds.Weight(evidence, on)
		total += p
		for k := range o.m.Unit.Components {
			name := o.m.Unit.Components[k].Name
			for _, mode := range o.m.ModesOf(name) {
				if on[mode] && o.counts[mode] {
					parts[name] += p
					break
				}
			}
		}
		for k, x := range o.m.Nodes {
			if x.Layer == model.CauseLayer && on[k] {
				causes[k] += p
			}
		}
	})
	return total, parts, causes
}

// minutes is J of a case, by trying every order; looked are the steps that need no
// look any more, cured the findings of a trial repair that are present.
func (o *oracle) minutes(c *engine.CaseFile, looked, cured map[string]bool) (p, j float64) {
	p, parts, causes := o.joint(c)
	j = o.least(p, parts, causes, looked)
	if len(cured) == 0 {
		return p, j
	}
	// Where nothing else is behind the complaint, the parts that it mends are done.
	now, alone := o.modes(), 1.0
	left := map[string]float64{}
	for i := range o.m.Unit.Components {
		x := &o.m.Unit.Components[i]
		some, all := 0.0, 0.0
		for _, n := range o.m.ModesOf(x.Name) {
			if !o.counts[n] {
				continue
			}
			all += now[n]
			for _, s := range o.m.Nodes[n].Mode.Shows {
				if cured[s.To] {
					some += now[n]
					break
				}
			}
		}
		if some <= all/2 {
			left[x.Name] = parts[x.Name]
			alone *= 1 - parts[x.Name]/p
		}
	}
	return p, j + alone*(o.least(p, left, causes, looked)-j)
}

// modes is P(mode | the case as it is).
func (o *oracle) modes() map[int]float64 {
	pieces, _ := o.m.Evidence(o.c)
	evidence := o.m.Likelihoods(pieces)
	out, total := map[int]float64{}, 0.0
	worlds.Each(o.m.Net, nil, func(on []bool, p float64) {
		p *= worlds.Weight(evidence, on)
		total += p
		for _, n := range o.m.Modes() {
			if on[n] {
				out[n] += p
			}
		}
	})
	for n := range out {
		out[n] /= total
	}
	return out
}

// least is J of probabilities that are all p times too large.
func (o *oracle) least(p float64, parts map[string]float64, causes map[int]float64, looked map[string]bool) float64 {
	steps := o.m.Unit.Steps
	best := math.Inf(1)
	done := map[string]bool{}
	var try func(t, cost float64)
	try = func(t, cost float64) {
		if len(done) == len(steps) {
			best = math.Min(best, cost)
			return
		}
	next:
		for i := range steps {
			s := &steps[i]
			if done[s.Name] {
				continue
			}
			for _, a := range s.After {
				if !done[a] {
					continue next
				}
			}
			done[s.Name] = true
			at := t
			if !looked[s.Name] {
				at += s.Minutes.Value
				at += s.Refit.Value // in the vehicle all of it: the last step is the pull
			}
			more := 0.0
			for _, x := range s.Exposes {
				more += (at + s.Repair.Value) * parts[x] / p
			}
			try(at, cost+more)
			delete(done, s.Name)
		}
	}
	try(0, 0)
	best *= o.share
	for _, q := range causes {
		best += math.Min(q/p*o.risk, o.right)
	}
	return best
}

// looked are the steps whose one check reports something already, or is about to.
func (o *oracle) looked(now *engine.Check) map[string]bool {
	out := map[string]bool{}
	for _, s := range o.m.Unit.Steps {
		for _, name := range s.SameAs {
			check := o.m.Knowledge.Check(name)
			out[s.Name] = check == now
			for _, r := range o.c.Reports {
				out[s.Name] = out[s.Name] || r.By == check.Reporter && slices.Contains(check.Yields, r.Finding)
			}
		}
	}
	return out
}

// gain enumerates the patterns of reports of a check.
func (o *oracle) gain(check *engine.Check, reports []engine.Report) float64 {
	total, before := o.minutes(o.c, o.looked(nil), nil)
	looked := o.looked(check)
	g := before
	for set := range 1 << len(reports) {
		c := *o.c
		c.Reports = append([]engine.Report(nil), o.c.Reports...)
		cured := map[string]bool{}
		for i, r := range reports {
			r.State = engine.Absent
			if set>>i&1 == 1 {
				r.State = engine.Present
				if check.Repairs {
					cured[r.Finding] = true
				}
			}
			c.Reports = append(c.Reports, r)
		}
		p, j := o.minutes(&c, looked, cured)
		g -= p / total * j
	}
	return g
}

func TestPricesAgainstEnumeration(t *testing.T) {
	cases := 0
	for seed := range uint64(size.Of(4, 12, 12)) {
		r := rand.New(rand.NewPCG(7, seed))
		k, u := tiny.Unit(r)
		// Minutes of refit and repair; a check that is the look of a step, one that
		// is a trial repair.
		for i := range u.Steps {
			u.Steps[i].Refit, u.Steps[i].Repair = tiny.Num(float64(r.IntN(40))), tiny.Num(float64(r.IntN(90)))
		}
		u.Steps[r.IntN(len(u.Steps)-1)].SameAs = []string{"all"}
		u.Steps[3].Pulls = true
		k.Checks[seed%2].Repairs = true
		m, err := model.Build(k, u)
		if err != nil {
			t.Fatal(err)
		}
		c := &engine.CaseFile{}
		switch seed % 3 {
		case 1:
			c.Reports = []engine.Report{{Finding: "f4", State: engine.Present, By: "gauge"}}
		case 2:
			c.Reports = []engine.Report{{Finding: "f1", State: engine.Present, By: "driver"}, {Finding: "f2", State: engine.Absent, By: "gauge"}}
		}
		ad, err := Price(m, c, Options{Exact: 8, Values: Values{ComeBack: 200}})
		if err != nil {
			t.Fatal(err)
		}
		o := &oracle{m: m, c: c, counts: map[int]bool{}, risk: DefaultValues.Risk * 200, right: DefaultValues.PutRight}
		any := false
		for _, rep := range c.Reports {
			if rep.State != engine.Present {
				continue
			}
			n, _ := m.Lookup(rep.Finding)
			for _, l := range m.Net.Nodes[n].Links {
				if m.Nodes[l.Parent].Layer == model.ModeLayer {
					o.counts[l.Parent], any = true, true
				}
			}
		}
		for _, n := range m.Modes() {
			if !any {
				o.counts[n] = true
			}
		}
		o.expect()
		_, before := o.minutes(c, o.looked(nil), nil)
		if d := math.Abs(before - ad.ToRepair - ad.Causes); d > 1e-7 {
			t.Errorf("seed %d: before: %v, enumeration %v", seed, ad.ToRepair+ad.Causes, before)
		}
		for _, p := range ad.Checks {
			var reports []engine.Report
			for _, f := range p.Findings {
				if f.Telling {
					reports = append(reports, engine.Report{Finding: f.Name, By: f.Reporter})
				}
			}
			want := o.gain(p.Check, reports)
			if math.Abs(want-p.Saves) > 1e-6 {
				t.Errorf("seed %d, %s: saves %v, enumeration %v", seed, p.Check.Name, p.Saves, want)
			}
			if p.Saves < 0 || p.Bits < 0 {
				t.Errorf("seed %d, %s: negative value: %v min, %v bits", seed, p.Check.Name, p.Saves, p.Bits)
			}
			if p.Exact != (len(reports) == len(p.Findings)) {
				t.Errorf("seed %d, %s: exact %v with %d of %d findings worked out", seed, p.Check.Name, p.Exact, len(reports), len(p.Findings))
			}
			cases++
		}
		pointless := false
		for _, w := range ad.Withheld {
			pointless = pointless || w.Check.Name == "idle"
		}
		if !pointless {
			t.Errorf("seed %d: a finding without any cause is not worth exactly nothing", seed)
		}
	}
	if cases < size.Of(10, 20, 20) {
		t.Fatalf("only %d prices were compared", cases)
	}
}

// Asking the same of one more finding never lowers what a check saves, and a
// second opinion of a finding known for certain is worth nothing.
func TestMoreFindingsNeverHurt(t *testing.T) {
	for seed := range uint64(8) {
		k, u := tiny.Unit(rand.New(rand.NewPCG(11, seed)))
		for n := 1; n <= 5; n++ {
			c := engine.Check{Name: fmt.Sprintf("first%d", n), Stage: engine.StageRoad, Minutes: tiny.Num(1), Reporter: "gauge"}
			for f := range n {
				c.Yields = append(c.Yields, fmt.Sprintf("f%d", f))
			}
			k.Checks = append(k.Checks, c)
		}
		m, err := model.Build(k, u)
		if err != nil {
			t.Fatal(err)
		}
		ad, err := Price(m, &engine.CaseFile{}, Options{Exact: 8})
		if err != nil {
			t.Fatal(err)
		}
		saves := map[string]float64{}
		for _, p := range ad.Checks {
			if len(p.Findings) != 0 {
				saves[p.Check.Name] = p.Saves
			}
		}
		// Compared only where every finding was worked out.
		last := 0.0
		for n := 1; n <= 5; n++ {
			name := fmt.Sprintf("first%d", n)
			for _, p := range ad.Checks {
				if p.Check.Name == name && p.Exact {
					if p.Saves < last-1e-7 {
						t.Errorf("seed %d: %s saves %v, one finding fewer %v", seed, name, p.Saves, last)
					}
					last = p.Saves
				}
			}
		}
	}
}

// The best few found by the race are those of pricing everything.
func TestRaceAgreesWithAll(t *testing.T) {
	for seed := range uint64(8) {
		k, u := tiny.Unit(rand.New(rand.NewPCG(13, seed)))
		m, err := model.Build(k, u)
		if err != nil {
			t.Fatal(err)
		}
		c := &engine.CaseFile{Reports: []engine.Report{{Finding: "f1", State: engine.Present, By: "driver"}}}
		all, err := Price(m, c, Options{})
		if err != nil {
			t.Fatal(err)
		}
		few, err := Price(m, c, Options{Best: 1, Workers: 1})
		if err != nil {
			t.Fatal(err)
		}
		if len(few.Checks) != 1 || few.Proven != 1 || few.Checks[0].Check.Name != all.Checks[0].Check.Name || few.Checks[0].Net != all.Checks[0].Net {
			t.Errorf("seed %d: race says %v, all say %v", seed, few.Checks, all.Checks[0])
		}
	}
}
