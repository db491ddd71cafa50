# Quarry Lane Transmissions, an invented shop.
# True culprit: rear_servo (seal cut). The rear band works in reverse and in L, where
# without it first runs free on the overrunning clutch. The pan shows no lining.
language = 1

case "reverse-slips-low-coasts" {
  title   = "Reverse slips, L does not hold back downhill"
  unit    = "harrow-3-heavy"
  vehicle = "tow truck, 134,000 miles"
  reports "driver" {
    present = ["slips@R/R", "no_engine_braking@L/1", "history_high_mileage"]
    absent  = ["slips@D/1", "slips@D/2", "slips@D/3"]
  }
  reports "road_test" {
    present = ["slips@R/R:hot", "no_engine_braking@L/1"]
    absent  = ["slips@D/3", "slips@L/1"]
  }
  reports "eye" {
    absent = ["lining_in_pan", "fluid_burnt_smell", "fluid_low"]
  }
  reading "line_pressure" "idle/R" {
    value = "148 psi"
  }
}
