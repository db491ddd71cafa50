# Parts kill parts, and what a unit has and has not: what one fault does to the next
# part, in the words of the trade.
language = 1
basis "common practice" {
  note = "sentences of the trade"
}

example "late and harsh, pressure high in every range, a rod and no vacuum hose: throttle valve" {
  unit   = "harrow-3"
  cite   = "common practice of the trade"
  expect = ["throttle_valve"]
  within = 1
  reports "road_test" {
    present = ["late_shift@D/1-2", "late_shift@D/2-3", "harsh_shift@D/1-2", "harsh_shift@D/2-3"]
  }
  reports "gauge" {
    present = ["line_pressure_high@idle/D", "line_pressure_high@load/D"]
  }
}

example "late and harsh, pressure high in every range, load by a vacuum hose: modulator" {
  unit   = "harrow-3-heavy"
  cite   = "common practice of the trade"
  expect = ["vacuum_modulator"]
  within = 1
  reports "road_test" {
    present = ["late_shift@D/1-2", "late_shift@D/2-3", "harsh_shift@D/1-2", "harsh_shift@D/2-3"]
  }
  reports "gauge" {
    present = ["line_pressure_high@idle/D", "line_pressure_high@load/D"]
  }
}

# A tie-up burns the weaker of the two that hold against each other, and the bind
# becomes a slip: ask which came first.
example "bound at first, now second slips, lining in the pan, its pressure good: what it was held against" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["low_roller", "intermediate_frictions"]
  within = 2
  reports "driver" {
    present = ["history_bind_first", "slips@D/2", "ties_up@D/3", "ties_up@D/4"]
    absent  = ["slips@D/1", "slips@R/R", "creeps@N/N"]
  }
  reports "eye" {
    present = ["lining_in_pan"]
  }
  reports "gauge" {
    absent = ["line_pressure_low@idle/D", "circuit_pressure_low@intermediate_feed"]
  }
}

# Lining debris goes to the filter: a packed filter is what a burnt clutch leaves.
example "second slips, then after some minutes everything: burnt clutch, and the filter that its lining packed" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["intermediate_frictions", "filter"]
  within = 2
  reports "driver" {
    present = ["slips@D/2", "slips_after_minutes"]
    absent  = ["slips@D/1"]
  }
  reports "eye" {
    present = ["lining_in_pan", "fluid_burnt_smell"]
    absent  = ["fluid_low"]
  }
  reports "gauge" {
    present = ["line_pressure_low@idle/D:hot", "line_pressure_low@idle/R:hot"]
  }
}

# Water and glycol swell paper lining and loosen what glues it on.
example "milky fluid, oil in the coolant, slips in every gear: linings soaked, the cooler leaks" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["forward_frictions"]
  cause  = ["cooler_leaks_inside"]
  within = 1
  reports "driver" {
    present = ["slips@D/1", "slips@D/2", "slips@R/R"]
  }
  reports "eye" {
    present = ["fluid_milky", "oil_in_coolant"]
    absent  = ["fluid_low"]
  }
}

example "milky fluid after a flood, no oil in the coolant, slips: water got in" {
  unit   = "harrow-3"
  cite   = "common practice of the trade"
  expect = ["rear_clutch_plates"]
  cause  = ["water_in_fluid"]
  within = 3
  reports "driver" {
    present = ["slips@D/1", "slips@D/2", "slips@D/3", "history_flood"]
    absent  = ["slips@R/R"]
  }
  reports "eye" {
    present = ["fluid_milky"]
    absent  = ["oil_in_coolant", "fluid_low"]
  }
}

example "leak-down fails, piston whole, crack at the weld of the drum: drum" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["direct_drum"]
  within = 1
  reports "driver" {
    present = ["slips@D/3"]
  }
  reports "eye" {
    present = ["leakdown_fails@direct_feed"]
  }
  reports "part_in_hand" {
    present = ["drum_crack_seen@direct"]
    absent  = ["piston_crack_seen@direct", "drum_ball_off@direct"]
  }
}

example "third and fourth slip cold and hot, its pressure short at the tap, no thud, plates burnt: what holds its oil" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["direct_frictions", "direct_drum"]
  within = 3
  reports "driver" {
    present = ["slips@D/3:cold", "slips@D/4:cold", "history_sudden"]
    absent  = ["slips@D/2"]
  }
  reports "gauge" {
    present = ["circuit_pressure_low@direct_feed:cold"]
  }
  reports "eye" {
    present = ["lining_in_pan", "air_check_fails@direct_feed"]
  }
  reports "measuring_tool" {
    absent = ["ring_gap_wide@direct_feed"]
  }
}

# What lets pressure by leaks a little cold and more hot; what lacks pressure or lining
# slips first with the pedal down.
example "slips in every gear with the pedal down, good with a light foot, pressure right at idle and short loaded: throttle valve" {
  unit   = "harrow-3"
  cite   = "common practice of the trade"
  expect = ["throttle_valve"]
  within = 1
  reports "driver" {
    present = ["slips@D/1:heavy_foot", "slips@D/2:heavy_foot", "slips@D/3:heavy_foot"]
  }
  reports "gauge" {
    present = ["line_pressure_low@load/D", "line_pressure_low@load/R"]
    absent  = ["line_pressure_low@idle/D", "line_pressure_low@idle/R"]
  }
}

example "reverse and third slip cold too, more when hot, short at the tap, pan clean: rings and drum" {
  unit   = "harrow-3"
  cite   = "common practice of the trade"
  expect = ["front_clutch_rings", "front_clutch_drum"]
  within = 4
  reports "driver" {
    present = ["slips@D/3:cold", "slips@D/3:hot", "slips@R/R:cold", "slips@R/R:hot"]
    absent  = ["slips@D/1", "slips@D/2"]
  }
  reports "gauge" {
    present = ["circuit_pressure_low@front_clutch_feed"]
  }
  reports "eye" {
    absent = ["lining_in_pan", "fluid_burnt_smell"]
  }
}

example "no drive in first and reverse, the spline on the output shaft rolled: rear ring gear spline" {
  unit   = "harrow-3"
  cite   = "common practice of the trade"
  expect = ["rear_ring_spline"]
  within = 1
  reports "driver" {
    present = ["no_drive@D/1", "no_drive@R/R"]
    absent  = ["no_drive@D/2"]
  }
  reports "part_in_hand" {
    present = ["output_spline_off"]
    absent  = ["input_spline_off"]
  }
}

example "shudder and long shifts, the driver poured in a universal fluid: wrong fluid" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["fluid"]
  cause  = ["wrong_fluid"]
  within = 1
  reports "driver" {
    present = ["shudder@D/4:light_foot", "history_other_fluid"]
    absent  = ["slips@D/4"]
  }
}
