language = 1
basis "invented" {
  note = "for tests"
}
unit "mill-2" {
  row "D" "2" {
    holding = ["low_roller"]
  }
  row "D" "1" {
    holding = []
  }
}
