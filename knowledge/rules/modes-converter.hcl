# Converter, converter clutch and its valve. Shudder that goes away at a touch of the
# brake pedal is the converter clutch; a misfire stays. Stator free: low stall, weak
# launch, normal cruise. Stator locked: normal stall, poor top speed, heat.
language = 1
basis "recalled" {
  note = "rates per component, of vehicles of the kind and age that a shop sees, orders of magnitude from memory; strengths follow common practice"
}

mode "stator_free" {
  title     = "stator one-way clutch freewheels"
  of        = [converter]
  frequency = 0.006
  look      = "inner race turns both ways by finger or tool"
  effect "weak" {
    strength = 0.95
  }
  shows "stator_turns_both_ways" {
    strength = 0.95
  }
  because "age" {
    strength = 0.012
  }
}

mode "stator_locked" {
  title     = "stator one-way clutch locked"
  of        = [converter]
  frequency = 0.0025
  look      = "inner race turns neither way; hub blue"
  effect "binds" {
    strength = probable
  }
  shows "poor_top_speed" {
    strength = probable
  }
  shows "runs_hot" {
    strength = expected
  }
  shows "stator_turns_neither_way" {
    strength = 0.95
  }
  because "age" {
    strength = 0.004
  }
  stresses "heat" {
    strength = expected
  }
}

mode "drain_back" {
  title     = "converter drains back when parked"
  of        = [converter]
  frequency = 0.006
  look      = "a delay of a few seconds after a night is ordinary and no reason to pull the unit; longer, or in every start: anti-drain valve or cooler bypass leaks, pump seal ring or O-ring of the shaft worn"
  effect "drains_back" {
    strength = 0.95
    when     = after_standing
  }
  shows "level_rises_overnight" {
    strength = expected
  }
  because "age" {
    strength = 0.025
  }
}

mode "fins_broken" {
  title     = "fins or turbine broken"
  of        = [converter]
  frequency = 0.0012
  look      = "rattle when turned by hand, aluminum or steel from the hub"
  effect "noisy" {
    strength = fifty_fifty
  }
  effect "weak" {
    strength = fifty_fifty
  }
  shows "rattle_at_idle" {
    strength = fifty_fifty
  }
  shows "aluminum_in_pan" {
    strength = fifty_fifty
  }
  shows "steel_in_pan" {
    strength = 0.4
  }
  shows "converter_debris" {
    strength = probable
  }
  because "overload" {
    strength = 0.01
  }
}

mode "hub_worn" {
  title     = "hub scored or excessive runout"
  of        = [converter]
  frequency = 0.003
  look      = "groove under the seal, flats worn, runout over the limit"
  shows "front_seal_wet" {
    strength = 0.6
  }
  shows "hub_scored" {
    strength = 0.95
  }
  shows "runout_high" {
    strength = 0.4
  }
  shows "above_limit@served" {
    strength = 0.6
  }
  because "misaligned" {
    strength = 0.4
  }
  because "age" {
    strength = 0.01
  }
}

mode "hub_broken" {
  title     = "hub or its flats sheared: pump no longer driven"
  of        = [converter]
  frequency = 0.0012
  look      = "flats or slots of the hub rounded or torn, hub loose on the shell"
  effect "no_drive" {
    strength = 0.95
  }
  shows "no_pressure_anywhere" {
    strength = 0.95
  }
  shows "history_sudden" {
    strength = 0.7
  }
  shows "hub_scored" {
    strength = 0.8
  }
  because "misaligned" {
    strength = 0.03
  }
  because "converter_not_seated" {
    strength = 0.2
  }
}

mode "lockup_worn" {
  title      = "converter clutch lining worn"
  of         = [converter_clutch]
  frequency  = 0.004
  look       = "end play of the converter high; lining debris from the hub"
  settled_by = ["converter_look"]
  effect "slips" {
    strength = probable
  }
  effect "dead" {
    strength = 0.3
  }
  effect "shudders" {
    strength = 0.3
    when     = light_foot
  }
  shows "converter_debris" {
    strength = 0.6
  }
  shows "lining_in_pan" {
    strength = 0.4
  }
  shows "lining_in_filter" {
    strength = 0.4
  }
  shows "shudder_gone_at_brake" {
    strength = 0.6
  }
  because "low_apply_pressure" {
    strength = 0.06
  }
  because "age" {
    strength = 0.02
  }
  because "lockup_bore_worn" {
    strength = 0.3
  }
  because "converter_reused" {
    strength = 0.3
  }
}

mode "lockup_glazed" {
  title     = "converter clutch lining glazed or wet with the wrong fluid"
  of        = [converter_clutch]
  frequency = 0.005
  look      = "shudder at light throttle that goes with the brake pedal"
  effect "shudders" {
    strength = 0.9
    when     = light_foot
  }
  shows "shudder_gone_at_brake" {
    strength = 0.9
  }
  shows "gone_with_new_fluid" {
    strength = 0.3
  }
  because "heat" {
    strength = 0.05
  }
  because "wrong_fluid" {
    strength = fifty_fifty
  }
  because "watered" {
    strength = 0.6
    scope    = any
  }
  because "converter_reused" {
    strength = uncertain
  }
}

mode "lockup_seal_cut" {
  title     = "converter clutch seal or shaft O-ring cut"
  of        = [converter_clutch]
  frequency = 0.0043
  look      = "O-ring at the shaft end flat or torn"
  effect "dead" {
    strength = 0.6
  }
  effect "slips" {
    strength = fifty_fifty
  }
  shows "shaft_oring_cut" {
    strength = 0.9
  }
  because "age" {
    strength = 0.012
  }
}

mode "lockup_welded" {
  title     = "converter clutch stays on"
  of        = [converter_clutch]
  frequency = 0.0012
  look      = "plate welded or apply and release crossed"
  effect "stays_on" {
    strength = 0.9
  }
  shows "engine_stalls_at_stop" {
    strength = probable
  }
  because "heat" {
    strength = 0.006
  }
}

mode "lockup_bore_worn" {
  title      = "converter clutch valve or bore worn"
  of         = [lockup_valve]
  frequency  = 0.005
  look       = "bright patch at the land, fails a vacuum test"
  settled_by = ["vacuum_test"]
  effect "slips" {
    strength = 0.2
  }
  effect "slips" {
    strength = 0.7
    when     = hot
  }
  effect "dead" {
    strength = 0.3
    when     = hot
  }
  effect "shudders" {
    strength = 0.35
  }
  shows "lockup_bore_leaks" {
    strength = 0.85
  }
  shows "valve_bore_leaks" {
    strength = probable
  }
  shows "shudder_gone_at_brake" {
    strength = 0.35
  }
  because "age" {
    strength = 0.03
  }
  because "missed_valve_bore" {
    strength = 0.3
  }
}

mode "lockup_valve_stuck_off" {
  title     = "converter clutch valve stuck off"
  of        = [lockup_valve]
  frequency = 0.003
  look      = "valve sticks in release"
  effect "dead" {
    strength = 0.9
  }
  shows "valve_sticks" {
    strength = 0.8
  }
  because "dirt" {
    strength = 0.03
  }
}

mode "lockup_valve_stuck_on" {
  title     = "converter clutch valve stuck on"
  of        = [lockup_valve]
  frequency = 0.0015
  look      = "valve sticks in apply"
  effect "stays_on" {
    strength = 0.9
  }
  shows "valve_sticks" {
    strength = 0.8
  }
  shows "engine_stalls_at_stop" {
    strength = expected
  }
  because "dirt" {
    strength = 0.015
  }
}

mode "flexplate_cracked" {
  title     = "flexplate cracked or bolts loose"
  of        = [flexplate]
  frequency = 0.0048
  look      = "crack around the bolt circle or ring gear, bolts backed out, rust dust"
  effect "no_drive" {
    strength = 0.2
  }
  shows "rattle_at_idle" {
    strength = probable
  }
  shows "flexplate_crack_seen" {
    strength = 0.9
  }
  shows "no_pressure_anywhere" {
    strength = 0.2
  }
  shows "history_sudden" {
    strength = 0.4
  }
  because "misaligned" {
    strength = 0.4
  }
}
