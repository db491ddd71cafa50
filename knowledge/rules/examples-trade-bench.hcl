# Linings, bands, fluid, supply told apart on the bench.
language = 1
basis "common practice" {
  note = "sentences of the trade"
}

example "low in R and D, body open, of the bores only that of the regulator fails: regulator" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["regulator_valve"]
  within = 1
  reports "gauge" {
    present = ["line_pressure_low@load/R", "line_pressure_low@load/D", "regulator_bore_leaks"]
    absent  = ["boost_bore_leaks"]
  }
}

example "low in R and D, body open, of the bores only that of the boost fails: boost valve" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["boost_valve"]
  within = 1
  reports "gauge" {
    present = ["line_pressure_low@load/R", "line_pressure_low@load/D", "boost_bore_leaks"]
    absent  = ["regulator_bore_leaks"]
  }
}

example "slips, clearance wide, fluid clean: lining worn thin" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["forward_frictions"]
  within = 1
  reports "road_test" {
    present = ["slips@D/1"]
    absent  = ["slips@R/R"]
  }
  reports "measuring_tool" {
    present = ["clearance_high@forward"]
  }
  reports "eye" {
    absent = [
      "fluid_burnt_smell",
      "lining_in_pan",
      "air_check_fails@forward_feed",
      "bench_clearance_off@forward",
    ]
  }
}

example "shudders in first, drags in reverse, slips nowhere: plates warped" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["forward_frictions"]
  within = 1
  reports "road_test" {
    present = ["shudder@D/1", "shudder@D/2", "drags@R/R"]
    absent  = ["slips@D/1", "misfire_felt"]
  }
  reports "measuring_tool" {
    absent = ["clearance_low@forward"]
  }
  reports "eye" {
    absent = ["bench_clearance_off@forward", "fluid_milky"]
  }
}

example "clearance narrow since the rebuild, a plate too many" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["direct_frictions"]
  within = 1
  reports "driver" {
    present = ["history_rebuilt"]
  }
  reports "measuring_tool" {
    present = ["clearance_low@direct"]
  }
  reports "eye" {
    present = ["bench_clearance_off@direct"]
    absent  = ["fluid_burnt_smell", "lining_in_pan"]
  }
}

example "no fourth, a strut in the pan: anchor lost" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["overdrive_band"]
  within = 1
  reports "road_test" {
    present = ["no_drive@D/4"]
    absent  = ["no_drive@R/R"]
  }
  reports "eye" {
    present = ["part_in_pan"]
    absent  = ["lining_in_pan"]
  }
  reports "measuring_tool" {
    present = ["servo_travel_high@overdrive_band"]
  }
}

example "fourth late, pin travel long, lining good: band loose" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["overdrive_band"]
  within = 1
  reports "road_test" {
    present = ["flare@D/3-4"]
    absent  = ["no_drive@D/4"]
  }
  reports "measuring_tool" {
    present = ["servo_travel_high@overdrive_band"]
  }
  reports "eye" {
    absent = ["lining_in_pan", "fluid_burnt_smell", "part_in_pan"]
  }
}

example "grinds, chips in the pan: teeth broken" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["planetary"]
  within = 1
  reports "driver" {
    present = ["grinding", "history_sudden"]
  }
  reports "road_test" {
    present = ["whine@D/1", "whine@D/2"]
    absent  = ["whine@D/3"]
  }
  reports "eye" {
    present = ["steel_in_pan"]
    absent  = ["prop_shaft_turns"]
  }
}

example "marks of a washer where none belongs" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["front_washers", "rear_washers"]
  within = 2
  reports "driver" {
    present = ["history_rebuilt"]
  }
  reports "eye" {
    present = ["washer_marks"]
  }
}

example "wrong fluid in it" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["fluid"]
  within = 1
  reports "driver" {
    present = ["history_fluid_added"]
  }
  reports "eye" {
    present = ["fluid_wrong_kind"]
    absent  = ["fluid_low", "fluid_dark"]
  }
}

example "overheated, fluid brown and burnt, pan clean: fluid oxidized" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["fluid"]
  within = 1
  reports "driver" {
    present = ["history_overheated"]
  }
  reports "eye" {
    present = ["fluid_dark", "fluid_burnt_smell", "varnish_seen"]
    absent  = ["fluid_low", "lining_in_pan"]
  }
  reports "road_test" {
    absent = ["slips@D/1", "slips@D/2", "slips@D/3", "slips@D/4", "slips@R/R"]
  }
}

example "limp mode, supply and connector good, right when driven unplugged: controller" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["controller"]
  within = 1
  reports "driver" {
    present = ["limp_mode"]
  }
  reports "road_test" {
    present = ["better_unplugged"]
  }
  reports "scan_tool" {
    present = ["tester_shifts_fail"]
    absent  = ["input_signal_bad", "output_signal_bad", "range_signal_wrong"]
  }
  reports "measuring_tool" {
    absent = [
      "charging_voltage_low",
      "ground_drop_high",
      "resistance_off@a",
      "resistance_off@b",
    ]
  }
  reports "eye" {
    absent = ["connector_bad"]
  }
}

example "early and mushy, load signal drops out" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["throttle_signal"]
  within = 1
  reports "road_test" {
    present = ["early_shift@D/1-2", "soft_shift@D/2-3"]
  }
  reports "scan_tool" {
    present = ["load_signal_wrong"]
  }
}

example "pressure low, foam, crack in the pump body" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["pump"]
  within = 1
  reports "gauge" {
    present = ["line_pressure_low@idle/D", "line_pressure_low@idle/R"]
  }
  reports "eye" {
    present = ["pump_leak_seen", "fluid_foamy"]
    absent  = ["fluid_low", "fluid_overfull"]
  }
}

example "filter closed by old fluid, no lining in it" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["filter"]
  within = 1
  reports "driver" {
    present = ["history_fluid_neglected"]
  }
  reports "eye" {
    present = ["filter_blocked_seen", "varnish_seen"]
    absent  = ["lining_in_filter", "lining_in_pan"]
  }
}

example "whine and foam since the fluid change, level good: filter seal" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["filter"]
  within = 1
  reports "driver" {
    present = ["history_fluid_changed", "whine_in_neutral"]
  }
  reports "eye" {
    present = ["fluid_foamy"]
    absent = [
      "fluid_low",
      "fluid_overfull",
      "filter_blocked_seen",
      "lining_in_filter",
      "pump_leak_seen",
    ]
  }
  reports "gauge" {
    present = ["line_pressure_low@idle/D:cold"]
  }
}

example "pressure low cold and hot, a valve hangs, bores good" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["regulator_valve"]
  within = 3
  reports "gauge" {
    present = ["line_pressure_low@idle/D:cold", "line_pressure_low@idle/R:cold"]
    absent  = ["valve_bore_leaks"]
  }
  reports "eye" {
    present = ["valve_sticks"]
    absent  = ["fluid_low", "fluid_foamy"]
  }
  reports "measuring_tool" {
    absent = ["solenoid_flow_off@pressure_control"]
  }
  reports "scan_tool" {
    absent = ["load_signal_wrong"]
  }
}

example "too little end play: the selective washer" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["front_washers", "rear_washers"]
  within = 2
  reports "driver" {
    present = ["history_rebuilt"]
  }
  reports "measuring_tool" {
    present = ["end_play_low"]
  }
}

example "marks of a washer where none belongs, end play high" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["front_washers", "rear_washers"]
  within = 2
  reports "driver" {
    present = ["history_rebuilt"]
  }
  reports "eye" {
    present = ["washer_marks"]
    absent  = ["bronze_in_pan"]
  }
  reports "measuring_tool" {
    present = ["end_play_high"]
  }
}
