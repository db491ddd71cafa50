# Questions to the driver, one at a time, in plain words. The published interview list
# of a maker's workshop manual (cold or warm, road, speed or standing, accelerating or
# slowing, sometimes or always, selector position, vehicle or engine speed, pedal,
# sudden or from the start, after what) and what else the trade asks.
language = 1
basis "invented" {
  note = "minutes are invented but of the right size"
}

# First: what is wrong. A choice only says which questions come next.
check "ask_what" {
  title    = "what is wrong"
  stage    = interview
  minutes  = 1
  reporter = "driver"
  opens    = true
  asks     = "What is wrong? Pick all that apply."
  why      = "the complaint is why the vehicle came in"
  choice "no_drive" {
    title = "it does not move in some position or gear"
    asks  = ["ask_no_drive_where", "ask_no_drive_when"]
  }
  choice "slips" {
    title = "the engine races without the vehicle going faster"
    asks  = ["ask_slip_where", "ask_slip_when"]
  }
  choice "engages" {
    title = "it is slow to engage, or bangs, when put in gear"
    asks  = ["ask_engage", "ask_engage_when"]
  }
  choice "shifts" {
    title = "a shift is missing, or it stays in one gear"
    asks  = ["ask_one_gear", "ask_shifts_felt", "ask_shift_missing"]
  }
  choice "feel" {
    title = "shifts bang, drag out or come at the wrong time"
    asks  = ["ask_shift_feel", "ask_shift_time"]
  }
  choice "binds" {
    title = "it binds, holds back or moves in N"
    asks  = ["ask_bind", "ask_creep"]
  }
  choice "shakes" {
    title = "it shudders, or the engine stalls when stopping"
    asks  = ["ask_cruise", "ask_shudder_when"]
  }
  choice "weak" {
    title = "it is weak pulling away, or has poor top speed"
    asks  = ["ask_launch"]
  }
  choice "noise" {
    title = "a noise"
    asks  = ["ask_noise_speed", "ask_noise_gear"]
  }
  choice "leak" {
    title = "it leaks or runs hot"
    asks  = ["ask_oil_spots", "ask_hot"]
  }
  choice "light" {
    title = "a warning light is on"
    asks  = ["ask_light", "ask_one_gear"]
  }
}

# What it does
check "ask_slip_where" {
  title    = "where it slips"
  stage    = interview
  minutes  = 1
  reporter = "driver"
  yields   = ["slips@*"]
  asks     = "In which position and gear does the engine race without the vehicle going faster?"
  why      = "gears that are good tell as much as gears that slip"
  follows  = ["slips@*"]
}

check "ask_no_drive_where" {
  title    = "where it does not drive"
  stage    = interview
  minutes  = 1
  reporter = "driver"
  yields   = ["no_drive@*"]
  asks     = "In which position or gear does it not move at all? All forward gears, or one? And R?"
  why      = "an element is cleared by every row that uses it and is good"
  follows  = ["no_drive@*"]
}

check "ask_fluid" {
  title    = "fluid: level and condition"
  stage    = interview
  minutes  = 3
  reporter = "eye"
  yields   = ["fluid_low", "fluid_overfull", "fluid_foamy", "fluid_burnt_smell", "fluid_milky"]
  cautions = ["running_vehicle", "hot_fluid"]
  follows = [
    "slips@*",
    "no_drive@*",
    "late_engagement@*",
    "whine_in_neutral",
    "slips_after_minutes",
    "shudder@*",
    "flare@*",
    "soft_shift@up",
    "history_oil_spots",
    "runs_hot",
  ]
  asks = "Pull the dipstick now, the way the maker says (usually hot, at idle in P): how is the fluid?"
  why  = "three minutes, and the cheapest fault of all"
}

check "ask_shifts_felt" {
  title    = "shifts counted"
  stage    = interview
  minutes  = 1
  reporter = "driver"
  yields   = ["no_shift@*"]
  asks     = "From a stop to highway speed, how many shifts do you feel? Count the last soft one too."
  why      = "a missing shift is a gear not reached; the converter clutch is often counted as a gear"
  counts "shifts" {
    shifts = true
  }
}

check "ask_shift_missing" {
  title    = "which shift is missing"
  stage    = interview
  minutes  = 1
  reporter = "driver"
  yields   = ["no_shift@*"]
  asks     = "Which shift is missing?"
  why      = "a missing shift is a gear not reached"
}

check "ask_one_gear" {
  title    = "one gear only"
  stage    = interview
  minutes  = 1
  reporter = "driver"
  yields   = ["limp_mode"]
  asks     = "Does it stay in one gear whatever the speed?"
  why      = "limp mode maps every forward range to the failsafe row"
  follows  = ["no_shift@*", "wrong_gear@*", "light_on"]
}

check "ask_shift_feel" {
  title    = "how shifts feel"
  stage    = interview
  minutes  = 1
  reporter = "driver"
  yields   = ["harsh_shift@up", "soft_shift@up", "flare@up"]
  asks     = "Which shifts bang, which are mushy, and at which does the engine run up in between?"
  why      = "one harsh shift is an accumulator or a ball, all of them is pressure"
}

check "ask_shift_time" {
  title    = "early or late shifts"
  stage    = interview
  minutes  = 1
  reporter = "driver"
  yields   = ["late_shift@up", "early_shift@up"]
  asks     = "Do shifts come later or earlier than they used to, for the same pedal?"
  why      = "late and harsh together is load signal or pressure"
}

check "ask_bind" {
  title    = "binding"
  stage    = interview
  minutes  = 1
  reporter = "driver"
  yields   = ["bind_shift@up", "ties_up@*"]
  asks     = "Does it ever feel as if two gears were in at once, or as if the brakes came on?"
  why      = "two elements on at once"
}

check "ask_engage" {
  title    = "engagement"
  stage    = interview
  minutes  = 1
  reporter = "driver"
  yields   = ["late_engagement@*", "harsh_engagement@*"]
  asks     = "When you put it in gear at a stop, in which positions is it slow to engage, and in which does it bang?"
  why      = "a delay is oil on its way to the piston"
}

check "ask_creep" {
  title    = "creeping in N"
  stage    = interview
  minutes  = 1
  reporter = "driver"
  yields   = ["creeps@N/N", "creeps@P/P"]
  asks     = "With the brake off in N on level ground, does it creep? And in P?"
  why      = "the cheapest way to find an element that stays on"
}

check "ask_engine_braking" {
  title    = "engine braking"
  stage    = interview
  minutes  = 1
  reporter = "driver"
  yields   = ["no_engine_braking@*", "unexpected_engine_braking@*"]
  asks     = "When you lift your foot, in which gears does the engine hold the vehicle back, and has that changed?"
  why      = "it tells a one-way clutch from the clutch or band next to it"
}

check "ask_launch" {
  title    = "pulling away"
  stage    = interview
  minutes  = 1
  reporter = "driver"
  yields   = ["weak_launch@*", "poor_top_speed"]
  asks     = "Is it weak from a stop but normal once it rolls, or the other way around?"
  why      = "free stator: weak launch; locked stator: poor top speed"
}

check "ask_noise_gear" {
  title    = "noise by gear"
  stage    = interview
  minutes  = 1
  reporter = "driver"
  yields   = ["whine@*", "grinding"]
  asks     = "In which gears is the noise there, and in which is it gone?"
  why      = "a gearset that turns as a block is silent"
  follows  = ["whine@*", "noise_with_road_speed", "grinding"]
}

check "ask_noise_speed" {
  title    = "noise by engine or vehicle speed"
  stage    = interview
  minutes  = 1
  reporter = "driver"
  yields   = ["whine_in_neutral", "noise_with_road_speed", "rattle_at_idle"]
  asks     = "Does the noise follow the engine or the road speed? Is it there in P and N?"
  why      = "with engine speed in P it is the pump, converter or flexplate; with road speed it is behind the gears"
  follows  = ["whine@*", "whine_in_neutral", "noise_with_road_speed", "rattle_at_idle", "grinding"]
}

check "ask_cruise" {
  title    = "steady speed"
  stage    = interview
  minutes  = 1
  reporter = "driver"
  yields   = ["shudder@*", "no_lockup@*", "engine_stalls_at_stop"]
  asks     = "At steady speed with a light foot, does it shudder or do the revs wander? Does the engine stall when you stop?"
  why      = "the converter clutch is an element of its own"
}

check "ask_park" {
  title    = "park"
  stage    = interview
  minutes  = 1
  reporter = "driver"
  yields   = ["park_rolls", "park_refused", "park_stuck", "no_start_in_park"]
  asks     = "Does P hold on a slope, does the lever go into P and out of it, and does it start in P every time?"
  why      = "pawl, linkage, range switch"
}

check "ask_clunk" {
  title    = "clunk"
  stage    = interview
  minutes  = 1
  reporter = "driver"
  yields   = ["clunk"]
  asks     = "Is there a knock when you go on and off the pedal?"
  why      = "play in the driveline after the transmission"
}

# When it does it
check "ask_slip_when" {
  title    = "slip: cold or hot"
  stage    = interview
  minutes  = 1
  reporter = "driver"
  yields   = ["slips@*:cold", "slips@*:hot"]
  follows  = ["slips@*"]
  asks     = "When does it slip?"
  why      = "rings, cut seals, worn bores and a tired pump are worse hot; varnish and hard lips are worse cold"
  choice "always" {
    title   = "always, cold and hot"
    present = ["slips@*:cold", "slips@*:hot"]
  }
  choice "only_cold" {
    title   = "only cold, gone when warm"
    present = ["slips@*:cold"]
    absent  = ["slips@*:hot"]
  }
  choice "only_hot" {
    title   = "only hot, fine when cold"
    present = ["slips@*:hot"]
    absent  = ["slips@*:cold"]
  }
}

check "ask_no_drive_when" {
  title    = "no drive: cold or hot"
  stage    = interview
  minutes  = 1
  reporter = "driver"
  yields   = ["no_drive@*:cold", "no_drive@*:hot"]
  follows  = ["no_drive@*"]
  asks     = "When does it not drive?"
  why      = "rings, cut seals, worn bores and a tired pump are worse hot; varnish and hard lips are worse cold"
  choice "always" {
    title   = "always, cold and hot"
    present = ["no_drive@*:cold", "no_drive@*:hot"]
  }
  choice "only_cold" {
    title   = "only cold, gone when warm"
    present = ["no_drive@*:cold"]
    absent  = ["no_drive@*:hot"]
  }
  choice "only_hot" {
    title   = "only hot, fine when cold"
    present = ["no_drive@*:hot"]
    absent  = ["no_drive@*:cold"]
  }
}

check "ask_engage_when" {
  title    = "delay: cold, hot or after standing"
  stage    = interview
  minutes  = 1
  reporter = "driver"
  yields   = ["late_engagement@*:cold", "late_engagement@*:hot", "late_engagement@*:after_standing"]
  follows  = ["late_engagement@*"]
  asks     = "When is it slow to engage?"
  why      = "hardened lips are late whenever cold; a converter that drains back, only the first time after sitting overnight"
  choice "always" {
    title   = "always, cold and hot"
    present = ["late_engagement@*:cold", "late_engagement@*:hot", "late_engagement@*:after_standing"]
  }
  choice "whenever_cold" {
    title   = "whenever cold, better warm"
    present = ["late_engagement@*:cold", "late_engagement@*:after_standing"]
    absent  = ["late_engagement@*:hot"]
  }
  choice "after_a_night" {
    title   = "only the first time after sitting overnight"
    present = ["late_engagement@*:after_standing"]
    absent  = ["late_engagement@*:cold", "late_engagement@*:hot"]
  }
  choice "only_hot" {
    title   = "only hot, fine when cold"
    present = ["late_engagement@*:hot"]
    absent  = ["late_engagement@*:cold", "late_engagement@*:after_standing"]
  }
}

check "ask_shift_when" {
  title    = "missing shift: cold or hot"
  stage    = interview
  minutes  = 1
  reporter = "driver"
  yields   = ["no_shift@*:cold", "no_shift@*:hot"]
  follows  = ["no_shift@*"]
  asks     = "When is the shift missing?"
  why      = "varnish is worse cold, scoring and an opening coil worse hot"
  choice "always" {
    title   = "always, cold and hot"
    present = ["no_shift@*:cold", "no_shift@*:hot"]
  }
  choice "only_cold" {
    title   = "only cold, gone when warm"
    present = ["no_shift@*:cold"]
    absent  = ["no_shift@*:hot"]
  }
  choice "only_hot" {
    title   = "only hot, fine when cold"
    present = ["no_shift@*:hot"]
    absent  = ["no_shift@*:cold"]
  }
}

check "ask_pedal" {
  title    = "slip in turns or braking, stumble"
  stage    = interview
  minutes  = 1
  reporter = "driver"
  yields   = ["misfire_felt", "slips_in_bends"]
  asks     = "Does it slip in turns, on hills or when braking? Does the engine stumble, in neutral too?"
  why      = "oil away from the filter, or an engine that stumbles"
}

check "ask_minutes" {
  title    = "after a few minutes"
  stage    = interview
  minutes  = 1
  reporter = "driver"
  yields   = ["slips_after_minutes"]
  asks     = "Is it good for a few minutes, then fades, and is good again after a rest?"
  why      = "debris pulled into the filter (public study guide)"
}

check "ask_key" {
  title    = "cured by a restart"
  stage    = interview
  minutes  = 1
  reporter = "driver"
  yields   = ["key_off_cures"]
  asks     = "Does shutting the engine off and restarting cure it for a while?"
  why      = "if a restart cures it, that points to limp mode, not to a clutch"
  follows  = ["limp_mode", "light_on", "no_shift@*", "wrong_gear@*"]
}

check "ask_light" {
  title    = "warning light and speedometer"
  stage    = interview
  minutes  = 1
  reporter = "driver"
  yields   = ["light_on", "gear_lamp_on", "speedometer_dead", "cruise_dead"]
  asks     = "Which lights are on or flashing? Do the overdrive button, the speedometer and cruise control work?"
  why      = "codes will be there to read; the speedometer shares the output sensor, cruise control the brake switch"
  follows  = ["limp_mode", "key_off_cures", "no_lockup@*", "no_shift@*", "wrong_gear@*"]
}

check "ask_hot" {
  title    = "running hot"
  stage    = interview
  minutes  = 1
  reporter = "driver"
  yields   = ["runs_hot", "engine_smokes"]
  asks     = "Does it run hot, smell, or does the engine smoke?"
  why      = "cooler, stator, modulator"
}

# How it started
check "ask_sudden" {
  title    = "sudden or gradual"
  stage    = interview
  minutes  = 1
  reporter = "driver"
  yields   = ["history_sudden"]
  asks     = "Did it come on all at once, or little by little?"
  why      = "what breaks is sudden, what wears is gradual"
}

check "ask_shudder_when" {
  title    = "shudder: light foot or pulling"
  stage    = interview
  minutes  = 1
  reporter = "driver"
  yields   = ["shudder@*:light_foot", "shudder@*:heavy_foot"]
  follows  = ["shudder@*"]
  asks     = "When does it shudder?"
  why      = "steady with a light foot: converter clutch or fluid; pulling hard: engine"
  choice "both" {
    title   = "both"
    present = ["shudder@*:light_foot", "shudder@*:heavy_foot"]
  }
  choice "light" {
    title   = "only holding a steady speed"
    present = ["shudder@*:light_foot"]
    absent  = ["shudder@*:heavy_foot"]
  }
  choice "heavy" {
    title   = "only pulling hard"
    present = ["shudder@*:heavy_foot"]
    absent  = ["shudder@*:light_foot"]
  }
}

check "ask_first_symptom" {
  title    = "which symptom came first, how far driven after"
  stage    = interview
  minutes  = 1
  reporter = "driver"
  yields   = ["history_driven_after", "history_bind_first", "history_leak_first"]
  asks     = "What was the very first sign: a leak or low fluid, binding, or the slip itself? And was it driven on for long after it?"
  why      = "parts kill parts: the first symptom is nearest to the cause"
}

check "ask_event" {
  title    = "after which event or work"
  stage    = interview
  minutes  = 1
  reporter = "driver"
  yields   = ["history_event", "history_rocked"]
  asks     = "What happened in the weeks before: an accident, a repair, getting stuck in snow or mud?"
  why      = "an event names a cause"
}

check "ask_load" {
  title    = "load"
  stage    = interview
  minutes  = 1
  reporter = "driver"
  yields   = ["history_heavy_load", "history_rocked"]
  asks     = "Do you tow, or drive loaded or in hills much of the time?"
  why      = "overload and heat"
}

check "ask_towed" {
  title    = "towed"
  stage    = interview
  minutes  = 1
  reporter = "driver"
  yields   = ["history_towed"]
  asks     = "Was it ever towed, and with which wheels on the ground?"
  why      = "no pump, no oil at the bushings"
}

check "ask_overheated" {
  title    = "overheated"
  stage    = interview
  minutes  = 1
  reporter = "driver"
  yields   = ["history_overheated"]
  asks     = "Did the engine or transmission ever overheat?"
  why      = "heat hardens seals and glazes linings"
}

check "ask_fluid_history" {
  title    = "fluid history"
  stage    = interview
  minutes  = 1
  reporter = "driver"
  yields   = ["history_fluid_neglected", "history_fluid_changed"]
  asks     = "When was the transmission fluid changed, and was that before or after the trouble began?"
  why      = "clean fluid means nothing if it was changed last week"
}

check "ask_fluid_added" {
  title    = "fluid added"
  stage    = interview
  minutes  = 1
  reporter = "driver"
  yields   = ["history_fluid_added", "history_other_fluid"]
  asks     = "Was fluid added or changed, and which kind went in: the maker's, or another?"
  why      = "leak, overfill or the wrong kind"
}

check "ask_oil_spots" {
  title    = "oil spots"
  stage    = interview
  minutes  = 1
  reporter = "driver"
  yields   = ["history_oil_spots", "pushes_oil_out"]
  asks     = "Are there oil spots where it is parked overnight?"
  why      = "a leak is a cause, not a detail"
}

check "ask_water" {
  title    = "water"
  stage    = interview
  minutes  = 1
  reporter = "driver"
  yields   = ["history_flood"]
  asks     = "Has it sat in deep water or been driven through it?"
  why      = "water loosens linings"
}

check "ask_rebuilt" {
  title    = "earlier rebuild"
  stage    = interview
  minutes  = 1
  reporter = "driver"
  yields   = ["history_rebuilt", "history_same_again", "history_front_seal_again"]
  asks     = "Was the transmission ever rebuilt, replaced or opened, when, and was it for the same complaint?"
  why      = "a replaced unit with the same complaint: the cause was outside it"
}

check "ask_battery" {
  title    = "battery and electrics"
  stage    = interview
  minutes  = 1
  reporter = "driver"
  yields   = ["history_battery_off", "history_electric_trouble"]
  asks     = "Was the battery disconnected or jump-started, and are there other electric troubles?"
  why      = "learned values are lost with the battery"
}

check "ask_tires" {
  title    = "tires and axle"
  stage    = interview
  minutes  = 1
  reporter = "driver"
  yields   = ["history_tires"]
  asks     = "Were tires, wheels or axle changed?"
  why      = "the controller compares speeds"
}

check "ask_mileage" {
  title    = "mileage"
  stage    = interview
  minutes  = 1
  reporter = "driver"
  yields   = ["history_high_mileage"]
  asks     = "How many miles are on it?"
  why      = "age wears bores, bushings and rings; background, not a cause in itself"
  counts "miles" {
    from = 150000
  }
}
