package check

import (
	"errors"
	"fmt"
	"slices"
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
		for _, d := range Train(bad) {
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

// physics compares every row with what the gear train does. A row that does not
// agree is told once; where one change would make all rows agree they are told
// together, with that change, for one slip of the pen is behind them.
func physics(r *run) {
	for _, u := range r.k.Units {
		m := r.machine(u)
		if m == nil {
			continue
		}
		var bad []engine.Diagnostic // of each row that does not agree, one
		var rows []string
		for i := range u.Rows {
			from := len(r.found)
			r.row(u, m, i)
			if told := r.found[from:]; len(told) > 0 {
				d := told[0]
				for _, o := range told[1:] {
					d.Detail += " Also wrong: " + o.Summary + "."
				}
				bad, rows = append(bad, d), append(rows, u.Rows[i].Name())
			}
			r.found = r.found[:from]
		}
		if len(bad) == 0 {
			continue
		}
		change, single := repairs(u)
		if driving := len(u.Rows) - countNeutral(u); single || len(bad) > 3 && 2*len(bad) > driving {
			if len(bad) > 1 {
				bad[0].Detail += fmt.Sprintf(" Other rows do not agree either: %s.", names(rows[1:]))
				if !single {
					bad[0].Detail += " With this many, check the gear sets, their teeth, and what elements and joints connect."
				}
			}
			bad = bad[:1]
		}
		if change != "" {
			bad[0].Detail += " " + change
		}
		for _, d := range bad {
			r.add(d)
		}
	}
}

func countNeutral(u *engine.Unit) (n int) {
	for i := range u.Rows {
		if neutral(&u.Rows[i]) {
			n++
		}
	}
	return n
}

// repairs says which smallest changes would make every row agree, and whether
// each is a single one.
func repairs(u *engine.Unit) (words string, single bool) {
	const most, longest = 4, 2 // beyond two edits the chart is better read again
	sets := geartrain.Repairs(u, most+1)
	if len(sets) == 0 || len(sets[0]) > longest {
		return "", false
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
	words = "Every row agrees with " + strings.Join(lines, "; or with ") + "."
	if len(sets) > most {
		words += " There are other ways."
	}
	return words + " The manual says which is right.", len(sets[0]) == 1
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
		return fmt.Sprintf("what %s and %s apply swapped", e.Row, e.With)
	case geartrain.EditTurn:
		return fmt.Sprintf("one-way clutch %s turned around", e.Name)
	case geartrain.EditSwap:
		return fmt.Sprintf("sun and ring of %s swapped", e.Name)
	case geartrain.EditMember:
		return fmt.Sprintf("%s on %s instead of %s", e.Name, e.With, e.Got[0])
	case geartrain.EditTeeth:
		return fmt.Sprintf("teeth = [%s] in %s", strings.Join(e.Got, ", "), e.Name)
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
			r.error(row.At, fmt.Sprintf("row %s drives", row.Name()), fmt.Sprintf("With %s applied the output turns at ratio %s. A row in N or P must not drive.", applied(row), st.Ratio.FloatString(3)))
		}
		if row.Ratio != nil {
			r.error(row.RatioAt, fmt.Sprintf("row %s with a ratio", row.Name()), "A row in N or P has none.")
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
		r.error(row.At, fmt.Sprintf("row %s does not drive", row.Name()), fmt.Sprintf("With %s applied the gear train gives %s. Check which elements the chart applies, and which members they hold or connect.", applied(row), what))
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
		r.error(row.At, fmt.Sprintf("row %s: holding is wrong", row.Name()), fmt.Sprintf("Declared holding: [%s]; in the gear train %s.", strings.Join(row.Holding, ", "), holds))
	}
	if ok, got := m.BrakingMatches(i); !ok {
		what := "The train coasts freely in this row: torque from the wheels is not carried to the engine."
		if got {
			what = "Everything that carries the torque works both ways, so the engine brakes."
		}
		r.error(row.At, fmt.Sprintf("row %s: engine_braking = %v is wrong", row.Name(), *row.EngineBraking), what)
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
		if i := slices.IndexFunc(u.Rows, func(row engine.Row) bool { return row.Lockup }); i >= 0 && !slices.ContainsFunc(u.Elements, func(e engine.Element) bool { return e.Kind == engine.ConverterClutch }) {
			r.error(u.Rows[i].At, fmt.Sprintf("row %s: lockup, and the unit has no converter clutch", u.Rows[i].Name()), "Add it: converter_clutch \"lockup\" {}")
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
				if m != nil && len(m.Disagree()) == 0 { // else it follows from rows that are told
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
		before := len(r.found)
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
			on := append(append([]string{}, row.Solenoids...), sorted(geartrain.Applying(u, *row))...)
			sortStrings(on)
			on = slices.Compact(on)
			key := row.Range + "\x00" + strings.Join(on, "\x00")
			if first := state[key]; first != nil {
				r.add(engine.Diagnostic{Severity: engine.Error, Summary: fmt.Sprintf("rows %s and %s with the same solenoids", first.Name(), row.Name()),
					Detail: "In one range the solenoids alone tell the gears apart, so no two rows have the same ones on.", Subject: row.At, Also: first.At})
			} else {
				state[key] = row
			}
		}
		same := len(r.found) > before
		r.multiplex(u)
		r.atRest(u)
		if !stated {
			if i := slices.IndexFunc(u.Solenoids, func(s engine.Solenoid) bool { return s.Kind == "shift" }); i >= 0 {
				r.warn(u.Solenoids[i].At, "no row says which shift solenoids are on", "Without the table a stuck solenoid changes no gear. Give each row that drives its `solenoids`, [] where none is on.")
			}
			continue
		}
		if !same { // else states are missing because two rows have one
			r.stuck(u, used)
		}
		for i := range u.Solenoids {
			s := &u.Solenoids[i]
			if s.Kind == "shift" && !used[s.Name] {
				r.warn(s.At, fmt.Sprintf("no row turns on the solenoid %q", s.Name), "Name it in the `solenoids` of the rows where it is on.")
			}
		}
		var without []string
		for _, g := range order {
			if u.Failsafe[g].Gear == "" {
				without = append(without, g)
			}
		}
		switch len(without) {
		case 0:
		case 1:
			r.warn(ranges[without[0]], fmt.Sprintf("range %s without failsafe", without[0]), fmt.Sprintf("Which gear does %s have without power? Add: failsafe %q {", without[0], without[0]))
		default:
			r.warn(ranges[without[0]], fmt.Sprintf("ranges %s without failsafe", names(without)), fmt.Sprintf("Which gear does each have without power? Add for each: failsafe %q {", without[0]))
		}
	}
}

// stuck warns where a shift solenoid stuck on or off leaves a state that no row
// of the range has, in the range with the most gears: physics then cannot say
// which gear is in force. In the others the manual valve decides. It is told
// once a unit: one wrong state in the table is missing to several rows.
func (r *run) stuck(u *engine.Unit, used map[string]bool) {
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
	var lost []string
	var at engine.Range
	for i := range u.Rows {
		row := &u.Rows[i]
		for j := range u.Solenoids {
			s := &u.Solenoids[j]
			if s.Kind != "shift" || !used[s.Name] || gears[row.Range] < most {
				continue
			}
			for _, on := range []bool{true, false} {
				if m.Stuck(s.Name, on)[i] != "" {
					continue
				}
				state := "off"
				if on {
					state = "on"
				}
				if lost = append(lost, fmt.Sprintf("%s with %q stuck %s", row.Name(), s.Name, state)); len(lost) == 1 {
					at = row.At
				}
			}
		}
	}
	if len(lost) > 0 {
		r.warn(at, fmt.Sprintf("no gear for %s", lost[0]),
			fmt.Sprintf("The solenoids are then in a state that no row of the range has, so nothing follows from it. So it is in %s. Compare the `solenoids` of the rows with the manual's table.", names(lost)))
	}
}

// atRest refuses a failsafe gear that the solenoids do not leave in force
// without current.
func (r *run) atRest(u *engine.Unit) {
	m := r.machine(u)
	if m == nil || len(m.Disagree()) > 0 {
		return // it follows from rows that are told
	}
	var bad []engine.Diagnostic // of each range that does not agree: one slip of the pen may be behind all
	var ranges []string
	for _, g := range sorted(u.Failsafe) {
		f := u.Failsafe[g]
		row := g + "/" + f.Gear
		i := m.RowIndex(row)
		for _, e := range f.ByValve {
			if i >= 0 && !slices.Contains(u.Rows[i].Apply, e) {
				r.error(f.At, fmt.Sprintf("failsafe %q: %s does not apply %q", g, row, e), "by_valve names what the manual valve feeds in that gear itself. Take it out, or see the row.")
			}
		}
		rest, ok := m.AtRest(g)
		if !ok || rest.Agrees() {
			continue
		}
		if rest.Row != "" {
			ranges = append(ranges, g)
			bad = append(bad, engine.Diagnostic{Severity: engine.Error, Subject: f.At, Summary: fmt.Sprintf("failsafe %q: gear %s has solenoids on", g, f.Gear),
				Detail: fmt.Sprintf("Without current none is on, and with none on the table gives %s. Compare the `solenoids` of both rows with the manual's table.", rest.Row)})
			continue
		}
		var parts []string
		if len(rest.Off) > 0 {
			parts = append(parts, names(rest.Off)+" off")
		}
		if len(rest.On) > 0 {
			parts = append(parts, names(rest.On)+" on")
		}
		gives := "no drive"
		switch c := rest.Change; {
		case c.Class == geartrain.TieUp:
			gives = "a tie-up"
		case c.ActsAs != "":
			gives = "gear " + c.ActsAs
		case c.Class == geartrain.Drives:
			gives = "ratio " + c.Ratio.FloatString(3)
		}
		ranges = append(ranges, g)
		bad = append(bad, engine.Diagnostic{Severity: engine.Error, Subject: f.At, Summary: fmt.Sprintf("failsafe %q: without current it is not gear %s", g, f.Gear),
			Detail: fmt.Sprintf("By the `rest` of their solenoids %s has %s then, which gives %s. Turn the rest of a solenoid, or say another gear. What the manual valve feeds past its solenoid goes in by_valve = [\"…\"]; where the controller holds the gear with current, say powered = true.", row, strings.Join(parts, " and "), gives)})
	}
	if len(bad) > 1 {
		bad[0].Detail += fmt.Sprintf(" Other ranges do not agree either: %s.", names(ranges[1:]))
	}
	if len(bad) > 0 {
		r.add(bad[0])
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
