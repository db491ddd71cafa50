# Findings of the apply chart, made by physics for every row, gear, shift and
# engagement of a unit.
language = 1
basis "recalled" {
  note = "signs follow common practice; leaks are of the right size only"
}

finding "slips" {
  per      = row
  title    = "slips in {place}"
  stage    = road
  reporter = "driver"
  leak     = 0.0015
  phrases = [
    "slips",
    "slides",
    "revs up",
    "revs climb but not the speed",
    "races but does not go faster",
    "races in reverse",
    "races in third",
    "does not hold in third",
    "will not hold in drive",
  ]
  sign "partial" {
    strength = 0.95
  }
}

finding "no_drive" {
  per      = row
  title    = "no drive in {place}"
  stage    = road
  reporter = "driver"
  leak     = 0.0008
  phrases = [
    "does not move",
    "will not engage in reverse",
    "does not move in third",
    "reverse is gone",
    "third is gone",
    "lost all drive",
    "lost drive",
    "just revs",
    "sits there and revs",
    "acts like neutral",
    "falls on its face in third and then there is nothing",
  ]
  hides = [
    "slips",
    "wrong_gear",
    "acts_as",
    "no_engine_braking",
    "unexpected_engine_braking",
    "whine",
    "weak_launch",
    "no_lockup",
    "lockup_slip",
    "lockup_stays_on",
    "shudder",
    "flare",
    "late_shift",
    "early_shift",
    "harsh_shift",
    "soft_shift",
    "bind_shift",
    "coast_clunk",
    "late_engagement",
    "harsh_engagement",
  ]
  sign "no_drive" {
    strength = 0.97
  }
}

finding "wrong_gear" {
  per      = row
  title    = "wrong gear in {place}"
  stage    = road
  reporter = "road_test"
  leak     = 0.0015
  phrases  = ["starts off in a higher gear", "starts off in the wrong gear", "wrong gear"]
  sign "lower_gear" {
    strength = 0.9
  }
  sign "higher_gear" {
    strength = 0.95
  }
  sign "reverse" {
    strength = 0.97
  }
}

finding "acts_as" {
  per      = row_gear
  title    = "{place} acts"
  stage    = road
  reporter = "road_test"
  leak     = 0.001
  phrases  = ["starts off in third", "stuck in third from a stop"]
  sign "lower_gear" {
    strength = 0.9
  }
  sign "higher_gear" {
    strength = 0.95
  }
  sign "reverse" {
    strength = 0.97
  }
}

finding "no_engine_braking" {
  per      = row
  title    = "no engine braking in {place}"
  stage    = road
  reporter = "driver"
  leak     = 0.003
  phrases = [
    "does not hold back",
    "does not slow down",
    "freewheels",
    "runs away downhill",
    "no braking when I lift",
  ]
  sign "no_engine_braking" {
    strength = 0.95
  }
}

finding "unexpected_engine_braking" {
  per      = row
  title    = "engine braking in {place} where there should be none"
  stage    = road
  reporter = "driver"
  leak     = 0.002
  phrases = [
    "holds back when I let off",
    "brakes by itself when I let off",
    "brakes when I let off",
  ]
  sign "extra_engine_braking" {
    strength = 0.9
  }
}

finding "ties_up" {
  per      = row
  title    = "ties up in {place}"
  stage    = road
  reporter = "driver"
  leak     = 0.001
  phrases = [
    "locks up",
    "wheels lock",
    "two gears at once",
    "binds",
    "fights itself",
    "feels like the brakes are on",
    "stops dead",
    "jerks to a stop",
  ]
  sign "ties_up" {
    strength = 0.95
  }
}

finding "creeps" {
  per      = row
  title    = "creeps in {place}"
  stage    = road
  reporter = "driver"
  leak     = 0.0005
  phrases  = ["creeps", "moves in neutral", "rolls forward in neutral", "pulls in neutral"]
  sign "drives_in_neutral" {
    strength = 0.97
  }
  sign "drags" {
    strength = fifty_fifty
  }
}

finding "drags" {
  per      = row
  title    = "drags in {place}"
  stage    = road
  reporter = "driver"
  leak     = 0.0005
  phrases = [
    "drags",
    "does not coast",
    "brakes are dragging",
    "does not roll freely",
    "feels like the brakes are on",
  ]
  sign "drags" {
    strength = 0.7
  }
}

finding "whine" {
  per      = row
  title    = "whine in {place}"
  stage    = road
  reporter = "driver"
  leak     = 0.004
  phrases  = ["whines", "noise"]
  note     = "a whine that goes away where the gearset turns as a block is that gearset"
  sign "noisy" {
    strength = probable
  }
}

finding "weak_launch" {
  per      = row
  title    = "weak launch in {place}"
  stage    = road
  reporter = "driver"
  leak     = 0.004
  phrases = [
    "weak taking off",
    "weak",
    "slow taking off",
    "no power taking off",
    "sluggish until moving",
    "lazy taking off",
  ]
  sign "weak" {
    strength = 0.9
  }
  sign "higher_gear" {
    strength = expected
  }
}

finding "no_lockup" {
  per      = row
  title    = "converter clutch never on in {place}"
  stage    = road
  reporter = "road_test"
  leak     = 0.003
  phrases = [
    "never locks up",
    "never locks up on the highway",
    "rpm too high on the highway",
    "uses more gas",
    "more rpm at highway speed",
  ]
  sign "lockup_dead" {
    strength = 0.95
  }
}

finding "lockup_slip" {
  per      = row
  title    = "converter clutch slips in {place}"
  stage    = road
  reporter = "scan_tool"
  leak     = 0.003
  phrases  = ["rpm wanders", "surges", "rpm bounces", "rpm hunts"]
  sign "lockup_slips" {
    strength = 0.9
  }
}

finding "lockup_stays_on" {
  per      = row
  title    = "converter clutch stays on in {place}"
  stage    = road
  reporter = "road_test"
  leak     = 0.001
  phrases  = ["chugs when stopping", "like stopping without pushing in the clutch"]
  sign "lockup_on" {
    strength = 0.9
  }
}

finding "shudder" {
  per      = row
  title    = "shudder in {place}"
  stage    = road
  reporter = "driver"
  leak     = 0.004
  phrases  = ["shudders"]
  sign "shudders" {
    strength = 0.9
  }
}

# Stall test: rpm against the maker's figure, and the ratio that a scan tool computes
finding "stall_high" {
  per          = row
  title        = "stall speed high in {place}"
  stage        = gauges
  reporter     = "scan_tool"
  leak         = 0.003
  reading      = "stall"
  reading_side = "high"
  reading_is   = speed
  sign "partial" {
    strength = expected
  }
  sign "no_drive" {
    strength = 0.97
  }
}

finding "stall_low" {
  per          = row
  title        = "stall speed low in {place}"
  stage        = gauges
  reporter     = "scan_tool"
  leak         = 0.003
  reading      = "stall"
  reading_side = "low"
  reading_is   = speed
  sign "weak" {
    strength = probable
  }
  sign "ties_up" {
    strength = fifty_fifty
  }
}

finding "ratio_off" {
  per      = row
  title    = "ratio does not match the commanded gear in {place}"
  stage    = gauges
  reporter = "scan_tool"
  leak     = 0.001
  sign "partial" {
    strength = probable
  }
  sign "lower_gear" {
    strength = 0.97
  }
  sign "higher_gear" {
    strength = 0.97
  }
  sign "reverse" {
    strength = 0.97
  }
  sign "no_drive" {
    strength = 0.97
  }
}

# Per shift. If the gap keeps the old gear a slow element makes the shift late and
# cannot flare; a late release binds only where the overlap ties up. Outcomes that
# begin with down_ are those of downshifts: under power the engine is to run up to
# the new gear anyway, so that a flare is told less surely.
finding "flare" {
  per      = shift
  title    = "flare on {place}"
  stage    = road
  reporter = "driver"
  leak     = 0.002
  phrases = [
    "engine runs away between gears",
    "engine runs up between gears",
    "flares",
    "revs on the 2-3",
    "revs jump up on the shift",
    "revs shoot up on the 2-3",
    "revs between gears",
    "revs between shifts",
    "slips between gears",
    "slips on the 2-3",
    "slips on the 2-3 shift",
    "drops into neutral between second and third",
    "engine runs away on the shift",
    "engine runs up on the shift",
    "hole between second and third",
    "lets go between second and third",
    "flares on the kickdown",
  ]
  sign "flare" {
    strength = 0.9
  }
  sign "down_flare" {
    strength = 0.7
  }
}

finding "late_shift" {
  per      = shift
  title    = "late shift {place}"
  stage    = road
  reporter = "driver"
  leak     = 0.002
  phrases = [
    "shifts late",
    "late into third",
    "late 2-3",
    "holds too long",
    "winds out before it shifts",
    "will not shift until I let off",
    "does not go into third until 40",
    "does not shift until 40",
    "takes too long to shift",
  ]
  sign "late_on" {
    strength = expected
  }
  sign "late" {
    strength = 0.9
  }
  sign "restricted" {
    strength = 0.6
  }
  sign "down_late_on" {
    strength = 0.6
  }
  sign "down_late" {
    strength = 0.8
  }
  sign "down_restricted" {
    strength = 0.4
  }
}

finding "early_shift" {
  per      = shift
  title    = "early shift {place}"
  stage    = road
  reporter = "driver"
  leak     = 0.0006
  phrases  = ["shifts too early", "early into third", "early 2-3"]
  sign "early" {
    strength = 0.9
  }
}

finding "harsh_shift" {
  per      = shift
  title    = "harsh shift {place}"
  stage    = road
  reporter = "driver"
  leak     = 0.003
  phrases = [
    "bangs",
    "hard shift",
    "shifts with a bang",
    "bangs into third",
    "bangs into third gear",
    "bangs on the 2-3",
    "hard 2-3",
    "hard into third",
    "clunks into third",
    "clunks when it shifts",
    "clunks on the 2-3",
  ]
  sign "hard_on" {
    strength = probable
  }
  sign "harsh" {
    strength = 0.95
  }
  sign "high_line" {
    strength = 0.6
  }
  sign "down_hard_on" {
    strength = 0.7
  }
  sign "down_harsh" {
    strength = fifty_fifty
  }
  sign "down_high_line" {
    strength = 0.4
  }
}

finding "soft_shift" {
  per      = shift
  title    = "soft shift {place}"
  stage    = road
  reporter = "driver"
  leak     = 0.004
  phrases = [
    "soft shift",
    "soft",
    "slides up into third",
    "long drawn shift",
    "soft into third",
    "soft 2-3",
  ]
  sign "soft" {
    strength = 0.9
  }
  sign "low_line" {
    strength = 0.4
  }
  sign "late_on" {
    strength = 0.2
  }
  sign "restricted" {
    strength = 0.4
  }
}

finding "bind_shift" {
  per      = shift
  title    = "bind on {place}"
  stage    = road
  reporter = "driver"
  leak     = 0.0002
  phrases = [
    "binds on the 2-3",
    "two gears at once on the 2-3",
    "feels like the brakes are on at the 2-3 shift",
    "feels like braking on the shift",
  ]
  sign "binds" {
    strength = 0.9
  }
  sign "down_binds" {
    strength = 0.8
  }
}

# With the throttle closed an element is felt as it comes on only if the new gear
# turns the engine by it; where a one-way clutch lets it run free nothing is.
finding "coast_clunk" {
  per      = shift
  title    = "clunk coasting down, {place}"
  stage    = road
  reporter = "road_test"
  leak     = 0.003
  phrases = [
    "clunks coasting down on the 3-2",
    "bangs coasting down on the 2-1",
  ]
  sign "coast_hard_on" {
    strength = 0.8
  }
  sign "coast_harsh" {
    strength = 0.6
  }
  sign "coast_high_line" {
    strength = fifty_fifty
  }
  sign "coast_grabs" {
    strength = 0.6
  }
  sign "down_binds" {
    strength = 0.7
  }
}

finding "no_shift" {
  per      = shift
  title    = "no shift felt at {place}"
  stage    = road
  reporter = "driver"
  leak     = 0.003
  phrases = [
    "does not shift",
    "does not shift up",
    "does not shift past second",
    "will not go into third",
    "no third",
    "third is gone",
    "no 2-3 shift",
    "stuck in second",
    "skips second",
    "one shift missing",
    "only shifts once",
    "only two gears",
  ]
  hides = [
    "flare",
    "late_shift",
    "early_shift",
    "harsh_shift",
    "soft_shift",
    "bind_shift",
  ]
  sign "same_gear" {
    strength = 0.95
  }
  sign "lockup_missed" {
    strength = 0.35
  }
}

# Per engagement
finding "late_engagement" {
  per      = engagement
  title    = "late engagement of {place}"
  stage    = road
  reporter = "driver"
  leak     = 0.002
  phrases = [
    "late into drive",
    "delay going into gear",
    "delay when I shift into drive",
    "slow to engage",
    "takes seconds to go into reverse",
    "takes seconds to go into gear",
    "takes seconds to engage",
    "takes seconds to come in",
    "takes seconds before it moves",
    "no drive for some seconds",
    "wait before it moves",
    "have to rev it to go into drive",
    "slow to go",
    "waits before it grips",
    "count to three in reverse",
    "count to three before it goes",
  ]
  reading      = "engagement"
  reading_side = "high"
  reading_is   = time
  sign "late_on" {
    strength = probable
  }
  sign "late" {
    strength = 0.9
  }
  sign "drains_back" {
    strength = 0.9
    when     = after_standing
  }
  sign "restricted" {
    strength = 0.6
  }
  sign "low_line" {
    strength = 0.4
  }
}

finding "harsh_engagement" {
  per      = engagement
  title    = "harsh engagement of {place}"
  stage    = road
  reporter = "driver"
  leak     = 0.003
  phrases = [
    "bangs into drive",
    "bangs into gear",
    "bangs when I shift into reverse",
    "clunks into drive",
    "clunks into gear",
    "clunks when I shift into reverse",
    "hard into reverse",
    "hard engagement",
    "bangs when it engages",
    "hard going into gear",
  ]
  sign "hard_on" {
    strength = probable
  }
  sign "harsh" {
    strength = 0.9
  }
  sign "high_line" {
    strength = 0.65
  }
}
