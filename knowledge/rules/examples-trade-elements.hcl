# What builders conclude from the chart: clutches, brakes, bands, one-way clutches.
language = 1
basis "common practice" {
  note = "sentences of the trade"
}

example "creeps in N and ties up in R: forward clutch stuck on" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["forward_frictions"]
  within = 1
  reports "driver" {
    present = ["creeps@N/N", "ties_up@R/R"]
    absent  = ["slips@D/1"]
  }
}

example "direct drive from standstill and no reverse: direct clutch stuck on" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["direct_frictions"]
  within = 1
  reports "road_test" {
    present = ["acts_as_3@D/1", "ties_up@R/R"]
    absent  = ["creeps@N/N"]
  }
}

example "third from standstill, binds in fourth, reverse good: reverse clutch stuck on" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["reverse_frictions"]
  within = 1
  reports "road_test" {
    present = ["acts_as_3@D/1", "ties_up@D/4"]
    absent  = ["ties_up@R/R", "no_drive@R/R"]
  }
}

example "binds in second, engine braking in first: low and reverse held" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["low_reverse_frictions"]
  within = 2
  reports "road_test" {
    present = ["ties_up@D/2", "unexpected_engine_braking@D/1"]
    absent  = ["no_drive@R/R"]
  }
}

example "no first in D, manual low good: low roller clutch" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["low_roller"]
  within = 1
  reports "driver" {
    present = ["no_drive@D/1"]
    absent  = ["no_drive@L/1", "no_drive@R/R"]
  }
  reports "eye" {
    absent = ["lining_in_pan"]
  }
}

example "no second in D but in manual 2, pan clean, air check good: intermediate roller clutch" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["intermediate_roller"]
  within = 1
  reports "road_test" {
    present = ["acts_as_1@D/2"]
    absent  = ["acts_as_1@2/2", "slips@D/3", "slips@D/4"]
  }
  reports "eye" {
    absent = ["lining_in_pan", "fluid_burnt_smell", "air_check_fails@intermediate_feed"]
  }
}

example "binds in third only: intermediate roller clutch seized" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["intermediate_roller"]
  within = 1
  reports "road_test" {
    present = ["ties_up@D/3"]
    absent  = ["ties_up@D/4", "ties_up@R/R", "wrong_gear@D/1"]
  }
  reports "part_in_hand" {
    present = ["turns_neither_way@intermediate_roller"]
  }
}

example "first does not pull since the rebuild, second binds: low roller clutch in backward" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["low_roller"]
  within = 1
  reports "driver" {
    present = ["history_rebuilt"]
  }
  reports "road_test" {
    present = ["no_drive@D/1", "ties_up@D/2"]
    absent  = ["no_drive@R/R"]
  }
  reports "part_in_hand" {
    present = ["holds_wrong_way@low_roller"]
  }
}

example "slips in fourth, no engine braking in manual 2, lining: band" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["overdrive_band"]
  within = 1
  reports "road_test" {
    present = ["slips@D/4", "no_engine_braking@2/2"]
    absent  = ["slips@D/3", "slips@D/2"]
  }
  reports "eye" {
    present = ["lining_in_pan", "fluid_burnt_smell"]
    absent  = ["air_check_fails@band_apply"]
  }
}

example "slips in fourth, air check of the band fails, pan clean: servo" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["overdrive_servo"]
  within = 1
  reports "road_test" {
    present = ["slips@D/4"]
    absent  = ["slips@D/3"]
  }
  reports "eye" {
    present = ["air_check_fails@band_apply"]
    absent  = ["lining_in_pan"]
  }
}

example "no reverse, second and fourth gone, third good: sun shell" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["sun_shell"]
  within = 1
  reports "road_test" {
    present = ["no_drive@R/R", "acts_as_1@D/2", "no_drive@D/4"]
    absent  = ["wrong_gear@D/3", "slips@D/3"]
  }
}

example "no reverse, engine braking in low good, air check fails: reverse piston or rings" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["reverse_piston"]
  within = 2
  reports "road_test" {
    present = ["no_drive@R/R"]
    absent  = ["no_engine_braking@L/1", "slips@D/3"]
  }
  reports "eye" {
    present = ["air_check_fails@reverse_feed"]
    absent  = ["lining_in_pan"]
  }
}

example "no reverse and no engine braking in low, air check fails: low and reverse piston" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["low_reverse_piston"]
  within = 1
  reports "road_test" {
    present = ["no_drive@R/R", "no_engine_braking@L/1"]
    absent  = ["slips@D/1", "no_drive@D/1"]
  }
  reports "eye" {
    present = ["air_check_fails@low_reverse_feed"]
    absent  = ["lining_in_pan"]
  }
}

example "second slips, third good, lining in the pan: intermediate plates" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["intermediate_frictions"]
  within = 1
  reports "road_test" {
    present = ["slips@D/2"]
    absent  = ["slips@D/1", "slips@D/3", "slips@2/2"]
  }
  reports "eye" {
    present = ["lining_in_pan", "fluid_burnt_smell"]
    absent  = ["air_check_fails@intermediate_feed"]
  }
}

example "late into D when cold, better warm, reverse good: forward piston lips" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["forward_piston"]
  within = 1
  reports "driver" {
    present = ["late_engagement@D:cold"]
    absent  = ["late_engagement@D:hot", "late_engagement@R"]
  }
}

example "third and fourth slip hot only, ring gap wide: direct rings" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["direct_rings"]
  within = 1
  reports "road_test" {
    present = ["slips@D/3:hot"]
    absent  = ["slips@D/1"]
  }
  reports "measuring_tool" {
    present = ["ring_gap_wide@direct_feed"]
  }
  reports "eye" {
    present = ["air_check_fails@direct_feed"]
    absent  = ["leakdown_fails@direct_feed"]
  }
}

example "leak-down fails at the direct drum" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["direct_piston"]
  within = 1
  reports "road_test" {
    present = ["slips@D/3", "slips@D/4"]
    absent  = ["slips@D/1"]
  }
  reports "eye" {
    present = ["leakdown_fails@direct_feed", "air_check_fails@direct_feed"]
  }
  reports "measuring_tool" {
    absent = ["ring_gap_wide@direct_feed"]
  }
}

example "held back in fourth and reverse at high rpm only, slips nowhere: forward drum ball" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["forward_drum"]
  within = 2
  reports "road_test" {
    present = ["drags@D/4:high_rpm", "drags@R/R:high_rpm"]
    absent = [
      "drags@D/4:cold",
      "ties_up@R/R",
      "ties_up@D/4",
      "slips@D/1",
      "slips@D/2",
      "slips@D/3",
    ]
  }
  reports "eye" {
    absent = ["lining_in_pan"]
  }
}

example "late second, clearance wide since the rebuild" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["intermediate_frictions"]
  within = 1
  reports "driver" {
    present = ["history_rebuilt", "late_shift@D/1-2"]
  }
  reports "measuring_tool" {
    present = ["clearance_high@intermediate"]
  }
  reports "eye" {
    absent = ["lining_in_pan"]
  }
}

example "front servo release shares front clutch oil" {
  unit   = "harrow-3"
  cite   = "common practice of the trade"
  expect = ["front_servo_release"]
  within = 3
  reports "road_test" {
    present = ["slips@D/3:hot", "slips@R/R:hot"]
    absent  = ["slips@D/1"]
  }
  reports "eye" {
    present = ["leakdown_fails@front_clutch_feed", "air_check_fails@front_clutch_feed"]
    absent  = ["lining_in_pan"]
  }
  reports "measuring_tool" {
    absent = ["ring_gap_wide@front_clutch_feed"]
  }
}

example "same flare as before the rebuild, front clutch oil lost: release side of the front servo" {
  unit   = "harrow-3"
  cite   = "common practice of the trade: a servo bore or release seal that shares a clutch's oil is missed, and the job comes back"
  expect = ["front_servo_release"]
  within = 4
  reports "driver" {
    present = ["flare@D/2-3", "slips@R/R", "history_rebuilt", "history_same_again"]
    absent  = ["fluid_burnt_smell"]
  }
  reports "eye" {
    present = ["air_check_fails@front_clutch_feed"]
    absent  = ["lining_in_pan"]
  }
  reports "gauge" {
    present = ["circuit_pressure_low@front_clutch_feed"]
  }
}

example "flares 2-3 and reverse slips: front clutch" {
  unit   = "harrow-3"
  cite   = "common practice of the trade"
  expect = ["front_clutch_plates"]
  within = 1
  reports "road_test" {
    present = ["flare@D/2-3", "slips@R/R"]
    absent  = ["slips@D/1", "slips@D/2"]
  }
}

example "binds 2-3, second good: front band lets go late" {
  unit   = "harrow-3"
  cite   = "common practice of the trade"
  expect = ["front_band", "front_servo"]
  within = 3
  reports "road_test" {
    present = ["bind_shift@D/2-3"]
    absent  = ["slips@D/2", "slips@D/3", "slips@R/R"]
  }
}

example "no second, first and third good: front band" {
  unit   = "harrow-3"
  cite   = "common practice of the trade"
  expect = ["front_band"]
  within = 1
  reports "road_test" {
    present = ["acts_as_1@D/2"]
    absent  = ["slips@D/3", "slips@D/1"]
  }
  reports "measuring_tool" {
    present = ["servo_travel_high@front_band"]
  }
}

example "no reverse, no engine braking in low, pan full of lining: rear band" {
  unit   = "harrow-3"
  cite   = "common practice of the trade"
  expect = ["rear_band"]
  within = 1
  reports "road_test" {
    present = ["no_drive@R/R", "no_engine_braking@L/1"]
    absent  = ["slips@D/3", "slips@D/1"]
  }
  reports "eye" {
    present = ["lining_in_pan"]
    absent  = ["air_check_fails@rear_servo_apply"]
  }
}

example "reverse and low engine braking weak, air check of the rear servo fails" {
  unit   = "harrow-3"
  cite   = "common practice of the trade"
  expect = ["rear_servo"]
  within = 1
  reports "road_test" {
    present = ["slips@R/R", "no_engine_braking@L/1"]
    absent  = ["slips@D/3", "slips@D/1"]
  }
  reports "eye" {
    present = ["air_check_fails@rear_servo_apply"]
    absent  = ["lining_in_pan"]
  }
}

example "no forward, reverse good, sudden, pan clean, air check good: front carrier spline" {
  unit   = "harrow-3"
  cite   = "common practice of the trade"
  expect = ["output_shaft"]
  within = 3
  reports "road_test" {
    present = ["no_drive@D/1", "no_drive@D/2", "no_drive@D/3"]
    absent  = ["no_drive@R/R", "slips@D/2:hot"]
  }
  reports "driver" {
    present = ["history_sudden"]
    absent  = ["history_rebuilt"]
  }
  reports "eye" {
    present = ["steel_in_pan"]
    absent = [
      "lining_in_pan",
      "fluid_burnt_smell",
      "fluid_low",
      "air_check_fails@rear_clutch_feed",
      "leakdown_fails@rear_clutch_feed",
    ]
  }
  reports "gauge" {
    absent = ["line_pressure_low@idle/D"]
  }
}
