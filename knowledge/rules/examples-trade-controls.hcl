# Controls, converter clutch and solenoids told apart by what is measured.
language = 1
basis "common practice" {
  note = "sentences of the trade"
}

example "shifts late hot only: governor rings" {
  unit   = "harrow-3"
  cite   = "common practice of the trade"
  expect = ["governor"]
  within = 1
  reports "road_test" {
    present = ["late_shift@D/1-2:hot", "late_shift@D/2-3:hot"]
    absent  = ["late_shift@D/1-2:cold", "harsh_shift@D/1-2"]
  }
}

example "shifts up too early, pressure good: governor stuck out" {
  unit   = "harrow-3"
  cite   = "common practice of the trade"
  expect = ["governor"]
  within = 1
  reports "road_test" {
    present = ["early_shift@D/1-2", "early_shift@D/2-3"]
    absent  = ["soft_shift@D/1-2", "soft_shift@D/2-3"]
  }
  reports "eye" {
    absent = ["throttle_cable_off"]
  }
  reports "gauge" {
    absent = ["line_pressure_low@idle/D"]
  }
}

example "late, harsh, rod out of adjustment: throttle valve" {
  unit   = "harrow-3"
  cite   = "common practice of the trade"
  expect = ["throttle_valve"]
  within = 1
  reports "road_test" {
    present = ["late_shift@D/1-2", "harsh_shift@D/1-2"]
    absent  = ["early_shift@D/1-2"]
  }
  reports "eye" {
    present = ["throttle_cable_off"]
  }
}

example "late, harsh, fluid in the hose, blue smoke: modulator" {
  unit   = "harrow-3-heavy"
  cite   = "common practice of the trade"
  expect = ["vacuum_modulator"]
  within = 1
  reports "road_test" {
    present = ["late_shift@D/1-2", "harsh_shift@D/2-3"]
  }
  reports "driver" {
    present = ["engine_smokes"]
  }
  reports "eye" {
    present = ["modulator_hose_wet"]
  }
}

example "rattle, aluminum from the hub, flexplate whole: fins broken" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["converter"]
  within = 1
  reports "driver" {
    present = ["rattle_at_idle"]
  }
  reports "eye" {
    present = ["aluminum_in_pan", "steel_in_pan"]
    absent  = ["flexplate_crack_seen", "lining_in_pan"]
  }
  reports "part_in_hand" {
    present = ["converter_debris"]
    absent  = ["stator_turns_both_ways"]
  }
}

example "front seal wet, hub scored: converter hub" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["converter"]
  within = 1
  reports "eye" {
    present = ["front_seal_wet", "hub_scored"]
  }
  reports "measuring_tool" {
    present = ["runout_high"]
    absent  = ["pump_bushing_loose"]
  }
}

example "converter clutch dead, O-ring of the shaft cut" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["lockup_clutch"]
  within = 1
  reports "scan_tool" {
    present = ["code_P0741"]
  }
  reports "eye" {
    present = ["shaft_oring_cut"]
  }
  reports "gauge" {
    absent = ["valve_bore_leaks"]
  }
  reports "part_in_hand" {
    absent = ["converter_debris"]
  }
}

example "stalls when it stops, converter clutch stays on, valve and solenoid good" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["lockup_clutch"]
  within = 1
  reports "driver" {
    present = ["engine_stalls_at_stop"]
  }
  reports "road_test" {
    present = ["lockup_stays_on@D/1"]
  }
  reports "eye" {
    absent = ["valve_sticks"]
  }
  reports "measuring_tool" {
    absent = ["solenoid_flow_off@lockup_control"]
  }
}

example "converter clutch never on, valve sticks" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["lockup_valve"]
  within = 1
  reports "road_test" {
    present = ["no_lockup@D/3", "no_lockup@D/4"]
  }
  reports "eye" {
    present = ["valve_sticks"]
  }
  reports "measuring_tool" {
    absent = ["solenoid_flow_off@lockup_control", "resistance_off@lockup_control"]
  }
}

example "stalls when it stops, valve sticks" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["lockup_valve"]
  within = 1
  reports "driver" {
    present = ["engine_stalls_at_stop"]
  }
  reports "road_test" {
    present = ["lockup_stays_on@D/1"]
  }
  reports "eye" {
    present = ["valve_sticks"]
  }
  reports "measuring_tool" {
    absent = ["solenoid_flow_off@lockup_control"]
  }
}

example "coil of A good cold, open hot" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["solenoid_a"]
  within = 1
  reports "measuring_tool" {
    present = ["resistance_off@a:hot"]
    absent  = ["resistance_off@a:cold"]
  }
  reports "driver" {
    present = ["light_on", "key_off_cures"]
  }
}

example "pressure coil good cold, open hot" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["pressure_solenoid"]
  within = 1
  reports "measuring_tool" {
    present = ["resistance_off@pressure_control:hot"]
    absent  = ["resistance_off@pressure_control:cold"]
  }
  reports "gauge" {
    present = ["line_pressure_high@idle/D:hot"]
    absent  = ["line_pressure_high@idle/D:cold"]
  }
}

example "converter clutch coil good cold, open hot" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["lockup_solenoid"]
  within = 1
  reports "measuring_tool" {
    present = ["resistance_off@lockup_control:hot"]
    absent  = ["resistance_off@lockup_control:cold"]
  }
  reports "road_test" {
    present = ["no_lockup@D/4:hot"]
  }
}

example "pressure high, coil good, solenoid passes no air: stuck" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["pressure_solenoid"]
  within = 1
  reports "gauge" {
    present = ["line_pressure_high@idle/D", "line_pressure_high@idle/R"]
  }
  reports "measuring_tool" {
    present = ["solenoid_flow_off@pressure_control"]
    absent  = ["resistance_off@pressure_control"]
  }
  reports "scan_tool" {
    absent = ["load_signal_wrong"]
  }
}

example "pressure low cold and hot, solenoid passes air without current: stuck" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["pressure_solenoid"]
  within = 1
  reports "gauge" {
    present = ["line_pressure_low@idle/D:cold", "line_pressure_low@idle/R:cold"]
  }
  reports "measuring_tool" {
    present = ["solenoid_flow_off@pressure_control"]
    absent  = ["resistance_off@pressure_control", "pump_clearance_wide"]
  }
  reports "eye" {
    absent = ["fluid_low"]
  }
}

example "pressure low hot only, solenoid leaks" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["pressure_solenoid"]
  within = 1
  reports "gauge" {
    present = ["line_pressure_low@idle/D:hot", "line_pressure_low@idle/R:hot"]
    absent = [
      "line_pressure_low@idle/D:cold",
      "line_pressure_low@idle/R:cold",
      "valve_bore_leaks",
    ]
  }
  reports "measuring_tool" {
    present = ["solenoid_flow_off@pressure_control"]
    absent  = ["pump_clearance_wide"]
  }
  reports "scan_tool" {
    present = ["code_P0746"]
  }
  reports "eye" {
    absent = ["fluid_low"]
  }
}

example "converter clutch never on, solenoid passes no air" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["lockup_solenoid"]
  within = 1
  reports "road_test" {
    present = ["no_lockup@D/3", "no_lockup@D/4"]
  }
  reports "measuring_tool" {
    present = ["solenoid_flow_off@lockup_control"]
    absent  = ["resistance_off@lockup_control"]
  }
}

example "converter clutch stays on, solenoid passes air always" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["lockup_solenoid"]
  within = 1
  reports "road_test" {
    present = ["lockup_stays_on@D/1", "lockup_stays_on@D/2"]
  }
  reports "measuring_tool" {
    present = ["solenoid_flow_off@lockup_control"]
    absent  = ["resistance_off@lockup_control"]
  }
  reports "eye" {
    absent = ["valve_sticks"]
  }
}

example "converter clutch slips hot, solenoid leaks" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["lockup_solenoid"]
  within = 1
  reports "scan_tool" {
    present = ["lockup_slip@D/4:hot"]
    absent  = ["lockup_slip@D/4:cold"]
  }
  reports "measuring_tool" {
    present = ["solenoid_flow_off@lockup_control"]
    absent  = ["resistance_off@lockup_control"]
  }
  reports "gauge" {
    absent = ["valve_bore_leaks"]
  }
}
