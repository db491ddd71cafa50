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
    "engine races but the car does not go faster",
    "revs up",
    "rpm climbs without speed",
    "feels like a clutch pedal half down",
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
    "nothing happens",
    "no drive",
    "no reverse",
    "just revs",
    "like neutral",
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
    "late_engagement",
    "harsh_engagement",
  ]
  sign "no_drive" {
    strength = 0.97
  }
}

finding "wrong_gear" {
  per      = row
  title    = "not the right gear in {place}"
  stage    = road
  reporter = "road_test"
  leak     = 0.0015
  phrases = [
    "pulls away like in a higher gear",
    "stuck in one gear",
    "starts in third",
    "revs too high for the speed",
  ]
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
  phrases  = ["same as the gear before", "drives backward in D", "drives forward in R"]
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
  phrases  = ["runs away downhill", "no braking when I lift", "freewheels"]
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
  phrases  = ["holds back when I lift", "brakes by itself when I let off"]
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
    "jerks to a stop",
    "two gears at once",
    "stalls the engine",
    "wheels lock",
    "fights itself",
  ]
  sign "ties_up" {
    strength = 0.95
  }
}

finding "creeps" {
  per      = row
  title    = "drives in {place} without being asked"
  stage    = road
  reporter = "driver"
  leak     = 0.001
  phrases  = ["creeps in neutral", "moves in neutral", "pulls in N"]
  sign "drives_in_neutral" {
    strength = 0.97
  }
  sign "drags" {
    strength = fifty_fifty
  }
}

finding "drags" {
  per      = row
  title    = "held back in {place}"
  stage    = road
  reporter = "driver"
  leak     = 0.001
  phrases  = ["sluggish", "does not roll freely", "feels braked", "rolls out badly"]
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
  phrases  = ["whines", "howls", "sings", "humming in gear"]
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
  phrases  = ["slow off the line", "weak from standstill", "sluggish until moving"]
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
  phrases  = ["rpm too high on the motorway", "one shift missing", "uses more fuel"]
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
  phrases  = ["rpm wanders at steady speed", "surges on the motorway"]
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
  phrases  = ["stalls when I stop", "chugs when stopping"]
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
  phrases  = ["shudders", "like a rumble strip", "vibrates at light throttle", "shakes"]
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
  sign "weak" {
    strength = probable
  }
  sign "ties_up" {
    strength = fifty_fifty
  }
}

finding "ratio_off" {
  per      = row
  title    = "computed ratio is not the commanded one in {place}"
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
# cannot flare; a late release binds only where the overlap ties up.
finding "flare" {
  per      = shift
  title    = "flare on {place}"
  stage    = road
  reporter = "driver"
  leak     = 0.002
  phrases = [
    "flares",
    "revs jump between gears",
    "slips between gears",
    "engine runs up on the shift",
  ]
  sign "flare" {
    strength = 0.9
  }
}

finding "late_shift" {
  per      = shift
  title    = "late shift {place}"
  stage    = road
  reporter = "driver"
  leak     = 0.005
  phrases  = ["shifts late", "hangs in gear", "takes long to shift"]
  sign "late_on" {
    strength = expected
  }
  sign "late" {
    strength = 0.9
  }
  sign "restricted" {
    strength = 0.6
  }
}

finding "early_shift" {
  per      = shift
  title    = "early shift {place}"
  stage    = road
  reporter = "driver"
  leak     = 0.002
  phrases  = ["shifts too early", "shifts up right away", "bogs down"]
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
  phrases  = ["bangs into gear", "jerks", "kicks", "hard shift", "slams"]
  sign "hard_on" {
    strength = probable
  }
  sign "harsh" {
    strength = 0.95
  }
  sign "high_line" {
    strength = 0.6
  }
}

finding "soft_shift" {
  per      = shift
  title    = "soft shift {place}"
  stage    = road
  reporter = "driver"
  leak     = 0.004
  phrases  = ["mushy", "slides into gear", "long drawn shift"]
  sign "soft" {
    strength = 0.9
  }
  sign "low_line" {
    strength = 0.4
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
  leak     = 0.0008
  phrases = [
    "holds back at the shift",
    "feels like braking on the shift",
    "bumps as if two gears are in",
  ]
  sign "binds" {
    strength = 0.9
  }
}

finding "no_shift" {
  per      = shift
  title    = "no shift felt at {place}"
  stage    = road
  reporter = "driver"
  leak     = 0.003
  phrases  = ["does not shift up", "one shift missing", "stays in second", "only two gears"]
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
}

# Per engagement
finding "late_engagement" {
  per          = engagement
  title        = "late engagement of {place}"
  stage        = road
  reporter     = "driver"
  leak         = 0.002
  reading      = "engagement"
  reading_side = "high"
  phrases = [
    "takes seconds to go in",
    "waits before it grips",
    "delay into drive",
    "delay into reverse",
  ]
  sign "late_on" {
    strength = probable
  }
  sign "late" {
    strength = 0.9
  }
  sign "drains_back" {
    strength = 0.9
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
  phrases  = ["clunks into drive", "bangs into reverse", "jerks when put in gear"]
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
