language = 1
basis "invented" {
  note = "for tests"
}
unit "mill-2" {
  limit "end_play" {
    check = "pan_looks"
  }
  limit "wear" {
    check = "pan_look"
    high  = "1 mm"
  }
}
