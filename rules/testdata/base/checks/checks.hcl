language = 1
basis "invented" {
  note = "for tests"
}
check "ask_gears" {
  title    = "in which gears"
  stage    = interview
  minutes  = 1
  reporter = "driver"
  yields   = ["slips@*", "flare", "acts_as"]
  asks     = "In which gear is it?"
}
check "pan_look" {
  title    = "look into the pan"
  stage    = pan
  minutes  = 30
  reporter = "eye"
  yields   = ["lining_in_pan"]
  before   = ["pan_off"]
}
check "pressures" {
  title    = "line pressure"
  stage    = gauges
  minutes  = 20
  yields   = ["line_pressure_low@*"]
  cautions = ["running"]
  withheld {
    if     = "lining_in_pan"
    reason = "it is burnt already"
  }
}
