# Quarry Lane Transmissions, an invented shop.
# True culprit: overdrive_servo (seal cut). The band itself is good: no lining in the
# pan. The band works in fourth and, on lifting, in manual second: both fail together.
language = 1

case "slip-one-gear" {
  title   = "Slips in fourth on the highway"
  unit    = "northfork-4"
  vehicle = "delivery van, 138,000 miles"
  reports "driver" {
    present = ["slips@D/4", "history_high_mileage"]
    absent  = ["slips@D/1", "slips@D/2", "slips@D/3", "no_drive@R/R", "limp_mode"]
    note    = "noticed on the highway, worse after an hour"
  }
  reports "road_test" {
    present = ["slips@D/4:hot", "no_engine_braking@2/2"]
    absent  = ["slips@D/3", "slips@R/R", "creeps@N/N"]
  }
  reports "eye" {
    absent = ["lining_in_pan", "fluid_burnt_smell", "fluid_low"]
    note   = "fluid red, pan clean but for gray paste"
  }
  reading "line_pressure" "idle/D" {
    value = "72 psi"
  }
  reading "line_pressure" "idle/R" {
    value = "104 psi"
  }
}
