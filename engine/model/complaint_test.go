package model_test

import (
	"math"
	"testing"

	"slipcase/engine"
)

// The first complaint is weighed by the share of vehicles that are brought in for
// it with nothing there; every other report as an answer, with the reporter's rates
// (driver: shudder 0.75 and 0.08, harsh shift 0.9 and 0.02, all else 0.85 and 0.03).
func TestFirstComplaint(t *testing.T) {
	m := build(t, "northfork-4")
	const u = 0.05
	off := func(c engine.CaseFile) map[string]float64 {
		out := map[string]float64{}
		pieces, _ := m.Evidence(&c)
		for _, p := range pieces {
			out[p.Label+" "+p.By] = p.Off
		}
		return out
	}
	report := func(finding string, s engine.State, by string) engine.Report {
		return engine.Report{Finding: finding, State: s, By: by}
	}
	case1 := func(list ...engine.Report) engine.CaseFile { return engine.CaseFile{Reports: list} }
	first := func(name string, hit float64) float64 {
		n, _ := m.Lookup(name)
		post, err := m.Solver().SolveSubset(nil, []int{n})
		if err != nil {
			t.Fatal(err)
		}
		p := post.P[n]
		return hit * p / (1 - p) * u / (1 - u)
	}
	shudder := first("shudder@D/3", 0.75)
	if shudder >= 0.08/4 {
		t.Fatalf("a shudder that came in has nothing there as often as an answer: %v", shudder)
	}
	for _, x := range []struct {
		what string
		c    engine.CaseFile
		want map[string]float64
	}{
		{"alone", case1(report("shudder@D/3", engine.Present, "driver")), map[string]float64{"shudder@D/3 driver": shudder}},
		{"the second is an answer", case1(report("shudder@D/3", engine.Present, "driver"), report("harsh_shift@D/1-2", engine.Present, "driver")),
			map[string]float64{"shudder@D/3 driver": shudder, "harsh_shift@D/1-2 driver": 0.02}},
		{"what is denied is no complaint", case1(report("harsh_shift@D/1-2", engine.Absent, "driver"), report("shudder@D/3", engine.Present, "driver")),
			map[string]float64{"shudder@D/3 driver": shudder, "harsh_shift@D/1-2 driver": 0.98}},
		{"history is no complaint", case1(report("history_sudden", engine.Present, "driver"), report("shudder@D/3", engine.Present, "driver")),
			map[string]float64{"shudder@D/3 driver": shudder, "history_sudden driver": 0.03}},
		{"the shop does not complain", case1(report("harsh_shift@D/1-2", engine.Present, "road_test"), report("shudder@D/3", engine.Present, "driver")),
			map[string]float64{"shudder@D/3 driver": shudder, "harsh_shift@D/1-2 road_test": 0.01}},
	} {
		got := off(x.c)
		// The rate of the first is worked out as if causes were independent.
		const near = 0.1
		for name, want := range x.want {
			if p, ok := got[name]; !ok || math.Abs(p-want) > near*want {
				t.Errorf("%s: %s has nothing there with %v, want %v", x.what, name, p, want)
			}
		}
	}
	c := case1(report("shudder@D/3", engine.Present, "driver"))
	if pieces, _ := m.AsAsked().Evidence(&c); len(pieces) != 1 || pieces[0].Off != 0.08 {
		t.Errorf("as an answer: %+v", pieces)
	}
	// However common a complaint is, it says no less than an answer.
	for _, i := range m.Complaints() {
		c := case1(report(m.Nodes[i].Name, engine.Present, "driver"))
		one, _ := m.Evidence(&c)
		asked, _ := m.AsAsked().Evidence(&c)
		for k := range one {
			if one[k].On != asked[k].On || one[k].Off > asked[k].Off || one[k].Off <= 0 {
				t.Errorf("%s: %v and %v as a complaint, %v and %v as an answer", one[k].Label, one[k].On, one[k].Off, asked[k].On, asked[k].Off)
			}
		}
	}
}
