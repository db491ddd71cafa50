# A four-speed of our own invention: Ravigneaux set, overdrive band, two one-way
# clutches, electronic controls, rear-wheel drive. Teeth, pressures, clearances and
# minutes are invented; they are of the right size and belong to no maker's unit.
language = 1
basis "invented" {
  note = "demo unit; no maker's figure stands here"
}

unit "northfork-4" {
  title    = "Four-speed Ravigneaux with overdrive band, rear-wheel drive"
  drive    = rear
  controls = electronic
  note     = "invented for demonstration; every limit is an example, no maker's figure"

  train {
    input  = "turbine"
    output = "output"
    gearset "long" {
      kind    = single
      sun     = "large_sun"
      carrier = "carrier"
      ring    = "ring"
      teeth   = [38, 84]
    }
    gearset "short" {
      kind    = double
      sun     = "small_sun"
      carrier = "carrier"
      ring    = "ring"
      teeth   = [30, 84]
    }
  }

  # Clutches and brakes. The direct drum and the sun shell are joints of their own,
  # because they can break.
  clutch "forward" {
    title = "forward clutch"
    joins = ["input_shaft", "small_sun"]
  }
  clutch "direct" {
    title = "direct clutch"
    joins = ["input_shaft", "direct_hub"]
  }
  clutch "reverse" {
    title = "reverse clutch"
    joins = ["input_shaft", "reverse_drum"]
  }
  brake "intermediate" {
    title = "intermediate brake"
    holds = "intermediate_race"
  }
  brake "low_reverse" {
    title = "low and reverse brake"
    holds = "carrier"
  }
  band "overdrive_band" {
    title = "overdrive band"
    holds = "reverse_drum"
    wraps = -1
  }
  one_way "intermediate_roller" {
    title   = "intermediate roller clutch"
    stops   = "reverse_drum"
    against = "intermediate_race"
  }
  one_way "low_roller" {
    title   = "low roller clutch"
    stops   = "carrier"
    against = "case"
  }
  converter_clutch "lockup" {
    title = "converter clutch"
  }
  joint "turbine_spline" {
    title = "turbine spline of the input shaft"
    joins = ["turbine", "input_shaft"]
  }
  joint "direct_shell" {
    title = "direct shaft and its weld"
    joins = ["direct_hub", "carrier"]
  }
  joint "sun_shell" {
    title = "sun shell"
    joins = ["reverse_drum", "large_sun"]
  }
  joint "output_spline" {
    title = "output shaft spline"
    joins = ["ring", "output"]
  }

  # Circuits
  circuit "line" {
    title = "line pressure"
    main  = true
    tap   = "left side, above the pan rail"
  }
  circuit "forward_feed" {
    title = "forward clutch feed"
    feeds = ["forward"]
    tap   = "left side, front"
  }
  circuit "direct_feed" {
    title = "direct clutch feed"
    feeds = ["direct"]
    tap   = "left side, rear"
  }
  circuit "reverse_feed" {
    title = "reverse clutch feed"
    feeds = ["reverse"]
  }
  circuit "intermediate_feed" {
    title = "intermediate brake feed"
    feeds = ["intermediate"]
    tap   = "right side, front"
  }
  circuit "band_apply" {
    title = "overdrive servo apply"
    feeds = ["overdrive_band"]
    tap   = "servo cover"
  }
  circuit "low_reverse_feed" {
    title = "low and reverse brake feed"
    feeds = ["low_reverse"]
  }
  circuit "lockup_feed" {
    title = "converter clutch apply"
    feeds = ["lockup"]
  }
  solenoid "a" {
    title = "shift solenoid A"
    kind  = shift
  }
  solenoid "b" {
    title = "shift solenoid B"
    kind  = shift
  }
  solenoid "pressure_control" {
    title = "pressure control solenoid"
    kind  = pressure
  }
  solenoid "lockup_control" {
    title = "converter clutch solenoid"
    kind  = converter
  }

  # Apply chart. The roller clutches carry the drive in first and second, so that the
  # 1-2 and 2-3 shifts need no release; only 3-4 changes one element for another.
  # Converter: torque factor where the row works hardest. Pressure: line pressure
  # against ordinary drive.
  row "P" "P" {
    apply = []
  }
  row "N" "N" {
    apply = []
  }
  row "R" "R" {
    apply          = ["reverse", "low_reverse"]
    holding        = []
    ratio          = -2.21
    engine_braking = true
    converter      = 2.0
    pressure       = 1.6
  }
  row "D" "1" {
    apply          = ["forward"]
    holding        = ["low_roller"]
    ratio          = 2.80
    engine_braking = false
    solenoids      = ["a", "b"]
    converter      = 2.0
    pressure       = 1.0
  }
  row "D" "2" {
    apply          = ["forward", "intermediate"]
    holding        = ["intermediate_roller"]
    ratio          = 1.56
    engine_braking = false
    solenoids      = ["a"]
    converter      = 1.4
    pressure       = 1.0
  }
  row "D" "3" {
    apply          = ["forward", "direct", "intermediate"]
    holding        = []
    ratio          = 1.00
    engine_braking = true
    solenoids      = []
    lockup         = true
    converter      = 1.1
    pressure       = 0.9
  }
  row "D" "4" {
    apply          = ["direct", "intermediate", "overdrive_band"]
    holding        = []
    ratio          = 0.69
    engine_braking = true
    solenoids      = ["b"]
    lockup         = true
    converter      = 1.0
    pressure       = 0.9
  }
  row "2" "1" {
    apply          = ["forward"]
    holding        = ["low_roller"]
    ratio          = 2.80
    engine_braking = false
    solenoids      = ["a", "b"]
    converter      = 2.0
    pressure       = 1.0
  }
  row "2" "2" {
    apply          = ["forward", "intermediate", "overdrive_band"]
    ratio          = 1.56
    engine_braking = true
    solenoids      = ["a"]
    converter      = 1.4
    pressure       = 1.1
  }
  row "L" "1" {
    apply          = ["forward", "low_reverse"]
    ratio          = 2.80
    engine_braking = true
    solenoids      = ["a", "b"]
    converter      = 2.0
    pressure       = 1.3
  }

  # Without power both shift solenoids are off and the manual valve still works.
  failsafe "D" {
    gear = "3"
  }
  failsafe "2" {
    gear = "2"
  }
  failsafe "L" {
    gear = "1"
  }
  failsafe "R" {
    gear = "R"
  }

  # Line pressure at hot idle, and loaded at stall.
  pressure "idle" "P" {
    low  = "60 psi"
    high = "85 psi"
  }
  pressure "idle" "R" {
    low  = "85 psi"
    high = "125 psi"
  }
  pressure "idle" "N" {
    low  = "60 psi"
    high = "85 psi"
  }
  pressure "idle" "D" {
    low  = "60 psi"
    high = "85 psi"
  }
  pressure "idle" "2" {
    low  = "60 psi"
    high = "90 psi"
  }
  pressure "idle" "L" {
    low  = "75 psi"
    high = "110 psi"
  }
  pressure "load" "R" {
    low  = "230 psi"
    high = "290 psi"
  }
  pressure "load" "D" {
    low  = "155 psi"
    high = "195 psi"
  }
  pressure "load" "2" {
    low  = "155 psi"
    high = "200 psi"
  }
  pressure "load" "L" {
    low  = "175 psi"
    high = "225 psi"
  }

  # Outside the transmission
  component "fluid" {
    title  = "fluid"
    kind   = fluid
    serves = [circuit.line, unit]
  }
  component "linkage" {
    title  = "selector cable and detent"
    kind   = linkage
    serves = unit
  }
  component "wiring" {
    title  = "battery, grounds, supply, outer connector"
    kind   = wiring
    serves = unit
  }
  component "controller" {
    title  = "transmission controller"
    kind   = controller
    serves = unit
  }
  component "input_sensor" {
    title  = "input speed sensor"
    kind   = input_sensor
    serves = unit
  }
  component "output_sensor" {
    title  = "output speed sensor"
    kind   = output_sensor
    serves = unit
  }
  component "range_switch" {
    title  = "range switch"
    kind   = range_switch
    serves = unit
  }
  component "brake_switch" {
    title  = "brake switch"
    kind   = brake_switch
    serves = unit
  }
  component "throttle_signal" {
    title  = "throttle and load signal"
    kind   = throttle_signal
    serves = [circuit.line, unit]
  }
  component "engine" {
    title  = "engine"
    kind   = engine
    serves = unit
  }
  component "driveline" {
    title  = "drive shaft, axle, mounts"
    kind   = driveline
    serves = unit
  }
  component "cooler" {
    title  = "cooler and lines"
    kind   = cooler
    serves = unit
  }
  component "flexplate" {
    title  = "flexplate"
    kind   = flexplate
    serves = converter
  }

  # Pan, solenoids, valve body
  component "filter" {
    title  = "filter"
    kind   = filter
    serves = [circuit.line, unit]
  }
  component "inner_harness" {
    title  = "harness in the pan and case connector"
    kind   = inner_harness
    serves = [solenoid.a, solenoid.b, solenoid.pressure_control, solenoid.lockup_control, unit]
  }
  component "solenoid_a" {
    title  = "shift solenoid A"
    kind   = shift_solenoid
    serves = [solenoid.a, unit]
  }
  component "solenoid_b" {
    title  = "shift solenoid B"
    kind   = shift_solenoid
    serves = [solenoid.b, unit]
  }
  component "pressure_solenoid" {
    title  = "pressure control solenoid"
    kind   = pressure_solenoid
    serves = [solenoid.pressure_control, circuit.line, unit]
  }
  component "lockup_solenoid" {
    title  = "converter clutch solenoid"
    kind   = lockup_solenoid
    serves = [solenoid.lockup_control, unit]
  }
  component "temperature_sensor" {
    title  = "fluid temperature sensor"
    kind   = temperature_sensor
    serves = unit
  }
  component "manual_valve" {
    title  = "manual valve"
    kind   = manual_valve
    serves = [range["R"], range["D"], range["2"], range["L"]]
  }
  component "regulator_valve" {
    title  = "pressure regulator valve"
    kind   = regulator
    serves = circuit.line
  }
  component "boost_valve" {
    title  = "boost valve"
    kind   = boost_valve
    serves = circuit.line
  }
  component "shift_valve_1_2" {
    title  = "1-2 shift valve"
    kind   = shift_valve
    serves = shift["1-2"]
    frequency "valve_varnished" {
      rate = 0.004
    }
  }
  component "shift_valve_2_3" {
    title  = "2-3 shift valve"
    kind   = shift_valve
    serves = shift["2-3"]
    frequency "valve_varnished" {
      rate = 0.004
    }
  }
  component "shift_valve_3_4" {
    title  = "3-4 shift valve"
    kind   = shift_valve
    serves = shift["3-4"]
    frequency "valve_varnished" {
      rate = 0.005
    }
  }
  component "lockup_valve" {
    title  = "converter clutch valve"
    kind   = lockup_valve
    serves = [element.lockup, circuit.lockup_feed]
  }
  component "check_balls" {
    title  = "check balls"
    kind   = check_balls
    serves = [shift["1-2"], shift["2-3"], range["D"], range["2"], range["L"], range["R"]]
  }
  component "separator_plate" {
    title  = "separator plate and gaskets"
    kind   = separator_plate
    serves = [circuit.intermediate_feed, circuit.direct_feed, shift["1-2"], shift["2-3"]]
  }
  component "valve_body" {
    title  = "valve body castings"
    kind   = valve_body
    serves = circuit.line
  }
  component "accumulator_1_2" {
    title  = "1-2 accumulator"
    kind   = accumulator
    serves = [shift["1-2"], circuit.intermediate_feed]
  }
  component "accumulator_2_3" {
    title  = "2-3 accumulator"
    kind   = accumulator
    serves = [shift["2-3"], circuit.direct_feed]
  }
  component "accumulator_forward" {
    title  = "forward accumulator"
    kind   = accumulator
    serves = [range["D"], range["2"], range["L"], circuit.forward_feed]
  }
  component "overdrive_servo" {
    title  = "overdrive servo"
    kind   = servo
    serves = [element.overdrive_band, circuit.band_apply]
  }

  # Converter and pump
  component "converter" {
    title  = "torque converter"
    kind   = converter
    serves = converter
  }
  component "lockup_clutch" {
    title  = "converter clutch lining"
    kind   = converter_clutch
    serves = element.lockup
  }
  component "pump" {
    title  = "oil pump"
    kind   = pump
    serves = [circuit.line, unit]
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
  }
  component "outer_seals" {
    title  = "pan gasket, rear seal, shaft seals"
    kind   = external_seal
    serves = unit
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
    title  = "case with its servo and piston bores"
    kind   = case
    serves = [circuit.band_apply, circuit.low_reverse_feed]
  }
  component "stator_support" {
    title  = "stator support with its feed sleeve"
    kind   = feed_sleeve
    serves = [circuit.forward_feed, circuit.reverse_feed]
  }

  # Clutches, brakes, band. Rates of wear by duty: the forward clutch launches in every
  # forward range, the direct clutch and its rings take the 2-3 shift and stay on in
  # the gears driven most; reverse parts work seldom. (Basis of the file: invented.)
  component "forward_frictions" {
    title  = "forward clutch plates"
    kind   = friction_pack
    serves = element.forward
    frequency "burnt_friction" {
      rate = 0.013
    }
  }
  component "forward_piston" {
    title  = "forward clutch piston and lip seals"
    kind   = piston
    serves = [element.forward, circuit.forward_feed]
  }
  component "forward_drum" {
    title  = "forward clutch drum"
    kind   = drum
    serves = [element.forward, circuit.forward_feed]
  }
  component "forward_rings" {
    title  = "forward clutch sealing rings"
    kind   = seal_ring
    serves = circuit.forward_feed
    frequency "cut_ring" {
      rate = 0.011
    }
  }
  component "reverse_frictions" {
    title  = "reverse clutch plates"
    kind   = friction_pack
    serves = element.reverse
    frequency "burnt_friction" {
      rate = 0.005
    }
  }
  component "reverse_piston" {
    title  = "reverse clutch piston and lip seals"
    kind   = piston
    serves = [element.reverse, circuit.reverse_feed]
  }
  component "reverse_drum" {
    title  = "reverse clutch drum"
    kind   = drum
    serves = [element.reverse, circuit.reverse_feed]
  }
  component "reverse_rings" {
    title  = "reverse clutch sealing rings"
    kind   = seal_ring
    serves = circuit.reverse_feed
    frequency "cut_ring" {
      rate = 0.006
    }
  }
  component "direct_frictions" {
    title  = "direct clutch plates"
    kind   = friction_pack
    serves = element.direct
    frequency "burnt_friction" {
      rate = 0.012
    }
  }
  component "direct_piston" {
    title  = "direct clutch piston and lip seals"
    kind   = piston
    serves = [element.direct, circuit.direct_feed]
  }
  component "direct_drum" {
    title  = "direct clutch drum"
    kind   = drum
    serves = [element.direct, circuit.direct_feed]
  }
  component "direct_rings" {
    title  = "direct clutch sealing rings"
    kind   = seal_ring
    serves = circuit.direct_feed
    frequency "cut_ring" {
      rate = 0.012
    }
  }
  component "intermediate_frictions" {
    title  = "intermediate brake plates"
    kind   = friction_pack
    serves = element.intermediate
    frequency "burnt_friction" {
      rate = 0.009
    }
  }
  component "intermediate_piston" {
    title  = "intermediate brake piston and lip seals"
    kind   = piston
    serves = [element.intermediate, circuit.intermediate_feed]
  }
  component "low_reverse_frictions" {
    title  = "low and reverse brake plates"
    kind   = friction_pack
    serves = element.low_reverse
    frequency "burnt_friction" {
      rate = 0.005
    }
  }
  component "low_reverse_piston" {
    title  = "low and reverse brake piston and lip seals"
    kind   = piston
    serves = [element.low_reverse, circuit.low_reverse_feed]
  }
  component "intermediate_roller" {
    title  = "intermediate roller clutch"
    kind   = one_way_clutch
    serves = element.intermediate_roller
    frequency "roller_spent" {
      rate = 0.004
    }
  }
  component "low_roller" {
    title  = "low roller clutch"
    kind   = one_way_clutch
    serves = element.low_roller
    frequency "roller_spent" {
      rate = 0.007
    }
  }
  component "overdrive_band" {
    title  = "overdrive band"
    kind   = band
    serves = element.overdrive_band
    frequency "band_burnt" {
      rate = 0.011
    }
  }

  # Gears, shafts, bearings
  component "planetary" {
    title  = "Ravigneaux set"
    kind   = gearset
    serves = [gearset.long, gearset.short]
  }
  component "input_shaft" {
    title  = "input shaft"
    kind   = shaft
    serves = joint.turbine_spline
  }
  component "direct_shaft" {
    title  = "direct shaft and its weld"
    kind   = shell
    serves = joint.direct_shell
  }
  component "sun_shell" {
    title  = "sun shell"
    kind   = shell
    serves = joint.sun_shell
  }
  component "output_shaft" {
    title  = "output shaft"
    kind   = output_shaft
    serves = joint.output_spline
  }
  component "front_bushings" {
    title  = "stator and drum bushings"
    kind   = bushing
    serves = [circuit.forward_feed, circuit.reverse_feed]
  }
  component "rear_bushings" {
    title  = "direct drum and output bushings"
    kind   = bushing
    serves = circuit.direct_feed
  }
  component "front_washers" {
    title  = "thrust washers of the front drums"
    kind   = thrust_washer
    serves = unit
  }
  component "rear_washers" {
    title  = "thrust bearings of the gear set"
    kind   = thrust_washer
    serves = unit
  }
  component "park_mechanism" {
    title  = "park pawl and rod"
    kind   = park_mechanism
    serves = unit
  }

  # Steps. In the vehicle first: each may be enough, and none needs the unit out.
  step "fluid_look" {
    title    = "level, color and smell of the fluid"
    stage    = in_vehicle
    minutes  = 4
    refit    = 0
    repair   = 20
    exposes  = ["fluid"]
    measure  = ["fluid_level", "keep a fluid sample"]
    look     = ["foam, milk, brown film on the dipstick?", "burnt smell?"]
    cautions = ["hot_fluid", "running_vehicle"]
  }
  step "linkage_look" {
    title   = "selector cable and detent"
    stage   = in_vehicle
    minutes = 8
    refit   = 0
    repair  = 20
    exposes = ["linkage"]
    measure = ["linkage setting before it is unhooked"]
    look = [
      "do shift lever and transmission detents line up in every range?",
      "bushing of the cable end worn?",
    ]
    cautions = ["chocks"]
  }
  step "wiring_look" {
    title    = "battery, grounds, outer connector"
    stage    = in_vehicle
    minutes  = 15
    refit    = 0
    repair   = 30
    exposes  = ["wiring"]
    measure  = ["scan_codes", "voltage drop under load"]
    look     = ["green, wet or spread pins?", "strap from engine to body tight and clean?"]
    cautions = ["battery"]
  }
  step "signals_look" {
    title    = "controller, sensors, range switch and load signal by scan tool"
    stage    = in_vehicle
    minutes  = 20
    refit    = 0
    repair   = 30
    exposes  = ["controller", "input_sensor", "output_sensor", "range_switch", "brake_switch", "throttle_signal"]
    measure  = ["scan_codes", "scan_adaptations"]
    look     = ["does each signal follow what it measures without a hole?"]
    cautions = ["running_vehicle"]
  }
  step "engine_look" {
    title    = "engine: misfire, power, back pressure"
    stage    = in_vehicle
    minutes  = 20
    refit    = 0
    repair   = 60
    exposes  = ["engine"]
    look     = ["misfire count rising at light load?", "same weakness in every gear?"]
    cautions = ["running_vehicle", "exhaust_gas"]
  }
  step "driveline_look" {
    title   = "drive shaft, axle, joints, mounts from below"
    stage   = in_vehicle
    minutes = 12
    refit   = 0
    repair  = 60
    exposes = ["driveline"]
    look = [
      "engine off: does one wheel turn and the other not?",
      "play in joints, torn mounts?",
    ]
    cautions = ["supports"]
  }
  step "cooler_look" {
    title    = "cooler and lines: flow and debris"
    stage    = in_vehicle
    minutes  = 20
    refit    = 5
    repair   = 45
    exposes  = ["cooler"]
    measure  = ["cooler_flow", "debris from the return line"]
    look     = ["lines kinked or blue?", "oil in the coolant?"]
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
  # A new flexplate means unit out and in again: 150 + 150 + 30 minutes of repair.
  step "inspection_cover_off" {
    title    = "cover of the bell housing off"
    stage    = in_vehicle
    minutes  = 8
    refit    = 6
    repair   = 330
    exposes  = ["flexplate"]
    measure  = ["rotate by hand and look at the whole bolt circle"]
    look     = ["cracks round the bolts or the ring gear?", "rust dust?"]
    cautions = ["supports", "battery"]
  }
  step "pan_off" {
    title   = "pan and filter off"
    stage   = in_vehicle
    minutes = 20
    refit   = 20
    repair  = 5
    exposes = ["filter"]
    measure = ["fluid_level", "keep a fluid sample", "converter fluid beside pan fluid"]
    look = [
      "gold: bushings and washers; steel chips: teeth; black: lining; gray paste: normal",
      "cut the filter open: lining in the folds?",
      "any whole small part?",
    ]
    cautions = ["hot_fluid", "supports", "eyes"]
  }
  step "solenoids_out" {
    title   = "solenoids and inner harness out"
    stage   = in_vehicle
    after   = ["pan_off"]
    minutes = 12
    refit   = 12
    repair  = 5
    exposes = [
      "solenoid_a",
      "solenoid_b",
      "pressure_solenoid",
      "lockup_solenoid",
      "temperature_sensor",
      "inner_harness",
    ]
    measure = ["solenoid_resistance", "temperature of the coils beside it", "solenoid_click"]
    look = [
      "screens blocked?",
      "does the seat hold air one way and pass it the other?",
      "insulation brittle, pin pushed back?",
    ]
    cautions = ["battery", "eyes"]
  }
  step "accumulators_out" {
    title    = "accumulators out"
    stage    = in_vehicle
    after    = ["pan_off"]
    minutes  = 10
    refit    = 12
    repair   = 8
    exposes  = ["accumulator_1_2", "accumulator_2_3", "accumulator_forward"]
    measure  = ["order of the springs by color and length"]
    look     = ["piston sticks, cracked, ring flush?", "spring in pieces?"]
    cautions = ["stored_energy", "eyes"]
  }
  step "valve_body_off" {
    title    = "valve body off"
    stage    = in_vehicle
    after    = ["solenoids_out", "accumulators_out"]
    minutes  = 25
    refit    = 30
    repair   = 10
    exposes  = ["manual_valve", "check_balls"]
    measure  = ["breakaway torque, as found, of the valve body bolts", "ball_places", "air_check"]
    look     = ["balls worn, seat pitted?", "manual valve on its pin?"]
    cautions = ["hot_fluid", "eyes"]
  }
  step "valve_body_open" {
    title   = "valve body apart on the bench"
    stage   = in_vehicle
    after   = ["valve_body_off"]
    minutes = 30
    refit   = 35
    repair  = 20
    exposes = [
      "separator_plate",
      "valve_body",
      "regulator_valve",
      "boost_valve",
      "shift_valve_1_2",
      "shift_valve_2_3",
      "shift_valve_3_4",
      "lockup_valve",
    ]
    measure = ["valve_movement", "plate_compare", "straightedge"]
    look = [
      "gasket torn between two channels?",
      "bright patch in the bore where a land sweeps?",
      "does each valve drop by its own weight?",
      "light under the straightedge?",
    ]
    cautions = ["stored_energy", "eyes", "solvents"]
  }
  step "extension_off" {
    title    = "drive shaft and extension housing off"
    stage    = in_vehicle
    minutes  = 40
    refit    = 40
    repair   = 20
    exposes  = ["extension_housing", "park_mechanism"]
    look     = ["slip yoke rocks in its bushing?", "pawl tip rounded, rod bent, spring off?"]
    cautions = ["supports", "hot_fluid"]
  }
  step "servo_cover_off" {
    title    = "overdrive servo cover off"
    stage    = in_vehicle
    minutes  = 20
    refit    = 20
    repair   = 10
    exposes  = ["overdrive_servo"]
    measure  = ["band_travel", "air_check"]
    look     = ["seal nicked, bore scored?", "pin bore oval?"]
    cautions = ["stored_energy", "supports", "eyes"]
  }

  # The costly decision
  step "pull_unit" {
    title   = "pull the unit"
    stage   = pulled
    pulls   = true
    minutes = 150
    refit   = 150
    measure = [
      "scan_codes",
      "scan_adaptations",
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
    title   = "converter off"
    stage   = teardown
    after   = ["pull_unit"]
    minutes = 5
    refit   = 5
    repair  = 30
    exposes = ["converter", "lockup_clutch", "front_seal"]
    measure = ["depth of the converter", "a fluid sample from the converter, kept apart"]
    look = [
      "hub scored or blue?",
      "stator race by finger: one way only?",
      "lip of the front seal nicked, spring off?",
      "end play of the converter: lining worn",
    ]
    cautions = ["heavy_unit", "hot_fluid"]
  }
  step "pump_out" {
    title   = "pump out"
    stage   = teardown
    after   = ["converter_off"]
    minutes = 10
    refit   = 10
    repair  = 15
    exposes = ["intermediate_piston", "stator_support", "forward_rings", "reverse_rings"]
    measure = [
      "input_end_play",
      "breakaway torque, as found, of the pump bolts",
      "ring_gaps",
      "intermediate_clearance",
    ]
    look = [
      "rings nicked, flush or caught?",
      "sleeve turns by hand?",
      "steps where the rings run?",
      "lip of the intermediate piston folded?",
    ]
    cautions = ["stored_energy", "eyes"]
  }
  step "pump_open" {
    title   = "pump apart"
    stage   = teardown
    after   = ["pump_out"]
    minutes = 8
    refit   = 10
    repair  = 15
    exposes = ["pump", "pump_bushing"]
    measure = ["pump_gear_clearance", "mark the mesh of the gears"]
    look = [
      "gear pocket scored?",
      "lugs of the drive gear?",
      "bushing walked or polished on one side?",
    ]
    cautions = ["eyes"]
  }
  step "intermediate_pack_out" {
    title   = "intermediate plates out"
    stage   = teardown
    after   = ["pump_out"]
    minutes = 4
    refit   = 5
    repair  = 5
    exposes = ["intermediate_frictions"]
    measure = ["order of the pack"]
    look    = ["lining black or bare?", "steels blue, coned?"]
  }
  step "band_out" {
    title    = "overdrive band out"
    stage    = teardown
    after    = ["pump_out", "servo_cover_off"]
    minutes  = 4
    refit    = 5
    repair   = 2
    exposes  = ["overdrive_band"]
    measure  = ["band setting as found"]
    look     = ["lining, lug and anchor?", "drum blue or heat-spotted?"]
    cautions = ["stored_energy"]
  }
  step "front_drums_out" {
    title   = "reverse and forward drums out"
    stage   = teardown
    after   = ["intermediate_pack_out", "band_out"]
    minutes = 5
    refit   = 6
    repair  = 5
    exposes = ["front_washers", "input_shaft", "intermediate_roller"]
    measure = ["thrust_places", "one_way_direction"]
    look = [
      "tabs of the washers?",
      "spline rolled, shaft twisted?",
      "roller turns one way only? race rolled?",
    ]
  }
  step "reverse_pack_open" {
    title   = "reverse pack out"
    stage   = teardown
    after   = ["front_drums_out"]
    minutes = 5
    refit   = 6
    repair  = 5
    exposes = ["reverse_frictions"]
    measure = ["reverse_clearance", "stack order, selective ring"]
    look    = ["lining, steels, hub splines?"]
  }
  step "reverse_piston_out" {
    title    = "reverse piston out"
    stage    = teardown
    after    = ["reverse_pack_open"]
    minutes  = 6
    refit    = 8
    repair   = 5
    exposes  = ["reverse_piston", "reverse_drum"]
    measure  = ["lip_direction", "solvent_leakdown"]
    look     = ["lip rolled, hard?", "check ball free?", "bore and ring lands scored?"]
    cautions = ["stored_energy", "air_check", "eyes"]
  }
  step "forward_pack_open" {
    title   = "forward pack out"
    stage   = teardown
    after   = ["front_drums_out"]
    minutes = 5
    refit   = 6
    repair  = 5
    exposes = ["forward_frictions"]
    measure = ["forward_clearance", "stack order, selective ring"]
    look    = ["lining, steels, hub splines?"]
  }
  step "forward_piston_out" {
    title    = "forward piston out"
    stage    = teardown
    after    = ["forward_pack_open"]
    minutes  = 6
    refit    = 8
    repair   = 5
    exposes  = ["forward_piston", "forward_drum"]
    measure  = ["lip_direction", "solvent_leakdown"]
    look     = ["lip rolled, hard?", "piston cracked at the apply surface?", "check ball free?"]
    cautions = ["stored_energy", "air_check", "eyes"]
  }
  step "front_bushings_look" {
    title   = "bushings of stator support and drums"
    stage   = teardown
    after   = ["front_drums_out", "pump_out"]
    minutes = 8
    refit   = 0
    repair  = 25
    exposes = ["front_bushings"]
    measure = ["bushing_fit"]
    look    = ["copper showing, bushing spun?"]
  }
  step "sun_shell_out" {
    title   = "sun shell and suns out"
    stage   = teardown
    after   = ["front_drums_out"]
    minutes = 3
    refit   = 3
    repair  = 2
    exposes = ["sun_shell"]
    look    = ["cracked at the neck?", "spline of the sun stripped?"]
  }
  step "low_roller_out" {
    title   = "low roller clutch and center support out"
    stage   = teardown
    after   = ["sun_shell_out"]
    minutes = 6
    refit   = 6
    repair  = 4
    exposes = ["low_roller"]
    measure = ["one_way_direction", "a mark on the side to the pump"]
    look    = ["race rolled, springs folded?", "turns one way only?"]
  }
  step "low_reverse_pack_out" {
    title   = "low and reverse plates out"
    stage   = teardown
    after   = ["low_roller_out"]
    minutes = 4
    refit   = 5
    repair  = 5
    exposes = ["low_reverse_frictions"]
    measure = ["low_reverse_clearance", "stack order"]
    look    = ["lining, steels?"]
  }
  step "low_reverse_piston_out" {
    title    = "low and reverse piston out"
    stage    = teardown
    after    = ["low_reverse_pack_out"]
    minutes  = 8
    refit    = 10
    repair   = 5
    exposes  = ["low_reverse_piston", "case"]
    measure  = ["lip_direction", "leak-down by air through the feed"]
    look     = ["lip folded at the case bore?"]
    cautions = ["stored_energy", "air_check", "eyes"]
  }
  step "planetary_out" {
    title   = "gear set out"
    stage   = teardown
    after   = ["low_roller_out"]
    minutes = 4
    refit   = 4
    repair  = 10
    exposes = ["planetary", "rear_washers"]
    measure = ["thrust_places", "pinion_end_play"]
    look    = ["pinions rock?", "teeth pitted or chipped?", "bearings blue?"]
  }
  step "direct_drum_out" {
    title   = "direct drum and shaft out"
    stage   = teardown
    after   = ["planetary_out"]
    minutes = 5
    refit   = 6
    repair  = 5
    exposes = ["direct_shaft", "direct_rings"]
    measure = ["ring_gaps"]
    look    = ["weld of the shaft?", "rings nicked or flush?"]
  }
  step "direct_pack_open" {
    title   = "direct pack out"
    stage   = teardown
    after   = ["direct_drum_out"]
    minutes = 5
    refit   = 6
    repair  = 5
    exposes = ["direct_frictions"]
    measure = ["direct_clearance", "stack order, selective ring"]
    look    = ["lining, steels, hub splines?"]
  }
  step "direct_piston_out" {
    title    = "direct piston out"
    stage    = teardown
    after    = ["direct_pack_open"]
    minutes  = 6
    refit    = 8
    repair   = 5
    exposes  = ["direct_piston", "direct_drum"]
    measure  = ["lip_direction", "solvent_leakdown"]
    look     = ["lip rolled, hard?", "check ball free?", "ring lands scored?"]
    cautions = ["stored_energy", "air_check", "eyes"]
  }
  step "output_out" {
    title   = "output shaft and ring gear out"
    stage   = teardown
    after   = ["planetary_out", "extension_off"]
    minutes = 8
    refit   = 8
    repair  = 10
    exposes = ["output_shaft"]
    measure = ["output_end_play"]
    look    = ["spline rolled?"]
  }
  step "rear_bushings_look" {
    title   = "bushings of direct drum and output"
    stage   = teardown
    after   = ["direct_drum_out", "output_out"]
    minutes = 8
    refit   = 0
    repair  = 25
    exposes = ["rear_bushings"]
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
    component = "front_washers"
    step      = "pump_out"
    check     = "end_play"
    measures  = "end_play"
    low       = "0.25 mm"
    high      = "0.90 mm"
  }
  limit "output_end_play" {
    title     = "end play of the output shaft"
    component = "rear_washers"
    step      = "output_out"
    low       = "0.15 mm"
    high      = "0.75 mm"
  }
  limit "pinion_end_play" {
    title     = "end play of the pinions"
    component = "planetary"
    step      = "planetary_out"
    high      = "0.80 mm"
  }
  limit "front_bushing_fit" {
    title     = "fit of the stator bushings"
    component = "front_bushings"
    step      = "front_bushings_look"
    high      = "0.12 mm"
  }
  limit "rear_bushing_fit" {
    title     = "fit of direct drum and output bushings"
    component = "rear_bushings"
    step      = "rear_bushings_look"
    high      = "0.12 mm"
  }
  limit "pump_gear_clearance" {
    title     = "pump gear to face clearance"
    component = "pump"
    step      = "pump_open"
    measures  = "pump_clearance"
    high      = "0.06 mm"
  }
  limit "forward_clearance" {
    title     = "forward pack"
    component = "forward_frictions"
    step      = "forward_pack_open"
    measures  = "clearance@forward"
    low       = "1.2 mm"
    high      = "1.9 mm"
  }
  limit "reverse_clearance" {
    title     = "reverse pack"
    component = "reverse_frictions"
    step      = "reverse_pack_open"
    measures  = "clearance@reverse"
    low       = "1.0 mm"
    high      = "1.8 mm"
  }
  limit "direct_clearance" {
    title     = "direct pack"
    component = "direct_frictions"
    step      = "direct_pack_open"
    measures  = "clearance@direct"
    low       = "1.1 mm"
    high      = "1.9 mm"
  }
  limit "intermediate_clearance" {
    title     = "intermediate pack"
    component = "intermediate_frictions"
    step      = "pump_out"
    measures  = "clearance@intermediate"
    low       = "0.9 mm"
    high      = "1.6 mm"
  }
  limit "low_reverse_clearance" {
    title     = "low and reverse pack"
    component = "low_reverse_frictions"
    step      = "low_reverse_pack_out"
    measures  = "clearance@low_reverse"
    low       = "1.0 mm"
    high      = "2.2 mm"
  }
  limit "band_travel" {
    title     = "overdrive servo pin travel"
    component = "overdrive_band"
    step      = "servo_cover_off"
    measures  = "servo_travel@overdrive_band"
    low       = "1.5 mm"
    high      = "3.0 mm"
  }
  limit "flexplate_runout" {
    title     = "runout of the flexplate"
    component = "flexplate"
    step      = "pull_unit"
    measures  = "runout"
    high      = "0.30 mm"
  }
  limit "hub_runout" {
    title     = "runout of the converter hub"
    component = "converter"
    step      = "converter_off"
    high      = "0.20 mm"
  }
  limit "solenoid_a_resistance" {
    title     = "shift solenoid A at 20 degC"
    component = "solenoid_a"
    step      = "solenoids_out"
    check     = "solenoid_resistance"
    measures  = "resistance@a"
    low       = "18 ohm at 20 degC"
    high      = "24 ohm at 20 degC"
  }
  limit "solenoid_b_resistance" {
    title     = "shift solenoid B at 20 degC"
    component = "solenoid_b"
    step      = "solenoids_out"
    check     = "solenoid_resistance"
    measures  = "resistance@b"
    low       = "18 ohm at 20 degC"
    high      = "24 ohm at 20 degC"
  }
  limit "pressure_solenoid_resistance" {
    title     = "pressure control solenoid at 20 degC"
    component = "pressure_solenoid"
    step      = "solenoids_out"
    measures  = "resistance@pressure_control"
    low       = "3.5 ohm at 20 degC"
    high      = "5.5 ohm at 20 degC"
  }
  limit "lockup_solenoid_resistance" {
    title     = "converter clutch solenoid at 20 degC"
    component = "lockup_solenoid"
    step      = "solenoids_out"
    measures  = "resistance@lockup_control"
    low       = "10 ohm at 20 degC"
    high      = "15 ohm at 20 degC"
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
  limit "charging_volts" {
    title    = "charging voltage, loaded"
    check    = "charging_voltage"
    measures = "charging_voltage"
    low      = "13.2 V"
    basis "common practice" {
      note = "usual low limit with lights and fan on"
    }
  }
  limit "ground_drop_volts" {
    title    = "voltage drop of a ground under load"
    check    = "ground_drop"
    measures = "ground_drop"
    high     = "0.2 V"
    basis "common practice" {
      note = "0.1 to 0.2 V are usual limits"
    }
  }
  limit "stall_d" {
    title    = "stall speed in D"
    check    = "stall_test"
    measures = "stall@D/1"
    low      = "1900 rpm"
    high     = "2250 rpm"
  }
  limit "stall_r" {
    title    = "stall speed in R"
    check    = "stall_test"
    measures = "stall@R/R"
    low      = "1900 rpm"
    high     = "2250 rpm"
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
