language = 1
basis "invented" {
  note = "for tests"
}
mode {
  of = [friction_pack]
}
stress "a" "b" {
}
