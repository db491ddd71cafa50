# One-way clutches, gears, shafts and bearings. A clean pan clears no one-way
# clutch. A whine that goes away in direct drive is the planetary gearset.
language = 1
basis "recalled" {
  note = "rates per component, of vehicles of the kind and age that a shop sees, orders of magnitude from memory; strengths follow common practice"
}

mode "roller_spent" {
  title     = "rollers or sprags worn out, cage or springs broken"
  of        = [one_way_clutch]
  frequency = 0.0051
  look      = "race rolled or scored, rollers flat, springs folded; it slips both ways by hand"
  effect "slips" {
    strength = 0.6
  }
  effect "dead" {
    strength = 0.6
  }
  shows "turns_both_ways@served" {
    strength = 0.95
  }
  shows "history_sudden" {
    strength = fifty_fifty
  }
  shows "limp_mode" {
    strength = 0.08
  }
  because "overload" {
    strength = 0.03
  }
  because "age" {
    strength = 0.012
  }
}

mode "roller_seized" {
  title     = "seized"
  of        = [one_way_clutch]
  frequency = 0.0012
  look      = "blue, turns neither way"
  effect "seized" {
    strength = 0.97
  }
  shows "turns_neither_way@served" {
    strength = 0.95
  }
  shows "history_bind_first" {
    strength = 0.4
  }
  because "no_lubrication" {
    strength = 0.03
  }
}

mode "roller_reversed" {
  title      = "installed backward"
  of         = [one_way_clutch]
  frequency  = 0.0003
  look       = "free in the direction that should hold"
  settled_by = ["one_way_direction"]
  effect "reversed" {
    strength = certain
  }
  shows "holds_wrong_way@served" {
    strength = 0.97
  }
  because "careless_build" {
    strength = 0.06
  }
}

# Gears, shafts, shells
mode "teeth_worn" {
  title     = "teeth or pinion needles worn"
  of        = [gearset]
  frequency = 0.0087
  look      = "pinions rock on their pins, teeth pitted; pinion end play over the limit"
  effect "noisy" {
    strength = 0.95
  }
  shows "steel_in_pan" {
    strength = fifty_fifty
  }
  shows "above_limit@served" {
    strength = expected
  }
  because "no_lubrication" {
    strength = 0.2
  }
  because "age" {
    strength = 0.012
  }
}

mode "teeth_broken" {
  title     = "teeth broken"
  of        = [gearset]
  frequency = 0.0015
  look      = "chips in the pan, tooth roots open"
  effect "noisy" {
    strength = 0.97
  }
  shows "steel_in_pan" {
    strength = 0.9
  }
  shows "grinding" {
    strength = probable
  }
  shows "history_sudden" {
    strength = expected
  }
  because "overload" {
    strength = 0.02
  }
}

mode "spline_stripped" {
  title     = "spline stripped or shaft broken"
  of        = [shaft]
  frequency = 0.0009
  look      = "spline rolled smooth, shaft twisted or sheared"
  effect "broken" {
    strength = 0.97
  }
  shows "steel_in_pan" {
    strength = 0.4
  }
  shows "history_sudden" {
    strength = 0.6
  }
  shows "input_spline_off" {
    strength = 0.95
  }
  because "overload" {
    strength = 0.01
  }
}

mode "output_spline_stripped" {
  title     = "output spline stripped or shaft broken"
  of        = [output_shaft]
  frequency = 0.0009
  look      = "spline rolled smooth, shaft twisted or sheared"
  effect "broken" {
    strength = 0.97
  }
  shows "output_spline_off" {
    strength = 0.95
  }
  shows "steel_in_pan" {
    strength = 0.4
  }
  shows "history_sudden" {
    strength = 0.6
  }
  because "overload" {
    strength = 0.01
  }
}

mode "shell_broken" {
  title     = "shell or weld broken"
  of        = [shell]
  frequency = 0.002
  look      = "shell cracked at the neck, spline of the sun stripped, weld torn"
  effect "broken" {
    strength = 0.97
  }
  shows "steel_in_pan" {
    strength = fifty_fifty
  }
  shows "history_sudden" {
    strength = 0.6
  }
  because "overload" {
    strength = 0.03
  }
  because "age" {
    strength = 0.005
  }
}

mode "washer_worn" {
  title      = "thrust washer or bearing worn out"
  of         = [thrust_washer]
  frequency  = 0.007
  look       = "tabs gone, washer in two, bearing blue; end play over the limit"
  settled_by = ["end_play", "thrust_places"]
  shows "bronze_in_pan" {
    strength = 0.6
  }
  shows "plastic_in_pan" {
    strength = uncertain
  }
  shows "above_limit@served" {
    strength = 0.9
  }
  shows "end_play_high" {
    strength = 0.9
  }
  because "no_lubrication" {
    strength = 0.35
  }
  because "age" {
    strength = 0.03
  }
  because "wrong_assembly" {
    strength = 0.05
  }
}

mode "washer_misplaced" {
  title      = "thrust washer in the wrong place or too thin"
  of         = [thrust_washer]
  frequency  = 0.001
  look       = "marks of a washer where none belongs; selective washer not the one measured"
  settled_by = ["thrust_places", "end_play"]
  shows "washer_marks" {
    strength = probable
  }
  shows "end_play_high" {
    strength = fifty_fifty
  }
  shows "above_limit@served" {
    strength = fifty_fifty
  }
  shows "bronze_in_pan" {
    strength = 0.4
  }
  because "careless_build" {
    strength = 0.1
  }
}

# Too little end play is hardly ever wear: the selective washer is too thick, or one
# is in twice. It runs hot and eats itself.
mode "washer_thick" {
  title      = "thrust washer too thick, or one too many"
  of         = [thrust_washer]
  frequency  = 0.0006
  look       = "washer blue or scuffed on both sides, shaft stiff to turn; not the thickness that was measured"
  settled_by = ["end_play", "thrust_places"]
  shows "end_play_low" {
    strength = 0.9
  }
  shows "below_limit@served" {
    strength = 0.9
  }
  shows "washer_marks" {
    strength = fifty_fifty
  }
  shows "bronze_in_pan" {
    strength = 0.3
  }
  because "careless_build" {
    strength = 0.08
  }
  because "wrong_assembly" {
    strength = 0.05
  }
}

mode "pawl_broken" {
  title      = "park pawl or wheel worn or broken"
  of         = [park_mechanism]
  frequency  = 0.0016
  look       = "pawl tip rounded, teeth of the wheel chipped, pin loose, return spring off"
  settled_by = ["park_hold"]
  shows "park_rolls" {
    strength = 0.95
  }
  shows "park_refused" {
    strength = 0.1
  }
  shows "park_stuck" {
    strength = 0.1
  }
  shows "park_parts_off" {
    strength = 0.4
  }
  shows "steel_in_pan" {
    strength = 0.2
  }
  because "abused" {
    strength = 0.06
  }
}

# The rod wedges its cone between pawl and guide: bent, or with its spring gone, it does
# not push the pawl home, or holds the lever.
mode "park_rod_off" {
  title      = "park rod bent or off, its spring or guide broken"
  of         = [park_mechanism]
  frequency  = 0.0012
  look       = "rod bent or off its lever, cone stuck on the rod, spring broken, guide worn through or its bolts loose"
  settled_by = ["park_look", "park_hold"]
  shows "park_rolls" {
    strength = 0.6
  }
  shows "park_refused" {
    strength = fifty_fifty
  }
  shows "park_stuck" {
    strength = 0.2
  }
  shows "park_parts_off" {
    strength = 0.9
  }
  shows "part_in_pan" {
    strength = 0.15
  }
}

mode "tail_bushing_worn" {
  title      = "extension housing bushing worn"
  of         = [extension_housing]
  frequency  = 0.004
  look       = "slip yoke rocks in its bushing, rear seal wet again and again, yoke polished on one side"
  settled_by = ["look_underneath"]
  shows "tail_bushing_loose" {
    strength = 0.9
  }
  shows "leak_outside" {
    strength = fifty_fifty
  }
  shows "history_oil_spots" {
    strength = 0.4
  }
  shows "noise_with_road_speed" {
    strength = 0.4
  }
  shows "bronze_in_pan" {
    strength = improbable
  }
  because "age" {
    strength = 0.015
  }
}
