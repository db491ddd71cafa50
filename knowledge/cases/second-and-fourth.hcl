# Quarry Lane Transmissions, an invented shop.
# True culprit: two_four_frictions (burnt).
language = 1

case "second-and-fourth" {
  title   = "Flares going into second, slips in fourth"
  unit    = "cross-coupled-4"
  vehicle = "minivan, 118,000 miles"
  reports "driver" {
    present = ["slips@D/2", "slips@D/4"]
    absent  = ["slips@D/1", "slips@D/3"]
  }
  reports "road_test" {
    present = ["slips@D/2"]
    absent  = ["slips@R/R", "slips@D/3"]
  }
}
