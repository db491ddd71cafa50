# Quarry Lane Transmissions, an invented shop.
# True culprit: reverse_piston (lip cut). Low has its engine braking, so the low and
# reverse brake holds; second and fourth are good, so the sun shell is whole.
language = 1

case "no-reverse" {
  title   = "No reverse, all forward gears good"
  unit    = "northfork-4"
  vehicle = "pickup, 96,000 miles"
  reports "driver" {
    present = ["no_drive@R/R"]
    absent  = ["no_drive@D/1", "slips@D/1", "slips@D/2", "history_towed", "history_high_mileage"]
    note    = "reverse came late for some weeks, then not at all"
  }
  reports "road_test" {
    present = ["no_drive@R/R"]
    absent  = ["no_engine_braking@L/1", "wrong_gear@D/2", "slips@D/4", "creeps@N/N"]
  }
  reports "eye" {
    absent = ["lining_in_pan", "selector_off", "fluid_low"]
  }
  reading "line_pressure" "idle/R" {
    value = "70 psi"
  }
  reading "line_pressure" "idle/D" {
    value = "74 psi"
  }
}
