language = 1
basis "invented" {
  note = "for tests"
}
mode "rusty" {
  of        = [friction_pack]
  frequency = 0.01
  stresses "wrong_fluid" {
    strength = 0.5
  }
}
