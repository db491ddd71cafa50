language = 1
basis "invented" {
  note = "for tests"
}
unit "mill-2" {
  row "D" "1" {
    ratio = 1.5
  }
  row "D" "2" {
    ratio = 1
  }
}
