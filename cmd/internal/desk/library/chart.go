package library

import (
	"context"
	"fmt"
	"math/big"
	"slices"
	"strings"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/fault"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
	"slipcase/engine/geartrain"
	"slipcase/rules/check"
)

// Chart is a unit's apply chart as physics works it out, or as it is under
// faults.
type Chart struct {
	Unit     string         `json:"unit"`
	Title    string         `json:"title"`
	Made     Made           `json:"made"`
	Faults   []string       `json:"faults"` // "forward.dead"; [] for the sound unit
	Elements []ChartElement `json:"elements"`
	Joints   []ChartElement `json:"joints"`
	Rows     []ChartRow     `json:"rows"`
	// Effects says what each element's faults do: in the sound chart only.
	Effects []FaultEffect `json:"effects"`
	Shifts  []ChartShift  `json:"shifts"`
}

// ChartElement is a column of the chart.
type ChartElement struct {
	Name  string `json:"name"`
	Title string `json:"title"`
	Kind  string `json:"kind"` // clutch, brake, band, one_way, converter_clutch, joint
}

// ChartRow is a row of the chart.
type ChartRow struct {
	Row     string            `json:"row"`    // D/2
	States  map[string]string `json:"states"` // element -> applied, holds, overruns, dead, stays on; released ones are left out
	Drive   string            `json:"drive"`  // drives, no drive, ties up
	Ratio   *answer.Ratio     `json:"ratio"`  // by physics, from the teeth; null without drive
	Stated  string            `json:"stated"` // ratio as the unit file has it, "" when it has none
	Agrees  *bool             `json:"agrees"` // stated and worked out are the same within the printed digits; null when not stated
	Braking bool              `json:"engine_braking"`
	Torque  []ElementTorque   `json:"torque"`
	Change  *RowChange        `json:"change"` // under the faults; null when the row is as it should be
}

// ElementTorque is what an element carries in a row.
type ElementTorque struct {
	Element  string        `json:"element"`
	Multiple *answer.Ratio `json:"multiple"` // of turbine torque, without sign; null when statics cannot tell the sharing
	Demand   *answer.Num   `json:"demand"`   // 0..1 of the element's hardest row, by torque, launch and line pressure
	Band     string        `json:"band"`     // "helped" or "fought" by its drum's torque; "" when not a band or not known
}

// RowChange is what faults make of a row.
type RowChange struct {
	Row    string        `json:"row"`
	Words  string        `json:"words"` // "no drive", "acts as 2"
	ActsAs string        `json:"acts_as"`
	Ratio  *answer.Ratio `json:"ratio"` // null without drive
}

// FaultEffect is what one fault does to the whole chart.
type FaultEffect struct {
	Name    string      `json:"name"`
	Title   string      `json:"title"`
	Fault   string      `json:"fault"` // dead, stays_on, slips, seized, reversed, broken
	Changes []RowChange `json:"changes"`
}

// ChartShift is an upshift with what a slow or late element makes of it.
type ChartShift struct {
	Shift string        `json:"shift"` // D/1-2
	Down  bool          `json:"down"`
	On    []ShiftTiming `json:"on"`
	Off   []ShiftTiming `json:"off"`
	// Gap and Overlap are what the train does with only the elements that are
	// on in both gears, and with all that are on in either.
	Gap     string `json:"gap"`
	Overlap string `json:"overlap"`
}

// ShiftTiming is what one element does to a shift when it is slow to apply or
// late to release.
type ShiftTiming struct {
	Element string `json:"element"`
	Title   string `json:"title"`
	Words   string `json:"words"`
}

// FaultFlags are the faults that a chart is asked for, by names of elements
// and joints.
type FaultFlags struct {
	Dead, On, Seized, Reversed, Broken []string
}

func (f FaultFlags) options() map[string]string {
	out := map[string]string{}
	for name, list := range map[string][]string{"dead": f.Dead, "on": f.On, "seized": f.Seized, "reversed": f.Reversed, "broken": f.Broken} {
		if len(list) > 0 {
			out[name] = strings.Join(list, ",")
		}
	}
	return out
}

// Chart works out the chart of a unit (by id, or a unit file) under faults.
// Fails with NotFound for a unit or element that is not known, with Rules for a
// train that cannot be.
func (d *Library) Chart(ctx context.Context, unit string, flags FaultFlags) (answer.Answer[Chart], error) {
	x, u, err := d.load.Unit(ctx, unit)
	if err != nil {
		return answer.Answer[Chart]{}, err
	}
	m, err := geartrain.New(u)
	if err != nil {
		return answer.Answer[Chart]{}, machineFailure(x.Knowledge.Hash, u, err)
	}
	faults, err := flags.faults(u, m)
	if err != nil {
		return answer.Answer[Chart]{}, err
	}
	return answer.Answer[Chart]{
		Rules:       x.Knowledge.Hash,
		Method:      wording.ChartMethod,
		Data:        ChartOf(u, m, faults),
		Input:       &answer.Input{Unit: unit, Options: flags.options()},
		Diagnostics: answer.Messages(x.Diagnostics),
	}, nil
}

func machineFailure(hash string, u *engine.Unit, err error) *answer.Failure {
	f := answer.AsFailure(fmt.Errorf("unit %s: %w", u.ID, err))
	if p, ok := err.(geartrain.Problems); ok {
		f = &answer.Failure{Code: answer.Rules, Messages: answer.Messages(check.Train(p)), Err: err}
	}
	f.Rules = hash
	return f
}

// faults turns flags into faults and refuses what the unit does not have.
func (f FaultFlags) faults(u *engine.Unit, m *geartrain.Machine) ([]geartrain.Fault, error) {
	var out []geartrain.Fault
	elements, oneWays, joints := ElementNames(u)
	for _, g := range []struct {
		flag  string
		names []string
		kind  geartrain.FaultKind
		known []string
	}{
		{"dead", f.Dead, geartrain.Dead, append(slices.Clone(elements), oneWays...)},
		{"on", f.On, geartrain.StaysOn, elements},
		{"seized", f.Seized, geartrain.Seized, oneWays},
		{"reversed", f.Reversed, geartrain.Reversed, oneWays},
		{"broken", f.Broken, geartrain.Broken, joints},
	} {
		for _, name := range g.names {
			broken := geartrain.Fault{Name: name, Kind: g.kind}
			if slices.Contains(g.known, name) {
				if err := m.Check(broken); err != nil {
					return nil, fault.WrongUse(wording.FaultNotShown(err))
				}
				out = append(out, broken)
				continue
			}
			return nil, fault.Fail(answer.NotFound, wording.NoLink(u.ID, name, g.flag, g.known))
		}
	}
	return out, nil
}

// ElementNames are the names of what faults can be asked for: elements that apply,
// one-way clutches, joints.
func ElementNames(u *engine.Unit) (elements, oneWays, joints []string) {
	for _, e := range u.Elements {
		switch e.Kind {
		case engine.OneWay:
			oneWays = append(oneWays, e.Name)
		case engine.ConverterClutch:
		default:
			elements = append(elements, e.Name)
		}
	}
	for _, j := range u.Joints {
		joints = append(joints, j.Name)
	}
	return elements, oneWays, joints
}

// ChartOf is the chart of a unit with its train, under faults.
func ChartOf(u *engine.Unit, m *geartrain.Machine, faults []geartrain.Fault) Chart {
	c := Chart{Unit: u.ID, Title: u.Title, Made: MadeOf(u), Faults: []string{}, Elements: []ChartElement{}, Joints: []ChartElement{}, Rows: []ChartRow{}, Effects: []FaultEffect{}, Shifts: []ChartShift{}}
	for _, f := range faults {
		c.Faults = append(c.Faults, f.String())
	}
	for _, e := range u.Elements {
		c.Elements = append(c.Elements, ChartElement{e.Name, wording.Title(e.Title, e.Name), string(e.Kind)})
	}
	for _, j := range u.Joints {
		c.Joints = append(c.Joints, ChartElement{j.Name, wording.Title(j.Title, j.Name), "joint"})
	}
	for i := range u.Rows {
		c.Rows = append(c.Rows, chartRow(u, m, i, faults))
	}
	if len(faults) > 0 {
		return c
	}
	for _, f := range m.Faults() {
		e := FaultEffect{Name: f.Name, Title: wording.LinkTitle(u, f.Name), Fault: string(f.Kind), Changes: []RowChange{}}
		for i := range u.Rows {
			if ch := rowChange(m, i, f); ch != nil {
				e.Changes = append(e.Changes, *ch)
			}
		}
		c.Effects = append(c.Effects, e)
	}
	for _, s := range slices.Concat(m.Shifts(), m.SkipUps(), m.Downshifts(), m.LeverShifts()) {
		c.Shifts = append(c.Shifts, chartShift(u, m, s))
	}
	return c
}

func chartRow(u *engine.Unit, m *geartrain.Machine, i int, faults []geartrain.Fault) ChartRow {
	r, st := u.Rows[i], m.Under(i, faults...)
	row := ChartRow{
		Row: r.Name(), States: map[string]string{}, Drive: wording.Class(st), Ratio: answer.RatioOf(st.Ratio),
		Stated: r.RatioText, Braking: st.EngineBraking, Torque: []ElementTorque{},
	}
	if r.Ratio != nil && len(faults) == 0 {
		ok, _ := m.RatioMatches(i)
		row.Agrees = &ok
	}
	for _, e := range u.Elements {
		if s := wording.ElementState(r, st, e, faults); s != "" {
			row.States[e.Name] = s
		}
		t, on := st.Torques[e.Name]
		if !on || t != nil && t.Sign() == 0 || st.Class != geartrain.Drives {
			continue
		}
		et := ElementTorque{Element: e.Name}
		if t != nil {
			et.Multiple = answer.RatioOf(new(big.Rat).Abs(t))
		}
		if len(faults) == 0 {
			if d := m.Demand(i, e.Name); d != nil {
				f, _ := d.Float64()
				n := answer.Num(f)
				et.Demand = &n
			}
			et.Band = map[int]string{1: "helped", -1: "fought"}[m.BandHelped(i, e.Name)]
		}
		row.Torque = append(row.Torque, et)
	}
	if len(faults) > 0 {
		row.Change = rowChange(m, i, faults...)
	}
	return row
}

// rowChange is what faults make of a row, nil when nothing.
func rowChange(m *geartrain.Machine, i int, f ...geartrain.Fault) *RowChange {
	c := m.Change(i, f...)
	if c.Same {
		return nil
	}
	return &RowChange{Row: m.RowName(i), ActsAs: c.ActsAs, Ratio: answer.RatioOf(c.Ratio), Words: wording.RowChange(m, i, f...)}
}

func chartShift(u *engine.Unit, m *geartrain.Machine, s geartrain.Shift) ChartShift {
	out := ChartShift{Shift: s.Place(), Down: s.Down, On: []ShiftTiming{}, Off: []ShiftTiming{}, Gap: wording.TrainState(m, s.Gap, s.Range), Overlap: wording.TrainState(m, s.Overlap, s.Range)}
	for _, e := range s.Oncoming {
		out.On = append(out.On, ShiftTiming{e, wording.LinkTitle(u, e), wording.SlowOn(m, e, s)})
	}
	for _, e := range s.Offgoing {
		out.Off = append(out.Off, ShiftTiming{e, wording.LinkTitle(u, e), wording.LateOff(m, m.LateOff(s, e), s)})
	}
	return out
}
