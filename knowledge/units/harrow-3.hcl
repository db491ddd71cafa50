# A three-speed Simpson unit. The chart follows a published road-test reference,
# "road-test analysis in the 1986 factory service manual of a light truck".
language = 1
basis "invented" {
  note = "demo unit; only the apply chart follows the named manual"
}

unit "harrow-3" {
  title         = "Three-speed Simpson with two bands, rear-wheel drive"
  drive         = rear
  controls      = hydraulic
  parts         = usual
  front_to_back = ["front_band", "front_clutch", "rear_clutch", "input_shaft", "driving_shell", "front", "rear", "rear_band", "overrunning_clutch", "output_shaft", "rear_ring_spline"]
  note          = "chart after a published road-test reference; every limit is an example and no maker's figure"

  train {
    input  = "turbine"
    output = "output"
    gearset "front" {
      kind    = single
      sun     = "sun"
      carrier = "front_carrier"
      ring    = "front_ring"
      teeth   = [28, 62]
    }
    gearset "rear" {
      kind    = single
      sun     = "sun"
      carrier = "rear_carrier"
      ring    = "rear_ring"
      teeth   = [28, 62]
    }
  }

  clutch "front_clutch" { joins = ["input_shaft", "front_drum"] }
  clutch "rear_clutch" { joins = ["input_shaft", "front_ring"] }
  band "front_band" {
    holds = "front_drum"
    wraps = 1
    screw = true
  }
  band "rear_band" {
    holds = "rear_carrier"
    wraps = -1
    screw = true
  }
  one_way "overrunning_clutch" { stops = "rear_carrier" }
  joint "input_shaft" { joins = ["turbine", "input_shaft"] }
  joint "driving_shell" { joins = ["front_drum", "sun"] }
  joint "output_shaft" {
    title = "front carrier spline on the output shaft"
    joins = ["front_carrier", "output"]
  }
  joint "rear_ring_spline" {
    title = "rear ring gear spline on the output shaft"
    joins = ["rear_ring", "output"]
  }
  circuit "line" { tap = "right side, rear" }
  circuit "front_clutch_feed" {
    releases = ["front_band"]
    tap      = "front servo release port"
  }
  circuit "front_servo_apply" {
    feeds = ["front_band"]
    tap   = "left side"
  }
  circuit "rear_servo_apply" {
    feeds = ["rear_band"]
    tap   = "rear of the case"
  }

  # Apply chart. The overrunning clutch holds in first of D and 2 only; in L the rear
  # band holds with it, so that L has engine braking. In 2-3 one element gives way to
  # another: a slow front clutch flares, a late front band binds.
  row "P" "P" { apply = [] }
  row "N" "N" { apply = [] }
  row "R" "R" {
    apply          = ["front_clutch", "rear_band"]
    ratio          = -2.21
    engine_braking = true
    converter      = 2.0
    pressure       = 2.0
  }
  row "D" "1" {
    apply          = ["rear_clutch"]
    holding        = ["overrunning_clutch"]
    ratio          = 2.45
    engine_braking = false
    converter      = 2.0
  }
  row "D" "2" {
    apply          = ["rear_clutch", "front_band"]
    ratio          = 1.45
    engine_braking = true
    converter      = 1.4
  }
  row "D" "3" {
    apply          = ["rear_clutch", "front_clutch"]
    ratio          = 1.00
    engine_braking = true
    converter      = 1.1
    pressure       = 0.9
  }
  row "2" "1" {
    apply          = ["rear_clutch"]
    holding        = ["overrunning_clutch"]
    ratio          = 2.45
    engine_braking = false
    converter      = 2.0
  }
  row "2" "2" {
    apply          = ["rear_clutch", "front_band"]
    holding        = []
    ratio          = 1.45
    engine_braking = true
    converter      = 1.4
  }
  row "L" "1" {
    apply          = ["rear_clutch", "rear_band"]
    ratio          = 2.45
    engine_braking = true
    converter      = 2.0
  }
  # Line pressure at hot idle, and loaded with the throttle lever full in.
  pressure "idle" "R" { between = ["140 psi", "190 psi"] }
  pressure "idle" "N" { between = ["55 psi", "75 psi"] }
  pressure "idle" "D" { between = ["55 psi", "75 psi"] }
  pressure "idle" "2" { between = ["55 psi", "75 psi"] }
  pressure "idle" "L" { between = ["55 psi", "75 psi"] }
  pressure "load" "R" { between = ["220 psi", "270 psi"] }
  pressure "load" "D" { between = ["85 psi", "110 psi"] }
  pressure "load" "2" { between = ["85 psi", "110 psi"] }
  pressure "load" "L" { between = ["85 psi", "110 psi"] }

  # Parts and steps that are otherwise than usual. The throttle rod brings the load to
  # the valve body; the heavy unit has a vacuum modulator in its place.
  component "boost_valve" { drop = true }
  component "transfer_plate" {
    title       = "transfer plate and gaskets"
    serves      = [circuit.front_servo_apply, circuit.front_clutch_feed, shift["1-2"], shift["2-3"]]
    in_place_of = ["separator_plate"]
  }
  component "accumulator" {
    title       = "accumulator"
    in_place_of = ["accumulator_1_2"]
  }
  component "accumulator_2_3" { drop = true }
  component "front_servo" { title = "front servo" }
  component "rear_servo" { title = "rear servo" }
  component "front_servo_release" {
    title  = "release side of the front servo, on front clutch oil"
    kind   = servo_release
    serves = circuit.front_clutch_feed
    at     = "servos_out"
  }
  step "servos_out" {
    title       = "servos out"
    after       = ["valve_body_off"]
    in_place_of = ["front_servo_off", "rear_servo_off"]
  }
  component "reaction_support" {
    title       = "reaction shaft support"
    in_place_of = ["stator_support"]
  }
  component "front_clutch_rings" { at = "pump_out" }
  component "front_clutch_plates" { in_place_of = ["front_clutch_frictions"] }
  component "rear_clutch_plates" { in_place_of = ["rear_clutch_frictions"] }
  component "driving_shell" { kind = shell }
  component "planetary" {
    title       = "planetary gearsets"
    in_place_of = ["front_gearset", "rear_gearset"]
  }
  component "output_shaft" {
    title = "output shaft"
    kind  = output_shaft
  }
  component "rear_ring_spline" { kind = output_shaft }
  component "park_mechanism" { at = "governor_look" }
  component "throttle_valve" {
    title = "throttle valve and its rod"
    frequency "throttle_valve_low" { rate = 0.02 }
  }
  step "linkage_look" { title = "shift linkage, throttle rod and detent" }
  step "governor_look" {
    title       = "extension housing off, governor in view"
    in_place_of = ["extension_off"]
  }
  step "clutches_out" {
    title       = "front and rear clutch out together"
    in_place_of = ["front_clutch_drum_out", "rear_clutch_drum_out", "input_shaft_out"]
  }
  step "shell_out" {
    title       = "driving shell and gearsets out"
    after       = ["clutches_out", "governor_look"]
    in_place_of = ["driving_shell_out", "front_gearset_out", "rear_gearset_out"]
  }
  step "output_out" { in_place_of = ["output_shaft_out", "rear_ring_spline_out"] }

  # Rates of a unit that comes in old: hard seals, worn linings, bands never set. What
  # is applied at a shift under load burns more than what is on all the time.
  frequency "linkage_off" { rate = 0.025 }
  frequency "misfires" { rate = 0.03 }
  frequency "driveline_worn" { rate = 0.025 }
  frequency "governor_sticks" { rate = 0.02 }
  frequency "pump_worn" { rate = 0.02 }
  frequency "front_seal_leaks" { rate = 0.03 }
  frequency "seal_leaks" { rate = 0.035 }
  frequency "burnt_friction" { rate = 0.022 }
  frequency "burnt_friction" "front_clutch_plates" { rate = 0.026 }
  frequency "burnt_friction" "rear_clutch_plates" { rate = 0.018 }
  frequency "lining_bare" { rate = 0.006 }
  frequency "lip_hardened" { rate = 0.015 }
  frequency "lip_cut" { rate = 0.01 }
  frequency "cut_ring" { rate = 0.018 }
  frequency "servo_seal_cut" { rate = 0.01 }
  frequency "servo_bore_worn" { rate = 0.01 }
  frequency "release_seal_cut" { rate = 0.008 }
  frequency "band_burnt" { rate = 0.02 }
  frequency "band_burnt" "front_band" { rate = 0.026 }
  frequency "band_burnt" "rear_band" { rate = 0.014 }
  frequency "screw_loose" { rate = 0.013 }
  frequency "roller_spent" { rate = 0.01 }
  frequency "bushing_worn" { rate = 0.02 }

  # Limits: invented examples, no maker's figures
  limit "input_end_play" { between = ["0.9 mm", "2.1 mm"] }
  limit "bushing_fit" { high = "0.12 mm" }
  limit "pinion_end_play" {
    title     = "end play of the pinions"
    component = "planetary"
    step      = "shell_out"
    high      = "0.80 mm"
  }
  limit "pump_gear_clearance" { high = "0.06 mm" }
  limit "front_clutch_clearance" { between = ["1.5 mm", "2.6 mm"] }
  limit "rear_clutch_clearance" { between = ["0.7 mm", "1.2 mm"] }
  limit "flexplate_runout" { high = "0.30 mm" }
  limit "stall_d" { between = ["1750 rpm", "2100 rpm"] }
  limit "stall_r" { between = ["1750 rpm", "2100 rpm"] }
  formerly "modulator" { now = "throttle_valve" }
  formerly "modulator_out" { now = "linkage_look" }
  formerly "turbine_spline" { now = "input_shaft" }
  formerly "carrier_spline" { now = "output_shaft" }
  formerly "bushings_look" { now = "case_stripped" }
  formerly "front_clutch_open" { now = "front_clutch_pack_open" }
  formerly "rear_clutch_open" { now = "rear_clutch_pack_open" }
  limit "bore_vacuum" { low = "18 inHg" }
}
