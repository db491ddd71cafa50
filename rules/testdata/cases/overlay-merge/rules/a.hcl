language = 1
basis "invented" {
  note = "for tests"
}
mode "burnt_friction" {
  frequency = 0.03
  effect "slips" {
    strength = 0.9
  }
}
