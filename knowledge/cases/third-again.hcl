# Quarry Lane Transmissions, an invented shop.
# True culprit: solenoid_od_control (stuck without current).
language = 1

case "third-again" {
  title   = "No overdrive"
  unit    = "simpson-od-4"
  vehicle = "pickup, 88,000 miles"
  reports "driver" {
    present = ["acts_as_3@D/4"]
    absent  = ["slips@D/3", "no_drive@R/R"]
  }
  reports "road_test" {
    present = ["acts_as_3@D/4"]
    absent  = ["slips@D/1", "flare@D/2-3", "harsh_shift@D/1-2"]
  }
}
