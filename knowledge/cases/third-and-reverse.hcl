# Quarry Lane Transmissions, an invented shop.
# True culprit: front_clutch_plates (lining burnt). The front clutch is the only element
# that third and reverse share.
language = 1

case "third-and-reverse" {
  title   = "Flares into third, reverse slips uphill"
  unit    = "harrow-3"
  vehicle = "farm pickup, 160,000 miles"
  reports "driver" {
    present = ["slips@D/3", "slips@R/R", "history_heavy_load", "history_high_mileage"]
    absent  = ["slips@D/1", "slips@D/2"]
  }
  reports "road_test" {
    present = ["flare@D/2-3", "slips@R/R"]
    absent  = ["slips@D/2", "no_engine_braking@L/1", "creeps@N/N"]
  }
  reports "eye" {
    present = ["lining_in_pan", "fluid_burnt_smell"]
    absent  = ["fluid_low", "throttle_cable_off"]
  }
  reading "line_pressure" "idle/D" {
    value = "61 psi"
  }
  reading "line_pressure" "idle/R" {
    value = "165 psi"
  }
}
