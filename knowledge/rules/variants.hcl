# What tells the variants of a unit apart: slipcase identify. Both families are
# invented, as their units are; what a tag, a casting mark or a plug looks like here
# belongs to no maker.
#
# The sizes of the larger yoke are a check value of the trade: a 1.606 in bushing over a
# 1.600 in yoke leaves 0.006 in. That is the difference of two nominal sizes. How far the
# bushing may wear is another figure, which the unit's manual states or does not.
language = 1
basis "invented" {
  note = "demo units: features, years, shares and minutes of the right size"
}

family "northfork-4" {
  title = "Northfork four-speeds"

  feature "tag" {
    title   = "type tag on the left side of the case"
    kind    = text
    asks    = "What does the type tag on the left side of the case say?"
    minutes = 2
  }
  feature "year" {
    title   = "model year"
    kind    = year
    asks    = "What model year is the vehicle?"
    minutes = 0.5
  }
  feature "plug" {
    title   = "round nine-pin plug at the case"
    kind    = there
    asks    = "Is the plug at the case round, with nine pins?"
    minutes = 3
  }
  feature "cast_ring" {
    title   = "cast ring around the rear of the extension housing"
    kind    = there
    asks    = "Is there a cast ring around the rear end of the extension housing?"
    minutes = 3
  }
  feature "yoke" {
    title    = "diameter of the slip yoke where the bushing runs"
    kind     = size
    asks     = "What does the slip yoke measure where the bushing runs on it?"
    minutes  = 12
    cautions = ["chocks", "supports"]
  }
  feature "bushing" {
    title    = "bore of the bushing in the extension housing"
    kind     = size
    asks     = "What does the bushing in the extension housing measure inside?"
    minutes  = 12
    cautions = ["chocks", "supports"]
  }

  variant "northfork-4" {
    title = "early, light yoke"
    share = 0.5
    has "tag" {
      pattern = ["NF4-1*"]
    }
    has "year" {
      from = 1993
      to   = 1998
    }
    has "plug" {
      there = false
    }
    has "cast_ring" {
      there = false
    }
    has "yoke" {
      size      = "1.500 in"
      tolerance = "0.006 in"
    }
    has "bushing" {
      size      = "1.505 in"
      tolerance = "0.008 in"
    }
  }
  variant "northfork-4-heavy" {
    title = "early, heavy yoke"
    unit  = "northfork-4"
    share = 0.15
    notes = ["bushing and rear seal are those of the 1.600 in yoke; the housing is a different casting"]
    has "tag" {
      pattern = ["NF4-1*H", "NF4-2*H"]
    }
    has "year" {
      from = 1995
      to   = 1999
    }
    has "plug" {
      there = false
    }
    has "cast_ring" {
      there = true
    }
    has "yoke" {
      size      = "1.600 in"
      tolerance = "0.006 in"
    }
    has "bushing" {
      size      = "1.606 in"
      tolerance = "0.008 in"
    }
  }
  variant "northfork-4-late" {
    title = "late, different valve body"
    share = 0.35
    notes = ["valve body, solenoids and wiring differ from the early ones and do not interchange one by one"]
    has "tag" {
      pattern = ["NF4-3*"]
    }
    has "year" {
      from = 1998
      to   = 2004
    }
    has "plug" {
      there = true
    }
    has "yoke" {
      size      = "1.500 in"
      tolerance = "0.006 in"
    }
    has "bushing" {
      size      = "1.505 in"
      tolerance = "0.008 in"
    }
  }
  fit "yoke_in_bushing" {
    title = "slip yoke in its bushing"
    bore  = "bushing"
    shaft = "yoke"
  }
}

family "harrow-3" {
  title = "Harrow three-speeds"

  feature "casting" {
    title   = "casting mark beside the cooler fittings"
    kind    = text
    asks    = "What is cast in beside the cooler fittings?"
    minutes = 4
  }
  feature "drain_plug" {
    title   = "drain plug in the pan"
    kind    = there
    asks    = "Is there a drain plug in the pan?"
    minutes = 2
  }
  feature "pan_bolts" {
    title   = "eighteen pan bolts"
    kind    = there
    asks    = "Does the pan have eighteen bolts?"
    minutes = 2
  }
  feature "modulator" {
    title   = "vacuum modulator on the case"
    kind    = there
    asks    = "Is there a round vacuum can with a hose at the case?"
    minutes = 2
  }
  feature "output_shaft" {
    title    = "diameter of the output shaft where the bushing runs"
    kind     = size
    asks     = "What does the output shaft measure where the bushing runs on it?"
    minutes  = 12
    cautions = ["chocks", "supports"]
  }

  variant "harrow-3" {
    title = "light truck"
    share = 0.7
    has "casting" {
      pattern = ["H3 A*", "H3 B*"]
    }
    has "drain_plug" {
      there = false
    }
    has "pan_bolts" {
      there = false
    }
    has "modulator" {
      there = false
    }
    has "output_shaft" {
      size      = "34.0 mm"
      tolerance = "0.15 mm"
    }
  }
  variant "harrow-3-heavy" {
    title = "heavy truck"
    share = 0.3
    notes = ["the front clutch has five plates; the light unit's plate count leaves it loose"]
    has "casting" {
      pattern = ["H3 C*"]
    }
    has "drain_plug" {
      there = true
    }
    has "pan_bolts" {
      there = true
    }
    has "modulator" {
      there = true
    }
    has "output_shaft" {
      size      = "37.5 mm"
      tolerance = "0.15 mm"
    }
  }
}
