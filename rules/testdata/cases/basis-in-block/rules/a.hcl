language = 1
mode "rusty" {
  of        = [friction_pack]
  frequency = 0.01
  basis "recalled" {
  }
  effect "slips" {
    strength = probable
  }
}
