package model

import (
	"math/big"
	"slices"
	"strings"

	"slipcase/engine"
	"slipcase/engine/geartrain"
)

func (l *looker) lockup(name, word string) {
	for _, r := range l.u.Rows {
		locked := r.Lockup || slices.Contains(r.Apply, name)
		switch {
		case word == "slips" && locked:
			l.row(r.Name(), "lockup_slips", 1)
		case word == "dead" && locked:
			l.row(r.Name(), "lockup_dead", 1)
		case word == "shudders" && locked:
			l.row(r.Name(), "shudders", 1)
		case (word == "stays_on" || word == "drags") && drives(r):
			l.row(r.Name(), "lockup_on", 1)
		}
	}
	if up := l.m.Shifts(); word == "dead" && len(up) > 0 {
		l.at(engine.PerShift, l.topShift().Place(), "lockup_missed", 1)
	}
}

// topShift is the upshift into the highest gear: drivers count the converter
// clutch as one more behind it.
func (l *looker) topShift() geartrain.Shift {
	var top geartrain.Shift
	var least *big.Rat
	for _, s := range l.m.Shifts() {
		if r := l.m.Row(s.ToRow).Ratio; r != nil && (least == nil || new(big.Rat).Abs(r).Cmp(least) < 0) {
			top, least = s, new(big.Rat).Abs(r)
		}
	}
	return top
}

// fed tells whether a circuit has oil in a row: always for the main circuit,
// else where the row applies an element that it feeds.
func (l *looker) fed(c engine.Circuit, i int) bool {
	if c.Main {
		return true
	}
	for _, e := range c.Feeds {
		if slices.Contains(l.u.Rows[i].Apply, e) || l.u.Rows[i].Lockup && l.kind(e) == engine.ConverterClutch {
			return true
		}
	}
	return false
}

func (l *looker) circuit(name, word string) {
	var c engine.Circuit
	for _, x := range l.u.Circuits {
		if x.Name == name {
			c = x
		}
	}
	l.at(engine.PerCircuit, name, word, 1)
	feeds := c.Feeds
	if c.Main {
		feeds = nil
		for _, e := range l.u.Elements {
			if e.Kind != engine.OneWay {
				feeds = append(feeds, e.Name)
			}
		}
	}
	launch := l.launchRows()
	switch word {
	case "leaks", "low":
		for _, e := range feeds {
			l.at(engine.PerElement, e, "leak_fed", 1)
			if l.kind(e) == engine.ConverterClutch {
				l.lockup(e, "slips")
				continue
			}
			l.short(e)
			l.engage(e, "late_on", 1)
		}
		if c.Main {
			l.line("low")
			return
		}
		for _, p := range l.u.Pressures {
			for _, i := range launch {
				if l.u.Rows[i].Range == p.Range && l.fed(c, i) {
					l.at(engine.PerPressure, p.Place(), "leak_fed", 1)
				}
			}
		}
	case "high":
		if c.Main {
			l.line("high")
			return
		}
		for _, e := range feeds {
			l.hard(e)
			l.engage(e, "hard_on", 1)
		}
	case "cross_fed": // oil of another passage gets in: what it feeds comes on where it should not
		for _, e := range feeds {
			if l.kind(e) == engine.ConverterClutch {
				l.lockup(e, "stays_on")
				continue
			}
			l.fault(geartrain.Fault{Name: e, Kind: "stays_on"})
		}
	case "restricted":
		for _, s := range l.shifts() {
			on := overlap(feeds, s.Oncoming)
			// Oil that lets one element go as it applies another holds both back.
			swaps := len(on) > 0 && overlap(c.Releases, s.Offgoing) != nil ||
				overlap(feeds, s.Offgoing) != nil && overlap(c.Releases, s.Oncoming) != nil
			if len(on) > 0 {
				l.inShift(s, "restricted", 1)
			}
			if swaps {
				l.meanwhile(s, l.m.Lag(s, slices.Concat(feeds, c.Releases)...), 1)
				continue
			}
			for _, e := range on {
				l.meanwhile(s, l.m.SlowOn(s, e), 1)
			}
			for _, e := range overlap(feeds, s.Offgoing) {
				if l.m.LateOff(s, e).Timing == geartrain.Binds {
					l.inShift(s, "binds", emptying)
				}
			}
		}
		for _, e := range feeds {
			l.engage(e, "restricted", 1)
		}
	}
}

// line: main pressure low or high, everywhere.
func (l *looker) line(word string) {
	for _, p := range l.u.Pressures {
		l.at(engine.PerPressure, p.Place(), word, 1)
	}
	for _, s := range l.ups() {
		l.at(engine.PerShift, s.Place(), word+"_line", 1)
	}
	for _, s := range l.downs() {
		if word != "high" {
			break // low pressure shows as the slip of what comes on
		}
		l.inShift(s, "high_line", 1)
		if slices.ContainsFunc(s.Oncoming, func(e string) bool { return l.m.CoastFelt(s, e) }) {
			l.at(engine.PerShift, s.Place(), "coast_high_line", 1)
		}
	}
	for _, i := range l.launchRows() {
		l.at(engine.PerEngagement, l.u.Rows[i].Range, word+"_line", 1)
	}
}

func (l *looker) solenoid(name, word string) {
	l.at(engine.PerSolenoid, name, word, 1)
	var sol engine.Solenoid
	for _, s := range l.u.Solenoids {
		if s.Name == name {
			sol = s
		}
	}
	switch sol.Kind {
	case "clutch":
		if word == "weak" {
			for _, e := range sol.Controls {
				l.slips(e, 1)
				l.slow(e, 1)
				l.engage(e, "late_on", 1)
			}
			return
		}
		l.faults(func(i int) []geartrain.Fault { return l.m.Held(name, word == "stuck_on", i) })
	case "pressure":
		// Without current the pressure solenoid gives full pressure (common
		// practice: the failsafe side), with full current the least.
		if word == "stuck_off" {
			l.line("high")
		} else {
			l.mainLow()
		}
	case "converter":
		for _, e := range l.u.Elements {
			if e.Kind == engine.ConverterClutch {
				l.lockup(e.Name, map[string]string{"stuck_on": "stays_on", "stuck_off": "dead", "weak": "slips"}[word])
			}
		}
	default:
		if word == "weak" {
			for _, s := range l.ups() {
				from, to := l.u.Rows[s.FromRow], l.u.Rows[s.ToRow]
				if slices.Contains(from.Solenoids, name) != slices.Contains(to.Solenoids, name) {
					l.at(engine.PerShift, s.Place(), "late", 1)
				}
			}
			return
		}
		l.obtained(l.m.Stuck(name, word == "stuck_on"))
	}
}

// emptying is how much of what a restriction does to filling it does to
// emptying too (recalled: many feeds have a ball that lets the oil out past the
// orifice).
const emptying = 0.5

func (l *looker) mainLow() {
	for _, c := range l.u.Circuits {
		if c.Main {
			l.circuit(c.Name, "low")
			return
		}
	}
	l.line("low")
}

// obtained compares the row that each commanded row turns into.
func (l *looker) obtained(rows []string) {
	ratio := make([]*big.Rat, len(l.u.Rows))
	for i, r := range l.u.Rows {
		ratio[i] = l.m.Row(i).Ratio
		if i >= len(rows) || rows[i] == "" || rows[i] == r.Name() || !drives(r) {
			continue
		}
		j := l.find(rows[i])
		if j < 0 {
			continue
		}
		got := l.m.Row(j)
		if got.Ratio == nil || ratio[i] == nil {
			continue
		}
		outcome := compare(ratio[i], got.Ratio)
		ratio[i] = got.Ratio
		if outcome == "" {
			continue
		}
		l.row(r.Name(), outcome, 1)
		l.out = append(l.out, Sighting{Per: engine.PerRowGear, Place: r.Name(), Outcome: outcome, Gear: l.u.Rows[j].Gear, Factor: 1, Ratio: got.Ratio})
	}
	l.sameGear(func(i int) *big.Rat { return ratio[i] })
}

// limp: without electric power the failsafe gear of each range is in force,
// usually at full line pressure, with the manual valve still working.
func (l *looker) limp() {
	l.at(engine.PerUnit, "", "limp", 1)
	l.obtained(l.m.Unpowered())
	l.line("high")
}

func (l *looker) find(row string) int {
	for i, r := range l.u.Rows {
		if r.Name() == row {
			return i
		}
	}
	return -1
}

// compare names the outcome of getting ratio b where a was asked.
func compare(a, b *big.Rat) string {
	switch {
	case a.Sign() != b.Sign():
		return "reverse"
	case new(big.Rat).Abs(b).Cmp(new(big.Rat).Abs(a)) > 0:
		return "lower_gear"
	case a.Cmp(b) != 0:
		return "higher_gear"
	}
	return ""
}

func (l *looker) shift(name, word string) {
	from, _, _ := strings.Cut(name, "-")
	for _, s := range l.m.Shifts() {
		if s.From+"-"+s.To != name {
			continue
		}
		switch word {
		case "sticks": // the valve moves both ways, or neither
			l.at(engine.PerShift, s.Place(), "late", 1)
			for _, d := range l.m.Downshifts() {
				if d.FromRow == s.ToRow && d.ToRow == s.FromRow {
					l.inShift(d, "late", 1)
				}
			}
			continue
		case "harsh":
			l.at(engine.PerShift, s.Place(), word, 1)
			l.uncushioned(s)
			continue
		case "late", "early", "soft":
			l.at(engine.PerShift, s.Place(), word, 1)
			continue
		}
		// A shift that never comes: its gear, and those above it, act as the
		// gear before it.
		rows := make([]string, len(l.u.Rows))
		low := l.m.Row(s.FromRow).Ratio
		for i, r := range l.u.Rows {
			x := l.m.Row(i).Ratio
			if r.Range == s.Range && x != nil && low != nil && x.Sign() == low.Sign() && new(big.Rat).Abs(x).Cmp(new(big.Rat).Abs(low)) < 0 {
				rows[i] = s.Range + "/" + from
			}
		}
		l.obtained(rows)
	}
}

// uncushioned: what cushions an element as it comes on in an upshift cushions it
// in downshifts too.
func (l *looker) uncushioned(up geartrain.Shift) {
	for _, d := range l.downs() {
		same := overlap(up.Oncoming, d.Oncoming)
		if d.Range != up.Range || same == nil {
			continue
		}
		l.inShift(d, "harsh", 1)
		if slices.ContainsFunc(same, func(e string) bool { return l.m.CoastFelt(d, e) }) {
			l.at(engine.PerShift, d.Place(), "coast_harsh", 1)
		}
	}
}

// overlap lists what is in both lists, in the order of the first.
func overlap(a, b []string) []string {
	var out []string
	for _, x := range a {
		if slices.Contains(b, x) {
			out = append(out, x)
		}
	}
	return out
}

func (l *looker) converter(word string) {
	switch word {
	case "no_drive":
		for _, r := range l.u.Rows {
			if drives(r) {
				l.row(r.Name(), "no_drive", 1)
			}
		}
	case "weak":
		for _, i := range l.launchRows() {
			l.row(l.u.Rows[i].Name(), "weak", 1)
		}
	case "drains_back":
		for _, i := range l.launchRows() {
			l.at(engine.PerEngagement, l.u.Rows[i].Range, "drains_back", 1)
		}
	case "noisy":
		for _, r := range l.u.Rows {
			if drives(r) {
				l.row(r.Name(), "noisy", 1)
			}
		}
	}
}
