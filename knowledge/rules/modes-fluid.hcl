# The fluid and its cooler: to check before anything is blamed.
language = 1
basis "recalled" {
  note = "rates per component, of vehicles of the kind and age that a shop sees, orders of magnitude from memory; strengths follow common practice"
}

mode "level_low" {
  title      = "fluid low"
  of         = [fluid]
  frequency  = 0.015
  look       = "level below the maker's hot range"
  settled_by = ["fluid_level"]
  effect "low" {
    strength = 0.4
  }
  effect "no_drive" {
    strength = 0.12
  }
  effect "no_drive" {
    strength = 0.25
    when     = hot
  }
  shows "drops_out_of_gear" {
    strength = 0.2
  }
  shows "fluid_low" {
    strength = 0.97
  }
  shows "whine_in_neutral" {
    strength = 0.4
  }
  shows "slips_in_bends" {
    strength = fifty_fifty
  }
  shows "no_pressure_anywhere" {
    strength = 0.12
  }
  shows "slips_after_minutes" {
    strength = 0.3
  }
  shows "gone_with_level_set" {
    strength = 0.9
  }
  shows "gone_with_new_fluid" {
    strength = 0.9
  }
  shows "history_leak_first" {
    strength = fifty_fifty
  }
  because "seal_leaks" {
    strength = uncertain
    scope    = any
  }
  because "leak_neglected" {
    strength = probable
  }
  because "front_seal_leaks" {
    strength = uncertain
    scope    = any
  }
  stresses "low_apply_pressure" {
    strength = 0.3
  }
  stresses "no_lubrication" {
    strength = 0.2
  }
  stresses "heat" {
    strength = uncertain
  }
}

mode "aerated" {
  title      = "fluid aerated"
  of         = [fluid]
  frequency  = 0.004
  look       = "foam on the dipstick, level high or churned"
  settled_by = ["fluid_level"]
  effect "low" {
    strength = fifty_fifty
  }
  shows "fluid_foamy" {
    strength = 0.95
  }
  shows "whine_in_neutral" {
    strength = 0.4
  }
  shows "pushes_oil_out" {
    strength = 0.4
  }
  shows "gone_with_level_set" {
    strength = 0.7
  }
  shows "gone_with_new_fluid" {
    strength = 0.7
  }
  because "overfilled" {
    strength = 0.6
  }
  because "level_low" {
    strength = 0.1
    scope    = same
  }
  stresses "low_apply_pressure" {
    strength = uncertain
  }
}

mode "wrong_kind" {
  title      = "wrong type of fluid"
  of         = [fluid]
  frequency  = 0.002
  look       = "color, smell or label not those of the maker's fluid"
  settled_by = ["fluid_look"]
  shows "fluid_wrong_kind" {
    strength = 0.6
  }
  shows "shudder@*" {
    strength = fifty_fifty
    when     = light_foot
  }
  shows "shudder_gone_at_brake" {
    strength = 0.4
  }
  shows "soft_shift@*" {
    strength = fifty_fifty
  }
  shows "history_fluid_changed" {
    strength = 0.6
  }
  shows "gone_with_new_fluid" {
    strength = expected
  }
  because "wrong_fluid" {
    strength = 0.9
  }
}

mode "cooked" {
  title      = "fluid oxidized"
  of         = [fluid]
  frequency  = 0.003
  look       = "brown to black, smells burnt, leaves varnish"
  settled_by = ["fluid_look"]
  shows "fluid_burnt_smell" {
    strength = probable
  }
  shows "fluid_dark" {
    strength = 0.9
  }
  shows "varnish_seen" {
    strength = 0.6
  }
  because "heat" {
    strength = 0.2
  }
}

mode "watered" {
  title      = "water or coolant in it"
  of         = [fluid]
  frequency  = 0.0005
  look       = "milky, pink foam"
  settled_by = ["fluid_look"]
  shows "fluid_milky" {
    strength = 0.97
  }
  shows "shudder@*" {
    strength = 0.3
  }
  because "water_in_fluid" {
    strength = 0.95
  }
  because "cooler_cross_leak" {
    strength = 0.95
    scope    = any
  }
  because "cooler_leaks_inside" {
    strength = 0.9
  }
}

# Cooler
mode "cooler_blocked" {
  title      = "cooler or line blocked"
  of         = [cooler]
  frequency  = 0.006
  look       = "flow under the maker's figure; debris from the return line"
  settled_by = ["cooler_flow"]
  shows "cooler_flow_low" {
    strength = 0.95
  }
  shows "runs_hot" {
    strength = expected
  }
  shows "cooler_debris" {
    strength = fifty_fifty
  }
  because "dirt" {
    strength = 0.08
  }
  because "cooler_not_flushed" {
    strength = 0.6
  }
  stresses "heat" {
    strength = expected
  }
  stresses "no_lubrication" {
    strength = 0.4
  }
}

mode "cooler_cross_leak" {
  title      = "cooler leaks into the coolant"
  of         = [cooler]
  frequency  = 0.0002
  look       = "oil in the radiator, coolant in the pan"
  settled_by = ["fluid_look"]
  shows "fluid_milky" {
    strength = 0.9
  }
  shows "oil_in_coolant" {
    strength = expected
  }
  because "cooler_leaks_inside" {
    strength = 0.97
  }
}
