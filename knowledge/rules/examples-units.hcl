# What the road tells on each architecture: the element that the gears in common
# name. Units with usual parts alone, so the culprit comes out of chart and physics.
language = 1
basis "common practice" {
  note = "reasoning from the clutch and band chart"
}

example "flare from third to fourth, both gears good" {
  unit   = "od-simpson-4"
  expect = ["od_one_way"]
  within = 2
  reports "road_test" {
    present = ["flare@D/3-4"]
    absent  = ["slips@D/4", "slips@D/3", "slips@R/R", "flare@D/2-3"]
  }
}

example "slips in fourth alone behind an overdrive set ahead" {
  unit   = "od-simpson-4"
  expect = ["od_frictions"]
  within = 3
  reports "road_test" {
    present = ["slips@D/4"]
    absent  = ["slips@D/3", "slips@D/2", "slips@R/R", "slips@D/1"]
  }
}

example "no first in D and 2, manual low pulls" {
  unit   = "od-simpson-4"
  expect = ["low_one_way"]
  within = 1
  reports "road_test" {
    present = ["no_drive@D/1", "no_drive@2/1"]
    absent  = ["no_drive@L/1", "slips@D/2", "slips@D/3"]
  }
}

example "third and reverse slip, fourth too" {
  unit   = "od-simpson-4"
  expect = ["direct_frictions"]
  within = 3
  reports "road_test" {
    present = ["slips@D/3", "slips@R/R", "slips@D/4"]
    absent  = ["slips@D/1", "slips@D/2"]
  }
}

example "no holding back in manual second alone" {
  unit   = "od-simpson-4"
  expect = ["second_coast_band", "second_coast_servo"]
  within = 2
  reports "road_test" {
    present = ["no_engine_braking@2/2"]
    absent  = ["no_engine_braking@L/1", "slips@D/2", "slips@D/4"]
  }
}

example "flare into fourth, third and fourth good" {
  unit   = "simpson-od-4"
  expect = ["od_overrunning"]
  within = 2
  reports "road_test" {
    present = ["flare@D/3-4"]
    absent  = ["slips@D/3", "slips@D/4", "slips@D/2", "flare@D/2-3"]
  }
}

example "slips in low and reverse, first of D is good" {
  unit   = "simpson-od-4"
  expect = ["rear_band"]
  within = 2
  reports "road_test" {
    present = ["slips@R/R", "no_engine_braking@1/1"]
    absent  = ["slips@D/1", "slips@D/3", "slips@D/4"]
  }
}

example "no reverse and no holding back in any gear" {
  unit   = "simpson-od-4"
  expect = ["od_direct_frictions"]
  within = 3
  reports "road_test" {
    present = ["no_drive@R/R", "no_engine_braking@D/3", "no_engine_braking@2/2"]
    absent  = ["slips@D/1", "slips@D/2", "slips@D/4", "no_engine_braking@D/4"]
  }
}

example "third and reverse slip behind a converter without lockup trouble" {
  unit   = "simpson-od-4"
  expect = ["front_clutch_frictions"]
  within = 3
  reports "road_test" {
    present = ["slips@D/3", "slips@R/R"]
    absent  = ["slips@D/1", "slips@D/2"]
  }
}

example "fourth is third again" {
  unit   = "simpson-od-4"
  expect = ["od_frictions"]
  within = 4
  reports "road_test" {
    present = ["acts_as_3@D/4"]
    absent  = ["slips@D/3", "slips@D/1", "slips@R/R"]
  }
}

example "slips in first of D, not in manual first" {
  unit   = "ravigneaux-transaxle-4"
  expect = ["low_one_way"]
  within = 1
  reports "road_test" {
    present = ["slips@D/1"]
    absent  = ["slips@1/1", "slips@D/2", "slips@R/R"]
  }
}

example "reverse slips alone, manual first holds back" {
  unit   = "ravigneaux-transaxle-4"
  expect = ["reverse_frictions"]
  within = 3
  reports "road_test" {
    present = ["slips@R/R"]
    absent  = ["no_engine_braking@1/1", "slips@D/1", "slips@D/2", "slips@D/4"]
  }
}

example "first, second and third slip, fourth and reverse pull" {
  unit   = "ravigneaux-transaxle-4"
  expect = ["forward_frictions"]
  within = 3
  reports "road_test" {
    present = ["slips@D/1", "slips@D/2", "slips@D/3"]
    absent  = ["slips@D/4", "slips@R/R"]
  }
}

example "starts in second and has no fourth" {
  unit   = "ravigneaux-transaxle-4"
  expect = ["solenoid_b"]
  within = 2
  reports "road_test" {
    present = ["acts_as_2@D/1", "acts_as_3@D/4"]
    absent  = ["slips@D/2", "slips@D/3", "slips@R/R"]
  }
}

example "no holding back in manual second and fourth slips" {
  unit   = "ravigneaux-transaxle-4"
  expect = ["od_frictions"]
  within = 3
  reports "road_test" {
    present = ["no_engine_braking@2/2", "slips@D/4"]
    absent  = ["slips@D/3", "slips@D/2", "slips@R/R"]
  }
}

example "second and fourth slip" {
  unit   = "cross-coupled-4"
  expect = ["two_four_frictions"]
  within = 3
  reports "road_test" {
    present = ["slips@D/2", "slips@D/4"]
    absent  = ["slips@D/1", "slips@D/3", "slips@R/R"]
  }
}

example "third and fourth slip, first and second pull" {
  unit   = "cross-coupled-4"
  expect = ["overdrive_frictions"]
  within = 3
  reports "road_test" {
    present = ["slips@D/3", "slips@D/4"]
    absent  = ["slips@D/1", "slips@D/2", "slips@R/R"]
  }
}

example "first and reverse slip in a transaxle without one-way clutch" {
  unit   = "cross-coupled-4"
  expect = ["low_reverse_frictions"]
  within = 3
  reports "road_test" {
    present = ["slips@D/1", "slips@R/R"]
    absent  = ["slips@D/2", "slips@D/3", "slips@D/4"]
  }
}

example "only reverse slips in a cross-coupled set" {
  unit   = "cross-coupled-4"
  expect = ["reverse_frictions"]
  within = 3
  reports "road_test" {
    present = ["slips@R/R"]
    absent  = ["slips@D/1", "slips@D/2", "slips@D/3", "slips@D/4"]
  }
}

example "binds in first and second and in reverse" {
  unit   = "cross-coupled-4"
  expect = ["solenoid_od_control"]
  within = 4
  reports "road_test" {
    present = ["ties_up@D/1", "ties_up@D/2", "ties_up@R/R"]
    absent  = ["slips@D/3", "slips@D/4"]
  }
}

example "fourth, fifth and sixth slip" {
  unit   = "lepelletier-6"
  expect = ["four_to_six_frictions"]
  within = 3
  reports "road_test" {
    present = ["slips@D/4", "slips@D/5", "slips@D/6"]
    absent  = ["slips@D/1", "slips@D/2", "slips@D/3", "slips@R/R"]
  }
}

example "third, fifth and reverse slip" {
  unit   = "lepelletier-6"
  expect = ["three_five_reverse_frictions"]
  within = 3
  reports "road_test" {
    present = ["slips@D/3", "slips@D/5", "slips@R/R"]
    absent  = ["slips@D/1", "slips@D/2", "slips@D/4", "slips@D/6"]
  }
}

example "second and sixth slip" {
  unit   = "lepelletier-6"
  expect = ["two_six_frictions"]
  within = 3
  reports "road_test" {
    present = ["slips@D/2", "slips@D/6"]
    absent  = ["slips@D/1", "slips@D/3", "slips@D/4", "slips@R/R"]
  }
}

example "first to fourth slip, fifth, sixth and reverse pull" {
  unit   = "lepelletier-6"
  expect = ["one_to_four_frictions"]
  within = 3
  reports "road_test" {
    present = ["slips@D/1", "slips@D/2", "slips@D/3"]
    absent  = ["slips@D/5", "slips@D/6", "slips@R/R"]
  }
}

example "first and reverse slip in a six-speed" {
  unit   = "lepelletier-6"
  expect = ["low_reverse_frictions"]
  within = 3
  reports "road_test" {
    present = ["slips@D/1", "slips@R/R"]
    absent  = ["slips@D/2", "slips@D/3", "slips@D/5"]
  }
}

example "every gear of the input clutch slips" {
  unit   = "four-gearset-8"
  expect = ["input_clutch_frictions"]
  within = 3
  reports "road_test" {
    present = ["slips@D/1", "slips@D/3", "slips@D/5", "slips@D/7"]
    absent  = ["slips@D/2", "slips@D/4", "slips@D/8", "slips@R/R"]
  }
}

example "reverse and the gears from fourth slip" {
  unit   = "four-gearset-8"
  expect = ["output_clutch_frictions"]
  within = 3
  reports "road_test" {
    present = ["slips@R/R", "slips@D/4", "slips@D/5", "slips@D/8"]
    absent  = ["slips@D/1", "slips@D/2", "slips@D/3"]
  }
}

example "even gears and third slip" {
  unit   = "four-gearset-8"
  expect = ["lock_clutch_frictions"]
  within = 3
  reports "road_test" {
    present = ["slips@D/2", "slips@D/3", "slips@D/4", "slips@D/8"]
    absent  = ["slips@D/1", "slips@D/5", "slips@D/7", "slips@R/R"]
  }
}

example "first, second, seventh, eighth and reverse slip" {
  unit   = "four-gearset-8"
  expect = ["sun_frictions"]
  within = 4
  reports "road_test" {
    present = ["slips@D/1", "slips@D/2", "slips@D/7", "slips@D/8", "slips@R/R"]
    absent  = ["slips@D/3", "slips@D/4", "slips@D/5"]
  }
}

example "first to fifth and reverse slip, the rest pull" {
  unit   = "four-gearset-8"
  expect = ["ring_frictions"]
  within = 3
  reports "road_test" {
    present = ["slips@D/1", "slips@D/2", "slips@D/3", "slips@R/R"]
    absent  = ["slips@D/6", "slips@D/7", "slips@D/8"]
  }
}

# Downshifts: between third and second of the Simpson set only the band is new; the
# one-way clutch of an overdrive set ahead carries the shift both ways.
example "runs up on the 3-2 kickdown, second a little weak, third good" {
  unit   = "harrow-3"
  cite   = "common practice of the trade"
  expect = ["front_band", "front_servo"]
  within = 2
  reports "road_test" {
    present = ["flare@D/3-2", "slips@D/2"]
    absent  = ["flare@D/2-3"]
    good    = ["D/1", "D/3", "R/R"]
  }
}

example "flares 3-4 and 4-3, every gear holds" {
  unit   = "od-simpson-4"
  cite   = "derived from the published chart: nothing else acts between third and fourth both ways"
  expect = ["od_one_way"]
  within = 1
  reports "road_test" {
    present = ["flare@D/3-4", "flare@D/4-3"]
    absent  = ["slips@D/4"]
    good    = ["D/2", "D/3", "R/R"]
  }
}

example "bangs 1-2 and 3-2, coasting down too: what cushions the band" {
  unit   = "harrow-3"
  cite   = "common practice of the trade"
  expect = ["accumulator"]
  within = 3
  reports "road_test" {
    present = ["harsh_shift@D/1-2", "harsh_shift@D/3-2", "coast_clunk@D/3-2"]
    absent  = ["harsh_shift@D/2-3"]
  }
  reports "gauge" {
    absent = ["line_pressure_high@idle/D"]
  }
}

# Over a gear, and by the lever: other elements change than in single shifts.
example "flares 2-3, and 1-3 with the foot lifted only comes late" {
  unit   = "harrow-3"
  cite   = "derived from the chart: over second the front clutch comes on over first, which keeps driving"
  expect = ["front_clutch_plates"]
  within = 2
  reports "road_test" {
    present = ["flare@D/2-3", "late_shift@D/1-3"]
    absent  = ["flare@D/1-2", "late_shift@D/1-2"]
    good    = ["D/1", "D/2"]
  }
}

example "binds as the lever goes to L in second, and only there" {
  unit   = "harrow-3"
  cite   = "derived from the chart: a front band that lets go late is caught by the rear band only in L; in D it keeps second"
  expect = ["front_servo", "front_band"]
  within = 3
  reports "road_test" {
    present = ["bind_shift@D/2-L/1"]
    absent  = ["bind_shift@D/1-2", "harsh_shift@D/1-2"]
    good    = ["D/1", "D/2", "L/1"]
  }
}
