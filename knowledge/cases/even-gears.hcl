# Quarry Lane Transmissions, an invented shop.
# True culprit: lock_clutch_frictions (burnt).
language = 1

case "even-gears" {
  title   = "Slips in second, third, fourth, sixth"
  unit    = "four-gearset-8"
  vehicle = "pickup, 104,000 miles"
  reports "driver" {
    present = ["slips@D/2", "slips@D/4"]
    absent  = ["slips@D/1", "slips@R/R"]
  }
  reports "road_test" {
    present = ["slips@D/2", "slips@D/3", "slips@D/6"]
    absent  = ["slips@D/5", "slips@D/7"]
  }
}
