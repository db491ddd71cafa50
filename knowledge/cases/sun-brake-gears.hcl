# Quarry Lane Transmissions, an invented shop.
# True culprit: sun_frictions (burnt).
language = 1

case "sun-brake-gears" {
  title   = "Slips taking off and in the top two gears"
  unit    = "four-gearset-8"
  vehicle = "luxury sedan, 92,000 miles"
  reports "driver" {
    present = ["slips@D/1", "slips@D/8"]
    absent  = ["slips@D/4", "slips@D/5"]
  }
  reports "road_test" {
    present = ["slips@D/1", "slips@D/2", "slips@D/7", "slips@R/R"]
    absent  = ["slips@D/3", "slips@D/6"]
  }
}
