# An eight-speed with four simple gear sets.
language = 1
basis "published" {
  cite = "open encyclopedia article on the eight-speed 8HP70, pilot series: tooth counts and ratios; wiring, rows, solenoids and failsafe recalled"
}

unit "four-gearset-8" {
  title         = "Eight-speed with four simple gear sets, rear-wheel drive"
  drive         = rear
  controls      = adaptive
  parts         = usual
  front_to_back = ["sun_brake", "ring_brake", "first", "second", "input_clutch", "lock_clutch", "third", "output_clutch", "fourth"]
  note          = "tooth counts and ratios published; wiring, rows, solenoids and failsafe recalled, and confirmed by the ratios; limits invented"

  train {
    input  = "input"
    output = "output"
    gearset "first" {
      title   = "first gear set"
      kind    = single
      sun     = "sun_12"
      carrier = "carrier_1_ring_4"
      ring    = "ring_1"
      teeth   = [48, 96]
    }
    gearset "second" {
      title   = "second gear set"
      kind    = single
      sun     = "sun_12"
      carrier = "input"
      ring    = "ring_2_sun_3"
      teeth   = [48, 96]
    }
    gearset "third" {
      title   = "third gear set"
      kind    = single
      sun     = "ring_2_sun_3"
      carrier = "carrier_3"
      ring    = "ring_3_sun_4"
      teeth   = [69, 111]
    }
    gearset "fourth" {
      title   = "fourth gear set"
      kind    = single
      sun     = "ring_3_sun_4"
      carrier = "output"
      ring    = "carrier_1_ring_4"
      teeth   = [23, 85]
    }
  }

  # Three of five elements are on in every gear.
  brake "sun_brake" {
    title = "sun brake"
    holds = "sun_12"
  }
  brake "ring_brake" {
    title = "ring brake"
    holds = "ring_1"
  }
  clutch "input_clutch" {
    title = "input clutch"
    joins = ["input", "ring_3_sun_4"]
  }
  clutch "output_clutch" {
    title = "output clutch"
    joins = ["carrier_3", "output"]
  }
  clutch "lock_clutch" {
    title = "third gear set lock clutch"
    joins = ["ring_2_sun_3", "ring_3_sun_4"]
  }
  converter_clutch "lockup" {
    title = "converter clutch"
  }
  solenoid "ps1" {
    title    = "pressure solenoid 1"
    controls = ["sun_brake"]
    rest     = released
  }
  solenoid "ps2" {
    title    = "pressure solenoid 2"
    controls = ["ring_brake"]
    rest     = released
  }
  solenoid "ps3" {
    title    = "pressure solenoid 3"
    controls = ["input_clutch"]
    rest     = released
  }
  solenoid "ps4" {
    title    = "pressure solenoid 4"
    controls = ["output_clutch"]
    rest     = released
  }
  solenoid "ps5" {
    title    = "pressure solenoid 5"
    controls = ["lock_clutch"]
    rest     = released
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
    apply = ["sun_brake", "ring_brake"]
  }
  row "R" "R" {
    apply = ["sun_brake", "ring_brake", "output_clutch"]
    ratio = -3.2968
  }
  row "N" "N" {
    apply = ["sun_brake", "ring_brake"]
  }
  row "D" "1" {
    apply = ["sun_brake", "ring_brake", "input_clutch"]
    ratio = 4.6957
  }
  row "D" "2" {
    apply = ["sun_brake", "ring_brake", "lock_clutch"]
    ratio = 3.1304
  }
  row "D" "3" {
    apply  = ["ring_brake", "input_clutch", "lock_clutch"]
    ratio  = 2.1039
    lockup = true
  }
  row "D" "4" {
    apply  = ["ring_brake", "output_clutch", "lock_clutch"]
    ratio  = 1.6667
    lockup = true
  }
  row "D" "5" {
    apply  = ["ring_brake", "input_clutch", "output_clutch"]
    ratio  = 1.2845
    lockup = true
  }
  row "D" "6" {
    apply  = ["input_clutch", "output_clutch", "lock_clutch"]
    ratio  = 1.0000
    lockup = true
  }
  row "D" "7" {
    apply  = ["sun_brake", "input_clutch", "output_clutch"]
    ratio  = 0.8392
    lockup = true
  }
  row "D" "8" {
    apply  = ["sun_brake", "output_clutch", "lock_clutch"]
    ratio  = 0.6667
    lockup = true
  }

  # The controller holds these with current; with none on its solenoids nothing
  # drives (recalled).
  failsafe "D" {
    gear    = "6"
    powered = true
  }
  failsafe "R" {
    gear    = "R"
    powered = true
  }

  # Limits: invented examples of the right size, no maker's figures. Write the
  # manual's own here.
  limit "input_clutch_clearance" {
    title = "input clutch pack"
    low   = "1.2 mm"
    high  = "2.0 mm"
    basis "invented" {
      note = "example; no maker's figure"
    }
  }
  limit "sun_clearance" {
    title = "sun brake pack"
    low   = "1.4 mm"
    high  = "2.2 mm"
    basis "invented" {
      note = "example; no maker's figure"
    }
  }
  formerly "line_control" { now = "pressure_control" }
  formerly "solenoid_line_control" { now = "solenoid_pressure_control" }
}
