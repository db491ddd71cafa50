language = 1
basis "invented" {
  note = "for tests"
}
unit "bare" {
  title = "nothing in it"
}
