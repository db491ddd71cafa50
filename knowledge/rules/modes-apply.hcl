# Pistons, drums, rings and servos: what brings pressure to the plates.
# A hardened lip is late when cold and better warm; what is cut or worn leaks a
# little cold and more hot, when the oil is thin.
language = 1
basis "recalled" {
  note = "rates per component, of vehicles of the kind and age that a shop sees, orders of magnitude from memory; strengths follow common practice"
}

mode "lip_hardened" {
  title     = "lip seals hardened"
  of        = [piston]
  frequency = 0.005
  look      = "lip stiff, keeps the shape of the bore, cracks when bent"
  effect "applies_late" {
    strength = probable
    when     = cold
  }
  effect "applies_late" {
    strength = probable
    when     = after_standing
  }
  shows "leakdown_fails@served" {
    strength = fifty_fifty
  }
  because "age" {
    strength = 0.025
  }
}

mode "lip_cut" {
  title      = "lip seal cut or rolled"
  of         = [piston]
  frequency  = 0.005
  look       = "lip nicked, rolled under or folded back; witness line where oil passed"
  settled_by = ["solvent_leakdown", "air_check"]
  effect "leaks" {
    strength = probable
    when     = hot
  }
  effect "dead" {
    strength = uncertain
  }
  shows "leakdown_fails@served" {
    strength = 0.9
  }
  shows "lip_wrong" {
    strength = uncertain
  }
  because "lip_hardened" {
    strength = 0.1
    scope    = same
  }
}

mode "piston_cracked" {
  title     = "piston cracked"
  of        = [piston]
  frequency = 0.002
  look      = "hairline at the apply surface or around the check ball; solvent weeps through"
  effect "slips" {
    strength = 0.8
  }
  effect "dead" {
    strength = uncertain
  }
  shows "leakdown_fails@served" {
    strength = 0.95
  }
  shows "air_check_fails@served" {
    strength = expected
  }
  shows "piston_crack_seen@served" {
    strength = 0.9
  }
  because "missed_crack" {
    strength = uncertain
  }
}

mode "springs_broken" {
  title     = "return springs broken or seat bent"
  of        = [piston]
  frequency = 0.001
  look      = "springs short, retainer cocked, snap ring out of its groove"
  effect "drags" {
    strength = fifty_fifty
  }
  effect "releases_late" {
    strength = fifty_fifty
  }
  shows "air_check_fails@served" {
    strength = 0.25
  }
  shows "springs_off@served" {
    strength = 0.97
  }
  shows "steel_in_pan" {
    strength = 0.2
  }
}

# Drums. A blocked balance or check ball drags at high drum speed.
mode "ring_lands_scored" {
  title     = "ring lands or bore of the drum scored"
  of        = [drum]
  frequency = 0.0053
  look      = "grooves worn where the rings run; nail catches"
  effect "leaks" {
    strength = expected
    when     = hot
  }
  # In view as its rings are changed: missed less often than a loose bushing.
  because "missed_bushing" {
    strength = 0.12
  }
}

mode "drum_cracked" {
  title      = "drum cracked"
  of         = [drum]
  frequency  = 0.0006
  look       = "crack at the hub weld, in a snap ring groove or across a feed hole; solvent weeps through; show it with dye"
  settled_by = ["solvent_leakdown"]
  effect "slips" {
    strength = expected
  }
  effect "leaks" {
    strength = expected
  }
  effect "dead" {
    strength = uncertain
  }
  shows "leakdown_fails@served" {
    strength = 0.9
  }
  shows "air_check_fails@served" {
    strength = expected
  }
  shows "drum_crack_seen@served" {
    strength = 0.9
  }
  shows "history_sudden" {
    strength = 0.4
  }
  because "missed_crack" {
    strength = 0.08
  }
  because "overload" {
    strength = 0.006
  }
}

mode "ball_blocked" {
  title     = "check ball blocked shut"
  of        = [drum]
  frequency = 0.001
  look      = "ball does not rattle; varnish in its seat; pack burnt evenly though never slipping under load"
  effect "drags" {
    strength = expected
    when     = high_rpm
  }
  effect "releases_late" {
    strength = 0.4
  }
  shows "drum_ball_off@served" {
    strength = 0.95
  }
  shows "history_bind_first" {
    strength = 0.4
  }
}

mode "ball_missing" {
  title     = "check ball missing or not seating"
  of        = [drum]
  frequency = 0.001
  look      = "ball gone, seat pitted or peened"
  effect "slips" {
    strength = 0.8
  }
  effect "dead" {
    strength = improbable
  }
  shows "leakdown_fails@served" {
    strength = 0.97
  }
  shows "air_check_fails@served" {
    strength = 0.6
  }
  shows "drum_ball_off@served" {
    strength = 0.95
  }
  because "missed_crack" {
    strength = uncertain
  }
}

# Rings, sleeves, bushings that seal
mode "cut_ring" {
  title      = "ring cut, worn or stuck in its groove"
  of         = [seal_ring]
  frequency  = 0.009
  look       = "ring nicked, broken at the hook, flush with its groove, or gap too wide; wear marks in the bore"
  settled_by = ["ring_gaps", "air_check"]
  effect "leaks" {
    strength = probable
    when     = hot
  }
  shows "ring_gap_wide@served" {
    strength = expected
  }
  because "age" {
    strength = 0.035
  }
}

mode "sleeve_leaks" {
  title      = "sleeve loose or worn"
  of         = [feed_sleeve]
  frequency  = 0.003
  look       = "sleeve turns by hand, steps worn by the rings, cross leak under air"
  settled_by = ["wet_air_check"]
  effect "leaks" {
    strength = expected
    when     = hot
  }
  shows "support_leak" {
    strength = 0.9
  }
  because "age" {
    strength = 0.01
  }
  because "missed_bushing" {
    strength = uncertain
  }
}

mode "bushing_worn" {
  title      = "bushing worn or spun"
  of         = [bushing]
  frequency  = 0.01
  look       = "copper shows, bushing moved in its bore, shaft scored; fit over the limit"
  settled_by = ["bushing_fit"]
  effect "leaks" {
    strength = 0.35
    when     = hot
  }
  shows "bronze_in_pan" {
    strength = expected
  }
  shows "bushing_loose" {
    strength = 0.9
  }
  shows "above_limit@served" {
    strength = probable
  }
  because "age" {
    strength = 0.04
  }
  because "no_lubrication" {
    strength = 0.4
  }
  because "missed_bushing" {
    strength = 0.3
  }
}

# Servos
mode "servo_bore_worn" {
  title      = "servo bore or pin worn"
  of         = [servo]
  frequency  = 0.005
  look       = "bore scored where the seal sweeps; pin bore oval"
  settled_by = ["air_check"]
  effect "leaks" {
    strength = expected
    when     = hot
  }
  shows "leakdown_fails@served" {
    strength = fifty_fifty
  }
  because "age" {
    strength = 0.03
  }
  because "missed_servo" {
    strength = 0.3
  }
}

mode "servo_seal_cut" {
  title      = "servo seal cut or hard"
  of         = [servo]
  frequency  = 0.005
  look       = "seal nicked or stiff; trace of oil on the cover"
  settled_by = ["air_check"]
  effect "leaks" {
    strength = expected
    when     = hot
  }
  effect "applies_late" {
    strength = fifty_fifty
    when     = cold
  }
  effect "dead" {
    strength = 0.2
  }
  shows "leakdown_fails@served" {
    strength = expected
  }
  because "age" {
    strength = 0.03
  }
}

mode "servo_sticks" {
  title     = "servo piston sticks"
  of        = [servo]
  frequency = 0.002
  look      = "piston does not return by its spring; pin bent"
  effect "releases_late" {
    strength = 0.6
  }
  effect "applies_late" {
    strength = 0.3
  }
  shows "history_bind_first" {
    strength = 0.4
  }
}

mode "release_seal_cut" {
  title      = "release seal leaks"
  of         = [servo_release]
  frequency  = 0.004
  look       = "release side lip nicked; pressure of the other element passes here"
  settled_by = ["air_check"]
  effect "leaks" {
    strength = expected
    when     = hot
  }
  shows "leakdown_fails@served" {
    strength = expected
  }
  because "age" {
    strength = 0.03
  }
  because "missed_servo" {
    strength = 0.3
  }
}

# The case
mode "case_bore_worn" {
  title      = "bore or passage of the case worn, porous or cracked"
  of         = [case]
  frequency  = 0.002
  look       = "bore scored where a seal sweeps, passage eroded, crack between two ports"
  settled_by = ["air_check"]
  effect "leaks" {
    strength = 0.6
    when     = hot
  }
  shows "air_check_fails@served" {
    strength = 0.6
  }
  because "age" {
    strength = 0.01
  }
}

mode "servo_stuck_on" {
  title      = "servo piston cocked or stuck applied"
  of         = [servo]
  frequency  = 0.0015
  look       = "piston cocked in its bore, return spring in backward or broken; band tight with no air on it"
  settled_by = ["servo_travel", "air_check"]
  effect "stays_on" {
    strength = 0.95
  }
  shows "servo_travel_low@served" {
    strength = 0.8
  }
  shows "history_bind_first" {
    strength = 0.4
  }
  because "careless_build" {
    strength = 0.05
  }
  because "wrong_assembly" {
    strength = 0.03
  }
}
