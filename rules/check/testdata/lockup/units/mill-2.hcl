language = 1
basis "invented" {
  note = "for tests"
}
unit "mill-2" {
  converter_clutch "lockup" {
  }
  row "D" "2" {
    lockup = true
  }
}
