# Quarry Lane Transmissions, an invented shop.
# True culprit: intermediate_frictions (lining burnt). Only second of D needs the
# intermediate brake: in manual second the band holds the same sun, in fourth too, and
# third is held by two clutches.
language = 1

case "second-slips-in-drive" {
  title   = "Slips in second, not in manual second"
  unit    = "northfork-4-late"
  vehicle = "shuttle bus, 151,000 miles"
  reports "driver" {
    present = ["slips@D/2", "history_heavy_load"]
    absent  = ["slips@D/1", "slips@D/3", "slips@D/4"]
  }
  reports "road_test" {
    present = ["slips@D/2"]
    absent  = ["slips@2/2", "slips@D/4", "no_engine_braking@2/2", "slips@R/R"]
  }
  reports "eye" {
    present = ["lining_in_pan", "fluid_burnt_smell"]
    absent  = ["fluid_low"]
  }
}
