# Quarry Lane Transmissions, an invented shop.
# True culprit: od_one_way (sprag tilted). Third and fourth are good, only the moment between is not.
language = 1

case "flare-into-overdrive" {
  title   = "Revs up between third and fourth"
  unit    = "od-simpson-4"
  vehicle = "station wagon, 161,000 miles"
  reports "driver" {
    present = ["flare@D/3-4"]
    absent  = ["slips@D/3", "slips@D/4"]
  }
  reports "road_test" {
    present = ["flare@D/3-4"]
    absent  = ["slips@D/4", "slips@R/R", "no_engine_braking@D/3"]
  }
}
