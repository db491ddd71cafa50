# Quarry Lane Transmissions, an invented shop.
# True culprit: front_band (lining worn, out of adjustment). The band works in second
# alone; where it is slow first stays on, so that the shift comes late and does not flare.
language = 1

case "late-into-second" {
  title   = "Late into second, second slips uphill"
  unit    = "harrow-3"
  vehicle = "flatbed pickup, 121,000 miles"
  reports "driver" {
    present = ["late_shift@D/1-2", "slips@D/2"]
    absent  = ["slips@D/1", "slips@D/3", "slips@R/R"]
    note    = "never adjusted as far as the owner knows"
  }
  reports "road_test" {
    present = ["slips@D/2", "slips@2/2"]
    absent  = ["flare@D/1-2", "flare@D/2-3", "slips@R/R"]
  }
  reports "eye" {
    present = ["lining_in_pan"]
    absent  = ["fluid_low"]
  }
}
