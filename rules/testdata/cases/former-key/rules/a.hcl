language = 1
basis "invented" {
  note = "for tests"
}
mode "burned_friction" {
  frequency = 0.03
}
