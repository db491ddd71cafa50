# What the driver says about the past. The interview list of a maker's workshop manual
# and common practice.
language = 1
basis "recalled" {
  note = "signs follow common practice; leaks are of the right size only"
}

finding "history_sudden" {
  title    = "came on suddenly"
  stage    = interview
  reporter = "driver"
  leak     = 0.3
  phrases  = ["all of a sudden"]
}

finding "history_rebuilt" {
  title    = "rebuilt, replaced or opened before"
  stage    = interview
  reporter = "driver"
  leak     = 0.05
  phrases  = ["rebuilt"]
}

# A cause that the last build missed brings the vehicle back with the same complaint.
# The leak is of all vehicles, built before or not.
finding "history_same_again" {
  title    = "same complaint as before the last repair"
  stage    = interview
  reporter = "driver"
  leak     = 0.01
  phrases  = ["same as before they rebuilt", "same problem as before", "came back with the same", "doing the same thing again", "same complaint as before", "still does it after the rebuild"]
}

finding "history_front_seal_again" {
  title    = "front seal or pump bushing replaced before"
  stage    = interview
  reporter = "driver"
  leak     = 0.004
  phrases  = ["front seal leaked again", "front seal replaced", "new front seal"]
}

finding "history_fluid_neglected" {
  title    = "fluid never changed"
  stage    = interview
  reporter = "driver"
  leak     = 0.2
  phrases  = ["never changed", "original fluid", "never had the fluid changed"]
}

finding "history_fluid_changed" {
  title    = "fluid changed shortly before or after it began"
  stage    = interview
  reporter = "driver"
  leak     = 0.08
  clears   = ["fluid_dark", "fluid_burnt_smell", "fluid_milky", "fluid_wrong_kind", "lining_in_pan", "bronze_in_pan", "steel_in_pan", "aluminum_in_pan", "plastic_in_pan", "part_in_pan", "lining_in_filter", "filter_blocked_seen", "fluid_foamy"]
  cleared  = 0.7
  phrases  = ["fluid changed", "flushed"]
}

finding "history_fluid_added" {
  title    = "fluid added"
  stage    = interview
  reporter = "driver"
  leak     = 0.1
  phrases  = ["added fluid", "topped up"]
}

finding "history_other_fluid" {
  title    = "fluid of another kind than the maker's was poured in"
  stage    = interview
  reporter = "driver"
  leak     = 0.01
  phrases  = ["universal fluid", "wrong fluid put in", "put in the cheap fluid"]
}

finding "history_oil_spots" {
  title    = "oil spots where it is parked"
  stage    = road
  reporter = "driver"
  leak     = 0.06
  phrases  = ["leaks", "leaks fluid", "fluid on the floor"]
}

finding "history_overheated" {
  title    = "engine or transmission overheated before"
  stage    = interview
  reporter = "driver"
  leak     = 0.03
  phrases  = ["boiled over"]
}

finding "history_heavy_load" {
  title    = "tows or carries heavy loads"
  stage    = interview
  reporter = "driver"
  leak     = 0.12
  phrases  = ["pulls a trailer", "hauls"]
}

finding "history_rocked" {
  title    = "rocked out of mud or snow, wheels spun"
  stage    = interview
  reporter = "driver"
  leak     = 0.03
  phrases  = ["stuck in mud"]
}

finding "history_towed" {
  title    = "towed with the driven wheels on the ground"
  stage    = interview
  reporter = "driver"
  leak     = 0.01
  phrases  = ["was towed"]
}

finding "history_battery_off" {
  title    = "battery or a module disconnected"
  stage    = interview
  reporter = "driver"
  leak     = 0.06
  phrases  = ["new battery"]
}

finding "history_tires" {
  title    = "tires, wheels or axle changed"
  formerly = ["history_tyres"]
  stage    = interview
  reporter = "driver"
  leak     = 0.06
  phrases  = ["new tires", "rear end gears changed"]
}

finding "history_event" {
  title    = "accident, curb hit, or work under the vehicle before it began"
  stage    = interview
  reporter = "driver"
  leak     = 0.04
  phrases  = ["hit something", "after a repair"]
}

finding "history_electric_trouble" {
  title    = "other electrical trouble: slow cranking, dim lights"
  stage    = interview
  reporter = "driver"
  leak     = 0.04
  phrases  = ["lights flicker", "slow crank"]
}

finding "history_flood" {
  title    = "sat in deep water or was driven through it"
  stage    = interview
  reporter = "driver"
  leak     = 0.005
  phrases  = ["through water"]
}

finding "history_driven_after" {
  title    = "driven a long way after it began"
  stage    = interview
  reporter = "driver"
  leak     = 0.2
  phrases  = ["kept driving"]
}

finding "history_high_mileage" {
  title        = "high mileage for its kind"
  stage        = interview
  reporter     = "driver"
  leak         = 0.06
  phrases      = ["high mileage"]
  reading      = "mileage"
  reading_side = "high"
  reading_is   = distance
}

finding "history_bind_first" {
  title    = "bound or dragged before it slipped"
  stage    = interview
  reporter = "driver"
  leak     = 0.005
}

finding "history_leak_first" {
  title    = "leaked or was low before it slipped"
  stage    = interview
  reporter = "driver"
  leak     = 0.01
}
