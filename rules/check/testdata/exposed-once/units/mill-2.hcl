language = 1
basis "invented" {
  note = "for tests"
}
unit "mill-2" {
  step "pan_off" {
    exposes = ["roller"]
  }
}
