language = 1
basis "invented" {
  note = "for tests"
}
unit "mill-2" {
  row "D" "1" {
    ratio = 1.52
  }
  row "L" "1" {
    ratio = -1.50
  }
}
