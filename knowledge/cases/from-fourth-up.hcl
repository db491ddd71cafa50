# Quarry Lane Transmissions, an invented shop.
# True culprit: four_to_six_frictions (burnt).
language = 1

case "from-fourth-up" {
  title   = "Slips from fourth up"
  unit    = "lepelletier-6"
  vehicle = "sedan, 109,000 miles"
  reports "driver" {
    present = ["slips@D/5", "slips@D/6"]
    absent  = ["slips@D/1", "slips@D/2", "slips@R/R"]
  }
  reports "road_test" {
    present = ["slips@D/4", "slips@D/5"]
    absent  = ["slips@D/3"]
  }
}
