# Pressures, air checks, electrical checks, scan data, flow.
language = 1
basis "recalled" {
  note = "signs follow common practice; leaks are of the right size only"
}

finding "line_pressure_low" {
  per          = pressure
  title        = "line pressure low at {place}"
  stage        = gauges
  reporter     = "gauge"
  leak         = 0.003
  reading      = "line_pressure"
  reading_side = "low"
  reading_is   = pressure
  sign "low" {
    strength = 0.9
  }
  sign "leak_fed" {
    strength = fifty_fifty
  }
}

finding "line_pressure_high" {
  per          = pressure
  title        = "line pressure high at {place}"
  stage        = gauges
  reporter     = "gauge"
  leak         = 0.003
  reading      = "line_pressure"
  reading_side = "high"
  reading_is   = pressure
  sign "high" {
    strength = 0.9
  }
}

finding "circuit_pressure_low" {
  per      = circuit
  title    = "pressure low at the tap of {place}"
  stage    = gauges
  reporter = "gauge"
  leak     = 0.003
  note     = "only where the unit has a tap"
  sign "leaks" {
    strength = 0.7
  }
  sign "low" {
    strength = 0.9
  }
  sign "restricted" {
    strength = improbable
  }
}

finding "circuit_pressure_high" {
  per      = circuit
  title    = "pressure at the tap of {place} where it should have none"
  stage    = gauges
  reporter = "gauge"
  leak     = 0.002
  note     = "only where the unit has a tap"
  sign "cross_fed" {
    strength = 0.85
  }
}

finding "air_check_fails" {
  per      = circuit
  title    = "no thud, or a hiss, at the air check of {place}"
  stage    = in_vehicle
  reporter = "eye"
  leak     = 0.006
  note     = "a pass is weak: it says nothing about lining, clearance or leaks that need heat or rotation; hiss through an unseated check ball is normal"
  sign "leaks" {
    strength = 0.7
  }
  sign "restricted" {
    strength = uncertain
  }
}

finding "adaptation_at_limit" {
  per      = element
  title    = "adaptation at its limit for {place}"
  stage    = gauges
  reporter = "scan_tool"
  leak     = 0.002
  sign "slips" {
    strength = 0.8
  }
  sign "applies_late" {
    strength = 0.7
  }
  sign "leak_fed" {
    strength = 0.6
  }
  sign "dead" {
    strength = fifty_fifty
  }
}

finding "resistance_off" {
  per          = solenoid
  title        = "resistance out of limits at {place}"
  stage        = gauges
  reporter     = "measuring_tool"
  leak         = 0.002
  note         = "state the temperature: 20 ohm cold is about 26 ohm at 100 degC and good"
  reading      = "resistance"
  reading_side = "either"
  reading_is   = resistance
}

finding "no_click" {
  per      = solenoid
  title    = "no click at {place}"
  stage    = gauges
  reporter = "eye"
  leak     = 0.01
  sign "stuck_off" {
    strength = 0.3
  }
  sign "stuck_on" {
    strength = improbable
  }
}

finding "solenoid_flow_off" {
  per      = solenoid
  title    = "passes or holds air when it should not at {place}"
  stage    = teardown
  reporter = "measuring_tool"
  leak     = 0.005
  sign "weak" {
    strength = 0.3
  }
}

# Electrical and scan findings of the whole vehicle
finding "charging_voltage_low" {
  title        = "charging voltage low"
  stage        = gauges
  reporter     = "measuring_tool"
  leak         = 0.006
  reading      = "charging_voltage"
  reading_side = "low"
  reading_is   = voltage
}

finding "ground_drop_high" {
  title        = "voltage drop of supply or ground too high under load"
  stage        = gauges
  reporter     = "measuring_tool"
  leak         = 0.004
  reading      = "ground_drop"
  reading_side = "high"
  reading_is   = voltage
}

finding "connector_bad" {
  title    = "pins of the outer connector wet, green or spread"
  stage    = gauges
  reporter = "eye"
  leak     = 0.01
}

finding "several_codes" {
  title    = "codes in several modules at once"
  stage    = gauges
  reporter = "scan_tool"
  leak     = 0.02
}

finding "input_signal_bad" {
  title    = "input speed signal missing or erratic"
  stage    = gauges
  reporter = "scan_tool"
  leak     = 0.003
}

finding "output_signal_bad" {
  title    = "output speed signal missing or erratic"
  stage    = gauges
  reporter = "scan_tool"
  leak     = 0.003
}

finding "range_signal_wrong" {
  title    = "range signal does not follow the selector"
  stage    = gauges
  reporter = "scan_tool"
  leak     = 0.003
}

finding "load_signal_wrong" {
  title    = "load or throttle signal does not follow the pedal"
  stage    = gauges
  reporter = "scan_tool"
  leak     = 0.003
}

finding "adaptations_reset" {
  title    = "adaptations back at their start values"
  stage    = gauges
  reporter = "scan_tool"
  leak     = 0.02
}

finding "ratio_disagrees" {
  title    = "road speed and shaft speed do not agree with tires and axle"
  stage    = gauges
  reporter = "scan_tool"
  leak     = 0.004
}

finding "tester_shifts_fail" {
  title    = "shifts commanded by scan tool do not happen"
  stage    = gauges
  reporter = "scan_tool"
  leak     = 0.05
}

finding "better_unplugged" {
  title    = "gears selected by hand are right with the case connector unplugged"
  stage    = gauges
  reporter = "road_test"
  leak     = 0.03
}

finding "exhaust_blocked" {
  title    = "exhaust back pressure high"
  stage    = gauges
  reporter = "gauge"
  leak     = 0.004
}

finding "engine_weak_everywhere" {
  title    = "engine lacks power at every speed"
  stage    = gauges
  reporter = "road_test"
  leak     = 0.006
}

finding "modulator_hose_wet" {
  title    = "transmission fluid in the modulator hose"
  stage    = gauges
  reporter = "eye"
  leak     = 0.002
}

finding "throttle_cable_off" {
  title    = "throttle (TV) cable or linkage out of adjustment"
  stage    = gauges
  reporter = "eye"
  leak     = 0.006
}

finding "selector_off" {
  title    = "shift lever and transmission detents do not line up"
  stage    = gauges
  reporter = "eye"
  leak     = 0.01
}

finding "no_pressure_anywhere" {
  title    = "no line pressure in any range"
  stage    = gauges
  reporter = "gauge"
  leak     = 0.0005
  hides    = ["line_pressure_low", "line_pressure_high", "circuit_pressure_low", "circuit_pressure_high"]
}

finding "cooler_flow_low" {
  title        = "cooler flow low"
  stage        = gauges
  reporter     = "gauge"
  leak         = 0.006
  reading      = "cooler_flow"
  reading_side = "low"
  reading_is   = volume
}

finding "cooler_debris" {
  title    = "debris in the cooler or its return line"
  stage    = gauges
  reporter = "eye"
  leak     = 0.008
}

finding "idle_high" {
  title    = "engine idles above the maker's figure"
  stage    = gauges
  reporter = "measuring_tool"
  leak     = 0.01
}

finding "brake_signal_wrong" {
  title    = "brake switch signal does not follow the pedal"
  stage    = gauges
  reporter = "scan_tool"
  leak     = 0.003
}

finding "temperature_signal_wrong" {
  title    = "fluid temperature signal wrong: not at ambient when cold, or not rising"
  stage    = gauges
  reporter = "scan_tool"
  leak     = 0.003
}

finding "not_commanded" {
  per      = shift
  title    = "shift {place} never commanded by the controller"
  stage    = gauges
  reporter = "scan_tool"
  leak     = 0.004
  note     = "what was never commanded cannot be judged"
}

finding "lockup_not_commanded" {
  title    = "converter clutch never commanded on"
  stage    = gauges
  reporter = "scan_tool"
  leak     = 0.01
}

finding "modulator_vacuum_low" {
  title    = "no vacuum, or too little, at the modulator hose"
  stage    = gauges
  reporter = "gauge"
  leak     = 0.006
}

finding "governor_pressure_off" {
  title    = "governor pressure does not rise with road speed as it should"
  stage    = gauges
  reporter = "gauge"
  leak     = 0.004
}
