language = 1
basis "invented" {
  note = "for tests"
}
mode "rusty" {
  of        = [friction_pack]
  frequency = 0.01
  effect "slips" {
    strength = 0.5
  }
}
