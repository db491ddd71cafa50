package model

import (
	"math/big"
	"slices"

	"slipcase/engine"
	"slipcase/engine/geartrain"
)

// Sighting is one thing that physics says of an effect: this outcome, at this
// place. Factor scales the rule's strength: 1, or an element's demand.
type Sighting struct {
	Per     engine.Per
	Place   string
	Outcome string
	Gear    string   // per row_gear: the gear that the row acts as
	Factor  float64  // scales the strength, 0 to 1
	Ratio   *big.Rat // the ratio under the fault, where it drives
}

// looker collects sightings of one effect.
type looker struct {
	u   *engine.Unit
	m   *geartrain.Machine
	out []Sighting
}

// sightings works out where an effect shows, from the unit's chart and train
// alone (design, section 5).
func sightings(u *engine.Unit, m *geartrain.Machine, e Effect) []Sighting {
	l := &looker{u: u, m: m}
	switch e.Target.Kind {
	case engine.OnElement:
		l.element(e.Target.Name, e.Word)
	case engine.OnCircuit:
		l.circuit(e.Target.Name, e.Word)
	case engine.OnSolenoid:
		l.solenoid(e.Target.Name, e.Word)
	case engine.OnJoint:
		l.fault(geartrain.Fault{Name: e.Target.Name, Kind: "broken"})
	case engine.OnGearset:
		for i, r := range u.Rows {
			if drives(r) && m.GearsetTurns(i, e.Target.Name) {
				l.row(r.Name(), "noisy", 1)
			}
		}
	case engine.OnShift:
		l.shift(e.Target.Name, e.Word)
	case engine.OnRange:
		l.at(engine.PerEngagement, e.Target.Name, e.Word, 1)
	case engine.OnConverter:
		l.converter(e.Word)
	case engine.OnUnit:
		if e.Word == "limp" {
			l.limp()
			break
		}
		l.converter(e.Word) // no_drive and weak mean the same of either
	}
	l.comesHard()
	return l.out
}

// comesHard sums up for the whole unit that some downshift comes hard: a driver
// seldom knows which.
func (l *looker) comesHard() {
	said := map[string]bool{}
	for _, s := range l.out {
		word := ""
		switch s.Outcome {
		case "down_hard_on", "down_harsh", "down_binds", "coast_hard_on", "coast_harsh", "coast_grabs":
			word = "down_hard"
		case "down_high_line", "coast_high_line":
			word = "down_high_line"
		}
		if word != "" && !said[word] {
			said[word] = true
			l.at(engine.PerUnit, "", word, 1)
		}
	}
}

func drives(r engine.Row) bool { return r.Gear != "N" && r.Gear != "P" }

func (l *looker) at(per engine.Per, place, outcome string, factor float64) {
	l.out = append(l.out, Sighting{Per: per, Place: place, Outcome: outcome, Factor: factor})
}

func (l *looker) row(place, outcome string, factor float64) {
	l.at(engine.PerRow, place, outcome, factor)
}

func (l *looker) kind(element string) engine.ElementKind {
	for _, e := range l.u.Elements {
		if e.Name == element {
			return e.Kind
		}
	}
	return ""
}

// applied tells whether a row applies the element, or a one-way clutch holds.
func (l *looker) applied(i int, element string) bool {
	if slices.Contains(l.u.Rows[i].Apply, element) {
		return true
	}
	return l.kind(element) == engine.OneWay && slices.Contains(l.m.Row(i).Holding, element)
}

func (l *looker) element(name, word string) {
	l.at(engine.PerElement, name, word, 1)
	if l.kind(name) == engine.ConverterClutch {
		l.lockup(name, word)
		return
	}
	oneWay := l.kind(name) == engine.OneWay
	switch word {
	case "dead":
		kind := geartrain.FaultKind("dead")
		if oneWay {
			kind = "slips"
		}
		l.fault(geartrain.Fault{Name: name, Kind: kind})
		if !oneWay {
			l.slow(name, 1)
		}
	case "slips":
		l.slips(name, 1)
	case "stays_on", "seized", "reversed":
		l.fault(geartrain.Fault{Name: name, Kind: geartrain.FaultKind(word)})
	case "applies_late":
		l.slow(name, 1)
		l.engage(name, "late_on", 1)
	case "applies_hard":
		l.hard(name)
		l.engage(name, "hard_on", 1)
	case "releases_late":
		for _, s := range l.shifts() {
			switch t := l.m.LateOff(s, name).Timing; {
			case t == geartrain.Binds:
				l.inShift(s, "binds", 1)
			case s.Down && t == geartrain.Late:
				l.inShift(s, "late_on", 1)
			}
		}
	case "drags":
		l.drags(name)
	case "shudders":
		for i, r := range l.u.Rows {
			if l.applied(i, name) {
				l.row(r.Name(), "shudders", 1)
			}
		}
	}
}

// fault compares every row, and every shift, with the fault and without.
func (l *looker) fault(f ...geartrain.Fault) {
	l.faults(func(int) []geartrain.Fault { return f })
}

// faults is fault where each row has faults of its own.
func (l *looker) faults(of func(row int) []geartrain.Fault) {
	changes := make([]geartrain.Change, len(l.u.Rows))
	for i, r := range l.u.Rows {
		c := l.m.Change(i, of(i)...)
		changes[i] = c
		l.change(r, c)
	}
	for _, s := range l.shifts() {
		if changes[s.FromRow].Same && changes[s.ToRow].Same {
			l.gap(s, 1, of(s.FromRow)...)
		}
		if s.Down && l.m.CoastGrabs(s, of(s.ToRow)...) {
			l.at(engine.PerShift, s.Place(), "coast_grabs", 1)
		}
	}
	l.sameGear(func(i int) *big.Rat {
		if changes[i].Class != geartrain.Drives {
			return nil
		}
		return changes[i].Ratio
	})
}

// gap marks a shift that a fault spoils although both its rows are sound: the
// one-way clutch that carries the drive from one to the other is gone.
func (l *looker) gap(s geartrain.Shift, scale float64, f ...geartrain.Fault) {
	switch t := l.m.InGap(s, f...).Timing; {
	case flares(t):
		l.inShift(s, "flare", scale)
	case t == geartrain.Binds:
		l.inShift(s, "binds", scale)
	}
}

// shifts are the upshifts, then the downshifts.
func (l *looker) shifts() []geartrain.Shift { return slices.Concat(l.ups(), l.downs()) }

// ups are the upshifts, those over a gear too.
func (l *looker) ups() []geartrain.Shift { return slices.Concat(l.m.Shifts(), l.m.SkipUps()) }

// downs are the downshifts, those of the lever too.
func (l *looker) downs() []geartrain.Shift {
	return slices.Concat(l.m.Downshifts(), l.m.LeverShifts())
}

// inShift marks a shift; the outcomes of downshifts have names of their own, for
// they are felt otherwise.
func (l *looker) inShift(s geartrain.Shift, outcome string, factor float64) {
	if s.Down {
		outcome = "down_" + outcome
	}
	l.at(engine.PerShift, s.Place(), outcome, factor)
}

// hard: an element comes on hard, under power in every shift, coasting where it
// turns the engine.
func (l *looker) hard(name string) {
	for _, s := range l.shifts() {
		if slices.Contains(s.Oncoming, name) {
			l.inShift(s, "hard_on", 1)
		}
		if s.Down && l.m.CoastFelt(s, name) {
			l.at(engine.PerShift, s.Place(), "coast_hard_on", 1)
		}
	}
}

func (l *looker) change(r engine.Row, c geartrain.Change) {
	if c.Same {
		return
	}
	place := r.Name()
	switch {
	case c.Class == geartrain.TieUp:
		l.row(place, "ties_up", 1)
	case c.DrivesInNeutral:
		l.row(place, "drives_in_neutral", 1)
	case c.Class == geartrain.NoDrive:
		if drives(r) {
			l.row(place, "no_drive", 1)
		}
	default:
		outcome := ""
		switch {
		case c.Reverse:
			outcome = "reverse"
		case c.Lower:
			outcome = "lower_gear"
		case c.Higher:
			outcome = "higher_gear"
		}
		if outcome != "" {
			l.row(place, outcome, 1)
			if c.ActsAs != "" {
				l.out = append(l.out, Sighting{Per: engine.PerRowGear, Place: place, Outcome: outcome, Gear: c.ActsAs, Factor: 1, Ratio: c.Ratio})
			}
		}
		if c.LostBraking {
			l.row(place, "no_engine_braking", 1)
		}
		if c.ExtraBraking {
			l.row(place, "extra_engine_braking", 1)
		}
	}
}

// sameGear marks the shifts between two rows that give one ratio: no shift is
// felt there.
func (l *looker) sameGear(ratio func(row int) *big.Rat) {
	for _, s := range l.m.Shifts() {
		a, b := ratio(s.FromRow), ratio(s.ToRow)
		if a != nil && b != nil && a.Cmp(b) == 0 {
			l.at(engine.PerShift, s.Place(), "same_gear", 1)
		}
	}
}

// demand of an element in a row, 0..1: 0 where it carries nothing, 1 where
// statics cannot tell how the torque is shared, so that nothing is hidden.
func (l *looker) demand(i int, element string) float64 {
	d := l.m.Demand(i, element)
	if d == nil {
		return 0
	}
	f, _ := d.Float64()
	return f
}

// slips: a partial failure shows only in rows that change when the element is
// dead, by its demand there, and never worse than the dead row.
func (l *looker) slips(name string, scale float64) { l.partly(name, scale, scale) }

// short: an element that lacks pressure slips where it carries most. The torque
// of a coasting engine is small beside that of a pulling one, so engine braking
// is the last that it loses.
func (l *looker) short(name string) { l.partly(name, 1, coasting) }

// coasting is the share of an element's lack of pressure that shows in engine
// braking (recalled: an engine brakes with a quarter to a third of what it
// pulls with, and pressure at a closed throttle is lower too).
const coasting = 0.4

// partly is slips, with a factor of its own for rows that would only lose engine
// braking.
func (l *looker) partly(name string, scale, braking float64) {
	kind := geartrain.FaultKind("dead")
	if l.kind(name) == engine.OneWay {
		kind = "slips"
	}
	// Only rows that need it count: where something else holds as well, its
	// share says nothing about where it slips first.
	var rows []int
	largest := 0.0
	for i, r := range l.u.Rows {
		if !l.applied(i, name) {
			continue
		}
		c := l.m.Change(i, geartrain.Fault{Name: name, Kind: kind})
		if c.Same || !drives(r) {
			continue
		}
		if c.Class == geartrain.Drives && !c.Lower && !c.Higher && !c.Reverse {
			if c.LostBraking {
				l.row(r.Name(), "no_engine_braking", braking)
			}
			continue
		}
		rows = append(rows, i)
		largest = max(largest, l.demand(i, name))
	}
	for _, s := range l.shifts() {
		if slices.Contains(s.Carriers, name) {
			l.gap(s, scale, geartrain.Fault{Name: name, Kind: kind})
		}
	}
	if largest == 0 {
		return
	}
	for _, i := range rows {
		l.row(l.u.Rows[i].Name(), "partial", l.demand(i, name)/largest*scale)
	}
	for _, s := range l.shifts() {
		if slices.Contains(s.Oncoming, name) && flares(l.m.SlowOn(s, name).Timing) {
			l.inShift(s, "flare", min(1, l.demand(s.ToRow, name)/largest)*scale)
		}
	}
}

// slow: a slow or missing oncoming element flares or only delays the shift.
func (l *looker) slow(name string, scale float64) {
	for _, s := range l.shifts() {
		if slices.Contains(s.Oncoming, name) {
			l.meanwhile(s, l.m.SlowOn(s, name), scale)
		}
	}
}

func (l *looker) meanwhile(s geartrain.Shift, w geartrain.Meanwhile, scale float64) {
	switch {
	case flares(w.Timing):
		l.inShift(s, "flare", scale)
	case w.Timing == geartrain.Late:
		l.inShift(s, "late_on", scale)
	}
}

// engage marks the engagements that apply the element: the first row of each
// range that drives, unless neutral applies it already.
func (l *looker) engage(name, outcome string, scale float64) {
	for _, i := range l.launchRows() {
		r := l.u.Rows[i]
		if slices.Contains(r.Apply, name) && !l.inNeutral(name) {
			l.at(engine.PerEngagement, r.Range, outcome, scale)
		}
	}
}

func (l *looker) inNeutral(name string) bool {
	for _, r := range l.u.Rows {
		if r.Gear == "N" && slices.Contains(r.Apply, name) {
			return true
		}
	}
	return false
}

// launchRows are the rows that the vehicle starts in: of each range, the
// driving row with the largest ratio.
func (l *looker) launchRows() []int {
	best := map[string]int{}
	var order []string
	for i, r := range l.u.Rows {
		if !drives(r) {
			continue
		}
		ratio := l.m.Row(i).Ratio
		if ratio == nil {
			continue
		}
		at, ok := best[r.Range]
		if !ok {
			order = append(order, r.Range)
			best[r.Range] = i
		} else if new(big.Rat).Abs(ratio).Cmp(new(big.Rat).Abs(l.m.Row(at).Ratio)) > 0 {
			best[r.Range] = i
		}
	}
	out := make([]int, len(order))
	for i, rng := range order {
		out[i] = best[rng]
	}
	return out
}

// drags: a released element that drags shows where its members turn against
// each other and holding them would change the row.
func (l *looker) drags(name string) {
	largest := new(big.Rat)
	speeds := make([]*big.Rat, len(l.u.Rows))
	for i, r := range l.u.Rows {
		if slices.Contains(r.Apply, name) {
			continue
		}
		if c := l.m.Change(i, geartrain.Fault{Name: name, Kind: "stays_on"}); c.Same {
			continue
		}
		if s := l.m.RelativeSpeed(i, name); s != nil {
			speeds[i] = new(big.Rat).Abs(s)
			if speeds[i].Cmp(largest) > 0 {
				largest = speeds[i]
			}
		} else if !drives(r) {
			speeds[i] = big.NewRat(1, 1) // neutral: the drag itself sets the speed
		}
	}
	if largest.Sign() == 0 {
		largest = big.NewRat(1, 1)
	}
	for i, s := range speeds {
		if s == nil || s.Sign() == 0 {
			continue
		}
		f, _ := new(big.Rat).Quo(s, largest).Float64()
		if f > 1 {
			f = 1
		}
		l.row(l.u.Rows[i].Name(), "drags", f)
	}
}

// targetTitle is the title of what an effect is on: "forward clutch".
func targetTitle(u *engine.Unit, t engine.Target) string {
	who := t.String()
	for _, x := range u.Elements {
		if t.Kind == engine.OnElement && x.Name == t.Name {
			who = engine.TitleOr(x.Title, x.Name)
		}
	}
	for _, x := range u.Circuits {
		if t.Kind == engine.OnCircuit && x.Name == t.Name {
			who = engine.TitleOr(x.Title, x.Name)
		}
	}
	for _, x := range u.Solenoids {
		if t.Kind == engine.OnSolenoid && x.Name == t.Name {
			who = engine.TitleOr(x.Title, x.Name)
		}
	}
	for _, x := range u.Joints {
		if t.Kind == engine.OnJoint && x.Name == t.Name {
			who = engine.TitleOr(x.Title, x.Name)
		}
	}
	return engine.Spaced(who)
}

// flares tells whether the engine runs up during a shift.
func flares(t geartrain.Timing) bool {
	return t == geartrain.FlareBounded || t == geartrain.FlareUnbounded
}
