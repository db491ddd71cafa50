# What the trade knows that the rules once lacked or had wrong; some are here only
# so that what was right stays right.
language = 1
basis "common practice" {
  note = "sentences of the trade"
}

example "no drive, no pressure, nothing on the dipstick: fluid, not the pump" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["fluid"]
  within = 1
  reports "driver" {
    present = ["no_drive@D/1", "no_drive@R/R"]
  }
  reports "gauge" {
    present = ["no_pressure_anywhere"]
  }
  reports "eye" {
    present = ["fluid_low", "leak_outside"]
  }
}

example "no drive after a fluid change, foam: filter off its neck" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["filter"]
  within = 1
  reports "driver" {
    present = ["no_drive@D/1", "no_drive@R/R", "history_fluid_changed"]
  }
  reports "gauge" {
    present = ["no_pressure_anywhere"]
  }
  reports "eye" {
    present = ["fluid_foamy"]
    absent  = ["fluid_low"]
  }
}

example "no drive, no pressure, crack seen through the cover: flexplate" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["flexplate"]
  within = 1
  reports "driver" {
    present = ["no_drive@D/1", "no_drive@R/R", "rattle_at_idle"]
  }
  reports "gauge" {
    present = ["no_pressure_anywhere"]
  }
  reports "eye" {
    present = ["flexplate_crack_seen"]
    absent  = ["fluid_low"]
  }
}

example "no pressure, pump whole, hub torn: converter" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["converter"]
  within = 1
  reports "driver" {
    present = ["no_drive@D/1", "no_drive@R/R", "history_sudden"]
  }
  reports "gauge" {
    present = ["no_pressure_anywhere"]
  }
  reports "eye" {
    present = ["hub_scored"]
    absent  = ["fluid_low", "flexplate_crack_seen"]
  }
  reports "measuring_tool" {
    absent = ["pump_clearance_wide"]
  }
}

example "no drive only hot, good after a rest, level low: fluid" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["fluid"]
  within = 1
  reports "driver" {
    present = ["no_drive@D/1:hot", "no_drive@R/R:hot", "slips_after_minutes"]
    absent  = ["no_drive@D/1:cold", "no_drive@R/R:cold"]
  }
  reports "eye" {
    present = ["fluid_low"]
  }
}

example "no drive only hot, good after a rest, level right: filter before driveline" {
  unit   = "harrow-3"
  cite   = "common practice of the trade"
  expect = ["filter"]
  within = 1
  reports "driver" {
    present = ["no_drive@D/1:hot", "no_drive@R/R:hot", "slips_after_minutes"]
    absent  = ["no_drive@D/1:cold", "no_drive@R/R:cold"]
  }
  reports "eye" {
    present = ["filter_blocked_seen"]
    absent  = ["fluid_low"]
  }
}

example "starts in third, coil open at 20 degC: solenoid" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["solenoid_a"]
  within = 1
  reports "driver" {
    present = ["limp_mode", "light_on"]
  }
  reading "solenoid_a_resistance" {
    value = "4000 ohm at 20 degC"
  }
  reading "solenoid_b_resistance" {
    value = "21 ohm at 20 degC"
  }
}

example "bell housing wet, nothing else: front seal" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["front_seal"]
  within = 1
  reports "eye" {
    present = ["front_seal_wet"]
    absent  = ["bronze_in_pan"]
  }
}

example "bell housing wet, front seal and hub good: pump O-ring" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["pump"]
  within = 1
  reports "eye" {
    present = ["front_seal_wet"]
    absent  = ["hub_scored"]
  }
  reports "measuring_tool" {
    absent = ["pump_bushing_loose"]
  }
  cleared "front_seal" {
  }
}

example "pressure short in R only, idle and loaded: boost valve" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["boost_valve"]
  within = 1
  reports "gauge" {
    present = ["line_pressure_low@idle/R", "line_pressure_low@load/R"]
    absent  = ["line_pressure_low@idle/D", "line_pressure_low@load/D", "line_pressure_low@idle/2"]
  }
}

example "boost valve hangs, its bore tight: sticks, no boost in R" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["boost_valve"]
  within = 1
  reports "gauge" {
    present = ["line_pressure_low@idle/R", "line_pressure_low@load/R"]
    absent  = ["line_pressure_low@idle/D", "valve_bore_leaks"]
  }
  reports "eye" {
    present = ["valve_sticks"]
  }
}

example "loose bushings and a low clutch circuit: bushings" {
  unit   = "harrow-3"
  cite   = "common practice of the trade"
  expect = ["bushings"]
  within = 1
  reports "measuring_tool" {
    present = ["bushing_loose"]
  }
  reports "eye" {
    present = ["bronze_in_pan"]
  }
  reports "gauge" {
    present = ["circuit_pressure_low@front_clutch_feed:hot"]
  }
}

example "pack burnt though it never slipped, ball stuck: drum" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["direct_drum"]
  within = 1
  reports "driver" {
    present = ["drags@D/1:high_rpm"]
    absent  = ["slips@D/3"]
  }
  reports "eye" {
    present = ["lining_in_pan"]
  }
  reports "part_in_hand" {
    present = ["drum_ball_off@direct"]
  }
}

example "leak-down fails, crack in the piston: piston, not the ball" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["direct_piston"]
  within = 1
  reports "eye" {
    present = ["leakdown_fails@direct_feed"]
  }
  reports "part_in_hand" {
    present = ["piston_crack_seen@direct"]
    absent  = ["drum_ball_off@direct"]
  }
}

example "soft 1-2, intermediate burnt: its accumulator in view" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["intermediate_frictions", "accumulator_1_2"]
  within = 3
  reports "road_test" {
    present = ["soft_shift@D/1-2", "slips@D/2"]
    absent  = ["slips@D/1", "soft_shift@D/2-3"]
  }
  reports "eye" {
    present = ["lining_in_pan"]
  }
}

example "lining in the pan, every gear holds, converter slips: converter clutch" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["lockup_clutch"]
  within = 1
  reports "eye" {
    present = ["lining_in_pan"]
  }
  reports "scan_tool" {
    present = ["lockup_slip@D/3", "lockup_slip@D/4"]
  }
  reports "road_test" {
    absent = ["slips@D/1", "slips@D/2", "slips@D/3", "slips@D/4", "slips@R/R"]
  }
}

example "shudder at cruise, bore fails vacuum: converter clutch valve" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["lockup_valve"]
  within = 1
  reports "driver" {
    present = ["shudder@D/3", "shudder@D/4"]
    absent  = ["history_fluid_added"]
  }
  reading "bore_vacuum" {
    value = "6 inHg"
  }
}

example "bang into D and R, play in the joints: driveline" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["driveline"]
  within = 1
  reports "driver" {
    present = ["harsh_engagement@D", "harsh_engagement@R", "clunk"]
    absent  = ["harsh_shift@D/1-2", "harsh_shift@D/2-3"]
  }
  reports "eye" {
    present = ["driveline_play"]
  }
}

example "bang into D and R, idle high: engine" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["engine"]
  within = 1
  reports "driver" {
    present = ["harsh_engagement@D", "harsh_engagement@R"]
    absent  = ["harsh_shift@D/1-2", "harsh_shift@D/2-3"]
  }
  reports "measuring_tool" {
    present = ["idle_high"]
  }
}

example "shudder under load in every gear, stays at a touch of the brake: engine" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["engine"]
  within = 1
  reports "driver" {
    present = ["shudder@D/2:heavy_foot", "shudder@D/3:heavy_foot", "misfire_felt"]
    absent  = ["shudder_gone_at_brake"]
  }
}

example "converter clutch never on, brake signal on all the time: brake switch" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["brake_switch"]
  within = 1
  reports "driver" {
    present = ["no_lockup@D/3", "no_lockup@D/4"]
  }
  reports "scan_tool" {
    present = ["brake_signal_wrong"]
  }
}

example "converter clutch never on, fluid temperature stays cold: its sensor" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["temperature_sensor"]
  within = 1
  reports "driver" {
    present = ["no_lockup@D/3", "no_lockup@D/4"]
  }
  reports "scan_tool" {
    present = ["temperature_signal_wrong", "code_P0710"]
  }
}

example "rear seal wet again, yoke rocks: extension housing" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["extension_housing"]
  within = 1
  reports "driver" {
    present = ["history_oil_spots"]
  }
  reports "eye" {
    present = ["leak_outside", "tail_bushing_loose"]
    absent  = ["driveline_play"]
  }
}

example "pushes oil out, level right, no foam: vent" {
  unit   = "harrow-3"
  cite   = "common practice of the trade"
  expect = ["vent"]
  within = 1
  reports "driver" {
    present = ["pushes_oil_out"]
  }
  reports "eye" {
    present = ["pushes_oil_out"]
    absent  = ["leak_outside", "fluid_overfull", "fluid_foamy", "fluid_low"]
  }
}

example "no thud at the rear servo, seal and piston good: case bore" {
  unit   = "harrow-3"
  cite   = "common practice of the trade"
  expect = ["case"]
  within = 1
  reports "eye" {
    present = ["air_check_fails@rear_servo_apply"]
    absent  = ["leakdown_fails@rear_servo_apply"]
  }
  reports "driver" {
    present = ["slips@R/R"]
  }
  cleared "rear_servo" {
  }
}

example "late in D and R, only after a night: converter drains back" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["converter"]
  within = 1
  reports "driver" {
    present = ["late_engagement@D:after_standing", "late_engagement@R:after_standing"]
    absent  = ["late_engagement@D:cold", "late_engagement@R:cold"]
  }
}

example "late in D cold and after a night, R good: forward lips" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["forward_piston"]
  within = 1
  reports "driver" {
    present = ["late_engagement@D:cold", "late_engagement@D:after_standing"]
    absent  = ["late_engagement@R:cold", "late_engagement@R:after_standing"]
  }
}

example "bangs into D, 2 and L, R good: forward accumulator" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["accumulator_forward"]
  within = 1
  reports "driver" {
    present = ["harsh_engagement@D", "harsh_engagement@2", "harsh_engagement@L"]
    absent  = ["harsh_engagement@R"]
  }
}

example "every range dead, pressure good, input spline stripped" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["input_shaft"]
  within = 1
  reports "driver" {
    present = ["no_drive@D/1", "no_drive@R/R"]
  }
  reports "gauge" {
    absent = ["no_pressure_anywhere"]
  }
  reports "part_in_hand" {
    present = ["input_spline_off"]
    absent  = ["output_spline_off"]
  }
}

example "every range dead, pressure good, output spline stripped" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["output_shaft"]
  within = 1
  reports "driver" {
    present = ["no_drive@D/1", "no_drive@R/R"]
  }
  reports "gauge" {
    absent = ["no_pressure_anywhere"]
  }
  reports "part_in_hand" {
    present = ["output_spline_off"]
    absent  = ["input_spline_off"]
  }
}

example "forward pack wide on the feeler: pack" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["forward_frictions"]
  within = 1
  reading "forward_clearance" {
    value = "2.9 mm"
  }
}

example "new unit, bell housing forced home, no pressure: pump drive" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["pump"]
  within = 1
  reports "driver" {
    present = ["no_drive@D/1", "no_drive@R/R", "history_rebuilt"]
  }
  reports "gauge" {
    present = ["no_pressure_anywhere"]
  }
  reports "eye" {
    absent = ["fluid_low", "flexplate_crack_seen", "hub_scored"]
  }
}

example "third only because fourth is never asked for, its lamp lit: overdrive switch" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["overdrive_switch"]
  within = 1
  reports "driver" {
    present = ["no_shift@D/3-4", "gear_lamp_on"]
    absent  = ["flare@D/3-4", "slips@D/4"]
  }
  reports "scan_tool" {
    present = ["not_commanded@D/3-4"]
  }
}

example "no lockup since work under the dash, cruise dead, never commanded: brake switch" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["brake_switch"]
  within = 1
  reports "driver" {
    present = ["no_lockup@D/4", "cruise_dead"]
  }
  reports "scan_tool" {
    present = ["lockup_not_commanded"]
  }
}

example "shifts late and hard, no vacuum at the hose, hose dry: modulator hose" {
  unit   = "harrow-3-heavy"
  cite   = "common practice of the trade"
  expect = ["vacuum_modulator"]
  within = 1
  reports "driver" {
    present = ["late_shift@D/1-2", "late_shift@D/2-3", "harsh_shift@D/1-2"]
  }
  reports "gauge" {
    present = ["line_pressure_high@idle/D", "modulator_vacuum_low"]
  }
  reports "eye" {
    absent = ["modulator_hose_wet"]
  }
}

example "no governor pressure at any speed: governor, not the shift valves" {
  unit   = "harrow-3"
  cite   = "common practice of the trade"
  expect = ["governor"]
  within = 1
  reports "driver" {
    present = ["no_shift@D/1-2", "no_shift@D/2-3"]
  }
  reports "gauge" {
    present = ["governor_pressure_off"]
  }
}

example "brown oil from above the bell housing, level good: engine oil" {
  unit   = "harrow-3"
  cite   = "common practice of the trade"
  expect = ["engine"]
  within = 1
  reports "driver" {
    present = ["history_oil_spots"]
  }
  reports "eye" {
    present = ["leak_is_engine_oil"]
    absent  = ["fluid_low"]
  }
}

example "after a reseal second from a stop, binds in third, reverse and low: servo cocked on" {
  unit   = "harrow-3"
  cite   = "common practice of the trade"
  expect = ["front_servo"]
  within = 1
  reports "driver" {
    present = ["acts_as_2@D/1", "ties_up@D/3", "ties_up@R/R", "ties_up@L/1", "history_rebuilt"]
    absent  = ["creeps@N/N", "slips@D/2"]
  }
}

example "no drive in first, low and reverse, second and third good: rear ring gear spline" {
  unit   = "harrow-3"
  cite   = "common practice of the trade"
  expect = ["rear_ring_spline"]
  within = 1
  reports "driver" {
    present = ["no_drive@D/1", "no_drive@L/1", "no_drive@R/R"]
    absent  = ["no_drive@D/2", "no_drive@D/3"]
  }
  reports "gauge" {
    absent = ["no_pressure_anywhere", "line_pressure_low@idle/D"]
  }
}

example "late to grip, lever jiggled to start it, lever and unit do not meet: cable" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["linkage"]
  within = 1
  reports "driver" {
    present = ["late_engagement@D", "late_engagement@R", "no_start_in_park"]
  }
  reports "scan_tool" {
    present = ["range_signal_wrong", "code_P0705"]
  }
  reports "eye" {
    present = ["selector_off"]
  }
}

example "shudder and long shifts since a change of fluid: wrong fluid before the converter" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["fluid"]
  within = 1
  reports "driver" {
    present = ["shudder@D/4:light_foot", "soft_shift@D/1-2", "soft_shift@D/2-3", "history_fluid_changed"]
  }
  reports "eye" {
    present = ["fluid_wrong_kind"]
  }
}

example "whine in park and late on cold mornings, fluid never changed: filter closed with sludge" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["filter"]
  within = 2
  reports "driver" {
    present = ["whine_in_neutral", "late_engagement@D:cold", "late_engagement@R:cold", "history_fluid_neglected"]
    absent  = ["late_engagement@D:hot"]
  }
  reports "eye" {
    present = ["fluid_dark", "varnish_seen"]
  }
}

example "binds into high and in reverse after the valve body was apart: wrong plate or gasket" {
  unit   = "harrow-3"
  cite   = "common practice of the trade"
  expect = ["transfer_plate"]
  within = 3
  reports "driver" {
    present = ["bind_shift@D/2-3", "ties_up@D/3", "ties_up@R/R", "ties_up@L/1", "history_rebuilt"]
  }
  reports "gauge" {
    present = ["circuit_pressure_high@front_servo_apply"]
  }
}

example "launch shudder since the vehicle was lifted, smooth in park, play underneath: driveline" {
  unit   = "harrow-3"
  cite   = "common practice of the trade"
  expect = ["driveline"]
  within = 1
  reports "driver" {
    present = ["shudder@D/1", "shudder@R/R", "history_event"]
    absent  = ["misfire_felt"]
  }
  reports "eye" {
    present = ["driveline_play"]
  }
}
