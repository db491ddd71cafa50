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
