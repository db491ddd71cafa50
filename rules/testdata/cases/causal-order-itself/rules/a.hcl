language = 1
basis "invented" {
  note = "for tests"
}
mode "burnt_friction" {
  because "burnt_friction" {
    strength = 0.5
  }
}
