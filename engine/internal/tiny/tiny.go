// Package tiny makes units small enough that tests can enumerate all of their
// states.
package tiny

import (
	"fmt"
	"math/rand/v2"

	"slipcase/engine"
)

// Num is a number of a rule.
func Num(x float64) engine.Number { return engine.Number{Value: x, Text: fmt.Sprint(x)} }

// Unit makes a random unit of few parts: numbers invented. Its train is one
// gearset behind one clutch; all signs are direct, so that the network has some
// fifteen nodes.
func Unit(r *rand.Rand) (*engine.Knowledge, *engine.Unit) {
	u := &engine.Unit{
		ID:    "tiny",
		Train: engine.Train{Input: "turbine", Output: "carrier", Gearsets: []engine.Gearset{{Name: "set", Kind: engine.Single, Sun: "sun", Carrier: "carrier", Ring: "case", SunTeeth: 30, RingTeeth: 60}}},
		Elements: []engine.Element{
			{Name: "forward", Kind: engine.Clutch, A: "turbine", B: "sun"},
		},
		Rows: []engine.Row{{Range: "D", Gear: "1", Apply: []string{"forward"}, ConverterFactor: Num(1), PressureFactor: Num(1)}},
	}
	k := &engine.Knowledge{
		Units:     []*engine.Unit{u},
		Stresses:  []engine.Stress{{Name: "heat"}},
		Causes:    []engine.Cause{{Name: "cooler", Frequency: Num(0.05 + 0.3*r.Float64()), Stresses: []engine.Link{{To: "heat", Strength: Num(0.9)}}}},
		Reporters: []engine.Reporter{{Name: "driver", Hit: Num(0.85), FalseAlarm: Num(0.06)}, {Name: "gauge", Hit: Num(0.97), FalseAlarm: Num(0.02)}},
	}
	const findings = 5
	for f := range findings {
		k.Findings = append(k.Findings, engine.Finding{Name: fmt.Sprintf("f%d", f), Stage: engine.StageRoad, Reporter: "driver", Leak: Num(0.01 + 0.1*r.Float64())})
	}
	k.Findings = append(k.Findings, engine.Finding{Name: "weather", Stage: engine.StageRoad, Reporter: "driver", Leak: Num(0.4)})
	for c := range 4 {
		kind := fmt.Sprintf("kind%d", c)
		k.Kinds = append(k.Kinds, engine.Kind{Name: kind})
		u.Components = append(u.Components, engine.Component{Name: fmt.Sprintf("part%d", c), Kind: kind, Serves: []engine.Target{{Kind: engine.OnUnit}}})
		for j := range 1 + r.IntN(2) {
			m := engine.Mode{Name: fmt.Sprintf("mode%d_%d", c, j), Of: []string{kind}, Frequency: Num(0.02 + 0.3*r.Float64())}
			for f := range findings {
				if r.IntN(2) == 0 {
					m.Shows = append(m.Shows, engine.Link{To: fmt.Sprintf("f%d", f), Strength: Num(0.2 + 0.75*r.Float64())})
				}
			}
			if r.IntN(2) == 0 {
				m.Because = []engine.Because{{Of: "heat", Strength: Num(0.3)}}
			}
			k.Modes = append(k.Modes, m)
		}
		s := engine.Step{Name: fmt.Sprintf("step%d", c), Stage: engine.StageInVehicle, Minutes: Num(float64(5 + r.IntN(60))), Exposes: []string{u.Components[c].Name}}
		if c > 0 && r.IntN(2) == 0 {
			s.After = append(s.After, fmt.Sprintf("step%d", r.IntN(c)))
		}
		if c > 2 && r.IntN(2) == 0 {
			s.After = []string{"step0", "step1"}
		}
		u.Steps = append(u.Steps, s)
	}
	k.Checks = []engine.Check{
		{Name: "one", Stage: engine.StageInterview, Minutes: Num(1), Reporter: "driver", Yields: []string{"f0"}},
		{Name: "three", Stage: engine.StageGauges, Minutes: Num(10), Reporter: "gauge", Yields: []string{"f1", "f2", "f3"}},
		{Name: "all", Stage: engine.StageRoad, Minutes: Num(15), Reporter: "driver", Yields: []string{"f0", "f1", "f2", "f3", "f4"}},
		{Name: "idle", Stage: engine.StageInterview, Minutes: Num(1), Reporter: "driver", Yields: []string{"weather"}},
	}
	return k, u
}
