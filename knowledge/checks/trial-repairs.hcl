# Trial repairs: where the drive after them is good, the job is done. Each is worth
# its minutes only while its fault is likely.
language = 1
basis "invented" {
  note = "minutes are invented but of the right size"
}

check "set_level" {
  title    = "set the fluid level, hot, then road test"
  stage    = road
  minutes  = 15
  reporter = "road_test"
  yields   = ["gone_with_level_set"]
  repairs  = true
  cautions = ["running_vehicle", "hot_fluid", "road_test"]
  why      = "a wrong level alone makes it slip, whine and foam; if it was low, find the leak"
  unless   = ["water_in_fluid"]
}

check "change_fluid" {
  title    = "drain, refill with the maker's fluid, then road test"
  stage    = road
  minutes  = 45
  reporter = "road_test"
  yields   = ["gone_with_new_fluid"]
  repairs  = true
  cautions = ["supports", "hot_fluid", "running_vehicle", "road_test"]
  why      = "a converter clutch shudders in the wrong fluid; a drain changes only part of it: drive it before you judge"
  withheld {
    until  = ["fluid_burnt_smell", "fluid_dark", "fluid_wrong_kind"]
    reason = "look at the fluid first: color and smell on the dipstick, 3 minutes"
  }
  withheld {
    if     = "fluid_milky"
    reason = "water has ruined the linings: new fluid will not fix them"
  }
  withheld {
    if     = "lining_in_pan"
    reason = "there is lining in the pan: new fluid will not fix that"
  }
  withheld {
    if     = "fluid_burnt_smell"
    reason = "the fluid is burnt: new fluid will not fix what burnt it"
  }
}

check "relearn" {
  title    = "reset the learned values, then the maker's relearn drive"
  stage    = road
  minutes  = 30
  reporter = "road_test"
  only     = ["electronic", "adaptive"]
  yields   = ["gone_after_relearn"]
  repairs  = true
  cautions = ["scan_parked", "road_test"]
  why      = "shifts are harsh or soft everywhere after the battery or a part was changed; write the old values down first"
}
