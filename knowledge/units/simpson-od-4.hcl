# A three-speed Simpson unit with an overdrive unit behind it.
language = 1
basis "recalled" {
  note = "layout of such units from memory; tooth counts invented near 0.45, the printed ratios are what they give"
}

unit "simpson-od-4" {
  title         = "Four-speed: overdrive unit behind a Simpson set, rear-wheel drive"
  drive         = rear
  controls      = electronic
  parts         = usual
  front_to_back = ["front_band", "front_clutch", "rear_clutch", "front", "driving_shell", "overrunning_clutch", "rear_band", "rear", "od_brake", "od_direct", "od_overrunning", "overdrive"]
  note          = "layout recalled; tooth counts invented, the ratios follow from them; limits invented"

  train {
    input  = "turbine"
    output = "output"
    gearset "front" {
      title   = "front gear set"
      kind    = single
      sun     = "sun"
      carrier = "mid"
      ring    = "front_ring"
      teeth   = [28, 62]
    }
    gearset "rear" {
      title   = "rear gear set"
      kind    = single
      sun     = "sun"
      carrier = "rear_carrier"
      ring    = "mid"
      teeth   = [28, 62]
    }
    gearset "overdrive" {
      title   = "overdrive gear set"
      kind    = single
      sun     = "od_sun"
      carrier = "mid"
      ring    = "output"
      teeth   = [27, 61]
    }
  }

  # A three-speed with a unit behind it that locks in first to third and reverse
  # and overdrives in fourth.
  clutch "front_clutch" {
    title = "front (direct) clutch"
    joins = ["turbine", "shell"]
  }
  clutch "rear_clutch" {
    title = "rear (forward) clutch"
    joins = ["turbine", "front_ring"]
  }
  band "front_band" {
    title = "front (kickdown) band"
    holds = "shell"
  }
  band "rear_band" {
    title = "rear (low and reverse) band"
    holds = "rear_carrier"
  }
  one_way "overrunning_clutch" {
    title = "overrunning clutch"
    stops = "rear_carrier"
  }
  clutch "od_direct" {
    title = "overdrive direct clutch"
    joins = ["mid", "od_sun"]
  }
  brake "od_brake" {
    title = "overdrive clutch to the case"
    holds = "od_sun"
  }
  one_way "od_overrunning" {
    title   = "overdrive overrunning clutch"
    stops   = "output"
    against = "mid"
  }
  converter_clutch "lockup" {
    title = "converter clutch"
  }
  joint "driving_shell" {
    title = "driving shell"
    joins = ["shell", "sun"]
  }
  solenoid "od_control" {
    title    = "overdrive solenoid"
    controls = ["od_brake"]
  }
  solenoid "lockup_control" {
    title = "converter clutch solenoid"
    kind  = converter
  }

  row "P" "P" {
    apply = ["od_direct"]
  }
  row "R" "R" {
    apply          = ["front_clutch", "rear_band", "od_direct"]
    ratio          = -2.21
    engine_braking = true
  }
  row "N" "N" {
    apply = ["od_direct"]
  }
  row "D" "1" {
    apply          = ["rear_clutch", "od_direct"]
    ratio          = 2.45
    engine_braking = false
  }
  row "D" "2" {
    apply          = ["rear_clutch", "front_band", "od_direct"]
    ratio          = 1.45
    engine_braking = true
  }
  row "D" "3" {
    apply          = ["rear_clutch", "front_clutch", "od_direct"]
    ratio          = 1.00
    engine_braking = true
    lockup         = true
  }
  row "D" "4" {
    apply          = ["rear_clutch", "front_clutch", "od_brake"]
    ratio          = 0.69
    engine_braking = true
    lockup         = true
  }
  row "2" "1" {
    apply = ["rear_clutch", "od_direct"]
    ratio = 2.45
  }
  row "2" "2" {
    apply          = ["rear_clutch", "front_band", "od_direct"]
    ratio          = 1.45
    engine_braking = true
  }
  row "1" "1" {
    apply          = ["rear_clutch", "rear_band", "od_direct"]
    ratio          = 2.45
    engine_braking = true
  }

  component "driving_shell" {
    kind = shell
  }
  # Shifts one to three are by governor and throttle valve, the fourth by solenoid.
  component "governor" {
    title  = "governor"
    kind   = governor
    serves = [shift["1-2"], shift["2-3"]]
    at     = "extension_off"
  }
  component "shift_valve_1_2" {
    title  = "1-2 shift valve"
    kind   = shift_valve
    serves = shift["1-2"]
    at     = "valve_body_open"
  }
  component "shift_valve_2_3" {
    title  = "2-3 shift valve"
    kind   = shift_valve
    serves = shift["2-3"]
    at     = "valve_body_open"
  }
  component "accumulator_3_4" {
    title  = "overdrive accumulator"
    kind   = accumulator
    serves = shift["3-4"]
    at     = "valve_body_open"
  }
  component "throttle_valve" {
    title  = "throttle valve and its cable"
    kind   = throttle_valve
    serves = [shift["1-2"], shift["2-3"], circuit.line]
    at     = "valve_body_open"
  }

  # Limits: invented examples of the right size, no maker's figures. Write the
  # manual's own here.
  limit "front_clutch_clearance" {
    title = "front clutch pack"
    low   = "1.5 mm"
    high  = "3.2 mm"
    basis "invented" {
      note = "example; no maker's figure"
    }
  }
  limit "rear_clutch_clearance" {
    title = "rear clutch pack"
    low   = "0.6 mm"
    high  = "1.1 mm"
    basis "invented" {
      note = "example; no maker's figure"
    }
  }
}
