# Single modes told apart by what is measured or held in the hand.
language = 1
basis "common practice" {
  note = "sentences of the trade"
}

example "slips cold and hot alike, leak-down fails, lips good: piston cracked" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["direct_piston"]
  within = 2
  reports "road_test" {
    present = ["slips@D/3:cold", "slips@D/4:cold"]
    absent  = ["slips@D/1"]
  }
  reports "eye" {
    present = ["leakdown_fails@direct_feed", "air_check_fails@direct_feed"]
    absent  = ["lip_wrong", "lining_in_pan"]
  }
}

example "leak-down fails at the drum, ball does not seat" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["forward_drum"]
  within = 3
  reports "eye" {
    present = ["leakdown_fails@forward_feed", "air_check_fails@forward_feed"]
    absent  = ["lip_wrong", "lining_in_pan"]
  }
  reports "road_test" {
    present = ["slips@D/1:cold"]
  }
}

example "binds into fourth and drags there: forward springs" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["forward_piston"]
  within = 3
  reports "road_test" {
    present = ["bind_shift@D/3-4", "drags@D/4"]
    absent  = ["ties_up@D/4", "shudder@D/1", "slips@D/1"]
  }
}

example "air check fails, rings and lips good: ring lands of the direct drum" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["direct_drum"]
  within = 3
  reports "road_test" {
    present = ["slips@D/3:hot", "slips@D/4:hot"]
    absent  = ["slips@D/1", "slips@D/3:cold"]
  }
  reports "eye" {
    present = ["air_check_fails@direct_feed"]
    absent  = ["leakdown_fails@direct_feed", "lining_in_pan"]
  }
  reports "measuring_tool" {
    absent = ["ring_gap_wide@direct_feed", "bushing_loose"]
  }
}

example "late into R when cold, rear servo" {
  unit   = "harrow-3"
  cite   = "common practice of the trade"
  expect = ["rear_servo"]
  within = 2
  reports "road_test" {
    present = ["late_engagement@R:cold"]
    absent  = ["late_engagement@R:hot"]
  }
  reports "eye" {
    present = ["leakdown_fails@rear_servo_apply"]
  }
}

example "no 2-3 when hot, comes when cold: shift valve scored" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["shift_valve_2_3"]
  within = 1
  reports "road_test" {
    present = ["no_shift@D/2-3:hot"]
    absent  = ["no_shift@D/2-3:cold", "no_shift@D/1-2"]
  }
  reports "eye" {
    present = ["valve_sticks"]
  }
  reports "measuring_tool" {
    absent = ["resistance_off@a", "resistance_off@b"]
  }
}

example "late both ways, creeps, detent good: manual valve" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["manual_valve"]
  within = 1
  reports "road_test" {
    present = ["late_engagement@R", "late_engagement@D", "creeps@N/N"]
    absent  = ["ties_up@R/R"]
  }
  reports "eye" {
    present = ["valve_sticks"]
    absent  = ["selector_off", "fluid_low"]
  }
  reports "gauge" {
    absent = ["line_pressure_low@idle/D"]
  }
}

example "mushy 1-2 only: accumulator leaks" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["accumulator_1_2"]
  within = 1
  reports "road_test" {
    present = ["soft_shift@D/1-2"]
    absent  = ["soft_shift@D/2-3", "slips@D/2"]
  }
  reports "eye" {
    absent = ["fluid_low", "gasket_washed"]
  }
}

example "late and mushy since the rebuild, plate differs" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["separator_plate"]
  within = 1
  reports "driver" {
    present = ["history_rebuilt"]
  }
  reports "road_test" {
    present = ["late_shift@D/1-2", "late_shift@D/2-3"]
  }
  reports "eye" {
    present = ["plate_differs"]
  }
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
    absent  = ["modulator_hose_wet"]
  }
}

example "late, harsh, fluid in the hose, blue smoke: modulator" {
  unit   = "harrow-3"
  cite   = "common practice of the trade"
  expect = ["modulator"]
  within = 1
  reports "road_test" {
    present = ["late_shift@D/1-2", "harsh_shift@D/2-3"]
  }
  reports "driver" {
    present = ["engine_smokes"]
  }
  reports "eye" {
    present = ["modulator_hose_wet"]
    absent  = ["throttle_cable_off"]
  }
}

example "rattle, aluminium from the hub, flexplate whole: fins broken" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["converter"]
  within = 1
  reports "driver" {
    present = ["rattle_at_idle"]
  }
  reports "eye" {
    present = ["aluminium_in_pan", "steel_in_pan"]
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

example "overheated, fluid brown and burnt, pan clean: fluid cooked" {
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
  expect = ["regulator_valve", "boost_valve"]
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
