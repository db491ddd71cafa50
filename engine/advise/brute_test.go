package advise

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"slipcase/engine"
	"slipcase/engine/model"
)

func num(x float64) engine.Number { return engine.Number{Value: x, Text: fmt.Sprint(x)} }

// tiny makes a random unit of few parts: numbers invented. Its train is one
// gearset behind one clutch; all signs are direct, so that the network has some
// fifteen nodes.
func tiny(r *rand.Rand) (*engine.Knowledge, *engine.Unit) {
	u := &engine.Unit{
		ID:    "tiny",
		Train: engine.Train{Input: "turbine", Output: "carrier", Gearsets: []engine.Gearset{{Name: "set", Kind: engine.Single, Sun: "sun", Carrier: "carrier", Ring: "case", SunTeeth: 30, RingTeeth: 60}}},
		Elements: []engine.Element{
			{Name: "forward", Kind: engine.Clutch, A: "turbine", B: "sun"},
		},
		Rows: []engine.Row{{Range: "D", Gear: "1", Apply: []string{"forward"}, ConverterFactor: num(1), PressureFactor: num(1)}},
	}
	k := &engine.Knowledge{
		Units:     []*engine.Unit{u},
		Stresses:  []engine.Stress{{Name: "heat"}},
		Causes:    []engine.Cause{{Name: "cooler", Frequency: num(0.05 + 0.3*r.Float64()), Stresses: []engine.Link{{To: "heat", Strength: num(0.9)}}}},
		Reporters: []engine.Reporter{{Name: "driver", Hit: num(0.85), FalseAlarm: num(0.06)}, {Name: "gauge", Hit: num(0.97), FalseAlarm: num(0.02)}},
	}
	const findings = 5
	for f := range findings {
		k.Findings = append(k.Findings, engine.Finding{Name: fmt.Sprintf("f%d", f), Stage: engine.StageRoad, Reporter: "driver", Leak: num(0.01 + 0.1*r.Float64())})
	}
	k.Findings = append(k.Findings, engine.Finding{Name: "weather", Stage: engine.StageRoad, Reporter: "driver", Leak: num(0.4)})
	for c := range 4 {
		kind := fmt.Sprintf("kind%d", c)
		k.Kinds = append(k.Kinds, engine.Kind{Name: kind})
		u.Components = append(u.Components, engine.Component{Name: fmt.Sprintf("part%d", c), Kind: kind, Serves: []engine.Target{{Kind: engine.OnUnit}}})
		for j := range 1 + r.IntN(2) {
			m := engine.Mode{Name: fmt.Sprintf("mode%d_%d", c, j), Of: []string{kind}, Frequency: num(0.02 + 0.3*r.Float64())}
			for f := range findings {
				if r.IntN(2) == 0 {
					m.Shows = append(m.Shows, engine.Link{To: fmt.Sprintf("f%d", f), Strength: num(0.2 + 0.75*r.Float64())})
				}
			}
			if r.IntN(2) == 0 {
				m.Because = []engine.Because{{Of: "heat", Strength: num(0.3)}}
			}
			k.Modes = append(k.Modes, m)
		}
		s := engine.Step{Name: fmt.Sprintf("step%d", c), Stage: engine.StageInVehicle, Minutes: num(float64(5 + r.IntN(60))), Exposes: []string{u.Components[c].Name}}
		if c > 0 && r.IntN(2) == 0 {
			s.After = append(s.After, fmt.Sprintf("step%d", r.IntN(c)))
		}
		if c > 2 && r.IntN(2) == 0 {
			s.After = []string{"step0", "step1"}
		}
		u.Steps = append(u.Steps, s)
	}
	k.Checks = []engine.Check{
		{Name: "one", Stage: engine.StageInterview, Minutes: num(1), Reporter: "driver", Yields: []string{"f0"}},
		{Name: "three", Stage: engine.StageGauges, Minutes: num(10), Reporter: "gauge", Yields: []string{"f1", "f2", "f3"}},
		{Name: "all", Stage: engine.StageRoad, Minutes: num(15), Reporter: "driver", Yields: []string{"f0", "f1", "f2", "f3", "f4"}},
		{Name: "idle", Stage: engine.StageInterview, Minutes: num(1), Reporter: "driver", Yields: []string{"weather"}},
	}
	return k, u
}

// oracle prices a check by enumerating every state of every node, every
// pattern of reports and every order of the steps.
type oracle struct {
	m      *model.Model
	c      *engine.CaseFile
	counts map[int]bool // modes that count as culprits
	risk   float64
	right  float64
}

func (o *oracle) joint(c *engine.CaseFile) (total float64, parts map[string]float64, causes map[int]float64) {
	pieces, _ := o.m.Evidence(c)
	parts, causes = map[string]float64{}, map[int]float64{}
	n := len(o.m.Net.Nodes)
	on := make([]bool, n)
	var walk func(i int, p float64)
	walk = func(i int, p float64) {
		if p == 0 {
			return
		}
		if i == n {
			for _, e := range pieces {
				if on[e.Node] {
					p *= e.On
				} else {
					p *= e.Off
				}
			}
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
			return
		}
		off := 1 - o.m.Net.Nodes[i].Leak
		for _, l := range o.m.Net.Nodes[i].Links {
			if on[l.Parent] {
				off *= 1 - l.Strength
			}
		}
		on[i] = false
		walk(i+1, p*off)
		on[i] = true
		walk(i+1, p*(1-off))
		on[i] = false
	}
	walk(0, 1)
	return total, parts, causes
}

// minutes is J of a case, by trying every order.
func (o *oracle) minutes(c *engine.CaseFile) (p, j float64) {
	p, parts, causes := o.joint(c)
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
			at := t + s.Minutes.Value
			more := 0.0
			for _, x := range s.Exposes {
				more += at * parts[x] / p
			}
			try(at, cost+more)
			delete(done, s.Name)
		}
	}
	try(0, 0)
	for _, q := range causes {
		best += math.Min(q/p*o.risk, o.right)
	}
	return p, best
}

// gain enumerates the patterns of reports.
func (o *oracle) gain(reports []engine.Report) float64 {
	total, before := o.minutes(o.c)
	g := before
	for set := range 1 << len(reports) {
		c := *o.c
		c.Reports = append([]engine.Report(nil), o.c.Reports...)
		for i, r := range reports {
			r.State = engine.Absent
			if set>>i&1 == 1 {
				r.State = engine.Present
			}
			c.Reports = append(c.Reports, r)
		}
		p, j := o.minutes(&c)
		g -= p / total * j
	}
	return g
}

func TestPricesAgainstEnumeration(t *testing.T) {
	cases := 0
	for seed := range uint64(12) {
		r := rand.New(rand.NewPCG(7, seed))
		k, u := tiny(r)
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
		_, before := o.minutes(c)
		if d := math.Abs(before - ad.ToCulprit - ad.Causes); d > 1e-7 {
			t.Errorf("seed %d: before: %v, enumeration %v", seed, ad.ToCulprit+ad.Causes, before)
		}
		for _, p := range ad.Checks {
			var reports []engine.Report
			for _, f := range p.Findings {
				if f.Telling {
					reports = append(reports, engine.Report{Finding: f.Name, By: f.Reporter})
				}
			}
			want := o.gain(reports)
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
	if cases < 20 {
		t.Fatalf("only %d prices were compared", cases)
	}
}

// Asking the same of one more finding never lowers what a check saves, and a
// second opinion of a finding known for certain is worth nothing.
func TestMoreFindingsNeverHurt(t *testing.T) {
	for seed := range uint64(8) {
		k, u := tiny(rand.New(rand.NewPCG(11, seed)))
		for n := 1; n <= 5; n++ {
			c := engine.Check{Name: fmt.Sprintf("first%d", n), Stage: engine.StageRoad, Minutes: num(1), Reporter: "gauge"}
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
		k, u := tiny(rand.New(rand.NewPCG(13, seed)))
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
