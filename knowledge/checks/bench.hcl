# On the bench: what to measure before the next step destroys it, and what settles a
# root cause before the build.
language = 1
basis "invented" {
  note = "minutes are invented but of the right size"
}

check "end_play" {
  title    = "shaft end play, before the pump comes out"
  stage    = teardown
  minutes  = 6
  reporter = "measuring_tool"
  yields   = ["end_play_high", "end_play_low"]
  needs    = ["converter_off"]
  before   = ["pump_out"]
  why      = "impossible once the pump is out; it finds worn or misplaced washers"
}

check "runout" {
  title    = "runout of flexplate, crank pilot and hub; dowels counted"
  stage    = pulled
  minutes  = 12
  reporter = "measuring_tool"
  yields   = ["runout_high"]
  cautions = ["supports"]
  needs    = ["pull_unit"]
  why      = "a missing dowel eats every pump bushing"
}

check "converter_look" {
  title    = "converter: hub, stator race by finger, debris"
  stage    = pulled
  minutes  = 8
  reporter = "part_in_hand"
  yields = [
    "stator_turns_both_ways",
    "stator_turns_neither_way",
    "hub_scored",
    "converter_debris",
  ]
  cautions = ["heavy_unit", "hot_fluid"]
  needs    = ["pull_unit"]
  why      = "a converter cannot be washed clean of lining"
}

check "shaft_oring" {
  title    = "O-ring at the end of the input shaft"
  stage    = teardown
  minutes  = 2
  reporter = "eye"
  yields   = ["shaft_oring_cut"]
  needs    = ["converter_off"]
  why      = "converter clutch apply leaks here"
}

check "ring_gaps" {
  title    = "end gaps and groove fit of the sealing rings"
  stage    = teardown
  minutes  = 6
  reporter = "measuring_tool"
  yields   = ["ring_gap_wide@*"]
  needs    = ["pump_out"]
  why      = "before the rings are pulled"
}

check "wet_air_check" {
  title    = "wet air check of the stator support"
  stage    = teardown
  minutes  = 8
  reporter = "eye"
  yields   = ["support_leak"]
  cautions = ["air_check", "eyes"]
  needs    = ["pump_out"]
  why      = "a loose sleeve leaks between two clutches"
}

check "pump_look" {
  title    = "pump clearances, body and bushing"
  stage    = teardown
  minutes  = 10
  reporter = "measuring_tool"
  yields   = ["pump_clearance_wide", "pump_leak_seen", "pump_bushing_loose"]
  needs    = ["pump_open"]
  why      = "the pump starves everything"
}

check "bushing_fit" {
  title    = "fit of each bushing"
  stage    = teardown
  minutes  = 12
  reporter = "measuring_tool"
  yields   = ["bushing_loose"]
  needs    = ["pump_out"]
  why      = "a loose bushing eats rings within weeks"
}

check "pack_feeler" {
  title    = "clearance of each pack before it is opened"
  stage    = teardown
  minutes  = 10
  reporter = "measuring_tool"
  yields   = ["clearance_high@*", "clearance_low@*", "bench_clearance_off@*"]
  needs    = ["pump_out"]
  why      = "opening the pack destroys clearance, stack order and the place of the selective ring"
}

check "solvent_leakdown" {
  title    = "solvent or wet air leak-down of each drum with its piston in"
  stage    = teardown
  minutes  = 12
  reporter = "eye"
  yields   = ["leakdown_fails@*"]
  cautions = ["solvents", "air_check", "eyes"]
  needs    = ["pump_out"]
  why      = "shows cracked pistons, lips and check balls"
}

check "lip_direction" {
  title    = "direction of the lips before air pushes the piston out"
  stage    = teardown
  minutes  = 4
  reporter = "eye"
  yields   = ["lip_wrong"]
  cautions = ["air_check", "eyes"]
  needs    = ["pump_out"]
  why      = "air and fingers turn them over"
}

check "one_way_direction" {
  title    = "each one-way clutch turned by hand before it comes apart"
  stage    = teardown
  minutes  = 5
  reporter = "part_in_hand"
  yields   = ["turns_both_ways@*", "turns_neither_way@*", "holds_wrong_way@*"]
  needs    = ["pump_out"]
  why      = "its direction is lost once it is apart"
}

check "thrust_places" {
  title    = "positions and wear marks of the thrust washers"
  stage    = teardown
  minutes  = 6
  reporter = "eye"
  yields   = ["washer_marks"]
  needs    = ["pump_out"]
  why      = "their order is lost once they are on the bench"
}

check "valve_movement" {
  title    = "free movement of each valve, before solvent"
  stage    = teardown
  minutes  = 10
  reporter = "eye"
  yields   = ["valve_sticks", "boost_valve_sticks", "regulator_valve_sticks"]
  cautions = ["eyes"]
  needs    = ["valve_body_off"]
  before   = ["wash_parts"]
  why      = "washing frees the valve that caused the trouble"
}

check "ball_places" {
  title    = "check ball count and locations"
  stage    = teardown
  minutes  = 4
  reporter = "eye"
  yields   = ["balls_wrong"]
  needs    = ["valve_body_off"]
  before   = ["valve_body_open"]
  why      = "they roll as soon as the body is turned over"
}

check "vacuum_test" {
  title    = "vacuum test of regulator, boost, shift and converter clutch bores"
  stage    = teardown
  minutes  = 20
  reporter = "gauge"
  yields   = ["regulator_bore_leaks", "boost_bore_leaks", "lockup_bore_leaks", "valve_bore_leaks"]
  needs    = ["valve_body_open"]
  why      = "a worn bore brings the job back, and looking does not show it"
}

check "straightedge" {
  title    = "straightedge on both castings"
  stage    = teardown
  minutes  = 6
  reporter = "measuring_tool"
  yields   = ["straightedge_light"]
  needs    = ["valve_body_open"]
  why      = "warped castings cross-leak"
}

check "plate_compare" {
  title    = "plate, gaskets and filter compared with the right ones, hole by hole"
  stage    = teardown
  minutes  = 8
  reporter = "eye"
  yields   = ["plate_differs", "gasket_washed"]
  needs    = ["valve_body_open"]
  why      = "years and versions may differ by one hole"
}

check "solenoid_flow" {
  title    = "air through each solenoid, on and off"
  stage    = teardown
  minutes  = 8
  reporter = "measuring_tool"
  yields   = ["solenoid_flow_off@*"]
  cautions = ["air_check", "eyes"]
  needs    = ["valve_body_off"]
  why      = "a coil may be good and the seat bad"
}

check "limits" {
  title    = "dimensions of the unit against its limits"
  stage    = teardown
  minutes  = 15
  reporter = "measuring_tool"
  yields   = ["above_limit@*", "below_limit@*"]
  needs    = ["pump_out"]
  why      = "use the maker's limits, not ours"
}

check "drum_look" {
  title    = "drum and piston in the hand: check ball, return springs, cracks"
  stage    = teardown
  minutes  = 6
  reporter = "part_in_hand"
  yields   = ["drum_ball_off@*", "springs_off@*", "piston_crack_seen@*", "drum_crack_seen@*"]
  cautions = ["stored_energy", "eyes"]
  needs    = ["pump_out"]
  why      = "leak-down alone does not tell a cracked piston from a leaking ball"
}

check "spline_look" {
  title    = "splines of input and output shaft"
  stage    = teardown
  minutes  = 4
  reporter = "part_in_hand"
  yields   = ["input_spline_off", "output_spline_off"]
  needs    = ["output_out"]
  why      = "either one takes out every gear; only looking tells which"
}
