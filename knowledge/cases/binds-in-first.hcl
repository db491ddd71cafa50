# Quarry Lane Transmissions, an invented shop.
# True culprit: solenoid_od_control (stuck with its oil on).
language = 1

case "binds-in-first" {
  title   = "Bound up in first and reverse, third is good"
  unit    = "cross-coupled-4"
  vehicle = "minivan, 76,000 miles"
  reports "driver" {
    present = ["ties_up@D/1", "ties_up@R/R"]
    absent  = ["slips@D/3"]
  }
  reports "road_test" {
    present = ["ties_up@D/1", "ties_up@D/2"]
    absent  = ["slips@D/3", "slips@D/4"]
  }
}
