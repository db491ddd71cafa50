# Quarry Lane Transmissions, an invented shop.
# True culprit: second_coast_servo (seal cut). The second brake drives second through its one-way clutch, so D shows nothing.
language = 1

case "no-hold-back-in-second" {
  title   = "Will not hold the car back in second"
  unit    = "od-simpson-4"
  vehicle = "light truck, 120,000 miles"
  reports "driver" {
    present = ["no_engine_braking@2/2"]
    absent  = ["slips@D/2", "slips@D/3", "slips@D/4"]
  }
  reports "road_test" {
    present = ["no_engine_braking@2/2"]
    absent  = ["no_engine_braking@L/1", "flare@D/1-2"]
  }
}
