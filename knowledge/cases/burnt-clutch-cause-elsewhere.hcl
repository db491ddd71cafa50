# Quarry Lane Transmissions, an invented shop.
# True culprits: forward_frictions (lining burnt) and, behind it, regulator_valve (bore
# worn), missed at the last build: line pressure falls hot in every range. New plates
# alone would be back within the year.
language = 1

case "burnt-clutch-cause-elsewhere" {
  title   = "Slips in first and second again, eight months after a rebuild"
  unit    = "northfork-4"
  vehicle = "pickup, 171,000 miles"
  reports "driver" {
    present = ["slips@D/1", "slips@D/2", "history_rebuilt", "history_high_mileage"]
    absent  = ["slips@R/R", "history_sudden", "history_overheated"]
    note    = "the same complaint as before the rebuild"
  }
  reports "road_test" {
    present = ["slips@D/1:cold", "slips@D/1:hot", "slips@D/2"]
    absent  = ["slips@R/R", "limp_mode"]
  }
  reports "gauge" {
    present = [
      "line_pressure_low@idle/D:hot",
      "line_pressure_low@idle/R:hot",
      "line_pressure_low@load/D:hot",
    ]
    absent = ["cooler_flow_low", "no_pressure_anywhere"]
    note   = "good cold"
  }
  reports "eye" {
    present = ["lining_in_pan", "fluid_burnt_smell", "lining_in_filter"]
    absent  = ["fluid_low", "fluid_foamy", "fluid_milky", "bronze_in_pan"]
  }
  reports "scan_tool" {
    absent = ["load_signal_wrong", "code_P0745"]
  }
}
