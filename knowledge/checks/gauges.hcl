# Scan tool, gauges, electrical checks: before anything comes off.
language = 1
basis "invented" {
  note = "minutes are invented but of the right size"
}

check "scan_codes" {
  title    = "codes of all modules, with freeze frame"
  stage    = gauges
  minutes  = 6
  reporter = "scan_tool"
  only     = ["electronic", "adaptive"]
  yields = [
    "code_P0700",
    "code_P0705",
    "code_P0715",
    "code_P0720",
    "code_P0730",
    "code_P0731",
    "code_P0732",
    "code_P0733",
    "code_P0734",
    "code_P0736",
    "code_P0740",
    "code_P0741",
    "code_P0742",
    "code_P0745",
    "code_P0746",
    "code_P0747",
    "code_P0750",
    "code_P0751",
    "code_P0752",
    "code_P0753",
    "code_P0755",
    "code_P0756",
    "code_P0757",
    "code_P0758",
    "code_P0218",
    "code_P0500",
    "code_P0562",
    "code_P0710",
    "code_P0711",
    "code_P0712",
    "code_P0713",
    "code_P0716",
    "code_P0717",
    "code_P0721",
    "code_P0722",
    "code_P0729",
    "code_P0735",
    "code_P0743",
    "code_P0744",
    "code_P0748",
    "code_P0749",
    "code_P0760",
    "code_P0761",
    "code_P0763",
    "code_P0776",
    "code_P0777",
    "code_P0894",
    "code_U0100",
    "code_P0703",
    "code_P0719",
    "code_P0724",
    "code_P0300",
    "several_codes",
  ]
  cautions = ["scan_parked"]
  before   = ["pull_unit"]
  why      = "a code says that a monitored test failed, not which part is bad; a dead battery erases it"
}

check "scan_ratio" {
  title    = "commanded and computed ratio in each gear"
  stage    = gauges
  minutes  = 10
  reporter = "scan_tool"
  only     = ["electronic", "adaptive"]
  yields   = ["ratio_off@*", "ratio_disagrees"]
  cautions = ["road_test", "scan_parked"]
  why      = "sees slip that adaptive controls hide"
}

check "scan_slip" {
  title    = "converter slip at steady speed"
  stage    = gauges
  minutes  = 8
  reporter = "scan_tool"
  only     = ["electronic", "adaptive"]
  yields   = ["lockup_slip@*"]
  cautions = ["road_test"]
  why      = "slip in rpm while the converter clutch is commanded on"
}

check "scan_adaptations" {
  title    = "adaptations and their limits"
  stage    = gauges
  minutes  = 6
  reporter = "scan_tool"
  only     = ["electronic", "adaptive"]
  yields   = ["adaptation_at_limit@*", "adaptations_reset"]
  cautions = ["scan_parked"]
  before   = ["pull_unit"]
  why      = "an adaptation at its limit is slip that the driver cannot feel"
}

check "scan_signals" {
  title    = "live signals: speeds, range, load, brake switch, fluid temperature"
  stage    = gauges
  minutes  = 10
  reporter = "scan_tool"
  only     = ["electronic", "adaptive"]
  yields = [
    "input_signal_bad",
    "output_signal_bad",
    "range_signal_wrong",
    "load_signal_wrong",
    "brake_signal_wrong",
    "temperature_signal_wrong",
  ]
  cautions = ["running_vehicle"]
  why      = "a dropout in a signal makes a perfect transmission shift badly"
}

check "scan_commands" {
  title    = "commanded gear and converter clutch, and what is really on"
  stage    = gauges
  minutes  = 6
  reporter = "scan_tool"
  only     = ["electronic", "adaptive"]
  yields   = ["not_commanded@*", "lockup_not_commanded"]
  cautions = ["road_test"]
  why      = "a gear that was never commanded cannot be judged"
}

check "tester_shifts" {
  title    = "shifts commanded by scan tool"
  stage    = gauges
  minutes  = 8
  reporter = "scan_tool"
  only     = ["electronic", "adaptive"]
  yields   = ["tester_shifts_fail"]
  cautions = ["road_test"]
  why      = "shifts that happen on command clear valves and clutches"
}

check "line_pressure_idle" {
  title    = "line pressure in every range, at idle and loaded"
  stage    = gauges
  minutes  = 20
  reporter = "gauge"
  yields   = ["line_pressure_low@*", "line_pressure_high@*", "no_pressure_anywhere"]
  cautions = ["pressure_gauge", "running_vehicle", "hot_fluid"]
  why      = "comparing ranges finds the leaking circuit; low everywhere is supply"
  unless   = ["low_fluid"]
}

check "line_pressure_hot" {
  title    = "line pressure again hot"
  stage    = gauges
  minutes  = 15
  reporter = "gauge"
  yields   = ["line_pressure_low@*:hot"]
  cautions = ["pressure_gauge", "running_vehicle", "hot_fluid"]
  why      = "some leaks show only when hot"
  unless   = ["low_fluid"]
}

check "circuit_pressure" {
  title    = "pressure at the taps of single circuits"
  stage    = gauges
  minutes  = 15
  reporter = "gauge"
  yields   = ["circuit_pressure_low@*", "circuit_pressure_high@*"]
  cautions = ["pressure_gauge", "running_vehicle", "hot_fluid"]
  why      = "a drop against line pressure finds the circuit"
}

check "stall_test" {
  title    = "stall speed in D, R and the low range"
  stage    = gauges
  minutes  = 12
  reporter = "scan_tool"
  only     = ["hydraulic", "electronic"]
  yields = [
    "stall_high@D/1",
    "stall_high@R/R",
    "stall_high@L/1",
    "stall_low@D/1",
    "stall_low@R/R",
    "stall_low@L/1",
  ]
  cautions = ["stall_test", "running_vehicle"]
  why      = "high points to slip, a third low to a freewheeling stator or the engine; adaptive controls limit torque, so there it means nothing"
  unless   = ["low_fluid"]
  withheld {
    if     = "line_pressure_low@*"
    reason = "no stall test with low line pressure (several service manuals)"
  }
  withheld {
    if     = "slips@*"
    reason = "it slips: a stall test would burn what is left and show nothing new"
  }
  withheld {
    if     = "fluid_burnt_smell"
    reason = "burnt fluid: a lining is already going"
  }
  withheld {
    if     = "lining_in_pan"
    reason = "lining in the pan: a clutch is already going"
  }
  withheld {
    if     = "adaptation_at_limit@*"
    reason = "an adaptation at its limit is slip"
  }
  withheld {
    if     = "no_pressure_anywhere"
    reason = "no stall test without line pressure"
  }
  withheld {
    if     = "limp_mode"
    reason = "in limp mode the controller limits torque: the speed would mean nothing"
  }
  withheld {
    if     = "fluid_milky"
    reason = "not with water in the fluid"
  }
  withheld {
    if     = "flexplate_crack_seen"
    reason = "not with a cracked flexplate"
  }
  withheld {
    if     = "driveline_play"
    reason = "not with a driveline that may let go"
  }
}

check "cooler_flow" {
  title    = "cooler flow and debris"
  stage    = gauges
  minutes  = 12
  reporter = "gauge"
  yields   = ["cooler_flow_low", "cooler_debris"]
  cautions = ["running_vehicle", "hot_fluid"]
  before   = ["pull_unit"]
  why      = "about 1 L in 20 to 30 s (common practice), or the maker's figure; needs the unit running, so do it before pulling"
  unless   = ["low_fluid"]
}

check "charging_voltage" {
  title    = "charging voltage, loaded"
  stage    = gauges
  minutes  = 5
  reporter = "measuring_tool"
  yields   = ["charging_voltage_low"]
  cautions = ["battery", "running_vehicle"]
  why      = "low voltage sets solenoid codes"
}

check "ground_drop" {
  title    = "voltage drop of supply and grounds under load"
  stage    = gauges
  minutes  = 10
  reporter = "measuring_tool"
  yields   = ["ground_drop_high"]
  cautions = ["battery"]
  why      = "under load, not with an ohmmeter"
}

check "solenoid_resistance" {
  title    = "resistance of each solenoid at the connector"
  stage    = gauges
  minutes  = 8
  reporter = "measuring_tool"
  yields   = ["resistance_off@*"]
  cautions = ["electric_test"]
  why      = "coil resistance rises about 0.4 percent per degree C (physics of copper): 20 ohm cold reads about 26 ohm at 100 degC and is good"
}

check "solenoid_resistance_hot" {
  title    = "resistance of each solenoid again, hot"
  stage    = gauges
  minutes  = 10
  reporter = "measuring_tool"
  yields   = ["resistance_off@*:hot"]
  cautions = ["electric_test", "hot_fluid"]
  why      = "a coil may open only hot"
}

check "connector_look" {
  title    = "outer connector: pins, fluid, chafed wires"
  stage    = gauges
  minutes  = 8
  reporter = "eye"
  yields   = ["connector_bad"]
  cautions = ["battery"]
  why      = "the cheapest cause of a solenoid code"
}

check "engine_check" {
  title    = "misfire count, power, idle speed"
  stage    = gauges
  minutes  = 12
  reporter = "scan_tool"
  yields   = ["misfire_felt", "engine_weak_everywhere", "idle_high"]
  cautions = ["running_vehicle", "exhaust_gas"]
  why      = "it could be the engine"
}

check "exhaust_check" {
  title    = "exhaust back pressure"
  stage    = gauges
  minutes  = 12
  reporter = "gauge"
  yields   = ["exhaust_blocked"]
  cautions = ["running_vehicle", "exhaust_gas", "hot_fluid"]
  why      = "a blocked exhaust feels like a slipping converter"
}

check "governor_pressure" {
  title    = "governor pressure at two road speeds"
  stage    = gauges
  minutes  = 20
  reporter = "gauge"
  yields   = ["governor_pressure_off"]
  cautions = ["road_test", "hot_fluid", "running_vehicle"]
  why      = "tells governor trouble from shift valve trouble"
}

check "modulator_look" {
  title    = "modulator hose and diaphragm"
  stage    = gauges
  minutes  = 4
  reporter = "eye"
  yields   = ["modulator_hose_wet", "modulator_vacuum_low"]
  cautions = ["running_vehicle"]
  why      = "fluid in the hose means a torn diaphragm; no vacuum at the hose clears the diaphragm and points to the hose"
}
