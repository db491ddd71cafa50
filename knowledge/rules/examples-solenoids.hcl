# Solenoid patterns on northfork-4, A/B: 1 on/on, 2 on/off, 3 off/off, 4 off/on.
# The kind of reasoning (gears left when a solenoid does not work) is that of
# TM 9-2320-387-24-2, table 14-1; the patterns follow from our own state table.
language = 1
basis "invented" {
  note = "cases of our own"
}

example "B without effect leaves second and third" {
  unit   = "northfork-4"
  expect = ["solenoid_b"]
  within = 1
  reports "road_test" {
    present = ["acts_as_2@D/1", "acts_as_3@D/4"]
    absent  = ["wrong_gear@D/2", "wrong_gear@D/3", "no_drive@R/R"]
  }
}

example "B always on leaves first and fourth" {
  unit   = "northfork-4"
  expect = ["solenoid_b"]
  within = 1
  reports "road_test" {
    present = ["acts_as_1@D/2", "acts_as_4@D/3"]
    absent  = ["wrong_gear@D/1", "wrong_gear@D/4"]
  }
}

example "A without effect leaves third and fourth" {
  unit   = "northfork-4"
  expect = ["solenoid_a"]
  within = 1
  reports "road_test" {
    present = ["acts_as_4@D/1", "acts_as_3@D/2"]
    absent  = ["wrong_gear@D/3", "wrong_gear@D/4", "slips@D/3"]
  }
}

example "A always on leaves first and second" {
  unit   = "northfork-4"
  expect = ["solenoid_a"]
  within = 1
  reports "road_test" {
    present = ["acts_as_2@D/3", "acts_as_1@D/4"]
    absent  = ["wrong_gear@D/1", "wrong_gear@D/2"]
  }
}

example "A open by resistance" {
  unit   = "northfork-4"
  expect = ["solenoid_a"]
  within = 1
  reports "scan_tool" {
    present = ["code_P0750", "code_P0700"]
  }
  reports "measuring_tool" {
    present = ["resistance_off@a"]
    absent  = ["resistance_off@b"]
  }
}

example "performance code with a good coil and a slipping clutch is no solenoid" {
  unit   = "northfork-4"
  expect = ["direct_frictions"]
  within = 1
  reports "scan_tool" {
    present = ["code_P0733", "code_P0734", "code_P0700"]
    absent  = ["code_P0750"]
  }
  reports "road_test" {
    present = ["slips@D/3", "slips@D/4"]
    absent  = ["slips@D/1", "slips@D/2", "slips@R/R"]
  }
  reports "measuring_tool" {
    absent = ["resistance_off@a", "resistance_off@b"]
  }
  reports "eye" {
    present = ["lining_in_pan", "fluid_burnt_smell"]
  }
}

example "pressure solenoid open: all high and harsh" {
  unit   = "northfork-4"
  expect = ["pressure_solenoid"]
  within = 1
  reports "gauge" {
    present = ["line_pressure_high@idle/D", "line_pressure_high@idle/R"]
  }
  reports "scan_tool" {
    present = ["code_P0745"]
    absent  = ["load_signal_wrong"]
  }
  reports "measuring_tool" {
    present = ["resistance_off@pressure_control"]
  }
}

example "converter clutch solenoid open" {
  unit   = "northfork-4"
  expect = ["lockup_solenoid"]
  within = 1
  reports "scan_tool" {
    present = ["code_P0740"]
  }
  reports "road_test" {
    present = ["no_lockup@D/3", "no_lockup@D/4"]
  }
  reports "measuring_tool" {
    present = ["resistance_off@lockup_control"]
  }
}

example "fourth, fifth and sixth at the wrong ratio: the clutch that they share" {
  unit   = "lepelletier-6"
  expect = ["four_to_six_frictions"]
  within = 2
  reports "scan_tool" {
    present = ["code_P0734", "code_P0735", "code_P0729"]
    absent  = ["code_P0732", "code_P0733"]
  }
}
