language = 1
basis "invented" {
  note = "for tests"
}
mode "Burnt Friction" {
  of = [friction_pack]
}
stress "9lives" {
}
