language = 1
basis "invented" {
  note = "for tests"
}
unit "mill-2" {
  limit "gap" {
    low = 0.3mm
  }
}
