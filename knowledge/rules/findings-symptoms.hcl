# Symptoms of the whole vehicle, as a driver or builder notices them.
language = 1
basis "recalled" {
  note = "signs follow common practice; leaks are of the right size only"
}

finding "limp_mode" {
  title    = "one forward gear only, at any speed"
  stage    = road
  reporter = "driver"
  leak     = 0.003
  phrases  = ["limp mode", "stuck in one gear", "one gear", "stuck in third"]
  hides    = ["flare", "late_shift", "early_shift", "harsh_shift", "soft_shift", "bind_shift"]
  sign "limp" {
    strength = 0.9
  }
}

finding "key_off_cures" {
  title    = "goes away for a while after shutting off and restarting"
  stage    = road
  reporter = "driver"
  leak     = 0.004
  phrases = [
    "restart",
    "fine after restart",
    "restart and it is back",
    "gears come back after restart",
  ]
}

finding "light_on" {
  title    = "transmission or engine light on"
  stage    = road
  reporter = "driver"
  leak     = 0.06
  phrases  = ["warning light", "check engine light on"]
}

finding "whine_in_neutral" {
  title    = "whine or buzz that follows engine speed, in P and N too"
  stage    = road
  reporter = "driver"
  leak     = 0.008
  phrases = [
    "whines in park",
    "whines in neutral",
    "noise in neutral",
    "noise in park",
    "whines at idle",
    "whine with engine speed",
    "whines in any gear with engine speed",
    "noise with engine speed",
    "pump whine",
  ]
}

finding "noise_with_road_speed" {
  title    = "noise that follows road speed in any gear"
  stage    = road
  reporter = "driver"
  leak     = 0.0025
  phrases = [
    "whine with road speed",
    "noise with road speed",
    "rumbles",
    "rumble while coasting",
    "hum with road speed in any gear",
    "noise with road speed in neutral",
  ]
}

finding "grinding" {
  title    = "grinding or crunching"
  stage    = road
  reporter = "driver"
  leak     = 0.0007
  phrases  = ["grinds", "grinding noise"]
}

finding "clunk" {
  title    = "clunk on and off the throttle"
  stage    = road
  reporter = "driver"
  leak     = 0.0025
  phrases = [
    "clunks",
    "clunks when I let off",
    "clunks on and off throttle",
    "bangs when I let off",
    "bangs on and off throttle",
  ]
}

finding "rattle_at_idle" {
  title    = "rattle at idle near the bell housing"
  stage    = road
  reporter = "driver"
  leak     = 0.0012
  phrases  = ["rattles", "rattles at idle", "rattling noise", "rattles in gear at idle"]
}

finding "shudder_gone_at_brake" {
  title    = "shudder goes away at a touch of the brake pedal"
  stage    = road
  reporter = "road_test"
  leak     = 0.002
  phrases  = ["touch the brake", "shudder goes away when I touch the brake"]
}

finding "misfire_felt" {
  title    = "engine misfires or stumbles, in neutral too"
  stage    = road
  reporter = "road_test"
  leak     = 0.005
  phrases  = ["misses", "stumbles"]
}

finding "poor_top_speed" {
  title    = "pulls away well but poor top speed"
  stage    = road
  reporter = "driver"
  leak     = 0.0005
  phrases  = ["will not go over 50", "tops out", "can not get it over 50", "no top speed"]
}

finding "runs_hot" {
  title    = "transmission runs hot"
  stage    = road
  reporter = "driver"
  leak     = 0.003
  phrases  = ["overheats", "runs hot", "temperature light"]
}

finding "slips_after_minutes" {
  title    = "good for a few minutes, then slips; good again after a rest"
  stage    = road
  reporter = "driver"
  leak     = 0.004
  phrases  = ["quits after minutes", "works for minutes then quits", "slips after minutes"]
}

finding "slips_in_bends" {
  title    = "slips in turns, on hills or when braking"
  stage    = road
  reporter = "driver"
  leak     = 0.004
  phrases = [
    "slips in turns",
    "loses drive in turns",
    "cuts out in turns",
    "revs in turns",
    "drops into neutral in turns",
    "no drive in turns",
  ]
}

finding "engine_stalls_at_stop" {
  title    = "engine stalls when the vehicle stops in gear"
  stage    = road
  reporter = "driver"
  leak     = 0.0015
  phrases  = ["stalls at lights", "dies when I stop", "stalls in gear", "stalls when I shift into gear", "stalls when I shift into drive"]
}

finding "park_rolls" {
  title    = "rolls away in P"
  stage    = road
  reporter = "driver"
  leak     = 0.001
  phrases  = ["park does not hold", "rolls in park", "rolls away in park", "park slips"]
}

finding "park_refused" {
  title    = "lever will not go into P"
  stage    = road
  reporter = "driver"
  leak     = 0.001
  phrases = [
    "will not go into park",
    "will not go in park",
    "can not get it into park",
    "can not get it in park",
    "park will not engage",
  ]
}

finding "park_stuck" {
  title    = "lever will not come out of P"
  stage    = road
  reporter = "driver"
  leak     = 0.0015
  note     = "A vehicle that leans on its pawl on a slope comes out of P hard, with nothing wrong."
  phrases = [
    "stuck in park",
    "will not come out of park",
    "can not get it out of park",
    "lever is locked in park",
  ]
}

finding "no_start_in_park" {
  title    = "no start in P, or starts in gear"
  stage    = road
  reporter = "driver"
  leak     = 0.0015
  phrases = [
    "will not start in park",
    "will not crank in park",
    "starts only in neutral",
    "cranks in gear",
    "will not crank unless I wiggle the lever",
  ]
}

finding "speedometer_dead" {
  title    = "speedometer dead or erratic"
  stage    = road
  reporter = "driver"
  leak     = 0.005
  phrases  = ["speedometer", "speedometer is dead", "needle jumps"]
}

finding "engine_smokes" {
  title    = "blue smoke from the exhaust"
  stage    = road
  reporter = "driver"
  leak     = 0.01
  phrases  = ["smokes"]
}

finding "prop_shaft_turns" {
  title    = "drive shaft or axle turns in gear with the vehicle standing still"
  stage    = in_vehicle
  reporter = "eye"
  leak     = 0.0015
}

finding "driveline_play" {
  title    = "play in joints, mounts or axle"
  stage    = in_vehicle
  reporter = "eye"
  leak     = 0.04
}

finding "tail_bushing_loose" {
  title    = "slip yoke rocks in the extension housing"
  stage    = in_vehicle
  reporter = "eye"
  leak     = 0.01
}
