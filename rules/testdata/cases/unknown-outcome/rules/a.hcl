language = 1
basis "invented" {
  note = "for tests"
}
finding "creeps" {
  per      = row
  stage    = road
  reporter = "driver"
  leak     = 0.01
  sign "drives_in_neutrl" {
    strength = 0.9
  }
  sign "flare" {
    strength = 0.9
  }
}
finding "smell" {
  stage = road
  leak  = 0.01
  sign "partial" {
    strength = 0.9
  }
}
