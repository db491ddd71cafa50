package engine

// The effect words that each kind of target can have. An effect is written
// target.word ("direct.slips"); physics knows what each does in every row.
var effectWords = map[TargetKind][]string{
	OnElement:   {"slips", "dead", "stays_on", "applies_late", "applies_hard", "releases_late", "drags", "shudders"},
	OnCircuit:   {"leaks", "low", "high", "restricted", "cross_fed"},
	OnSolenoid:  {"stuck_on", "stuck_off", "weak"},
	OnJoint:     {"broken"},
	OnGearset:   {"noisy"},
	OnShift:     {"late", "early", "harsh", "soft", "missing", "sticks"},
	OnRange:     {"late", "harsh"},
	OnConverter: {"weak", "binds", "drains_back", "noisy", "no_drive"},
	OnUnit:      {"no_drive", "weak", "limp"},
}

// oneWayWords are the effects of a one-way clutch, an element of its own kind.
var oneWayWords = []string{"slips", "dead", "seized", "reversed"}

// EffectWords lists the effects that a target of this kind can have; oneWay
// tells one-way clutches from other elements.
func EffectWords(kind TargetKind, oneWay bool) []string {
	if kind == OnElement && oneWay {
		return oneWayWords
	}
	return effectWords[kind]
}

// Outcomes are the words of physics that the signs of a finding template may
// name, by what the template is made per. A sign's strength is the probability
// that the finding is there given that outcome; outcomes marked × are scaled
// by the element's demand in the row.
var Outcomes = map[Per][]string{
	PerUnit: {
		"limp",           // the unit runs without electric power, in its failsafe rows
		"down_hard",      // some downshift, under power or coasting, comes hard or binds
		"down_high_line", // line pressure high, and some downshift is felt for it
	},
	PerRow: {
		"partial",              // × the element holds only part of its torque, and the row changes when it is dead
		"no_drive",             // the output is not driven
		"lower_gear",           // acts as a lower gear (a larger ratio of the same sense)
		"higher_gear",          // acts as a higher gear
		"reverse",              // acts as a ratio of the other sense
		"no_engine_braking",    // engine braking lost
		"extra_engine_braking", // engine braking where there should be none
		"ties_up",              // two gears at once: the input cannot turn
		"drives_in_neutral",    // a row without drive drives: N, P
		"drags",                // a released element drags where it should be free
		"noisy",                // the gearset's members turn against each other in this row
		"weak",                 // launch is weak (row with the range's largest ratio)
		"lockup_slips",         // converter clutch slips, rows with lockup
		"lockup_dead",          // converter clutch never on, rows with lockup
		"lockup_on",            // converter clutch stays on
		"shudders",             // element shudders in rows that apply it
	},
	PerRowGear: {
		"lower_gear", "higher_gear", "reverse", // the row acts as just this gear
	},
	PerShift: {
		"flare",         // the oncoming element is slow or weak and the gap gives a lower gear or none
		"late_on",       // the oncoming element is slow and the gap keeps the old gear
		"hard_on",       // the oncoming element applies hard
		"binds",         // a late release and the overlap ties up
		"late",          // the shift itself is late (served shift, pressure)
		"early",         // the shift itself is early
		"harsh",         // the served shift is harsh
		"soft",          // the served shift is soft
		"same_gear",     // both rows give the same ratio under the fault: no shift felt
		"lockup_missed", // the converter clutch never comes on: the top shift is not felt by who counts it as a gear
		"high_line",     // line pressure high
		"low_line",      // line pressure low
		"restricted",    // a circuit that feeds the oncoming element is restricted
		// Downshifts under power, by one gear and by two, and by the lever.
		"down_flare",      // the oncoming element is slow or weak, and the engine runs up past the new gear
		"down_late_on",    // an element is slow and the old gear stays on
		"down_hard_on",    // the oncoming element applies hard
		"down_binds",      // a late release and the overlap ties up
		"down_late",       // the valve of the shift sticks
		"down_harsh",      // what cushions the oncoming element, in an upshift too, does not
		"down_high_line",  // line pressure high
		"down_restricted", // a circuit that feeds the oncoming element is restricted
		// The same with the throttle closed, where an oncoming element is felt only
		// if the new gear turns the engine by it.
		"coast_hard_on", "coast_harsh", "coast_high_line",
		"coast_grabs", // the new gear turns the engine where it should run free
	},
	PerEngagement: {
		"late_on", "hard_on", "late", "harsh", "drains_back", "high_line", "low_line", "restricted",
	},
	PerPressure: {
		"low", "high", // the main circuit
		"leak_fed", // a leaking circuit is fed in this range
	},
	PerCircuit:  {"leaks", "low", "high", "restricted", "cross_fed"},
	PerElement:  {"slips", "dead", "stays_on", "applies_late", "applies_hard", "releases_late", "drags", "seized", "reversed", "shudders", "leak_fed"},
	PerSolenoid: {"stuck_on", "stuck_off", "weak"},
}
