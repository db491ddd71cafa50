# A four-speed transaxle with a Ravigneaux set.
language = 1
basis "recalled" {
  note = "ratios recalled and tooth counts implied by them; which elements and solenoids are on in first and second is as in the vehicle service information for the transaxle 81-40LE, the other rows and the failsafe gears are recalled"
}

unit "ravigneaux-transaxle-4" {
  title         = "Four-speed Ravigneaux transaxle"
  drive         = front
  controls      = electronic
  parts         = usual
  front_to_back = ["od_brake", "second", "reverse", "second_one_way", "direct", "forward", "low_one_way", "low_reverse", "long", "short"]
  note          = "rows of first and second and their solenoids published; tooth counts implied by recalled ratios; third, fourth, reverse and failsafe recalled; limits invented"

  train {
    input  = "turbine"
    output = "ring"
    gearset "long" {
      title   = "Ravigneaux set, large sun"
      kind    = single
      sun     = "rear_sun"
      carrier = "carrier"
      ring    = "ring"
      teeth   = [40, 92]
    }
    gearset "short" {
      title   = "Ravigneaux set, small sun"
      kind    = double
      sun     = "front_sun"
      carrier = "carrier"
      ring    = "ring"
      teeth   = [32, 92]
    }
  }

  clutch "forward" {
    title = "forward clutch"
    joins = ["turbine", "front_sun"]
  }
  clutch "direct" {
    title = "direct clutch"
    joins = ["turbine", "carrier"]
  }
  clutch "reverse" {
    title = "reverse clutch"
    joins = ["turbine", "rear_sun"]
  }
  brake "od_brake" {
    title = "overdrive and second coast brake"
    holds = "rear_sun"
  }
  brake "second" {
    title = "second brake"
    holds = "second_race"
  }
  brake "low_reverse" {
    title = "first and reverse brake"
    holds = "carrier"
  }
  one_way "second_one_way" {
    title   = "second one-way clutch"
    stops   = "rear_sun"
    against = "second_race"
  }
  one_way "low_one_way" {
    title = "low one-way clutch"
    stops = "carrier"
  }
  converter_clutch "lockup" {
    title = "converter clutch"
  }
  solenoid "a" {
    title = "shift solenoid 1"
    kind  = shift
  }
  solenoid "b" {
    title = "shift solenoid 2"
    kind  = shift
  }
  solenoid "pressure_control" {
    title = "line pressure solenoid"
    kind  = pressure
  }
  solenoid "lockup_control" {
    title = "converter clutch solenoid"
    kind  = converter
  }

  row "P" "P" {
    apply = []
  }
  row "R" "R" {
    apply          = ["reverse", "low_reverse"]
    ratio          = -2.300
    engine_braking = true
  }
  row "N" "N" {
    apply = []
  }
  row "D" "1" {
    apply          = ["forward"]
    ratio          = 2.875
    engine_braking = false
    solenoids      = ["a", "b"]
    holding        = ["low_one_way"]
  }
  row "D" "2" {
    apply          = ["forward", "second"]
    ratio          = 1.568
    engine_braking = false
    solenoids      = ["a"]
    holding        = ["second_one_way"]
  }
  row "D" "3" {
    apply          = ["forward", "direct", "second"]
    ratio          = 1.000
    engine_braking = true
    solenoids      = []
    lockup         = true
  }
  row "D" "4" {
    apply          = ["direct", "od_brake", "second"]
    ratio          = 0.697
    engine_braking = true
    solenoids      = ["b"]
    lockup         = true
  }
  row "2" "1" {
    apply          = ["forward"]
    ratio          = 2.875
    engine_braking = false
    solenoids      = ["a", "b"]
  }
  row "2" "2" {
    apply          = ["forward", "second", "od_brake"]
    ratio          = 1.568
    engine_braking = true
    solenoids      = ["a"]
  }
  row "1" "1" {
    apply          = ["forward", "low_reverse"]
    ratio          = 2.875
    engine_braking = true
    solenoids      = ["a", "b"]
  }

  failsafe "D" {
    gear = "3"
  }
  failsafe "2" {
    gear = "2"
  }
  failsafe "1" {
    gear = "1"
  }
  failsafe "R" {
    gear = "R"
  }

  # Limits: invented examples of the right size, no maker's figures. Write the
  # manual's own here.
  limit "forward_clearance" {
    title = "forward clutch pack"
    low   = "1.0 mm"
    high  = "1.8 mm"
    basis "invented" {
      note = "example; no maker's figure"
    }
  }
  limit "direct_clearance" {
    title = "direct clutch pack"
    low   = "0.6 mm"
    high  = "1.2 mm"
    basis "invented" {
      note = "example; no maker's figure"
    }
  }
  formerly "s1" { now = "a" }
  formerly "s2" { now = "b" }
  formerly "line_control" { now = "pressure_control" }
  formerly "solenoid_s1" { now = "solenoid_a" }
  formerly "solenoid_s2" { now = "solenoid_b" }
  formerly "solenoid_line_control" { now = "solenoid_pressure_control" }
}
