# Quarry Lane Transmissions, an invented shop.
# True culprit: wiring (supply or ground bad). Limp mode, cured by the key; the box
# itself is sound: reverse, low and the failsafe gear are good.
language = 1

case "not-the-transmission" {
  title   = "Stuck in third, comes right after switching off"
  unit    = "northfork-4"
  vehicle = "pickup, 88,000 miles"
  reports "driver" {
    present = ["limp_mode", "key_off_cures", "light_on", "history_electric_trouble"]
    absent  = ["no_drive@R/R", "whine_in_neutral", "history_high_mileage"]
    note    = "the last shop offered a rebuild"
  }
  reports "road_test" {
    present = ["wrong_gear@D/1", "harsh_engagement@D"]
    absent  = ["slips@D/3", "slips@R/R"]
  }
  reports "scan_tool" {
    present = ["code_P0700", "several_codes"]
    absent  = ["input_signal_bad", "output_signal_bad", "range_signal_wrong"]
  }
  reports "measuring_tool" {
    present = ["ground_drop_high"]
    absent  = ["resistance_off@a", "resistance_off@b"]
  }
  reports "eye" {
    absent = ["fluid_burnt_smell", "lining_in_pan"]
  }
}
