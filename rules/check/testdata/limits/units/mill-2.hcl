language = 1
basis "invented" {
  note = "for tests"
}
unit "mill-2" {
  limit "pack" {
    measures = "clearance@forward"
    high     = "1.9 mm"
  }
  limit "cold_pressure" {
    measures = "line_pressure"
    low      = "60 psi"
  }
}
