# Quarry Lane Transmissions, an invented shop.
# True culprits: low_roller (worn out) and, unrelated, lockup_clutch (lining
# glazed): two complaints, two faults, neither causes the other.
language = 1

case "two-faults" {
  title   = "No drive in D from a stop, and shudders at 50"
  unit    = "northfork-4"
  vehicle = "van, 121,000 miles"
  reports "driver" {
    present = ["no_drive@D/1", "shudder@D/4", "history_high_mileage"]
    absent  = ["no_drive@R/R", "no_drive@L/1"]
    note    = "pulls away in L, then D is fine; the shudder is a year old"
  }
  reports "road_test" {
    present = ["no_drive@D/1", "no_drive@2/1", "shudder@D/4", "shudder_gone_at_brake"]
    absent  = ["no_drive@L/1", "slips@D/2", "slips@D/3", "misfire_felt"]
  }
  reports "eye" {
    absent = ["lining_in_pan", "fluid_milky", "fluid_low", "fluid_wrong_kind", "driveline_play"]
  }
}
