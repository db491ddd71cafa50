package advise

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"slipcase/engine"
	"slipcase/engine/internal/patience"
	"slipcase/engine/internal/tiny"
	"slipcase/engine/model"
)

// tinyAdviser is that of a random small unit, changed by with where it is given.
func tinyAdviser(t testing.TB, seed uint64, with func(*engine.Knowledge, *engine.Unit)) *Adviser {
	t.Helper()
	k, u := tiny.Unit(rand.New(rand.NewPCG(31, seed)))
	if with != nil {
		with(k, u)
	}
	m, err := model.Build(k, u)
	if err != nil {
		t.Fatal(err)
	}
	a, err := New(m)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func reports(by string, states map[string]engine.State) *engine.CaseFile {
	c := &engine.CaseFile{}
	for i := range 6 {
		if name := fmt.Sprint("f", i); states[name] != "" {
			c.Reports = append(c.Reports, engine.Report{Finding: name, State: states[name], By: by})
		}
	}
	return c
}

func price(t testing.TB, a *Adviser, c *engine.CaseFile, opt Options) *Advice {
	t.Helper()
	ad, err := a.Price(c, opt)
	if err != nil {
		t.Fatal(err)
	}
	return ad
}

func names(list []Open) []string {
	out := []string{}
	for _, o := range list {
		out = append(out, o.Name)
	}
	return out
}

// As many findings of a check are worked out together as are asked for, three
// where nobody says, never more than twelve; and they are the most telling ones.
func TestExactIsHowManyAreWorkedOut(t *testing.T) {
	strong := func(k *engine.Knowledge, _ *engine.Unit) { // each finding tells something
		for i := range k.Modes {
			k.Modes[i].Shows = nil
			for f := range 5 {
				k.Modes[i].Shows = append(k.Modes[i].Shows, engine.Link{To: fmt.Sprint("f", f), Strength: tiny.Num(0.3 + 0.1*float64((f+i)%5))})
			}
		}
	}
	for seed := range uint64(4) {
		a := tinyAdviser(t, seed, strong)
		for exact, want := range map[int]int{0: 3, 1: 1, 2: 2, 4: 4, 5: 5, 9: 5, 40: 5} {
			p := listed(price(t, a, &engine.CaseFile{}, Options{Exact: exact}), "all")
			if p == nil {
				t.Fatalf("seed %d: all is not listed", seed)
			}
			n, least, most := 0, math.Inf(1), 0.0
			for _, f := range p.Findings {
				if f.Telling {
					n++
					least = math.Min(least, f.Tells)
				} else {
					most = math.Max(most, f.Tells)
				}
			}
			if n != want || most > least+1e-9 {
				t.Errorf("seed %d, exact %d: %d of 5 are worked out, want %d; the least telling of them tells %v bits, another %v", seed, exact, n, want, least, most)
			}
			if p.Answers > 1<<want || p.Answers < 2 {
				t.Errorf("seed %d, exact %d: %d answers", seed, exact, p.Answers)
			}
		}
	}
}

// Asked are the most telling, in their own order; of equals those named first; of
// those that tell next to nothing only one, and that only where nothing tells more.
func TestAsk(t *testing.T) {
	open := func(tells ...float64) (out []Open) {
		for i, x := range tells {
			out = append(out, Open{Name: string(rune('a' + i)), Tells: x})
		}
		return out
	}
	for _, c := range []struct {
		tells []float64
		n     int
		want  []string
	}{
		{nil, 3, []string{}},
		{[]float64{0.1, 0.3, 0.2}, 2, []string{"b", "c"}},
		{[]float64{0.1, 0.1, 0.1, 0.1}, 2, []string{"a", "b"}},
		{[]float64{0.1, 0.1 + 1e-14, 0.1}, 1, []string{"a"}}, // rounding is no difference
		{[]float64{0.1, 0.1 + 1e-9, 0.1}, 1, []string{"b"}},
		{[]float64{0, 0}, 2, []string{"a"}},
		{[]float64{0.001, 0.0019}, 2, []string{"b"}},
		{[]float64{0.002, 0.5, 0.0019}, 3, []string{"a", "b"}},
		{[]float64{0.5, 0.4}, 9, []string{"a", "b"}},
	} {
		if got := names(Ask(open(c.tells...), c.n)); !slices.Equal(got, c.want) {
			t.Errorf("%v, at most %d: %v, want %v", c.tells, c.n, got, c.want)
		}
	}
}

// Whenever the asker gives up, that is the answer, or the whole advice: never a
// part of one.
func TestGivingUp(t *testing.T) {
	k, u := tiny.Unit(rand.New(rand.NewPCG(31, 5)))
	hot(k, u)
	m, err := model.Build(k, u)
	if err != nil {
		t.Fatal(err)
	}
	c := reports("driver", map[string]engine.State{"f1": engine.Present, "f2": engine.Absent})
	for what, ask := range map[string]func(a *Adviser) (any, error){
		"price": func(a *Adviser) (any, error) {
			ad, err := a.Price(c, Options{Best: 2, Explain: true, Workers: 1})
			if err != nil {
				return nil, err
			}
			return plain(ad), nil
		},
		"standing": func(a *Adviser) (any, error) {
			list, _, err := a.Standing(c)
			var out []float64
			for _, b := range list {
				out = append(out, b.P)
			}
			return out, err
		},
		"offer": func(a *Adviser) (any, error) {
			list, err := a.Offer(c, Options{})
			var out [][]Open
			for _, o := range list {
				out = append(out, o.Findings)
			}
			return out, err
		},
	} {
		var want any
		for n := int64(1 << 40); n >= 0; {
			p := patience.New(n)
			a, err := New(m.WithContext(p))
			var got any
			if err == nil {
				got, err = ask(a)
			}
			switch {
			case n == 1<<40 && err != nil:
				t.Fatalf("%s: %v", what, err)
			case want == nil:
				want = got
				n -= p.Left() // as often as it is asked
				if n < 5 {
					t.Errorf("%s: the context is asked %d times", what, n)
				}
			case err != nil && !errors.Is(err, context.Canceled):
				t.Fatalf("%s, ended after %d: %v", what, n, err)
			case err == nil && !reflect.DeepEqual(got, want):
				t.Fatalf("%s, ended after %d: half an answer\n%s", what, n, cmp.Diff(want, got))
			}
			n--
		}
	}
}

// plain is an advice without what cannot be compared.
func plain(ad *Advice) any {
	type row struct {
		Name                      string
		Saves, Bits, Net, NetHigh float64
		Findings                  []Open
		Separates                 int
	}
	var out []row
	for _, p := range ad.Checks {
		out = append(out, row{p.Check.Name, p.Saves, p.Bits, p.Net, p.NetHigh, p.Findings, len(p.Separates)})
	}
	return []any{out, ad.Proven, ad.Unpriced, len(ad.Withheld), len(ad.Closed), ad.LeaderP, ad.ToRepair, ad.Causes}
}

// hot gives the unit a fault that shows f1 worse when hot, and a check of that.
func hot(k *engine.Knowledge, _ *engine.Unit) {
	k.Modes[0].Shows = append(slices.DeleteFunc(k.Modes[0].Shows, func(l engine.Link) bool { return l.To == "f1" }),
		engine.Link{To: "f1", Strength: tiny.Num(0.8), When: engine.Hot})
	k.Modes[1].Shows = append(slices.DeleteFunc(k.Modes[1].Shows, func(l engine.Link) bool { return l.To == "f1" }), engine.Link{To: "f1", Strength: tiny.Num(0.6)})
	k.Checks = append(k.Checks,
		engine.Check{Name: "plain", Stage: engine.StageInterview, Minutes: tiny.Num(1), Reporter: "driver", Yields: []string{"f1"}},
		engine.Check{Name: "worse_hot", Stage: engine.StageInterview, Minutes: tiny.Num(1), Reporter: "driver", Yields: []string{"f1:hot"}},
		engine.Check{Name: "gauge_hot", Stage: engine.StageInterview, Minutes: tiny.Num(1), Reporter: "gauge", Yields: []string{"f4:hot", "f1:hot"}})
}

// Whether it is worse hot is asked once the finding is there, or when the driver
// does not know whether it is; not while the finding itself can be asked for, nor
// once it is ruled out. What nobody asks for by itself may be asked for hot; a
// condition that no rule tells apart is not asked for.
func TestConditionIsAskedOfWhatIsThere(t *testing.T) {
	a := tinyAdviser(t, 1, func(k *engine.Knowledge, u *engine.Unit) {
		hot(k, u)
		for i := range k.Checks { // no gauge is asked of f1 by itself
			if k.Checks[i].Name == "three" {
				k.Checks[i].Yields = []string{"f2", "f3"}
			}
		}
	})
	left := func(check string, states ...engine.State) []string {
		t.Helper()
		c := &engine.CaseFile{}
		for _, s := range states {
			c.Reports = append(c.Reports, engine.Report{Finding: "f1", State: s, By: "driver"})
		}
		list, err := a.Left(c, check, nil)
		if err != nil {
			t.Fatal(err)
		}
		return names(list)
	}
	for _, c := range []struct {
		check  string
		states []engine.State
		want   []string
	}{
		{"worse_hot", nil, []string{}},
		{"worse_hot", []engine.State{engine.Present}, []string{"f1:hot"}},
		{"worse_hot", []engine.State{engine.Absent}, []string{}},
		{"worse_hot", []engine.State{engine.Unknown}, []string{"f1:hot"}},
		{"gauge_hot", nil, []string{"f1:hot"}},
		{"gauge_hot", []engine.State{engine.Present}, []string{"f1:hot"}},
		{"plain", nil, []string{"f1"}},
		{"plain", []engine.State{engine.Unknown}, []string{}},
		{"plain", []engine.State{engine.Absent}, []string{}},
	} {
		if got := left(c.check, c.states...); !slices.Equal(got, c.want) {
			t.Errorf("%s with f1 %v: %v is left, want %v", c.check, c.states, got, c.want)
		}
	}
	ad := price(t, a, reports("driver", map[string]engine.State{"f1": engine.Present}), Options{})
	if p := listed(ad, "worse_hot"); p == nil || p.Bits <= 0 || !p.Exact {
		t.Errorf("worse_hot is not priced: %+v, %v", p, refused(ad.Withheld, "worse_hot"))
	}
}

// Findings, Reporter, Left and Offer say of a check what Price asks for.
func TestWhatIsAskedAgrees(t *testing.T) {
	a := tinyAdviser(t, 2, hot)
	if got := names(a.Findings("all")); !slices.Equal(got, []string{"f0", "f1", "f2", "f3", "f4"}) {
		t.Errorf("all: %v", got)
	}
	if got := names(a.Findings("idle")); !slices.Equal(got, []string{"weather"}) {
		t.Errorf("idle: %v", got)
	}
	if a.Findings("nothing") != nil {
		t.Error("a check that is not there has findings")
	}
	for _, c := range []struct {
		finding, by, want string
		ok                bool
	}{{"f0", "", "driver", true}, {"f0", "gauge", "gauge", true}, {"f0", "nobody", "", false}, {"f9", "driver", "", false}} {
		if by, ok := a.Reporter(c.finding, c.by); ok != c.ok || ok && by != c.want {
			t.Errorf("%s by %q: %q, %v", c.finding, c.by, by, ok)
		}
	}
	closed := func(f string) bool { return f == "f2" }
	c := reports("driver", map[string]engine.State{"f1": engine.Present, "f3": engine.Unknown})
	c.Seen = []engine.Seen{{Component: "part0", Cleared: true}}
	opt := Options{Closed: closed, Exact: 8}
	ad := price(t, a, c, opt)
	list, err := a.Offer(c, opt)
	if err != nil {
		t.Fatal(err)
	}
	offered := map[string][]Open{}
	for _, o := range list {
		offered[o.Check.Name] = o.Findings
	}
	for check, want := range map[string][]string{"all": {"f0", "f4"}, "one": {"f0"}, "three": {"f1", "f3"}, "plain": {}, "worse_hot": {"f1:hot"}} {
		left, err := a.Left(c, check, closed)
		if err != nil {
			t.Fatal(err)
		}
		if got := names(left); !slices.Equal(got, want) {
			t.Errorf("%s: %v is left, want %v", check, got, want)
		}
		if got := names(offered[check]); !slices.Equal(got, want) {
			t.Errorf("%s: %v is offered, want %v", check, got, want)
		}
		if p := listed(ad, check); p != nil {
			told := slices.Clone(p.Findings)
			for i := range told {
				told[i].Telling = false
			}
			if d := cmp.Diff(offered[check], told); d != "" {
				t.Errorf("%s is offered otherwise than priced: %s", check, d)
			}
		} else if len(want) > 0 && refused(ad.Withheld, check).Why != Pointless {
			t.Errorf("%s is neither listed nor pointless", check)
		}
	}
	if _, err := a.Left(&engine.CaseFile{Reports: []engine.Report{{Finding: "f9", State: engine.Present}}}, "all", nil); err == nil {
		t.Error("a finding that is not there is taken")
	}
}

// The stage of a check is open as far as the job has come: a vehicle with the pan
// off does not run, one with the unit out is not there, a unit in it is not on the
// bench; a part that was seen was reached, but not one outside the unit.
func TestStagesFollowTheJob(t *testing.T) {
	stage := func(k *engine.Knowledge, u *engine.Unit) {
		u.Steps = []engine.Step{
			{Name: "pan", Stage: engine.StageInVehicle, Minutes: tiny.Num(10), Refit: tiny.Num(12), Exposes: []string{"part0"}},
			{Name: "look", Stage: engine.StageInVehicle, Minutes: tiny.Num(5), Exposes: []string{"part3"}},
			{Name: "pull", Stage: engine.StageInVehicle, Minutes: tiny.Num(200), Pulls: true},
			{Name: "open", Stage: engine.StageTeardown, Minutes: tiny.Num(30), After: []string{"pull"}, Exposes: []string{"part1", "part2"}},
		}
		k.Kinds[3].Outside = true
		k.Checks = nil
		for _, s := range []engine.Stage{engine.StageInterview, engine.StageRoad, engine.StageGauges, engine.StagePan, engine.StageInVehicle, engine.StagePulled, engine.StageTeardown} {
			k.Checks = append(k.Checks, engine.Check{Name: string(s), Stage: s, Minutes: tiny.Num(2), Reporter: "gauge", Yields: []string{"f0", "f1", "f2", "f3", "f4"}})
		}
		k.Checks = append(k.Checks,
			engine.Check{Name: "late", Stage: engine.StageInVehicle, Minutes: tiny.Num(2), Reporter: "gauge", Yields: []string{"f0", "f1"}, Before: []string{"pan"}},
			engine.Check{Name: "needs", Stage: engine.StageGauges, Minutes: tiny.Num(2), Reporter: "gauge", Yields: []string{"f0", "f1"}, Needs: []string{"pan"}})
	}
	a := tinyAdviser(t, 3, stage)
	bench := tinyAdviser(t, 3, func(k *engine.Knowledge, u *engine.Unit) {
		stage(k, u)
		u.Steps = u.Steps[3:]
		u.Steps[0].After, u.Steps[0].Exposes = nil, []string{"part0", "part1", "part2"}
	})
	in, out := map[string]Obstacle{"pulled": UnitInside, "teardown": UnitInside, "needs": NeedsStep}, map[string]Obstacle{"road": UnitOut, "gauges": UnitOut, "in_vehicle": UnitOut, "late": UnitOut, "needs": NeedsStep}
	apart := map[string]Obstacle{"pulled": UnitInside, "teardown": UnitInside, "road": CannotRun, "gauges": CannotRun, "late": TooLate}
	both := map[string]Obstacle{"road": UnitOut, "gauges": UnitOut, "in_vehicle": UnitOut, "needs": UnitOut, "late": TooLate}
	for _, c := range []struct {
		what string
		a    *Adviser
		c    engine.CaseFile
		want map[string]Obstacle
	}{
		{"nothing done", a, engine.CaseFile{}, in},
		{"pan off", a, engine.CaseFile{Done: []string{"pan"}}, apart},
		{"a look that takes nothing off", a, engine.CaseFile{Done: []string{"look"}}, in},
		{"a question that was put", a, engine.CaseFile{Put: []string{"interview"}}, map[string]Obstacle{"interview": Asked, "pulled": UnitInside, "teardown": UnitInside, "needs": NeedsStep}},
		{"unit out", a, engine.CaseFile{Done: []string{"pull"}}, out},
		{"unit open", a, engine.CaseFile{Done: []string{"pan", "pull", "open"}}, both},
		{"a part of the inside seen", a, engine.CaseFile{Seen: []engine.Seen{{Component: "part1", Cleared: true}}}, out},
		{"a part behind the pan seen", a, engine.CaseFile{Seen: []engine.Seen{{Component: "part0", Cleared: true}}}, map[string]Obstacle{"pulled": UnitInside, "teardown": UnitInside, "road": CannotRun, "gauges": CannotRun, "needs": NeedsStep}},
		{"a part outside seen", a, engine.CaseFile{Seen: []engine.Seen{{Component: "part3", Cleared: true}}}, in},
		{"a unit without its vehicle", bench, engine.CaseFile{}, map[string]Obstacle{"needs": NeedsStep}},
	} {
		ad := price(t, c.a, &c.c, Options{})
		got := map[string]Obstacle{}
		for _, r := range ad.Closed {
			got[r.Check.Name] = r.Why
		}
		if d := cmp.Diff(c.want, got); d != "" {
			t.Errorf("%s: %s", c.what, d)
		}
		if len(ad.Checks)+len(ad.Closed)+len(ad.Withheld) != 9 {
			t.Errorf("%s: %d checks are listed, %d closed, %d withheld", c.what, len(ad.Checks), len(ad.Closed), len(ad.Withheld))
		}
	}
	step := func(c *engine.CaseFile, check string) string {
		for _, r := range price(t, a, c, Options{}).Closed {
			if r.Check.Name == check && r.Step != nil {
				return r.Step.Name
			}
		}
		return ""
	}
	if s := step(&engine.CaseFile{Done: []string{"pan"}}, "road"); s != "pan" {
		t.Errorf("the road test is closed by %q", s)
	}
	if s := step(&engine.CaseFile{}, "needs"); s != "pan" {
		t.Errorf("%q is needed first", s)
	}
}

// A question to the driver has to tell more than a look by the shop; a cause that
// is a circumstance costs nothing, so that no question is priced by it.
func TestWorthAndContext(t *testing.T) {
	v := Values{LeastBits: 0.05, LeastAsked: 0.1, MinutesPerBit: 100, Doubt: 0.2, BenchPerBit: 5}
	ask, look := &engine.Check{Stage: engine.StageInterview}, &engine.Check{Stage: engine.StageRoad}
	mend := &engine.Check{Stage: engine.StageRoad, Repairs: true}
	bench, out := &engine.Check{Stage: engine.StageTeardown}, &engine.Check{Stage: engine.StagePulled}
	for _, x := range []struct {
		c               *engine.Check
		net, bits, lead float64
		want            bool
	}{
		{look, -1, 0.06, 0, true}, {look, -1, 0.04, 0, false}, {ask, -1, 0.06, 0, false}, {ask, -1, 0.11, 0, true}, {ask, 0.1, 0, 0, true}, {look, 0.1, 0, 0, true},
		{look, -1, 0.9, 0.98, false}, {look, 0.1, 0, 0.98, true}, {ask, -1, 0.11, 0.98, false}, {ask, 0.1, 0, 0.98, true},
		{mend, -1, 0.9, 0, false}, {mend, 0.1, 0, 0, true},
		{look, -9, 0.1, 0.8, true}, {look, -11, 0.1, 0.8, false}, {look, -9, 0.1, 0.9, false}, {look, -4, 0.1, 0.9, true}, {ask, -9, 0.11, 0.9, true},
		{bench, -4, 0.9, 0, true}, {bench, -5, 0.9, 0, false}, {out, -5, 0.9, 0, false}, {bench, 0.1, 0, 0.97, true}, {bench, -2, 0.9, 0.97, true}, {bench, -4, 0.9, 0.997, false},
	} {
		if got := v.worth(x.c, x.net, x.bits, x.lead); got != x.want {
			t.Errorf("%s, repairs %v, net %v, %v bits, a part at %v: worth %v", x.c.Stage, x.c.Repairs, x.net, x.bits, x.lead, got)
		}
	}
	c := reports("driver", map[string]engine.State{"f1": engine.Present})
	dear := Options{Values: Values{ComeBack: 600, Risk: 0.5}}
	cost := 0.0
	for seed := range uint64(12) {
		cost += price(t, tinyAdviser(t, seed, func(*engine.Knowledge, *engine.Unit) {}), c, dear).Causes
		if got := price(t, tinyAdviser(t, seed, func(k *engine.Knowledge, _ *engine.Unit) { k.Causes[0].Context = true }), c, dear).Causes; got != 0 {
			t.Errorf("seed %d: a circumstance costs %v minutes", seed, got)
		}
	}
	if cost <= 0 {
		t.Error("no root cause costs anything")
	}
}

// The list is in the order that it says it is in, and all of what is exact is
// proven to be.
func TestOrderOfTheList(t *testing.T) {
	positive, told := 0, 0
	for seed := range uint64(12) {
		a := tinyAdviser(t, seed, func(k *engine.Knowledge, u *engine.Unit) {
			for i := range u.Steps {
				u.Steps[i].Minutes = tiny.Num(60 + 400*float64(i))
			}
			for i, yields := range [][]string{{"f0"}, {"f1"}, {"f2"}, {"f3"}, {"f4"}, {"f0", "f1"}, {"f1"}, {"f3", "f4"}} {
				k.Checks = append(k.Checks, engine.Check{Name: fmt.Sprint("more", i), Stage: engine.StageRoad, Minutes: tiny.Num(float64(1 + 7*i%20)), Reporter: "gauge", Yields: yields})
			}
			// Two that are the same but for their names.
			for _, name := range []string{"twin_b", "twin_a"} {
				k.Checks = append(k.Checks, engine.Check{Name: name, Stage: engine.StageRoad, Minutes: tiny.Num(3), Reporter: "gauge", Yields: []string{"f2", "f3"}})
			}
		})
		all := price(t, a, reports("driver", map[string]engine.State{"f1": engine.Present}), Options{Exact: 8, Explain: true})
		rank := func(p *Priced) []float64 {
			switch {
			case p.Net > 0:
				return []float64{2, p.Net, p.Bits}
			case p.Worth:
				return []float64{1, p.Bits / math.Max(p.Minutes, 1), p.Net}
			}
			return []float64{0, p.Net, p.Bits}
		}
		at := map[string]int{}
		for i := range all.Checks {
			p := &all.Checks[i]
			at[p.Check.Name] = i
			tells := p.Bits >= DefaultValues.LeastBits && -p.Net <= p.Bits*DefaultValues.MinutesPerBit*min(1, (1-all.LeaderP)/DefaultValues.Doubt)
			if p.Check.Stage == engine.StageInterview {
				tells = p.Bits >= DefaultValues.LeastAsked
			}
			if p.Worth != (p.Net > 0 || tells) {
				t.Errorf("seed %d, %s: worth it %v with net %v and %v bits", seed, p.Check.Name, p.Worth, p.Net, p.Bits)
			}
			if p.Net > 0 {
				positive++
			} else if p.Worth {
				told++
			}
			if i > 0 {
				x, y := rank(&all.Checks[i-1]), rank(p)
				for j := range x {
					if math.Abs(x[j]-y[j]) > 1e-9 {
						if x[j] < y[j] {
							t.Errorf("seed %d: %s, %v, stands before %s, %v", seed, all.Checks[i-1].Check.Name, x, p.Check.Name, y)
						}
						break
					}
				}
			}
			whole := 0.0
			for j, ans := range p.Separates {
				whole += ans.P
				if j > 0 && ans.P > p.Separates[j-1].P+1e-9 {
					t.Errorf("seed %d, %s: a likelier answer comes later", seed, p.Check.Name)
				}
			}
			if len(p.Separates) != min(3, p.Answers) || p.Answers <= 3 && math.Abs(whole-1) > 1e-9 {
				t.Errorf("seed %d, %s: %d of %d answers are shown, together %v", seed, p.Check.Name, len(p.Separates), p.Answers, whole)
			}
		}
		a2, okA := at["twin_a"]
		b2, okB := at["twin_b"]
		if okA != okB || okA && b2 != a2+1 {
			t.Errorf("seed %d: of two that are the same the names do not decide: %v", seed, at)
		}
		if all.Proven != len(all.Checks) {
			t.Errorf("seed %d: %d of %d are proven", seed, all.Proven, len(all.Checks))
		}
		for best := 1; best <= 4; best++ {
			few := price(t, a, reports("driver", map[string]engine.State{"f1": engine.Present}), Options{Exact: 8, Best: best})
			if len(few.Checks) != min(best, len(all.Checks)) || len(few.Checks)+few.Unpriced != len(all.Checks) {
				t.Errorf("seed %d, best %d: %d listed and %d behind, of %d", seed, best, len(few.Checks), few.Unpriced, len(all.Checks))
			}
			for i, p := range few.Checks {
				if p.Check.Name != all.Checks[i].Check.Name {
					t.Errorf("seed %d, best %d: %s is number %d, of all it is %s", seed, best, p.Check.Name, i+1, all.Checks[i].Check.Name)
				}
			}
		}
	}
	if positive < 10 || told < 10 {
		t.Errorf("%d save minutes and %d only tell something: the order is hardly tried", positive, told)
	}
}

// A check of one finding saves, in the mean of its two answers, what it is said
// to save; an answer moves the suspects from where they stand.
func TestAnswersAddUp(t *testing.T) {
	for seed := range uint64(8) {
		a := tinyAdviser(t, seed, nil)
		c := reports("gauge", map[string]engine.State{"f4": engine.Present})
		ad := price(t, a, c, Options{Explain: true})
		list, near, err := a.Standing(c)
		if err != nil || near != nil {
			t.Fatal(err, near)
		}
		stands := map[string]float64{}
		for i, b := range list {
			stands[b.Component.Name] = b.P
			if i > 0 && (b.P > list[i-1].P+1e-9 || math.Abs(b.P-list[i-1].P) <= 1e-9 && b.Component.Name < list[i-1].Component.Name) {
				t.Errorf("seed %d: %s stands behind %s", seed, b.Component.Name, list[i-1].Component.Name)
			}
		}
		if short := price(t, a, c, Options{}); len(list) > 0 && (short.Leader != list[0].Component || math.Abs(short.LeaderP-list[0].P) > 1e-6) {
			t.Errorf("seed %d: the leader is %v, %v, of the standing %s, %v", seed, short.Leader, short.LeaderP, list[0].Component.Name, list[0].P)
		}
		for _, p := range ad.Checks {
			if p.Answers != 2 || len(p.Separates) != 2 {
				continue
			}
			mean := 0.0
			for _, ans := range p.Separates {
				mean += ans.P * ans.Minutes
				if len(ans.Present) == 1 && math.Abs(ans.P-p.Findings[0].P) > 0.1 {
					t.Errorf("seed %d, %s: present with %v, shown as %v", seed, p.Check.Name, ans.P, p.Findings[0].P)
				}
				for i, s := range ans.Shifts {
					if math.Abs(s.From-stands[s.Component.Name]) > 1e-6 {
						t.Errorf("seed %d, %s: moves %s from %v, it stands at %v", seed, p.Check.Name, s.Component.Name, s.From, stands[s.Component.Name])
					}
					if i > 0 && math.Abs(s.To-s.From) > math.Abs(ans.Shifts[i-1].To-ans.Shifts[i-1].From)+1e-9 {
						t.Errorf("seed %d, %s: a larger shift comes later", seed, p.Check.Name)
					}
				}
				if len(ans.Shifts) > 3 {
					t.Errorf("seed %d, %s: %d shifts", seed, p.Check.Name, len(ans.Shifts))
				}
			}
			if math.Abs(mean-p.Saves) > 1e-6 {
				t.Errorf("seed %d, %s: its answers save %v in the mean, it is said to save %v", seed, p.Check.Name, mean, p.Saves)
			}
		}
	}
}

// What the next step would destroy goes first once work has begun, or when
// nothing else is worth its minutes; not before, and not when it is not worth
// anything itself.
func TestBeforeTheNextStep(t *testing.T) {
	with := func(minutes float64, others float64) *Adviser {
		return tinyAdviser(t, 4, func(k *engine.Knowledge, u *engine.Unit) {
			u.Steps = []engine.Step{
				{Name: "step0", Stage: engine.StageInVehicle, Minutes: tiny.Num(10), Exposes: []string{"part0"}},
				{Name: "step1", Stage: engine.StageInVehicle, Minutes: tiny.Num(60), After: []string{"step0"}, Exposes: []string{"part1"}},
				{Name: "step2", Stage: engine.StageInVehicle, Minutes: tiny.Num(400), After: []string{"step1"}, Exposes: []string{"part2", "part3"}},
			}
			k.Checks = []engine.Check{
				{Name: "rich", Stage: engine.StageInterview, Minutes: tiny.Num(others), Reporter: "gauge", Yields: []string{"f0", "f1", "f2"}},
				{Name: "lost", Stage: engine.StageInVehicle, Minutes: tiny.Num(minutes), Reporter: "driver", Yields: []string{"f3", "f4"}, Before: []string{"step0", "step1"}},
				{Name: "later", Stage: engine.StageInVehicle, Minutes: tiny.Num(minutes), Reporter: "driver", Yields: []string{"f3", "f4"}, Before: []string{"step2"}},
			}
		})
	}
	first := func(a *Adviser, done ...string) (*Priced, string) {
		t.Helper()
		ad := price(t, a, &engine.CaseFile{Done: done}, Options{Exact: 8})
		p := listed(ad, "lost")
		if p == nil && len(done) == 0 {
			t.Fatal("the check is not listed")
		}
		return p, ad.Checks[0].Check.Name
	}
	a := with(2, 1)
	p, head := first(a)
	if p.Before == nil || p.Before.Name != "step0" || !p.Urgent || !p.Worth {
		t.Fatalf("lost: before %v, urgent %v, worth it %v", p.Before, p.Urgent, p.Worth)
	}
	if head != "rich" {
		t.Errorf("before any work %s goes first, though rich saves more", head)
	}
	if l := listed(price(t, a, &engine.CaseFile{}, Options{Exact: 8}), "later"); l == nil || l.Before == nil || l.Before.Name != "step2" || l.Urgent {
		t.Errorf("later: %+v", l)
	}
	// A plan that leaves out a step that was looked at has not begun.
	if ad := price(t, a, &engine.CaseFile{}, Options{Exact: 8, Course: []string{"step0", "step1"}}); ad.Checks[0].Check.Name != "rich" || !listed(ad, "lost").Urgent {
		t.Errorf("with a shorter plan %s goes first", ad.Checks[0].Check.Name)
	}
	// Work has begun elsewhere: what step1 destroys is lost next.
	ad := price(t, with(2, 1), &engine.CaseFile{Done: []string{"step0"}}, Options{Exact: 8})
	if r := refused(ad.Closed, "lost"); r.Why != TooLate {
		t.Errorf("with step0 done: %v", r.Why)
	}
	begun := tinyAdviser(t, 4, func(k *engine.Knowledge, u *engine.Unit) {
		*k, *u = *with(2, 1).Model.Knowledge, *with(2, 1).Model.Unit
		k.Checks = slices.Clone(k.Checks)
		k.Checks[1].Before = []string{"step1"}
	})
	ad = price(t, begun, &engine.CaseFile{Done: []string{"step0"}}, Options{Exact: 8})
	if ad.NextStep == nil || ad.NextStep.Name != "step1" || ad.Checks[0].Check.Name != "lost" || !ad.Checks[0].Urgent {
		t.Errorf("with work begun %s goes first, next step %v", ad.Checks[0].Check.Name, ad.NextStep)
	}
	if ad.Proven != len(ad.Checks) {
		t.Errorf("%d of %d are proven", ad.Proven, len(ad.Checks))
	}
	// Nothing else is worth its minutes.
	if _, head := first(with(2, 5000)); head != "lost" && head != "later" {
		t.Errorf("%s goes first, which is worth nothing", head)
	}
	// It is urgent, and worth nothing.
	values := Options{Exact: 8, Values: Values{LeastBits: 9}}
	ad = price(t, with(5000, 1), &engine.CaseFile{}, values)
	if p := listed(ad, "lost"); p == nil || !p.Urgent || p.Worth || ad.Checks[0].Check.Name != "rich" {
		t.Errorf("lost %+v, first %s", p, ad.Checks[0].Check.Name)
	}
}

// Apart are the two that the answers drive apart most, the one that moves more
// first; ties go by name; one alone where all move together, none for next to
// nothing.
func TestApart(t *testing.T) {
	part := map[string]*engine.Component{}
	for _, n := range []string{"a", "b", "c", "d"} {
		part[n] = &engine.Component{Name: n}
	}
	type moves map[string]float64
	answer := func(p float64, m moves) Answer {
		out := Answer{P: p}
		for _, n := range []string{"d", "c", "b", "a"} {
			if by, ok := m[n]; ok {
				out.Shifts = append(out.Shifts, Shift{part[n], 0.5, 0.5 + by})
			}
		}
		return out
	}
	for _, c := range []struct {
		what    string
		answers []Answer
		want    []string
	}{
		{"no answer", nil, nil},
		{"two driven apart", []Answer{answer(0.5, moves{"a": 0.2, "b": -0.1})}, []string{"a", "b"}},
		{"the second moves more", []Answer{answer(0.5, moves{"a": 0.1, "b": -0.2})}, []string{"b", "a"}},
		{"the pair farthest apart", []Answer{answer(0.5, moves{"a": 0.3, "b": -0.1, "c": -0.2})}, []string{"a", "c"}},
		{"over two answers", []Answer{answer(0.5, moves{"a": 0.3, "b": -0.2}), answer(0.5, moves{"a": 0.3, "c": -0.25}), answer(0.4, moves{"a": -0.1, "b": 0.2})}, []string{"a", "b"}},
		{"ties by name", []Answer{answer(0.5, moves{"a": 0.2, "b": -0.2}), answer(0.5, moves{"c": 0.2, "d": -0.2})}, []string{"a", "b"}},
		{"ties by name, the other way", []Answer{answer(0.5, moves{"c": 0.2, "d": -0.2}), answer(0.5, moves{"b": 0.2, "a": -0.2})}, []string{"a", "b"}},
		{"all move together", []Answer{answer(0.5, moves{"a": 0.1, "b": 0.2})}, []string{"b"}},
		{"apart by next to nothing, one far", []Answer{answer(0.5, moves{"a": 0.003, "b": -0.003}), answer(0.5, moves{"c": 0.2})}, []string{"c"}},
		{"next to nothing", []Answer{answer(0.5, moves{"a": 0.004, "b": -0.004})}, nil},
		{"just worth naming", []Answer{answer(1, moves{"a": 0.006})}, []string{"a"}},
		{"likely answers count", []Answer{answer(0.9, moves{"a": 0.1, "b": -0.1}), answer(0.1, moves{"c": 0.4, "d": -0.4})}, []string{"a", "b"}},
	} {
		var got []string
		for _, x := range Apart(c.answers) {
			got = append(got, x.Name)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.what, got, c.want)
		}
	}
}

// Values that are not said are the default ones, and each of them counts.
func TestValues(t *testing.T) {
	a := tinyAdviser(t, 6, func(k *engine.Knowledge, u *engine.Unit) {
		u.Steps = u.Steps[:3] // no step shows part3
		for i := range u.Steps {
			u.Steps[i].Stage = engine.StageTeardown
			u.Steps[i].Refit.Value = 1.5 * u.Steps[i].Minutes.Value
		}
	})
	c := reports("driver", map[string]engine.State{"f1": engine.Present})
	said := DefaultValues
	for i := range a.Model.Unit.Steps {
		said.ComeBack += 2.5 * a.Model.Unit.Steps[i].Minutes.Value // out, apart, together and in
	}
	usual := price(t, a, c, Options{})
	if d := cmp.Diff(plain(usual), plain(price(t, a, c, Options{Values: said}))); d != "" {
		t.Errorf("the default values said: %s", d)
	}
	for what, change := range map[string]func(*Values){
		"look":       func(v *Values) { v.Look *= 2 },
		"risk":       func(v *Values) { v.Risk /= 2 },
		"come back":  func(v *Values) { v.ComeBack /= 2 },
		"put right":  func(v *Values) { v.PutRight = 0.1 },
		"least bits": func(v *Values) { v.LeastBits = 5 },
	} {
		v := said
		change(&v)
		other := price(t, a, c, Options{Values: v})
		worth := func(ad *Advice) (n int) {
			for _, p := range ad.Checks {
				if p.Worth {
					n++
				}
			}
			return n
		}
		same := math.Abs(other.ToRepair-usual.ToRepair) < 1e-9 && math.Abs(other.Causes-usual.Causes) < 1e-9
		if what == "least bits" {
			same = worth(other) == worth(usual)
		}
		if same {
			t.Errorf("%s changes nothing", what)
		}
	}
}

// Figures behind which many causes come together may be farther off.
func TestCrowd(t *testing.T) {
	a := tinyAdviser(t, 7, nil)
	c := &engine.CaseFile{}
	b, _, _, err := a.begin(c, Options{}.filled())
	if err != nil {
		t.Fatal(err)
	}
	defer b.site.free()
	if m, bits := (&candidate{}).off(b); m != 0 || bits != 0 {
		t.Errorf("exact figures are off by %v, %v", m, bits)
	}
	f, _ := a.Model.Lookup("f0")
	if m, bits := (&candidate{many: []int{f}}).off(b); m != nearMinutes || bits != nearBits {
		t.Errorf("with %d causes behind: %v, %v", len(a.Model.Net.Nodes[f].Links), m, bits)
	}
	crowded := tinyAdviser(t, 7, func(k *engine.Knowledge, u *engine.Unit) {
		for i := range 20 {
			k.Modes = append(k.Modes, engine.Mode{Name: fmt.Sprint("rare", i), Of: []string{"kind0"}, Frequency: tiny.Num(0.001), Shows: []engine.Link{{To: "f0", Strength: tiny.Num(0.5)}}})
		}
	})
	b2, _, _, err := crowded.begin(c, Options{}.filled())
	if err != nil {
		t.Fatal(err)
	}
	defer b2.site.free()
	f, _ = crowded.Model.Lookup("f0")
	if m, bits := (&candidate{many: []int{f}}).off(b2); m != farMinutes || bits != farBits {
		t.Errorf("with %d causes behind: %v, %v", len(crowded.Model.Net.Nodes[f].Links), m, bits)
	}
}
