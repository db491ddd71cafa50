language = 1
basis "invented" {
  note = "for tests"
}
unit "mill-2" {
  row "D" "1" {
    ratio     = 0
    converter = -1
    pressure  = 0
  }
}
