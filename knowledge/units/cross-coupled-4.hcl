# A four-speed transaxle whose two gear sets are cross-coupled.
language = 1
basis "recalled" {
  note = "layout of such units from memory; tooth counts invented so that ratios of 2.84, 1.57, 1.00, 0.69 come out"
}

unit "cross-coupled-4" {
  title         = "Four-speed transaxle with two cross-coupled gear sets"
  drive         = front
  controls      = adaptive
  parts         = usual
  front_to_back = ["reverse", "overdrive", "underdrive", "two_four", "front", "rear", "low_reverse"]
  note          = "layout recalled; tooth counts invented, the ratios follow from them; failsafe recalled; limits invented"

  train {
    input  = "turbine"
    output = "output"
    gearset "front" {
      title   = "front gear set"
      kind    = single
      sun     = "front_sun"
      carrier = "mid"
      ring    = "output"
      teeth   = [34, 75]
    }
    gearset "rear" {
      title   = "rear gear set"
      kind    = single
      sun     = "rear_sun"
      carrier = "output"
      ring    = "mid"
      teeth   = [38, 70]
    }
  }

  # Each gear set's ring is the other one's carrier. No one-way clutch: every shift is
  # one element off and one on, each with a solenoid of its own.
  clutch "underdrive" {
    title = "underdrive clutch"
    joins = ["turbine", "rear_sun"]
  }
  clutch "overdrive" {
    title = "overdrive clutch"
    joins = ["turbine", "mid"]
  }
  clutch "reverse" {
    title = "reverse clutch"
    joins = ["turbine", "front_sun"]
  }
  brake "two_four" {
    title = "second and fourth brake"
    holds = "front_sun"
  }
  brake "low_reverse" {
    title = "low and reverse brake"
    holds = "mid"
  }
  converter_clutch "lockup" {
    title = "converter clutch"
  }
  solenoid "ud_control" {
    title    = "underdrive solenoid"
    controls = ["underdrive"]
    rest     = applied
  }
  solenoid "od_control" {
    title    = "overdrive solenoid"
    controls = ["overdrive"]
    rest     = released
  }
  solenoid "tf_control" {
    title    = "second and fourth solenoid"
    controls = ["two_four"]
    rest     = applied
  }
  solenoid "lr_control" {
    title    = "low and reverse solenoid"
    controls = ["low_reverse"]
    rest     = released
  }
  solenoid "lockup_control" {
    title = "converter clutch solenoid"
    kind  = converter
  }

  row "P" "P" {
    apply = ["low_reverse"]
  }
  row "R" "R" {
    apply          = ["reverse", "low_reverse"]
    ratio          = -2.21
    engine_braking = true
  }
  row "N" "N" {
    apply = ["low_reverse"]
  }
  row "D" "1" {
    apply          = ["underdrive", "low_reverse"]
    ratio          = 2.84
    engine_braking = true
  }
  row "D" "2" {
    apply          = ["underdrive", "two_four"]
    ratio          = 1.57
    engine_braking = true
  }
  row "D" "3" {
    apply          = ["underdrive", "overdrive"]
    ratio          = 1.00
    engine_braking = true
    lockup         = true
  }
  row "D" "4" {
    apply          = ["overdrive", "two_four"]
    ratio          = 0.69
    engine_braking = true
    lockup         = true
  }
  row "3" "1" {
    apply = ["underdrive", "low_reverse"]
    ratio = 2.84
  }
  row "3" "2" {
    apply = ["underdrive", "two_four"]
    ratio = 1.57
  }
  row "3" "3" {
    apply = ["underdrive", "overdrive"]
    ratio = 1.00
  }
  row "L" "1" {
    apply = ["underdrive", "low_reverse"]
    ratio = 2.84
  }

  failsafe "D" {
    gear = "2"
  }
  failsafe "R" { # the manual valve feeds the brake past its solenoid (recalled)
    gear     = "R"
    by_valve = ["low_reverse"]
  }
  failsafe "3" {
    gear = "2"
  }

  # Limits: invented examples of the right size, no maker's figures. Write the
  # manual's own here.
  limit "underdrive_clearance" {
    title = "underdrive clutch pack"
    low   = "0.9 mm"
    high  = "1.5 mm"
    basis "invented" {
      note = "example; no maker's figure"
    }
  }
  limit "two_four_clearance" {
    title = "second and fourth brake pack"
    low   = "0.8 mm"
    high  = "2.6 mm"
    basis "invented" {
      note = "example; no maker's figure"
    }
  }
}
