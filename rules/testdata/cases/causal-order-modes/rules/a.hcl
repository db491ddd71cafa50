language = 1
basis "invented" {
  note = "for tests"
}
mode "a" {
  of        = [friction_pack]
  frequency = 0.01
  effect "slips" {
    strength = 0.5
  }
  because "b" {
    strength = 0.5
  }
}
mode "b" {
  of        = [friction_pack]
  frequency = 0.01
  effect "slips" {
    strength = 0.5
  }
  because "a" {
    strength = 0.5
  }
}
