# Who or what observes, with hit rate (says present when it is) and false-alarm
# rate (says present when it is not).
language = 1
basis "invented" {
  note = "of the size that follows from common practice: instruments seldom err, drivers often describe one thing by the name of another"
}

# Adaptive controls hide slip: a driver's "no slip" is then weak evidence. A driver
# counts the converter clutch as a gear and seldom names the gear in force.
# Owners tell less readily what they did wrong than what was done to them.
reporter "driver" {
  title       = "driver"
  hit         = 0.85
  false_alarm = 0.03
  unfounded   = 0.05
  on "slips" {
    controls    = adaptive
    hit         = 0.5
    false_alarm = 0.03
  }
  on "no_drive" {
    hit         = 0.97
    false_alarm = 0.004
  }
  on "ties_up" {
    hit         = 0.9
    false_alarm = 0.005
  }
  on "park_rolls" {
    hit         = 0.95
    false_alarm = 0.003
  }
  on "park_refused" {
    hit         = 0.95
    false_alarm = 0.003
  }
  on "park_stuck" {
    hit         = 0.95
    false_alarm = 0.003
  }
  on "no_start_in_park" {
    hit         = 0.95
    false_alarm = 0.005
  }
  on "speedometer_dead" {
    hit         = 0.97
    false_alarm = 0.003
  }
  on "bind_shift" {
    hit         = 0.7
    false_alarm = 0.01
  }
  on "harsh_shift" {
    hit         = 0.9
    false_alarm = 0.02
  }
  on "late_engagement" {
    hit         = 0.85
    false_alarm = 0.01
  }
  on "harsh_engagement" {
    hit         = 0.9
    false_alarm = 0.02
  }
  on "flare" {
    hit         = 0.75
    false_alarm = 0.03
  }
  on "wrong_gear" {
    hit         = 0.5
    false_alarm = 0.05
  }
  on "acts_as" {
    hit         = 0.4
    false_alarm = 0.04
  }
  on "no_shift" {
    hit         = 0.6
    false_alarm = 0.08
  }
  on "late_shift" {
    hit         = 0.6
    false_alarm = 0.06
  }
  on "early_shift" {
    hit         = 0.4
    false_alarm = 0.04
  }
  on "soft_shift" {
    hit         = 0.5
    false_alarm = 0.05
  }
  on "no_engine_braking" {
    hit         = 0.5
    false_alarm = 0.06
  }
  on "unexpected_engine_braking" {
    hit         = 0.5
    false_alarm = 0.05
  }
  on "whine" {
    hit         = 0.7
    false_alarm = 0.08
  }
  on "no_lockup" {
    hit         = 0.4
    false_alarm = 0.08
  }
  on "lockup_slip" {
    hit         = 0.3
    false_alarm = 0.04
  }
  on "shudder" {
    hit         = 0.75
    false_alarm = 0.08
  }
  on "weak_launch" {
    hit         = 0.75
    false_alarm = 0.08
  }
  on "drags" {
    hit         = 0.4
    false_alarm = 0.05
  }
  on "creeps" {
    hit         = 0.95
    false_alarm = 0.005
  }
  on "limp_mode" {
    hit         = 0.85
    false_alarm = 0.015
  }
  on "history_fluid_neglected" {
    hit         = 0.6
    false_alarm = 0.15
  }
  on "history_heavy_load" {
    hit         = 0.7
    false_alarm = 0.08
  }
  on "history_rocked" {
    hit         = 0.5
    false_alarm = 0.02
  }
  on "history_overheated" {
    hit         = 0.7
    false_alarm = 0.04
  }
  on "history_rebuilt" {
    hit         = 0.9
    false_alarm = 0.02
  }
}

reporter "road_test" {
  title       = "builder on the road"
  hit         = 0.94
  false_alarm = 0.01
  on "slips" {
    controls    = adaptive
    hit         = 0.8
    false_alarm = 0.02
  }
  on "acts_as" {
    hit         = 0.9
    false_alarm = 0.01
  }
  on "whine" {
    hit         = 0.85
    false_alarm = 0.05
  }
  on "lockup_slip" {
    hit         = 0.6
    false_alarm = 0.04
  }
}

reporter "gauge" {
  title       = "pressure or flow gauge"
  hit         = 0.97
  false_alarm = 0.01
}

reporter "scan_tool" {
  title       = "scan tool"
  hit         = 0.95
  false_alarm = 0.015
  on "lockup_slip" {
    hit         = 0.97
    false_alarm = 0.02
  }
  on "ratio_off" {
    hit         = 0.97
    false_alarm = 0.01
  }
}

reporter "eye" {
  title       = "builder's eye"
  hit         = 0.93
  false_alarm = 0.02
  on "bronze_in_pan" {
    hit         = 0.85
    false_alarm = 0.06
  }
  on "fluid_burnt_smell" {
    hit         = 0.9
    false_alarm = 0.05
  }
  on "varnish_seen" {
    hit         = 0.85
    false_alarm = 0.05
  }
  on "fluid_milky" {
    hit         = 0.97
    false_alarm = 0.002
  }
}

reporter "measuring_tool" {
  title       = "measuring tool"
  hit         = 0.97
  false_alarm = 0.01
}

reporter "part_in_hand" {
  title       = "part in the hand"
  hit         = 0.985
  false_alarm = 0.005
}
