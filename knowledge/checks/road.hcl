# Road test. Name the gear from rpm, road speed, tire and axle; engagement about 1.2 s
# to D and 1.5 s to R (common practice), or the maker's figure.
language = 1
basis "invented" {
  note = "minutes are invented but of the right size"
}

check "road_gears" {
  title    = "every gear in every range, slip or not"
  stage    = road
  minutes  = 15
  reporter = "road_test"
  yields   = ["slips@*", "no_drive@*"]
  cautions = ["road_test"]
  why      = "the rows that are good clear their elements"
  unless   = ["low_fluid", "water_in_fluid"]
}

check "road_ratio" {
  title    = "actual gear from rpm and road speed"
  stage    = road
  minutes  = 5
  reporter = "road_test"
  yields = [
    "wrong_gear@*",
    "acts_as_1@*",
    "acts_as_2@*",
    "acts_as_3@*",
    "acts_as_4@*",
    "acts_as_5@*",
    "acts_as_6@*",
    "acts_as_7@*",
    "acts_as_8@*",
  ]
  cautions = ["road_test"]
  why      = "tells which gear it is really in"
  unless   = ["low_fluid", "water_in_fluid"]
}

check "road_shifts" {
  title    = "each shift at light and medium throttle"
  stage    = road
  minutes  = 10
  reporter = "road_test"
  yields = [
    "flare@up",
    "late_shift@up",
    "early_shift@up",
    "harsh_shift@up",
    "soft_shift@up",
    "bind_shift@up",
    "no_shift@*",
  ]
  cautions = ["road_test"]
  why      = "gap and overlap tell the oncoming element from the one that should let go"
  unless   = ["low_fluid", "water_in_fluid"]
}

check "road_downshifts" {
  title    = "kickdown from each gear, then rolling to a stop"
  stage    = road
  minutes  = 8
  reporter = "road_test"
  yields   = ["flare@down", "harsh_shift@down", "bind_shift@down", "late_shift@down", "coast_clunk@down"]
  cautions = ["road_test"]
  why      = "what acts up only on downshifts is what applies or releases there; coasting down, only an element that turns the engine is felt"
  unless   = ["low_fluid", "water_in_fluid"]
}

check "road_skips" {
  title    = "lift off in first or second until it upshifts past a gear"
  stage    = road
  minutes  = 6
  reporter = "road_test"
  yields   = ["flare@skip_up", "late_shift@skip_up", "harsh_shift@skip_up", "bind_shift@skip_up"]
  cautions = ["road_test"]
  why      = "a skip shift changes other elements than the two single shifts: a clutch that flares on the 2-3 but only delays the 1-3 is itself slow"
  unless   = ["low_fluid", "water_in_fluid"]
}

check "road_lever" {
  title    = "rolling in D at low speed, pull the lever down a range at a time"
  stage    = road
  minutes  = 5
  reporter = "road_test"
  yields   = ["flare@lever", "late_shift@lever", "harsh_shift@lever", "bind_shift@lever", "coast_clunk@lever"]
  cautions = ["road_test"]
  why      = "the lower ranges apply what D leaves to a one-way clutch: what acts up only there is that element"
  unless   = ["low_fluid", "water_in_fluid"]
}

check "road_engine_braking" {
  title    = "lift off in each gear"
  stage    = road
  minutes  = 5
  reporter = "road_test"
  yields   = ["no_engine_braking@*", "unexpected_engine_braking@*"]
  cautions = ["road_test"]
  why      = "tells a one-way clutch from the clutch or band next to it"
  unless   = ["low_fluid", "water_in_fluid"]
}

check "road_neutral" {
  title    = "N and P with the brake off on level ground"
  stage    = road
  minutes  = 2
  reporter = "road_test"
  yields   = ["creeps@N/N", "creeps@P/P", "park_rolls"]
  cautions = ["road_test", "running_vehicle"]
  why      = "an element that stays on drives in N"
}

check "road_binding" {
  title    = "coasting and manual ranges"
  stage    = road
  minutes  = 5
  reporter = "road_test"
  yields   = ["ties_up@*", "drags@*"]
  cautions = ["road_test"]
  why      = "two gears at once or a dragging pack"
  unless   = ["low_fluid", "water_in_fluid"]
}

check "road_cruise" {
  title    = "steady speed, a touch of the brake pedal"
  stage    = road
  minutes  = 8
  reporter = "road_test"
  yields = [
    "shudder@*",
    "shudder_gone_at_brake",
    "no_lockup@*",
    "lockup_stays_on@*",
    "misfire_felt",
  ]
  cautions = ["road_test"]
  why      = "shudder that goes with the brake pedal is the converter clutch; misfire stays"
  unless   = ["low_fluid", "water_in_fluid"]
}

check "road_noise" {
  title    = "noise by gear, by engine speed, by road speed"
  stage    = road
  minutes  = 6
  reporter = "road_test"
  yields = [
    "whine@*",
    "whine_in_neutral",
    "noise_with_road_speed",
    "grinding",
    "rattle_at_idle",
  ]
  cautions = ["road_test"]
  why      = "a whine that goes away in direct drive is the gearset (public study guide)"
}

check "road_launch" {
  title    = "launch and top speed"
  stage    = road
  minutes  = 5
  reporter = "road_test"
  yields   = ["weak_launch@*", "poor_top_speed", "engine_weak_everywhere"]
  cautions = ["road_test"]
  why      = "stator and engine"
  unless   = ["low_fluid", "water_in_fluid"]
}

check "road_hot" {
  title    = "every gear again, hot"
  stage    = road
  minutes  = 20
  reporter = "road_test"
  yields   = ["slips@*:hot", "no_shift@*:hot", "late_engagement@*:hot", "runs_hot"]
  cautions = ["road_test"]
  why      = "rings, bores, coils and pump show when hot"
  unless   = ["low_fluid", "water_in_fluid"]
}

check "timed_engagement" {
  title    = "engagement timed in D and R"
  stage    = road
  minutes  = 3
  reporter = "measuring_tool"
  yields   = ["late_engagement@*", "harsh_engagement@*"]
  cautions = ["running_vehicle"]
  why      = "a delay in one range finds the circuit, in all ranges the supply"
}

check "engagement_cold" {
  title    = "engagement timed cold, after sitting overnight"
  stage    = road
  minutes  = 3
  reporter = "measuring_tool"
  yields = [
    "late_engagement@*:cold",
    "late_engagement@*:after_standing",
    "level_rises_overnight",
  ]
  cautions = ["running_vehicle"]
  why      = "hardened lips or drain-back"
}

check "road_unplugged" {
  title    = "drive with the case connector unplugged"
  stage    = road
  minutes  = 12
  reporter = "road_test"
  only     = ["electronic", "adaptive"]
  yields   = ["better_unplugged"]
  cautions = ["unplugged_drive", "road_test"]
  why      = "without power, only the hydraulics work; read the codes first"
  unless   = ["low_fluid", "water_in_fluid"]
}
