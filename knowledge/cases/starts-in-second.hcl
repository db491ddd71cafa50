# Quarry Lane Transmissions, an invented shop.
# True culprit: solenoid_b (stuck without current).
language = 1

case "starts-in-second" {
  title   = "Starts in second, no fourth"
  unit    = "ravigneaux-transaxle-4"
  vehicle = "compact car, 97,000 miles"
  reports "driver" {
    present = ["weak_launch@D/1"]
    absent  = ["slips@D/2", "slips@D/3"]
  }
  reports "road_test" {
    present = ["acts_as_2@D/1", "acts_as_3@D/4"]
    absent  = ["slips@D/3", "slips@R/R"]
  }
}
