# Kinds of components. Modes are written for kinds, so that they fit any unit.
language = 1
basis "common practice" {
  note = "found on any bench; no numbers here"
}

# What holds and joins
kind "friction_pack" {
  title  = "friction and steel plates"
  serves = [element]
  bench  = "plates laid out in the order of the pack"
  renew  = "friction plates and, where marked or coned, steels: used linings do not bed in again"
}

kind "piston" {
  title  = "piston with its seals and return springs"
  serves = [element, circuit]
  bench  = "beside its drum"
  renew  = "lip seals or bonded piston: they take a set and seldom seal a second time"
}

kind "drum" {
  title  = "clutch drum with ring lands and check ball"
  serves = [element, circuit]
  bench  = "drum row"
}

kind "seal_ring" {
  title  = "sealing rings"
  serves = [circuit]
  bench  = "on a hook with their shaft's name"
  renew  = "sealing rings: they have worn to their old grooves"
}

kind "band" {
  title  = "brake band with struts and anchor"
  serves = [element]
  bench  = "band hook"
}

kind "band_screw" {
  title  = "band adjusting screw with its lock nut"
  serves = [element]
  bench  = "small parts tray"
}

kind "servo" {
  title  = "band servo: piston, pin, seals, bore"
  serves = [element, circuit]
  bench  = "small parts tray"
  renew  = "servo seals and cover gasket: heat hardens rubber"
}

kind "servo_release" {
  title  = "release seal of a servo, on another element's oil"
  serves = [circuit]
  bench  = "small parts tray"
  renew  = "release seal: heat hardens rubber"
}

kind "one_way_clutch" {
  title  = "roller or sprag clutch"
  serves = [element]
  bench  = "assembled, with a mark on the side that faced the pump"
}

# Oil supply and control
kind "pump" {
  title  = "oil pump gears or vanes and their drive"
  serves = [circuit, unit]
  bench  = "pump tray"
  renew  = "pump O-ring and gasket: they seal once"
}

kind "pump_bushing" {
  title  = "pump bushing at the converter hub"
  serves = [circuit]
  bench  = "pump tray"
}

kind "external_seal" {
  title  = "outer seals and gaskets"
  serves = [unit]
  bench  = "left on the part until measured"
  renew  = "outer seals and gaskets: never use them twice"
}

kind "front_seal" {
  title  = "front seal at the converter hub"
  serves = [unit]
  bench  = "left on the part until measured"
  renew  = "front seal: it has worn to its old track on the hub"
}

kind "vent" {
  title  = "vent of the case"
  serves = [unit]
  bench  = "left on the case"
}

kind "feed_sleeve" {
  title  = "stator support or feed sleeve"
  serves = [circuit]
  bench  = "pump tray"
}

kind "filter" {
  title    = "filter or strainer with its seal"
  serves   = [circuit, unit]
  bench    = "drip tray, uncut until looked at"
  renew    = "filter with its seal, pan gasket, fluid of the maker's type: the old ones hold what has worn off"
  collects = ["lining_in_pan", "bronze_in_pan", "steel_in_pan", "aluminum_in_pan"]
  clean    = "cut the old one open, then fit a new one"
}

kind "regulator" {
  title  = "pressure regulator valve with its bore"
  serves = [circuit]
  bench  = "valve rail, in the order of the bores"
}

kind "boost_valve" {
  title  = "boost valve with its sleeve"
  serves = [circuit]
  bench  = "valve rail, in the order of the bores"
}

kind "shift_valve" {
  title  = "shift valve with its bore"
  serves = [shift]
  bench  = "valve rail, in the order of the bores"
}

kind "manual_valve" {
  title  = "manual valve"
  serves = [range]
  bench  = "valve rail, in the order of the bores"
}

kind "governor" {
  title  = "governor with its rings or weights"
  serves = [shift]
  bench  = "small parts tray"
}

kind "throttle_valve" {
  title  = "throttle valve with its cable or linkage"
  serves = [shift, circuit]
  bench  = "valve rail, in the order of the bores"
}

kind "modulator" {
  title  = "vacuum modulator with its hose"
  serves = [shift, circuit]
  bench  = "small parts tray"
}

kind "lockup_valve" {
  title  = "converter clutch valve with its bore"
  serves = [element, circuit]
  bench  = "valve rail, in the order of the bores"
}

kind "accumulator" {
  title  = "accumulator: piston, spring, seals"
  serves = [shift, range, circuit]
  bench  = "small parts tray"
  renew  = "accumulator seals: heat hardens rubber"
}

kind "check_balls" {
  title  = "check balls of the valve body"
  serves = [shift, range]
  bench  = "in a drawing of the worm tracks"
}

kind "separator_plate" {
  title  = "separator plate and gaskets"
  serves = [circuit, shift]
  bench  = "flat, with the old gaskets kept for comparison"
  renew  = "gaskets of the separator plate: they tear, and leaks between passages stay unseen"
}

kind "valve_body" {
  title    = "valve body castings"
  serves   = [circuit]
  bench    = "valve rail"
  collects = ["lining_in_pan", "bronze_in_pan", "steel_in_pan", "aluminum_in_pan"]
  clean    = "apart, washed passage by passage; screens and solenoid screens cleaned or new"
}

# Electrical parts inside
kind "shift_solenoid" {
  title  = "shift solenoid"
  serves = [solenoid, unit]
  bench  = "solenoid rack"
}

kind "pressure_solenoid" {
  title  = "pressure control solenoid"
  serves = [solenoid, circuit, unit]
  bench  = "solenoid rack"
}

kind "lockup_solenoid" {
  title  = "converter clutch solenoid"
  serves = [solenoid, element, unit]
  bench  = "solenoid rack"
}

kind "inner_harness" {
  title  = "harness and connector in the case"
  serves = [solenoid, unit]
  bench  = "solenoid rack"
}

# Converter, gears, shafts
kind "converter" {
  title    = "torque converter with stator and hub"
  serves   = [converter]
  bench    = "on the floor, hub up, drained into its own can"
  collects = ["lining_in_pan", "bronze_in_pan", "steel_in_pan", "aluminum_in_pan"]
  clean    = "replace it, or have it opened and cleaned; it cannot be flushed clean"
}

kind "converter_clutch" {
  title  = "converter clutch lining, piston and seal"
  serves = [element]
  bench  = "inside the converter"
}

kind "flexplate" {
  title  = "flexplate and its bolts"
  serves = [converter, unit]
  bench  = "stays on the engine"
}

kind "gearset" {
  title  = "planetary gearset"
  serves = [gearset]
  bench  = "gear row, front to rear"
}

kind "shaft" {
  title  = "input shaft with its splines"
  serves = [joint]
  bench  = "gear row, front to rear"
}

kind "output_shaft" {
  title  = "output shaft with its splines"
  serves = [joint]
  bench  = "gear row, front to rear"
}

kind "shell" {
  title  = "drum shell or welded joint"
  serves = [joint]
  bench  = "gear row, front to rear"
}

kind "bushing" {
  title  = "bushings of shafts and drums"
  serves = [circuit, unit]
  bench  = "left in place until measured"
}

kind "thrust_washer" {
  title  = "thrust washers and bearings"
  serves = [unit]
  bench  = "on a string, front to rear, with selective thickness noted"
}

kind "park_mechanism" {
  title  = "park pawl, rod and wheel"
  serves = [unit]
  bench  = "small parts tray"
}

# Outside: to check before the unit is blamed
kind "fluid" {
  title   = "transmission fluid"
  serves  = [circuit, unit]
  outside = true
}

kind "cooler" {
  title    = "cooler and its lines"
  serves   = [unit]
  outside  = true
  collects = ["lining_in_pan", "bronze_in_pan", "steel_in_pan", "aluminum_in_pan"]
  clean    = "flush both ways and measure its flow, or replace it; its lines too"
}

kind "linkage" {
  title   = "selector cable or linkage, detent"
  serves  = [unit]
  outside = true
}

kind "engine" {
  title   = "engine"
  serves  = [unit]
  outside = true
}

kind "driveline" {
  title   = "drive shaft, axle, differential, mounts"
  serves  = [unit]
  outside = true
}

kind "wiring" {
  title   = "battery, grounds, supply, outer connector"
  serves  = [unit]
  outside = true
}

kind "controller" {
  title   = "controller with its learned values"
  serves  = [unit]
  outside = true
}

kind "input_sensor" {
  title   = "input speed sensor"
  serves  = [unit]
  outside = true
}

kind "output_sensor" {
  title   = "output speed sensor"
  serves  = [unit]
  outside = true
}

kind "range_switch" {
  title   = "range switch"
  serves  = [unit]
  outside = true
}

kind "gear_switch" {
  title   = "overdrive or mode switch"
  serves  = [shift]
  outside = true
}

kind "brake_switch" {
  title   = "brake switch"
  serves  = [unit]
  outside = true
}

kind "temperature_sensor" {
  title  = "fluid temperature sensor"
  serves = [unit]
  bench  = "solenoid rack"
}

kind "extension_housing" {
  title  = "extension housing with its bushing"
  serves = [unit]
  bench  = "gear row, rear end"
}

kind "case" {
  title  = "transmission case with its bores"
  serves = [circuit]
  bench  = "bench, on its stand"
}

kind "throttle_signal" {
  title   = "throttle or load signal"
  serves  = [circuit, unit]
  outside = true
}
