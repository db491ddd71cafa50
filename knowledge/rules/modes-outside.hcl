# What is outside the transmission. Many complaints about the
# transmission are engine, electrical or fluid trouble; pulling the unit is the
# costly answer. Limp mode maps every forward range to the failsafe row at full
# pressure, with the manual valve still working; if switching off cures it, that points to it.
language = 1
basis "recalled" {
  note = "rates per component, of vehicles of the kind and age that a shop sees, orders of magnitude from memory; strengths follow common practice"
}

# Selector, engine, driveline
mode "linkage_off" {
  title      = "selector linkage out of adjustment, worn or off"
  of         = [linkage]
  frequency  = 0.0192
  look       = "detents of shift lever and transmission do not line up"
  settled_by = ["detent_check"]
  effect "no_drive" {
    strength = 0.05
  }
  shows "drops_out_of_gear" {
    strength = 0.2
  }
  shows "selector_off" {
    strength = 0.95
  }
  shows "creeps@N/N" {
    strength = 0.2
  }
  shows "no_drive@R/R" {
    strength = 0.1
  }
  shows "park_rolls" {
    strength = improbable
  }
  shows "park_refused" {
    strength = 0.3
  }
  shows "park_stuck" {
    strength = 0.08
  }
  shows "late_engagement@*" {
    strength = 0.3
  }
  shows "no_start_in_park" {
    strength = 0.4
  }
  shows "range_signal_wrong" {
    strength = 0.4
  }
  shows "code_P0705" {
    strength = 0.25
  }
  because "accident" {
    strength = 0.2
  }
}

mode "misfires" {
  title      = "engine misfires"
  of         = [engine]
  frequency  = 0.0192
  look       = "misfire count, plugs, coils, mixture"
  settled_by = ["engine_check"]
  shows "misfire_felt" {
    strength = 0.9
  }
  shows "shudder@*" {
    strength = fifty_fifty
    when     = heavy_foot
  }
  shows "code_P0300" {
    strength = expected
  }
}

mode "engine_weak" {
  title      = "engine lacks power"
  of         = [engine]
  frequency  = 0.0105
  look       = "exhaust blocked, air or fuel short, timing late"
  settled_by = ["engine_check", "exhaust_check"]
  effect "weak" {
    strength = 0.9
  }
  shows "engine_weak_everywhere" {
    strength = 0.9
  }
  shows "exhaust_blocked" {
    strength = uncertain
  }
}

mode "idles_high" {
  title      = "idle speed too high"
  of         = [engine]
  frequency  = 0.005
  look       = "idle above the maker's figure warm; vacuum leak, throttle stop, idle control"
  settled_by = ["engine_check"]
  shows "harsh_engagement@*" {
    strength = 0.7
  }
  shows "idle_high" {
    strength = 0.95
  }
}

mode "driveline_broken" {
  title      = "drive shaft, axle or differential broken"
  of         = [driveline]
  frequency  = 0.0039
  look       = "one side turns and the other does not"
  settled_by = ["prop_shaft_look"]
  effect "no_drive" {
    strength = 0.97
  }
  shows "prop_shaft_turns" {
    strength = 0.95
  }
  shows "history_sudden" {
    strength = probable
  }
  shows "grinding" {
    strength = 0.4
  }
}

mode "driveline_worn" {
  title      = "joints, mounts or axle worn"
  of         = [driveline]
  frequency  = 0.0118
  look       = "play by hand, rubber torn, backlash"
  settled_by = ["look_underneath"]
  shows "harsh_downshift" {
    strength = 0.4
  }
  shows "clunk" {
    strength = expected
  }
  shows "noise_with_road_speed" {
    strength = fifty_fifty
  }
  shows "driveline_play" {
    strength = 0.9
  }
  shows "harsh_engagement@*" {
    strength = fifty_fifty
  }
  shows "whine@*" {
    strength = 0.15
  }
  shows "shudder@*" {
    strength = 0.2
  }
  # A steep joint angle or a loose center bearing shakes where it pulls away, forward
  # and back, and is gone once it rolls.
  shows "shudder@D/1" {
    strength = 0.35
  }
  shows "shudder@R/R" {
    strength = 0.35
  }
  because "age" {
    strength = 0.04
  }
}

# Supply, controller, signals
mode "supply_low" {
  title      = "supply or ground bad"
  of         = [wiring]
  frequency  = 0.004
  look       = "voltage drop under load over the limit, posts loose, strap corroded"
  settled_by = ["charging_voltage", "ground_drop"]
  effect "limp" {
    strength = 0.55
  }
  shows "harsh_engagement@D" {
    strength = 0.35
  }
  shows "line_pressure_high@idle/D" {
    strength = 0.35
  }
  shows "light_on" {
    strength = 0.595
  }
  shows "charging_voltage_low" {
    strength = 0.6
  }
  shows "ground_drop_high" {
    strength = expected
  }
  shows "key_off_cures" {
    strength = fifty_fifty
  }
  shows "several_codes" {
    strength = fifty_fifty
  }
  because "low_voltage" {
    strength = probable
  }
}

mode "connector_open" {
  title      = "outer connector or harness open"
  of         = [wiring]
  frequency  = 0.005
  look       = "pins green, spread or wet; wire chafed"
  settled_by = ["connector_look"]
  effect "limp" {
    strength = 0.8
  }
  shows "harsh_engagement@D" {
    strength = fifty_fifty
  }
  shows "line_pressure_high@idle/D" {
    strength = fifty_fifty
  }
  shows "light_on" {
    strength = probable
  }
  shows "key_off_cures" {
    strength = 0.4
  }
  shows "connector_bad" {
    strength = 0.9
  }
  shows "several_codes" {
    strength = 0.6
  }
  because "accident" {
    strength = improbable
  }
  because "age" {
    strength = 0.012
  }
  because "low_voltage" {
    strength = 0.1
  }
}

mode "controller_fault" {
  title      = "controller failed"
  of         = [controller]
  frequency  = 0.003
  look       = "outputs missing with good supply and signals; codes of its own"
  settled_by = ["tester_shifts"]
  effect "limp" {
    strength = 0.55
  }
  shows "harsh_engagement@D" {
    strength = 0.35
  }
  shows "line_pressure_high@idle/D" {
    strength = 0.35
  }
  shows "light_on" {
    strength = 0.595
  }
  shows "key_off_cures" {
    strength = fifty_fifty
  }
  shows "tester_shifts_fail" {
    strength = fifty_fifty
  }
  shows "better_unplugged" {
    strength = 0.4
  }
}

mode "unlearned" {
  title      = "learned values lost or at their limits"
  of         = [controller]
  formerly   = ["unlearnt"]
  frequency  = 0.003
  look       = "adaptations at start values or at their ends"
  settled_by = ["scan_adaptations"]
  shows "harsh_downshift" {
    strength = 0.3
  }
  shows "harsh_shift@*" {
    strength = fifty_fifty
  }
  shows "adaptations_reset" {
    strength = probable
  }
  shows "gone_after_relearn" {
    strength = expected
  }
  because "adaptations_lost" {
    strength = probable
  }
}

mode "data_wrong" {
  title      = "controller set for other tires or axle"
  of         = [controller]
  frequency  = 0.001
  look       = "road speed and shaft speed do not agree"
  settled_by = ["ask_tires", "scan_ratio"]
  shows "ratio_disagrees" {
    strength = 0.9
  }
  because "wrong_tires" {
    strength = 0.9
  }
}

mode "input_signal_lost" {
  title      = "signal lost or erratic"
  of         = [input_sensor]
  frequency  = 0.0056
  look       = "air gap, chips on the tip, wiring"
  settled_by = ["scan_signals"]
  effect "limp" {
    strength = 0.4
  }
  shows "harsh_engagement@D" {
    strength = uncertain
  }
  shows "line_pressure_high@idle/D" {
    strength = uncertain
  }
  shows "light_on" {
    strength = 0.425
  }
  shows "input_signal_bad" {
    strength = 0.95
  }
  shows "code_P0715" {
    strength = probable
  }
  shows "code_P0730" {
    strength = 0.3
  }
  because "age" {
    strength = 0.012
  }
}

mode "output_signal_lost" {
  title      = "signal lost or erratic"
  of         = [output_sensor]
  frequency  = 0.0066
  look       = "air gap, chips on the tip, wiring, tone ring cracked"
  settled_by = ["scan_signals"]
  effect "limp" {
    strength = 0.4
  }
  shows "harsh_engagement@D" {
    strength = uncertain
  }
  shows "line_pressure_high@idle/D" {
    strength = uncertain
  }
  shows "light_on" {
    strength = 0.425
  }
  shows "output_signal_bad" {
    strength = 0.95
  }
  shows "code_P0720" {
    strength = probable
  }
  shows "speedometer_dead" {
    strength = fifty_fifty
  }
  shows "no_lockup@*" {
    strength = fifty_fifty
  }
  shows "lockup_not_commanded" {
    strength = 0.5
  }
  because "age" {
    strength = 0.012
  }
}

mode "switch_off" {
  title      = "range switch out of adjustment or worn"
  of         = [range_switch]
  frequency  = 0.007
  look       = "range shown and range selected differ, contacts dirty"
  settled_by = ["scan_signals"]
  effect "limp" {
    strength = 0.4
  }
  shows "drops_out_of_gear" {
    strength = improbable
  }
  shows "harsh_engagement@D" {
    strength = uncertain
  }
  shows "line_pressure_high@idle/D" {
    strength = uncertain
  }
  shows "light_on" {
    strength = 0.425
  }
  shows "range_signal_wrong" {
    strength = 0.95
  }
  shows "code_P0705" {
    strength = probable
  }
  shows "no_start_in_park" {
    strength = 0.4
  }
  because "age" {
    strength = 0.02
  }
}

mode "brake_switch_wrong" {
  title      = "brake switch out of adjustment or failed"
  of         = [brake_switch]
  frequency  = 0.004
  look       = "signal on with no foot on the pedal: the converter clutch never comes on"
  settled_by = ["scan_signals"]
  shows "no_lockup@*" {
    strength = 0.8
  }
  shows "brake_signal_wrong" {
    strength = 0.95
  }
  shows "park_stuck" {
    strength = 0.3
  }
  shows "lockup_not_commanded" {
    strength = 0.93
  }
  shows "cruise_dead" {
    strength = 0.5
  }
}

mode "load_signal_high" {
  title      = "load signal reads high"
  of         = [throttle_signal]
  frequency  = 0.004
  look       = "pedal or throttle value above closed at rest"
  settled_by = ["scan_signals"]
  effect "high" {
    strength = expected
  }
  shows "hunts" {
    strength = 0.3
  }
  shows "harsh_downshift" {
    strength = 0.3
  }
  shows "load_signal_wrong" {
    strength = 0.95
  }
  shows "late_shift@up" {
    strength = 0.7
  }
  shows "harsh_shift@*" {
    strength = 0.6
  }
  because "age" {
    strength = 0.008
  }
  because "missed_load_signal" {
    strength = uncertain
  }
}

mode "load_signal_low" {
  title      = "load signal reads low or drops out"
  of         = [throttle_signal]
  frequency  = 0.004
  look       = "value does not follow the pedal, dropout in its sweep"
  settled_by = ["scan_signals"]
  effect "low" {
    strength = 0.15
  }
  effect "low" {
    strength = fifty_fifty
    when     = heavy_foot
  }
  shows "no_kickdown" {
    strength = expected
  }
  shows "load_signal_wrong" {
    strength = 0.95
  }
  shows "early_shift@*" {
    strength = 0.6
  }
  shows "soft_shift@*" {
    strength = 0.6
  }
  because "age" {
    strength = 0.012
  }
  stresses "low_apply_pressure" {
    strength = uncertain
  }
  because "missed_load_signal" {
    strength = uncertain
  }
}

mode "oil_leaks" {
  title      = "engine oil leaks onto the transmission"
  of         = [engine]
  frequency  = 0.006
  look       = "oil brown, not red; runs down behind the engine from a cover or the rear main seal; the engine's dipstick falls, not the transmission's"
  settled_by = ["leak_trail"]
  shows "history_oil_spots" {
    strength = 0.7
  }
  shows "leak_outside" {
    strength = fifty_fifty
  }
  shows "front_seal_wet" {
    strength = uncertain
  }
  shows "leak_is_engine_oil" {
    strength = 0.93
  }
  because "age" {
    strength = 0.05
  }
}

# The overdrive or mode switch: the gear is good but never commanded.
mode "locks_out_gear" {
  title      = "sticks, or its wire is grounded: the top gear is never commanded"
  of         = [gear_switch]
  frequency  = 0.004
  look       = "switch light on in any position; reads closed pressed or not; the gear comes back with the switch unplugged"
  settled_by = ["scan_commands"]
  effect "missing" {
    strength = 0.95
  }
  shows "not_commanded@served" {
    strength = 0.95
  }
  shows "gear_lamp_on" {
    strength = 0.7
  }
  because "age" {
    strength = 0.006
  }
}
