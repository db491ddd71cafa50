# Quarry Lane Transmissions, an invented shop.
# True culprit: solenoid_a (open coil, so without current). In the late valve body's
# table first then has the state of fourth and second that of third.
language = 1

case "third-and-fourth-only" {
  title   = "Starts in fourth, then drops to third"
  unit    = "northfork-4-late"
  vehicle = "delivery van, 112,000 miles"
  reports "driver" {
    present = ["weak_launch@D/1"]
    absent  = ["no_drive@R/R"]
  }
  reports "road_test" {
    present = ["acts_as_4@D/1", "acts_as_3@D/2"]
    absent  = ["slips@D/3", "slips@D/4", "slips@R/R"]
  }
  reports "scan_tool" {
    present = ["code_P0753"]
    note    = "comes back as soon as it is cleared"
  }
}
