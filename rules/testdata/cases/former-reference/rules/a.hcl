language = 1
basis "invented" {
  note = "for tests"
}
mode "rusty" {
  of        = [friction_pack]
  frequency = 0.01
  shows "slipping@*" {
    strength = 0.5
  }
  because "burned_friction" {
    strength = 0.5
  }
}
