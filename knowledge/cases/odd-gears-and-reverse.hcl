# Quarry Lane Transmissions, an invented shop.
# True culprit: three_five_reverse_frictions (burnt).
language = 1

case "odd-gears-and-reverse" {
  title   = "Slips in third, fifth and reverse"
  unit    = "lepelletier-6"
  vehicle = "sport utility, 131,000 miles"
  reports "driver" {
    present = ["slips@R/R", "slips@D/3"]
    absent  = ["slips@D/1", "slips@D/2"]
  }
  reports "road_test" {
    present = ["slips@D/3", "slips@D/5"]
    absent  = ["slips@D/4", "slips@D/6"]
  }
}
