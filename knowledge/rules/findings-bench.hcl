# On the bench: measured or held in the hand.
language = 1
basis "recalled" {
  note = "signs follow common practice; leaks are of the right size only"
}

finding "clearance_high" {
  per          = element
  title        = "clearance of {place} above its limit"
  stage        = teardown
  reporter     = "measuring_tool"
  leak         = 0.004
  reading      = "clearance"
  reading_side = "high"
  reading_is   = length
}

finding "clearance_low" {
  per          = element
  title        = "clearance of {place} below its limit"
  stage        = teardown
  reporter     = "measuring_tool"
  leak         = 0.003
  reading      = "clearance"
  reading_side = "low"
  reading_is   = length
}

finding "bench_clearance_off" {
  per      = element
  title    = "wrong plate count or snap ring in {place}"
  stage    = teardown
  reporter = "eye"
  leak     = 0.001
}

finding "servo_travel_high" {
  per          = element
  title        = "servo pin travel of {place} too long"
  stage        = in_vehicle
  reporter     = "measuring_tool"
  leak         = 0.004
  reading      = "servo_travel"
  reading_side = "high"
  reading_is   = length
}

finding "servo_travel_low" {
  per          = element
  title        = "servo pin travel of {place} too short"
  stage        = in_vehicle
  reporter     = "measuring_tool"
  leak         = 0.003
  reading      = "servo_travel"
  reading_side = "low"
  reading_is   = length
}

finding "leakdown_fails" {
  per      = circuit
  title    = "solvent or wet air leaks past the piston of {place}"
  stage    = teardown
  reporter = "eye"
  leak     = 0.004
}

finding "ring_gap_wide" {
  per      = circuit
  title    = "ring gap wide or ring loose in its groove in {place}"
  stage    = teardown
  reporter = "measuring_tool"
  leak     = 0.004
}

finding "turns_both_ways" {
  per      = element
  title    = "{place} turns both ways by hand"
  stage    = teardown
  reporter = "part_in_hand"
  leak     = 0.001
}

finding "turns_neither_way" {
  per      = element
  title    = "{place} turns neither way by hand"
  stage    = teardown
  reporter = "part_in_hand"
  leak     = 0.0005
}

finding "holds_wrong_way" {
  per      = element
  title    = "{place} holds in the wrong direction"
  stage    = teardown
  reporter = "part_in_hand"
  leak     = 0.0002
}

finding "above_limit" {
  per          = limit
  title        = "{place} above its limit"
  stage        = teardown
  reporter     = "measuring_tool"
  leak         = 0.006
  reading      = "limit"
  reading_side = "high"
}

finding "below_limit" {
  per          = limit
  title        = "{place} below its limit"
  stage        = teardown
  reporter     = "measuring_tool"
  leak         = 0.004
  reading      = "limit"
  reading_side = "low"
}

finding "end_play_high" {
  title        = "shaft end play high, before the pump comes out"
  stage        = pulled
  reporter     = "measuring_tool"
  leak         = 0.01
  reading      = "end_play"
  reading_side = "high"
  reading_is   = length
}

finding "end_play_low" {
  title        = "shaft end play low, before the pump comes out"
  stage        = pulled
  reporter     = "measuring_tool"
  leak         = 0.001
  reading      = "end_play"
  reading_side = "low"
  reading_is   = length
}

finding "flexplate_crack_seen" {
  title    = "flexplate cracked or bolts loose"
  stage    = in_vehicle
  reporter = "eye"
  leak     = 0.002
}

finding "runout_high" {
  title        = "flexplate, pilot or hub runout high, or a dowel missing"
  stage        = pulled
  reporter     = "measuring_tool"
  leak         = 0.004
  reading      = "runout"
  reading_side = "high"
  reading_is   = length
}

finding "hub_scored" {
  title    = "converter hub scored"
  stage    = pulled
  reporter = "eye"
  leak     = 0.006
}

finding "stator_turns_both_ways" {
  title    = "stator race turns both ways"
  stage    = pulled
  reporter = "part_in_hand"
  leak     = 0.002
}

finding "stator_turns_neither_way" {
  title    = "stator race turns neither way"
  stage    = pulled
  reporter = "part_in_hand"
  leak     = 0.001
}

finding "converter_debris" {
  title    = "debris from the converter hub"
  stage    = pulled
  reporter = "eye"
  leak     = 0.015
}

finding "shaft_oring_cut" {
  title    = "O-ring at the shaft end cut"
  stage    = pulled
  reporter = "eye"
  leak     = 0.003
}

finding "support_leak" {
  title    = "wet air leaks at the stator support"
  stage    = teardown
  reporter = "eye"
  leak     = 0.003
}

finding "pump_clearance_wide" {
  title        = "pump gear clearance too wide"
  stage        = teardown
  reporter     = "measuring_tool"
  leak         = 0.004
  reading      = "pump_clearance"
  reading_side = "high"
  reading_is   = length
}

finding "pump_leak_seen" {
  title    = "crack or wash-out in the pump body"
  stage    = teardown
  reporter = "eye"
  leak     = 0.001
}

finding "pump_bushing_loose" {
  title    = "pump bushing loose or worn on one side"
  stage    = teardown
  reporter = "measuring_tool"
  leak     = 0.003
}

finding "bushing_loose" {
  title    = "a bushing worn past its limit"
  stage    = teardown
  reporter = "measuring_tool"
  leak     = 0.006
}

finding "valve_bore_leaks" {
  title        = "some bore fails the vacuum test"
  stage        = teardown
  reporter     = "gauge"
  leak         = 0.01
  reading      = "bore_vacuum"
  reading_side = "low"
  reading_is   = pressure
}

# Which bore it is, the plate of the tester says: it is put over one at a time.
finding "regulator_bore_leaks" {
  title    = "the regulator's bore fails the vacuum test"
  stage    = teardown
  reporter = "gauge"
  leak     = 0.005
}

finding "boost_bore_leaks" {
  title    = "the boost valve's bore fails the vacuum test"
  stage    = teardown
  reporter = "gauge"
  leak     = 0.005
}

finding "lockup_bore_leaks" {
  title    = "the converter clutch valve's bore fails the vacuum test"
  stage    = teardown
  reporter = "gauge"
  leak     = 0.005
}

finding "valve_sticks" {
  title    = "a valve does not move freely before washing"
  stage    = teardown
  reporter = "eye"
  leak     = 0.01
}

finding "boost_valve_sticks" {
  title    = "the boost valve does not move freely before washing"
  stage    = teardown
  reporter = "eye"
  leak     = 0.003
}

finding "regulator_valve_sticks" {
  title    = "the pressure regulator valve does not move freely before washing"
  stage    = teardown
  reporter = "eye"
  leak     = 0.003
}

finding "straightedge_light" {
  title    = "light under the straightedge on a casting"
  stage    = teardown
  reporter = "measuring_tool"
  leak     = 0.003
}

finding "plate_differs" {
  title    = "wrong separator plate, gasket or filter"
  stage    = teardown
  reporter = "eye"
  leak     = 0.001
}

finding "gasket_washed" {
  title    = "gasket torn or washed between channels"
  stage    = teardown
  reporter = "eye"
  leak     = 0.003
}

finding "balls_wrong" {
  title    = "check ball count or locations differ from the drawing"
  stage    = teardown
  reporter = "eye"
  leak     = 0.001
}

finding "washer_marks" {
  title    = "thrust washer marks where none belongs"
  stage    = teardown
  reporter = "eye"
  leak     = 0.002
}

finding "lip_wrong" {
  title    = "a lip seal faces the wrong way or is folded"
  stage    = teardown
  reporter = "eye"
  leak     = 0.001
}

finding "drum_ball_off" {
  per      = element
  title    = "check ball of {place} missing, leaking or stuck"
  stage    = teardown
  reporter = "part_in_hand"
  leak     = 0.001
}

finding "springs_off" {
  per      = element
  title    = "return springs or retainer of {place} cracked or bent"
  stage    = teardown
  reporter = "part_in_hand"
  leak     = 0.0005
}

finding "piston_crack_seen" {
  per      = element
  title    = "crack in the piston of {place}"
  stage    = teardown
  reporter = "part_in_hand"
  leak     = 0.0003
}

finding "drum_crack_seen" {
  per      = element
  title    = "crack in the drum of {place}"
  stage    = teardown
  reporter = "part_in_hand"
  leak     = 0.0003
}

finding "input_spline_off" {
  title    = "spline at the input end stripped or twisted"
  stage    = teardown
  reporter = "part_in_hand"
  leak     = 0.0005
}

finding "output_spline_off" {
  title    = "spline at the output end stripped or twisted"
  stage    = teardown
  reporter = "part_in_hand"
  leak     = 0.0005
}
