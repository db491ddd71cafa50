# A six-speed with a simple gear set ahead of a Ravigneaux set.
language = 1
basis "published" {
  cite = "open encyclopedia articles on the six-speed 6HP26 and on the Lepelletier gear mechanism: ratios, and that two brakes and three clutches work it; tooth counts, wiring, rows, solenoids and failsafe recalled"
}

unit "lepelletier-6" {
  title         = "Six-speed: simple gear set ahead of a Ravigneaux set, rear-wheel drive"
  drive         = rear
  controls      = adaptive
  parts         = usual
  front_to_back = ["one_to_four", "three_five_reverse", "ahead", "four_to_six", "two_six", "low_reverse", "long", "short"]
  note          = "ratios published; tooth counts, wiring, rows, solenoids and failsafe recalled, and confirmed by the ratios; limits invented"

  train {
    basis "recalled" {
      note = "tooth counts and wiring from memory; the published ratios come out of them"
    }
    input  = "input"
    output = "ring"
    gearset "ahead" {
      title   = "gear set ahead"
      kind    = single
      sun     = "case"
      carrier = "front_carrier"
      ring    = "input"
      teeth   = [37, 71]
    }
    gearset "long" {
      title   = "Ravigneaux set, large sun"
      kind    = single
      sun     = "large_sun"
      carrier = "carrier"
      ring    = "ring"
      teeth   = [38, 85]
    }
    gearset "short" {
      title   = "Ravigneaux set, small sun"
      kind    = double
      sun     = "small_sun"
      carrier = "carrier"
      ring    = "ring"
      teeth   = [31, 85]
    }
  }

  # The gear set ahead drives two clutches slower than the input; its sun never turns.
  # Elements are named after the gears that they hold.
  clutch "one_to_four" {
    title = "first to fourth clutch"
    joins = ["front_carrier", "small_sun"]
  }
  clutch "three_five_reverse" {
    title = "third, fifth and reverse clutch"
    joins = ["front_carrier", "large_sun"]
  }
  clutch "four_to_six" {
    title = "fourth to sixth clutch"
    joins = ["input", "carrier"]
  }
  brake "two_six" {
    title = "second and sixth brake"
    holds = "large_sun"
  }
  brake "low_reverse" {
    title = "low and reverse brake"
    holds = "carrier"
  }
  converter_clutch "lockup" {
    title = "converter clutch"
  }
  solenoid "ps1" {
    title    = "pressure solenoid 1"
    controls = ["one_to_four"]
    rest     = released
  }
  solenoid "ps2" {
    title    = "pressure solenoid 2"
    controls = ["three_five_reverse"]
    rest     = applied
  }
  solenoid "ps3" {
    title    = "pressure solenoid 3"
    controls = ["two_six"]
    rest     = released
  }
  solenoid "ps4" {
    title    = "pressure solenoid 4"
    controls = ["low_reverse"]
    rest     = released
  }
  solenoid "ps5" {
    title    = "pressure solenoid 5"
    controls = ["four_to_six"]
    rest     = applied
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
    apply = ["low_reverse"]
  }
  row "R" "R" {
    apply = ["three_five_reverse", "low_reverse"]
    ratio = -3.403
  }
  row "N" "N" {
    apply = ["low_reverse"]
  }
  row "D" "1" {
    apply = ["one_to_four", "low_reverse"]
    ratio = 4.171
  }
  row "D" "2" {
    apply = ["one_to_four", "two_six"]
    ratio = 2.340
  }
  row "D" "3" {
    apply  = ["one_to_four", "three_five_reverse"]
    ratio  = 1.521
    lockup = true
  }
  row "D" "4" {
    apply  = ["one_to_four", "four_to_six"]
    ratio  = 1.143
    lockup = true
  }
  row "D" "5" {
    apply  = ["three_five_reverse", "four_to_six"]
    ratio  = 0.867
    lockup = true
  }
  row "D" "6" {
    apply  = ["two_six", "four_to_six"]
    ratio  = 0.691
    lockup = true
  }

  # Fifth and reverse are left without current (recalled); which solenoids rest
  # applied, and what the manual valve feeds itself, follows from that.
  failsafe "D" {
    gear = "5"
  }
  failsafe "R" {
    gear     = "R"
    by_valve = ["low_reverse"]
  }

  # Limits: invented examples of the right size, no maker's figures. Write the
  # manual's own here.
  limit "one_to_four_clearance" {
    title = "first to fourth clutch pack"
    low   = "1.0 mm"
    high  = "1.8 mm"
    basis "invented" {
      note = "example; no maker's figure"
    }
  }
  limit "low_reverse_clearance" {
    title = "low and reverse brake pack"
    low   = "1.6 mm"
    high  = "2.6 mm"
    basis "invented" {
      note = "example; no maker's figure"
    }
  }
  formerly "line_control" { now = "pressure_control" }
  formerly "solenoid_line_control" { now = "solenoid_pressure_control" }
}
