# Pump, filter, regulator, castings: line pressure for everything.
# Tired pump, worn bore: worse hot. A filter drawn full: works some minutes, then slips.
language = 1
basis "recalled" {
  note = "rates per component and per unit that comes in with a complaint, orders of magnitude from memory; strengths follow common practice"
}

mode "pump_worn" {
  title     = "pump worn"
  of        = [pump]
  frequency = 0.0144
  look      = "gear pocket, crescent or faces scored; clearance over the limit"
  effect "low" {
    strength = expected
    when     = hot
  }
  shows "whine_in_neutral" {
    strength = fifty_fifty
  }
  shows "pump_clearance_wide" {
    strength = 0.95
  }
  because "age" {
    strength = 0.04
  }
  stresses "low_apply_pressure" {
    strength = fifty_fifty
  }
}

mode "pump_drive_broken" {
  title     = "pump drive broken"
  of        = [pump]
  frequency = 0.003
  look      = "lugs or flats of the drive gear or hub sheared; gear cracked"
  effect "no_drive" {
    strength = 0.95
  }
  shows "no_pressure_anywhere" {
    strength = 0.97
  }
  shows "history_sudden" {
    strength = expected
  }
  because "misaligned" {
    strength = 0.06
  }
}

mode "pump_cracked" {
  title     = "pump body cracked or gasket side leaks"
  of        = [pump]
  frequency = 0.002
  look      = "hairline between ports; air dams of the gasket washed away"
  effect "low" {
    strength = 0.7
  }
  shows "fluid_foamy" {
    strength = 0.4
  }
  shows "whine_in_neutral" {
    strength = fifty_fifty
  }
  shows "pump_leak_seen" {
    strength = expected
  }
  stresses "low_apply_pressure" {
    strength = fifty_fifty
  }
}

# The pump bushing is a victim of age and misalignment only: heat and lack of oil
# would close a circle through the front seal and the fluid level.
mode "pump_bushing_worn" {
  title      = "pump bushing worn or walked out"
  of         = [pump_bushing]
  frequency  = 0.007
  look       = "bushing polished on one side, turned, or out of its bore; hub scored"
  settled_by = ["runout", "bushing_fit"]
  effect "low" {
    strength = uncertain
    when     = hot
  }
  shows "bronze_in_pan" {
    strength = 0.4
  }
  shows "front_seal_wet" {
    strength = fifty_fifty
  }
  shows "pump_bushing_loose" {
    strength = 0.95
  }
  because "age" {
    strength = 0.03
  }
  because "misaligned" {
    strength = 0.4
  }
  because "hub_worn" {
    strength = 0.4
    scope    = any
  }
}

mode "seal_leaks" {
  title      = "seal or gasket leaks"
  of         = [external_seal]
  frequency  = 0.012
  look       = "lip hard or nicked, spring off, witness line of oil"
  settled_by = ["leak_trail"]
  shows "leak_outside" {
    strength = probable
  }
  shows "history_oil_spots" {
    strength = 0.6
  }
  because "age" {
    strength = 0.06
  }
  because "pump_bushing_worn" {
    strength = uncertain
    scope    = any
  }
  because "wrong_assembly" {
    strength = 0.08
  }
}

# A filter blocked by neglect starves the unit. One packed by a burnt clutch only
# shows it: see the layering in stresses.hcl.
mode "filter_neglected" {
  title      = "filter blocked by old fluid"
  of         = [filter]
  frequency  = 0.003
  look       = "felt or screen brown and closed, no lining in it"
  settled_by = ["filter_cut"]
  effect "low" {
    strength = expected
    when     = hot
  }
  shows "slips_after_minutes" {
    strength = fifty_fifty
  }
  shows "whine_in_neutral" {
    strength = fifty_fifty
  }
  shows "filter_blocked_seen" {
    strength = 0.9
  }
  because "dirt" {
    strength = 0.1
  }
  stresses "low_apply_pressure" {
    strength = fifty_fifty
  }
}

mode "filter_packed" {
  title      = "filter drawn full of debris"
  of         = [filter]
  frequency  = 0.0098
  look       = "black lining or metal in the folds when cut open"
  settled_by = ["filter_cut"]
  effect "low" {
    strength = 0.6
    when     = hot
  }
  shows "slips_after_minutes" {
    strength = expected
  }
  shows "lining_in_filter" {
    strength = certain
  }
  shows "whine_in_neutral" {
    strength = 0.4
  }
  shows "filter_blocked_seen" {
    strength = expected
  }
}

mode "filter_seal_off" {
  title     = "filter seal cut or filter dropped"
  of        = [filter]
  frequency = 0.003
  look      = "neck O-ring nicked, doubled or missing; filter loose in the pan"
  effect "low" {
    strength = 0.6
  }
  shows "fluid_foamy" {
    strength = fifty_fifty
  }
  shows "whine_in_neutral" {
    strength = fifty_fifty
  }
  shows "history_fluid_changed" {
    strength = 0.4
  }
  because "wrong_assembly" {
    strength = 0.04
  }
  because "warped_or_wrong_parts" {
    strength = 0.06
  }
  stresses "low_apply_pressure" {
    strength = fifty_fifty
  }
}

# Regulator and boost valves
mode "bore_worn" {
  title      = "bore worn"
  of         = [regulator]
  frequency  = 0.01
  look       = "bright patch in the bore where the land sweeps; valve rocks; fails a vacuum test"
  settled_by = ["vacuum_test"]
  effect "low" {
    strength = 0.6
    when     = hot
  }
  shows "valve_bore_leaks" {
    strength = 0.9
  }
  because "age" {
    strength = 0.04
  }
  because "missed_valve_bore" {
    strength = 0.35
  }
  stresses "low_apply_pressure" {
    strength = fifty_fifty
  }
}

mode "valve_stuck_high" {
  title     = "regulator or boost valve sticks, pressure high"
  of        = [regulator]
  frequency = 0.0042
  look      = "valve hangs; varnish or a scratch holds it"
  effect "high" {
    strength = probable
  }
  shows "valve_sticks" {
    strength = expected
  }
  because "dirt" {
    strength = 0.03
  }
}

mode "valve_stuck_low" {
  title     = "regulator or boost valve sticks, pressure low"
  of        = [regulator]
  frequency = 0.0042
  look      = "valve hangs open; spring short or broken"
  effect "low" {
    strength = probable
  }
  shows "valve_sticks" {
    strength = expected
  }
  because "dirt" {
    strength = 0.03
  }
  stresses "low_apply_pressure" {
    strength = fifty_fifty
  }
}

mode "body_warped" {
  title      = "casting warped or cross-leaking"
  of         = [valve_body]
  frequency  = 0.003
  look       = "straightedge shows light; land eroded between channels"
  settled_by = ["straightedge"]
  effect "low" {
    strength = fifty_fifty
  }
  shows "straightedge_light" {
    strength = 0.9
  }
  because "wrong_assembly" {
    strength = 0.03
  }
  because "warped_or_wrong_parts" {
    strength = 0.3
  }
  stresses "low_apply_pressure" {
    strength = uncertain
  }
}
