language = 1
basis "invented" {
  note = "for tests"
}
unit "mill-2" {
  step "pan_off" {
    cautions = []
  }
  step "pull" {
    cautions = []
  }
  step "servo_cover" {
    after   = ["open"]
    minutes = 3
  }
}
