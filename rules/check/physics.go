package check

import (
	"errors"
	"fmt"
	"strings"

	"slipcase/engine"
	"slipcase/engine/geartrain"
)

// machine is the unit's gear train, nil when it cannot be built; what is wrong
// with it is told once.
func (r *run) machine(u *engine.Unit) *geartrain.Machine {
	if m, ok := r.machines[u.ID]; ok {
		return m
	}
	m, err := geartrain.New(u)
	var bad geartrain.Problems
	switch {
	case err != nil && r.broken(u):
		m = nil // follows from what loading told
	case errors.As(err, &bad):
		for _, d := range bad {
			if d.Subject == (engine.Range{}) {
				d.Subject = u.At
			}
			r.add(d)
		}
		m = nil
	case err != nil:
		r.error(u.At, "gear train cannot be built", err.Error())
		m = nil
	}
	r.machines[u.ID] = m
	return m
}

// neutral tells rows that must not drive.
func neutral(row *engine.Row) bool { return row.Gear == "N" || row.Gear == "P" }

// physics compares every row with what the gear train does.
func physics(r *run) {
	for _, u := range r.k.Units {
		m := r.machine(u)
		if m == nil {
			continue
		}
		for i := range u.Rows {
			r.row(u, m, i)
		}
		if len(m.Disagree()) > 0 {
			r.repairs(u)
		}
	}
}

// repairs says which smallest changes would make every row agree.
func (r *run) repairs(u *engine.Unit) {
	const most, longest = 4, 2 // beyond two edits the chart is better read again
	sets := geartrain.Repairs(u, most+1)
	if len(sets) == 0 || len(sets[0]) > longest {
		return
	}
	var lines []string
	for _, s := range sets[:min(most, len(sets))] {
		var parts []string
		for _, e := range s {
			words := Change(e)
			if e.Kind == geartrain.EditTurn {
				words += " (swap `stops` and `against`)"
			}
			parts = append(parts, words)
		}
		lines = append(lines, strings.Join(parts, ", and "))
	}
	detail := "With " + strings.Join(lines, "; or with ") + "."
	if len(sets) > most {
		detail += " Others would do as well."
	}
	detail += " The manual tells which is right."
	r.warn(u.At, fmt.Sprintf("unit %s: smallest changes that make every row agree", u.ID), detail)
}

// Change says one change of a chart or train that mends it.
func Change(e geartrain.Edit) string {
	switch e.Kind {
	case geartrain.EditApply:
		return fmt.Sprintf("%s applied in %s too", e.Name, e.Row)
	case geartrain.EditRelease:
		return fmt.Sprintf("%s not applied in %s", e.Name, e.Row)
	case geartrain.EditReplace:
		return fmt.Sprintf("%s instead of %s in %s", e.With, e.Name, e.Row)
	case geartrain.EditExchange:
		return fmt.Sprintf("what %s and %s apply exchanged", e.Row, e.With)
	case geartrain.EditTurn:
		return fmt.Sprintf("one-way clutch %s turned around", e.Name)
	case geartrain.EditSwap:
		return fmt.Sprintf("sun and ring of %s swapped", e.Name)
	case geartrain.EditPinions:
		return fmt.Sprintf("%s with single pinions instead of double, or the other way", e.Name)
	case geartrain.EditRatio:
		return fmt.Sprintf("ratio %s in %s", e.Got[0], e.Row)
	case geartrain.EditHolding:
		return fmt.Sprintf("holding = [%s] in %s", strings.Join(e.Got, ", "), e.Row)
	case geartrain.EditBraking:
		return fmt.Sprintf("the other engine_braking in %s", e.Row)
	}
	return string(e.Kind)
}

func (r *run) row(u *engine.Unit, m *geartrain.Machine, i int) {
	row, st := &u.Rows[i], m.Row(i)
	if neutral(row) {
		if st.Class == geartrain.Drives {
			r.error(row.At, fmt.Sprintf("row %s drives", row.Name()), fmt.Sprintf("With %s applied the output turns at ratio %s. A row of N or P must not drive.", applied(row), st.Ratio.FloatString(3)))
		}
		if row.Ratio != nil {
			r.error(row.RatioAt, fmt.Sprintf("row %s with a ratio", row.Name()), "A row of N or P has none.")
		}
		return
	}
	if st.Class != geartrain.Drives {
		what := "no drive: the output is not held to the input"
		if st.Class == geartrain.TieUp {
			what = "a tie-up: two gears at once"
			if st.OutputHeld {
				what = "a tie-up: the output is held"
			}
		}
		r.error(row.At, fmt.Sprintf("row %s does not drive", row.Name()), fmt.Sprintf("With %s applied the gear train gives %s. See which elements the chart applies, and which members they hold or join.", applied(row), what))
		return
	}
	if ok, got := m.RatioMatches(i); !ok {
		detail := fmt.Sprintf("The teeth and the elements applied (%s) give %s.", applied(row), got)
		if row.Ratio.Sign() != st.Ratio.Sign() {
			detail += " A reverse ratio is written with a minus."
		}
		r.error(row.RatioAt, fmt.Sprintf("row %s: ratio %s is not the train's", row.Name(), row.RatioText), detail)
	}
	if ok, got := m.HoldingMatches(i); !ok {
		holds := "no one-way clutch holds"
		if len(got) > 0 {
			holds = "what holds is " + strings.Join(got, ", ")
		}
		r.error(row.At, fmt.Sprintf("row %s: not what holds", row.Name()), fmt.Sprintf("Declared holding: [%s]; in the gear train %s.", strings.Join(row.Holding, ", "), holds))
	}
	if ok, got := m.BrakingMatches(i); !ok {
		what := "The train coasts freely in this row: torque from the wheels is not carried to the engine."
		if got {
			what = "Everything that carries the torque works both ways, so the engine brakes."
		}
		r.error(row.At, fmt.Sprintf("row %s: engine_braking = %v is not so", row.Name(), *row.EngineBraking), what)
	}
}

func applied(row *engine.Row) string {
	if len(row.Apply) == 0 {
		return "nothing"
	}
	return strings.Join(row.Apply, ", ")
}

// idleElements reports elements that no row uses.
func idleElements(r *run) {
	for _, u := range r.k.Units {
		used := map[string]bool{}
		lockup := false
		for i := range u.Rows {
			for _, a := range u.Rows[i].Apply {
				used[a] = true
			}
			lockup = lockup || u.Rows[i].Lockup
		}
		m := r.machine(u)
		if m != nil {
			for i := range u.Rows {
				for _, h := range m.Row(i).Holding {
					used[h] = true
				}
			}
			for _, s := range m.Shifts() {
				for _, h := range s.Carriers {
					used[h] = true
				}
			}
		}
		for i := range u.Elements {
			e := &u.Elements[i]
			switch {
			case used[e.Name]:
			case e.Kind == engine.ConverterClutch:
				if !lockup {
					r.error(e.At, fmt.Sprintf("no row uses the converter clutch %q", e.Name), "Say in which rows it is on in cruise: lockup = true.")
				}
			case e.Kind == engine.OneWay:
				if m != nil {
					r.warn(e.At, fmt.Sprintf("one-way clutch %q holds in no row and carries no shift", e.Name), "The gear train never leans on it, in a row or between two. See its direction (`stops`, `against`), or whether it is needed at all.")
				}
			default:
				r.error(e.At, fmt.Sprintf("no row uses the element %q", e.Name), "Name it in the `apply` of a row, or take it out.")
			}
		}
	}
}

// solenoids compares state tables and failsafe rows.
func solenoids(r *run) {
	for _, u := range r.k.Units {
		state := map[string]*engine.Row{}
		used := map[string]bool{}
		stated := false
		ranges := map[string]engine.Range{}
		var order []string
		for i := range u.Rows {
			row := &u.Rows[i]
			for _, s := range row.Solenoids {
				used[s] = true
			}
			if neutral(row) {
				continue
			}
			if _, ok := ranges[row.Range]; !ok {
				ranges[row.Range] = row.At
				order = append(order, row.Range)
			}
			if !row.SolenoidsStated {
				continue
			}
			stated = true
			on := append([]string{}, row.Solenoids...)
			sortStrings(on)
			key := row.Range + "\x00" + strings.Join(on, "\x00")
			if first := state[key]; first != nil {
				r.add(engine.Diagnostic{Severity: engine.Error, Summary: fmt.Sprintf("rows %s and %s with the same solenoids", first.Name(), row.Name()),
					Detail: "In one range the solenoids alone tell the gears apart, so no two rows have the same ones on.", Subject: row.At, Also: first.At})
			} else {
				state[key] = row
			}
		}
		r.multiplex(u)
		if !stated {
			continue
		}
		for i := range u.Solenoids {
			s := &u.Solenoids[i]
			if s.Kind == "shift" && used[s.Name] {
				r.stuck(u, s)
			}
			if s.Kind == "shift" && !used[s.Name] {
				r.warn(s.At, fmt.Sprintf("no row turns on the solenoid %q", s.Name), "Name it in the `solenoids` of the rows where it is on.")
			}
		}
		for _, g := range order {
			if u.Failsafe[g] == "" {
				r.warn(ranges[g], fmt.Sprintf("range %s without failsafe", g), fmt.Sprintf("Which gear is in force in %s without power? Add: failsafe %q {", g, g))
			}
		}
	}
}

// stuck warns where a shift solenoid stuck on or off leaves a state that no row
// of the range has, in the range with the most gears: physics then cannot say
// which gear is in force. In the others the manual valve decides.
func (r *run) stuck(u *engine.Unit, s *engine.Solenoid) {
	m := r.machine(u)
	if m == nil {
		return
	}
	gears, most := map[string]int{}, 0
	for i := range u.Rows {
		if !neutral(&u.Rows[i]) {
			gears[u.Rows[i].Range]++
			most = max(most, gears[u.Rows[i].Range])
		}
	}
	for _, on := range []bool{true, false} {
		got := m.Stuck(s.Name, on)
		for i := range u.Rows {
			row := &u.Rows[i]
			if got[i] != "" || gears[row.Range] < most {
				continue
			}
			state := "off"
			if on {
				state = "on"
			}
			r.warn(row.At, fmt.Sprintf("row %s: no gear for solenoid %q stuck %s", row.Name(), s.Name, state),
				fmt.Sprintf("With it stuck %s the solenoids are in a state that no row of range %s has, so nothing follows from it. Compare the `solenoids` of the rows with the manual's table.", state, row.Range))
		}
	}
}

// multiplex warns where a solenoid feeds one of several clutches and the chart
// does not tell which: stuck there, nothing follows from it.
func (r *run) multiplex(u *engine.Unit) {
	m := r.machine(u)
	if m == nil {
		return
	}
	for i := range u.Solenoids {
		s := &u.Solenoids[i]
		var rows, which []string
		for j := range u.Rows {
			if list := m.Unclear(s.Name, j); len(list) > 0 {
				rows, which = append(rows, u.Rows[j].Name()), list
			}
		}
		if len(rows) > 0 {
			r.warn(s.At, fmt.Sprintf("solenoid %q stuck: not clear which element it feeds in %s", s.Name, names(rows)),
				fmt.Sprintf("It controls %s through one valve, and these rows apply none of them: nothing follows from it there. State the `solenoids` of the rows, with the shift solenoid that moves the valve.", names(which)))
		}
	}
}

// circuits looks at the passages and the pressure table.
func circuits(r *run) {
	for _, u := range r.k.Units {
		var main *engine.Circuit
		fed := map[string]bool{}
		for i := range u.Circuits {
			c := &u.Circuits[i]
			if c.Main {
				if main != nil {
					r.add(engine.Diagnostic{Severity: engine.Error, Summary: fmt.Sprintf("circuit %q: second main circuit", c.Name), Detail: "One circuit is line pressure, which supplies the others.", Subject: c.At, Also: main.At})
				} else {
					main = c
				}
			} else if len(c.Feeds) == 0 {
				r.warn(c.At, fmt.Sprintf("circuit %q feeds nothing", c.Name), "A leak in it would change no row. Name the elements that it feeds.")
			}
			for _, f := range c.Feeds {
				fed[f] = true
			}
		}
		if len(u.Circuits) > 0 && main == nil {
			r.error(u.At, fmt.Sprintf("unit %q without a main circuit", u.ID), "Mark the circuit of line pressure: main = true")
		}
		if len(u.Circuits) == 0 {
			continue
		}
		for i := range u.Elements {
			e := &u.Elements[i]
			if e.Kind != engine.OneWay && e.Kind != engine.ConverterClutch && !fed[e.Name] {
				r.warn(e.At, fmt.Sprintf("no circuit feeds %q", e.Name), "A leak could never make it slip. Name it in the `feeds` of its circuit.")
			}
		}
	}
}
