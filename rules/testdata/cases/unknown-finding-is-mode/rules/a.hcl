language = 1
basis "invented" {
  note = "for tests"
}
mode "rusty" {
  of        = [friction_pack]
  frequency = 0.01
  shows "burnt_friction" {
    strength = 0.5
  }
}
