# Comebacks: the part that burnt again, and the cause that the build before missed.
language = 1
basis "common practice" {
  note = "sentences of the trade"
}

example "slips again months after a rebuild, lining in the filter and debris in the cooler return: the cooler was never flushed" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["filter"]
  cause  = ["cooler_not_flushed"]
  within = 2
  reports "driver" {
    present = ["slips@D/1:hot", "slips_after_minutes", "history_rebuilt", "history_same_again"]
  }
  reports "eye" {
    present = ["lining_in_filter", "cooler_debris"]
  }
}

example "slips again after a rebuild, lining in the converter: the old converter went back in" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["filter"]
  cause  = ["converter_reused"]
  within = 2
  reports "driver" {
    present = ["slips@D/1:hot", "slips_after_minutes", "history_rebuilt", "history_same_again"]
  }
  reports "eye" {
    present = ["lining_in_filter", "converter_debris"]
    absent  = ["cooler_debris"]
  }
}

example "front seal leaks again after a rebuild, flexplate runs out: out of line" {
  unit   = "harrow-3"
  cite   = "common practice of the trade"
  expect = ["front_seal"]
  cause  = ["misaligned"]
  within = 2
  reports "driver" {
    present = ["history_rebuilt", "history_front_seal_again"]
  }
  reports "eye" {
    present = ["front_seal_wet"]
  }
  reports "measuring_tool" {
    present = ["runout_high"]
  }
}

example "soft and early shifts and slips with a heavy foot since the rebuild, throttle rod off its mark: never set" {
  unit   = "harrow-3"
  cite   = "common practice of the trade"
  expect = ["throttle_valve"]
  cause  = ["missed_load_signal"]
  within = 1
  reports "driver" {
    present = ["early_shift@D/1-2", "early_shift@D/2-3", "soft_shift@D/1-2", "soft_shift@D/2-3", "slips@D/2:heavy_foot", "history_rebuilt", "history_same_again"]
  }
  reports "eye" {
    present = ["throttle_cable_off"]
  }
}

example "adaptation at its limit before the driver feels a slip: the clutch it belongs to" {
  unit   = "lepelletier-6"
  cite   = "common practice of the trade"
  expect = ["four_to_six_frictions"]
  within = 3
  reports "scan_tool" {
    present = ["adaptation_at_limit@four_to_six"]
    absent  = ["adaptations_reset"]
  }
}

example "stall speed high in D and in manual low, right in R: the forward clutch" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["forward_frictions"]
  within = 3
  reports "scan_tool" {
    present = ["stall_high@D/1", "stall_high@L/1"]
    absent  = ["stall_high@R/R"]
  }
}

example "limp mode again after the rebuild, a restart cures it: power and grounds were never looked at" {
  unit   = "northfork-4"
  cite   = "common practice of the trade"
  expect = ["wiring"]
  cause  = ["low_voltage"]
  within = 1
  reports "driver" {
    present = ["limp_mode", "key_off_cures", "history_rebuilt", "history_same_again"]
  }
}
