# What transmissions usually have. A unit that says `parts = usual` gets, for
# each thing that its chart declares, the circuits, components and steps here,
# under what its own file writes: it overrides and drops them by name. A star
# is the thing's own name: of a clutch "forward", "*_piston" is forward_piston.
language = 1
basis "common practice" {
  note = "what such units have on any bench; minutes are of the right size, not measured"
}

# The vehicle around the unit
usual "unit" "every one" {
  front = "pump_out"
  circuit "line" {
    title = "line pressure"
    main  = true
    tap   = "line pressure tap, see the maker's manual"
  }
  component "fluid" {
    title  = "fluid"
    kind   = fluid
    serves = [line, unit]
    at     = "fluid_look"
  }
  component "linkage" {
    title  = "shift cable and detent"
    kind   = linkage
    serves = [unit]
    at     = "linkage_look"
  }
  component "engine" {
    title  = "engine"
    kind   = engine
    serves = [unit]
    at     = "engine_look"
  }
  component "driveline" {
    title  = "drive shaft, axle, mounts"
    kind   = driveline
    serves = [unit]
    at     = "driveline_look"
  }
  component "cooler" {
    title  = "cooler and lines"
    kind   = cooler
    serves = [unit]
    at     = "cooler_look"
  }
  component "flexplate" {
    title  = "flexplate"
    kind   = flexplate
    serves = [converter]
    at     = "inspection_cover_off"
  }

  # Pan and valve body
  component "filter" {
    title  = "filter"
    kind   = filter
    serves = [line, unit]
    at     = "pan_off"
  }
  component "manual_valve" {
    title  = "manual valve"
    kind   = manual_valve
    serves = [ranges]
    at     = "valve_body_off"
  }
  component "check_balls" {
    title  = "check balls"
    kind   = check_balls
    serves = [shifts, ranges]
    at     = "valve_body_off"
  }
  component "regulator_valve" {
    title  = "pressure regulator valve"
    kind   = regulator
    serves = [line]
    at     = "valve_body_open"
  }
  component "boost_valve" {
    title  = "boost valve"
    kind   = boost_valve
    serves = [line]
    at     = "valve_body_open"
  }
  component "separator_plate" {
    title  = "separator plate and gaskets"
    kind   = separator_plate
    serves = [clutch_feeds, shifts]
    at     = "valve_body_open"
  }
  component "valve_body" {
    title  = "valve body castings"
    kind   = valve_body
    serves = [line]
    at     = "valve_body_open"
  }

  # Converter and pump
  component "converter" {
    title  = "torque converter"
    kind   = converter
    serves = [converter]
    at     = "converter_off"
  }
  component "front_seal" {
    title  = "front seal"
    kind   = front_seal
    serves = [unit]
    at     = "converter_off"
  }
  component "outer_seals" {
    title  = "pan gasket, rear seal, shaft seals"
    kind   = external_seal
    serves = [unit]
    at     = "leaks_look"
  }
  component "vent" {
    title  = "vent"
    kind   = vent
    serves = [unit]
    at     = "leaks_look"
  }
  component "pump" {
    title  = "oil pump"
    kind   = pump
    serves = [line, unit]
    at     = "pump_open"
  }
  component "pump_bushing" {
    title  = "pump bushing"
    kind   = pump_bushing
    serves = [line]
    at     = "pump_open"
  }
  component "stator_support" {
    title  = "stator support with its feed sleeve"
    kind   = feed_sleeve
    serves = [clutch_feeds]
    at     = "pump_out"
  }

  # Case
  component "case" {
    title  = "case with its servo and piston bores"
    kind   = case
    serves = [case_feeds]
    at     = "case_stripped"
  }
  component "bushings" {
    title  = "bushings of shafts and drums"
    kind   = bushing
    serves = [clutch_feeds]
    at     = "case_stripped"
  }
  component "thrust_washers" {
    title  = "thrust washers and bearings"
    kind   = thrust_washer
    serves = [unit]
    at     = "case_stripped"
  }
  component "park_mechanism" {
    title  = "park pawl and rod"
    kind   = park_mechanism
    serves = [unit]
    at     = "case_stripped"
  }

  step "fluid_look" {
    title    = "level, color and smell of the fluid"
    stage    = in_vehicle
    same_as  = ["fluid_level", "fluid_look"]
    minutes  = 4
    refit    = 0
    repair   = 20
    measure  = ["fluid_level", "keep a fluid sample"]
    look     = ["foam, milk, brown film on the dipstick?", "burnt smell?"]
    cautions = ["hot_fluid", "running_vehicle"]
  }
  step "linkage_look" {
    title    = "shift cable and detent"
    stage    = in_vehicle
    same_as  = ["detent_check"]
    minutes  = 8
    refit    = 0
    repair   = 20
    measure  = ["linkage setting before it is unhooked"]
    look     = ["does the shift lever meet the transmission detent in every range?", "cable end bushing worn?"]
    cautions = ["chocks"]
  }
  step "engine_look" {
    title    = "engine: misfire, power, back pressure"
    stage    = in_vehicle
    same_as  = ["engine_check", "exhaust_check"]
    minutes  = 20
    refit    = 0
    repair   = 60
    look     = ["misfire count rising at light load?", "same weakness in every gear?"]
    cautions = ["running_vehicle", "exhaust_gas"]
  }
  step "driveline_look" {
    title    = "drive shaft, axle, joints, mounts from below"
    stage    = in_vehicle
    same_as  = ["look_underneath", "prop_shaft_look"]
    minutes  = 12
    refit    = 0
    repair   = 60
    look     = ["engine off: does one wheel turn and the other not?", "play in joints, torn mounts?"]
    cautions = ["supports", "chocks", "turning_shaft"]
  }
  step "cooler_look" {
    title    = "cooler and lines: flow and debris"
    stage    = in_vehicle
    same_as  = ["cooler_flow"]
    minutes  = 20
    refit    = 5
    repair   = 45
    measure  = ["cooler_flow", "debris from the return line"]
    look     = ["lines kinked or blue?", "oil in the coolant?"]
    cautions = ["running_vehicle", "hot_fluid"]
  }
  step "leaks_look" {
    title    = "leak trail from the pan rail back"
    stage    = in_vehicle
    same_as  = ["leak_trail"]
    minutes  = 8
    refit    = 0
    repair   = 40
    measure  = ["leak_trail"]
    look     = ["highest wet spot?"]
    cautions = ["supports"]
  }
  step "inspection_cover_off" {
    title    = "bell housing cover off"
    stage    = in_vehicle
    same_as  = ["flexplate_look"]
    minutes  = 8
    refit    = 6
    measure  = ["rotate by hand and look at the whole bolt circle"]
    look     = ["cracks around the bolts or the ring gear?", "rust dust?"]
    cautions = ["supports", "battery"]
  }
  step "case_stripped" {
    title   = "output shaft, park parts, bushings and washers out of the case"
    after   = ["previous"]
    minutes = 15
    refit   = 15
    repair  = 25
    measure = ["thrust_places", "bushing_fit"]
    look    = ["copper showing, a bushing spun?", "pawl tip rounded, rod bent?"]
  }
  step "wash_parts" {
    title    = "wash case and parts"
    after    = ["case_stripped", "valve_body_open"]
    minutes  = 20
    refit    = 0
    measure  = ["leak_trail", "valve_movement", "color of the linings"]
    cautions = ["solvents", "eyes"]
  }

  # Limits with figures of the trade; the others are frames, which a unit fills
  # with its maker's figures.
  limit "engagement_d" {
    title    = "time to engage D"
    check    = "timed_engagement"
    measures = "engagement@D"
    high     = "1.2 s"
  }
  limit "engagement_r" {
    title    = "time to engage R"
    check    = "timed_engagement"
    measures = "engagement@R"
    high     = "1.5 s"
  }
  limit "cooler_liters" {
    title    = "liters from the cooler return line in 20 s"
    check    = "cooler_flow"
    measures = "cooler_flow"
    low      = "0.7 L"
  }
  limit "stall_d" {
    title    = "stall speed in D"
    check    = "stall_test"
    measures = "stall@D/launch"
  }
  limit "stall_r" {
    title    = "stall speed in R"
    check    = "stall_test"
    measures = "stall@R/launch"
  }
  limit "bore_vacuum" {
    title    = "vacuum held by the worst bore"
    check    = "vacuum_test"
    measures = "bore_vacuum"
  }
  limit "mileage" {
    title    = "mileage above which age counts"
    check    = "ask_mileage"
    measures = "mileage"
    high     = "120000 mi"
  }
  limit "bushing_fit" {
    title     = "fit of the bushings"
    component = "bushings"
    step      = "case_stripped"
  }
  limit "flexplate_runout" {
    title     = "runout of the flexplate"
    component = "flexplate"
    step      = "pull_unit"
    measures  = "runout"
  }
  limit "hub_runout" {
    title     = "runout of the converter hub"
    component = "converter"
    step      = "converter_off"
  }
}

# Times and order by layout
usual "unit" "rear-wheel drive" {
  only = ["rear", "all"]
  step "pan_off" {
    title    = "pan and filter off"
    stage    = in_vehicle
    minutes  = 20
    refit    = 20
    repair   = 5
    measure  = ["fluid_level", "keep a fluid sample", "converter fluid beside pan fluid"]
    look     = ["gold: bushings and washers; steel chips: teeth; black: lining; gray paste: normal", "cut the filter open: lining in the folds?", "any whole small part?"]
    cautions = ["hot_fluid", "supports", "eyes"]
  }
  step "valve_body_off" {
    title    = "valve body off"
    stage    = in_vehicle
    after    = ["pan_off"]
    minutes  = 35
    refit    = 40
    repair   = 10
    measure  = ["breakaway torque of the valve body bolts as found", "ball_places", "air_check"]
    look     = ["balls worn, seat pitted?", "manual valve on its pin?"]
    cautions = ["hot_fluid", "eyes"]
  }
}

usual "unit" "transaxle" {
  only = ["front"]
  step "pan_off" {
    title    = "pan or side cover and filter off"
    stage    = in_vehicle
    minutes  = 30
    refit    = 30
    repair   = 5
    measure  = ["fluid_level", "keep a fluid sample"]
    look     = ["gold: bushings and washers; steel chips: teeth; black: lining; gray paste: normal", "cut the filter open: lining in the folds?"]
    cautions = ["hot_fluid", "supports", "eyes"]
  }
  step "valve_body_off" {
    title    = "valve body off"
    stage    = in_vehicle
    after    = ["pan_off"]
    minutes  = 75
    refit    = 80
    repair   = 10
    measure  = ["breakaway torque of the valve body bolts as found", "ball_places", "air_check"]
    look     = ["balls worn, seat pitted?", "manual valve on its pin?"]
    cautions = ["hot_fluid", "eyes", "supports"]
  }
  component "final_drive" {
    title  = "final drive and differential"
    kind   = driveline
    serves = [unit]
    at     = "case_stripped"
  }
}

usual "unit" "tail, rear-wheel drive" {
  only = ["rear"]
  component "extension_housing" {
    title  = "extension housing and its bushing"
    kind   = extension_housing
    serves = [unit]
    at     = "extension_off"
  }
  step "extension_off" {
    title    = "drive shaft and extension housing off"
    stage    = in_vehicle
    minutes  = 40
    refit    = 40
    repair   = 20
    look     = ["slip yoke rocks in its bushing?", "pawl tip rounded, rod bent, guide loose, where they are in view?"]
    cautions = ["supports", "hot_fluid"]
  }
}

usual "unit" "pulling, rear-wheel drive" {
  only = ["rear"]
  step "pull_unit" {
    title    = "pull the unit"
    stage    = pulled
    pulls    = true
    minutes  = 150
    refit    = 150
    measure  = ["linkage setting", "leak_trail", "depth of the converter in its housing", "dowels both there?", "runout"]
    cautions = ["heavy_unit", "supports", "battery", "hot_fluid"]
  }
  # A new flexplate means the unit out and in again, and half an hour.
  step "inspection_cover_off" {
    repair = 330
  }
}

usual "unit" "pulling, four-wheel drive" {
  only = ["all"]
  step "pull_unit" {
    title    = "pull the unit, transfer case first"
    stage    = pulled
    pulls    = true
    minutes  = 210
    refit    = 210
    measure  = ["linkage setting", "leak_trail", "depth of the converter in its housing", "dowels both there?", "runout"]
    cautions = ["heavy_unit", "supports", "battery", "hot_fluid"]
  }
  # A new flexplate means the unit out and in again, and half an hour.
  step "inspection_cover_off" {
    repair = 450
  }
}

usual "unit" "pulling, transaxle" {
  only = ["front"]
  step "pull_unit" {
    title    = "take the transaxle out"
    stage    = pulled
    pulls    = true
    minutes  = 330
    refit    = 330
    measure  = ["linkage setting", "leak_trail", "depth of the converter in its housing", "dowels both there?", "runout"]
    cautions = ["heavy_unit", "supports", "battery", "hot_fluid"]
  }
  # A new flexplate means the unit out and in again, and half an hour.
  step "inspection_cover_off" {
    repair = 690
  }
}

usual "unit" "on the bench" {
  step "valve_body_open" {
    title    = "valve body apart on the bench"
    stage    = in_vehicle
    after    = ["valve_body_off"]
    minutes  = 30
    refit    = 35
    repair   = 20
    measure  = ["valve_movement", "plate_compare", "straightedge"]
    look     = ["gasket torn between two channels?", "bright patch in a bore where a land sweeps?", "does each valve drop by its own weight?", "light under the straightedge?"]
    cautions = ["stored_energy", "eyes", "solvents"]
  }
  step "converter_off" {
    title    = "converter off"
    after    = ["pull_unit"]
    minutes  = 5
    refit    = 5
    repair   = 30
    measure  = ["depth of the converter", "a fluid sample from the converter, kept apart"]
    look     = ["hub scored or blue?", "stator race by finger: one way only?", "lip of the front seal nicked, spring off?"]
    cautions = ["heavy_unit", "hot_fluid"]
  }
  step "pump_out" {
    title    = "pump out"
    after    = ["converter_off"]
    minutes  = 10
    refit    = 10
    repair   = 15
    measure  = ["input_end_play", "breakaway torque of the pump bolts as found", "ring_gaps"]
    look     = ["rings nicked, flush or caught?", "sleeve turns by hand?", "steps where the rings run?"]
    cautions = ["stored_energy", "eyes"]
  }
  step "pump_open" {
    title    = "pump apart"
    after    = ["pump_out"]
    minutes  = 8
    refit    = 10
    repair   = 15
    measure  = ["pump_gear_clearance", "mark the mesh of the gears"]
    look     = ["gear pocket scored?", "lugs of the drive gear?", "bushing walked or polished on one side?"]
    cautions = ["eyes"]
  }
  limit "input_end_play" {
    title     = "input shaft end play, before the pump comes out"
    component = "thrust_washers"
    step      = "pump_out"
    check     = "end_play"
    measures  = "end_play"
  }
  limit "pump_gear_clearance" {
    title     = "pump gear to face clearance"
    component = "pump"
    step      = "pump_open"
    measures  = "pump_clearance"
  }
}

# Controls
usual "unit" "electronic controls" {
  only = ["electronic", "adaptive"]
  component "wiring" {
    title  = "battery, grounds, supply, outer connector"
    kind   = wiring
    serves = [unit]
    at     = "wiring_look"
  }
  component "controller" {
    title  = "transmission controller"
    kind   = controller
    serves = [unit]
    at     = "signals_look"
  }
  component "input_sensor" {
    title  = "input speed sensor"
    kind   = input_sensor
    serves = [unit]
    at     = "signals_look"
  }
  component "output_sensor" {
    title  = "output speed sensor"
    kind   = output_sensor
    serves = [unit]
    at     = "signals_look"
  }
  component "range_switch" {
    title  = "range switch"
    kind   = range_switch
    serves = [unit]
    at     = "signals_look"
  }
  component "overdrive_switch" {
    title  = "overdrive or mode switch"
    kind   = gear_switch
    serves = [top_shift]
    at     = "signals_look"
  }
  component "brake_switch" {
    title  = "brake switch"
    kind   = brake_switch
    serves = [unit]
    at     = "signals_look"
  }
  component "throttle_signal" {
    title  = "throttle and load signal"
    kind   = throttle_signal
    serves = [line, unit]
    at     = "signals_look"
  }
  component "inner_harness" {
    title  = "harness in the pan and case connector"
    kind   = inner_harness
    serves = [solenoids, unit]
    at     = "solenoids_out"
  }
  component "temperature_sensor" {
    title  = "fluid temperature sensor"
    kind   = temperature_sensor
    serves = [unit]
    at     = "solenoids_out"
  }
  step "wiring_look" {
    title    = "battery, grounds, outer connector"
    stage    = in_vehicle
    same_as  = ["connector_look", "ground_drop"]
    minutes  = 15
    refit    = 0
    repair   = 30
    measure  = ["scan_codes", "voltage drop under load"]
    look     = ["green, wet or spread pins?", "strap from engine to body tight and clean?"]
    cautions = ["battery"]
  }
  step "signals_look" {
    title    = "controller, sensors, range switch and load signal by scan tool"
    stage    = in_vehicle
    same_as  = ["scan_codes", "scan_signals"]
    minutes  = 20
    refit    = 0
    repair   = 30
    measure  = ["scan_codes", "scan_adaptations"]
    look     = ["does each signal follow what it measures without a gap?"]
    cautions = ["running_vehicle"]
  }
  step "solenoids_out" {
    title    = "solenoids and inner harness out"
    stage    = in_vehicle
    after    = ["pan_off"]
    minutes  = 12
    refit    = 12
    repair   = 5
    measure  = ["solenoid_resistance", "temperature of the coils beside it", "solenoid_click"]
    look     = ["screens blocked?", "does the seat hold air one way and pass it the other?", "insulation brittle, pin pushed back?"]
    cautions = ["battery", "eyes"]
  }
  limit "charging_volts" {
    title    = "charging voltage, loaded"
    check    = "charging_voltage"
    measures = "charging_voltage"
    low      = "13.2 V"
  }
  limit "ground_drop_volts" {
    title    = "voltage drop of a ground under load"
    check    = "ground_drop"
    measures = "ground_drop"
    high     = "0.2 V"
  }
  # Learned values and freeze frames go with the battery.
  step "pull_unit" {
    measure = ["scan_codes", "scan_adaptations"]
  }
}

# A single solenoid on hydraulic controls, for the converter clutch or overdrive. The
# step stands twice: electronic controls have it even where the chart names no
# solenoid, and `only` knows no "or".
usual "unit" "solenoids on hydraulic controls" {
  only = ["hydraulic", "some_solenoids"]
  step "solenoids_out" {
    title    = "solenoids and their wires out"
    stage    = in_vehicle
    after    = ["pan_off"]
    minutes  = 12
    refit    = 12
    repair   = 5
    measure  = ["solenoid_resistance", "temperature of the coils beside it", "solenoid_click"]
    look     = ["screens blocked?", "does the seat hold air one way and pass it the other?", "insulation brittle, pin pushed back?"]
    cautions = ["battery", "eyes"]
  }
}

usual "unit" "hydraulic controls" {
  only = ["hydraulic"]
  component "throttle_valve" {
    title  = "throttle valve and its cable"
    kind   = throttle_valve
    serves = [shifts, line]
    at     = "valve_body_open"
  }
  component "governor" {
    title  = "governor"
    kind   = governor
    serves = [shifts]
    at     = "governor_look"
  }
  step "governor_look" {
    title    = "governor out through its cover or the tail housing"
    stage    = in_vehicle
    minutes  = 30
    refit    = 30
    repair   = 15
    look     = ["weights free, rings whole, screen clean?"]
    cautions = ["supports", "hot_fluid"]
  }
}

usual "shift_solenoid" {
  component "solenoid_*" {
    title  = "*"
    kind   = shift_solenoid
    serves = [self, unit]
    at     = "solenoids_out"
  }
  limit "solenoid_*_resistance" {
    title     = "resistance of the *"
    component = "solenoid_*"
    step      = "solenoids_out"
    check     = "solenoid_resistance"
    measures  = "resistance@*"
  }
}

usual "pressure_solenoid" {
  component "solenoid_*" {
    title  = "*"
    kind   = pressure_solenoid
    serves = [self, line, unit]
    at     = "solenoids_out"
  }
  limit "solenoid_*_resistance" {
    title     = "resistance of the *"
    component = "solenoid_*"
    step      = "solenoids_out"
    check     = "solenoid_resistance"
    measures  = "resistance@*"
  }
}

usual "converter_solenoid" {
  component "solenoid_*" {
    title  = "*"
    kind   = lockup_solenoid
    serves = [self, unit]
    at     = "solenoids_out"
  }
  limit "solenoid_*_resistance" {
    title     = "resistance of the *"
    component = "solenoid_*"
    step      = "solenoids_out"
    check     = "solenoid_resistance"
    measures  = "resistance@*"
  }
}

usual "clutch_solenoid" {
  component "solenoid_*" {
    title  = "*"
    kind   = shift_solenoid
    serves = [self, unit]
    at     = "solenoids_out"
  }
  component "valve_*" {
    title  = "regulating valve behind the *"
    kind   = regulator
    serves = [feed]
    at     = "valve_body_open"
  }
  limit "solenoid_*_resistance" {
    title     = "resistance of the *"
    component = "solenoid_*"
    step      = "solenoids_out"
    check     = "solenoid_resistance"
    measures  = "resistance@*"
  }
}

usual "shift" "valves" {
  only = ["shift_solenoids", "no_solenoids"]
  component "shift_valve_*" {
    title  = "* shift valve"
    kind   = shift_valve
    serves = [self]
    at     = "valve_body_open"
  }
  component "accumulator_*" {
    title  = "* accumulator"
    kind   = accumulator
    serves = [self, on_feed]
    at     = "accumulators_out"
  }
  step "accumulators_out" {
    title    = "accumulators out"
    stage    = in_vehicle
    after    = ["pan_off"]
    minutes  = 10
    refit    = 12
    repair   = 8
    measure  = ["order of the springs by color and length"]
    look     = ["piston sticks, cracked, ring flush?", "spring in pieces?"]
    cautions = ["stored_energy", "eyes"]
  }
}

# What holds and joins
usual "converter_clutch" {
  circuit "*_feed" {
    title = "* apply"
  }
  component "*_clutch" {
    title  = "* lining"
    kind   = converter_clutch
    serves = [self]
    at     = "converter_off"
  }
  component "*_valve" {
    title  = "* valve"
    kind   = lockup_valve
    serves = [self, feed]
    at     = "valve_body_open"
  }
}

usual "clutch" {
  circuit "*_feed" {
    title = "* feed"
  }
  component "*_frictions" {
    title  = "* plates"
    kind   = friction_pack
    serves = [self]
    at     = "*_pack_open"
  }
  component "*_piston" {
    title  = "* piston and lip seals"
    kind   = piston
    serves = [self, feed]
    at     = "*_piston_out"
  }
  component "*_drum" {
    title  = "* drum"
    kind   = drum
    serves = [self, feed]
    at     = "*_piston_out"
  }
  component "*_rings" {
    title  = "* sealing rings"
    kind   = seal_ring
    serves = [feed]
    at     = "*_drum_out"
  }
  step "*_drum_out" {
    title   = "* drum out"
    after   = ["previous"]
    minutes = 5
    refit   = 6
    repair  = 5
    measure = ["thrust_places", "ring_gaps"]
    look    = ["tabs of the washers?", "rings nicked or flush?"]
  }
  step "*_pack_open" {
    title   = "* pack out of its drum"
    after   = ["*_drum_out"]
    minutes = 5
    refit   = 6
    repair  = 5
    measure = ["*_clearance", "stack order, selective ring"]
    look    = ["lining, steels, hub splines?"]
  }
  step "*_piston_out" {
    title    = "* piston out"
    after    = ["*_pack_open"]
    minutes  = 6
    refit    = 8
    repair   = 5
    measure  = ["lip_direction", "solvent_leakdown"]
    look     = ["lip rolled, hard?", "piston cracked at the apply surface?", "check ball free?", "bore and ring lands scored?"]
    cautions = ["stored_energy", "air_check", "eyes"]
  }
  limit "*_clearance" {
    title     = "clearance of the * pack"
    component = "*_frictions"
    step      = "*_pack_open"
    measures  = "clearance@*"
  }
}

usual "brake" {
  circuit "*_feed" {
    title = "* feed"
  }
  component "*_frictions" {
    title  = "* plates"
    kind   = friction_pack
    serves = [self]
    at     = "*_pack_out"
  }
  component "*_piston" {
    title  = "* piston and lip seals"
    kind   = piston
    serves = [self, feed]
    at     = "*_piston_out"
  }
  step "*_pack_out" {
    title   = "* plates out"
    after   = ["previous"]
    minutes = 4
    refit   = 5
    repair  = 5
    measure = ["*_clearance", "stack order of the pack"]
    look    = ["lining black or bare?", "steels blue, coned?"]
  }
  step "*_piston_out" {
    title    = "* piston out"
    after    = ["*_pack_out"]
    minutes  = 8
    refit    = 10
    repair   = 5
    measure  = ["lip_direction"]
    look     = ["lip folded at the bore?"]
    cautions = ["stored_energy", "air_check", "eyes"]
  }
  limit "*_clearance" {
    title     = "clearance of the * pack"
    component = "*_frictions"
    step      = "*_pack_out"
    measures  = "clearance@*"
  }
}

usual "band" "set by a screw in the vehicle" {
  only = ["screw"]
  component "*_band_screw" {
    title  = "adjusting screw of the *"
    kind   = band_screw
    serves = [self]
    at     = "*_band_set"
  }
  step "*_band_set" {
    title    = "* adjusted at its screw"
    stage    = in_vehicle
    minutes  = 15
    refit    = 0
    measure  = ["turns of the screw as found, from tight"]
    look     = ["more turns than the book, lock nut loose?", "screw bottoms without feel: strut out of its notch?"]
    cautions = ["supports", "hot_fluid"]
  }
}

usual "band" {
  circuit "*_apply" {
    title = "* servo apply"
    tap   = "servo cover, where it has a tap"
  }
  component "*" {
    title  = "*"
    kind   = band
    serves = [self]
    at     = "*_band_out"
  }
  component "*_servo" {
    title  = "* servo"
    kind   = servo
    serves = [self, feed]
    at     = "*_servo_off"
  }
  step "*_servo_off" {
    title    = "* servo out"
    stage    = in_vehicle
    minutes  = 25
    refit    = 25
    repair   = 10
    measure  = ["*_servo_travel", "air_check"]
    look     = ["seal nicked, bore scored?", "pin bore oval?"]
    cautions = ["stored_energy", "supports", "eyes"]
  }
  step "*_band_out" {
    title    = "* out"
    after    = ["previous", "*_servo_off"]
    minutes  = 4
    refit    = 5
    repair   = 2
    measure  = ["band setting as found"]
    look     = ["lining, lug and anchor?", "drum blue or heat-spotted?"]
    cautions = ["stored_energy"]
  }
  limit "*_servo_travel" {
    title     = "* servo pin travel"
    component = "*"
    step      = "*_servo_off"
    measures  = "servo_travel@*"
  }
}

usual "one_way" {
  component "*" {
    title  = "*"
    kind   = one_way_clutch
    serves = [self]
    at     = "*_out"
  }
  step "*_out" {
    title   = "* out"
    after   = ["previous"]
    minutes = 5
    refit   = 6
    repair  = 4
    measure = ["one_way_direction", "a mark on the side to the pump"]
    look    = ["race rolled, springs folded?", "turns one way only?"]
  }
}

# Gears and shafts
usual "gearset" {
  component "*_gearset" {
    title  = "*"
    kind   = gearset
    serves = [self]
    at     = "*_gearset_out"
  }
  step "*_gearset_out" {
    title   = "* out"
    after   = ["previous"]
    minutes = 4
    refit   = 4
    repair  = 10
    measure = ["thrust_places", "end play of the pinions"]
    look    = ["pinions rock?", "teeth pitted or chipped?", "bearings blue?"]
  }
  limit "*_pinion_end_play" {
    title     = "end play of the pinions, *"
    component = "*_gearset"
    step      = "*_gearset_out"
  }
}

usual "joint" {
  component "*" {
    title  = "*"
    kind   = shaft
    serves = [self]
    at     = "*_out"
  }
  step "*_out" {
    title   = "* out"
    after   = ["previous"]
    minutes = 3
    refit   = 3
    repair  = 5
    look    = ["spline rolled, weld cracked, shaft twisted?"]
  }
}
