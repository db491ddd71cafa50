# Trouble codes, generic (SAE J2012 / ISO 15031-6; titles recalled, except P0731 and
# the meaning of P0750 to P0753, seen in a public code reference). A code says that a
# monitored test failed: a slipping clutch, a worn bore or a bad valve sets a
# "performance or stuck off" code as well as the solenoid does.
language = 1
basis "recalled" {
  note = "signs follow common practice"
}

code "P0700" {
  title = "transmission control system"
  leak  = 0.25
  sign "limp_mode" {
    strength = fifty_fifty
  }
}

code "P0300" {
  title = "random misfire"
  leak  = 0.015
  sign "misfire_felt" {
    strength = 0.6
  }
}

code "P0705" {
  title = "range sensor circuit"
  leak  = 0.004
  sign "range_signal_wrong" {
    strength = probable
  }
}

code "P0710" {
  title = "fluid temperature sensor circuit"
  leak  = 0.006
  sign "connector_bad" {
    strength = improbable
  }
}

code "P0715" {
  title = "input or turbine speed sensor circuit"
  leak  = 0.003
  sign "input_signal_bad" {
    strength = probable
  }
}

code "P0720" {
  title = "output speed sensor circuit"
  leak  = 0.003
  sign "output_signal_bad" {
    strength = probable
  }
}

code "P0730" {
  title = "incorrect gear ratio"
  leak  = 0.003
  sign "wrong_gear@D/1" {
    strength = fifty_fifty
  }
  sign "ratio_off@D/3" {
    strength = 0.3
  }
}

code "P0731" {
  title = "gear 1 incorrect ratio"
  leak  = 0.002
  sign "ratio_off@D/1" {
    strength = expected
  }
}

code "P0732" {
  title = "gear 2 incorrect ratio"
  leak  = 0.002
  sign "ratio_off@D/2" {
    strength = expected
  }
}

code "P0733" {
  title = "gear 3 incorrect ratio"
  leak  = 0.002
  sign "ratio_off@D/3" {
    strength = expected
  }
}

code "P0734" {
  title = "gear 4 incorrect ratio"
  leak  = 0.002
  sign "ratio_off@D/4" {
    strength = expected
  }
}

code "P0736" {
  title = "reverse incorrect ratio"
  leak  = 0.002
  sign "ratio_off@R/R" {
    strength = 0.6
  }
}

code "P0740" {
  title = "converter clutch circuit"
  leak  = 0.004
  sign "converter.stuck_off" {
    strength = fifty_fifty
  }
}

code "P0741" {
  title = "converter clutch performance or stuck off"
  leak  = 0.003
  sign "lockup.dead" {
    strength = expected
  }
  sign "lockup.slips" {
    strength = expected
  }
  sign "converter.stuck_off" {
    strength = 0.6
  }
  sign "converter.weak" {
    strength = fifty_fifty
  }
  sign "lockup.shudders" {
    strength = improbable
  }
}

code "P0742" {
  title = "converter clutch stuck on"
  leak  = 0.002
  sign "lockup.stays_on" {
    strength = expected
  }
  sign "converter.stuck_on" {
    strength = expected
  }
}

code "P0745" {
  title = "pressure control solenoid circuit"
  leak  = 0.003
  sign "connector_bad" {
    strength = uncertain
  }
}

code "P0746" {
  title = "pressure control solenoid performance or stuck off"
  leak  = 0.003
  sign "line.low" {
    strength = uncertain
  }
}

code "P0747" {
  title = "pressure control solenoid stuck on"
  leak  = 0.002
  sign "line.low" {
    strength = 0.2
  }
}

code "P0750" {
  title = "shift solenoid A"
  leak  = 0.003
  sign "a.stuck_off" {
    strength = 0.4
  }
}

code "P0751" {
  title = "shift solenoid A performance or stuck off"
  leak  = 0.003
  sign "a.stuck_off" {
    strength = 0.6
  }
}

code "P0752" {
  title = "shift solenoid A stuck on"
  leak  = 0.002
  sign "a.stuck_on" {
    strength = 0.6
  }
}

code "P0753" {
  title = "shift solenoid A electrical"
  leak  = 0.003
  sign "resistance_off@a" {
    strength = probable
  }
  sign "connector_bad" {
    strength = 0.3
  }
}

code "P0755" {
  title = "shift solenoid B"
  leak  = 0.003
  sign "b.stuck_off" {
    strength = 0.4
  }
}

code "P0756" {
  title = "shift solenoid B performance or stuck off"
  leak  = 0.003
  sign "b.stuck_off" {
    strength = 0.6
  }
}

code "P0757" {
  title = "shift solenoid B stuck on"
  leak  = 0.002
  sign "b.stuck_on" {
    strength = 0.6
  }
}

code "P0758" {
  title = "shift solenoid B electrical"
  leak  = 0.003
  sign "resistance_off@b" {
    strength = probable
  }
  sign "connector_bad" {
    strength = 0.3
  }
}
