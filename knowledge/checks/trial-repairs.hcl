# Repairs on trial: where the drive after them is good, the job is done. Each is worth
# its minutes only while its fault is likely.
language = 1
basis "invented" {
  note = "minutes are invented but of the right size"
}

check "set_level" {
  title    = "set the fluid to the mark, hot, and drive"
  stage    = road
  minutes  = 15
  reporter = "road_test"
  yields   = ["gone_with_level_set"]
  repairs  = true
  cautions = ["running_vehicle", "hot_fluid", "road_test"]
  why      = "low or overfilled fluid slips, whines and foams by itself; find where it went, too"
  withheld {
    if     = "fluid_milky"
    reason = "do not drive with water in the fluid"
  }
}

check "change_fluid" {
  title    = "drain, fill with the maker's fluid, drive"
  stage    = road
  minutes  = 45
  reporter = "road_test"
  yields   = ["gone_with_new_fluid"]
  repairs  = true
  cautions = ["supports", "hot_fluid", "running_vehicle", "road_test"]
  why      = "a converter clutch shudders in the wrong fluid; one drain changes a part of it, so drive and judge"
  withheld {
    if     = "fluid_milky"
    reason = "water has ruined the linings: new fluid does not cure them"
  }
  withheld {
    if     = "lining_in_pan"
    reason = "its linings are in the pan: new fluid does not cure them"
  }
  withheld {
    if     = "fluid_burnt_smell"
    reason = "the fluid is burnt: new fluid does not cure what burnt it"
  }
}

check "relearn" {
  title    = "reset the learned values, relearn drive by the maker's procedure"
  stage    = road
  minutes  = 30
  reporter = "road_test"
  only     = ["electronic", "adaptive"]
  yields   = ["gone_after_relearn"]
  repairs  = true
  cautions = ["scan_parked", "road_test"]
  why      = "shifts are harsh or soft everywhere after the battery or a part was changed; write the old values down first"
}
