# Fluid and pan. Gold flakes: bushings and thrust washers. Steel chips: gear teeth.
# Black pieces: lining. Fine gray paste on the magnet is normal and no finding here.
# (Public study guide for the automatic-transmission technician exam, oil pan page.)
# A clean pan clears no one-way clutch, valve or converter.
language = 1
basis "recalled" {
  note = "signs follow common practice; leaks are of the right size only"
}

finding "fluid_low" {
  title    = "fluid level low"
  stage    = pan
  reporter = "eye"
  leak     = 0.01
  phrases = [
    "fluid is low",
    "quarts low",
    "does not show fluid",
    "low on fluid",
    "fluid is not full",
  ]
}

finding "fluid_overfull" {
  title    = "fluid level too high"
  stage    = pan
  reporter = "eye"
  leak     = 0.01
  phrases  = ["too full", "fluid too full", "fluid above the full mark"]
}

finding "fluid_foamy" {
  title    = "fluid foamy"
  stage    = pan
  reporter = "eye"
  leak     = 0.006
  phrases  = ["foamy", "fluid has bubbles"]
}

finding "fluid_dark" {
  title    = "fluid dark"
  stage    = pan
  reporter = "eye"
  leak     = 0.12
  phrases  = ["fluid is dark", "dark on the dipstick"]
}

finding "fluid_burnt_smell" {
  title    = "fluid smells burnt"
  stage    = pan
  reporter = "eye"
  leak     = 0.02
  phrases  = ["smells burnt", "stinks", "fluid smells burnt"]
}

finding "fluid_milky" {
  title    = "fluid milky"
  stage    = pan
  reporter = "eye"
  leak     = 0.001
  phrases  = ["milky", "fluid is milky"]
}

finding "fluid_wrong_kind" {
  title    = "wrong type of fluid"
  stage    = pan
  reporter = "eye"
  leak     = 0.004
  phrases  = ["wrong fluid", "wrong type of fluid"]
}

finding "varnish_seen" {
  title    = "varnish on dipstick, pan or valves"
  stage    = pan
  reporter = "eye"
  leak     = 0.05
}

finding "pushes_oil_out" {
  title    = "pushes oil out of the filler or vent"
  stage    = pan
  reporter = "eye"
  leak     = 0.004
  phrases = [
    "pushes fluid out",
    "comes out of the vent",
    "pushes fluid out of the vent",
    "pushes out of the vent",
  ]
}

finding "lining_in_pan" {
  title    = "black lining in the pan"
  stage    = pan
  reporter = "eye"
  leak     = 0.02
  phrases  = ["clutch material in the pan", "lining in the pan", "black in the pan", "flakes"]
}

finding "park_parts_off" {
  title    = "park rod or its guide bent, off or worn, or pawl tip rounded, seen with the pan off"
  stage    = pan
  reporter = "eye"
  leak     = 0.002
}

finding "bronze_in_pan" {
  title    = "gold flakes in the pan"
  stage    = pan
  reporter = "eye"
  leak     = 0.02
  phrases  = ["brass in the pan", "gold glitter", "brass"]
}

finding "steel_in_pan" {
  title    = "steel chips in the pan"
  stage    = pan
  reporter = "eye"
  leak     = 0.008
  phrases  = ["steel in the pan", "steel chips", "metal in the pan", "chunks in the pan"]
}

finding "aluminum_in_pan" {
  title    = "aluminum flakes in the pan"
  stage    = pan
  formerly = ["aluminium_in_pan"]
  reporter = "eye"
  leak     = 0.02
}

finding "plastic_in_pan" {
  title    = "plastic pieces in the pan"
  stage    = pan
  reporter = "eye"
  leak     = 0.008
}

finding "part_in_pan" {
  title    = "a whole small part in the pan"
  stage    = pan
  reporter = "eye"
  leak     = 0.002
}

finding "lining_in_filter" {
  title    = "lining in the folds of the filter"
  stage    = pan
  reporter = "eye"
  leak     = 0.02
}

finding "filter_blocked_seen" {
  title    = "filter plugged when cut open"
  stage    = pan
  reporter = "eye"
  leak     = 0.004
}

finding "oil_in_coolant" {
  title    = "oil in the coolant"
  stage    = in_vehicle
  reporter = "eye"
  leak     = 0.003
}

finding "leak_outside" {
  title    = "outside wet with fluid"
  stage    = in_vehicle
  reporter = "eye"
  leak     = 0.03
}

finding "front_seal_wet" {
  title    = "bell housing wet with fluid"
  stage    = in_vehicle
  reporter = "eye"
  leak     = 0.02
  phrases  = ["bell housing wet", "leak at the bell housing", "fluid at the bell housing"]
}

finding "level_rises_overnight" {
  title    = "level after sitting overnight higher than right after driving, by more than the maker allows"
  stage    = pan
  reporter = "eye"
  leak     = 0.01
}

finding "leak_is_engine_oil" {
  title    = "the drip is engine oil, from above"
  stage    = in_vehicle
  reporter = "eye"
  leak     = 0.004
}
