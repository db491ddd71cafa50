# What the road tells on the variants: by their own solenoid table and their own
# limits, else as on the units that they are like.
language = 1
basis "common practice" {
  note = "reasoning from the clutch and band chart and the solenoid table"
}

# States of the late valve body, solenoids a and b: first a, second a and b, third b,
# fourth none. With a off, first is the state of fourth and second that of third.
example "late valve body: only third and fourth" {
  unit   = "northfork-4-late"
  expect = ["solenoid_a"]
  within = 1
  reports "road_test" {
    present = ["acts_as_4@D/1", "acts_as_3@D/2"]
    absent  = ["slips@D/3", "slips@R/R"]
  }
}

# With b off, second is the state of first and third that of fourth.
example "late valve body: only first and fourth" {
  unit   = "northfork-4-late"
  expect = ["solenoid_b"]
  within = 1
  reports "road_test" {
    present = ["acts_as_1@D/2", "acts_as_4@D/3"]
    absent  = ["slips@D/4", "slips@R/R"]
  }
}

# With a on, third is the state of second and fourth that of first.
example "late valve body: never above second" {
  unit   = "northfork-4-late"
  expect = ["solenoid_a"]
  within = 2
  reports "road_test" {
    present = ["acts_as_2@D/3", "acts_as_1@D/4"]
    absent  = ["acts_as_2@D/1", "slips@D/2", "slips@R/R"]
  }
}

# The band works in fourth and, on lifting, in manual second.
example "late valve body: fourth slips, manual second runs free" {
  unit   = "northfork-4-late"
  expect = ["overdrive_band", "overdrive_servo"]
  within = 2
  reports "road_test" {
    present = ["slips@D/4", "no_engine_braking@2/2"]
    absent  = ["slips@D/3", "slips@D/2", "slips@R/R"]
  }
}

example "late valve body: creeps in neutral, ties up in reverse" {
  unit   = "northfork-4-late"
  expect = ["forward_frictions"]
  within = 3
  reports "road_test" {
    present = ["creeps@N/N", "ties_up@R/R"]
    absent  = ["slips@D/1", "no_drive@D/1"]
  }
}

example "heavy truck: first slips in D and 2, not in L" {
  unit   = "harrow-3-heavy"
  expect = ["overrunning_clutch"]
  within = 1
  reports "road_test" {
    present = ["slips@D/1", "slips@2/1"]
    absent  = ["slips@L/1", "slips@D/2", "slips@R/R"]
  }
}

example "heavy truck: third and reverse slip" {
  unit   = "harrow-3-heavy"
  expect = ["front_clutch_plates"]
  within = 1
  reports "road_test" {
    present = ["slips@D/3", "slips@R/R"]
    absent  = ["slips@D/1", "slips@D/2"]
  }
}

example "heavy truck: first and second slip, in L too" {
  unit   = "harrow-3-heavy"
  expect = ["rear_clutch_plates"]
  within = 1
  reports "road_test" {
    present = ["slips@D/1", "slips@D/2", "slips@L/1"]
    absent  = ["slips@R/R"]
  }
}

example "heavy truck: reverse slips, L does not hold back" {
  unit   = "harrow-3-heavy"
  expect = ["rear_band", "rear_servo"]
  within = 2
  reports "road_test" {
    present = ["slips@R/R", "no_engine_braking@L/1"]
    absent  = ["slips@D/3", "slips@D/2", "slips@D/1"]
  }
}

# 150 psi in reverse is within the limits of the light truck, and low for this one;
# the other ranges are good, so that the leak is in what reverse alone is fed.
example "heavy truck: pressure low in reverse alone" {
  unit   = "harrow-3-heavy"
  expect = ["rear_servo", "front_clutch_rings"]
  within = 4
  reports "road_test" {
    present = ["late_engagement@R"]
    absent  = ["late_engagement@D"]
  }
  reading "line_pressure" "idle/R" {
    value = "150 psi"
  }
  reading "line_pressure" "idle/D" {
    value = "66 psi"
  }
}
