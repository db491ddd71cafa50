language = 1
basis "invented" {
  note = "for tests"
}
stress "noise" {
}
