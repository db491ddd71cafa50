language = 1
basis "invented" {
  note = "for tests"
}
withheld "low_line" {
  if     = "line_pressure_lo"
  reason = "told once, though two checks wait for it"
}
withheld "lining" {
  if = "lining_in_pan"
}
withheld {
  if     = "lining_in_pan"
  reason = "without a name"
}
check "a" {
  title    = "a"
  stage    = gauges
  minutes  = 3
  yields   = ["slips@*"]
  cautions = ["running"]
  unless   = ["low_line", "low_lin", "heavy", "lining"]
}
check "b" {
  title    = "b"
  stage    = gauges
  minutes  = 3
  yields   = ["slips@*"]
  cautions = ["running", "low_line"]
  unless   = ["low_line", "unheard_of"]
  withheld "c" {
    if     = "lining_in_pan"
    reason = "with a name"
  }
}
