language = 1
basis "invented" {
  note = "for tests"
}
unit "mill-2" {
  step "late_look" {
    stage    = in_vehicle
    after    = ["pull"]
    minutes  = 3
    cautions = ["running"]
  }
  step "pull_again" {
    pulls    = true
    minutes  = 3
    cautions = ["heavy"]
  }
}
