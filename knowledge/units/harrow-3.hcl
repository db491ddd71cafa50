# A three-speed Simpson unit after the published road-test reference: "road-test
# analysis in the 1986 factory service manual of a light truck" gives the chart and its
# logic; the tooth counts, pressures, clearances and minutes are invented.
language = 1
basis "invented" {
  note = "demo unit; only the apply chart follows the named manual"
}

unit "harrow-3" {
  title    = "Three-speed Simpson with two bands, rear-wheel drive"
  drive    = rear
  controls = hydraulic
  note     = "chart after a published road-test reference; every limit is an example and no maker's figure"

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

  # Elements
  clutch "front_clutch" {
    title = "front clutch"
    joins = ["input_shaft", "front_drum"]
  }
  clutch "rear_clutch" {
    title = "rear clutch"
    joins = ["input_shaft", "front_ring"]
  }
  band "front_band" {
    title = "front band"
    holds = "front_drum"
    wraps = 1
  }
  band "rear_band" {
    title = "rear band"
    holds = "rear_carrier"
    wraps = -1
  }
  one_way "overrunning_clutch" {
    title   = "overrunning clutch"
    stops   = "rear_carrier"
    against = "case"
  }
  joint "turbine_spline" {
    title = "turbine spline of the input shaft"
    joins = ["turbine", "input_shaft"]
  }
  joint "driving_shell" {
    title = "sun gear driving shell"
    joins = ["front_drum", "sun"]
  }
  joint "carrier_spline" {
    title = "front carrier spline on the output shaft"
    joins = ["front_carrier", "output"]
  }
  joint "rear_ring_spline" {
    title = "rear ring gear spline on the output shaft"
    joins = ["rear_ring", "output"]
  }

  # Circuits
  circuit "line" {
    title = "line pressure"
    main  = true
    tap   = "right side, rear"
  }
  circuit "front_clutch_feed" {
    title = "front clutch feed"
    feeds = ["front_clutch"]
    tap   = "front servo release port"
  }
  circuit "rear_clutch_feed" {
    title = "rear clutch feed"
    feeds = ["rear_clutch"]
  }
  circuit "front_servo_apply" {
    title = "front servo apply"
    feeds = ["front_band"]
    tap   = "left side"
  }
  circuit "rear_servo_apply" {
    title = "rear servo apply"
    feeds = ["rear_band"]
    tap   = "rear of the case"
  }

  # Apply chart. The overrunning clutch holds in first of D and 2 only; in L the rear
  # band holds with it, so that L has engine braking. In 2-3 one element gives way to
  # another: a slow front clutch flares, a late front band binds.
  row "P" "P" {
    apply = []
  }
  row "N" "N" {
    apply = []
  }
  row "R" "R" {
    apply          = ["front_clutch", "rear_band"]
    holding        = []
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
    pressure       = 1.0
  }
  row "D" "2" {
    apply          = ["rear_clutch", "front_band"]
    holding        = []
    ratio          = 1.45
    engine_braking = true
    converter      = 1.4
    pressure       = 1.0
  }
  row "D" "3" {
    apply          = ["rear_clutch", "front_clutch"]
    holding        = []
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
    pressure       = 1.0
  }
  row "2" "2" {
    apply          = ["rear_clutch", "front_band"]
    holding        = []
    ratio          = 1.45
    engine_braking = true
    converter      = 1.4
    pressure       = 1.0
  }
  row "L" "1" {
    apply          = ["rear_clutch", "rear_band"]
    ratio          = 2.45
    engine_braking = true
    converter      = 2.0
    pressure       = 1.0
  }

  # Line pressure at hot idle, and loaded with the throttle lever full in.
  pressure "idle" "R" {
    low  = "140 psi"
    high = "190 psi"
  }
  pressure "idle" "N" {
    low  = "55 psi"
    high = "75 psi"
  }
  pressure "idle" "D" {
    low  = "55 psi"
    high = "75 psi"
  }
  pressure "idle" "2" {
    low  = "55 psi"
    high = "75 psi"
  }
  pressure "idle" "L" {
    low  = "55 psi"
    high = "75 psi"
  }
  pressure "load" "R" {
    low  = "220 psi"
    high = "270 psi"
  }
  pressure "load" "D" {
    low  = "85 psi"
    high = "110 psi"
  }
  pressure "load" "2" {
    low  = "85 psi"
    high = "110 psi"
  }
  pressure "load" "L" {
    low  = "85 psi"
    high = "110 psi"
  }

  # Outside the transmission. Rates given here are those of a unit that comes in old:
  # hard seals, worn linings, bands that nobody has set.
  component "fluid" {
    title  = "fluid"
    kind   = fluid
    serves = [circuit.line, unit]
  }
  component "linkage" {
    title  = "selector linkage and detent"
    kind   = linkage
    serves = unit
    frequency "linkage_off" {
      rate = 0.025
    }
  }
  component "engine" {
    title  = "engine"
    kind   = engine
    serves = unit
    frequency "misfires" {
      rate = 0.03
    }
  }
  component "driveline" {
    title  = "drive shaft, axle, mounts"
    kind   = driveline
    serves = unit
    frequency "driveline_worn" {
      rate = 0.025
    }
  }
  component "cooler" {
    title  = "cooler and lines"
    kind   = cooler
    serves = unit
  }
  component "flexplate" {
    title  = "drive plate"
    kind   = flexplate
    serves = converter
  }

  # Controls
  component "filter" {
    title  = "filter"
    kind   = filter
    serves = [circuit.line, unit]
  }
  component "throttle_valve" {
    title  = "throttle valve and its rod"
    kind   = throttle_valve
    serves = [shift["1-2"], shift["2-3"], circuit.line]
    frequency "throttle_valve_low" {
      rate = 0.02
    }
  }
  component "modulator" {
    title  = "vacuum modulator and hose"
    kind   = modulator
    serves = [shift["1-2"], shift["2-3"], circuit.line]
    frequency "modulator_leaks" {
      rate = 0.025
    }
  }
  component "governor" {
    title  = "governor"
    kind   = governor
    serves = [shift["1-2"], shift["2-3"]]
    frequency "governor_sticks" {
      rate = 0.02
    }
  }
  component "manual_valve" {
    title  = "manual valve"
    kind   = manual_valve
    serves = [range["R"], range["D"], range["2"], range["L"]]
  }
  component "regulator_valve" {
    title  = "regulator valve"
    kind   = regulator
    serves = circuit.line
  }
  component "shift_valve_1_2" {
    title  = "1-2 shift valve"
    kind   = shift_valve
    serves = shift["1-2"]
  }
  component "shift_valve_2_3" {
    title  = "2-3 shift valve"
    kind   = shift_valve
    serves = shift["2-3"]
  }
  component "check_balls" {
    title  = "check balls"
    kind   = check_balls
    serves = [shift["1-2"], shift["2-3"], range["D"], range["2"], range["L"], range["R"]]
  }
  component "transfer_plate" {
    title  = "transfer plate and gaskets"
    kind   = separator_plate
    serves = [circuit.front_servo_apply, circuit.front_clutch_feed, shift["1-2"], shift["2-3"]]
  }
  component "valve_body" {
    title  = "valve body castings"
    kind   = valve_body
    serves = circuit.line
  }
  component "accumulator" {
    title  = "accumulator"
    kind   = accumulator
    serves = [shift["1-2"], circuit.front_servo_apply]
  }
  component "front_servo" {
    title  = "front servo"
    kind   = servo
    serves = [element.front_band, circuit.front_servo_apply]
  }
  component "front_servo_release" {
    title  = "release side of the front servo, on front clutch oil"
    kind   = servo_release
    serves = circuit.front_clutch_feed
  }
  component "rear_servo" {
    title  = "rear servo"
    kind   = servo
    serves = [element.rear_band, circuit.rear_servo_apply]
  }

  # Converter, pump, seals
  component "converter" {
    title  = "torque converter"
    kind   = converter
    serves = converter
  }
  component "pump" {
    title  = "oil pump"
    kind   = pump
    serves = [circuit.line, unit]
    frequency "pump_worn" {
      rate = 0.02
    }
  }
  component "pump_bushing" {
    title  = "pump bushing"
    kind   = pump_bushing
    serves = circuit.line
  }
  component "front_seal" {
    title  = "front seal"
    kind   = front_seal
    serves = unit
    frequency "front_seal_leaks" {
      rate = 0.03
    }
  }
  component "outer_seals" {
    title  = "pan gasket, rear seal, shaft seals"
    kind   = external_seal
    serves = unit
    frequency "seal_leaks" {
      rate = 0.035
    }
  }
  component "vent" {
    title  = "vent"
    kind   = vent
    serves = unit
  }
  component "extension_housing" {
    title  = "extension housing and its bushing"
    kind   = extension_housing
    serves = unit
  }
  component "case" {
    title  = "case with its servo bores"
    kind   = case
    serves = [circuit.front_servo_apply, circuit.rear_servo_apply]
  }
  component "reaction_support" {
    title  = "reaction shaft support"
    kind   = feed_sleeve
    serves = [circuit.front_clutch_feed, circuit.rear_clutch_feed]
  }

  # Clutches, bands, one-way clutch
  component "front_clutch_plates" {
    title  = "front clutch plates"
    kind   = friction_pack
    serves = element.front_clutch
    frequency "burnt_friction" {
      rate = 0.022
    }
    frequency "lining_bare" {
      rate = 0.006
    }
  }
  component "front_clutch_piston" {
    title  = "front clutch piston and lip seals"
    kind   = piston
    serves = [element.front_clutch, circuit.front_clutch_feed]
    frequency "lip_hardened" {
      rate = 0.015
    }
    frequency "lip_cut" {
      rate = 0.01
    }
  }
  component "front_clutch_drum" {
    title  = "front clutch drum"
    kind   = drum
    serves = [element.front_clutch, circuit.front_clutch_feed]
  }
  component "front_clutch_rings" {
    title  = "front clutch sealing rings"
    kind   = seal_ring
    serves = circuit.front_clutch_feed
    frequency "cut_ring" {
      rate = 0.018
    }
  }
  component "rear_clutch_plates" {
    title  = "rear clutch plates"
    kind   = friction_pack
    serves = element.rear_clutch
    frequency "burnt_friction" {
      rate = 0.022
    }
    frequency "lining_bare" {
      rate = 0.006
    }
  }
  component "rear_clutch_piston" {
    title  = "rear clutch piston and lip seals"
    kind   = piston
    serves = [element.rear_clutch, circuit.rear_clutch_feed]
    frequency "lip_hardened" {
      rate = 0.015
    }
    frequency "lip_cut" {
      rate = 0.01
    }
  }
  component "rear_clutch_drum" {
    title  = "rear clutch drum"
    kind   = drum
    serves = [element.rear_clutch, circuit.rear_clutch_feed]
  }
  component "rear_clutch_rings" {
    title  = "rear clutch sealing rings"
    kind   = seal_ring
    serves = circuit.rear_clutch_feed
    frequency "cut_ring" {
      rate = 0.018
    }
  }
  component "front_band" {
    title  = "front band"
    kind   = band
    serves = element.front_band
    frequency "band_burnt" {
      rate = 0.02
    }
    frequency "band_loose" {
      rate = 0.015
    }
  }
  component "rear_band" {
    title  = "rear band"
    kind   = band
    serves = element.rear_band
    frequency "band_burnt" {
      rate = 0.02
    }
    frequency "band_loose" {
      rate = 0.015
    }
  }
  component "overrunning_clutch" {
    title  = "overrunning clutch"
    kind   = one_way_clutch
    serves = element.overrunning_clutch
    frequency "roller_spent" {
      rate = 0.01
    }
  }

  # Gears, shafts, bearings
  component "planetary" {
    title  = "planetary gearsets"
    kind   = gearset
    serves = [gearset.front, gearset.rear]
  }
  component "input_shaft" {
    title  = "input shaft"
    kind   = shaft
    serves = joint.turbine_spline
  }
  component "driving_shell" {
    title  = "driving shell"
    kind   = shell
    serves = joint.driving_shell
  }
  component "output_shaft" {
    title  = "output shaft"
    kind   = output_shaft
    serves = [joint.carrier_spline, joint.rear_ring_spline]
  }
  component "bushings" {
    title  = "bushings"
    kind   = bushing
    serves = [circuit.front_clutch_feed, circuit.rear_clutch_feed]
    frequency "bushing_worn" {
      rate = 0.02
    }
  }
  component "thrust_washers" {
    title  = "thrust washers"
    kind   = thrust_washer
    serves = unit
  }
  component "park_mechanism" {
    title  = "park pawl and rod"
    kind   = park_mechanism
    serves = unit
  }

  # Steps in the vehicle
  step "fluid_look" {
    title    = "level, color and smell of the fluid"
    stage    = in_vehicle
    minutes  = 4
    refit    = 0
    repair   = 20
    exposes  = ["fluid"]
    measure  = ["fluid_level", "keep a fluid sample"]
    look     = ["foam, milk, brown film on the dipstick?"]
    cautions = ["hot_fluid", "running_vehicle"]
  }
  step "linkage_look" {
    title    = "selector linkage, throttle rod, detent"
    stage    = in_vehicle
    minutes  = 10
    refit    = 0
    repair   = 20
    exposes  = ["linkage"]
    measure  = ["linkage setting before it is unhooked"]
    look     = ["do the detents line up in every range?"]
    cautions = ["chocks"]
  }
  step "modulator_out" {
    title    = "vacuum modulator out"
    stage    = in_vehicle
    minutes  = 6
    refit    = 4
    repair   = 6
    exposes  = ["modulator"]
    measure  = ["fluid in the hose?"]
    look     = ["diaphragm torn, stem stuck?"]
    cautions = ["hot_fluid", "supports"]
  }
  step "engine_look" {
    title    = "engine: misfire, power, back pressure"
    stage    = in_vehicle
    minutes  = 20
    refit    = 0
    repair   = 60
    exposes  = ["engine"]
    look     = ["same weakness in every gear?"]
    cautions = ["running_vehicle", "exhaust_gas"]
  }
  step "driveline_look" {
    title    = "drive shaft, axle, joints, mounts from below"
    stage    = in_vehicle
    minutes  = 12
    refit    = 0
    repair   = 60
    exposes  = ["driveline"]
    look     = ["engine off: does one wheel turn and the other not?"]
    cautions = ["supports"]
  }
  step "cooler_look" {
    title    = "cooler and lines: flow and debris"
    stage    = in_vehicle
    minutes  = 20
    refit    = 5
    repair   = 45
    exposes  = ["cooler"]
    measure  = ["cooler_flow"]
    look     = ["debris from the return line?"]
    cautions = ["running_vehicle", "hot_fluid"]
  }
  step "leaks_look" {
    title    = "leak trail from pan rail to tail"
    stage    = in_vehicle
    minutes  = 8
    refit    = 0
    repair   = 40
    exposes  = ["outer_seals", "vent"]
    measure  = ["leak_trail"]
    look     = ["highest wet spot?"]
    cautions = ["supports"]
  }
  step "inspection_cover_off" {
    title    = "cover of the bell housing off"
    stage    = in_vehicle
    minutes  = 8
    refit    = 6
    repair   = 290
    exposes  = ["flexplate"]
    look     = ["cracks round the bolts or the ring gear?"]
    cautions = ["supports", "battery"]
  }
  step "governor_look" {
    title    = "extension housing off, governor in view"
    stage    = in_vehicle
    after    = ["driveline_look"]
    minutes  = 40
    refit    = 40
    repair   = 20
    exposes  = ["governor", "extension_housing", "park_mechanism"]
    measure  = ["valve_movement"]
    look     = ["valve free, screen clean?", "pawl tip rounded, rod bent?"]
    cautions = ["supports", "hot_fluid"]
  }
  step "pan_off" {
    title   = "pan and filter off"
    stage   = in_vehicle
    minutes = 20
    refit   = 20
    repair  = 5
    exposes = ["filter"]
    measure = ["fluid_level", "keep a fluid sample"]
    look = [
      "gold: bushings and washers; steel chips: teeth; black: lining; gray paste: normal",
      "cut the filter open",
    ]
    cautions = ["hot_fluid", "supports", "eyes"]
  }
  step "valve_body_off" {
    title    = "valve body off"
    stage    = in_vehicle
    after    = ["pan_off"]
    minutes  = 25
    refit    = 30
    repair   = 10
    exposes  = ["manual_valve", "accumulator"]
    measure  = ["breakaway torque, as found, of the valve body bolts", "band settings", "air_check"]
    look     = ["accumulator ring and spring?"]
    cautions = ["hot_fluid", "stored_energy", "eyes"]
  }
  step "valve_body_open" {
    title   = "valve body apart on the bench"
    stage   = in_vehicle
    after   = ["valve_body_off"]
    minutes = 30
    refit   = 35
    repair  = 20
    exposes = [
      "transfer_plate",
      "check_balls",
      "valve_body",
      "regulator_valve",
      "throttle_valve",
      "shift_valve_1_2",
      "shift_valve_2_3",
    ]
    measure  = ["valve_movement", "ball_places", "straightedge"]
    look     = ["does each valve drop by its own weight?", "bright patch in a bore?"]
    cautions = ["stored_energy", "eyes", "solvents"]
  }
  step "servos_out" {
    title    = "servos out"
    stage    = in_vehicle
    after    = ["valve_body_off"]
    minutes  = 20
    refit    = 20
    repair   = 10
    exposes  = ["front_servo", "front_servo_release", "rear_servo"]
    measure  = ["band settings: turns of each screw", "air_check"]
    look     = ["seals nicked or hard?", "bore scored?"]
    cautions = ["stored_energy", "eyes"]
  }

  # The costly decision
  step "pull_unit" {
    title   = "pull the unit"
    stage   = pulled
    pulls   = true
    minutes = 130
    refit   = 130
    measure = [
      "linkage setting",
      "leak_trail",
      "depth of the converter in its housing",
      "dowels both there?",
      "runout",
    ]
    cautions = ["heavy_unit", "supports", "battery", "hot_fluid"]
  }

  # On the bench, front to rear
  step "converter_off" {
    title    = "converter off"
    stage    = teardown
    after    = ["pull_unit"]
    minutes  = 5
    refit    = 5
    repair   = 30
    exposes  = ["converter", "front_seal"]
    measure  = ["depth of the converter", "a fluid sample from the converter, kept apart"]
    look     = ["hub scored or blue?", "stator race one way only?"]
    cautions = ["heavy_unit", "hot_fluid"]
  }
  step "pump_out" {
    title    = "pump and reaction support out"
    stage    = teardown
    after    = ["converter_off"]
    minutes  = 12
    refit    = 10
    repair   = 15
    exposes  = ["reaction_support", "front_clutch_rings"]
    measure  = ["input_end_play", "breakaway torque, as found, of the pump bolts", "ring_gaps"]
    look     = ["rings nicked or flush?", "gasket washed?"]
    cautions = ["eyes"]
  }
  step "pump_open" {
    title    = "pump apart"
    stage    = teardown
    after    = ["pump_out"]
    minutes  = 8
    refit    = 10
    repair   = 15
    exposes  = ["pump", "pump_bushing"]
    measure  = ["pump_gear_clearance"]
    look     = ["pocket scored, lugs rounded?"]
    cautions = ["eyes"]
  }
  step "front_band_out" {
    title    = "front band out"
    stage    = teardown
    after    = ["pump_out"]
    minutes  = 4
    refit    = 5
    repair   = 2
    exposes  = ["front_band"]
    measure  = ["turns of the band screw"]
    look     = ["lining, lug, strut?", "drum heat-spotted?"]
    cautions = ["stored_energy"]
  }
  step "clutches_out" {
    title   = "front and rear clutch out as one"
    stage   = teardown
    after   = ["front_band_out"]
    minutes = 5
    refit   = 6
    repair  = 5
    exposes = ["rear_clutch_rings", "thrust_washers", "input_shaft"]
    measure = ["thrust_places"]
    look    = ["tabs of the washers?", "spline rolled?", "rings flush?"]
  }
  step "front_clutch_open" {
    title   = "front clutch plates out"
    stage   = teardown
    after   = ["clutches_out"]
    minutes = 5
    refit   = 6
    repair  = 5
    exposes = ["front_clutch_plates"]
    measure = ["front_clutch_clearance", "stack order, selective ring"]
    look    = ["lining, steels?"]
  }
  step "front_clutch_piston_out" {
    title    = "front clutch piston out"
    stage    = teardown
    after    = ["front_clutch_open"]
    minutes  = 6
    refit    = 8
    repair   = 5
    exposes  = ["front_clutch_piston", "front_clutch_drum"]
    measure  = ["lip_direction", "solvent_leakdown"]
    look     = ["lip rolled? check ball free? lands scored?"]
    cautions = ["stored_energy", "air_check", "eyes"]
  }
  step "rear_clutch_open" {
    title   = "rear clutch plates out"
    stage   = teardown
    after   = ["clutches_out"]
    minutes = 5
    refit   = 6
    repair  = 5
    exposes = ["rear_clutch_plates"]
    measure = ["rear_clutch_clearance", "stack order, selective ring"]
    look    = ["lining, steels?"]
  }
  step "rear_clutch_piston_out" {
    title    = "rear clutch piston out"
    stage    = teardown
    after    = ["rear_clutch_open"]
    minutes  = 6
    refit    = 8
    repair   = 5
    exposes  = ["rear_clutch_piston", "rear_clutch_drum"]
    measure  = ["lip_direction", "solvent_leakdown"]
    look     = ["lip rolled? check ball free? lands scored?"]
    cautions = ["stored_energy", "air_check", "eyes"]
  }
  step "shell_out" {
    title   = "driving shell and gearsets out"
    stage   = teardown
    after   = ["clutches_out", "governor_look"]
    minutes = 8
    refit   = 8
    repair  = 10
    exposes = ["driving_shell", "planetary"]
    measure = ["pinion_end_play", "end play of the gear train on its shaft"]
    look    = ["shell cracked at the neck?", "pinions rock, teeth pitted?"]
  }
  step "rear_band_out" {
    title    = "rear band out"
    stage    = teardown
    after    = ["shell_out", "servos_out"]
    minutes  = 4
    refit    = 5
    repair   = 2
    exposes  = ["rear_band"]
    measure  = ["turns of the band screw"]
    look     = ["lining, link, drum?"]
    cautions = ["stored_energy"]
  }
  step "overrunning_clutch_out" {
    title   = "overrunning clutch out"
    stage   = teardown
    after   = ["rear_band_out"]
    minutes = 5
    refit   = 6
    repair  = 4
    exposes = ["overrunning_clutch", "case"]
    measure = ["one_way_direction", "a mark on the side to the pump"]
    look    = ["cam worn, rollers flat, springs folded?"]
  }
  step "output_out" {
    title   = "output shaft out"
    stage   = teardown
    after   = ["shell_out"]
    minutes = 6
    refit   = 6
    repair  = 10
    exposes = ["output_shaft"]
    look    = ["splines rolled?"]
  }
  step "bushings_look" {
    title   = "all bushings"
    stage   = teardown
    after   = ["clutches_out", "output_out"]
    minutes = 12
    refit   = 0
    repair  = 30
    exposes = ["bushings"]
    measure = ["bushing_fit"]
    look    = ["copper showing, bushing spun?"]
  }
  step "wash_parts" {
    title    = "wash case and parts"
    stage    = teardown
    after    = ["output_out", "valve_body_open"]
    minutes  = 20
    refit    = 0
    measure  = ["leak_trail", "valve_movement", "color of the linings"]
    cautions = ["solvents", "eyes"]
  }

  # Limits: invented examples, no maker's figures
  limit "input_end_play" {
    title     = "end play of the input shaft, before the pump comes out"
    component = "thrust_washers"
    step      = "pump_out"
    check     = "end_play"
    measures  = "end_play"
    low       = "0.9 mm"
    high      = "2.1 mm"
  }
  limit "pinion_end_play" {
    title     = "end play of the pinions"
    component = "planetary"
    step      = "shell_out"
    high      = "0.80 mm"
  }
  limit "bushing_fit" {
    title     = "fit of the bushings"
    component = "bushings"
    step      = "bushings_look"
    high      = "0.12 mm"
  }
  limit "pump_gear_clearance" {
    title     = "pump gear to face clearance"
    component = "pump"
    step      = "pump_open"
    measures  = "pump_clearance"
    high      = "0.06 mm"
  }
  limit "front_clutch_clearance" {
    title     = "front clutch"
    component = "front_clutch_plates"
    step      = "front_clutch_open"
    measures  = "clearance@front_clutch"
    low       = "1.5 mm"
    high      = "2.6 mm"
  }
  limit "rear_clutch_clearance" {
    title     = "rear clutch"
    component = "rear_clutch_plates"
    step      = "rear_clutch_open"
    measures  = "clearance@rear_clutch"
    low       = "0.7 mm"
    high      = "1.2 mm"
  }
  limit "flexplate_runout" {
    title     = "runout of the drive plate"
    component = "flexplate"
    step      = "pull_unit"
    measures  = "runout"
    high      = "0.30 mm"
  }
  # Figures of common practice, not of a maker; the rest of this list is invented.
  limit "engagement_d" {
    title    = "time to engage D"
    check    = "timed_engagement"
    measures = "engagement@D"
    high     = "1.2 s"
    basis "common practice" {
      note = "about 1.2 s to D, or the maker's figure"
    }
  }
  limit "engagement_r" {
    title    = "time to engage R"
    check    = "timed_engagement"
    measures = "engagement@R"
    high     = "1.5 s"
    basis "common practice" {
      note = "about 1.5 s to R, or the maker's figure"
    }
  }
  limit "cooler_liters" {
    title    = "liters from the cooler return line in 20 s"
    check    = "cooler_flow"
    measures = "cooler_flow"
    low      = "0.7 L"
    basis "common practice" {
      note = "about 1 L in 20 to 30 s, or the maker's figure"
    }
  }
  limit "stall_d" {
    title    = "stall speed in D"
    check    = "stall_test"
    measures = "stall@D/1"
    low      = "1750 rpm"
    high     = "2100 rpm"
  }
  limit "stall_r" {
    title    = "stall speed in R"
    check    = "stall_test"
    measures = "stall@R/R"
    low      = "1750 rpm"
    high     = "2100 rpm"
  }
  limit "bore_vacuum" {
    title    = "vacuum held by the worst bore"
    check    = "vacuum_test"
    measures = "bore_vacuum"
    low      = "18 inHg"
  }
  limit "mileage" {
    title    = "miles from which age counts"
    check    = "ask_mileage"
    measures = "mileage"
    high     = "120000 mi"
  }
}
