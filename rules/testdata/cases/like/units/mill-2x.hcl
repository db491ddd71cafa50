language = 1
basis "invented" {
  note = "for tests"
}
unit "mill-2x" {
  like  = "mill-2"
  title = "the same, wider end play"
  limit "end_play" {
    high = "1.2 mm"
  }
  step "pan_off" {
    minutes = 25
  }
}
