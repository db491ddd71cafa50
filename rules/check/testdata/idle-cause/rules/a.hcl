language = 1
basis "invented" {
  note = "for tests"
}
cause "full_moon" {
}
