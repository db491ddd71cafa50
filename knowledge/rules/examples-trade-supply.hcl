# What builders conclude from pressure, converter, noise and feel.
language = 1
basis "common practice" {
  note = "sentences of the trade"
}

example "low in every range, worse hot, whine in P: pump" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["pump"]
  within = 1
  reports "gauge" {
    present = [
      "line_pressure_low@idle/D:hot",
      "line_pressure_low@idle/R:hot",
      "line_pressure_low@load/D:hot",
    ]
  }
  reports "driver" {
    present = ["whine_in_neutral"]
  }
  reports "eye" {
    present = ["aluminum_in_pan"]
    absent  = ["fluid_low", "fluid_foamy"]
  }
  reports "measuring_tool" {
    present = ["pump_clearance_wide"]
  }
}

example "no pressure anywhere, no drive, sudden: pump drive" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["pump"]
  within = 1
  reports "gauge" {
    present = ["no_pressure_anywhere", "line_pressure_low@idle/D", "line_pressure_low@idle/R"]
  }
  reports "driver" {
    present = ["no_drive@D/1", "no_drive@R/R", "history_sudden"]
  }
  reports "eye" {
    absent = ["fluid_low", "prop_shaft_turns"]
  }
}

example "no drive anywhere, drive shaft turns: driveline" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["driveline"]
  within = 1
  reports "driver" {
    present = ["no_drive@D/1", "no_drive@R/R"]
  }
  reports "eye" {
    present = ["prop_shaft_turns"]
    absent  = ["fluid_low"]
  }
}

example "all ranges low, bore fails the vacuum test" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["regulator_valve", "boost_valve"]
  within = 4
  reports "gauge" {
    present = [
      "line_pressure_low@idle/D:hot",
      "line_pressure_low@idle/R:hot",
      "valve_bore_leaks",
    ]
  }
  reports "eye" {
    absent = ["fluid_low", "fluid_foamy"]
  }
  reports "measuring_tool" {
    absent = ["pump_clearance_wide", "solenoid_flow_off@pressure_control"]
  }
}

example "high in every range, load signal and solenoid good: regulator or boost" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["regulator_valve", "boost_valve"]
  within = 3
  reports "gauge" {
    present = [
      "line_pressure_high@idle/D",
      "line_pressure_high@idle/R",
      "line_pressure_high@load/D",
    ]
  }
  reports "scan_tool" {
    absent = ["load_signal_wrong"]
  }
  reports "measuring_tool" {
    absent = ["resistance_off@pressure_control", "solenoid_flow_off@pressure_control"]
  }
  reports "eye" {
    present = ["valve_sticks"]
  }
}

example "works ten minutes, whines, then slips; good after a rest: filter" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["filter"]
  within = 1
  reports "driver" {
    present = ["slips_after_minutes", "whine_in_neutral"]
  }
  reports "eye" {
    present = ["filter_blocked_seen"]
    absent  = ["fluid_low"]
  }
}

example "slips in bends, late into D and R, level low: fluid" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["fluid"]
  within = 1
  reports "driver" {
    present = ["slips_in_bends", "late_engagement@D", "late_engagement@R", "history_oil_spots"]
  }
  reports "eye" {
    present = ["fluid_low"]
  }
}

example "late everywhere after a night only: converter drains back" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["converter"]
  within = 1
  reports "driver" {
    present = ["late_engagement@D:after_standing", "late_engagement@R:after_standing"]
    absent  = ["late_engagement@D:cold"]
  }
  reports "eye" {
    present = ["level_rises_overnight"]
    absent  = ["fluid_low"]
  }
}

example "low stall, weak launch, good cruise: stator free" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["converter"]
  within = 1
  reports "driver" {
    present = ["weak_launch@D/1", "weak_launch@R/R"]
    absent  = ["poor_top_speed"]
  }
  reports "scan_tool" {
    present = ["stall_low@D/1", "stall_low@R/R"]
  }
  reports "road_test" {
    absent = ["engine_weak_everywhere"]
  }
}

example "low stall and weak at every speed: engine" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["engine"]
  within = 1
  reports "driver" {
    present = ["weak_launch@D/1"]
  }
  reports "scan_tool" {
    present = ["stall_low@D/1", "stall_low@R/R"]
  }
  reports "road_test" {
    present = ["engine_weak_everywhere"]
  }
}

example "poor top speed, hot, stall normal: stator locked" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["converter"]
  within = 1
  reports "driver" {
    present = ["poor_top_speed", "runs_hot"]
    absent  = ["weak_launch@D/1"]
  }
  reports "scan_tool" {
    absent = ["stall_low@D/1"]
  }
  reports "gauge" {
    absent = ["cooler_flow_low", "exhaust_blocked"]
  }
}

example "shudder at light pedal goes with the brake pedal: converter clutch" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["lockup_clutch"]
  within = 1
  reports "driver" {
    present = ["shudder@D/4"]
  }
  reports "road_test" {
    present = ["shudder_gone_at_brake"]
    absent  = ["misfire_felt"]
  }
}

example "shudder stays at a touch of the brake, misfire in neutral: engine" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["engine"]
  within = 1
  reports "driver" {
    present = ["shudder@D/4", "shudder@D/3"]
  }
  reports "road_test" {
    present = ["misfire_felt"]
    absent  = ["shudder_gone_at_brake"]
  }
}

example "converter slip with lining from the hub: converter clutch" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["lockup_clutch"]
  within = 1
  reports "scan_tool" {
    present = ["lockup_slip@D/3", "lockup_slip@D/4", "code_P0741"]
  }
  reports "part_in_hand" {
    present = ["converter_debris"]
  }
  reports "gauge" {
    absent = ["valve_bore_leaks"]
  }
}

example "P0741 hot, bore fails the vacuum test: converter clutch valve" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["lockup_valve"]
  within = 1
  reports "scan_tool" {
    present = ["code_P0741", "lockup_slip@D/4:hot"]
  }
  reports "gauge" {
    present = ["valve_bore_leaks"]
  }
  reports "part_in_hand" {
    absent = ["converter_debris"]
  }
  reports "measuring_tool" {
    absent = ["solenoid_flow_off@lockup_control"]
  }
}

example "whine in first, second and fourth, gone in third: gear set" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["planetary"]
  within = 1
  reports "road_test" {
    present = ["whine@D/1", "whine@D/2", "whine@D/4"]
    absent  = ["whine@D/3", "whine_in_neutral"]
  }
}

example "harsh 1-2 only: accumulator" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["accumulator_1_2"]
  within = 1
  reports "driver" {
    present = ["harsh_shift@D/1-2"]
    absent  = ["harsh_shift@D/2-3", "harsh_shift@D/3-4", "harsh_engagement@D"]
  }
  reports "gauge" {
    absent = ["line_pressure_high@idle/D"]
  }
}

example "bang into D only, no limp mode: forward accumulator" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["accumulator_forward"]
  within = 1
  reports "road_test" {
    present = ["harsh_engagement@D"]
    absent = [
      "limp_mode",
      "wrong_gear@D/1",
      "harsh_engagement@R",
      "harsh_shift@D/1-2",
      "harsh_shift@D/2-3",
    ]
  }
  reports "gauge" {
    absent = ["line_pressure_high@idle/D"]
  }
  reports "eye" {
    absent = ["driveline_play"]
  }
}

example "no 2-3 when cold, comes when warm: shift valve varnished" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["shift_valve_2_3"]
  within = 1
  reports "driver" {
    present = ["no_shift@D/2-3:cold"]
    absent  = ["no_shift@D/2-3:hot", "no_shift@D/1-2"]
  }
  reports "eye" {
    present = ["valve_sticks"]
  }
}

example "gold in the pan, end play high: thrust washers" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["front_washers", "rear_washers"]
  within = 3
  reports "eye" {
    present = ["bronze_in_pan"]
  }
  reports "measuring_tool" {
    present = ["end_play_high"]
    absent  = ["bushing_loose"]
  }
}

example "gold in the pan, bushing loose: bushings" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["front_bushings"]
  within = 2
  reports "eye" {
    present = ["bronze_in_pan"]
  }
  reports "measuring_tool" {
    present = ["bushing_loose", "above_limit@front_bushing_fit"]
    absent  = ["end_play_high", "above_limit@rear_bushing_fit"]
  }
}

example "bell housing wet again after the rebuild: pump bushing" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["pump_bushing"]
  within = 2
  reports "driver" {
    present = ["history_rebuilt", "history_front_seal_again"]
  }
  reports "eye" {
    present = ["front_seal_wet"]
  }
  reports "measuring_tool" {
    present = ["pump_bushing_loose"]
  }
}

example "rattle at idle, crack seen: flexplate" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["flexplate"]
  within = 1
  reports "driver" {
    present = ["rattle_at_idle"]
  }
  reports "eye" {
    present = ["flexplate_crack_seen"]
  }
}

example "lever will not go into P, detents off: linkage" {
  unit   = "simpson-od-4"
  cite   = "common practice of the trade"
  expect = ["linkage"]
  within = 1
  reports "driver" {
    present = ["park_refused"]
  }
  reports "eye" {
    present = ["selector_off"]
  }
}

example "P goes in and does not hold, linkage good, rod off its lever: park mechanism" {
  unit   = "ravigneaux-transaxle-4"
  cite   = "common practice of the trade"
  expect = ["park_mechanism"]
  within = 1
  reports "driver" {
    present = ["park_rolls"]
    absent  = ["park_stuck"]
  }
  reports "eye" {
    absent  = ["selector_off"]
    present = ["park_parts_off"]
  }
}

example "will not go into P since the rebuild, detents good: park mechanism" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["park_mechanism"]
  within = 1
  reports "driver" {
    present = ["park_refused", "history_rebuilt"]
  }
  reports "eye" {
    absent = ["selector_off"]
  }
}

example "will not come out of P and no converter clutch: brake switch" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["brake_switch"]
  within = 1
  reports "driver" {
    present = ["park_stuck", "no_lockup@D/4"]
  }
}

example "rolls in P: park pawl" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["park_mechanism"]
  within = 1
  reports "driver" {
    present = ["park_rolls"]
  }
  reports "eye" {
    absent = ["selector_off"]
  }
}

example "harsh and mushy since the rebuild, balls wrong" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["check_balls"]
  within = 1
  reports "driver" {
    present = ["history_rebuilt", "harsh_shift@D/1-2"]
  }
  reports "eye" {
    present = ["balls_wrong"]
  }
}

example "gasket washed: separator plate" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["separator_plate"]
  within = 1
  reports "eye" {
    present = ["gasket_washed"]
  }
  reports "road_test" {
    present = ["soft_shift@D/1-2"]
  }
}

example "casting shows light under the straightedge" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["valve_body"]
  within = 1
  reports "gauge" {
    present = ["line_pressure_low@idle/D"]
  }
  reports "measuring_tool" {
    present = ["straightedge_light"]
  }
}

example "sleeve of the stator support leaks under wet air" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["stator_support"]
  within = 1
  reports "road_test" {
    present = ["slips@D/1:hot"]
  }
  reports "eye" {
    present = ["support_leak"]
  }
}

example "all shifts come late, none cold: governor" {
  unit   = "harrow-3"
  cite   = "common practice of the trade"
  expect = ["governor"]
  within = 1
  reports "road_test" {
    present = ["late_shift@D/1-2", "late_shift@D/2-3"]
    absent  = ["harsh_shift@D/1-2", "harsh_shift@D/2-3", "early_shift@D/1-2"]
  }
  reports "gauge" {
    absent = ["line_pressure_high@idle/D"]
  }
}

example "early and mushy, low pressure, rod off: throttle valve" {
  unit   = "harrow-3"
  cite   = "common practice of the trade"
  expect = ["throttle_valve"]
  within = 1
  reports "road_test" {
    present = ["early_shift@D/1-2", "soft_shift@D/1-2"]
  }
  reports "eye" {
    present = ["throttle_cable_off"]
  }
}
