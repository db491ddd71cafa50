# A four-speed with its overdrive set ahead of a Simpson set.
language = 1
basis "published" {
  cite = "manufacturer's new-car features sheet for the A340E and A343E: tooth counts, ratios, elements and what each does; member wiring, solenoid states and failsafe recalled"
}

unit "od-simpson-4" {
  title         = "Four-speed: overdrive set ahead of a Simpson set, rear-wheel drive"
  drive         = rear
  controls      = electronic
  parts         = usual
  front_to_back = ["od_brake", "od_direct", "od_one_way", "overdrive", "direct", "forward", "second_coast_band", "front", "second", "second_one_way", "low_one_way", "low_reverse", "rear"]
  note          = "tooth counts and ratios published, wiring, solenoids and failsafe recalled, limits invented"

  train {
    input  = "turbine"
    output = "output"
    gearset "overdrive" {
      title   = "overdrive gear set"
      kind    = single
      sun     = "od_sun"
      carrier = "turbine"
      ring    = "od_ring"
      teeth   = [33, 79]
    }
    gearset "front" {
      title   = "front gear set"
      kind    = single
      sun     = "sun"
      carrier = "output"
      ring    = "front_ring"
      teeth   = [42, 79]
    }
    gearset "rear" {
      title   = "rear gear set"
      kind    = single
      sun     = "sun"
      carrier = "rear_carrier"
      ring    = "output"
      teeth   = [33, 79]
    }
  }

  # The overdrive set stands ahead: its clutch and one-way clutch lock it in first to
  # third and reverse, its brake holds the sun in fourth.
  clutch "od_direct" {
    title = "overdrive direct clutch"
    joins = ["turbine", "od_sun"]
  }
  clutch "forward" {
    title = "forward clutch"
    joins = ["od_ring", "front_ring"]
  }
  clutch "direct" {
    title = "direct clutch"
    joins = ["od_ring", "sun"]
  }
  brake "od_brake" {
    title = "overdrive brake"
    holds = "od_sun"
  }
  band "second_coast_band" {
    title = "second coast band"
    holds = "sun"
  }
  brake "second" {
    title = "second brake"
    holds = "second_race"
  }
  brake "low_reverse" {
    title = "low and reverse brake"
    holds = "rear_carrier"
  }
  one_way "od_one_way" {
    title   = "overdrive one-way clutch"
    stops   = "turbine"
    against = "od_sun"
  }
  one_way "second_one_way" {
    title   = "second one-way clutch"
    stops   = "sun"
    against = "second_race"
  }
  one_way "low_one_way" {
    title = "low one-way clutch"
    stops = "rear_carrier"
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
  solenoid "lockup_control" {
    title = "converter clutch solenoid"
    kind  = converter
  }

  row "P" "P" {
    apply = ["od_direct"]
  }
  row "R" "R" {
    apply          = ["od_direct", "direct", "low_reverse"]
    ratio          = -2.393
    engine_braking = true
  }
  row "N" "N" {
    apply = ["od_direct"]
  }
  row "D" "1" {
    apply          = ["od_direct", "forward"]
    ratio          = 2.804
    engine_braking = false
    solenoids      = ["a"]
    holding        = ["low_one_way"]
  }
  row "D" "2" {
    apply          = ["od_direct", "forward", "second"]
    ratio          = 1.531
    engine_braking = false
    solenoids      = ["a", "b"]
    holding        = ["second_one_way"]
  }
  row "D" "3" {
    apply          = ["od_direct", "forward", "direct", "second"]
    ratio          = 1.000
    engine_braking = true
    solenoids      = ["b"]
    lockup         = true
  }
  row "D" "4" {
    apply          = ["forward", "direct", "od_brake", "second"]
    ratio          = 0.705
    engine_braking = true
    solenoids      = []
    lockup         = true
  }
  row "2" "1" {
    apply          = ["od_direct", "forward"]
    ratio          = 2.804
    engine_braking = false
    solenoids      = ["a"]
  }
  row "2" "2" {
    apply          = ["od_direct", "forward", "second", "second_coast_band"]
    ratio          = 1.531
    engine_braking = true
    solenoids      = ["a", "b"]
  }
  row "2" "3" {
    apply          = ["od_direct", "forward", "direct", "second"]
    ratio          = 1.000
    engine_braking = true
    solenoids      = ["b"]
  }
  row "L" "1" {
    apply          = ["od_direct", "forward", "low_reverse"]
    ratio          = 2.804
    engine_braking = true
    solenoids      = ["a"]
  }

  failsafe "D" {
    gear = "4"
  }
  failsafe "2" {
    gear = "3"
  }
  failsafe "R" {
    gear = "R"
  }
  failsafe "L" {
    gear = "1"
  }

  # Limits: invented examples of the right size, no maker's figures. Write the
  # manual's own here.
  limit "forward_clearance" {
    title = "forward clutch pack"
    low   = "0.7 mm"
    high  = "1.2 mm"
    basis "invented" {
      note = "example; no maker's figure"
    }
  }
  limit "direct_clearance" {
    title = "direct clutch pack"
    low   = "0.9 mm"
    high  = "1.6 mm"
    basis "invented" {
      note = "example; no maker's figure"
    }
  }
  limit "second_clearance" {
    title = "second brake pack"
    low   = "0.6 mm"
    high  = "2.0 mm"
    basis "invented" {
      note = "example; no maker's figure"
    }
  }
  formerly "s1" { now = "a" }
  formerly "s2" { now = "b" }
  formerly "solenoid_s1" { now = "solenoid_a" }
  formerly "solenoid_s2" { now = "solenoid_b" }
}
