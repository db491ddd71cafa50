language = 1
basis "invented" {
  note = "for tests"
}
reporter "driver" {
  hit         = 0.1
  false_alarm = 0.1
  on "slips" {
    hit         = 0.2
    false_alarm = 0.6
  }
}
