# How clutch packs, brakes and bands fail. A burnt lining is a victim nearly
# always: find what starved, overheated or overloaded it before the build.
language = 1
basis "recalled" {
  note = "rates per component, of vehicles of the kind and age that a shop sees, orders of magnitude from memory; strengths follow common practice"
}

mode "burnt_friction" {
  title     = "lining burnt"
  of        = [friction_pack]
  frequency = 0.009
  duty      = true
  look      = "lining black, glazed or gone, smells burnt; steels blue or heat-spotted; compare with the outermost plate"
  effect "slips" {
    strength = probable
  }
  effect "slips" {
    strength = fifty_fifty
    when     = heavy_foot
  }
  effect "dead" {
    strength = uncertain
  }
  shows "lining_in_pan" {
    strength = expected
  }
  shows "fluid_burnt_smell" {
    strength = expected
  }
  shows "fluid_dark" {
    strength = fifty_fifty
  }
  shows "lining_in_filter" {
    strength = expected
  }
  shows "history_driven_after" {
    strength = 0.4
  }
  shows "limp_mode" {
    strength = 0.08
  }
  because "low_apply_pressure" {
    strength = 0.12
  }
  because "heat" {
    strength = 0.06
  }
  because "cut_ring" {
    strength = 0.3
  }
  because "lip_cut" {
    strength = uncertain
  }
  because "piston_cracked" {
    strength = 0.4
  }
  because "drum_cracked" {
    strength = 0.4
  }
  because "pack_loose" {
    strength = uncertain
  }
  because "pack_tight" {
    strength = fifty_fifty
  }
  because "ball_blocked" {
    strength = 0.3
    scope    = shares
  }
  because "springs_broken" {
    strength = 0.15
    scope    = shares
  }
  because "gasket_blown" {
    strength = 0.15
  }
  because "accumulator_leaks" {
    strength = 0.15
  }
  because "roller_seized" {
    strength = 0.3
    scope    = against
  }
  because "servo_stuck_on" {
    strength = 0.3
    scope    = against
  }
}

# Water swells paper lining and dissolves what glues it on: it comes off in sheets.
mode "lining_soaked" {
  title      = "lining soaked by water or coolant, coming off"
  of         = [friction_pack, band]
  frequency  = 0.0001
  look       = "lining soft and swollen, wipes off with a thumb or lies loose; steels rusty"
  settled_by = ["fluid_look"]
  effect "slips" {
    strength = probable
  }
  shows "lining_in_pan" {
    strength = 0.6
  }
  shows "lining_in_filter" {
    strength = 0.6
  }
  because "watered" {
    strength = 0.6
    scope    = any
  }
}

mode "lining_bare" {
  title     = "lining worn thin"
  of        = [friction_pack]
  frequency = 0.002
  duty      = true
  look      = "lining even, thin, grooves gone, steels bright and smooth; fluid not burnt"
  effect "slips" {
    strength = expected
  }
  effect "applies_late" {
    strength = uncertain
  }
  shows "clearance_high@served" {
    strength = probable
  }
  because "age" {
    strength = 0.012
  }
}

# What is held against welded plates burns, too. That is here as the lining and the
# smell that it leaves. An arrow from every pack to every other takes next 10% more work
# over the demos; one to bands alone makes the tree of an empty case of northfork-4
# 158,000 entries of the 131,000 that prices allow, and its first question fails.
mode "plates_welded" {
  title     = "plates stuck together"
  of        = [friction_pack]
  frequency = 0.0012
  look      = "pack comes out as one piece; steels blue, welded or hung in worn splines of the hub"
  effect "stays_on" {
    strength = 0.9
  }
  shows "clearance_low@served" {
    strength = fifty_fifty
  }
  shows "history_bind_first" {
    strength = 0.4
  }
  shows "lining_in_pan" {
    strength = 0.4
  }
  shows "fluid_burnt_smell" {
    strength = 0.4
  }
  because "heat" {
    strength = 0.008
  }
}

mode "plates_warped" {
  title     = "plates warped"
  of        = [friction_pack]
  frequency = 0.002
  look      = "steels coned or heat-spotted on one radius; they rock on a flat plate"
  effect "drags" {
    strength = 0.4
  }
  effect "shudders" {
    strength = fifty_fifty
  }
  because "heat" {
    strength = 0.015
  }
  because "pack_tight" {
    strength = 0.2
    scope    = same
  }
}

mode "pack_loose" {
  title     = "clearance too wide"
  of        = [friction_pack]
  frequency = 0.001
  look      = "feeler passes above the limit; a plate too few or the wrong snap ring"
  effect "applies_late" {
    strength = 0.6
  }
  shows "clearance_high@served" {
    strength = 0.95
  }
  shows "bench_clearance_off@served" {
    strength = 0.9
  }
  because "wrong_assembly" {
    strength = 0.06
  }
}

mode "pack_tight" {
  title     = "clearance too narrow"
  of        = [friction_pack]
  frequency = 0.0008
  look      = "no feeler passes; a plate too many or a plate without its groove side"
  effect "drags" {
    strength = 0.6
  }
  shows "clearance_low@served" {
    strength = 0.95
  }
  shows "bench_clearance_off@served" {
    strength = 0.9
  }
  shows "history_bind_first" {
    strength = 0.4
  }
  shows "fluid_burnt_smell" {
    strength = 0.3
  }
  shows "runs_hot" {
    strength = 0.2
  }
  because "wrong_assembly" {
    strength = 0.04
  }
}

# Bands
mode "band_burnt" {
  title     = "band lining burnt"
  of        = [band]
  frequency = 0.008
  duty      = true
  look      = "lining black or down to the strap; drum blue, heat-spotted or polished"
  effect "slips" {
    strength = probable
  }
  effect "slips" {
    strength = fifty_fifty
    when     = heavy_foot
  }
  effect "dead" {
    strength = uncertain
  }
  shows "lining_in_pan" {
    strength = expected
  }
  shows "fluid_burnt_smell" {
    strength = expected
  }
  shows "lining_in_filter" {
    strength = expected
  }
  shows "fluid_dark" {
    strength = fifty_fifty
  }
  shows "limp_mode" {
    strength = 0.08
  }
  because "low_apply_pressure" {
    strength = 0.12
  }
  because "heat" {
    strength = 0.05
  }
  because "servo_bore_worn" {
    strength = uncertain
  }
  because "servo_seal_cut" {
    strength = uncertain
  }
  because "band_loose" {
    strength = 0.3
  }
  because "screw_loose" {
    strength = 0.3
  }
  because "screw_tight" {
    strength = 0.3
  }
  because "accumulator_leaks" {
    strength = 0.12
  }
  because "gasket_blown" {
    strength = 0.12
  }
  because "band_tight" {
    strength = 0.3
    scope    = same
  }
  because "servo_sticks" {
    strength = uncertain
  }
  because "servo_stuck_on" {
    strength = 0.3
  }
  because "roller_seized" {
    strength = 0.3
    scope    = against
  }
}

mode "band_broken" {
  title     = "band broken or lug torn off"
  of        = [band]
  frequency = 0.003
  look      = "strap cracked at the lug, lug bent or gone"
  effect "dead" {
    strength = 0.97
  }
  shows "servo_travel_high@served" {
    strength = expected
  }
  shows "steel_in_pan" {
    strength = uncertain
  }
  because "overload" {
    strength = 0.03
  }
  because "age" {
    strength = 0.006
  }
}

mode "anchor_lost" {
  title     = "strut or anchor dropped out"
  of        = [band]
  frequency = 0.0023
  look      = "strut lies in the pan or beside the drum; anchor pin worn or broken"
  effect "dead" {
    strength = 0.97
  }
  shows "servo_travel_high@served" {
    strength = probable
  }
  shows "part_in_pan" {
    strength = fifty_fifty
  }
  because "band_loose" {
    strength = 0.1
    scope    = same
  }
  because "screw_loose" {
    strength = 0.1
  }
}

mode "band_loose" {
  title     = "band set too loose"
  of        = [band]
  frequency = 0.004
  look      = "more turns of the screw or more pin travel than the limit"
  effect "applies_late" {
    strength = expected
  }
  effect "slips" {
    strength = 0.3
  }
  shows "servo_travel_high@served" {
    strength = 0.9
  }
  because "wrong_assembly" {
    strength = 0.03
  }
  because "age" {
    strength = 0.01
  }
}

mode "screw_loose" {
  title     = "band out of adjustment, too loose"
  of        = [band_screw]
  frequency = 0.004
  look      = "more turns from tight than the book; lock nut loose"
  effect "applies_late" {
    strength = expected
  }
  effect "slips" {
    strength = 0.3
  }
  shows "servo_travel_high@served" {
    strength = 0.9
  }
  because "wrong_assembly" {
    strength = 0.02
  }
  because "age" {
    strength = 0.02
  }
}

mode "screw_tight" {
  title     = "band adjusted too tight"
  of        = [band_screw]
  frequency = 0.001
  look      = "fewer turns from tight than the book"
  effect "drags" {
    strength = 0.6
  }
  effect "releases_late" {
    strength = fifty_fifty
  }
  shows "servo_travel_low@served" {
    strength = 0.9
  }
  shows "history_bind_first" {
    strength = 0.4
  }
  because "wrong_assembly" {
    strength = 0.02
  }
}

mode "band_tight" {
  title     = "band set too tight"
  of        = [band]
  frequency = 0.0015
  look      = "no free travel; drum polished all the way around"
  effect "drags" {
    strength = 0.6
  }
  effect "releases_late" {
    strength = fifty_fifty
  }
  shows "servo_travel_low@served" {
    strength = 0.9
  }
  shows "history_bind_first" {
    strength = 0.4
  }
  because "wrong_assembly" {
    strength = 0.03
  }
}
