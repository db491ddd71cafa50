language = 1
basis "invented" {
  note = "for tests"
}
check "c" {
  title    = "c"
  stage    = gauge
  minutes  = 3
  reporter = "nobody"
  yields   = ["slips@*", "slips@D/9", "slip"]
  cautions = ["heavi"]
  needs    = ["pan_of"]
  withheld {
    if     = "line_pressure_lo"
    reason = "x"
  }
}
