# Fluid, pan, outside. A clean pan clears no one-way clutch, valve or converter. Ask
# first whether the fluid was changed.
language = 1
basis "invented" {
  note = "minutes are invented but of the right size"
}

check "fluid_level" {
  title    = "level, hot, in the maker's range"
  stage    = pan
  minutes  = 3
  reporter = "eye"
  yields   = ["fluid_low", "fluid_overfull", "fluid_foamy", "pushes_oil_out"]
  cautions = ["running_vehicle", "hot_fluid"]
  before   = ["pan_off", "pull_unit"]
  why      = "always the first check"
}

check "fluid_look" {
  title    = "smell and color of the fluid"
  stage    = pan
  minutes  = 2
  reporter = "eye"
  yields = [
    "fluid_burnt_smell",
    "fluid_dark",
    "fluid_milky",
    "fluid_wrong_kind",
    "varnish_seen",
  ]
  cautions = ["hot_fluid"]
  before   = ["pan_off"]
  why      = "burnt lining smells before it shows; milky fluid has ruined frictions and converter"
}

check "pan_look" {
  title    = "pan and magnet"
  stage    = pan
  minutes  = 25
  reporter = "eye"
  yields = [
    "lining_in_pan",
    "bronze_in_pan",
    "steel_in_pan",
    "aluminum_in_pan",
    "plastic_in_pan",
    "part_in_pan",
  ]
  cautions = ["hot_fluid", "supports"]
  why      = "gold: bushings and washers; steel chips: teeth; black: lining; gray paste is normal (public study guide)"
}

check "filter_cut" {
  title    = "filter cut open"
  stage    = pan
  minutes  = 6
  reporter = "eye"
  yields   = ["lining_in_filter", "filter_blocked_seen"]
  cautions = ["eyes"]
  needs    = ["pan_off"]
  why      = "the filter holds what has left the pan"
}

check "leak_trail" {
  title    = "leak trail, highest wet spot"
  stage    = in_vehicle
  minutes  = 6
  reporter = "eye"
  yields   = ["leak_outside", "front_seal_wet", "leak_is_engine_oil", "oil_in_coolant"]
  cautions = ["supports"]
  before   = ["wash_parts"]
  why      = "washing destroys it"
}

check "look_underneath" {
  title    = "mounts, joints, axle, drive shaft by hand"
  stage    = in_vehicle
  minutes  = 8
  reporter = "eye"
  yields   = ["driveline_play", "tail_bushing_loose"]
  cautions = ["supports", "chocks"]
  why      = "play there feels like a harsh engagement"
}

check "prop_shaft_look" {
  title    = "drive shaft turning in gear, vehicle standing still (look from the side)"
  stage    = in_vehicle
  minutes  = 4
  reporter = "eye"
  yields   = ["prop_shaft_turns"]
  cautions = ["turning_shaft", "running_vehicle"]
  why      = "then it is driveline, differential or transfer case, not the transmission"
}

check "detent_check" {
  title    = "shift lever and transmission detents line up in every range"
  stage    = in_vehicle
  minutes  = 6
  reporter = "eye"
  yields   = ["selector_off"]
  cautions = ["chocks"]
  why      = "between two ranges the manual valve feeds both or neither"
}

check "park_hold" {
  title    = "lever into P by hand, and a push against the vehicle, engine off"
  stage    = in_vehicle
  minutes  = 4
  reporter = "road_test"
  yields   = ["park_rolls", "park_refused", "park_stuck"]
  cautions = ["park_test"]
  why      = "pawl, rod or linkage; push both ways, for the pawl may pass a tooth before it drops in"
}

check "park_look" {
  title    = "park rod, guide and pawl, with the pan off, lever moved by a second person"
  stage    = pan
  minutes  = 6
  reporter = "eye"
  yields   = ["park_parts_off"]
  cautions = ["park_test", "supports", "eyes"]
  needs    = ["pan_off"]
  why      = "a rod that does not push the pawl home can be fixed here; a pawl or wheel cannot"
}

check "cable_check" {
  title    = "throttle (TV) cable or rod"
  stage    = in_vehicle
  minutes  = 6
  reporter = "eye"
  yields   = ["throttle_cable_off"]
  cautions = ["chocks"]
  why      = "it sets shift points and pressure"
}

check "flexplate_look" {
  title    = "flexplate, through the bell housing cover"
  stage    = in_vehicle
  minutes  = 10
  reporter = "eye"
  yields   = ["flexplate_crack_seen"]
  cautions = ["supports", "battery"]
  before   = ["pull_unit"]
  why      = "rattle at idle, no drive after a bang"
}

check "air_check" {
  title    = "air check of each circuit, valve body off, in the vehicle"
  stage    = in_vehicle
  minutes  = 15
  reporter = "eye"
  yields   = ["air_check_fails@*"]
  cautions = ["air_check", "eyes"]
  needs    = ["valve_body_off"]
  why      = "a thud shows travel of the piston; a pass is weak, a failure strong: it says nothing about lining, clearance, spinning or hot leaks; hiss through an unseated check ball is normal"
}

check "servo_travel" {
  title    = "servo pin travel"
  stage    = in_vehicle
  minutes  = 12
  reporter = "measuring_tool"
  yields   = ["servo_travel_high@*", "servo_travel_low@*"]
  cautions = ["stored_energy", "supports"]
  why      = "a loose band is late, a tight one drags"
}

check "solenoid_click" {
  title    = "click of each shift and converter clutch solenoid, current limited"
  stage    = in_vehicle
  minutes  = 5
  reporter = "eye"
  only     = ["hydraulic", "electronic"]
  yields   = ["no_click@*"]
  cautions = ["coil_current", "battery", "eyes"]
  needs    = ["pan_off"]
  before   = ["solenoids_out"]
  why      = "a click is no proof of flow; pressure control solenoids are never clicked"
}
