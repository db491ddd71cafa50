package geartrain

import (
	"errors"
	"fmt"
	"math"
	"math/big"
	"slices"
	"strings"
	"sync"
	"testing"

	"pgregory.net/rapid"

	"slipcase/engine"
)

func TestNewSaysWhatIsWrong(t *testing.T) {
	for _, c := range []struct {
		name  string
		spoil func(*engine.Unit)
		want  []string // all of them, in order
	}{
		{"nothing", func(*engine.Unit) {}, nil},
		{"no gearset", func(u *engine.Unit) { u.Train.Gearsets = nil; u.Train.Output = "rear_carrier" }, []string{"no_gearset simpson-3"}},
		{"unknown input", func(u *engine.Unit) { u.Train.Input = "turbin" }, []string{"unknown_end input turbin"}},
		{"no output", func(u *engine.Unit) { u.Train.Output = "" }, []string{"no_end output"}},
		{"case as output", func(u *engine.Unit) { u.Train.Output = "case" }, []string{"case_as_end output"}},
		{"input is output", func(u *engine.Unit) { u.Train.Output = "turbine" }, []string{"one_end turbine"}},
		{"kind of gearset", func(u *engine.Unit) { u.Train.Gearsets[0].Kind = "triple" }, []string{"gearset_kind front triple"}},
		{"no ring", func(u *engine.Unit) { u.Train.Gearsets[1].Ring = "" }, []string{"lacks_member gearset rear"}},
		{"member twice", func(u *engine.Unit) { u.Train.Gearsets[1].Ring = "sun" }, []string{"member_twice rear"}},
		{"teeth swapped", func(u *engine.Unit) { u.Train.Gearsets[0].SunTeeth = 80 }, []string{"teeth front 80:62"}},
		{"no teeth", func(u *engine.Unit) { u.Train.Gearsets[0].SunTeeth = 0 }, []string{"teeth front 0:62"}},
		{"too many teeth", func(u *engine.Unit) { u.Train.Gearsets[0].RingTeeth = math.MaxInt64 }, []string{"teeth front 28:9223372036854775807"}},
		{"element without name", func(u *engine.Unit) { u.Elements[3].Name = ""; u.Rows = u.Rows[2:6] }, []string{"no_name element"}},
		{"name twice", func(u *engine.Unit) {
			u.Joints = []engine.Joint{{Name: "rear_clutch", A: "sun", B: "shell"}}
		}, []string{"name_taken joint rear_clutch element"}},
		{"kind of element", func(u *engine.Unit) { u.Elements[4].Kind = "magnet" }, []string{"kind_of_element overrunning_clutch magnet"}},
		{"element lacks member", func(u *engine.Unit) { u.Elements[4].B = "" }, []string{"lacks_member one_way overrunning_clutch"}},
		{"joined to itself", func(u *engine.Unit) { u.Elements[4].B = "rear_carrier" }, []string{"to_itself one_way overrunning_clutch rear_carrier"}},
		{"no rows", func(u *engine.Unit) { u.Rows = nil }, []string{"no_rows simpson-3"}},
		{"rows twice", func(u *engine.Unit) { u.Rows[4].Gear = "1" }, []string{"row_twice D/1"}},
		{"unknown element", func(u *engine.Unit) { u.Rows[4].Apply = []string{"front_bnad"} }, []string{"not_element D/2 front_bnad"}},
		{"one-way applied", func(u *engine.Unit) { u.Rows[3].Apply = []string{"overrunning_clutch"} }, []string{"applies_one_way D/1 overrunning_clutch"}},
		{"clutch holds", func(u *engine.Unit) { u.Rows[3].Holding = []string{"rear_clutch"} }, []string{"not_one_way D/1 rear_clutch"}},
		{"pressure 0", func(u *engine.Unit) { u.Rows[3].PressureFactor = engine.Number{Text: "0"} }, []string{"bad_factor pressure D/1 0"}},
		{"converter not a number", func(u *engine.Unit) { u.Rows[3].ConverterFactor = engine.Number{Value: math.NaN()} }, []string{"bad_factor converter D/1"}},
		{"all at once", func(u *engine.Unit) {
			u.Train.Output = "wheel"
			u.Train.Gearsets[0].RingTeeth = 5
			u.Elements[0].A = ""
			u.Rows[8].Apply = nil
			u.Rows[1].Apply = []string{"x"}
		}, []string{
			"teeth front 28:5", "lacks_member clutch front_clutch",
			"unknown_end output wheel", "not_element R/R x",
			"not_element D/3 front_clutch",
		}},
	} {
		u := simpson()
		c.spoil(u)
		m, err := New(u)
		var got []string
		var p Problems
		if errors.As(err, &p) {
			for _, d := range p {
				got = append(got, d.Error())
				if !strings.Contains(err.Error(), d.Error()) {
					t.Errorf("%s: %q is not in the error", c.name, d.Error())
				}
			}
		}
		if !slices.Equal(got, c.want) || (m == nil) != (len(c.want) > 0) {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
	if _, err := New(nil); err == nil {
		t.Error("no unit, no error")
	}
}

func TestTooMuch(t *testing.T) {
	u := simpson()
	for i := range maxLinks {
		u.Joints = append(u.Joints, engine.Joint{Name: fmt.Sprint("j", i), A: "sun", B: fmt.Sprint("m", i)})
	}
	if _, err := New(u); err == nil || !strings.Contains(err.Error(), "many_links") {
		t.Errorf("%d joints: %v", maxLinks, err)
	}
	u = simpson()
	for i := range maxOneWays {
		u.Elements = append(u.Elements, engine.Element{Name: fmt.Sprint("f", i), Kind: engine.OneWay, A: "sun", B: fmt.Sprint("m", i)})
	}
	if _, err := New(u); err == nil || !strings.Contains(err.Error(), "many_one_ways") {
		t.Errorf("%d one-way clutches: %v", maxOneWays+1, err)
	}
	u.Elements = u.Elements[:len(u.Elements)-1]
	if m := mustNew(t, u); m.Row(3).Class != Drives {
		t.Errorf("%d one-way clutches: D/1 is %s", maxOneWays, m.Row(3).Class)
	}
}

func TestStrays(t *testing.T) {
	u := simpson()
	if got := mustNew(t, u).Strays(); got != nil {
		t.Errorf("strays %v", got)
	}
	u.Elements[1].B = "front_rnig"
	if got := mustNew(t, u).Strays(); !slices.Equal(got, []string{"rear_clutch"}) {
		t.Errorf("strays %v", got)
	}
}

func TestFaultsTheUnitDoesNotHave(t *testing.T) {
	u := simpson()
	u.Elements = append(u.Elements, engine.Element{Name: "lockup", Kind: engine.ConverterClutch})
	u.Rows[5].Apply = append(u.Rows[5].Apply, "lockup")
	u.Joints = []engine.Joint{{Name: "spline", A: "output", B: "shaft"}}
	m := mustNew(t, u)
	for _, f := range []Fault{{"lockup", Dead}, {"nobody", Dead}, {"spline", StaysOn}, {"spline", Reversed}, {"rear_clutch", Reversed}, {"rear_clutch", "melted"}, {}} {
		if m.Check(f) == nil {
			t.Errorf("%s is accepted", f)
		}
		for i := range m.Rows() {
			if c := m.Change(i, f); !c.Same {
				t.Errorf("%s changes %s: %+v", f, m.RowName(i), c)
			}
		}
	}
	for _, f := range m.Faults() {
		if err := m.Check(f); err != nil {
			t.Error(err)
		}
	}
	// What is dead stays dead.
	both := []Fault{{"rear_clutch", StaysOn}, {"rear_clutch", Dead}}
	if c := m.Change(m.RowIndex("D/1"), both...); c.Class != NoDrive {
		t.Errorf("stuck and dead: %+v", c)
	}
}

func TestDeclaredFacts(t *testing.T) {
	yes, no := true, false
	u := simpson() // D/1 is 1 + 28/62 + 1 = 2.45161…
	set := func(i int, text string) {
		u.Rows[i].RatioText = text
		u.Rows[i].Ratio, _ = new(big.Rat).SetString(text)
	}
	for _, c := range []struct {
		text string
		ok   bool
		got  string
	}{
		{"2.45", true, "2.45"}, {"2.452", true, "2.452"}, {"2.451", true, "2.452"}, // cut off
		{"2.453", false, "2.452"}, {"2.450", false, "2.452"}, {"2.5", true, "2.5"}, {"2.4", true, "2.5"},
		{"2.3", false, "2.5"}, {"2", true, "2"}, {"3", false, "2"}, {"-2.45", false, "2.45"},
		{"24.5e-1", true, "2.45"}, {"0.2e1", true, "2"}, {"1e1", false, "2"}, {"0", false, "2"},
	} {
		set(3, c.text)
		m := mustNew(t, u)
		if ok, got := m.RatioMatches(3); ok != c.ok || got != c.got {
			t.Errorf("D/1 declared %s: %v %s, want %v %s", c.text, ok, got, c.ok, c.got)
		}
	}
	set(1, "-2.21428") // R is −62/28 = −2.2142857…, cut off
	set(2, "1.00")     // N
	u.Rows[3].RatioText, u.Rows[3].Ratio = "", big.NewRat(76, 31)
	u.Rows[3].Holding, u.Rows[3].HoldingStated, u.Rows[3].EngineBraking = []string{"overrunning_clutch"}, true, &no
	u.Rows[4].HoldingStated, u.Rows[4].EngineBraking = true, &no                      // wrong: it brakes
	u.Rows[5].Holding, u.Rows[5].HoldingStated = []string{"overrunning_clutch"}, true // wrong: it overruns
	u.Rows[6].HoldingStated, u.Rows[6].EngineBraking = true, &yes                     // wrong both
	u.Rows[8].Holding, u.Rows[8].HoldingStated = []string{"overrunning_clutch"}, true // beside the band
	m := mustNew(t, u)
	for _, c := range []struct {
		row                     int
		ratio, holding, braking bool
	}{{1, true, true, true}, {2, false, true, true}, {3, true, true, true}, {4, true, true, false}, {5, true, false, true}, {6, true, false, false}, {8, true, true, true}} {
		ratio, got := m.RatioMatches(c.row)
		holding, _ := m.HoldingMatches(c.row)
		braking, _ := m.BrakingMatches(c.row)
		if ratio != c.ratio || holding != c.holding || braking != c.braking {
			t.Errorf("%s: ratio %v (%s), holding %v, braking %v", m.RowName(c.row), ratio, got, holding, braking)
		}
	}
	// Each of these can hold in third, not both: they would stop the turbine.
	u.Elements = append(u.Elements,
		engine.Element{Name: "low_half", Kind: engine.OneWay, A: "idler", B: "case"},
		engine.Element{Name: "high_half", Kind: engine.OneWay, A: "turbine", B: "idler"})
	for _, c := range []struct {
		holding []string
		ok      bool
	}{{[]string{"low_half"}, true}, {[]string{"high_half"}, true}, {[]string{"low_half", "high_half"}, false}} {
		u.Rows[5].Holding = c.holding
		if ok, _ := mustNew(t, u).HoldingMatches(5); ok != c.ok {
			t.Errorf("%v holding in third: %v", c.holding, ok)
		}
	}
	// Two one-way clutches in parallel: either may be declared, or both.
	u.Elements = append(u.Elements, engine.Element{Name: "second_roller", Kind: engine.OneWay, A: "rear_carrier", B: "case"})
	for _, holding := range [][]string{{"overrunning_clutch"}, {"second_roller"}, {"second_roller", "overrunning_clutch"}} {
		u.Rows[3].Holding = holding
		if ok, got := mustNew(t, u).HoldingMatches(3); !ok || !slices.Equal(got, []string{"overrunning_clutch"}) {
			t.Errorf("declared %v: %v, needed %v", holding, ok, got)
		}
	}
}

// Eight goroutines that ask everything at once get the answers that one gets.
// Run with -race to check the memo.
func TestConcurrentReads(t *testing.T) {
	u := readTables(t)[0].unit()
	alone, shared := mustNew(t, u), mustNew(t, u)
	var wg sync.WaitGroup
	for g := range 8 {
		wg.Go(func() {
			faults := rowFaults(shared)
			for j := range faults {
				f := faults[(j+g*3)%len(faults)]
				for i := range shared.Rows() {
					shared.Change(i, f)
					shared.Under(i, f)
				}
			}
			shared.Shifts()
		})
	}
	wg.Wait()
	for _, f := range rowFaults(alone) {
		for i := range alone.Rows() {
			if !identical(alone.Under(i, f), shared.Under(i, f)) {
				t.Errorf("%s %s differs", alone.RowName(i), f)
			}
		}
	}
}

// askAll puts every question to a machine.
func askAll(m *Machine, f ...Fault) {
	m.Members()
	m.Strays()
	for _, s := range m.Shifts() {
		for _, e := range append(s.Oncoming, s.Offgoing...) {
			m.SlowOn(s, e)
			m.LateOff(s, e)
		}
	}
	m.Engagements()
	m.Unpowered()
	for _, s := range m.unit.Solenoids {
		m.Stuck(s.Name, true)
		m.Stuck(s.Name, false)
	}
	for i := range m.Rows() {
		m.Row(i)
		m.Under(i, f...)
		m.Change(i, f...)
		m.Gear(m.unit.Rows[i].Gear)
		m.RatioMatches(i)
		m.HoldingMatches(i)
		m.BrakingMatches(i)
		m.PowerPath(i)
		m.Unsettled(i)
		for _, e := range m.unit.Elements {
			m.Demand(i, e.Name)
			m.RelativeSpeed(i, e.Name)
			m.BandHelped(i, e.Name)
		}
		for _, g := range m.unit.Train.Gearsets {
			m.GearsetTurns(i, g.Name)
		}
		m.With(m.unit.Rows[i].Apply, f...)
	}
	for _, f := range m.Faults() {
		m.Under(0, f)
		m.Change(0, f)
		_ = m.Check(f)
	}
}

// drawOdd draws a unit in which anything may be wrong.
func drawOdd(t *rapid.T) *engine.Unit {
	member := rapid.SampledFrom([]string{"", "case", "a", "b", "c", "d", "e"})
	name := rapid.SampledFrom([]string{"", "p", "q", "r", "s", "x", "y", "z", "case", "a"})
	text := rapid.SampledFrom([]string{"", "1", "2.80", "-2.3", "1e30", "1e-30", "1e99999999", ".", "e", "1e", "0", "x"})
	number := rapid.Custom(func(t *rapid.T) engine.Number {
		return engine.Number{Value: rapid.SampledFrom([]float64{0, 1, 2.5, -1, math.NaN(), math.Inf(1)}).Draw(t, "value"), Text: text.Draw(t, "text")}
	})
	list := func(what string) []string { return rapid.SliceOfN(name, 0, 4).Draw(t, what) }
	u := &engine.Unit{Train: engine.Train{Input: member.Draw(t, "input"), Output: member.Draw(t, "output")}}
	for range rapid.IntRange(0, 4).Draw(t, "gearsets") {
		u.Train.Gearsets = append(u.Train.Gearsets, engine.Gearset{
			Name: name.Draw(t, "gearset"), Kind: rapid.SampledFrom([]engine.GearsetKind{engine.Single, engine.Double, ""}).Draw(t, "kind"),
			Sun: member.Draw(t, "sun"), Carrier: member.Draw(t, "carrier"), Ring: member.Draw(t, "ring"),
			SunTeeth:  rapid.SampledFrom([]int64{1, 30, 999_999, 0, -3, math.MinInt64}).Draw(t, "S"),
			RingTeeth: rapid.SampledFrom([]int64{2, 70, 1_000_000, 0, math.MaxInt64}).Draw(t, "R"),
		})
	}
	for range rapid.IntRange(0, 8).Draw(t, "elements") {
		u.Elements = append(u.Elements, engine.Element{
			Name: name.Draw(t, "element"),
			Kind: rapid.SampledFrom([]engine.ElementKind{engine.Clutch, engine.Brake, engine.Band, engine.OneWay, engine.ConverterClutch, "?"}).Draw(t, "kind"),
			A:    member.Draw(t, "A"), B: member.Draw(t, "B"), Wraps: rapid.Int().Draw(t, "wraps"),
		})
	}
	for range rapid.IntRange(0, 2).Draw(t, "joints") {
		u.Joints = append(u.Joints, engine.Joint{Name: name.Draw(t, "joint"), A: member.Draw(t, "A"), B: member.Draw(t, "B")})
	}
	for range rapid.IntRange(0, 4).Draw(t, "rows") {
		r := engine.Row{
			Range: rapid.SampledFrom([]string{"", "P", "N", "R", "D"}).Draw(t, "range"), Gear: rapid.SampledFrom([]string{"", "1", "2"}).Draw(t, "gear"),
			Apply: list("apply"), Holding: list("holding"), HoldingStated: rapid.Bool().Draw(t, "stated"),
			RatioText: text.Draw(t, "ratio text"), SolenoidsStated: rapid.Bool().Draw(t, "solenoids stated"), Solenoids: list("solenoids"),
			ConverterFactor: number.Draw(t, "converter"), PressureFactor: number.Draw(t, "pressure"),
		}
		if rapid.Bool().Draw(t, "ratio") {
			r.Ratio = big.NewRat(rapid.Int64().Draw(t, "ratio"), 1000)
		}
		u.Rows = append(u.Rows, r)
	}
	for _, n := range list("solenoid names") {
		u.Solenoids = append(u.Solenoids, engine.Solenoid{Name: n, Kind: rapid.SampledFrom([]string{"", "shift", "pressure"}).Draw(t, "kind")})
	}
	if rapid.Bool().Draw(t, "failsafe") {
		u.Failsafe = map[string]engine.Failsafe{"D": {Gear: "2", ByValve: list("by valve")}, "": {}}
	}
	return u
}

// odd checks that any unit is either refused with reasons or answers every
// question.
func odd(t *rapid.T) {
	u := drawOdd(t)
	if rapid.Bool().Draw(t, "sound") {
		u = drawUnit(t, 120)
	}
	m, err := New(u)
	var p Problems
	if err != nil && (!errors.As(err, &p) || len(p) == 0) {
		t.Fatalf("an error without problems: %v", err)
	}
	if err == nil {
		askAll(m, Fault{"p", Dead}, Fault{"q", StaysOn}, Fault{"e1", Reversed})
	}
}

func TestOddUnits(t *testing.T) { rapid.Check(t, odd) }

func FuzzUnit(f *testing.F) { f.Fuzz(rapid.MakeFuzz(odd)) }
