# Quarry Lane Transmissions, an invented shop.
# True culprit: rear_clutch_plates (lining burnt). The rear clutch is on in every forward
# gear and not in reverse; pulling away asks most of it.
language = 1

case "slips-pulling-away" {
  title   = "Slips pulling away loaded, reverse is strong"
  unit    = "harrow-3-heavy"
  vehicle = "dump truck, 98,000 miles"
  reports "driver" {
    present = ["slips@D/1", "history_heavy_load"]
    absent  = ["slips@R/R", "no_drive@R/R"]
  }
  reports "road_test" {
    present = ["slips@D/1", "slips@L/1", "slips@D/2"]
    absent  = ["slips@R/R", "creeps@N/N"]
  }
  reports "eye" {
    present = ["lining_in_pan", "fluid_burnt_smell"]
    absent  = ["fluid_low"]
  }
  reading "line_pressure" "idle/D" {
    value = "64 psi"
  }
  reading "line_pressure" "load/D" {
    value = "98 psi"
  }
}
