# Quarry Lane Transmissions, an invented shop.
# True culprit: accumulator_1_2 (stuck). Only one shift bangs, pressure is good, and
# learned values are in order: no solenoid, whatever the old code says.
language = 1

case "harsh-shift" {
  title   = "Bangs into second, everything else soft"
  unit    = "northfork-4"
  vehicle = "van, 74,000 miles"
  reports "driver" {
    present = ["harsh_shift@D/1-2"]
    absent  = ["harsh_shift@D/2-3", "harsh_shift@D/3-4", "history_battery_off", "history_high_mileage"]
    note    = "once per drive, whatever the pedal"
  }
  reports "road_test" {
    present = ["harsh_shift@D/1-2"]
    absent  = ["harsh_engagement@D", "harsh_engagement@R", "slips@D/2", "late_shift@D/1-2"]
  }
  reports "scan_tool" {
    present = ["code_P0700"]
    absent = [
      "code_P0750",
      "code_P0751",
      "code_P0745",
      "adaptations_reset",
      "load_signal_wrong",
    ]
  }
  reading "line_pressure" "idle/D" {
    value = "71 psi"
  }
  reading "line_pressure" "load/D" {
    value = "176 psi"
  }
}
