# Quarry Lane Transmissions, an invented shop.
# True culprit: low_one_way (rollers worn).
language = 1

case "first-only-in-low" {
  title   = "No drive from a stop in D"
  unit    = "ravigneaux-transaxle-4"
  vehicle = "compact car, 143,000 miles"
  reports "driver" {
    present = ["no_drive@D/1"]
    absent  = ["no_drive@R/R"]
  }
  reports "road_test" {
    present = ["no_drive@D/1"]
    absent  = ["no_drive@1/1", "slips@D/2", "slips@D/3"]
  }
}
