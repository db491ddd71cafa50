language = 1
basis "invented" {
  note = "for tests"
}
unit "mill-2" {
  row "D" "1" {
    engine_braking = true
  }
  row "L" "1" {
    engine_braking = false
  }
}
