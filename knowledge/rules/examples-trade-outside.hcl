# Not the transmission: what to find before it is pulled.
language = 1
basis "common practice" {
  note = "sentences of the trade"
}

example "limp mode, cured by the key, charging voltage low: supply" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["wiring"]
  within = 1
  reports "driver" {
    present = ["limp_mode", "key_off_cures"]
    absent  = ["no_drive@R/R"]
  }
  reports "measuring_tool" {
    present = ["charging_voltage_low", "ground_drop_high"]
    absent  = ["resistance_off@a", "resistance_off@b"]
  }
}

example "limp mode, pins of the connector green" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["wiring"]
  within = 1
  reports "driver" {
    present = ["limp_mode", "light_on"]
  }
  reports "eye" {
    present = ["connector_bad"]
  }
}

example "every solenoid reads open at the case connector: inner harness" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["inner_harness"]
  within = 1
  reports "driver" {
    present = ["limp_mode"]
  }
  reports "measuring_tool" {
    present = ["resistance_off@a", "resistance_off@b", "resistance_off@lockup_control"]
    absent  = ["charging_voltage_low"]
  }
  reports "eye" {
    absent = ["connector_bad"]
  }
}

example "speedometer jumps, P0720: output sensor" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["output_sensor"]
  within = 1
  reports "driver" {
    present = ["speedometer_dead"]
  }
  reports "scan_tool" {
    present = ["code_P0720", "output_signal_bad"]
  }
}

example "input signal jumps, P0715: input sensor" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["input_sensor"]
  within = 1
  reports "scan_tool" {
    present = ["code_P0715", "input_signal_bad"]
  }
}

example "no start in P, P0705: range switch" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["range_switch"]
  within = 1
  reports "driver" {
    present = ["no_start_in_park"]
  }
  reports "scan_tool" {
    present = ["code_P0705", "range_signal_wrong"]
  }
  reports "eye" {
    absent = ["selector_off"]
  }
}

example "late and harsh everywhere, load signal high" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["throttle_signal"]
  within = 1
  reports "driver" {
    present = ["late_shift@D/1-2", "harsh_shift@D/1-2", "harsh_shift@D/2-3"]
  }
  reports "scan_tool" {
    present = ["load_signal_wrong"]
  }
}

example "harsh everywhere since the battery, adaptations at start values: controller not relearned" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["controller"]
  within = 1
  reports "driver" {
    present = ["harsh_shift@D/1-2", "harsh_shift@D/2-3", "history_battery_off"]
  }
  reports "scan_tool" {
    present = ["adaptations_reset"]
    absent  = ["load_signal_wrong"]
  }
}

example "new tires, speeds disagree: controller data" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["controller"]
  within = 1
  reports "driver" {
    present = ["history_tires"]
  }
  reports "scan_tool" {
    present = ["ratio_disagrees"]
  }
}

example "creeps a little in N, detents do not meet: linkage" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["linkage"]
  within = 1
  reports "driver" {
    present = ["creeps@N/N"]
    absent  = ["ties_up@R/R"]
  }
  reports "eye" {
    present = ["selector_off"]
  }
}

example "runs hot, cooler flow low: cooler" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["cooler"]
  within = 1
  reports "driver" {
    present = ["runs_hot"]
    absent  = ["poor_top_speed"]
  }
  reports "gauge" {
    present = ["cooler_flow_low"]
  }
}

example "milky fluid, oil in the coolant: cooler" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["cooler", "fluid"]
  within = 2
  reports "eye" {
    present = ["fluid_milky", "oil_in_coolant"]
  }
}

example "clunk on and off the pedal, play underneath: driveline" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["driveline"]
  within = 1
  reports "driver" {
    present = ["clunk"]
  }
  reports "eye" {
    present = ["driveline_play"]
  }
}

example "foam, oil out of the filler: overfilled" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["fluid"]
  within = 1
  reports "eye" {
    present = ["fluid_foamy", "fluid_overfull", "pushes_oil_out"]
    absent  = ["fluid_low"]
  }
}

example "spots on the floor, outside wet, level good: outer seals" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["outer_seals", "front_seal"]
  within = 2
  reports "driver" {
    present = ["history_oil_spots"]
  }
  reports "eye" {
    present = ["leak_outside"]
    absent  = ["fluid_low"]
  }
}

example "shudders pulling away, forward and back: look underneath" {
  unit   = "harrow-3"
  cite   = "common practice of the trade"
  expect = ["driveline"]
  within = 2
  reports "driver" {
    present = ["shudder@D/1", "shudder@R/R"]
  }
}
