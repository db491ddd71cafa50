# Quarry Lane Transmissions, an invented shop.
# True culprit: od_direct_frictions (burnt). Forward the overrunning clutch drives; it cannot push backward or hold back.
language = 1

case "no-reverse-no-coasting" {
  title   = "No reverse, rolls free in every gear"
  unit    = "simpson-od-4"
  vehicle = "van, 134,000 miles"
  reports "driver" {
    present = ["no_drive@R/R"]
    absent  = ["no_drive@D/1", "slips@D/2"]
  }
  reports "road_test" {
    present = ["no_drive@R/R", "no_engine_braking@D/3"]
    absent  = ["no_engine_braking@D/4", "slips@D/3"]
  }
}
