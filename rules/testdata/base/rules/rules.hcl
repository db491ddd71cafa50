language = 1
basis "invented" {
  note = "for tests"
}
kind "friction_pack" {
  title  = "friction and steel plates"
  serves = [element]
}
kind "roller" {
  title  = "one-way clutch"
  serves = [element]
}
kind "seal_ring" {
  title  = "sealing rings"
  serves = [circuit]
}
kind "fluid" {
  title   = "fluid"
  serves  = [unit]
  outside = true
}
stress "low_apply_pressure" {
  title = "low apply pressure"
}
cause "wrong_fluid" {
  title      = "filled with the wrong fluid"
  formerly   = ["bad_fluid"]
  frequency  = 0.02
  settled_by = ["pan_look"]
  stresses "low_apply_pressure" {
    strength = improbable
  }
}
mode "burnt_friction" {
  title     = "lining burnt"
  of        = [friction_pack]
  formerly  = ["burned_friction"]
  frequency = 0.02
  effect "slips" {
    strength = probable
  }
  effect "dead" {
    strength = uncertain
    when     = hot
  }
  shows "lining_in_pan" {
    strength = probable
  }
  because "low_apply_pressure" {
    strength = uncertain
  }
}
mode "roller_slips" {
  title     = "rollers worn"
  of        = [roller]
  frequency = 0.01
  effect "dead" {
    strength = probable
  }
}
mode "cut_ring" {
  title     = "ring cut"
  of        = [seal_ring]
  frequency = 0.01
  effect "leaks" {
    strength = probable
  }
  stresses "low_apply_pressure" {
    strength = uncertain
  }
}
mode "fluid_low" {
  title     = "fluid low"
  of        = [fluid]
  frequency = 0.05
  effect "weak" {
    strength = expected
  }
}
finding "slips" {
  per      = row
  title    = "slips in {place}"
  stage    = road
  reporter = "driver"
  formerly = ["slipping"]
  leak     = 0.002
  sign "partial" {
    strength = 0.9
  }
  sign "no_drive" {
    strength = probable
  }
}
finding "acts_as" {
  per      = row_gear
  title    = "acts as another gear in {place}"
  stage    = road
  reporter = "driver"
  leak     = 0.001
  sign "lower_gear" {
    strength = probable
  }
}
finding "flare" {
  per      = shift
  title    = "flares in {place}"
  stage    = road
  reporter = "driver"
  leak     = 0.002
  sign "flare" {
    strength = probable
  }
}
finding "lining_in_pan" {
  title    = "lining in the pan"
  stage    = pan
  reporter = "eye"
  leak     = 0.02
}
finding "line_pressure_low" {
  per          = pressure
  title        = "line pressure low at {place}"
  stage        = gauges
  reporter     = "eye"
  leak         = 0.005
  reading      = "line_pressure"
  reading_side = low
  sign "low" {
    strength = probable
  }
}
reporter "driver" {
  title       = "driver"
  hit         = 0.8
  false_alarm = 0.1
}
reporter "eye" {
  title       = "eye"
  hit         = 0.95
  false_alarm = 0.02
}
code "P0741" {
  title = "converter clutch"
  leak  = 0.01
  sign "slips@*" {
    strength = improbable
  }
}
