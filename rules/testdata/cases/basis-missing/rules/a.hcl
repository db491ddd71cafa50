language = 1
mode "rusty" {
  of        = [friction_pack]
  frequency = 0.01
  effect "slips" {
    strength = probable
  }
}
