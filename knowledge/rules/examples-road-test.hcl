# Published road-test logic: the culprit must come out of the physics of the chart.
language = 1
basis "published" {
  note = "observations and culprits as the manual states them"
  cite = "road-test analysis in the 1986 factory service manual of a light truck with a three-speed Simpson unit"
}

example "first of D and 2 slips, manual low does not" {
  unit   = "harrow-3"
  cite   = "road-test analysis in the 1986 factory service manual of a light truck with a three-speed Simpson unit"
  expect = ["overrunning_clutch"]
  within = 1
  reports "road_test" {
    present = ["slips@D/1", "slips@2/1"]
    absent  = ["slips@L/1"]
  }
}

example "slips in two forward gears" {
  unit   = "harrow-3"
  cite   = "road-test analysis in the 1986 factory service manual of a light truck with a three-speed Simpson unit; reverse good is our addition, it rules the supply out"
  expect = ["rear_clutch_plates"]
  within = 1
  reports "road_test" {
    present = ["slips@D/1", "slips@D/2"]
    absent  = ["slips@R/R"]
  }
}

example "slips in third and in reverse" {
  unit   = "harrow-3"
  cite   = "road-test analysis in the 1986 factory service manual of a light truck with a three-speed Simpson unit"
  expect = ["front_clutch_plates"]
  within = 1
  reports "road_test" {
    present = ["slips@D/3", "slips@R/R"]
    absent  = ["slips@D/1", "slips@D/2"]
  }
}

example "slips in third and the other forward gears, not in reverse" {
  unit   = "harrow-3"
  cite   = "road-test analysis in the 1986 factory service manual of a light truck with a three-speed Simpson unit"
  expect = ["rear_clutch_plates"]
  within = 1
  reports "road_test" {
    present = ["slips@D/1", "slips@D/2", "slips@D/3"]
    absent  = ["slips@R/R"]
  }
}
