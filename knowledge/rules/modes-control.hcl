# Valves, accumulators, balls, plates, governor and throttle valve: timing and feel.
# Varnished valves are worse cold, scored ones worse hot. Timing faults change
# shifts and engagements only, never steady drive.
language = 1
basis "recalled" {
  note = "rates per component, of vehicles of the kind and age that a shop sees, orders of magnitude from memory; strengths follow common practice"
}

mode "valve_varnished" {
  title     = "valve sticks with varnish"
  of        = [shift_valve]
  frequency = 0.004
  look      = "brown film, valve does not drop by its own weight before washing"
  effect "missing" {
    strength = 0.25
  }
  effect "missing" {
    strength = 0.6
    when     = cold
  }
  effect "sticks" {
    strength = 0.6
    when     = cold
  }
  shows "no_kickdown" {
    strength = 0.2
  }
  shows "hunts" {
    strength = 0.2
  }
  shows "valve_sticks" {
    strength = probable
  }
  shows "varnish_seen" {
    strength = 0.4
  }
  because "dirt" {
    strength = 0.05
  }
  because "heat" {
    strength = 0.02
  }
}

mode "valve_scored" {
  title     = "valve or bore scored"
  of        = [shift_valve]
  frequency = 0.003
  look      = "scratch along the land, bore burred"
  effect "missing" {
    strength = 0.6
    when     = hot
  }
  shows "valve_sticks" {
    strength = fifty_fifty
  }
  shows "valve_bore_leaks" {
    strength = 0.4
  }
  because "dirt" {
    strength = 0.04
  }
  because "age" {
    strength = 0.012
  }
}

mode "manual_valve_worn" {
  title     = "manual valve scored or off its pin"
  of        = [manual_valve]
  frequency = 0.0024
  look      = "land scored, link worn, detent does not bring it to its groove"
  effect "late" {
    strength = fifty_fifty
  }
  shows "creeps@N/N" {
    strength = uncertain
  }
  shows "valve_sticks" {
    strength = uncertain
  }
  because "age" {
    strength = 0.006
  }
}

mode "accumulator_stuck" {
  title     = "accumulator stuck or spring broken"
  of        = [accumulator]
  frequency = 0.0047
  look      = "piston sticks in its bore, spring in pieces"
  effect "harsh" {
    strength = 0.9
  }
  because "age" {
    strength = 0.01
  }
}

mode "accumulator_leaks" {
  title     = "accumulator seal or bore leaks"
  of        = [accumulator]
  frequency = 0.0046
  look      = "ring worn, bore scored, piston cracked"
  effect "soft" {
    strength = expected
  }
  effect "late" {
    strength = 0.3
  }
  because "age" {
    strength = 0.015
  }
}

mode "ball_misplaced" {
  title      = "check ball missing, worn or in the wrong place"
  of         = [check_balls]
  frequency  = 0.002
  look       = "ball count or locations differ from the drawing; plate pitted at a seat"
  settled_by = ["ball_places"]
  effect "harsh" {
    strength = 0.4
  }
  effect "late" {
    strength = 0.3
  }
  shows "balls_wrong" {
    strength = 0.95
  }
  because "wrong_assembly" {
    strength = 0.1
  }
  because "careless_build" {
    strength = 0.1
  }
  because "age" {
    strength = 0.006
  }
}

mode "plate_wrong" {
  title      = "wrong plate or gasket"
  of         = [separator_plate]
  frequency  = 0.0013
  look       = "holes differ from the old plate or the gasket covers one"
  settled_by = ["plate_compare"]
  effect "restricted" {
    strength = 0.4
  }
  effect "harsh" {
    strength = 0.3
  }
  effect "cross_fed" {
    strength = 0.2
  }
  shows "plate_differs" {
    strength = 0.95
  }
  because "warped_or_wrong_parts" {
    strength = 0.35
  }
}

mode "gasket_blown" {
  title     = "gasket blown or washed out"
  of        = [separator_plate]
  frequency = 0.004
  look      = "gasket torn between two channels, trace of flow"
  effect "leaks" {
    strength = fifty_fifty
  }
  effect "soft" {
    strength = uncertain
  }
  effect "cross_fed" {
    strength = 0.05
  }
  shows "gasket_washed" {
    strength = 0.9
  }
  because "age" {
    strength = 0.015
  }
  because "wrong_assembly" {
    strength = 0.03
  }
}

# Hydraulic controls
mode "governor_sticks" {
  title     = "governor sticks"
  of        = [governor]
  frequency = 0.021
  look      = "weight or valve sticks, screen blocked"
  effect "missing" {
    strength = probable
  }
  effect "sticks" {
    strength = expected
  }
  shows "valve_sticks" {
    strength = fifty_fifty
  }
  shows "governor_pressure_off" {
    strength = 0.9
  }
  shows "varnish_seen" {
    strength = 0.3
  }
  shows "limp_mode" {
    strength = fifty_fifty
  }
}

mode "governor_leaks" {
  title     = "governor rings or bore worn"
  of        = [governor]
  frequency = 0.008
  look      = "rings worn, bore of the case grooved"
  effect "late" {
    strength = 0.25
  }
  effect "late" {
    strength = expected
    when     = hot
  }
  effect "missing" {
    strength = 0.3
    when     = hot
  }
  shows "circuit_pressure_low@*" {
    strength = improbable
  }
  shows "governor_pressure_off" {
    strength = 0.9
  }
  because "age" {
    strength = 0.04
  }
}

mode "governor_stuck_out" {
  title     = "governor stuck out"
  of        = [governor]
  frequency = 0.0042
  look      = "weight jammed outward; starts in a higher gear"
  effect "early" {
    strength = probable
  }
  shows "valve_sticks" {
    strength = fifty_fifty
  }
  shows "governor_pressure_off" {
    strength = 0.9
  }
}

mode "throttle_valve_high" {
  title     = "throttle valve stuck or cable set too tight"
  of        = [throttle_valve]
  frequency = 0.0092
  look      = "valve sticks in, or cable takes up before the pedal moves"
  effect "late" {
    strength = expected
  }
  effect "harsh" {
    strength = expected
  }
  effect "high" {
    strength = 0.7
  }
  shows "harsh_downshift" {
    strength = 0.3
  }
  shows "throttle_cable_off" {
    strength = expected
  }
  because "missed_load_signal" {
    strength = uncertain
  }
}

mode "throttle_valve_low" {
  title     = "throttle valve stuck or cable loose or off"
  of        = [throttle_valve]
  frequency = 0.0132
  look      = "valve sticks out, cable slack or unhooked"
  effect "early" {
    strength = expected
  }
  effect "soft" {
    strength = expected
  }
  effect "low" {
    strength = 0.25
  }
  effect "low" {
    strength = 0.7
    when     = heavy_foot
  }
  shows "no_kickdown" {
    strength = expected
  }
  shows "throttle_cable_off" {
    strength = 0.8
  }
  stresses "low_apply_pressure" {
    strength = fifty_fifty
  }
  because "missed_load_signal" {
    strength = 0.3
  }
}

mode "modulator_leaks" {
  title     = "modulator diaphragm or hose leaks"
  of        = [modulator]
  frequency = 0.015
  look      = "fluid in the hose, diaphragm torn, stem stuck"
  effect "late" {
    strength = 0.7
  }
  effect "harsh" {
    strength = 0.8
  }
  effect "high" {
    strength = expected
  }
  shows "modulator_hose_wet" {
    strength = expected
  }
  shows "fluid_low" {
    strength = 0.3
  }
  shows "engine_smokes" {
    strength = 0.4
  }
  shows "modulator_vacuum_low" {
    strength = 0.5
  }
  because "age" {
    strength = 0.05
  }
}

mode "modulator_hose_off" {
  title      = "vacuum hose of the modulator off, split or blocked"
  of         = [modulator]
  frequency  = 0.006
  look       = "hose off its nipple or split at the end, dry inside; no vacuum at it with the engine idling"
  settled_by = ["modulator_look"]
  effect "late" {
    strength = 0.9
  }
  effect "harsh" {
    strength = 0.9
  }
  effect "high" {
    strength = 0.9
  }
  shows "modulator_vacuum_low" {
    strength = 0.95
  }
  shows "history_event" {
    strength = 0.3
  }
  shows "history_sudden" {
    strength = fifty_fifty
  }
  because "age" {
    strength = 0.01
  }
  because "missed_load_signal" {
    strength = uncertain
  }
}
