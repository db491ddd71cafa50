language = 1
basis "invented" {
  note = "for tests"
}
mod "rusty" {
}
mode "worn" {
  of        = [friction_pack]
  frequency = 0.01
  efect "slips" {
    strength = 0.5
  }
}
