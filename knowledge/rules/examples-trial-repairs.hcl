# A trial repair that cures names its fault; one that changes nothing clears it.
language = 1
basis "common practice" {
  note = "sentences of the trade"
}

example "slips in every gear, low, gone with the level set: the fluid" {
  unit   = "harrow-3"
  cite   = "common practice of the trade"
  expect = ["fluid"]
  within = 1
  reports "driver" {
    present = ["slips@D/1", "slips@D/2", "slips@D/3"]
  }
  reports "road_test" {
    present = ["gone_with_level_set"]
  }
}

example "shudder at light throttle, gone with the maker's fluid in it: the fluid before the converter" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["fluid"]
  within = 1
  reports "driver" {
    present = ["shudder@D/4:light_foot", "history_fluid_changed"]
  }
  reports "road_test" {
    present = ["gone_with_new_fluid"]
  }
}

example "shudder at light throttle, the maker's fluid changed nothing: the converter clutch" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["lockup_clutch"]
  within = 1
  reports "driver" {
    present = ["shudder@D/4:light_foot"]
  }
  reports "road_test" {
    absent = ["gone_with_new_fluid"]
  }
}

example "harsh everywhere, gone after the relearn drive: learned values" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["controller"]
  within = 1
  reports "driver" {
    present = ["harsh_shift@D/1-2", "harsh_shift@D/2-3"]
  }
  reports "road_test" {
    present = ["gone_after_relearn"]
  }
}

example "late and soft into second, second slips uphill, servo travel too long, never serviced: the band needs adjusting" {
  unit   = "harrow-3"
  cite   = "common practice of the trade"
  expect = ["front_band_screw"]
  within = 1
  reports "driver" {
    present = ["late_shift@D/1-2", "soft_shift@D/1-2", "slips@D/2:heavy_foot", "history_fluid_neglected"]
    absent  = ["slips@D/3", "slips@R/R", "slips@D/1", "fluid_burnt_smell", "history_rebuilt"]
  }
  reports "measuring_tool" {
    present = ["servo_travel_high@front_band"]
  }
}

example "binds from second to third since the bands were adjusted, servo travel too short: adjusted too tight" {
  unit   = "harrow-3"
  cite   = "common practice of the trade"
  expect = ["front_band_screw", "front_band"]
  within = 2
  reports "driver" {
    present = ["bind_shift@D/2-3"]
  }
  reports "measuring_tool" {
    present = ["servo_travel_low@front_band"]
  }
}
